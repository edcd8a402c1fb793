"""Who a line is about: tags side by side, runs of tags, bare numbers, those left out."""

from __future__ import annotations

import re
from collections.abc import Sequence

from lark import Token

from hideledger.reading.desk import canonical_tag
from hideledger.reading.trouble import Unreadable
from hideledger.text.named import LONGEST_RUN, TAG_PARTS

_GLUED = re.compile(r"(in|to|of|but|all|and|for|at|out)([A-Z]{1,2}-?[0-9].*)")


def _split(tag: str) -> tuple[str, str, str]:
    found = TAG_PARTS.fullmatch(tag)
    assert found is not None, tag
    return found[1], found[2], found[3]


def _run(first: str, last_token: Token, start: int) -> list[str]:
    """Every tag of a run, both ends included. Raises Unreadable for runs that go down, mix letters or are too long."""
    prefix, low, letter = _split(first)
    written = str(last_token)
    last = canonical_tag(written) if not written.isdigit() else f"{prefix}{written}"
    last_prefix, high, last_letter = _split(last)
    end = last_token.end_pos or start + 1
    if prefix != last_prefix:
        raise Unreadable("run", f"{first} to {last}: a run keeps its letters; write two runs", start, end)
    if letter or last_letter:
        raise Unreadable("run", f"{first} to {last}: a run has no letter behind the number; name each", start, end)
    if int(high) < int(low):
        hint = f"{last} thru {first}" if not written.isdigit() else f"{prefix}{written} thru {first}"
        raise Unreadable("run down", f"{first} to {last} goes down; did you mean {hint}?", start, end)
    if int(high) - int(low) >= LONGEST_RUN:
        raise Unreadable("run", f"{first} to {last} is more than {LONGEST_RUN} tags; is a digit too many?", start, end)
    return [f"{prefix}{number:0{len(low)}d}" for number in range(int(low), int(high) + 1)]


def one_tag(written: str, start: int) -> str:
    """A tag in canonical form. Raises Unreadable where a word of the language is glued to it (`inP3`)."""
    glued = _GLUED.match(written)
    if glued is not None:
        message = f"{written}: a blank between `{glued[1]}` and {glued[2]}?"
        raise Unreadable("glued", message, start, start + len(written))
    return canonical_tag(written)


def expand(tokens: Sequence[Token], *, like: str = "") -> tuple[str, ...]:
    """The tags that TAG, RUN and BARE tokens name, in written order, each once; a bare number at the head is like the tag `like`. Raises Unreadable."""
    named: list[str] = []
    prefix, width = "", 1
    if like:
        prefix, digits, _ = _split(like)
        width = len(digits) if digits.startswith("0") else 1
    index = 0
    while index < len(tokens):
        token = tokens[index]
        if token.type == "TAG":
            tag = one_tag(token, token.start_pos or 0)
            prefix, digits, _ = _split(tag)
            width = len(digits) if digits.startswith("0") else 1
            if index + 2 < len(tokens) and tokens[index + 1].type == "RUN":
                named += _run(tag, tokens[index + 2], token.start_pos or 0)
                index += 3
                continue
            named.append(tag)
        elif token.type == "BARE":
            number = f"{prefix}{int(token):0{width}d}" if width > 1 else f"{prefix}{token}"
            if index + 2 < len(tokens) and tokens[index + 1].type == "RUN":
                named += _run(number, tokens[index + 2], token.start_pos or 0)
                index += 3
                continue
            named.append(number)
        index += 1
    return tuple(dict.fromkeys(named))


def between(first: str, last: str) -> tuple[str, ...]:
    """The tags of a run in a line that could not be read, `last` a tag or a bare number; none where it is no run that could be followed."""
    begin = canonical_tag(first)
    end = canonical_tag(last) if last[:1].isalpha() else f"{_split(begin)[0]}{last}"
    for low, high in ((begin, end), (end, begin)):  # one that goes down is refused, yet which hides it means is plain
        try:
            return tuple(_run(low, Token("TAG", high), 0))
        except Unreadable:
            continue
    return ()
