"""A tag that nothing declares is mostly a slip of the hand: figures swapped, one too many, a letter for a figure."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import partial

from hideledger.model.entry import Entry
from hideledger.model.facts import Formerly, Stepped, Tested
from hideledger.shopfloor.floor import Floor, Oddity
from hideledger.text.nearest import nearest

_SHAPE = re.compile(r"([A-Za-z]{1,4})-?0*([0-9]*)([A-Za-z]*)")
_LOOK_ALIKE = str.maketrans({"l": "1", "I": "1", "i": "1", "O": "0", "o": "0", "S": "5", "Z": "2", "B": "8"})
_FEW = 20  # a run of five hundred unknown tags is one slip: comparing each with all others is for the first ones only


def strangers(floor: Floor, sorts: dict[str, str]) -> list[Oddity]:
    """Tags that nothing in the book declares, each once, with the tag that was most likely meant: rather one here then."""
    found: dict[str, Oddity] = {}
    likely = Likely(sorts)
    for entry in floor.entries:
        for tag in _named(entry):
            if tag in sorts:
                continue
            oddity = found.get(tag)
            if oddity is None:
                note = likely.meant(tag, partial(_here, floor, entry.when.hi))
                found[tag] = Oddity(sort="unknown tag", tags=(tag,), entry=entry, note=note)
            elif oddity.entry is not entry and (not oddity.more or oddity.more[-1] is not entry):
                oddity.more.append(entry)
    return list(found.values())


def _named(entry: Entry) -> Iterable[str]:
    """Every tag a line names, also as the bath it puts a hide into or the hide a test was made on."""
    yield from entry.tags
    if entry.group is not None and _is_tag(entry.group.where):
        yield entry.group.where
    for fact in entry.facts:
        if isinstance(fact, Stepped):
            if _is_tag(fact.where):
                yield fact.where
        elif isinstance(fact, Tested) and fact.on:
            yield fact.on
        elif isinstance(fact, Formerly):
            yield fact.other


def _is_tag(word: str) -> bool:
    """Places have names, tags have figures."""
    return any("0" <= letter <= "9" for letter in word)


def _here(floor: Floor, instant: int, tag: str) -> bool:
    """Whether that hide was in the shop, or that bath stood, at an instant."""
    return any(
        life.arrived_when.lo <= instant and (life.ended_when is None or instant <= life.ended_when.hi)
        for life in floor.hides.get(tag, ())
    ) or any(
        life.made_when.lo <= instant and (life.ended_when is None or instant <= life.ended_when.hi)
        for life in floor.baths.get(tag, ())
    )


class Likely:
    """The declared tags, to be found by what a hurried hand makes of them."""

    __slots__ = ("_asked", "_plain", "_tags")

    def __init__(self, tags: Iterable[str]) -> None:
        self._tags = sorted(tags)
        self._plain: dict[str, str] = {}
        self._asked = 0
        for tag in self._tags:
            self._plain.setdefault(_plain(tag), tag)

    def meant(self, tag: str, here: Callable[[str], bool]) -> str:
        """The declared tag that was most likely meant, one that was `here` before one that was not; or nothing.

        Look-alikes, hyphens and zeros first, then swapped figures, one too many, one off.
        """
        found = list(
            dict.fromkeys(known for guess in _guesses(tag) if (known := self._plain.get(_plain(guess))) is not None)
        )
        if found:
            return next((known for known in found if here(known)), found[0])
        self._asked += 1
        return (nearest(tag, self._tags) or "") if self._asked <= _FEW else ""


def _guesses(tag: str) -> Iterable[str]:
    head = len(tag) - len(tag.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")) or 1
    yield tag
    yield tag[:head] + tag[head:].translate(_LOOK_ALIKE)
    for i in range(head, len(tag) - 1):
        yield tag[:i] + tag[i + 1] + tag[i] + tag[i + 2 :]
    for i in range(head, len(tag)):
        yield tag[:i] + tag[i + 1 :]
    match = _SHAPE.fullmatch(tag)
    if match is not None and match[2]:
        number = int(match[2])
        for off in (1, -1, 2, -2, 10, -10, 100, -100):
            if number + off >= 0:
                yield f"{match[1]}{number + off}{match[3]}"


def _plain(tag: str) -> str:
    """A tag without hyphen and leading zeros: `MB-07` and `MB7` are one slip apart."""
    match = _SHAPE.fullmatch(tag)
    return tag.upper() if match is None else f"{match[1].upper()}{match[2] or '0'}{match[3].lower()}"
