"""Skins to be kept apart, and who lies beside them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hideledger.model.entry import Entry
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.telling import TAGS, of_hide
from hideledger.rules.words import in_order
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

# Places that are no company: everybody is there.
EVERYWHERE = frozenset({"", "room"})


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
