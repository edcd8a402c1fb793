"""One matter is told once: silence is no matter of its own where a limit speaks, nor two limits that fall together two."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from hideledger.model.moments import HOUR
from hideledger.rules.finding import Finding

_PRESSING = frozenset({"overdue", "raw too long", "due"})
_LIMITS = frozenset({"overdue", "due"})

Ranked = tuple[int, Finding]


def once(found: Iterable[Ranked]) -> list[Ranked]:
    """The findings, each of one hide or bath still, without those that another says better."""
    kept = list(found)
    pressed = {tag for _, one in kept if one.name in _PRESSING and one.when != "record" for tag in one.tags[:1]}
    kept = [(rank, one) for rank, one in kept if one.name != "gone quiet" or one.tags[0] not in pressed]
    # A skin whose own hair came is no longer one that lay beside.
    loose = {one.tags[0] for _, one in kept if one.name == "hair comes loose"}
    kept = [(rank, one) for rank, one in kept if one.name != "slip nearby" or one.tags[0] not in loose]
    late = {tag for _, one in kept if one.name == "overdue" for tag in one.tags[:1]}
    kept = [(rank, one) for rank, one in kept if one.name != "arrival not read" or one.tags[0] not in late]
    kept = _read_again(kept)
    limits: dict[tuple[str, str], list[Ranked]] = {}
    for rank, one in kept:
        name = "overdue" if one.name == "raw too long" and one.when == "now" else one.name
        if name in _LIMITS and one.tags and one.limit_s is not None:  # a forecast has no limit of its own
            limits.setdefault((name, one.tags[0]), []).append((rank, one))
    better: dict[int, Finding | None] = {}
    for several in limits.values():
        if len(several) > 1:
            better.update(_tightest([one for _, one in several]))
    told = [(rank, better.get(id(one), one)) for rank, one in kept]
    return [(rank, one) for rank, one in told if one is not None]


def _read_again(found: list[Ranked]) -> list[Ranked]:
    """A bath that reads wrong is read again when it is righted: that it is due to be read is said there."""
    due = {one.tags[-1]: one for _, one in found if one.name == "reading due" and one.when == "now"}
    if not due:
        return found
    joined: set[str] = set()
    kept: list[Ranked] = []
    for rank, one in found:
        late = due.get(one.tags[-1]) if one.name == "out of range now" and one.tags else None
        if late is None or (one.may and not late.may):
            kept.append((rank, one))
            continue
        joined.add(one.tags[-1])
        tags = (*dict.fromkeys((*one.tags[:-1], *late.tags[:-1])), one.tags[-1])
        kept.append(
            (rank, replace(one, tags=tags, more=(*one.more, late.message, *late.more), rings=one.rings or late.rings))
        )
    return [
        (rank, one)
        for rank, one in kept
        if one.name != "reading due" or one.when != "now" or one.tags[-1] not in joined
    ]


def _tightest(several: list[Finding]) -> dict[int, Finding | None]:
    """Of limits that fall within one hour the tighter speaks, and mentions the others."""
    said: dict[int, Finding | None] = {}
    # Of two as tight, the one with more to do: what answers the one mostly is the beginning of what answers the other.
    row = sorted(several, key=lambda one: (one.may, one.limit_s or 0, one.since or 0, -one.do.count("`"), one.message))
    while row:
        first, rest = row[0], row[1:]
        near = [one for one in rest if _together(first, one)]
        said[id(first)] = replace(first, more=(*first.more, *(f"and {one.held}" for one in near)))
        said.update((id(one), None) for one in near)
        row = [one for one in rest if one not in near]
    return said


def _together(one: Finding, other: Finding) -> bool:
    return _near(one, other) or _of_one_door(one, other) or _of_one_door(other, one)


def _of_one_door(raw: Finding, other: Finding) -> bool:
    """Whether a skin lies raw too long, and what it waits for should have come within a time from the door: one cause."""
    return raw.name == "raw too long" and raw.entry is not None and other.cause == f"line {raw.entry.order}"


def _near(one: Finding, other: Finding) -> bool:
    return one.since is not None and other.since is not None and abs(one.since - other.since) < HOUR
