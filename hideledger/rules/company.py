"""Who lay beside whom: the mates of a skin that slipped, and skins to be kept apart."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hideledger.model.entry import Entry
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.how_far import Stands, can_wait, stands
from hideledger.rules.lain_with import Company, pulled_after
from hideledger.rules.telling import TAGS, bath_cause, of_hide
from hideledger.rules.words import in_order, when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife
from hideledger.shopfloor.noted import Defect

EVERYWHERE = frozenset({"", "room"})


def slip_nearby(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Slip is seen late and caused early: what did it to one skin of a bath was at work on all that lay with it."""
    company = Company(horizon)
    unread = [life for life in horizon.unread if not life.declared]  # beside it all the same, however it came
    for life in (*horizon.here, *unread):
        if company.slipped(life):
            continue
        for beside in company.of(life):
            left = [one for one in beside.slipped if not pulled_after(life, one[1])]
            yield from _slip_told(life, left, beside.bath, beside.how, horizon)


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
    where = f" at {fact.where}" if fact.where else ""
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
        if place not in EVERYWHERE:
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
