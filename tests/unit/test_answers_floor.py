"""The evening and morning look: its parts in their order, 80 columns, plain words."""

import contextlib
import json
import unicodedata
from decimal import Decimal
from pathlib import Path

import pytest

from hideledger.answers.amounts import pounds_a_bath_takes, reading_words, volume_words, weight_words
from hideledger.answers.floor.baths import bath_sections, turned_words
from hideledger.answers.floor.manned import manned_words, night_before
from hideledger.cli import main
from hideledger.model.facts import Reading
from hideledger.model.moments import Clock, When
from hideledger.model.shop import Closed, Hours, Recipe, ShopLines
from hideledger.model.units import Quantity
from hideledger.rules.hours import ShopHours
from hideledger.shopfloor.life import BathLife, Turn
from hideledger.shopfloor.noted import BathReading
from tests.unit.made_by_hand import DAY, LIMIT, Shop, instant
from tests.unit.small_book import PAGE, SHOP, UNREAD, write_book

Captured = pytest.CaptureFixture[str]
CHICAGO = Clock("America/Chicago")


def quantity(value: str, unit: str) -> Quantity:
    return Quantity(value=Decimal(value), unit=unit)


def shop_lines(*, closed: tuple[Closed, ...] = ()) -> ShopLines:
    weekdays = frozenset(range(6))
    hours = (Hours(start=7 * 60, end=18 * 60, weekdays=weekdays, place=LIMIT),)
    return ShopLines(name="Alder Fork", hours=hours, closed=closed)


@pytest.mark.parametrize(
    ("days", "hour", "words"),
    [
        # 2 November 2026 is a Monday; open Monday to Saturday, 7:00 to 18:00
        (0, 17, "Somebody is here until 18:00, then from Tue 3 Nov 07:00."),
        (0, 19, "Nobody is here until Tue 3 Nov 07:00, 12 h from now."),
        (1, 5, "Nobody is here until 07:00, 2 h from now."),
        (5, 18, "Nobody is here until Mon 9 Nov 07:00, 37 h from now."),
        # the night to Sunday 1 November 2026 is an hour longer (15 U.S.C. 260a)
        (-2, 18, "Nobody is here until Mon 2 Nov 07:00, 38 h from now."),
    ],
)
def test_when_the_shop_is_manned_next(days: int, hour: int, words: str) -> None:
    shop = shop_lines()
    at = instant(CHICAGO, hour, days=days)
    assert manned_words(shop, ShopHours(shop, CHICAGO), CHICAGO, at) == words


def test_a_shop_without_hours_reckons_with_no_night() -> None:
    shop = ShopLines(name="Alder Fork")
    hours = ShopHours(shop, CHICAGO)
    assert "hours are not in the book" in manned_words(shop, hours, CHICAGO, instant(CHICAGO, 18))
    assert night_before(shop, hours, CHICAGO, instant(CHICAGO, 7, 5)) is None


def test_the_first_look_of_a_day_knows_when_the_shop_was_left() -> None:
    shop = shop_lines()
    hours = ShopHours(shop, CHICAGO)
    assert night_before(shop, hours, CHICAGO, instant(CHICAGO, 7, 5)) == (
        instant(CHICAGO, 18, days=-2),
        instant(CHICAGO, 7),
    )
    assert night_before(shop, hours, CHICAGO, instant(CHICAGO, 18)) is None


def tub(shop: Shop) -> BathLife:
    made = shop.entry(1, 8, tags=("P1",))
    bath = BathLife(tag="P1", made=made, made_when=made.when, vessel="V1", recipe="pickle", volume_l=75.70823568)
    for hour, what, value, unit, how in (
        (9, "pH", "1.8", "pH", "meter"),
        (9, "salt", "40", "sal", ""),
        (17, "pH", "2.0", "pH", "strip"),
        (17, "temperature", "63", "F", ""),
    ):
        reading = Reading(what=what, value=quantity(value, unit), how=how)
        entry = shop.entry(1, hour, 30, tags=("P1",))
        bath.readings.append(BathReading(entry=entry, when=entry.when, fact=reading))
    return bath


def test_a_tub_says_its_last_readings_and_how_they_were_taken() -> None:
    """75.708 L are 20 US gallons of 3.785411784 L (NIST Handbook 44, Appendix C)."""
    shop = Shop("2026-11-02 08:00 P1 mixed in V1")
    bath = tub(shop)
    floor = shop.floor()
    floor.baths["P1"] = [bath]
    tubs, loads = bath_sections(floor)
    assert not loads.rows
    (row,) = tubs.rows
    assert (row.head, row.text) == ("P1", "in V1, pickle, 20 gal, 10 h 2 min old")
    said = dict(row.under)
    assert said["read"] == "pH 2.0 strip, 63 F at 17:30; 40 sal at 09:30"
    assert said["skins"] == "none yet"
    assert said["moved"] == "never"


def test_a_load_says_each_turn_their_sum_and_how_long_it_stands() -> None:
    """45 min and 2 h 30 min make 3 h 15 min; stopped 17:32, seen 18:02: 30 min."""
    shop = Shop("2026-11-02 08:00 L14 mixed in D1")
    bath = tub(shop)
    clock = shop.clock
    for start, end in (((8, 25), (9, 10)), ((15, 2), (17, 32))):
        bath.turns.append(Turn(start=_when(clock, *start), end=_when(clock, *end), entry=shop.entries[0]))
    words = turned_words(bath, shop.floor())
    assert words == "08:25 to 09:10; 15:02 to 17:32; in all 3 h 15 min, standing 30 min"


def _when(clock: Clock, hour: int, minute: int) -> When:
    return clock.at(DAY, hour * 60 + minute)


def test_pounds_through_of_what_a_bath_takes() -> None:
    """3 lb a gallon over 20 gallons are 60 lb; 1 kg a litre over 100 L are 220 lb (0.45359237 kg a pound, NIST)."""
    bath = BathLife(tag="P1", made=Shop("x").entry(1, 8), made_when=_when(CHICAGO, 8, 0), volume_l=75.70823568)
    recipe = Recipe(name="pickle", lasts_weight=quantity("3", "lb"), lasts_weight_per=quantity("1", "gal"), place=LIMIT)
    assert pounds_a_bath_takes(recipe, bath) == pytest.approx(60)
    bath.volume_l = 100.0
    metric = Recipe(name="pickle", lasts_weight=quantity("1", "kg"), lasts_weight_per=quantity("1", "L"), place=LIMIT)
    assert pounds_a_bath_takes(metric, bath) == pytest.approx(100 / 0.45359237)
    assert pounds_a_bath_takes(None, bath) is None
    bath.volume_l = None
    assert pounds_a_bath_takes(metric, bath) is None


def test_a_metric_shop_reads_kilograms_and_litres() -> None:
    metric = ShopLines(name="x", degrees="C")
    assert weight_words(220.462262, metric) == "100 kg"
    assert volume_words(150.0, metric) == "150 L"
    assert volume_words(4.54609 * 10, ShopLines(name="x", gallons="imperial")) == "10 gal"
    assert reading_words(Reading(what="salt", value=quantity("46", "sal"))) == "46 sal"


# The order in which one asks at the door; parts with nothing to say are left out.
ORDER = [
    "Manned",
    "Not understood",
    "Before you go",
    "Tubs",
    "Drum loads",
    "Freezer and floor",
    "Ready, no hurry",
    "Held back",
    "Ask",
    "Times not written",
    "Promised",
    "Pick-up and unpaid",
    "While nobody was here",
]
MORE = """\
2026-11-05 11:00 H3 in, whitetail cape, frozen, for Hob Carrow, promised 2026-11-12
2026-11-05 11:05 H3 frozen in freezer
2026-11-05 H4 in, whitetail cape, green, for Lena Orrick, by JK
2026-11-05 L1 pH 3.0, by JK
2026-11-05 11:10 H4 keep apart -- mange
2026-11-05 11:20 H5 in, whitetail cape, for Hob Carrow, tag 31-377
2026-11-05 11:25 H5 fleshed
2026-11-05 11:30 H5 pickle in P1
2026-11-05 11:33 H5 promised 2026-11-20
2026-11-05 11:35 H5 out of P1
2026-11-05 11:40 L1 mixed in D1, 3 qt water
2026-11-05 11:45 H5 pickle in L1
2026-11-05 11:50 L1 ran 11:50 to 12:30
2026-11-05 23:10 H4 slip, left ear, 2 in
"""
DRUM = "vessel D1, drum, 19 gal, holds 5, at most 10 psi\n"


def looked(folder: Path, at: str, capsys: Captured) -> str:
    with contextlib.chdir(write_book(folder, UNREAD + MORE, SHOP + DRUM)):
        assert main(["floor", "--at", at]) == 3
    return capsys.readouterr().out


def headings(text: str) -> list[str]:
    return [line for line in text.split("\n") if line in ORDER]


def test_the_parts_stand_in_the_order_of_asking(tmp_path: Path, capsys: Captured) -> None:
    evening = looked(tmp_path / "book", "2026-11-05 18:00", capsys)
    wanted = [part for part in ORDER if part not in ("While nobody was here", "Pick-up and unpaid")]
    assert headings(evening) == wanted
    assert evening.startswith("Alder Fork, Thu 2026-11-05 18:00\n")


def test_mornings_add_what_happened_while_nobody_was_there(tmp_path: Path, capsys: Captured) -> None:
    morning = looked(tmp_path / "book", "2026-11-06 07:10", capsys)
    assert headings(morning)[-1] == "While nobody was here"
    assert "slip, left ear" in morning[morning.index("While nobody was here") :]


def test_the_look_fits_80_columns_and_draws_nothing(tmp_path: Path, capsys: Captured) -> None:
    text = looked(tmp_path / "book", "2026-11-05 18:00", capsys)
    assert max(len(line) for line in text.split("\n")) <= 80
    words = text.translate(dict.fromkeys(map(ord, "^`\n")))  # the mark under an unread line, and lines to write
    assert not {unicodedata.category(letter) for letter in words} & {"Cc", "So", "Sk", "Cf"}


def part(text: str, heading: str) -> str:
    after = text[text.index(f"\n{heading}\n") + len(heading) + 2 :]
    return after.split("\n\n")[0]


def test_what_each_part_says(tmp_path: Path, capsys: Captured) -> None:
    text = looked(tmp_path / "book", "2026-11-05 18:00", capsys)
    assert "Last line" in part(text, "Manned")
    assert "1 line not understood" in part(text, "Manned")
    assert "neutralized-ish" in part(text, "Not understood")
    assert "overdue: H1" in part(text, "Before you go")
    assert "1: H2" in part(text, "Tubs")
    assert "pH 2.0 strip, 62 F at 07:30" in part(text, "Tubs")
    assert "11:50 to 12:30; in all 40 min, standing 5 h 30 min" in part(text, "Drum loads")
    assert "frozen in freezer" in part(text, "Freezer and floor")
    assert "H3" in part(text, "Freezer and floor")
    assert "H1" not in part(text, "Ready, no hurry"), "it is overdue"
    assert "H4, since some time today" in part(text, "Freezer and floor")
    assert "H2: 3 d 8 h in P1; next neutralised" in " ".join(part(text, "Ready, no hurry").split())
    assert "keep apart: mange" in part(text, "Held back")
    assert "Hob Carrow" in part(text, "Ask")
    assert "Lena Orrick" not in part(text, "Ask"), "her phone is in the book"
    assert "H3" in part(text, "Ask").split("legal tag")[1].split("\n")[0]
    assert "Thu 5 Nov  a line by JK: L1" in part(text, "Times not written")
    assert "in 7 days" in part(text, "Promised")
    assert "H3 for Hob Carrow" in part(text, "Promised")
    assert "H5" not in part(text, "Promised"), "that is 15 days away"


def test_times_not_written_are_those_that_check_counts(tmp_path: Path, capsys: Captured) -> None:
    """Money and arrivals by date are no fault; a step, a reading or a stir without a time is."""
    page = PAGE + (
        "2026-11-03 H1 deposit $40 -- no hour is needed\n2026-11-04 evening P1 pH 2.0\n"
        "2026-11-04 P1 stirred, by RT\n2026-11-04 P1 pH 2.0, by RT\n2026-11-05 17:30 P1 pH 2.0\n"
    )
    book = write_book(tmp_path / "book", page)
    main(["floor", book, "--at", "2026-11-05 18:00", "--json"])
    sections = {section["heading"]: section["rows"] for section in json.loads(capsys.readouterr().out)["sections"]}
    main(["check", book, "--at", "2026-11-05 18:00", "--json"])
    findings = json.loads(capsys.readouterr().out)["findings"]
    counted = [finding for finding in findings if finding["name"] == "no time written"]
    assert len(counted) == 1
    (row,) = sections["Times not written"]
    assert row["head"] == "Wed 4 Nov"
    lines = counted[0]["message"].split(" by ")[0]
    assert row["text"] == f"{lines} by RT: P1"


@pytest.mark.parametrize(
    ("at", "more", "rounds"),
    [
        # open Monday to Saturday, 7:00 to 18:00; 5 November 2026 is a Thursday; last read and stirred on the 4th
        ("2026-11-05 07:10", "", "to read and to stir by 18:00"),
        ("2026-11-05 07:10", "2026-11-05 07:05 P1 pH 2.0 strip\n", "to stir by 18:00"),
        ("2026-11-05 09:10", "2026-11-05 07:05 P1 pH 2.0 strip, stirred\n", ""),
        ("2026-11-05 18:00", "", ""),  # past closing: it rings then
        ("2026-11-08 09:00", "2026-11-07 07:05 P1 pH 2.0 strip, stirred\n", ""),  # a Sunday, nobody is there
        ("2026-11-05 07:10", "2026-11-05 07:00 H1 H2 out of P1\n", ""),  # nobody is in it
    ],
)
def test_the_morning_look_says_what_is_to_be_done_at_each_tub_today(
    tmp_path: Path, capsys: Captured, at: str, more: str, rounds: str
) -> None:
    shop = SHOP.replace("read every day,", "read every day, stirred every day,")
    page = "".join(line + "\n" for line in PAGE.split("\n")[:10]) + "2026-11-04 07:30 P1 stirred\n" + more
    book = write_book(tmp_path / "book", page, shop)
    main(["floor", book, "--at", at])
    tubs = part(capsys.readouterr().out, "Tubs")
    said = [line.split("today", 1)[1].strip() for line in tubs.split("\n") if line.strip().startswith("today")]
    assert said == ([rounds] if rounds else [])


def test_what_is_wanted_every_so_many_hours_is_asked_for_by_its_hour(tmp_path: Path, capsys: Captured) -> None:
    """Read on the 4th at 7:30, every 30 h: the 5th at 13:30; stirred every day: by closing."""
    shop = SHOP.replace("read every day,", "read every 30 h, stirred every day,")
    page = "".join(line + "\n" for line in PAGE.split("\n")[:10]) + "2026-11-04 07:30 P1 stirred\n"
    book = write_book(tmp_path / "book", page, shop)
    main(["floor", book, "--at", "2026-11-05 07:10"])
    assert "today    to read by 13:30; to stir by 18:00" in part(capsys.readouterr().out, "Tubs")
    main(["floor", book, "--at", "2026-11-04"])
    assert "today" not in part(capsys.readouterr().out, "Tubs"), "the end of the day before"
    main(["floor", write_book(tmp_path / "open", page, shop.replace("  hours", "# hours")), "--at", "2026-11-05 07:10"])
    assert "today    to read by 13:30; to stir\n" in part(capsys.readouterr().out, "Tubs"), "no hours, no closing"
    main(["floor", book, "--at", "2026-11-05 14:00"])
    assert "today    to read now; to stir by 18:00" in part(capsys.readouterr().out, "Tubs")


def test_finished_hides_wait_to_be_fetched_and_paid(tmp_path: Path, capsys: Captured) -> None:
    page = PAGE + (
        "2026-11-05 10:50 H1 drained\n2026-11-05 11:40 H1 oiled\n2026-11-05 11:45 H1 deposit $40\n"
        "2026-11-05 12:00 H2 out to Lena Orrick\n2026-11-05 12:01 H2 paid $92 by Lena Orrick\n"
    )
    book = write_book(tmp_path / "book", page, SHOP + "charge whitetail cape, $92\n")
    main(["floor", book, "--at", "2026-11-05 18:00"])
    said = part(capsys.readouterr().out, "Pick-up and unpaid")
    assert "to fetch: H1" in said
    assert "unpaid: H1, $52.00 of $92.00, finished" in said
    assert "H2" not in said


def test_hides_of_one_customer_at_one_price_are_told_together(tmp_path: Path, capsys: Captured) -> None:
    """The same list price, nothing paid, handed back on two days."""
    page = PAGE + "2026-11-04 12:00 H2 out to Lena Orrick\n2026-11-05 12:00 H1 out to Lena Orrick\n"
    book = write_book(tmp_path / "book", page, SHOP + "charge whitetail cape, $92\n")
    main(["floor", book, "--at", "2026-11-05 18:00"])
    said = " ".join(part(capsys.readouterr().out, "Pick-up and unpaid").split())
    assert "unpaid: H1 H2, $92.00 of $92.00 each, out Wed 4 Nov to Thu 5 Nov" in said


def test_what_falls_at_night_is_asked_for_before_closing(tmp_path: Path, capsys: Captured) -> None:
    """Stirred at 16:30 and every 2 h: 18:30, when nobody is there; as `check` says it, by 18:00."""
    shop = SHOP.replace("read every day,", "read every day, stirred every 2 h,")
    page = "".join(line + "\n" for line in PAGE.split("\n")[:10]) + "2026-11-04 16:30 P1 pH 2.0 strip, stirred\n"
    book = write_book(tmp_path / "book", page, shop)
    main(["floor", book, "--at", "2026-11-04 16:40"])
    assert "today    to stir by 18:00" in part(capsys.readouterr().out, "Tubs")
    main(["check", book, "--at", "2026-11-04 16:40"])
    assert "to be moved every 2 h: by Wed 4 Nov 18:00" in capsys.readouterr().out
