"""What a line of each sort of definition may say, and how its words are spoken of."""

from __future__ import annotations

from lark import Token

from hideledger.reading.trouble import Unreadable
from hideledger.text.nearest import nearest

# What a line may say, by what it defines: the first words of its clauses.
CLAUSES: dict[str, tuple[str, ...]] = {
    "shop": (
        "zone",
        "hours",
        "closed",
        "dates",
        "gallons",
        "degrees",
        "room",
        "sewer pH",
        "records kept",
        "quiet after",
        "weighed to",
        "measured to",
        "labour",
    ),
    "customer": ("phone", "email", "address", "licence"),
    "vessel": ("holds", "at most", "stands at most", "since"),
    "place": ("at most", "at least"),
    "kind": ("counts", "process"),
    "measure": (),
    "supply": ("keep", "comes in", "weighed to", "measured to", "since"),
    "recipe": ("lasts", "per", "since"),
    "sent out": ("since",),
    "charge": ("free for", "since"),
    "defect": (),
    "test": (),
    "process": ("tannage", "since"),
    "step": (
        "stays",
        "runs",
        "within",
        "optional",
        "in a bath",
        "needs",
        "weighs",
        "note",
        "pH",
        "read every",
        "stirred every",
        "raw clock stops",
        "raw clock runs",
        "tanning begun",
        "takes",
        "SG",
        "again",
    ),
    "rest": ("at most", "after", "raw clock stops", "raw clock runs", "freezes in", "thaws at"),
}
# What else a line of that sort may begin with.
OPENINGS = {"step": ("raw at most", "may rest", "tannage", "since")}

# Each terminal of the grammar in the words of the shop; an empty phrase is left to the clauses above.
TERMINAL_WORDS: dict[str, str] = {
    "HEAD": "a word that begins a definition, such as `shop` or `vessel`",
    "UNIT": "a unit such as lb, gal, h or F",
    "DEGREE": "",
    "NUMBER": "a number",
    "DATE": "a date such as 2026-09-01",
    "CLOCK": "a time such as 7:00",
    "DAY": "a day such as Mon",
    "TAG": "a tag such as D1",
    "WORD": "a name",
    "FREE": "a name",
    "CONTACT": "`phone`, `email`, `address` or `licence`",
    "MONEY": "a price such as $2.40",
    "COLON": "a colon",
    "TO": "`to`",
    "OF": "`of`",
    "PER": "`per`",
    "LIMIT": "`at least` or `at most`",
    "BASIS": "`at mixing` or `with skins in`",
    "AT": "`at`",
    "AND": "`and`",
    "OR": "`or`",
    "AGAIN": "`again`",
    "SINCE": "`since`",
    "ZONE": "",
    "HOURS": "",
    "CLOSED": "",
    "SETTING": "",
    "OWN": "",
    "LABOUR": "",
    "VALUED": "",
    "REACH": "",
    "NAMED": "",
    "FLAG": "",
    "RAW": "",
    "MAY_REST": "",
    "_COMMA": "a comma",
    "$END": "the end of the line",
    "BLANKS": "",
    "STOP": "",
    "COMMENT": "",
    "NEWLINE": "",
    "STRUCK": "",
}
# What a line may say without a word of its own.
BARE_CLAUSES = {
    "vessel": ("a volume",),
    "supply": ("a price such as `$0.19 per lb`",),
    "charge": ("a price such as `$92`",),
    "sent out": ("a price such as `$58 per hide`",),
}


_LONGEST_LOOK = 12  # words


def word(token: Token) -> str:
    """A word of the language in small letters with single blanks."""
    return " ".join(token.split()).casefold()


def place_of(token: Token) -> tuple[int, int]:
    """First and last offset of a word in the text that was parsed."""
    start = token.start_pos or 0
    return start, start + len(token)


def misspelt_clause(words: list[Token], sort: str, *, whole: bool = False) -> Unreadable | None:
    """A clause's own word that was misspelt and so became part of a name (`pickle optionl`).

    `whole` lets all the words be the clause; otherwise the first belongs to the name. A word that lacks no more than the last `s`
    (`second run`) or begins with another letter (`mounts`, `seeds`) is a name.
    """
    if sort not in {"step", "rest", "kind", "supply", "recipe", "vessel", "process"}:
        return None
    if len(words) > _LONGEST_LOOK:
        return None  # no name is that long: it is refused for that
    known = CLAUSES[sort]
    for begin in range(0 if whole else 1, len(words)):
        for stop in range(min(len(words), begin + 3), begin, -1):
            written = " ".join(words[begin:stop])
            near = nearest(written, (word for word in known if word.count(" ") == stop - begin - 1), least=0.8)
            if near is not None and near[0] == written[0].casefold() and near != f"{written.casefold()}s":
                start, end = place_of(words[begin])[0], place_of(words[stop - 1])[1]
                return Unreadable("word", f"`{written}`: did you mean `{near}`?", start, end)
    return None
