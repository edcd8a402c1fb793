"""Baths that nobody read in the hours before the first sign: what the first reading after it tells of those hours."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hideledger.answers.history.at_work import side_of
from hideledger.answers.slip.sign import Case
from hideledger.model.moments import DAY, HOUR, When, spoken
from hideledger.model.process import Range, Step
from hideledger.rules.readings import beyond, counted_quantities, doubt, limit_said, ranges_of, reading_said
from hideledger.shopfloor.life import BathLife, Stay
from hideledger.shopfloor.noted import BathReading
from hideledger.text.place import Place

# Where the shop says no more than `every day`: a gap longer than this is pointed at (common practice, no source).
_LONG = DAY + DAY // 4
# A bath is read an hour after skins go in: one that nobody read at all is pointed at from then on (common practice, no source).
_FIRST = HOUR
# A bath that read well so shortly before the sign was well then (common practice, no source).
_HALF_A_DAY = 12 * HOUR
# A reading that comes later than this after the sign tells no more of the hours before it (common practice, no source).
_STILL_TELLS = 2 * DAY


@dataclass(frozen=True, slots=True, kw_only=True)
class NotRead:
    """A bath stood unread from `since` up to the first sign; `said` tells it.

    `sides` say which way that reading was wrong. `wrong`: the first reading after the sign was out of range, and nothing had been put in since; `may`: by less than the
    instrument may be wrong. `place` is the line that the
    gap begins with, or that of the wrong reading; `rule` the limit.
    """

    since: When
    said: str
    wrong: bool
    sides: frozenset[str]
    may: bool
    place: Place
    rule: Place


def not_read_before_the_sign(case: Case) -> Iterator[NotRead]:
    """Each bath in which it lay when the sign was seen, and which had not been read for too long by then."""
    if case.sign is None:
        return
    for stay in case.life.stays:
        bath, line = stay.bath, stay.line
        ended = stay.end is not None and stay.end.hi < case.sign.when.lo
        if bath is None or line is None or ended or not case.before(stay.start):
            continue
        found = _gap(case, case.sign.when, stay, bath, line)
        if found is not None:
            yield found


def _gap(case: Case, sign: When, stay: Stay, bath: BathLife, line: Step) -> NotRead | None:
    counted = counted_quantities(line)
    readings = [one for one in bath.readings if one.fact.what in counted]
    earlier = [one for one in readings if one.when.lo <= sign.hi]
    own = [one for one in earlier if one.when.hi >= stay.start.lo]
    since = own[-1].when if own else stay.start
    length = sign.lo - since.hi
    after = next((one for one in readings if sign.hi < one.when.lo <= sign.hi + _STILL_TELLS), None)
    untouched = after is not None and not any(
        since.lo <= dose.when.hi and dose.when.lo <= after.when.hi for dose in bath.doses
    )
    limits = _broken(after, line) if after is not None and untouched and _tells(own, line, length) else None
    if length < _FIRST or not (limits or _too_long(line, length, ever=bool(earlier))):
        return None
    said = f"{_unread(case, bath, earlier, own, length)}{_then(sign, after, limits, untouched=untouched)}"
    rule = limits.place if limits is not None else line.read_every.place if line.read_every is not None else line.place
    before = own[-1].entry if own else stay.mark.entry
    place = after.entry.at if after is not None and limits is not None else before.at
    return NotRead(
        since=since,
        said=said,
        wrong=limits is not None,
        sides=_sides(after, limits),
        may=bool(own) or _within_doubt(after, limits),
        place=place,
        rule=rule,
    )


def _tells(own: Sequence[BathReading], line: Step, length: int) -> bool:
    """Whether a wrong reading after the sign tells of hours that nobody had looked at: one that read wrong already is a finding
    of its own, and one that read well shortly before the sign was well then.
    """
    return not own or (length >= _HALF_A_DAY and _broken(own[-1], line) is None)


def _too_long(line: Step, length: int, *, ever: bool) -> bool:
    """Whether so long without a reading is too long by the shop's own line; where it says nothing, nothing is judged."""
    every = line.read_every
    if every is None:
        return False
    return not ever or length > (every.length.about_seconds if every.length is not None else _LONG)


def _sides(reading: BathReading | None, limits: Range | None) -> frozenset[str]:
    return frozenset() if reading is None or limits is None else frozenset({side_of(reading.fact, limits)})


def _within_doubt(reading: BathReading | None, limits: Range | None) -> bool:
    out = None if reading is None or limits is None else beyond(reading.fact, limits)
    return reading is not None and out is not None and out < doubt(reading.fact)


def _broken(reading: BathReading, line: Step) -> Range | None:
    return next((limits for limits in ranges_of(line, reading.fact.what) if beyond(reading.fact, limits)), None)


def _unread(case: Case, bath: BathLife, earlier: Sequence[BathReading], own: Sequence[BathReading], length: int) -> str:
    if own:
        return f"{bath.tag} was not read for {spoken(length)} before the sign, last {reading_said(own[-1].fact)} {case.said(own[-1].when)}"
    if earlier:
        return f"{bath.tag} was not read before the sign in the {spoken(length)} that it lay in it, last {reading_said(earlier[-1].fact)} {case.said(earlier[-1].when)}"
    return f"{bath.tag} was never read before the sign, though it lay in it for {spoken(length)}"


def _then(sign: When, after: BathReading | None, limits: Range | None, *, untouched: bool) -> str:
    if after is None:
        return ""
    said = f"; first read {spoken(after.when.lo - sign.hi)} after it: {reading_said(after.fact)}"
    if limits is not None:
        said += f", {limit_said(after.fact, limits)}"
    return f"{said}, nothing added between" if untouched else f"{said}, but something was added between"
