"""What to say when the grammar cannot go on: what belongs there, what stands there, the nearest thing that would be right."""

from __future__ import annotations

import re
from functools import lru_cache

from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from hideledger.reading.trouble import Unreadable, unseen

# Each terminal of the grammar in a person's words. A test holds this table complete.
SPOKEN = {
    "DATE": "a date",
    "CLOCK": "a time",
    "FIGURES": "a time",
    "DOTTED": "a time",
    "STARTED": "a time",
    "TAG": "a tag like H41",
    "RUN": "`thru`",
    "BARE": "a number",
    "NUMBER": "a number",
    "UNIT": "a unit (lb, gal, F …)",
    "DEGREE": "a unit",
    "INCHES": "a unit",
    "MONEY": "a sum like $12",
    "WORD": "a word",
    "CODE": "a code",
    "QUOTE": "a quotation mark",
    "COMMA": "a comma",
    "COLON": "a colon",
    "ABOUT": "`about`",
    "ALL_IN": "`all in`",
    "BUT": "`but`",
    "AND": "`and`",
    "DOSING": "`mixed` or `add`",
    "TOPPED": "`topped up to`",
    "STIRRED": "`stirred`",
    "TURNING": "`on` or `off`",
    "RAN": "`ran`",
    "PRESSED": "`pressed to`",
    "SKIPPED": "`skipped`",
    "NAMED": "`process` or `recipe`",
    "WAIVED": "`waived`",
    "FINDING": "the name of a finding",
    "SHELF": "`bought`, `counted` or `used`",
    "PAYMENT": "`paid` or `deposit`",
    "SHRINKS": "`shrinks at`",
    "METER_SET": "`meter set`",
    "DONE": "`lost`, `dumped` or `opened`",
    "CUT_INTO": "`cut into`",
    "REPLACES": "`replaces`",
    "TOGETHER": "`together` or `each`",
    "SIZE": "a size",
    "IN": "`in`",
    "OUT_TO": "`picked up by`",
    "OUT": "`out`",
    "OF": "`of`",
    "TO": "`to`",
    "UNTIL": "`to`",
    "AT": "`at`",
    "CODED": "`tag`, `lot`, `licence` or `seal`",
    "KILLED": "`killed`",
    "DATED": "`promised`",
    "HUNG": "`hung`",
    "SCALE": "`pH`",
    "THEIR_TAGS": "`their tags`",
    "WHOM": "`for`, `from` or `by`",
    "REMARK": "`remark`",
    "TEXT": "a remark",
    "DASH": "a remark behind `--`",
    "BRACKETS": "a remark in brackets",
    "STRUCK": "`struck`",
    "$END": "the end of the line",
}

_HEADS: tuple[tuple[str, str, str], ...] = (
    (r"[0-9]{4}[–—−][0-9]{1,2}", "date dashes", "a date is written with plain hyphens: 2026-11-03"),
    (r"(?:19|20)[0-9]{6}(?![0-9])", "date digits", "did you mean {iso}? a date is written 2026-11-03"),
    (r"[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}T", "date T", "a blank between date and time, no T: `2026-11-03 07:45`"),
    (
        r"[0-9]{4}[-/][0-9]{1,2}[-/][0-9]{1,2}[0-9-]",
        "date",
        "this is no date; write it as 2026-11-03, a blank behind it",
    ),
    (
        r"[0-9]{1,2}-[0-9]{1,2}(?:-[0-9]{4}|-[0-9]{2})?(?=[\s,]|$)",
        "date",
        "a date? write it as 2026-11-03: year, month, day",
    ),
    (
        r"[0-9]{1,2}\.[0-9]{1,2}(?:\.(?:[0-9]{2})?(?=[\s,]|$)|(?=\s+[0-9]{1,2}[:.h][0-9]{2}))",
        "date",
        "a date? with points it wants its whole year (`3.11.2026`); or write it as 2026-11-03",
    ),
    (r"[0-9]{1,2}:[0-9]{2}[A-Za-z]", "glued", "a blank between the time and what follows it"),
    (r"[0-9]{1,2}:[0-9](?![0-9])", "time", "{hour}:0{last} or {hour}:{last}0? a time is written 7:05"),
    (r"[0-9]{1,2}:[0-9]{3,}", "time", "this is no time; write it as 19:30"),
    (r"[0-9]{1,2}\.[0-9]{2}(?![0-9])", "dotted time", "a time, or a number? write {colon} (or a date in front of it)"),
    (r"midnight\b", "midnight", "midnight of which day? write the date and 00:00"),
    (
        r"(?:about|around)\s+[0-9]",
        "about",
        "this is no time; write one (`about 7:30`, `about 7 pm`), or leave it away (some time that day)",
    ),
    (r"~[0-9]", "struck or about", "struck out (`~ 7:30`), or about (`about 7:30`)?"),
    (r"#[0-9]", "hash tag", "`#` begins a comment; write the tag itself{tag}"),
    (r"(?:today|yesterday|tomorrow|tonight)\b", "hurried", "a book is read later; write the date"),
    (
        r"(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?\s",
        "weekday",
        "leave the day of the week away; a line begins with its date",
    ),
    (r"[<>=|]{7}", "merge", "left over from a merge; keep one of the two sides and take this line out"),
    (r"[A-Za-z]{1,4}-?[0-9]{1,6}[A-Za-z]{2,}", "glued", "a blank between the tag and the next word"),
    (r"[A-Za-z]{1,4}-?[0-9]{1,6},[0-9]", "glued", "a blank behind a comma, or blanks alone: `H1 2 3`"),
    (r"[A-Za-z]\s+[0-9]+(?=[\s,:]|$)", "tag blank", "a tag has no blank; did you mean {joined}?"),
    (r"hide\s+[0-9]+", "tag word", "write its tag{tag}"),
    (r"[0-9]+(?:st|nd|rd|th)\b", "digit in name", "a name has no digit in it; write the word (`second turn`)"),
    (
        r"(?:[1-9]|1[0-9]|2[0-3])[0-5][0-9](?=[\s,:]+(?:[A-Za-z]{1,4}-?[0-9]|all\s+in\b))",
        "time digits",
        "did you mean {clock}? a time is written 7:05",
    ),
    (r"[0-9]{1,6}(?=[\s,:]+[A-Za-z])", "tag letter", "a tag begins with a letter{tag}"),
    (r"all\b", "all", "name the hides, or `all in P3` for whoever is in it"),
    (r"(?:same|ditto)\b", "hurried", "write the words again, with their tag"),
    (r"\*|-\s", "list mark", "a line begins with a date, a time or a tag; leave the mark in front away"),
)

_SPOTS: tuple[tuple[str, str, str], ...] = (
    (
        r":[ \t\u00a0\u202f]*(?:none|no|nil)(?![A-Za-z0-9])",
        "no defect",
        "a defect is written where there is one; that none was found is `H41 pull test ok`",
    ),
    (r"[\"“”„″](?!\w)", "quotation", "`{found}` says nothing here; write the word again, inches are `in`"),
    (r"[\"“”„″‘']", "quotation", "a stray quotation mark; leave it away"),
    (r"[A-Za-z]{1,4}-?[0-9]{1,6}[A-Za-z]{2,}", "glued", "a blank between the tag and the next word"),
    (r"[<>=|]{7}", "merge", "left over from a merge; keep one of the two sides and take this line out"),
    (r"#[0-9]", "hash tag", "`#` begins a comment; write the tag itself"),
    (r"#", "hash", "`#` begins a comment only behind a blank; a pound of weight is `lb`"),
    (r"/[0-9]", "glued", "blanks between tags: `H1 2 3`"),
    (r";", "semicolon", "one line each: a line is one time, those it is about, and what happened"),
    (r"~", "about", "a reading is a number as it stands: `pH 2.0`"),
    (r"-[0-9]", "range", "one number a reading; two times are written `8:25 to 9:10`"),
    (
        r"[-–—−][ \t]*[$£€]",
        "below nothing",
        "no sum is less than nothing; what was paid back is `gave back $20 to WHOM`",
    ),
    (r"[-–—]", "dash", "a remark begins with two dashes (`H41 salt -- bit wet`), a run is `H41 thru H44`"),
    (r":[0-9]{2}", "time here", "a time stands at the head of a line; a run written afterwards is `ran 8:25 to 9:10`"),
    (r"\(", "bracket", "this bracket does not close"),
    (r"\)", "bracket", "this bracket was not opened"),
    (r"\?", "question", "a question stands in a remark, behind `--`"),
    (r"\[", "bracket", "a remark stands in round brackets or behind `--`"),
    (r"[@*_=<>|\\^{}]", "sign", "`{found}` says nothing here"),
    (r"[0-9]+(?:st|nd|rd|th)\b", "digit in name", "a name has no digit in it; write the word (`second turn`)"),
    (r"°", "degrees", "a number stands before the degrees"),
)


def head_trouble(text: str, at: int) -> Unreadable | None:
    """What is wrong with the head of a line from offset `at` on, if it is one of the usual slips."""
    if (mark := unseen(text, at, at + 1)) is not None:
        return mark
    if _any_head().match(text, at) is None:
        return None
    for pattern, code, message in _HEADS:
        found = re.compile(pattern, re.IGNORECASE).match(text, at)
        if found is not None and not (code == "time digits" and ":" in text[:at]):  # one time is enough
            return Unreadable(code, message.format(**_parts(found.group())), at, found.end())
    return None


@lru_cache(maxsize=1)
def _any_head() -> re.Pattern[str]:
    return re.compile("|".join(f"(?:{pattern})" for pattern, _, _ in _HEADS), re.IGNORECASE)


def _parts(found: str) -> dict[str, str]:
    digits = "".join(sign for sign in found if sign.isdigit())
    return {
        "found": found.strip(),
        "iso": f"{digits[:4]}-{digits[4:6]}-{digits[6:8]}",
        "hour": found.split(":", maxsplit=1)[0],
        "last": found[-1],
        "colon": found.replace(".", ":"),
        "clock": f"{digits[:-2]}:{digits[-2:]}",
        "tag": f"; did you mean H{digits}?" if digits else "",
        "joined": "".join(found.split()),
    }


def spot_trouble(text: str, at: int) -> Unreadable | None:
    """What is wrong at a place inside a line, if it is one of the usual slips."""
    if (mark := unseen(text, at, at + 1)) is not None:
        return mark
    for pattern, code, message in _SPOTS:
        found = re.compile(pattern).match(text, at)
        if found is not None:
            return Unreadable(code, message.format(**_parts(found.group())), at, found.end())
    return None


def grammar_trouble(text: str, error: UnexpectedInput) -> Unreadable:
    """The grammar's own refusal, in a person's words, at the place where it could not go on."""
    if isinstance(error, UnexpectedToken):
        at = error.token.start_pos if error.token.type != "$END" else len(text.rstrip())
        accepted = set(error.accepts or error.expected)
    elif isinstance(error, UnexpectedCharacters):
        at, accepted = error.pos_in_stream, set(error.allowed or ())
    else:
        at, accepted = len(text.rstrip()), set()
    at = at if at is not None else len(text.rstrip())
    phone = re.compile(r"[0-9]{3}[-.][0-9]{4}").match(text, max(0, at - 3))
    if phone is not None:
        message = f"{phone.group()}: a phone number stands with the customer: `customer Oren Vale, phone 555-0142`"
        return Unreadable("phone", message, phone.start(), phone.end())
    if accepted == {"STARTED"}:
        return Unreadable("ran", "two times stand behind `ran`: `ran 8:25 to 9:10`", at, at + 1)
    if re.compile(r"[0-9]{1,2}(?::[0-9]{2})?[ ]*[ap]m?\b|[0-9]{1,2}:[0-9]{2}", re.IGNORECASE).match(text, at):
        return Unreadable("time here", "a time stands at the head of a line", at, at + 1)
    usual = spot_trouble(text, at)
    if usual is not None:
        return usual
    found = re.compile(r"[^\s,]+").match(text, at)
    if accepted and accepted <= {"WORD", "QUOTE"} and re.search(r"\bto[ \t]*$", text[:at], re.IGNORECASE):
        right = "a weight stands behind a comma (`shaved, 5 lb`), a bath behind `in` (`pickle in P3`)"
        return Unreadable("to whom", f"`to` is said of a person (`out to Oren Vale`); {right}", at, at + 1)
    passed = {SPOKEN["WORD"], SPOKEN["QUOTE"], SPOKEN["COMMA"], SPOKEN["$END"]}
    expected = sorted({SPOKEN.get(name, name) for name in accepted} - passed)
    wanted = " or ".join(expected) if 0 < len(expected) <= 4 else ("a word or a number" if accepted else "nothing more")
    if found is None:
        return Unreadable("too short", f"the line stops short; {wanted} belongs behind it", at)
    return Unreadable("expected", f"{wanted} belongs here; `{found.group()}` stands here", at, found.end())
