"""`acid`, `brine` and `mix` as somebody with wet hands types them: read as they are meant, or refused with what would be read, never with a mark
under what nobody typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from hideledger.cli import main

Captured = pytest.CaptureFixture[str]

SHOP = """shop Fallow Creek Skins
  zone America/Denver
  gallons US
supply salt
supply {supplies}
recipe pickle
  per gal water: 1 lb salt, 3 oz citric acid
vessel V1, vat, 40 gal, holds 12
"""
LINES = "2026-11-02 08:30 P1 mixed in V1, 20 gal water, 20 lb salt, 60 oz {acid}\n2026-11-02 09:30 P1 pH 2.1 meter\n"


@pytest.fixture(name="book", autouse=True)
def _book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    return made(tmp_path, monkeypatch, "salt lick", "citric acid crystals")


def made(folder: Path, monkeypatch: pytest.MonkeyPatch, supplies: str, acid: str) -> Path:
    (folder / "shop.hides").write_text(SHOP.format(supplies=supplies), encoding="utf-8")
    (folder / "november.hides").write_text(LINES.format(acid=acid), encoding="utf-8")
    monkeypatch.setenv("HIDELEDGER_BOOK", str(folder))
    return folder


def record(capsys: Captured, command: str, words: str) -> dict[str, object]:
    assert main([command, "--json", "--at", "2026-11-03 09:00", *words.split(" ")]) in (0, 3), capsys.readouterr().err
    found = json.loads(capsys.readouterr().out)
    assert isinstance(found, dict)
    return {key: value for key, value in found.items() if key not in ("asked", "by_the_book", "bath")}


def refused(capsys: Captured, command: str, words: str) -> str:
    assert main([command, "--at", "2026-11-03 09:00", *words.split(" ")]) == 2
    return capsys.readouterr().err


@pytest.mark.parametrize(
    ("command", "typed", "meant"),
    [
        ("brine", "20 gal US from 36 to 46 sal", "20 US gal from 36 to 46 sal"),
        ("brine", "20 gal imperial from 36 to 46 sal", "20 imperial gal from 36 to 46 sal"),
        ("brine", "40 degrees salometer", "40 sal"),
        ("brine", "10 deg baume", "10 Be"),
        ("brine", "1 lb per gal US", "1 lb per US gal"),
        ("acid", "20 gal US, 60 oz citric acid crystals", "20 US gal, 60 oz citric acid crystals"),
        ("acid", "20 gal 60 oz citric crystals", "20 gal, 60 oz citric acid crystals"),
        (
            "acid",
            "20 gal water 20 lb salt 60 oz citric acid crystals",
            "20 gal, 20 lb salt, 60 oz citric acid crystals",
        ),
        ("acid", "20 gal, 3 lb 12 oz citric acid crystals", "20 gal, 60 oz citric acid crystals"),
        (
            "acid",
            "neutralise 3 lb 12 oz citric acid crystals with baking soda",
            "neutralise 60 oz citric acid crystals with baking soda",
        ),
        ("acid", "P1 neutralise with baking soda", "neutralise P1 with baking soda"),
        ("acid", "P1, neutralize with baking soda", "neutralise P1 with baking soda"),
        (
            "acid",
            "20 gal, 60 oz citric acid crystals at 2.1 to 2.0 with citric acid",
            "20 gal, 60 oz citric acid crystals at 2.1 to 2.0 with citric acid crystals",
        ),
        ("brine", "get P1 to 46 sal", "P1 to 46 sal"),
        ("brine", "how much salt for P1 to 46 sal", "P1 to 46 sal"),
        ("brine", "P1 needs 46 sal", "P1 to 46 sal"),
        ("brine", "weaken P1 down to 30 sal", "P1 to 30 sal"),
        ("brine", "P1 up to 46 sal please", "P1 to 46 sal"),
        ("brine", "P1 38 sal to 46", "P1 38 sal to 46 sal"),
        ("brine", "salt for 20 gal water to 40 sal", "20 gal water to 40 sal"),
        ("brine", "make 20 gal of 40 sal", "20 gal at 40 sal"),
        ("brine", "salometer reads 40", "40 sal"),
        ("brine", "sal 40", "40 sal"),
        ("brine", "what is 40 sal in %?", "40 sal"),
        ("brine", "convert 10 Be to sal", "10 Be"),
        ("brine", "20 gallons water, 1 pound salt per gallon", "20 gal water, 20 lb salt"),
        ("brine", "20 gal, 1 lb/gal", "20 gal water, 20 lb salt"),
        ("acid", "how much citric to get P1 to 2.0", "P1 to 2.0 with citric acid crystals"),
        ("acid", "P1 to pH 2.0 w/ citric crystals", "P1 to 2.0 with citric acid crystals"),
        ("acid", "get P1 to 2.0 with citric", "P1 to 2.0 with citric acid crystals"),
        ("acid", "P1 pH 2.4 wants 2.0 citric", "P1 at 2.4 to 2.0 with citric acid crystals"),
        (
            "acid",
            "20 gal pickle at 2.4 needs 2.0 with citric crystals",
            "20 gal at 2.4 to 2.0 with citric acid crystals",
        ),
        ("acid", "baking soda to neutralise P1", "neutralise P1 with baking soda"),
        ("acid", "how much bicarb to neutralise P1?", "neutralise P1 with baking soda"),
        ("acid", "what is the pH of 20 gal with 60 oz citric crystals", "20 gal, 60 oz citric acid crystals"),
        ("acid", "pH of P1", "P1"),
        ("acid", "add 8 oz citric crystals to P1", "P1, 8 oz citric acid crystals"),
        ("acid", "8 oz citric in P1", "P1, 8 oz citric acid crystals"),
        ("acid", "20 gal 60 oz citric crystals please", "20 gal, 60 oz citric acid crystals"),
        ("mix", "make 20 gal pickle", "pickle 20 gal"),
        ("mix", "mix pickle 20 gal", "pickle 20 gal"),
        ("mix", "mix up a new pickle 20 gallons please", "pickle 20 gal"),
        ("mix", "pickle 20 gal with 30 lb skins", "pickle 20 gal for 30 lb skins"),
        ("mix", "the pickle, 20gal, in V1", "pickle 20 gal in V1"),
        ("mix", "pickle 20 gal US", "pickle 20 US gal"),
        ("mix", "pickle 20 gal US water in V1", "pickle 20 US gal water in V1"),
    ],
)
def test_what_is_meant_is_what_is_read(command: str, typed: str, meant: str, capsys: Captured) -> None:
    found, same = (
        {key: value for key, value in record(capsys, command, words).items() if key != "assumed"}
        for words in (typed, meant)
    )
    assert found == same


@pytest.mark.parametrize("typed", ["2 lb 20 oz citric acid crystals", "20 oz 3 lb citric acid crystals"])
def test_two_weights_that_are_not_one_are_not_added(typed: str, capsys: Captured) -> None:
    assert "a comma between one thing and the next" in refused(capsys, "acid", f"20 gal, {typed}")


@pytest.mark.parametrize(
    ("command", "words", "said"),
    [
        ("mix", "pickle twenty gal", "`twenty gal`: write the number in figures, as in `20 gal`"),
        ("mix", "pickle for five hides", "`five hides`: write the number in figures, as in `5 hides`"),
        ("brine", "forty sal", "`forty sal`: write the number in figures, as in `40 sal`"),
        ("acid", "twenty-five gal at 2.1 to 2.0 with citric", "write the number in figures, as in `25 gal`"),
        ("brine", "P1 is weak 46 sal", "`is` beside P1 says nothing that can be followed; as in `P1 to 46 sal`"),
        ("brine", "20 gal at 36 sal want more", "`sal want more` says nothing that can be followed here; as in"),
        ("acid", "P1 is too sour", "`is` beside P1 says nothing that can be followed; as in `P1 to 2.0 with"),
        ("acid", "how much citric does P1 need", "`does` beside P1 says nothing that can be followed"),
        ("acid", "baking soda for P1", "and to which pH? write it behind, as in `to 5.0 with baking soda`"),
        ("acid", "20 gal, citric crystals", "and how much? as in `60 oz citric crystals`"),
        ("acid", "20 gal at 2.4 must be 2.0", "`must` says nothing that can be followed here; as in"),
        ("mix", "how much salt for pickle 20 gal", "the recipe comes first, as in `pickle 20 gal for H41 H44 in V1`"),
        ("mix", "pickle for V1", "`in V1` to mix in it"),
        ("brine", "40 degrees", "`40 degrees`: F or C? write one of them, or `40 sal` for degrees of a salometer"),
        ("acid", "20 gal at 2.1 to 2.0 with citric acid 20 foo", "`foo` is no unit known here; as in `60 oz`"),
        ("brine", "P1 to 12", "`to 12`: degrees or per cent? write `P1 to 12 sal` or `P1 to 12 %`"),
        ("acid", "20 gal at 2.1 to 2.0 with citrick acid", "did you mean `citric acid`?"),
    ],
)
def test_a_refusal_has_what_would_be_read(command: str, words: str, said: str, capsys: Captured) -> None:
    assert said in refused(capsys, command, words)


@pytest.mark.parametrize(
    ("command", "words", "under"),
    [
        ("brine", "P1 to 46 sall", "sall"),
        ("brine", "P1 to 146 sal", "146 sal"),
        ("acid", "P1 to 2.0 with citric acid 20 foo", "foo"),
        ("acid", "P1 to 17 with citric acid", "to 17"),
        ("mix", "pickle twenty gal", "twenty gal"),
    ],
)
def test_the_mark_stands_under_what_was_typed(command: str, words: str, under: str, capsys: Captured) -> None:
    message, typed, mark = refused(capsys, command, words).rstrip("\n").rsplit("\n", 2)
    assert typed == f"  {words}"
    begin = mark.index("^")
    assert words[begin - 2 :].startswith(under) and mark.count("^") <= len(under), message


def test_degrees_without_a_unit_are_taken_as_the_bath_is_read(book: Path, capsys: Captured) -> None:
    found = record(capsys, "brine", "P1 to 46")
    assert found == record(capsys, "brine", "P1 to 46 sal")
    with (book / "november.hides").open("a", encoding="utf-8") as page:
        page.write("2026-11-02 10:30 P1 38 sal\n")
    assert main(["brine", "--at", "2026-11-03 09:00", "P1 to 20"]) in (0, 1, 2)
    assert "degrees or per cent" not in capsys.readouterr().err
    assert main(["brine", "--at", "2026-11-03 09:00", "P1 to 46"]) == 0
    text = " ".join(capsys.readouterr().out.split())
    assert "`to 46` was taken for 46 sal, as P1 is read" in text and "november.hides:3)" in text


def test_a_bath_whose_make_up_could_not_be_read_is_said_to_be_so(book: Path, capsys: Captured) -> None:
    lines = LINES.format(acid="citric acid crystals").replace("60 oz", "60 ozz")
    (book / "november.hides").write_text(lines, encoding="utf-8")
    for command in ("acid", "brine"):
        heard = refused(capsys, command, "P1 to 2")
        assert "what P1 was made of is not known: a line about it could not be read" in heard
        assert "november.hides:1:" in heard
