"""What a book names, found by a search of its text: quick enough to answer while somebody types.

Nothing is read here. A word that looks like a tag and is none may be among them, and a bare number that takes the letter of the tag before
it (`H41 42`) is not: it is only what is offered to be finished.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

# As in grammar/words.lark; a test holds them together.
TAG = r"(?!ph[0-9])[A-Za-z]{1,4}-?[0-9]{1,6}[A-Za-z]?(?![A-Za-z0-9]|[.,][0-9])"
RUN = r"\.{2,}|…|(?:thru|through|to)(?=[ \t\u00a0\u202f]+(?:[A-Za-z]{1,4}-?)?[0-9]{1,6}[A-Za-z]?(?![A-Za-z0-9:.]))|(?<=[A-Za-z0-9])[-–](?=(?:[A-Za-z]{1,4}-?)?[0-9])"
# As tags are kept: letters and hyphen, the number, a small letter behind it.
TAG_PARTS = re.compile("([A-Z]{1,4}-?)([0-9]{1,6})([a-z]?)")
LONGEST_RUN = 500

_BLANK = r"[ \t\u00a0\u202f]"
# What is no tag of the book's own: a comment, another shop's tags.
_PASSED_OVER = re.compile(r"#(?<=[\s\u00a0\u202f]#)(?![0-9])[^\n]*|[Tt]heir[ \t]+tags?[^,\n]*")
# Nor a code that the law or a supplier gave: looked for only where a tag may begin, which is much faster.
_NO_CODE = "".join(
    f"(?<!{word} )" for word in ("tag", "lot", "lic", r"lic\.", "licence", "license", "seal", "permit", "email")
)
# a tag, perhaps with the end of a run
_NAMED = re.compile(
    rf"(?<![A-Za-z0-9@.])(?=[A-Za-z]{{1,4}}-?[0-9]){_NO_CODE}({TAG})"
    rf"(?:{_BLANK}*(?:{RUN}){_BLANK}*([A-Za-z]{{0,4}}-?[0-9]{{1,6}})(?![A-Za-z0-9:]|[.,][0-9]))?",
    re.IGNORECASE,
)
_DEFINED = re.compile(r"^(place|customer|kind|supply|recipe|process)[ \t]+([^,#\n]+)", re.IGNORECASE | re.MULTILINE)
# whom a hide is for: words that begin with a capital
_FOR = re.compile(rf"(?<![A-Za-z])for{_BLANK}+([A-Z](?:[^\W\d_]|['’-])*(?:{_BLANK}+[A-Z](?:[^\W\d_]|['’-])*)*)")
_PROCESS = re.compile(r"^process(?=[ ,]|$)[^\n]*\n((?:[ \t#][^\n]*\n|\n)*)", re.IGNORECASE | re.MULTILINE)
# a step is divided from its limits by a comma, or begins with words that are none of a limit's
_STEP = re.compile(r"^[ \t]+([^\W\d_][^\n,#:]*)", re.MULTILINE)
_LIMITS = re.compile(
    r"(?:^|[ \t]+)(?:stays|runs|within|optional|needs|weighs|note|again|raw|may|at|in a bath|read|stirred|pH|process|tanning|$).*",
    re.IGNORECASE,
)


def tags_in(texts: Iterable[str]) -> list[str]:
    """The tags named in these pages (oldest page first), the one named last coming first."""
    named: dict[str, None] = {}
    for text in texts:
        for tag in _tags_of(text):
            named.pop(tag, None)
            named[tag] = None
    return list(reversed(named))


def _tags_of(text: str) -> Iterator[str]:
    for written, last in _NAMED.findall(_PASSED_OVER.sub("", f"\n{text}")):
        tag = _as_kept(written)
        yield tag
        if last:
            yield from _run(tag, last.upper())


def _as_kept(written: str) -> str:
    """Capitals in front, a small letter behind."""
    tag = written.upper()
    return tag[:-1] + tag[-1].lower() if tag[-1].isalpha() else tag


def _run(first: str, last: str) -> Iterator[str]:
    """The rest of a run of tags, its end included; of what is none, only the end, where that is a tag."""
    prefix, low = first.rstrip("0123456789"), first.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ-")
    last_prefix, high = last.rstrip("0123456789"), last.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ-")
    if last_prefix in ("", prefix) and low.isdigit() and 0 < int(high) - int(low) < LONGEST_RUN:
        yield from (f"{prefix}{number:0{len(low)}d}" for number in range(int(low) + 1, int(high) + 1))
    elif last_prefix:
        yield last


def names_in(texts: Iterable[str], *sorts: str) -> list[str]:
    """The names that these pages define, by the words their definitions begin with; `step` gives the steps of every process.

    A `customer` is also whoever a hide is for.
    """
    names: dict[str, None] = {}
    for text in texts:
        for sort, written in _DEFINED.findall(text):
            if sort.casefold() in sorts:
                names.update(dict.fromkeys(_either(written)))
        if "customer" in sorts:
            names.update(dict.fromkeys(" ".join(name.split()) for name in dict.fromkeys(_FOR.findall(text))))
        if "step" in sorts:
            for lines in _PROCESS.findall(text):
                for written in _STEP.findall(lines):
                    names.update(dict.fromkeys(_either(_LIMITS.sub("", written))))
    names.pop("", None)
    return list(names)


def _either(written: str) -> Iterator[str]:
    for name in re.split(r"[ \t]+or[ \t]+", written):
        yield " ".join(name.split())


def next_words(typed: Sequence[str], names: Iterable[str]) -> list[str]:
    """What the last of the typed words may become: the next word of each name that the words before it begin, else of any name."""
    *before, last = typed or [""]
    whole = [(name.split(), name.casefold().split()) for name in names]
    for start in range(len(before) + 1):
        run = [word.casefold() for word in before[start:]]
        at = len(run)
        found = [
            words[at]
            for words, small in whole
            if len(words) > at and small[:at] == run and small[at].startswith(last.casefold())
        ]
        if found:
            return list(dict.fromkeys(found))
    return []
