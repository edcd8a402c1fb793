"""What a vessel holds: skins by count and by weight; `rim` has what stands in it by volume."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from decimal import Decimal
from itertools import pairwise
from operator import itemgetter

from hideledger.model.shop import Vessel, as_of
from hideledger.model.units import Quantity, plain_number
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.rim import by_volume
from hideledger.rules.telling import bath_cause, of_bath
from hideledger.rules.words import stamp
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, Member

_EVER = (-(10**12), 10**12)  # seconds: before any book, and after it


def vessel_over_full(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Skins that are packed cannot move, and where two touch the liquor does not come between."""
    shop = floor.book.shop
    in_vessel: dict[str, list[BathLife]] = {}
    for bath in horizon.baths:
        if bath.vessel:
            in_vessel.setdefault(bath.vessel, []).append(bath)
    for tag, baths in in_vessel.items():
        latest = shop.vessels.get(tag)
        if latest is None:
            continue
        for vessel, span in _versions(latest, horizon):
            if vessel.holds is not None:
                yield from _by_count(floor, vessel, baths, horizon, span)
        vessel = as_of(latest, date.fromordinal(horizon.clock.day_of(horizon.at)))
        if vessel.holds_weight is not None:
            yield from _by_weight(vessel, vessel.holds_weight, baths)
        if vessel.volume is not None:
            yield from by_volume(vessel, vessel.volume, baths, shop)


def _versions(latest: Vessel, horizon: Horizon) -> Iterator[tuple[Vessel, tuple[int, int]]]:
    """What a vessel held, each with the first second of it and the first that is no longer; the first of them from ever."""
    versions = (*latest.earlier, latest)
    begins = [0 if one.since is None else horizon.clock.day_start(one.since.toordinal()) for one in versions]
    begins[0] = _EVER[0]
    for version, span in zip(versions, pairwise([*begins, _EVER[1]]), strict=True):
        if span[0] <= horizon.at:
            yield version, span


def _by_count(
    floor: Floor, vessel: Vessel, baths: list[BathLife], horizon: Horizon, span: tuple[int, int]
) -> Iterator[Finding]:
    assert vessel.holds is not None
    # A drum takes what it takes; a vat is counted by eye, and a tenth more is no matter (common practice, no source).
    allowed = vessel.holds if vessel.is_drum else vessel.holds * Decimal("1.1")
    members = [(member, bath) for bath in baths for member in bath.members]
    kinds = floor.book.shop.kinds
    largest = max((kind.counts for kind in kinds.values()), default=Decimal(1))
    if len(members) * max(largest, Decimal(1)) <= allowed:
        return
    sure: dict[int, Decimal] = {}
    unknown = False
    for member, _ in members:
        kind = kinds.get(member.hide.kind.casefold()) if member.hide.kind else None
        unknown = unknown or kind is None
        sure[id(member)] = Decimal(1) if kind is None else kind.counts
    told = list(_sweep(vessel, members, sure, allowed, horizon, span, may=False))
    yield from told
    if unknown and largest > 1 and not told:
        guess = {id(m): sure[id(m)] if m.hide.kind and m.hide.kind.casefold() in kinds else largest for m, _ in members}
        yield from _sweep(vessel, members, guess, allowed, horizon, span, may=True)


def _sweep(
    vessel: Vessel,
    members: list[tuple[Member, BathLife]],
    counts: dict[int, Decimal],
    allowed: Decimal,
    horizon: Horizon,
    span: tuple[int, int],
    *,
    may: bool,
) -> Iterator[Finding]:
    """The stretches within `span` in which more was in than it holds, each told once: by those who were in for certain."""
    steps: list[tuple[int, int, Member, BathLife]] = []
    for member, bath in members:
        start = max(member.enter.hi, span[0])
        end = min(horizon.at + 1 if member.leave is None else member.leave.lo, span[1])
        if start < end:
            steps.append((start, 1, member, bath))
            steps.append((end, 0, member, bath))
    steps.sort(key=itemgetter(0, 1))  # at one moment those come out first that leave
    inside: dict[int, tuple[Member, BathLife]] = {}
    total, over_since = Decimal(0), None
    first, most, held = Decimal(0), Decimal(0), inside
    for instant, enters, member, bath in steps:
        if instant > horizon.at and over_since is not None:  # over full still: by what is in it now
            yield _full_told(vessel, (first, total), dict(inside), over_since, instant, horizon, may=may)
            return
        if enters:
            inside[id(member)] = (member, bath)
            total += counts[id(member)]
        else:
            inside.pop(id(member))
            total -= counts[id(member)]
        if total > allowed and (over_since is None or total > most):
            if over_since is None:
                over_since, first = instant, total
            elif over_since == instant:
                first = total
            most, held = total, dict(inside)
        elif total <= allowed and over_since is not None:
            yield _full_told(vessel, (first, most), held, over_since, instant, horizon, may=may)
            over_since, most = None, Decimal(0)


def _full_told(
    vessel: Vessel,
    counts: tuple[Decimal, Decimal],
    held: dict[int, tuple[Member, BathLife]],
    since: int,
    until: int,
    horizon: Horizon,
    *,
    may: bool,
) -> Finding:
    """`counts` are what was in it when it became too full, and the most (or what is in it now), which may have come to it later."""
    assert vessel.holds is not None
    now = until > horizon.at
    first, most = counts
    last, bath = max(held.values(), key=lambda item: (item[0].enter.lo, item[0].stay.mark.entry.order))
    clock, at = horizon.clock, horizon.at
    unknown = "" if not may else "; the kind of some is not written, and they may count for more"
    return of_bath(
        bath,
        [m.hide for m, _ in held.values()],
        name="vessel over full",
        when="now" if now else "record",
        message=f"{vessel.tag} holds {plain_number(vessel.holds)} and "
        + (
            f"has {plain_number(most)} in it{'' if first == most else ', and more than it holds'} since {stamp(clock, since, at)}"
            if now
            else f"had {plain_number(most)} in it{'' if first == most else ' at the most, and more than it holds'} from {stamp(clock, since, at)} to {stamp(clock, until, at)}"
        )
        + unknown,
        do=("move some, and write: " if now else "if a line is missing, write it late, with its own date: ")
        + f"`{last.hide.tag} out of {bath.tag}`",
        entry=last.stay.mark.entry,
        rule=vessel.place,
        may=may,
        since=since,
        rings=not may,  # what only may be too many is asked about
        cause=f"full {vessel.tag} {since}",
    )


def _by_weight(vessel: Vessel, limit: Quantity, baths: list[BathLife]) -> Iterator[Finding]:
    for bath in baths:
        if bath.ended is not None or not bath.now_in:
            continue
        pounds, unweighed = Decimal(0), 0
        for member in bath.now_in:
            weights = [w for w in member.hide.weights if w.shared_by == 1]
            if weights:
                pounds += weights[-1].weight.to("lb")
            else:
                unweighed += 1
        together = [w for w in bath.load_weights if w.when.hi >= min(m.enter.lo for m in bath.now_in)]
        if together:
            pounds, unweighed = max(pounds, together[-1].weight.to("lb")), 0
        if pounds <= limit.to("lb"):
            continue
        member = bath.now_in[-1]
        yield of_bath(
            bath,
            [m.hide for m in bath.now_in],
            name="vessel over full",
            when="now",
            message=f"{vessel.tag} holds {limit} and has {pounds:.1f} lb in it"
            + (f", {unweighed} more not weighed" if unweighed else ""),
            do=f"take some out, and write: `{member.hide.tag} out of {bath.tag}`",
            entry=member.stay.mark.entry,
            rule=vessel.place,
            since=member.enter.lo,
            cause=f"heavy {bath_cause(bath)}",
        )
