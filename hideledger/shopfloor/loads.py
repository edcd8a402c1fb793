"""What a bath did to each hide in it: how long the drum turned with it inside, how much skin has gone through."""

from __future__ import annotations

from collections.abc import Iterator

from hideledger.model.facts import Divided
from hideledger.model.units import Quantity
from hideledger.shopfloor.again import last_weight_before
from hideledger.shopfloor.floor import Floor, Oddity
from hideledger.shopfloor.life import BathLife, HideLife, Member, Stay, Turn
from hideledger.shopfloor.turning import count_once


def settle_bath(floor: Floor, bath: BathLife) -> None:
    """Time is the hide's, not the load's: each stay gets the turning that fell into it."""
    bath.members.sort(key=lambda member: (member.enter.lo, member.enter.hi))
    count_once(floor, bath)
    bath.stirs.sort(key=lambda stir: stir.when.lo)
    bath.readings.sort(key=lambda reading: reading.when.lo)
    if bath.turns:
        _turn_hides(floor, bath)
    _weigh_through(floor, bath)


def _turn_hides(floor: Floor, bath: BathLife) -> None:
    done: set[int] = set()
    for member in bath.members:
        stay = member.stay
        if id(stay) in done:
            continue
        done.add(id(stay))
        least = most = 0
        for turn in bath.turns:
            at_least, at_most = overlap(stay, turn, floor.at)
            least, most = least + at_least, most + at_most
            if stay.end is None and turn.end is None:
                stay.turning_now = True
            if stay.bath is bath:
                _left_while_turning(floor, member, turn)
        stay.turned = (stay.turned[0] + least, stay.turned[1] + most)


def keep_own_times(life: HideLife) -> None:
    """A turn written afterwards with its length (`first turn 40 min in L14`) turned for that long, where no other line says."""
    for stay in life.stays:
        if (
            stay.told
            and stay.end is not None
            and stay.turned == (0, 0)
            and stay.line is not None
            and stay.line.sort == "run"
        ):
            long = stay.end.lo - stay.start.lo
            stay.turned = (long, long)


def overlap(stay: Stay, turn: Turn, at: int) -> tuple[int, int]:
    """A load turned in a stay for so many seconds, least and most.

    Where no `off` was written it may have stood all the while.
    """
    stay_end_lo, stay_end_hi = (at, at) if stay.end is None else (stay.end.lo, stay.end.hi)
    turn_end_lo, turn_end_hi = (at, at) if turn.end is None else (turn.end.lo, turn.end.hi)
    most = min(stay_end_hi, turn_end_hi) - max(stay.start.lo, turn.start.lo)
    least = min(stay_end_lo, turn_end_lo) - max(stay.start.hi, turn.start.hi)
    return (0 if turn.open_ended else max(0, least)), max(0, most)


def _left_while_turning(floor: Floor, member: Member, turn: Turn) -> None:
    """Nobody takes a hide out of a turning drum: one of the lines is wrong."""
    leave, end = member.leave, turn.end
    if leave is None or end is None or turn.open_ended or turn.end_entry is None or member.stay.end_entry is None:
        return
    if turn.start.hi < leave.lo and leave.hi < end.lo and not _stayed_in(member):
        floor.oddities.append(
            Oddity(sort="in two places", tags=(member.hide.tag,), entry=member.stay.end_entry, other=turn.entry)
        )


def _stayed_in(member: Member) -> bool:
    """Whether the hide only went on to its next step in the same load: it never left the drum."""
    stay = member.stay
    return any(
        later.mark.entry is stay.end_entry and later.bath is stay.bath and later.start == stay.end
        for later in member.hide.stays
    )


def _weigh_through(floor: Floor, bath: BathLife) -> None:
    rows = list(gone_through(floor, bath))
    bath.pounds_through = rows[-1][1] if rows else 0.0
    bath.unweighed = rows[-1][2] if rows else 0
    if any(not weight.basis for weight in bath.load_weights):
        basis = next((m.hide.weights[-1].basis for m in reversed(bath.members) if m.hide.weights), "green")
        for load in bath.load_weights:
            load.basis = load.basis or basis


def gone_through(floor: Floor, bath: BathLife) -> Iterator[tuple[Member, float, int]]:
    """Each time a skin goes in: pounds of skin that have gone into the bath by then, it counted, and how many skins of no known weight.

    Each hide counts once, by its last weight when it went in, and what went in as part of a whole counts with the whole.
    """
    weighed: set[int] = set()
    seen: set[int] = set()
    tags: set[str] = set()
    through = 0.0
    for member in bath.members:
        hide = member.hide
        tags.add(hide.tag)
        if hide.parent not in tags:
            seen.add(id(hide))
            if id(hide) not in weighed:
                weight = weight_in(floor, hide, member)
                if weight is not None:
                    weighed.add(id(hide))
                    through += weight
        yield member, through, len(seen) - len(weighed)


def weight_at(hide: HideLife, member: Member) -> float | None:
    """The last weight of a hide when it went in, in pounds; on the line that put it in counts too. None: not known.

    One that was here before and was not weighed since weighs what it did then.
    """
    for weight in reversed(hide.weights):
        if weight.when.lo <= member.enter.lo or weight.entry is member.stay.mark.entry:
            return pounds(weight.weight) / weight.shared_by
    before = last_weight_before(hide) if not hide.weights else None
    return None if before is None else pounds(before.weight) / before.shared_by


def weight_in(floor: Floor, hide: HideLife, member: Member) -> float | None:
    """The same; of a part that was never weighed by itself its share of what the whole skin weighed."""
    weight = weight_at(hide, member)
    return _share_of_whole(floor, hide) if weight is None else weight


def _share_of_whole(floor: Floor, part: HideLife) -> float | None:
    """Of a skin that was cut and weighed only as a whole each part counts for its even share, in pounds."""
    for whole in floor.hides.get(part.parent, ()) if part.parent else ():
        for fact in whole.ended.facts if whole.ended is not None and whole.ended_as == "cut" else ():
            if not isinstance(fact, Divided) or all(tag != part.tag for tag, _ in fact.parts):
                continue
            weight = whole.weights[-1] if whole.weights else None
            of_whole = _share_of_whole(floor, whole) if weight is None else pounds(weight.weight) / weight.shared_by
            return None if of_whole is None else of_whole / len(fact.parts)
    return None


def pounds(weight: Quantity) -> float:
    """A weight in pounds."""
    return float(weight.to("lb"))
