"""A line that cannot be read is answered with what was expected there, what was found, and the nearest thing that would be right."""

from __future__ import annotations

import re

from lark import Token, Tree
from lark.exceptions import UnexpectedCharacters, UnexpectedToken

from hideledger.model.units import SPELLINGS
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
    ),
    "customer": ("phone", "email", "address", "licence"),
    "vessel": ("holds", "at most", "stands at most", "since"),
    "place": ("at most", "at least"),
    "kind": ("counts", "process"),
    "measure": (),
    "supply": ("keep", "comes in", "since"),
    "recipe": ("lasts", "per", "since"),
    "sent out": ("since",),
    "charge": ("since",),
    "defect": (),
    "test": (),
    "process": ("since",),
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
        "SG",
        "again",
    ),
    "rest": ("at most", "after", "raw clock stops", "raw clock runs", "freezes in", "thaws at"),
}
# What else a line of that sort may begin with.
_OPENINGS = {"step": ("raw at most", "may rest", "since")}

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
}
_CLAUSE_TERMINALS = {"ZONE", "OWN", "VALUED", "REACH", "NAMED", "FLAG"}
_TAKES_A_VALUE = {"VALUED", "LIMIT", "REACH", "NAMED", "OF", "TO", "PER", "SINCE", "AND", "OR", "AT", "MONEY"}
_SIDE_WORDS = {"_COMMA", "$END", "OR", "AND", "AGAIN", "SINCE", "BASIS", "PER"}
# What a line may say without a word of its own.
BARE_CLAUSES = {
    "vessel": ("a volume",),
    "supply": ("a price such as `$0.19 per lb`",),
    "charge": ("a price such as `$92`",),
    "sent out": ("a price such as `$58 per hide`",),
}
_PRICED = {"supply", "charge", "sent out"}
_PIECE = re.compile("[^ \t\u00a0\u202f\n,]+")
_NAME_WORDS = "WORD"


def clause_sort(sort: str, tokens: list[Token]) -> str:
    """`step` or `rest` for a line of a process that says so, else the sort itself."""
    if sort != "process":
        return sort
    if any(token.type == "HEAD" for token in tokens):
        return sort
    return "rest" if any(token.type == "MAY_REST" for token in tokens) else "step"


def trouble_of(
    unexpected: UnexpectedCharacters | UnexpectedToken, text: str, sort: str, *, stamped: bool = False
) -> tuple[Unreadable, Tree[Token] | None]:
    """What to say about a line that the grammar does not take, and what the line is about as far as that can be made out.

    `stamped` says that the line begins with a date or a time.
    """
    at_end = isinstance(unexpected, UnexpectedToken) and unexpected.token.type == "$END"
    at: int | None = getattr(unexpected, "pos_in_stream", None)  # lark does not say that it is one
    start = len(text) if at_end or at is None else at
    while start < len(text) and text[start] in " \t\u00a0\u202f\n":
        start += 1
    parser = unexpected.interactive_parser
    tokens = _flat(parser.parser_state.value_stack)
    accepted = {str(name) for name in parser.accepts()}  # type: ignore[no-untyped-call]
    if sort not in _PRICED:
        accepted.discard("MONEY")
    sort = clause_sort(sort, tokens)
    return _worded(text, start, sort, tokens, accepted, stamped=stamped), _begun(
        parser.parser_state.value_stack, tokens, sort
    )


def _worded(text: str, start: int, sort: str, tokens: list[Token], accepted: set[str], *, stamped: bool) -> Unreadable:
    found = _PIECE.match(text, start)
    piece = found.group() if found else text[start : start + 1]
    end = start + max(1, len(piece))
    shown = piece if len(piece) <= 40 else piece[:40] + "…"
    last = tokens[-1] if tokens else None
    if stamped:
        message = "an entry inside a definition; write it at the margin, below a blank line"
        return Unreadable("entry inside", message, 0, len(text))
    if piece.startswith(("--", "—", "(", "[")):
        return Unreadable(
            "remark", f"`{shown}`: a definition has no remarks; a note stands behind `#` and a blank", start, end
        )
    swallowed = _swallowed_before(text, start, end, tokens, sort)
    if swallowed is not None:
        return swallowed
    if (
        "WORD" in accepted
        and any(mark.isdigit() for mark in piece)
        and (last is None or last.type in {"WORD", "OR", "HEAD", "OF", "NAMED"})
    ):
        return Unreadable("name", f"`{shown}`: a name has no figures in it", start, end)
    if last is not None and last.type == "NUMBER" and _names_end(tokens[:-1]):
        return Unreadable("name", f"`{last}`: a name has no figures in it", *_token_span(last))
    wanted = expected(accepted, sort, last, tokens)
    if start >= len(text):
        if last is not None and last.type == "NUMBER" and "UNIT" in accepted:
            return Unreadable("unit", f"`{last}`: a unit is missing, such as lb, gal, h or F", *_token_span(last))
        end_column = len(text) - 1 if text else 0
        return Unreadable("unfinished", f"the line ends too early; expected {wanted}", end_column, end_column + 1)
    if "UNIT" in accepted and last is not None and last.type == "NUMBER":
        near = nearest(piece, SPELLINGS)
        if near is not None:
            return Unreadable("unit", f"`{shown}` is no unit; did you mean `{near}`?", start, end)
    hint = hint_for(text[start:], accepted, sort)
    if hint is not None:
        near, length = hint
        return Unreadable(
            "word",
            f"expected {wanted}, found `{text[start : start + length]}`; did you mean `{near}`?",
            start,
            start + length,
        )
    return Unreadable("expected", f"expected {wanted}, found `{shown}`", start, end)


def expected(accepted: set[str], sort: str, last: Token | None, tokens: list[Token]) -> str:
    """What could stand there, in words, the likeliest first."""
    before = "" if last is None else last.type
    if before == "NUMBER" and "UNIT" in accepted:
        return TERMINAL_WORDS["UNIT"]
    reaches = [word(token) for token in tokens if token.type == "REACH"]
    if "OF" in accepted and reaches:
        return "`of` and a step" if reaches[-1] == "within" else "`of skin`"
    phrases = []
    clauses = CLAUSES.get(sort, ())
    if accepted & _CLAUSE_TERMINALS and clauses and before not in _TAKES_A_VALUE:
        first = "RAW" in accepted and sort == "step"
        words = (*_OPENINGS["step"], *clauses) if first else clauses
        phrases.append(f"{', '.join(f'`{each}`' for each in words[:6])}{' …' if len(words) > 6 else ''}")
        if first:
            phrases.insert(0, "the name of a step")
    main = [name for name in TERMINAL_WORDS if name in accepted and name not in _SIDE_WORDS and TERMINAL_WORDS[name]]
    side = [name for name in TERMINAL_WORDS if name in accepted and name in _SIDE_WORDS]
    if not phrases:
        phrases = list(dict.fromkeys(TERMINAL_WORDS[name] for name in (main or side)[:4]))
    if not phrases:
        return "something else"
    return phrases[0] if len(phrases) == 1 else f"{', '.join(phrases[:-1])} or {phrases[-1]}"


def word(token: Token) -> str:
    """A word of the language in small letters with single blanks."""
    return " ".join(token.split()).casefold()


def hint_for(rest: str, accepted: set[str], sort: str) -> tuple[str, int] | None:
    """The clause or word nearest to the first words of `rest`, and how many characters of it are meant."""
    known: list[str] = []
    if accepted & _CLAUSE_TERMINALS or "_COMMA" in accepted:
        known += [*CLAUSES.get(sort, ()), *_OPENINGS.get(sort, ())]
    for name, words in {
        "LIMIT": ("at least", "at most"),
        "BASIS": ("at mixing", "with skins in"),
        "MAY_REST": ("may rest",),
    }.items():
        if name in accepted:
            known += words
    for name in ("OF", "PER", "TO", "SINCE", "AGAIN"):
        if name in accepted:
            known.append(name.casefold())
    pieces = list(_PIECE.finditer(rest))[:3]
    for count in (3, 2, 1):
        if count > len(pieces):
            continue
        words_found = " ".join(piece.group() for piece in pieces[:count])
        near = nearest(words_found, (word for word in known if word.count(" ") == count - 1))
        if near is not None:
            return near, pieces[count - 1].end() - pieces[0].start()
    return None


def misspelt_clause(words: list[Token], sort: str, *, whole: bool = False) -> Unreadable | None:
    """A clause's own word that was misspelt and so became part of a name (`pickle optionl`).

    `whole` lets all the words be the clause; otherwise the first belongs to the name.
    """
    if sort not in {"step", "rest", "kind", "supply", "recipe", "vessel", "process"}:
        return None
    known = CLAUSES[sort]
    for begin in range(0 if whole else 1, len(words)):
        for stop in range(len(words), begin, -1):
            written = " ".join(words[begin:stop])
            near = nearest(written, (word for word in known if word.count(" ") == stop - begin - 1), least=0.8)
            if near is not None:
                start, end = _token_span(words[begin])[0], _token_span(words[stop - 1])[1]
                return Unreadable("word", f"`{written}`: did you mean `{near}`?", start, end)
    return None


def _swallowed_before(text: str, start: int, end: int, tokens: list[Token], sort: str) -> Unreadable | None:
    """`kind elk cape cuonts 3`: the mark belongs under the word before the figure."""
    run: list[Token] = []
    for token in reversed(tokens):
        if token.type != _NAME_WORDS:
            break
        run.insert(0, token)
    if not run:
        return None
    # `raw clok stops`: the last words are not in the stack yet
    reserved_tail = [
        Token("WORD", piece.group(), start_pos=piece.start()) for piece in list(_PIECE.finditer(text, start))[:2]
    ]
    before = tokens[-len(run) - 1].type if len(tokens) > len(run) else ""
    whole = before in {"UNIT", "NUMBER", "FLAG", "TAG", "_COMMA"}
    for words in ([*run, *reserved_tail], [*run, *reserved_tail[:1]], run):
        found = misspelt_clause(words, sort, whole=whole)
        if found is not None and found.start <= end:
            return found
    return None


def _names_end(tokens: list[Token]) -> bool:
    return bool(tokens) and all(token.type in {"WORD", "OR", "HEAD"} for token in tokens) and tokens[-1].type == "WORD"


def _token_span(token: Token) -> tuple[int, int]:
    start = token.start_pos or 0
    return start, start + len(token)


def _flat(stack: list[object]) -> list[Token]:
    found: list[Token] = []
    for item in stack:
        if isinstance(item, Token):
            found.append(item)
        elif isinstance(item, Tree):
            found += _flat(item.children)
        elif isinstance(item, list):
            found += _flat(item)
    return found


def _begun(stack: list[object], tokens: list[Token], sort: str) -> Tree[Token] | None:
    """What a line that was not read to its end is about: its name or tag and nothing else. None when even that cannot be made out."""
    head = tokens[:1] if tokens and tokens[0].type == "HEAD" else []
    rest = tokens[len(head) :]
    if head and rest and rest[0].type == "TAG":
        return Tree("head", [head[0], rest[0]])
    if (not head and sort != "step") or not rest or rest[0].type != "WORD":
        return None
    named = next((item for item in stack if isinstance(item, Tree) and item.data in {"names", "name"}), None)
    names: Tree[Token]
    if named is not None and span_start(named) == rest[0].start_pos:
        names = named if named.data == "names" else Tree("names", [named])
    else:
        words = []
        for token in rest:
            if token.type != "WORD":
                break
            words.append(token)
        names = Tree("names", [Tree("name", list(words))])
    if any(
        misspelt_clause([word for word in name.children if isinstance(word, Token)], sort) is not None
        for name in names.children
        if isinstance(name, Tree)
    ):
        return None
    return Tree("head", [head[0], names]) if head else Tree("step", [names])


def span_start(node: Tree[Token]) -> int | None:
    """Where a part of a line begins."""
    return next((token.start_pos for token in node.scan_values(lambda token: isinstance(token, Token))), None)
