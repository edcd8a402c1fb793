"""The one place that asks what time it is; everybody else is told."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime

from hideledger.model.moments import Clock, NoSuchTime
from hideledger.model.units import SPELLINGS, UNITS

_AT = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})(?:[ T]+([0-9]{1,2}):([0-9]{2}))?")
_PIECE = re.compile(r"\s*([0-9]+)\s*([a-z]+)\s*,?")


class Unclear(ValueError):
    """A time or a length of time on the command line that cannot be followed; the text says why."""


def instant_of(written: str | None, clock: Clock) -> int:
    """UTC seconds of `--at`: a date means its end (24:00), a date and time that minute on the shop's clock; None
    means now.

    A book without a zone keeps its times as they stand, so now is then the wall clock of this computer. Raises
    Unclear.
    """
    if written is None:
        now = datetime.now(UTC)
        if clock.zone is not None:
            return int(now.timestamp())
        return int(now.astimezone().replace(tzinfo=UTC).timestamp())
    found = _AT.fullmatch(written.strip())
    if found is None:
        raise Unclear(f"--at takes a date, or a date and time as in \"2026-11-05 18:00\", not '{written}'")
    year, month, day, hour, minute = found.groups()
    try:
        ordinal = date(int(year), int(month), int(day)).toordinal()
    except ValueError:
        raise Unclear(f"--at {written}: there is no such day") from None
    if not 1900 <= int(year) <= 2999:
        raise Unclear(f"--at {written}: the year lies outside 1900 to 2999")
    if hour is None:
        return clock.day_end(ordinal)
    if int(hour) > 23 or int(minute) > 59:
        raise Unclear(f"--at {written}: a time lies between 0:00 and 23:59; for the end of a day give the date alone")
    try:
        return clock.instant(ordinal, int(hour) * 60 + int(minute))[0]
    except NoSuchTime:
        raise Unclear(f"--at {written}: the clocks went forward over that time, so it never was") from None


def length_of(written: str) -> int:
    """Seconds of `--ahead`: `14h`, `90 min`, `1 d 12 h`. Raises Unclear."""
    text, total, at = written.strip().casefold(), 0, 0
    while at < len(text):
        piece = _PIECE.match(text, at)
        unit = UNITS.get(SPELLINGS.get(piece.group(2), "")) if piece else None
        if piece is None or unit is None or unit.dimension != "time":
            raise Unclear(f"--ahead takes a length of time, as in 14h, \"90 min\" or 2d, not '{written}'")
        total += int(piece.group(1)) * int(unit.factor)
        at = piece.end()
    if not text or total > 366 * 86400:
        raise Unclear(f"--ahead takes a length of time up to a year, as in 14h, \"90 min\" or 2d, not '{written}'")
    return total
