"""A bath is made up, dosed, moved, read and let go; a load in a drum turns besides. What is in it is in `members`."""

from __future__ import annotations

from datetime import date

from hideledger.model.entry import Entry
from hideledger.model.facts import (
    Added,
    Amount,
    Dumped,
    Flaw,
    HandedOut,
    LiftedOut,
    Lost,
    Mixed,
    Pressed,
    Ran,
    Reading,
    Skipped,
    Stepped,
    Stirred,
    Tested,
    Took,
    ToppedUp,
    Turning,
    Vented,
    Waived,
    Weighed,
)
from hideledger.model.moments import HOUR, When
from hideledger.model.shop import as_of
from hideledger.shopfloor.afoot import BathAfoot, HideAfoot, Walk, not_before
from hideledger.shopfloor.life import BathLife, Member, Turn
from hideledger.shopfloor.members import go_in, stop_waiting, went_in_by_then
from hideledger.shopfloor.noted import Answer, BathReading, Dose, Noted, Test, Weight
from hideledger.shopfloor.steps import end_stay, go_on_in
from hideledger.shopfloor.turning import same_end, settles, stop_before, stopped_before
from hideledger.shopfloor.who import own_tag

# What is done to a skin, or seen on it, and never of a bath.
_OF_A_SKIN = (Flaw, HandedOut, LiftedOut, Lost, Skipped, Stepped)
# What is done to a bath, and not to the empty vessel.
_WORK = (Added, Dumped, Pressed, Ran, Reading, Stirred, Took, ToppedUp, Turning, Vented, Weighed)
# Over the mark by a thousandth is at the mark: units turned into each other.
_TO_THE_MARK = 1.001


def bath_line(walk: Walk, tag: str, entry: Entry, when: When) -> None:
    """One line about one bath, load, or the bath that stands in a vessel."""
    mixed = next((fact for fact in entry.facts if isinstance(fact, Mixed)), None)
    if mixed is not None and (walk.sorts.get(tag) == "bath" or own_tag(tag, mixed, walk.sorts)):
        _mix(walk, tag, entry, when, mixed)
    bath = walk.bath_at(tag, entry, when)
    if bath is not None:
        _facts(walk, bath, entry, when)
        return
    gone = walk.gone_baths.get(tag)
    if gone is not None:
        gone.after_end.append(entry)
    elif walk.sorts.get(tag) == "bath" or any(isinstance(fact, _WORK) for fact in entry.facts):
        walk.pending.setdefault(tag, []).append((entry, when))


def _mix(walk: Walk, tag: str, entry: Entry, when: When, fact: Mixed) -> None:
    old = walk.baths.get(tag)
    if old is not None and old.life.made.when == entry.when and old.life.made.facts == entry.facts and entry.when.timed:
        return  # written twice: the line itself is told below
    staying: list[HideAfoot] = []
    if old is not None:
        staying = list(old.inside)
        walk.oddity("mixed anew", (tag, *(hide.life.tag for hide in staying)), entry, old.life.made)
    vessel = tag if walk.sorts.get(tag) == "vessel" else fact.vessel
    life = BathLife(tag=tag, made=entry, made_when=when, vessel=vessel, recipe=fact.recipe)
    if old is not None:
        for hide in staying:
            go_on_in(walk, hide, life, entry, when)
        _let_go(walk, old, entry, when, "mixed anew")
    new = walk.stands(life)
    for hide in staying:
        if hide.stay is not None:
            go_in(walk, hide, hide.stay, new, when)
    for name in dict.fromkeys((tag, vessel)):
        for hide in list(walk.waiting.get(name, ())):
            stop_waiting(walk, hide)
            if hide.stay is not None:
                hide.stay.bath = life
                go_in(walk, hide, hide.stay, new, not_before(when, hide.stay.start))
    went_in_by_then(walk, new)
    for early, early_when in walk.pending.pop(tag, []):
        if early_when.day == when.day:
            _facts(walk, new, early, early_when)
        else:
            walk.oddity("before it was mixed", (tag,), early, entry)


def _let_go(walk: Walk, bath: BathAfoot, entry: Entry, when: When, how: str) -> None:
    life = bath.life
    if bath.turn is not None:
        bath.turn.end, bath.turn.end_entry, bath.turn.open_ended = not_before(when, bath.turn.start), entry, True
        bath.turn = None
    life.ended, life.ended_when, life.ended_as = entry, not_before(when, life.made_when), how
    walk.baths.pop(life.tag, None)
    walk.gone_baths[life.tag] = life
    several = walk.in_vessel.get(life.vessel)
    if several and bath in several:
        several.remove(bath)


def _facts(walk: Walk, bath: BathAfoot, entry: Entry, when: When) -> None:
    life = bath.life
    lines = life.lines
    last = lines[-1] if lines else None
    lines.append(entry)
    if last is not None and last is not entry and _same_line(last, entry):
        walk.oddity("twice", (life.tag,), entry, last)
        return
    if any(isinstance(fact, _OF_A_SKIN) for fact in entry.facts):
        walk.oddity("done to a skin", (life.tag,), entry)
    made_of: list[Amount] = []
    into: list[Amount] | None = None  # where the next amount belongs
    doses: list[tuple[list[Amount], ToppedUp | None]] = []
    for fact in entry.facts:
        match fact:
            case Reading():
                _read(walk, bath, entry, when, fact)
            case Stirred():
                life.stirs.append(Noted(entry=entry, when=when))
            case Took():
                if into is None:
                    doses.append((into := [], None))
                into.append(fact.amount)
            case Mixed():
                into = made_of
                if entry is not life.made:
                    walk.oddity("twice", (life.tag,), entry, life.made)
            case Added():
                doses.append((into := [], None))
            case ToppedUp():
                doses.append((into := [], fact))
            case Turning():
                _turn(walk, bath, entry, when, on=fact.on)
            case Ran():
                _ran(walk, bath, entry, when, fact)
            case Tested():
                _test(walk, bath, entry, when, fact)
            case Weighed():
                life.load_weights.append(
                    Weight(
                        entry=entry, when=when, weight=fact.weight, basis=fact.basis, shared_by=max(1, len(bath.inside))
                    )
                )
            case Vented():
                life.vents.append(Noted(entry=entry, when=when))
            case Pressed():
                life.pressed.append((Noted(entry=entry, when=when), fact.pressure))
            case Waived():
                life.waived.append(Answer(entry=entry, when=when, fact=fact))
            case Dumped():
                _dump(walk, bath, entry, when)
            case _:  # remarks, initials, a meter set: read from the lines themselves
                pass
    if entry is life.made and life.declared:
        life.amounts = tuple(made_of)
        _stands_at(walk, life, entry, when, walk.litres(life.amounts))
        life.stirs.append(Noted(entry=entry, when=when))
    for amounts, topped in doses:
        _dose(walk, bath, entry, when, tuple(amounts), topped)


def _same_line(one: Entry, other: Entry) -> bool:
    return bool(other.facts) and other.when.timed and one.when == other.when and one.facts == other.facts


def _dose(
    walk: Walk, bath: BathAfoot, entry: Entry, when: When, amounts: tuple[Amount, ...], topped: ToppedUp | None
) -> None:
    """Something goes in. The very same again within the hour may be one dose written twice, or acid put in twice."""
    life = bath.life
    dose = Dose(entry=entry, when=when, amounts=amounts, topped=None if topped is None else topped.volume)
    last = life.doses[-1] if life.doses else None
    if (
        last is not None
        and amounts
        and last.amounts == amounts
        and last.entry is not entry
        and 0 <= when.lo - last.when.lo < HOUR
        and when.timed
        and last.when.timed
    ):
        walk.oddity("twice", (life.tag,), entry, last.entry, "dose")
    life.doses.append(dose)
    life.stirs.append(Noted(entry=entry, when=when))
    if topped is not None and topped.volume.dimension == "volume":
        life.ran_over = None
        _stands_at(walk, life, entry, when, float(topped.volume.to("L")))
    elif topped is None:
        _stands_at(walk, life, entry, when, (life.volume_l or 0.0) + walk.litres(amounts))


def _stands_at(walk: Walk, life: BathLife, entry: Entry, when: When, litres: float) -> None:
    """A vessel takes no more than it takes: what is written beyond that ran over, or never went in."""
    vessel = walk.shop.vessels.get(life.vessel)
    takes = None if vessel is None else as_of(vessel, date.fromordinal(when.day)).volume
    room = litres if takes is None else float(takes.to("L"))
    if litres > room * _TO_THE_MARK:
        life.ran_over = life.ran_over or (entry, litres)
        litres = room
    life.volume_l = litres


def _read(walk: Walk, bath: BathAfoot, entry: Entry, when: When, fact: Reading) -> None:
    readings = bath.life.readings
    if fact.how in ("extract", "diluted"):
        return  # of leather, which no bath is: the line stays among its lines, and says nothing of its pH
    if when.timed:
        for last in reversed(readings):
            if last.when.lo != when.lo or not last.when.timed:
                break
            if (last.fact.what, last.fact.how) == (fact.what, fact.how) and last.entry is not entry:
                walk.oddity("twice", (bath.life.tag,), entry, last.entry, "reading")
    readings.append(BathReading(entry=entry, when=when, fact=fact))


def _turn(walk: Walk, bath: BathAfoot, entry: Entry, when: When, *, on: bool) -> None:
    """`on` or `off`. One that changes nothing is told; an `off` that comes after the hides are out ends their turn
    after all.
    """
    life = bath.life
    if on:
        if bath.turn is not None:
            walk.oddity("twice", (life.tag,), entry, bath.turn.entry, "on")
            return
        bath.turn = Turn(start=when, end=None, entry=entry)
        bath.stopped = None
        life.turns.append(bath.turn)
        life.stirs.append(Noted(entry=entry, when=when))
        return
    turn = bath.turn or bath.stopped
    if turn is None:
        last = life.turns[-1] if life.turns else None
        if last is not None and last.told and last.end is not None and same_end(when.lo, last.end.lo):
            return  # the from-and-to above says the same
        walk.oddity("twice", (life.tag,), entry, None if last is None else last.end_entry, "off")
        return
    turn.end, turn.end_entry, turn.open_ended = not_before(when, turn.start), entry, False
    bath.turn = bath.stopped = None
    life.stirs.append(Noted(entry=entry, when=turn.end))


def _ran(walk: Walk, bath: BathAfoot, entry: Entry, when: When, fact: Ran) -> None:
    start = walk.clock.opening(when.day, fact.start)
    end = walk.clock.opening(when.day + (fact.end < fact.start), fact.end)
    first, last = When(start, start, when.day, True), When(end, end, walk.clock.day_of(end), True)
    ran = Turn(start=first, end=last, entry=entry, end_entry=entry, told=True)
    for turn in (bath.turn, bath.stopped):
        if turn is not None and settles(ran, turn):
            bath.life.turns.remove(turn)
            bath.turn = bath.stopped = None
        elif turn is not None and stopped_before(ran, turn):
            stop_before(ran, turn)
            bath.turn = bath.stopped = None
    bath.life.turns.append(ran)
    bath.life.stirs.append(Noted(entry=entry, when=first))
    bath.life.stirs.append(Noted(entry=entry, when=last))


def _test(walk: Walk, bath: BathAfoot, entry: Entry, when: When, fact: Tested) -> None:
    """A test of the load speaks for every hide in it, or for those that came out last; and for the one it was made on."""
    bath.life.tests.append(Test(entry=entry, when=when, fact=fact))
    lives = [hide.life for hide in bath.inside] or [member.hide for member in _last_out(bath.life.members)]
    sample = walk.hides.get(fact.on)
    if sample is not None and all(life is not sample.life for life in lives):
        lives.append(sample.life)
    for life in lives:
        life.tests.append(Test(entry=entry, when=when, fact=fact, own=life.tag == fact.on))
        hide = walk.hides.get(life.tag)
        if hide is not None and hide.life is life:
            hide.failed = hide.failed or not fact.passed


def _last_out(members: list[Member]) -> list[Member]:
    latest = max((member.leave.lo for member in members if member.leave is not None), default=None)
    return [member for member in members if member.leave is not None and member.leave.lo == latest]


def _dump(walk: Walk, bath: BathAfoot, entry: Entry, when: When) -> None:
    """A bath let go lies in no vessel; hides still in it were lifted out then, though nobody wrote so."""
    staying = list(bath.inside)
    for hide in staying:
        end_stay(walk, hide, when, entry)
    if staying:
        walk.oddity("dumped with hides in", (*(hide.life.tag for hide in staying), bath.life.tag), entry)
    _let_go(walk, bath, entry, when, "dumped")
