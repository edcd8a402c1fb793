"""A process as a shop writes it: steps, limits, rests.

What the lines must mean is the format reference's; the values below were worked out from it by hand. Time zone names are those of the
IANA time zone database.
"""

from __future__ import annotations

from datetime import date

import pytest

from hideledger.model.moments import DAY, HOUR, MINUTE, Length
from hideledger.model.process import Process, Range, Step
from hideledger.model.units import Quantity
from tests.unit.definition_pages import WHOLE_SHOP, amount, read, read_well


def steps_of(*lines: str, before: str = "shop\n  gallons US\nkind elk cape\nkind whitetail cape or cape\n") -> Process:
    page = before + "process drum\n" + "".join(f"  {line}\n" for line in lines)
    return read_well(page).processes["drum"][0]


def step_of(*lines: str) -> Step:
    return steps_of(*lines).steps[-1]


# --- what is read ----------------------------------------------------------------------------------------------------


def test_the_process_of_a_whole_shop() -> None:
    (both,) = read_well(WHOLE_SHOP).processes["both"]
    assert both.since == date(2026, 9, 1)
    assert [step.title for step in both.steps] == [
        "in",
        "fleshed",
        "ears turned",
        "salt",
        "pickle",
        "shaved",
        "pickle again",
        "first turn",
        "second turn",
        "drained",
        "oiled",
        "bagged",
        "out",
    ]
    steps = {step.title: step for step in both.steps}
    assert {name: step.sort for name, step in steps.items() if step.sort != "moment"} == {
        "salt": "stay",
        "pickle": "stay",
        "pickle again": "stay",
        "first turn": "run",
        "second turn": "run",
        "drained": "stay",
        "bagged": "stay",
    }
    assert [name for name, step in steps.items() if step.optional] == [
        "ears turned",
        "salt",
        "shaved",
        "pickle again",
        "bagged",
    ]
    assert [name for name, step in steps.items() if step.raw == "stops"] == ["salt", "pickle"]
    assert [name for name, step in steps.items() if step.in_bath] == ["first turn", "second turn"]
    pickle, second = steps["pickle"], steps["second turn"]
    assert pickle.limits is not None
    assert (pickle.limits.least, pickle.limits.most) == (Length(seconds=3 * DAY, written="3 d"), None)
    assert both_ends(pickle.ph) == (amount("0.8", "pH"), amount("2.2", "pH"))
    assert both_ends(pickle.temperature) == (amount("50", "F"), amount("80", "F"))
    assert pickle.read_every is not None
    assert pickle.stirred_every is not None
    assert (pickle.read_every.days, pickle.stirred_every.days) == (True, True)
    assert second.limits is not None
    assert second.limits.most == Length(seconds=2 * HOUR + 30 * MINUTE, written="2 h 30 min")
    assert [(within.length.written, within.of) for within in steps["pickle again"].within] == [("4 h", "shaved")]
    assert steps["first turn"].notes == ("pressure",)
    assert (steps["in"].needs, steps["drained"].needs) == (("pull test",), ("cut test",))
    assert (steps["shaved"].weighs, steps["drained"].weighs) == ("shaved", "drained")
    (frozen,) = both.rests
    assert frozen.most is not None
    assert (frozen.name, frozen.most.months, frozen.after, frozen.raw) == ("frozen", 9, ("in", "fleshed"), "stops")
    assert both.raw_limit is not None
    assert (both.raw_limit.length.seconds, both.raw_limit.at) == (12 * HOUR, amount("66", "F"))


def both_ends(found: Range | None) -> tuple[Quantity | None, Quantity | None]:
    assert found is not None
    return found.least, found.most


def test_each_clause_knows_its_place() -> None:
    """A finding cites the file and line of the limit, so every clause keeps where it stands."""
    shop = read_well(WHOLE_SHOP)
    (both,) = shop.processes["both"]
    lines = WHOLE_SHOP.split("\n")
    pickle = next(step for step in both.steps if step.title == "pickle")
    clauses = [
        (pickle.limits, "stays at least 3 d"),
        (pickle.ph, "pH 0.8 to 2.2"),
        (pickle.temperature, "50 to 80 F"),
        (pickle.read_every, "read every day"),
        (pickle.stirred_every, "stirred every day"),
        (next(step for step in both.steps if step.title == "fleshed").within[0], "within 12 h of in"),
        (both.raw_limit, "raw at most 12 h at 66 F"),
        (both.rests[0], "may rest frozen at most 9 mo, after in or fleshed, raw clock stops"),
        (shop.shop.kept[0], "records kept 5 y after out"),
        (shop.recipes["pickle"].bases[0], "per gal water: 1 lb salt, 3 oz citric acid"),
    ]
    for clause, text in clauses:
        assert clause is not None
        place = clause.place
        assert lines[place.line - 1][place.column - 1 : place.column - 1 + place.width] == text


@pytest.mark.parametrize(
    ("line", "least", "most"),
    [
        ("salt stays 24 h to 14 d", 24 * HOUR, 14 * DAY),
        ("salt stays 24 to 48 h", 24 * HOUR, 48 * HOUR),
        ("salt stays 24 h - 14 d", 24 * HOUR, 14 * DAY),
        ("salt stays 24-48 h", 24 * HOUR, 48 * HOUR),
        ("salt stays at least 3 d", 3 * DAY, None),
        ("salt stays at least 3 d, at most 14 d", 3 * DAY, 14 * DAY),
        ("salt stays at least 3 d at most 14 d", 3 * DAY, 14 * DAY),
        ("salt, stays at most 1 1/2 h", None, 90 * MINUTE),
        ("SALT  STAYS AT MOST 1½ hours", None, 90 * MINUTE),
        ("salt stays at most 2 wk.", None, 14 * DAY),
        ("salt\u00a0stays at\u00a0most 2 wk,", None, 14 * DAY),
        ("salt stays, optional", None, None),
    ],
)
def test_limits(line: str, least: int | None, most: int | None) -> None:
    step = step_of(line)
    assert step.sort == "stay"
    found = step.limits
    assert (found and found.least and found.least.seconds, found and found.most and found.most.seconds) == (least, most)


def test_a_step_has_other_names_and_every_other_clause() -> None:
    process = steps_of(
        "in",
        "fleshed or flesh or rough fleshed  within 12 h of in",
        "pickle  stays 3 d to 9 d, 36 to 50 sal with skins in, read every 24 h, stirred every 12 h, tanning begun, raw clock runs",
        "rinsed  within 10 d of pickle, within 9 d of flesh, needs pull and cut test",
        "pickle again  stays at least 12 h, SG 1.02 to 1.05 at mixing, note pH and temperature",
        "oiled  within 24 h of pickle again",
    )
    steps = {step.title: step for step in process.steps}
    assert steps["fleshed"].others == ("flesh", "rough fleshed")
    assert [within.of for within in steps["rinsed"].within] == ["pickle", "fleshed"]
    assert steps["rinsed"].needs == ("pull test", "cut test")
    assert [within.of for within in steps["oiled"].within] == ["pickle again"]
    pickle, again = steps["pickle"], steps["pickle again"]
    assert (pickle.tanning, pickle.raw) == (True, "runs")
    assert pickle.salt is not None
    assert (both_ends(pickle.salt), pickle.salt.basis) == ((amount("36", "sal"), amount("50", "sal")), "with skins in")
    assert pickle.read_every is not None
    assert pickle.read_every.length == Length(seconds=DAY, written="24 h")
    assert again.salt is not None
    assert (both_ends(again.salt), again.salt.basis) == ((amount("1.02", "SG"), amount("1.05", "SG")), "at mixing")
    assert again.notes == ("pH", "temperature")


def test_limits_by_kind_on_the_line_or_on_their_own() -> None:
    process = steps_of(
        "first turn runs 30 min to 50 min, elk cape: 1 h to 2 h, in a bath",
        "second turn runs 90 min to 2 h 30 min",
        "second turn, elk cape: 3 h to 4 h, cape: at most 2 h",
    )
    assert [step.title for step in process.steps] == ["first turn", "second turn"]
    first, second = process.steps
    assert first.in_bath
    elk = first.limits_for("elk cape")
    assert elk is not None
    assert (elk.least, elk.most) == (Length(seconds=HOUR, written="1 h"), Length(seconds=2 * HOUR, written="2 h"))
    assert [(kind, str(limits.most)) for kind, limits in second.limits_by_kind] == [
        ("elk cape", "4 h"),
        ("whitetail cape", "2 h"),
    ]
    assert second.limits_by_kind[0][1].place.line == 8


def test_a_rest_with_all_its_clauses() -> None:
    process = steps_of(
        "in",
        "fleshed or flesh",
        "may rest frozen at most 9 mo, after in or flesh, raw clock stops, freezes in 12 h, thaws at 40 F",
        "may rest dried, raw clock runs",
    )
    frozen, dried = process.rests
    assert frozen.after == ("in", "fleshed")
    assert (str(frozen.freezes_in), frozen.thaws_at) == ("12 h", amount("40", "F"))
    assert (dried.name, dried.most, dried.after, dried.raw) == ("dried", None, (), "runs")


def test_a_line_that_ends_with_a_comma_goes_on() -> None:
    """But a comma left over at the end of a line swallows no step."""
    process = steps_of(
        "pickle  stays at least 3 d, pH 0.8 to 2.2,    # the sheet",
        "        50 to 80 F,",
        "   at most 9 d",
        "rinsed  optional,",
        "oiled   within 1 d of rinsed",
    )
    pickle, rinsed, oiled = process.steps
    assert both_ends(pickle.temperature) == (amount("50", "F"), amount("80", "F"))
    assert pickle.limits is not None
    assert str(pickle.limits.most) == "9 d"
    assert (rinsed.optional, oiled.within[0].of) == (True, "rinsed")


@pytest.mark.parametrize("name", ["second run", "nose split", "paddle stay", "rug rinsed", "hard need", "big seeds"])
def test_a_name_that_is_near_a_word_of_the_language_is_a_name(name: str) -> None:
    assert [step.name for step in steps_of("in", f"{name}, stays 1 h to 2 h").steps] == ["in", name]


# --- two lines that nobody can keep both -------------------------------------------------------------------------------------


def test_a_limit_shorter_than_the_stay_it_counts_from_is_told_with_both_lines() -> None:
    page = "process drum\n  in\n  pickle  stays at least 3 d\n  shaved  within 12 h of pickle\n  out\n"
    shop, (told,) = read(page)
    assert (told.place.line, told.code) == (4, "together")
    assert "`shaved` within 12 h of `pickle` cannot be kept" in told.message
    assert "stays at least 3 d (shop.hides:3)" in told.message
    assert "longer than 3 d" in told.message
    assert [step.within for step in shop.processes["drum"][0].steps if step.name == "shaved"] == [()]


@pytest.mark.parametrize(
    "lines",
    [
        ("pickle stays at least 3 d", "shaved within 4 d of pickle"),
        ("pickle stays at most 3 d", "shaved within 12 h of pickle"),
        ("pickle stays at least 3 d", "rinsed", "shaved within 12 h of rinsed"),
        ("pickle stays at least 3 d", "shaved", "pickle again stays at least 1 h", "oiled within 12 h of pickle again"),
    ],
)
def test_limits_that_can_be_kept_are_read(lines: tuple[str, ...]) -> None:
    assert any(step.within for step in steps_of("in", *lines, "out").steps)


def test_a_stay_longer_for_one_kind_alone_is_told_with_that_kind() -> None:
    page = "kind elk cape\nprocess drum\n  in\n  pickle  stays at most 9 d, elk cape: 3 d to 9 d\n  shaved  within 12 h of pickle\n  out\n"
    (told,) = read(page)[1]
    assert "stays at least 3 d for elk cape" in told.message
