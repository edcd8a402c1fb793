"""What lines that were just written bring up, and what they answer: the difference between two judgings at one moment."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from hideledger.model.entry import Entry
from hideledger.model.facts import Tested
from hideledger.rules.finding import Finding
from hideledger.rules.words import in_order
from hideledger.shopfloor.floor import Floor

# Still to come: the sentence about the line says by when.
_TOLD_ANYWAY = frozenset({"due", "reading due", "stir due", "drum standing loaded"})
# What is looked after in a bath with skins in it: where they leave, or the bath goes, nothing was read, stirred or turned.
_LOOKED_AFTER = frozenset({"reading due", "stir due", "out of range now", "drum standing loaded"})
_GONE = frozenset({"lost", "refused"})
# Raw is a skin until salt, acid or frost; that it was handed out answers nothing.
_STAYS_TRUE = frozenset({"raw too long", "slip nearby", "hair comes loose"})
Mark = tuple[str, str, str]  # the finding's name, one of those it is about, the line it comes from
Right = tuple[str, tuple[str, ...]]  # the name of what is answered, and those it was about


def brought_up(before: Iterable[Finding], after: Iterable[Finding]) -> list[Finding]:
    """The findings that were not there without the lines, in their order; what is only still to come is left out."""
    known = {mark for finding in before for mark in _marks(finding)}
    return [
        finding
        for finding in after
        if not (finding.when == "tonight" and finding.name in _TOLD_ANYWAY) and not _marks(finding) <= known
    ]


def put_right(before: Iterable[Finding], after: Sequence[Finding], floor: Floor, new: Sequence[Entry]) -> list[Right]:
    """What was told and is answered by the `new` lines, each name once, with those it was about.

    `floor` is that with the lines. What is gone because a hide left, or because its bath was let go, is not answered.
    """
    still = {(finding.name, tag) for finding in after for tag in finding.tags or ("",)}
    found: dict[str, list[str]] = {}
    for finding in before:
        gone = [tag for tag in finding.tags or ("",) if (finding.name, tag) not in still]
        if finding.name in _LOOKED_AFTER:
            if len(gone) < len(finding.tags or ("",)) or not _looked_after(finding, floor, new):
                continue
        elif not finding.rings or finding.when == "record":
            gone = [tag for tag in gone if _tested(tag, new)]
        gone = [tag for tag in gone if not _left(finding.name, tag, floor)]
        if gone and any(tag in floor.hides for tag in finding.tags) and not any(tag in floor.hides for tag in gone):
            continue  # only the bath is left of it
        if gone:
            found.setdefault(finding.name, []).extend(tag for tag in gone if tag)
    return [(name, in_order(tags)) for name, tags in found.items()]


def _looked_after(finding: Finding, floor: Floor, new: Sequence[Entry]) -> bool:
    """Whether the bath still stands with some of those hides in it, and the matter was pressing or was asked for."""
    if finding.name == "drum standing loaded" and finding.when != "now":
        return False  # a drum that stood for a minute was never in trouble
    baths = [floor.baths[tag][-1] for tag in finding.tags if tag in floor.baths]
    if not baths:  # a place: only its own reading answers
        return any(entry.place for entry in new)
    hides = set(finding.tags) & set(floor.hides)
    return all(bath.ended is None and (not hides or hides & {m.hide.tag for m in bath.now_in}) for bath in baths)


def _tested(tag: str, new: Iterable[Entry]) -> bool:
    """Whether a test that held was written of this very tag."""
    return any(tag in entry.tags and isinstance(fact, Tested) and fact.passed for entry in new for fact in entry.facts)


def _left(name: str, tag: str, floor: Floor) -> bool:
    """Whether a hide is no longer in the shop in a way that answers nothing."""
    life = floor.hides[tag][-1] if floor.hides.get(tag) else None
    return life is not None and life.ended is not None and (life.ended_as in _GONE or name in _STAYS_TRUE)


def _marks(finding: Finding) -> set[Mark]:
    place = finding.entry.at if finding.entry is not None else finding.place or finding.rule
    line = "" if place is None else place.short
    return {(finding.name, tag, line) for tag in finding.tags or ("",)}
