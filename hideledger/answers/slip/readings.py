"""What a bath read and how it was kept while one hide lay in it: its readings are the hide's readings."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from hideledger.answers.amounts import pounds_a_bath_takes, weight_words
from hideledger.answers.saying import counted, length_said
from hideledger.answers.slip.question import NOT_RECORDED
from hideledger.answers.slip.sign import Case
from hideledger.model.facts import Amount
from hideledger.model.moments import DAY, MINUTE, When, spoken
from hideledger.rules.readings import reading_said
from hideledger.rules.spans import now_when
from hideledger.shopfloor.life import BathLife, Stay
from hideledger.shopfloor.loads import gone_through
from hideledger.shopfloor.noted import BathReading, Dose

# Where the shop says no more: a gap longer than this is pointed at (common practice, no source).
_LONG_GAP = DAY + DAY // 4


def stay_end(case: Case, stay: Stay) -> When:
    """When a stay was over, or the moment of the answer."""
    return stay.end if stay.end is not None else now_when(case.clock, case.at)


def bath_lines(case: Case, stay: Stay, bath: BathLife, *, again: bool = False) -> Iterator[tuple[str, str]]:
    """The bath's make-up and age, then every line of readings in its order with the gaps between them, and how it was moved.

    `again`: its make-up was told of an earlier stay, and only its age and use are told.
    """
    start, end = stay.start, stay_end(case, stay)
    last = _looked_until(case, stay)
    yield bath.tag, _made(case, bath, start, again=again)
    read = _read_during(case, stay, bath)
    earlier = [one for one in bath.readings if one.when.hi < start.lo]
    if earlier:
        last_line = [one for one in earlier if one.entry is earlier[-1].entry]
        yield "", f"read before it went in: {_together(last_line)} {case.said(earlier[-1].when)}"
    doses = [one for one in bath.doses if start.lo <= one.when.hi and one.when.lo <= last]
    by_line: dict[int, list[BathReading]] = {}
    for one in read:
        by_line.setdefault(one.entry.order, []).append(one)
    told = [(several[0].when, order, _together(several), True) for order, several in by_line.items()]
    told += [(dose.when, dose.entry.order, _added(dose), False) for dose in doses]
    told.sort(key=lambda one: (one[0].lo, one[1]))
    until = "up to the first sign" if last < end.lo else "until it came out" if stay.end is not None else "up to now"
    before = start
    longest = _longest_allowed(stay)
    for when, _, words, is_reading in told:
        if is_reading:
            yield from _gap(case, before, when, longest, "up to the next reading")
            before = when
        yield "", f"{case.said(when)}  {words}"
    yield from _gap(case, before, When(last, last, 0, True), longest, until)
    if not read:
        yield "", f"no reading while it was in: {NOT_RECORDED}"
    moved = sum(start.lo <= one.when.hi and one.when.lo <= last for one in bath.stirs)
    beside = (
        len(
            {
                member.hide.tag
                for member in bath.members
                if member.enter.lo <= last and (member.leave is None or member.leave.hi >= start.lo)
            }
        )
        - 1
    )
    stirred = f"moved {counted(moved, 'time')}" if moved else "not moved"
    yield "", f"{stirred} while it was in, as far as it is written; {counted(beside, 'other skin')} beside it"


def read_in_short(case: Case, stay: Stay) -> str:
    """How often the pH was read during a stay up to the first sign, from what to what, and the longest time that nobody read it, in one line."""
    last = _looked_until(case, stay)
    until = "up to the first sign " if last < stay_end(case, stay).lo else ""
    during = [] if stay.bath is None else [one for one in _read_during(case, stay, stay.bath) if one.fact.what == "pH"]
    if not during:
        return f"{until}pH while it was in: {NOT_RECORDED}"
    values = sorted(one.fact.value.value for one in during)
    ph = f"{values[0]:f}" + (f" to {values[-1]:f}" if values[-1] != values[0] else "")  # 2.0 as it was written
    last = min(last, stay_end(case, stay).lo)
    instants = sorted([min(stay.start.hi, last), *(min(one.when.hi, last) for one in during), last])
    longest = max(later - earlier for earlier, later in pairwise(instants))
    gap = f", {spoken(longest)} without a reading at most" if longest >= MINUTE else ""
    return f"{until}read {counted(len(during), 'time')}, pH {ph}{gap}"


def _looked_until(case: Case, stay: Stay) -> int:
    """The last instant (UTC seconds) of a stay that can have to do with the failure: its end, or the first sign."""
    return min(stay_end(case, stay).hi, max(case.until, stay.start.lo))


def _read_during(case: Case, stay: Stay, bath: BathLife) -> list[BathReading]:
    last = _looked_until(case, stay)
    return [one for one in bath.readings if stay.start.lo <= one.when.hi and one.when.lo <= last]


def _made(case: Case, bath: BathLife, start: When, *, again: bool) -> str:
    if not bath.declared:
        return f"how and when it was mixed: {NOT_RECORDED}"
    age = length_said(max(0, start.lo - bath.made_when.hi), max(0, start.hi - bath.made_when.lo))
    amounts = [amount_said(one) for one in bath.amounts]
    earlier = {member.hide.tag for member in bath.members if member.enter.hi < start.lo} - {
        case.life.tag,
        case.life.parent,
    }
    been = f", {counted(len(earlier), 'other skin')} into it before" if earlier else ", nobody in it before"
    been += _used_up(case, bath, start)
    if again:
        return f"{age} old by then{been}"
    return f"mixed {case.said(bath.made_when)}{': ' + ', '.join(amounts) if amounts else ''}; {age} old when it went in{been}"


def _used_up(case: Case, bath: BathLife, start: When) -> str:
    """`, 24 lb of skin of the 60 lb that it lasts`; nothing where the shop says nothing of pounds."""
    shop = case.floor.book.shop
    most = pounds_a_bath_takes(shop.recipe_named(bath.recipe), bath)
    if most is None:
        return ""
    earlier = [row for row in gone_through(case.floor, bath) if row[0].enter.hi < start.lo]
    through, unweighed = earlier[-1][1:] if earlier else (0.0, 0)
    weighed = [f"{weight_words(through, shop.shop)} of skin"] if through or not unweighed else []
    unsure = [f"{counted(unweighed, 'skin')} not weighed"] if unweighed else []
    return f", {' and '.join([*weighed, *unsure])}, of the {weight_words(most, shop.shop)} that it lasts"


def _added(dose: Dose) -> str:
    amounts = [amount_said(one) for one in dose.amounts]
    topped = f"topped up to {dose.topped}" if dose.topped is not None else ""
    return ", ".join(part for part in (topped, f"added {', '.join(amounts)}" if amounts else "") if part)


def amount_said(amount: Amount) -> str:
    """`60 oz citric acid lot C-31`."""
    return f"{amount.quantity} {amount.supply}{f' lot {amount.lot}' if amount.lot else ''}"


def _together(readings: list[BathReading]) -> str:
    """`pH 1.8 meter, 62 F, 40 sal`: what one line read."""
    return ", ".join(reading_said(one.fact) for one in readings)


def _longest_allowed(stay: Stay) -> int:
    every = stay.line.read_every if stay.line is not None else None
    if every is not None and every.length is not None:
        return every.length.about_seconds
    return _LONG_GAP


def _gap(case: Case, before: When, after: When, longest: int, until: str) -> Iterator[tuple[str, str]]:
    least = max(0, after.lo - before.hi)
    if least > longest and least >= MINUTE:
        yield "", f"no reading for {spoken(least)} from {case.said(before)} {until}"
