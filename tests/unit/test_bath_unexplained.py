"""What is said of a reading that nothing explains, and in a bath's history: nobody may dose a tub by it.

A soda raises a pH and an acid lowers it: any textbook of chemistry. The figures of the bath are those of `test_bath_reckoned.py`.
"""

from decimal import Decimal
from pathlib import Path

import pytest

from hideledger.model.facts import Reading
from hideledger.model.units import Quantity
from hideledger.rules.bath_explained import grain_of
from tests.unit.test_bath_reckoned import PAGE, SHOP, reckoned, told

Captured = pytest.CaptureFixture[str]
MADE = "2026-11-02 08:00 P3 mixed in V1, 20 gal water, 20 lb salt, 60 oz citric acid\n"


def test_a_ph_too_high_speaks_of_a_soda_and_one_too_low_of_an_acid(tmp_path: Path, capsys: Captured) -> None:
    high = told(capsys, tmp_path, MADE + "2026-11-03 08:00 P3 pH 12 meter\n", "check")
    assert "a soda raises it: if some went in and nobody wrote it, write that line" in high
    assert "P3 add 4 oz soda ash" in high
    low = told(capsys, tmp_path, MADE + "2026-11-03 08:00 P3 pH 0.9 meter\n", "check")
    assert "an acid lowers it: if some went in and nobody wrote it, write that line" in low
    assert "P3 add 8 oz citric acid" in low
    assert "soda" not in low


def test_nobody_is_sent_to_dose_a_tub_for_it(tmp_path: Path, capsys: Captured) -> None:
    for figure in ("pH 12 meter", "pH 0.9 meter", "14 sal", "70 sal"):
        text = told(capsys, tmp_path, f"{MADE}2026-11-03 08:00 P3 {figure}\n", "check")
        assert "do put nothing into the tub for it; read it again" in text


def test_the_newest_reading_stands_first_and_each_older_one_is_named(tmp_path: Path, capsys: Captured) -> None:
    page = f"{MADE}2026-11-02 09:30 P3 pH 0.9 meter\n2026-11-03 08:00 H1 in, 6 lb, green, process tub\n2026-11-03 08:15 H1 pickle in P3\n2026-11-03 10:00 P3 pH 0.8 meter\n"
    text = told(capsys, tmp_path, page, "check", at="2026-11-03 17:00")
    assert (
        "reading not explained: H1 P3 pH 0.8 meter Tue 3 Nov 10:00; what was put in could read no less than pH " in text
    )
    assert "likewise pH 0.9 meter" in text
    assert "more so" not in text


@pytest.mark.parametrize(("how", "told_up_to", "limit"), [("strip", 0.97, "1.1"), ("meter", 1.27, "1.3")])
def test_a_reading_is_not_quarrelled_with_for_less_than_the_instrument_shows(
    tmp_path: Path, capsys: Captured, how: str, told_up_to: float, limit: str
) -> None:
    """Paper may be off by 0.3 and a meter by 0.1 (common practice, no source), the reckoning by 0.3: the least they can show lies 0.2 apart. Nobody
    reads paper finer than 0.15 or a meter finer than 0.05 (half of that doubt, our own judgement), so it is told from there on."""
    for hundredths in range(90, 145):
        figure = hundredths / 100
        page = f"{MADE}2026-11-03 08:00 P3 pH {figure:.2f} {how}\n"
        text = told(capsys, tmp_path, page, "check")
        assert ("reading not explained" in text) == (figure <= told_up_to), figure
        if figure <= told_up_to:
            assert f"no less than pH {limit}:" in text


@pytest.mark.parametrize("figure", ["16 sal", "70 sal", "SG 1.13", "17 Be", "18.5 %"])
def test_a_salt_far_off_is_told_on_every_scale(tmp_path: Path, capsys: Captured, figure: str) -> None:
    assert "reading not explained" in told(capsys, tmp_path, f"{MADE}2026-11-03 08:00 P3 {figure}\n", "check")


@pytest.mark.parametrize(
    ("value", "unit", "grain"), [("1.11", "SG", 2.5), ("1.110", "SG", 0.5), ("11", "%", 1.9), ("41", "sal", 0.5)]
)
def test_a_salt_is_read_as_fine_as_its_last_figure(value: str, unit: str, grain: float) -> None:
    """One per cent of salt is 3.79 degrees salometer (26.395 % is 100) and about 0.0076 of specific gravity at 11 % (handbook tables of brine)."""
    reading = Reading(what="salt", value=Quantity(value=Decimal(value), unit=unit))
    assert grain_of(reading) == pytest.approx(grain, abs=0.15)


def test_a_limit_never_looks_like_the_reading_that_misses_it(tmp_path: Path, capsys: Captured) -> None:
    for tenths in range(10, 20):
        figure = f"{tenths / 10:.1f}"
        text = told(capsys, tmp_path, f"{MADE}2026-11-03 08:00 P3 pH {figure} meter\n", "check")
        assert f"no less than pH {figure}:" not in text


def test_those_in_it_now_and_those_that_went_through_are_told_apart(tmp_path: Path, capsys: Captured) -> None:
    page = f"{PAGE}2026-11-04 17:20 H1 tan\n2026-11-04 17:25 H3 in, 10 lb, green, process tub\n2026-11-04 17:30 H3 pickle in P3\n"
    skins = [row for row in reckoned(capsys, tmp_path, page, "P3") if row.startswith("with ")]
    assert skins[0].startswith("with 30 lb of skin in, 36.9 sal")
    assert skins[1].startswith("with 26 lb of skin in (40 lb went through so far), ")


def test_what_is_said_of_the_skins_is_whole_sentences(tmp_path: Path, capsys: Captured) -> None:
    shop = SHOP.replace("  pickle  ", "  salt          stays, optional, raw clock stops\n  pickle  ")
    page = PAGE.replace("2026-11-02 08:15 H1", "2026-11-02 08:13 H1 salt\n2026-11-02 08:15 H1").replace(
        "H2 in, 16 lb, green", "H2 in, green"
    )
    (skins,) = [row for row in reckoned(capsys, tmp_path, page, "P3", shop=shop) if row.startswith("with ")]
    assert skins.startswith(
        "with 14 lb of skin in (they had met salt, and bring no plain water; 1 skin not weighed may thin it more than is said here), "
    )


def test_a_salt_reading_under_the_mark_has_the_range_that_the_rule_uses(tmp_path: Path, capsys: Captured) -> None:
    """Thirty-one is within it, so no finding; what the rule calls too low is its lower end, and the row says the same."""
    page = PAGE.replace("pH 2.14 meter, 40 sal", "pH 2.14 meter, 31 sal")
    row = reckoned(capsys, tmp_path, page, "P3")[-1]
    assert "31 sal read, about 40 sal expected (36.9 of salt), " in row
    low = int(row.split("(36.9 of salt), ")[1].split(" to ")[0])
    assert "reading not explained" not in told(capsys, tmp_path, page, "check")
    for figure, found in ((low + 1, False), (low - 1, True)):
        checked = told(
            capsys,
            tmp_path,
            PAGE.replace("meter, 40 sal\n", f"meter, {figure} sal\n").replace("64 F, 40 sal", "64 F"),
            "check",
        )
        assert ("reading not explained" in checked) == found


def test_a_base_that_goes_in_says_why_no_ph_follows(tmp_path: Path, capsys: Captured) -> None:
    rows = reckoned(
        capsys, tmp_path, f"{PAGE}2026-11-04 17:10 P3 add 4 oz soda ash\n2026-11-04 17:20 P3 add 1 lb salt\n", "P3"
    )
    assert "no pH is reckoned from here on: a base went in" in rows[-2]
    assert "no pH" not in rows[-1]


def test_a_strip_that_drifts_is_told_less_sharply_than_a_meter(tmp_path: Path, capsys: Captured) -> None:
    """Paper is read to 0.3 and a meter to 0.1 (common practice, no source): at 0.16 a day 0.2 are more than a day either way."""
    page = (
        "2026-11-02 08:00 P3 mixed in V1\n2026-11-02 08:12 H1 in, 8 lb, process tub\n2026-11-02 08:15 H1 pickle in P3\n"
    )
    days = [f"2026-11-{day:02} 17:00 P3 pH {1.0 + 0.16 * (day - 2):.2f} " for day in range(3, 8)]
    told_of = {
        how: told(capsys, tmp_path, page + "".join(f"{line}{how}\n" for line in days), "floor", at="2026-11-07 17:45")
        for how in ("meter", "strip")
    }
    assert (
        "by meter (5 readings), will pass 2.2 about Tue 05:00; with the meter's own doubt of 0.1, Mon 14:00 to Tue 20:00 Ask"
        in told_of["meter"]
    )
    assert "by strip (5 readings), will pass 2.2 about Sun 23:00 to Wed 11:00" in told_of["strip"]


def test_the_water_that_would_thin_it_so_far_is_more_than_is_in_it_and_no_more_than_the_vessel_takes(
    tmp_path: Path, capsys: Captured
) -> None:
    """20 lb of salt in 20 gal are 10.7 % (the hand figure of `test_bath_reckoned.py`) and 21 gal of liquor. 25 sal are 6.6 % (of 26.395 %, International
    Critical Tables): 20 lb of salt in 283 lb of water, which is 34 gal of 8.33 lb, and a tub of 30 does not take it."""
    page = f"{MADE}2026-11-03 08:00 P3 25 sal\n"
    text = told(capsys, tmp_path, page, "check")
    level = int(text.partition("`P3 topped up to ")[2].partition(" gal`")[0])
    assert 30 < level <= 36
    small = SHOP.replace("vat, 40 gal", "vat, 30 gal")
    text = told(capsys, tmp_path, page, "check", shop=small)
    assert "V1 does not take the water that would thin it so far; else say why" in text
    assert "topped up" not in text
