"""What `history`, `floor` and `check` say of a bath's strength, of where it is going, and of two tests of leather.

The figures of the first bath are worked out by hand: 20 gal of water at 8.328 lb and 20 lb of salt are 10.7 %, at 26.395 % for 100 degrees 40.6
salometer; with 30 lb of green skin at 62 % water 22.2 gal, 9.7 %, 36.9. Sixty ounces of citric acid lift a hydrometer by about four degrees.
"""

from pathlib import Path

import pytest

from hideledger.cli import main
from hideledger.model.tannage import TANNAGES
from hideledger.reading import read_text
from hideledger.trade import shrinkage

Captured = pytest.CaptureFixture[str]

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  hours 8:00 to 18:00, Mon to Sat
  gallons US
  degrees F
vessel V1, vat, 40 gal, holds 12
supply salt
supply citric acid
supply battery acid or sulphuric acid, 35 %, 10.5 lb per gal
supply alum tan
recipe pickle, lasts 3 lb of skin per gal
  per gal water: 1 lb salt, 3 oz citric acid
process tub, tannage alum
  in
  pickle        stays, pH 0.8 to 2.2, 30 to 50 sal with skins in, raw clock stops
  tan           stays, tanning begun
  out
process mineral, tannage chrome
  in
  tan           stays, tanning begun
  out
"""

PAGE = """\
2026-11-02 08:00 P3 mixed in V1, recipe pickle, 20 gal water, 20 lb salt, 60 oz citric acid
2026-11-02 08:10 P3 pH 1.8 meter, 64 F, 40 sal
2026-11-02 08:12 H1 in, 14 lb, green, process tub
2026-11-02 08:12 H2 in, 16 lb, green, process tub
2026-11-02 08:15 H1 H2 pickle in P3
2026-11-02 17:00 P3 pH 1.80 meter
2026-11-03 09:00 P3 pH 1.91 meter
2026-11-03 17:00 P3 pH 1.97 meter
2026-11-04 09:00 P3 pH 2.08 meter
2026-11-04 17:00 P3 pH 2.14 meter, 40 sal
"""
EVENING = "2026-11-04 17:45"


def told(
    capsys: Captured, folder: Path, page: str, command: str, *about: str, at: str = EVENING, shop: str = SHOP
) -> str:
    """What a command prints of a book of this shop and page, every run of blanks as one."""
    (folder / "shop.hides").write_text(shop, encoding="utf-8")
    (folder / "page.hides").write_text(page, encoding="utf-8")
    book = ["--book", str(folder)] if about else [str(folder)]
    main([command, *about, *book, "--at", at])
    return " ".join(capsys.readouterr().out.split())


def reckoned(capsys: Captured, folder: Path, page: str, tag: str, *, at: str = EVENING, shop: str = SHOP) -> list[str]:
    """The reckoned rows of a history, without their stamp and place."""
    (folder / "shop.hides").write_text(shop, encoding="utf-8")
    (folder / "page.hides").write_text(page, encoding="utf-8")
    main(["history", tag, "--book", str(folder), "--at", at, "--plain"])
    rows = [line.split("\t") for line in capsys.readouterr().out.splitlines()]
    return [row[3].removeprefix("reckoned: ") for row in rows if len(row) > 3 and row[2] == "reckoned"]


def test_the_history_says_what_the_make_up_gives(tmp_path: Path, capsys: Captured) -> None:
    made = reckoned(capsys, tmp_path, PAGE, "P3")[0]
    assert made.startswith(
        "20 gal water and 20 lb salt make 40.6 sal of salt (10.7 %); its acid lifts a hydrometer by about 4; pH "
    )
    assert made.endswith("give or take 0.3")


def test_skins_thin_it_and_bind_its_acid(tmp_path: Path, capsys: Captured) -> None:
    rows = reckoned(capsys, tmp_path, PAGE, "P3")
    (skins,) = [row for row in rows if row.startswith("with ")]
    assert skins.startswith("with 30 lb of skin in, 36.9 sal of salt (9.7 %); pH ")
    assert "as skins bind acid" in skins


def test_a_reading_stands_beside_what_was_expected(tmp_path: Path, capsys: Captured) -> None:
    rows = reckoned(capsys, tmp_path, PAGE, "P3")
    assert any("pH 1.8 meter read" in row and "about 44 sal expected (40.6 of salt)" in row for row in rows)
    assert rows[-1].endswith("40 sal read, about 40 sal expected (36.9 of salt)")
    assert not any("read it again" in row for row in rows)


def test_what_lies_beside_the_mark_is_to_be_read_again(tmp_path: Path, capsys: Captured) -> None:
    page = PAGE.replace("pH 2.14 meter, 40 sal", "pH 2.14 meter, 31 sal")
    assert (
        "6 under the 36.9 of salt: read it again, and salt no tub for one reading"
        in reckoned(capsys, tmp_path, page, "P3")[-1]
    )


def test_what_nothing_explains_is_said_so_and_is_a_finding(tmp_path: Path, capsys: Captured) -> None:
    page = PAGE.replace("pH 2.14 meter, 40 sal", "pH 2.14 meter, 04 sal")
    assert "misread, or a line is wrong or missing" in reckoned(capsys, tmp_path, page, "P3")[-1]
    checked = told(capsys, tmp_path, page, "check")
    assert "reading not explained: H1 H2 P3" in checked
    # out of its range too, and nobody is sent to pour salt into it for a misread
    assert "under 30 sal; nothing that was put in explains it" in checked
    assert "it has too little salt" not in checked


def test_warm_brine_is_put_right_before_it_is_judged(tmp_path: Path, capsys: Captured) -> None:
    page = "2026-11-02 08:00 P3 mixed in V1, 20 gal water, 20 lb salt\n2026-11-03 08:00 P3 38.4 sal, 80 F\n"
    # from the densities of brine (International Critical Tables) and the glass: 2.0 degrees at 80 F and 40 sal
    assert "38.4 sal at 80 F (true 40.4 sal) read, about 41 sal expected" in reckoned(capsys, tmp_path, page, "P3")[-1]


def test_a_bath_by_its_recipe_says_so(tmp_path: Path, capsys: Captured) -> None:
    page = "2026-11-02 08:00 P3 mixed in V1, recipe pickle, 20 gal water\n"
    assert reckoned(capsys, tmp_path, page, "P3")[0].startswith(
        "20 gal water by its recipe make 40.6 sal of salt (10.7 %)"
    )


def test_what_is_not_known_is_named_and_no_ph_is_made_up(tmp_path: Path, capsys: Captured) -> None:
    page = "2026-11-02 08:00 P3 mixed in V1, 20 gal water, 20 lb salt, 14 lb alum tan\n"
    (made,) = reckoned(capsys, tmp_path, page, "P3")
    assert made.endswith("; alum tan cannot be reckoned with")
    assert "pH" not in made


def test_the_strength_on_the_label_counts(tmp_path: Path, capsys: Captured) -> None:
    """A pint of 35 % acid at 10.5 lb a gallon is 0.46 lb of sulphuric acid: 2.75 g a litre of 20 gal, ideal pH 1.46 (charge balance, by hand)."""
    page = "2026-11-02 08:00 P3 mixed in V1, 20 gal water, 1 pt battery acid\n"
    (made,) = reckoned(capsys, tmp_path, page, "P3")
    assert made == "pH 1.5, give or take 0.3"


def test_a_skin_without_a_weight_is_named(tmp_path: Path, capsys: Captured) -> None:
    page = PAGE.replace("H2 in, 16 lb, green", "H2 in, green")
    (skins,) = [row for row in reckoned(capsys, tmp_path, page, "P3") if row.startswith("with ")]
    assert "1 skin not weighed" in skins


def test_the_floor_says_when_a_bath_will_pass_its_limit(tmp_path: Path, capsys: Captured) -> None:
    floor = told(capsys, tmp_path, PAGE, "floor")
    assert "drift pH rises 0.17 a day by meter (5 readings), will pass 2.2 about Thu " in floor
    assert "through 30 lb of 60 lb" in floor


def test_check_forecasts_it_for_tonight(tmp_path: Path, capsys: Captured) -> None:
    checked = told(capsys, tmp_path, PAGE, "check")
    assert "due, maybe: H1 H2 P3 pH rises 0.17 a day" in checked
    assert "will pass 2.2 about Thu " in checked
    assert "read it before you go or dose it by your supplier's sheet" in checked


@pytest.mark.parametrize(
    ("kept", "said"),
    [
        (7, "pH by meter: too few readings to say (2 readings since the last dose or skin)"),
        (6, "pH by meter: too few readings to say (1 reading since the last dose or skin)"),
    ],
)
def test_few_readings_forecast_nothing_and_the_floor_says_so(
    tmp_path: Path, capsys: Captured, kept: int, said: str
) -> None:
    page = "".join(PAGE.splitlines(keepends=True)[:kept])
    assert said in told(capsys, tmp_path, page, "floor")
    assert "will pass" not in told(capsys, tmp_path, page, "check")


def test_readings_that_go_both_ways_forecast_nothing(tmp_path: Path, capsys: Captured) -> None:
    page = PAGE.replace("pH 1.91", "pH 2.18")
    assert "the readings go both ways, nothing to say" in told(capsys, tmp_path, page, "floor")


@pytest.mark.parametrize(
    ("how", "figures", "said"),
    [
        ("meter", "2.1 2.1 2.1 2.1 2.1", "pH by meter: holds steady at 2.1, within the instrument's doubt (5 readings"),
        ("meter", "2.1 2.1 2.2 2.1 2.1", "pH by meter: holds steady at 2.1, within the instrument's doubt (5 readings"),
        ("strip", "2.0 1.7 2.2 1.8 2.1", "pH by strip: holds steady at 2.0, within the instrument's doubt (5 readings"),
        ("meter", "2.0 1.7 2.2 1.8 2.1", "pH by meter: the readings go both ways, nothing to say (5 readings"),
    ],
)
def test_readings_that_stand_still_are_said_to_hold_and_forecast_nothing(
    tmp_path: Path, capsys: Captured, how: str, figures: str, said: str
) -> None:
    """Paper is read to 0.3 and a meter to 0.1 (common practice, no source): the same figures stand still by one and not by the other."""
    page = PAGE
    for was, figure in zip(("1.80", "1.91", "1.97", "2.08", "2.14"), figures.split(), strict=True):
        page = page.replace(f"pH {was} meter", f"pH {figure} {how}")
    assert said in told(capsys, tmp_path, page, "floor")
    assert "will pass" not in told(capsys, tmp_path, page, "check")


def test_a_warmth_that_stands_still_is_said_in_the_shops_degrees(tmp_path: Path, capsys: Captured) -> None:
    shop = SHOP.replace("pH 0.8 to 2.2,", "pH 0.8 to 2.2, 50 to 80 F,")
    page = PAGE
    for number, line in enumerate(("1.80", "1.91", "1.97", "2.08", "2.14")):
        page = page.replace(f"pH {line} meter", f"{64 + number % 2} F")
    assert "temperature: holds steady at 64 F, within" in told(capsys, tmp_path, page, "floor", shop=shop)


def test_the_night_the_clocks_go_back_has_its_hour_more(tmp_path: Path, capsys: Captured) -> None:
    """A tenth a day from 2.1 on Saturday 17:00: 2.2 a whole day later, which the wall clock of that Sunday shows as 16:00."""
    days = ("28", "29", "30", "31")
    page = "2026-10-28 08:00 P3 mixed\n2026-10-28 08:12 H1 in, 8 lb, process tub\n2026-10-28 08:15 H1 pickle in P3\n"
    page += "".join(f"2026-10-{day} 17:00 P3 pH {1.8 + 0.1 * number:.1f} meter\n" for number, day in enumerate(days))
    assert "will pass 2.2 about Sun 16:00;" in told(capsys, tmp_path, page, "floor", at="2026-10-31 17:45")


def test_a_forecast_that_lies_behind_says_that_nobody_read_it(tmp_path: Path, capsys: Captured) -> None:
    checked = told(capsys, tmp_path, PAGE, "check", at="2026-11-06 12:00")
    assert "by that it passed 2.2" in checked
    assert "read it now" in checked


def test_an_alum_tawed_strip_proves_nothing(tmp_path: Path, capsys: Captured) -> None:
    page = "2026-11-02 08:12 H1 in, process tub\n2026-11-02 08:13 H1 tan\n2026-11-04 09:00 H1 shrinks at 57 C\n"
    (said,) = reckoned(capsys, tmp_path, page, "H1")
    assert said.startswith("shrunk at 57 C, proves nothing: alum does not raise the shrinkage temperature")


def test_a_strip_that_shrinks_like_raw_skin_is_told(tmp_path: Path, capsys: Captured) -> None:
    page = "2026-11-02 08:12 H1 in, process mineral\n2026-11-02 08:13 H1 tan\n2026-11-04 09:00 H1 shrinks at 60 C\n"
    assert "shrunk at 60 C, not tanned" in reckoned(capsys, tmp_path, page, "H1")[0]
    assert "shrinks too soon: H1" in told(capsys, tmp_path, page, "check")


def test_a_heat_in_fahrenheit_is_said_in_celsius_too(tmp_path: Path, capsys: Captured) -> None:
    page = "2026-11-02 08:12 H1 in, process mineral\n2026-11-02 08:13 H1 tan\n2026-11-04 09:00 H1 shrinks at 172 F\n"
    assert reckoned(capsys, tmp_path, page, "H1")[0].startswith("shrunk at 172 F (78 C), short of it")


def test_a_skin_salted_in_the_shop_brings_no_plain_water_and_is_weighed(tmp_path: Path, capsys: Captured) -> None:
    shop = SHOP.replace("  pickle  ", "  salt          stays, optional, raw clock stops\n  pickle  ")
    page = PAGE.replace(
        "H2 in, 16 lb, green, process tub\n", "H2 in, 16 lb, green, process tub\n2026-11-02 08:13 H1 H2 salt\n"
    )
    (skins,) = [row for row in reckoned(capsys, tmp_path, page, "P3", shop=shop) if row.startswith("with ")]
    assert skins.startswith("with 30 lb of skin in (they had met salt, and bring no plain water), 40.6 sal of salt")


@pytest.mark.parametrize(
    ("facts", "said"),
    [
        # ISO 4045: pH of the tenfold dilution less pH of the extract, strong acid from 0.70 on, only below 4.00 or above 10.00
        (
            "pH 3.6 extract, pH 4.2 diluted",
            "difference figure 0.60 (ISO 4045, strong from 0.70): no free strong acid shows",
        ),
        (
            "pH 2.9 extract, pH 3.8 diluted",
            "difference figure 0.90 (ISO 4045, strong from 0.70): free strong acid is left",
        ),
        (
            "pH 4.6 extract, pH 5.4 diluted",
            "no difference figure: pH 4.60: a difference figure is taken only below 4.00",
        ),
        (
            "pH 3.1 extract, pH 4.9 diluted",
            "no difference figure: 1.80: tenfold dilution can move a pH by 1.00 at most",
        ),
        ("pH 4.2 diluted", "no difference figure: the extract itself is not written, like this: `H1 pH 3.6 extract`"),
        ("pH 3.3 cut, pH 4.2 diluted", "no difference figure: the extract itself is not written"),
    ],
)
def test_two_readings_of_an_extract_tell_the_acid_left(tmp_path: Path, capsys: Captured, facts: str, said: str) -> None:
    page = f"2026-11-02 08:12 H1 in, process tub\n2026-11-04 09:00 H1 {facts}\n"
    assert reckoned(capsys, tmp_path, page, "H1")[0].startswith(said)


def test_an_extract_is_no_reading_of_a_bath(tmp_path: Path, capsys: Captured) -> None:
    page = PAGE + "2026-11-04 17:10 P3 pH 5.5 extract\n"
    assert "out of range" not in told(capsys, tmp_path, page, "check")


def test_every_tannage_that_can_be_written_is_in_the_table() -> None:
    assert set(TANNAGES.values()) == {tannage.name for tannage in shrinkage.TANNAGES} - {"raw skin"}


@pytest.mark.parametrize(("word", "tannage"), TANNAGES.items())
def test_a_process_says_what_it_tans_with(word: str, tannage: str) -> None:
    head = read_text(f"shop Tarrow Ridge Skins\nprocess own, tannage {word}, since 2026-09-01\n  in\n  tan\n")
    below = read_text(f"shop Tarrow Ridge Skins\nprocess own\n  Tannage {word.title()}\n  in\n  tan\n")
    for book in (head, below):
        assert not book.unread
        ((process,),) = book.shop.processes.values()
        assert (process.tannage, [step.name for step in process.steps]) == (tannage, ["in", "tan"])


def test_what_is_filled_up_on_the_line_that_made_it_is_reckoned_as_the_finished_bath(
    tmp_path: Path, capsys: Captured
) -> None:
    """By hand: 20 US gal of a brine of 8.5 % weigh 75.7 L x 1.0605 = 80.3 kg (density: International Critical Tables), and 15 lb of salt are 6.80 kg: 8.47 %,
    at 26.395 % for 100 degrees 32.1."""
    page = "2026-11-02 08:00 P3 mixed in V1, 15 lb salt, 8 oz citric acid, topped up to 20 gal\n"
    rows = reckoned(capsys, tmp_path, page, "P3")
    assert rows[0].startswith("15 lb salt in 20 gal of liquor make 32.1 sal of salt (8.5 %)")
    assert len(rows) == 1


def test_a_supply_that_is_named_twice_is_summed_in_the_words_too(tmp_path: Path, capsys: Captured) -> None:
    page = "2026-11-02 08:00 P3 mixed in V1, 6 lb salt, 12 gal water, 1 1/4 lb salt\n"
    assert reckoned(capsys, tmp_path, page, "P3")[0].startswith("12 gal water and 7.25 lb salt make ")
