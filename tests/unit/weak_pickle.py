"""Fourteen skins through three pickles, of which P2, made of acid lot C-2, read pH 2.9 to 3.3 where 2.2 is the limit: H6 to H9 slipped."""

from __future__ import annotations

from tests.unit.slip_book import floor_of

NOW = "2026-11-06 17:00"
_OWNERS = ("Oren Vale", "Ida Crane", "Tess Marrow")


def _skin(number: int, day: str, bath: str, at: str, owner: str) -> str:
    """It comes in at `at`, is pulled at, fleshed an hour later and goes into the bath half an hour after that."""
    hour, minute = int(at[:2]), at[3:]
    return (
        f"{day} {at} H{number} in, whitetail cape, 7 lb, green, killed {day} 6:00, for {owner}, pull test ok\n"
        f"{day} {hour + 1:02}:{minute} H{number} fleshed\n{day} {hour + 1:02}:{int(minute) + 30} H{number} pickle in {bath}\n"
    )


def _reads(bath: str, days: tuple[tuple[str, str], ...]) -> str:
    return "".join(f"{day} 07:45 {bath} pH {value} strip, stirred\n" for day, value in days)


def _through(tags: str, day: str) -> str:
    return f"{day} 08:00 {tags} neutralised\n{day} 08:20 {tags} tan in T1\n"


def _mixed(bath: str, vessel: str, day: str, lot: str, value: str) -> str:
    return (
        f"{day} 07:50 bought 10 lb citric acid lot {lot}, $21.00\n"
        f"{day} 08:00 {bath} mixed in {vessel}, 20 gal water, 20 lb salt lot S-1, 60 oz citric acid lot {lot}\n"
        f"{day} 08:30 {bath} pH {value} strip\n"
    )


SOUND = "".join(
    (
        _mixed("P1", "V1", "2026-10-05", "C-1", "1.8"),
        _skin(1, "2026-10-05", "P1", "09:00", _OWNERS[0]),
        _skin(2, "2026-10-05", "P1", "09:20", _OWNERS[1]),
        _skin(3, "2026-10-06", "P1", "09:00", _OWNERS[1]),
        _skin(4, "2026-10-07", "P1", "09:00", _OWNERS[2]),
        _skin(5, "2026-10-07", "P1", "09:20", _OWNERS[2]),
        _reads("P1", tuple((f"2026-10-{day:02}", "2.0") for day in (6, 7, 8, 9, 10, 12))),
        "2026-10-12 07:50 T1 mixed in D1, 5 gal water, 4 lb alum tan\n",
        _through("H1 thru H5", "2026-10-12"),
        "2026-10-13 09:00 H1 thru H5 drained\n2026-10-14 09:00 H1 thru H5 out to Oren Vale\n",
    )
)
WEAK = "".join(
    (
        _mixed("P2", "V2", "2026-10-13", "C-2", "2.9"),
        _skin(6, "2026-10-13", "P2", "09:00", _OWNERS[0]),
        _skin(7, "2026-10-13", "P2", "09:20", _OWNERS[1]),
        _skin(8, "2026-10-14", "P2", "09:00", _OWNERS[2]),
        _skin(9, "2026-10-14", "P2", "09:20", _OWNERS[1]),
        _skin(10, "2026-10-14", "P2", "10:00", _OWNERS[0]),
        _reads("P2", (("2026-10-14", "3.0"), ("2026-10-15", "3.1"), ("2026-10-16", "3.2"), ("2026-10-17", "3.2"))),
        "2026-10-16 08:00 H6 slip, left ear base, 2 in\n2026-10-16 08:02 H7 slip, belly, bad\n",
        "2026-10-17 08:20 H8 slip, neck, slight\n",
    )
)
DUMPED = "".join(
    (
        _reads("P2", (("2026-10-19", "3.3"),)),
        "2026-10-19 08:00 H9 slip, brisket, total\n2026-10-19 08:10 H10 pull test ok\n",
        "2026-10-19 08:30 H6 thru H9 lost -- slipped\n2026-10-19 08:40 H10 neutralised\n",
        "2026-10-19 09:00 H10 tan in T1\n2026-10-19 09:10 P2 dumped 20 gal, pH 6.8, sewer\n",
        "2026-10-21 09:00 H10 drained\n2026-10-22 09:00 H10 out to Oren Vale\n",
    )
)
FRESH = "".join(
    (
        _mixed("P3", "V2", "2026-10-26", "C-3", "1.8"),
        _skin(11, "2026-10-26", "P3", "09:00", _OWNERS[0]),
        _skin(12, "2026-10-27", "P3", "09:00", _OWNERS[1]),
        _skin(13, "2026-10-28", "P3", "09:00", _OWNERS[2]),
        _skin(14, "2026-11-02", "P3", "09:00", _OWNERS[2]),
        _reads("P3", tuple((f"2026-10-{day}", "1.9") for day in (27, 28, 29, 30, 31))),
        _reads("P3", tuple((f"2026-11-{day:02}", "2.1") for day in (2, 3, 4, 5, 6))),
    )
)


def in_order_of_time(*parts: str) -> str:
    """The lines of these parts as a book has them."""
    return "customer Tess Marrow\n" + "\n".join(sorted("".join(parts).splitlines(keepends=False))) + "\n"


BOOK = in_order_of_time(SOUND, WEAK, DUMPED, FRESH)
STILL_IN = in_order_of_time(SOUND, WEAK)

__all__ = ["BOOK", "NOW", "STILL_IN", "floor_of", "in_order_of_time"]
