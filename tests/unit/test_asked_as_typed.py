"""`brine`, `acid` and `mix` asked in the words that a person types in a hurry: the same answer as to the careful wording, or a sentence that shows the nearest one."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from hideledger.cli import main

Captured = pytest.CaptureFixture[str]

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  gallons US
  degrees F
kind whitetail cape or cape, counts 1
kind elk cape, counts 3
vessel V1, vat, 40 gal, holds 12
supply salt
supply citric acid crystals or citric acid
recipe pickle
  per gal water: 1 lb salt, 3 oz citric acid
recipe drum liquor
  100 lb of drained: 8 gal water, 14 lb alum tan
  per hide: 1 floz oil
recipe head liquor
  per count: 1 gal water, 4 oz salt
"""


@pytest.fixture(name="book", autouse=True)
def _book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("HIDELEDGER_BOOK", raising=False)
    (tmp_path / "shop.hides").write_text(SHOP, encoding="utf-8", newline="\n")
    (tmp_path / "november.hides").write_text(
        "2026-11-01 08:00 P1 mixed in V1, 20 gal water, 20 lb salt\n", encoding="utf-8", newline="\n"
    )
    return tmp_path


def figures(capsys: Captured, command: str, words: str) -> dict[str, object]:
    """The answer for a program, but for the words of the request in it."""
    assert main([command, "--json", "--at", "2026-11-03", words]) == 0, words
    found = json.loads(capsys.readouterr().out)
    return {key: value for key, value in found.items() if key not in ("asked", "assumed")}


def refused(capsys: Captured, command: str, words: str) -> str:
    assert main([command, "--at", "2026-11-03", words]) == 2
    shown = capsys.readouterr()
    assert shown.out == "" and "Traceback" not in shown.err
    return shown.err


@pytest.mark.parametrize(
    ("typed", "careful"),
    [
        ("20 gal from 36 to 46 sal", "20 gal from 36 sal to 46 sal"),
        ("20 gal from 36 sal to 46", "20 gal from 36 sal to 46 sal"),
        ("20 gal 36 sal to 46 sal", "20 gal from 36 sal to 46 sal"),
        ("20 gal 36 to 46 sal", "20 gal from 36 sal to 46 sal"),
        ("raise 20 gal from 36 to 46 sal", "20 gal from 36 sal to 46 sal"),
        ("20 gal of 36 sal brine to 46 sal", "20 gal at 36 sal to 46 sal"),
        ("20 gal from 36 sal to 46 sal, 30 lb skins", "20 gal from 36 sal, 30 lb skins to 46 sal"),
        ("20 gal from 36 to 46 sal and 30 lb skins", "20 gal from 36 sal, 30 lb skins to 46 sal"),
        ("46 sal 72 F", "46 sal at 72 F"),
        ("20 gal 46 sal 72 F", "20 gal at 46 sal at 72 F"),
        ("20 gal of 40 sal brine", "20 gal at 40 sal"),
        ("20 gal of 1 lb per gal brine", "20 gal at 1 lb per gal brine"),
        ("20 gal of SG 1.08", "20 gal at SG 1.08"),
        ("20 gallons water and 20 pounds salt", "20 gal water, 20 lb salt"),
        ("20 gal water & 20 lb salt", "20 gal water, 20 lb salt"),
        ("20 gal water + 20 lb salt", "20 gal water, 20 lb salt"),
        ("20 gal water with 20 lb salt", "20 gal water, 20 lb salt"),
        ("20 gal water 20 lb salt", "20 gal water, 20 lb salt"),
        ("20 gal water, salt 20 lb", "20 gal water, 20 lb salt"),
        ("salt 20 lb, water 20 gal", "20 gal water, 20 lb salt"),
        ("20 gal water, 20 lb salt,", "20 gal water, 20 lb salt"),
        ("20 gal water, 19 lb 8 oz salt", "20 gal water, 19.5 lb salt"),
        ("20 gal 1 qt water, 20 lb salt", "20.25 gal water, 20 lb salt"),
    ],
)
def test_brine_follows_what_can_be_meant_in_one_way(typed: str, careful: str, capsys: Captured) -> None:
    assert figures(capsys, "brine", typed) == figures(capsys, "brine", careful)


@pytest.mark.parametrize("made_for", ["20C", "20 C", "20c", "68F"])
def test_the_temperature_of_a_hydrometer_needs_no_blank(made_for: str, capsys: Captured) -> None:
    assert main(["brine", "--instrument", made_for, "46 sal at 72 F"]) == 0
    shown = "68 F" if made_for == "68F" else "20 C"
    assert f"corrected to {shown} by the densities of brine" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize("made_for", ["20", "cold", "20 X", ""])
def test_a_hydrometer_made_for_no_temperature_is_shown_the_right_wordings(made_for: str, capsys: Captured) -> None:
    assert main(["brine", "--instrument", made_for, "46 sal at 72 F"]) == 2
    heard = capsys.readouterr().err
    assert f"`{made_for}`: the temperature that the hydrometer is made for belongs here, as in `60 F`, `20C`" in heard


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("20 gal from 36 to 46", "`36` of what? a unit stands behind its number: `40 sal`"),
        ("20 gal water to 40", "`40` of what?"),
        ("46 sal at 72", "`72` of what?"),
        ("40", "`40` of what?"),
        ("36 to 46 sal", "how much of it? `20 gal from 36 to 46 sal`"),
        ("strong", "`strong`: how much, or how strong? as in `20 gal water, 20 lb salt`, or `40 sal`"),
        ("20 gal form 36 sal to 46 sal", "did you mean `from`?"),
        ("20 gal water, 20 lb salt to", "something is missing at the end: an amount or a strength, as in"),
        ("20 gal water, 19 lb 16 oz salt", "`19 lb` of what?"),
        ("20 gal,, 3 lb", "`,` stands here"),
    ],
)
def test_brine_shows_the_nearest_wording(typed: str, sentence: str, capsys: Captured) -> None:
    assert sentence in refused(capsys, "brine", typed)


@pytest.mark.parametrize(
    "typed",
    [
        "20 gal, pH 2.4 to 2.0, citric acid crystals",
        "20 gal pH 2.4 to 2.0 with citric acid crystals",
        "20 gal pH 2.4 to pH 2.0 citric acid crystals",
        "20 gal from 2.4 to 2.0 citric acid, crystals",
        "20 gal 2.4 to 2.0 with citric acid crystals",
        "20 gal, 2.4 to 2.0, citric acid crystals,",
        "citric acid crystals for 20 gal from 2.4 to 2.0",
        "how much citric acid crystals for 20 gal from 2.4 to 2.0",
        "lower 20 gal from pH 2.4 to pH 2.0 using citric acid crystals",
    ],
)
def test_acid_follows_what_can_be_meant_in_one_way(typed: str, capsys: Captured) -> None:
    assert figures(capsys, "acid", typed) == figures(capsys, "acid", "20 gal at 2.4 to 2.0 with citric acid crystals")


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        (
            "20 gal 2.4",
            "`2.4` of what? a unit stands behind its number (`60 oz`, `20 gal`, `85 %`), or `at` before a pH",
        ),
        ("20 gal 2.4 with citric acid", "or `at` before a pH (`at 2.4`)"),
        ("20 gl at 2.4 to 2.0 with citric acid", "`gl` is no unit known here; did you mean `gal`?"),
        ("20 gal at 2.4 to 2.0 with citric acid for 4 capes", "`4 capes`: how much do they weigh together?"),
        ("20 gal, 60 oz citric acid, 3 gal skins", "how much do they weigh together? as in `30 lb skins`"),
        ("20 gal, 60 oz citric acid, 30 lb skins to 2.0 with citric acid", "write what it reads too"),
        ("20 gal to 2.0", "to pH 2.0 with what? write it behind"),
    ],
)
def test_acid_shows_the_nearest_wording(typed: str, sentence: str, capsys: Captured) -> None:
    assert sentence in refused(capsys, "acid", typed)


def test_acid_reckons_with_the_skins_as_mix_does(capsys: Captured) -> None:
    """Skins take acid: the model is that of `mix`, checked against published figures in `tests/outside/test_skin_uptake.py`."""
    made = "20 gal water, 20 lb salt, 60 oz citric acid crystals"
    plain, wet = figures(capsys, "acid", made), figures(capsys, "acid", f"{made}, 30 lb wet skins")
    assert plain["ph"] == wet["ph"] and plain["ph_with_skins"] is None
    mixed = figures(capsys, "mix", "pickle 20 gal for 30 lb green")
    assert wet["ph_with_skins"] == pytest.approx(mixed["ph_with_skins"], abs=0.03)
    # what has met salt brings no water of its own, and takes acid all the same
    salted = figures(capsys, "acid", f"{made}, 30 lb salted capes")
    assert isinstance(salted["ph_with_skins"], float) and isinstance(wet["ph_with_skins"], float)
    assert salted["ph_with_skins"] > plain["ph"]  # type: ignore[operator]
    assert main(["acid", f"{made}, 30 lb wet skins"]) == 0
    text = " ".join(capsys.readouterr().out.split())
    assert "30 lb of skins" in text and "once they have taken their acid" in text and "(a model)" in text


def test_a_dose_with_skins_in_it_goes_by_the_reading(capsys: Captured) -> None:
    with_skins = figures(capsys, "acid", "20 gal at 2.4 to 2.0 with citric acid, 30 lb skins")
    assert with_skins == figures(capsys, "acid", "20 gal at 2.4 to 2.0 with citric acid")
    assert main(["acid", "20 gal, 30 lb skins at 2.4 to 2.0 with citric acid"]) == 0
    assert "what the skins took so far is in the reading" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    ("typed", "careful"),
    [
        ("recipe pickle 20 gal", "pickle 20 gal"),
        ("20 gal of pickle,", "pickle 20 gal"),
        ("pickle 20 gal please", "pickle 20 gal"),
        ("head liquor for 4 capes", "head liquor for 4 counts"),
        ("head liquor for 2 elk capes", "head liquor for 6 counts"),
        ("head liquor for 2 elk capes and 1 cape", "head liquor for 7 counts"),
        ("head liquor for 1 whitetail cape", "head liquor for 1 count"),
        ("drum liquor 30 lb for 4 capes", "drum liquor 30 lb for 4 hides"),
        ("drum liquor 30 lb for 4 pelts", "drum liquor 30 lb for 4 hides"),
    ],
)
def test_mix_follows_what_can_be_meant_in_one_way(typed: str, careful: str, capsys: Captured) -> None:
    assert figures(capsys, "mix", typed) == figures(capsys, "mix", careful)


def test_the_vessel_is_looked_at_for_skins_that_are_only_counted(capsys: Captured) -> None:
    assert main(["mix", "--at", "2026-11-03", "pickle 20 gal for 5 elk capes in V1"]) == 0
    assert "V1 holds 12 skins, and these count 15: too many at once" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("pickle 20 gal for 4 bears", "or a kind of the shop (whitetail cape, cape, elk cape)"),
        ("pickle 20 gal for 4 hieds", "did you mean `hides`?"),
        ("pickle 20 gal for 2 ekl capes", "did you mean `elk cape`?"),
        ("pickle 20 gl", "did you mean `gal`?"),
        ("pickle 20 gal soon", "behind 20 gal may stand water or liquor, and nothing else"),
        ("pickle 20 gal for P1", "P1 is no hide of this book but a bath: `for all in P1` is for the skins in it"),
        ("pickle 20 gal for V1", "V1 is no hide of this book but a vessel"),
        ("pickle 20 gal for 1.5 capes", "it is a whole number of hides"),
    ],
)
def test_mix_shows_the_nearest_wording(typed: str, sentence: str, capsys: Captured) -> None:
    assert sentence in refused(capsys, "mix", typed)
