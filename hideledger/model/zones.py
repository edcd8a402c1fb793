"""The names of the world's time zones, for a shop that misspelt its own."""

from __future__ import annotations

from functools import cache
from zoneinfo import available_timezones


@cache
def zone_names() -> frozenset[str]:
    """Every name the time zone data holds (`America/Chicago`). Slow: walks through the data, so ask only when a name is not found."""
    return frozenset(available_timezones())


def zone_like(written: str) -> str | None:
    """The zone that differs in capitals or blanks only, or whose town is the written one (`chicago`); None when there is no single one."""
    wanted = written.casefold().replace(" ", "_")
    same = [name for name in zone_names() if name.casefold() == wanted]
    if not same:
        same = [
            name
            for name in zone_names()
            if name.casefold().rsplit("/", maxsplit=1)[-1] == wanted.rsplit("/", maxsplit=1)[-1]
        ]
    return same[0] if len(same) == 1 else None
