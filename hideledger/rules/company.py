"""Who lay beside whom: the mates of a skin that slipped, and skins to be kept apart."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hideledger.model.entry import Entry
from hideledger.model.moments import When
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.how_far import Stands, can_wait, stands
from hideledger.rules.telling import TAGS, bath_cause, of_hide
from hideledger.rules.words import at_where, in_order, when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife, Pause
from hideledger.shopfloor.noted import Defect

_EVERYWHERE = frozenset({"", "room"})


def slip_nearby(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Slip is seen late and caused early: what did it to one skin of a bath was at work on all that lay with it."""
    slipped = _slipped(horizon)
    if not slipped:
        return
    by_bath: dict[int, list[tuple[HideLife, Defect, When, When]]] = {}
    by_box: dict[str, list[tuple[HideLife, Defect]]] = {}
    by_place: dict[str, list[tuple[HideLife, Defect, Pause]]] = {}
    for life, defect in slipped.values():
        for stay in life.stays:
            if stay.bath is not None and stay.start.lo < defect.when.hi:
                end = defect.when if stay.end is None or stay.end.lo > defect.when.lo else stay.end
                by_bath.setdefault(id(stay.bath), []).append((life, defect, stay.start, end))
        if life.from_box:
            by_box.setdefault(life.from_box, []).append((life, defect))
        for pause in _raw_rests(life):
            if pause.start.lo < defect.when.hi:
                by_place.setdefault(pause.place.casefold(), []).append((life, defect, pause))
    unread = [life for life in horizon.unread if not life.declared]  # beside it all the same, however it came
    for life in (*horizon.here, *unread):
        if id(life) in slipped:
            continue
        told: set[int] = set()
        for stay in life.stays:
            if stay.bath is None:
                continue
            beside: list[tuple[HideLife, Defect, bool]] = []
            for other, defect, start, end in by_bath.get(id(stay.bath), ()):
                leave = horizon.at if stay.end is None else stay.end.hi
                if (
                    stay.start.lo <= end.hi
                    and leave >= start.lo
                    and id(defect) not in told
                    and not _pulled(life, defect)
                ):
                    told.add(id(defect))
                    certain = stay.start.hi <= end.lo and (stay.end is None or stay.end.lo >= start.hi)
                    beside.append((other, defect, certain))
            yield from _slip_told(life, beside, stay.bath, f"lay with {TAGS} in {stay.bath.tag}", horizon)
        if life.from_box:
            came = [(other, defect, True) for other, defect in by_box.get(life.from_box, ()) if id(defect) not in told]
            told |= {id(defect) for _, defect, _ in came}
            left = [one for one in came if not _pulled(life, one[1])]
            yield from _slip_told(life, left, None, f"came in box {life.from_box} with {TAGS}", horizon)
        for rest in _raw_rests(life):
            lain = [
                (other, defect, _overlap(rest, theirs, defect, horizon.at, surely=True))
                for other, defect, theirs in by_place.get(rest.place.casefold(), ())
                if id(defect) not in told
                and _overlap(rest, theirs, defect, horizon.at, surely=False)
                and not _pulled(life, defect)
            ]
            told |= {id(defect) for _, defect, _ in lain}
            yield from _slip_told(life, lain, None, f"lay raw with {TAGS} in {rest.place}", horizon)


def _raw_rests(life: HideLife) -> list[Pause]:
    """Its rests in a named place before salt, acid or tan had stopped the raw clock: there a slow frost or a warm day harms it."""
    cured = min(
        (
            mark.when.lo
            for mark in life.marks
            if mark.line is not None and mark.line.raw == "stops" and not mark.skipped
        ),
        default=None,
    )
    return [one for one in life.pauses if one.place and (cured is None or one.start.hi <= cured)]


def _overlap(rest: Pause, theirs: Pause, defect: Defect, at: int, *, surely: bool) -> bool:
    """Whether two lay there at one time before the slip was seen: for certain, or maybe."""
    ends = [one.end for one in (rest, theirs)]
    if surely:
        start = max(rest.start.hi, theirs.start.hi)
        return start <= min(defect.when.lo, *(at if end is None else end.lo for end in ends))
    start = max(rest.start.lo, theirs.start.lo)
    return start <= min(defect.when.hi, *(at if end is None else end.hi for end in ends))


def _slipped(horizon: Horizon) -> dict[int, tuple[HideLife, Defect]]:
    """The first slip of each hide that had one; what was there at the door proves nothing about the shop."""
    found: dict[int, tuple[HideLife, Defect]] = {}
    for life in (*horizon.lives, *(one for one in horizon.unread if not one.declared)):
        for defect in life.defects:
            if defect.fact.defect == "slip" and not defect.at_door:
                found[id(life)] = (life, defect)
                break
    return found


def _pulled(life: HideLife, defect: Defect) -> bool:
    return any(
        test.fact.passed
        and "pull" in test.fact.test
        and test.own
        and test.when.hi > defect.when.lo
        and test.entry is not defect.entry
        for test in life.tests
    )


def _slip_told(
    life: HideLife,
    beside: list[tuple[HideLife, Defect, bool]],
    bath: BathLife | None,
    company: str,
    horizon: Horizon,
) -> Iterator[Finding]:
    """One finding for all that slipped in one `company`; the first of those it lay with for certain speaks."""
    sure = [one for one in beside if one[2]] or beside
    if not sure:
        return
    other, defect, certain = min(sure, key=lambda one: (one[1].when.lo, one[1].entry.order))
    count = len({one.tag for one, _, _ in beside})
    fact = defect.fact
    size = f", {fact.size}" if fact.size is not None else (f", {fact.degree}" if fact.degree else "")
    where = at_where(fact.where)
    act = count > 1 or fact.degree in ("bad", "total")
    stood = stands(life)
    waits = can_wait(life, horizon.clock, horizon.at)
    yield of_hide(
        life,
        name="slip nearby",
        when="record" if waits else "now",
        message=(
            f"{company.replace(TAGS, other.tag)}, and {other.tag} slipped{where}{size}, "
            f"{when_said(horizon.clock, defect.when, horizon.at)}"
            + (f"; {count} of them have slipped" if count > 1 else "")
        ),
        do=f"{_first(stood, act=act, waits=waits)} gently at ears, brisket, belly and round every wound, and write: `{TAGS} pull test ok`, or `{TAGS} slip, "
        "slight`",
        entry=defect.entry,
        may=not certain,
        since=defect.when.lo,
        cause=f"slip {bath_cause(bath) if bath is not None else company} {stood.value}{' waits' if waits else ''}",
    )


# What stops the harm at once, by where the skin stands; acid and cold only where they do no harm of their own (common practice, no source).
_AT_ONCE = {
    Stands.GREEN: "get them cold now, or on to your salt or your pickle, and pull",
    Stands.SALTED: "leave them salted or dry as they are, and get them cold now; where the skin is soft, pull",
    Stands.PICKLED: "get them cold or into fresh acid now, then pull",
    Stands.NEUTRALISED: "get them cold now, no acid any more, and pull",
}


def _first(stood: Stands, *, act: bool, waits: bool) -> str:
    """What comes before the look. Cold and acid are for raw skins: of a tanned one nothing but the pull is asked, and a ready one takes no harm from another day."""
    if stood is Stands.FROZEN:
        return "leave it frozen, mark it, and when it is thawed look at it before anything else: pull"
    if stood is Stands.TANNING:
        return "when it comes out of the tan, pull"
    if waits:
        return "look at it before it goes: pull"
    return _AT_ONCE.get(stood, "pull") if act else "pull"


def kept_together(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Mange and ringworm go from a raw skin to its neighbours and to hands: such a one lies alone till cured."""
    apart = [life for life in horizon.here if life.apart is not None and _still_raw(life)]
    if not apart:
        return
    lying: dict[str, list[HideLife]] = {}
    for life in horizon.here:
        place = _place_now(life)
        if place not in _EVERYWHERE:
            lying.setdefault(place, []).append(life)
    for life in apart:
        assert life.apart is not None
        place = _place_now(life)
        beside = [other for other in lying.get(place, ()) if other is not life]
        if beside:
            yield from _together(life, beside, place, life.apart[1])


def _together(life: HideLife, beside: list[HideLife], place: str, entry: Entry) -> Iterator[Finding]:
    since = life.places[-1][0] if life.places else life.arrived_when
    yield of_hide(
        life,
        name="kept together",
        when="now",
        message=f"to be kept apart, and lies in {place} with {len(beside)} other{'s' if len(beside) > 1 else ''}: "
        + _some(in_order(other.tag for other in beside)),
        # Out of the freezer it would thaw: there it is bagged by itself, and said so.
        do=f"bag it by itself, with gloves on, and say so: `{TAGS} waived kept together -- bagged by itself`"
        if life.resting is not None
        else f"lift it out with gloves on, clean what it touched, and write: `{TAGS} out of {place}`",
        entry=entry,
        since=max(since.lo, entry.when.lo),
        more=() if not entry.remark else (f"kept apart for: {entry.remark}",),
        cause=f"apart {entry.order} {place}",
    )


def _some(tags: tuple[str, ...]) -> str:
    return ", ".join(tags[:8]) + (f" and {len(tags) - 8} more" if len(tags) > 8 else "")


def _place_now(life: HideLife) -> str:
    if life.stay is not None and life.stay.bath is not None:
        return life.stay.bath.tag
    if life.resting is not None and life.resting.place:
        return life.resting.place
    return life.places[-1][1] if life.places else ""


def _still_raw(life: HideLife) -> bool:
    """Raw until the first stay that stops the raw clock is behind it."""
    return not any(
        stay.line is not None and stay.line.raw == "stops" and (stay.end is not None) and not stay.goes_on
        for stay in life.stays
    )
