"""`mix` as it is asked at the bench: amounts with their base, the line to write, and everything that it will not print.

The arithmetic of the published recipes stands in `tests/outside/test_recipes.py`. The order of work and the cautions are those that farm and
taxidermy handbooks print with a pickle; no discharge below pH 5.0: 40 CFR 403.5(b)(2). The rest is common practice, no source.
"""

from __future__ import annotations

import json
import re
import shlex
from pathlib import Path

import pytest

from hideledger.cli import main

Captured = pytest.CaptureFixture[str]

SHOP = """\
shop Alder Fork
  zone America/Chicago
  gallons US
kind whitetail cape, counts 1, process tub
kind elk cape, counts 3, process tub
measure dipper, 350 ml
vessel V1, vat, 40 gal, holds 12
vessel V2, tub, 18 gal
vessel D1, drum, 19 gal, holds 5
supply salt, $0.19 per lb, weighed to 1/4 lb
supply citric acid or citric, $2.40 per lb, weighed to 1/2 oz
supply alum tan, $3.10 per lb
supply oil, $31.00 per gal
supply soda ash
supply battery acid, keep 1 gal
supply formic acid, 85 %
recipe pickle
  per gal water: 1 lb salt, 3 oz citric
recipe drum liquor
  100 lb of drained: 8 gal water, 14 lb alum tan
  per hide: 2 dippers oil
recipe head liquor
  per count: 1 gal water, 4 oz salt
recipe quick pickle
  per gal water: 1 lb salt, 1/2 floz battery acid
recipe loose pickle
  per gal water: 1 lb salt, 1/2 oz formic acid
recipe rinse
  per gal water: 1 oz soda
recipe thin pickle
  per gal water: 8 oz salt, 3 oz citric acid
recipe two ways
  per gal water: 1 lb salt
  per gal liquor: 2 oz citric acid
recipe brine
  per gal liquor: 1 lb salt
recipe curing salt
  per lb of green: 1 lb salt
recipe sour paste
  per lb of drained: 1 oz citric acid
process tub
  in
  pickle      stays at least 3 d, pH 0.8 to 2.2, at least 36 sal with skins in, raw clock stops
  thin pickle or soft stays, at least 30 sal at mixing, optional
  drained     weighs drained
  out
"""
LINES = """\
2026-11-01 08:00 counted 140 lb salt
2026-11-01 08:05 bought 10 lb citric acid, $24.00
2026-11-02 08:30 P7 mixed in V1, recipe pickle, 20 gal water, 20 lb salt, 60 oz citric acid
2026-11-02 09:10 H41 in, elk cape, 24 lb, green
2026-11-02 09:10 H44 H45 in, whitetail cape
2026-11-02 09:11 H46 in
2026-11-02 09:12 H44 6 lb
2026-11-03 09:12 H41 H44 pickle in P7
2026-11-08 09:12 H41 H44 drained
2026-11-08 09:15 H41 22 lb drained
2026-11-08 09:15 H44 5 1/2 lb drained
2026-11-08 09:20 H48 H49 in, whitetail cape
2026-11-08 09:25 H48 H49 together 11 lb drained
"""


@pytest.fixture(name="book", autouse=True)
def _book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The book of these tests, in the folder where one stands."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("HIDELEDGER_BOOK", raising=False)
    (tmp_path / "shop.hides").write_text(SHOP, encoding="utf-8", newline="\n")
    (tmp_path / "autumn.hides").write_text(LINES, encoding="utf-8", newline="\n")
    return tmp_path


def said(capsys: Captured, *words: str) -> str:
    """The sheet, its folded lines made one."""
    assert main(["mix", "--at", "2026-11-10", *words]) == 0
    shown = capsys.readouterr()
    assert shown.err == ""
    return " ".join(shown.out.split())


def refused(capsys: Captured, *words: str) -> str:
    """What is said on standard error; nothing may stand on standard output."""
    assert main(["mix", "--at", "2026-11-10", *words]) == 2
    heard = capsys.readouterr()
    assert heard.out == ""
    assert "Traceback" not in heard.err
    return heard.err


def test_amounts_stand_with_their_base_their_factor_their_cost_and_what_is_left(capsys: Captured) -> None:
    text = said(capsys, "pickle 20 gal")
    assert text.startswith("pickle: 20 gal water, 20 lb salt, 60 oz citric ")
    assert "recipe 1 lb per gal water, times 20 costs $3.80 shelf 120 lb by the book, 100 lb after this" in text
    # bought as citric acid, used as citric: one supply; 160 oz less 60 oz
    assert "costs $9.00 shelf 100 oz by the book, 40 oz after this" in text
    assert "Costs $12.80 " in text


def test_more_than_lies_on_the_shelf_is_said_to_be_short(capsys: Captured) -> None:
    assert "shelf 100 oz by the book: 8 oz short" in said(capsys, "pickle 36 gal")


def test_the_options_say_the_same_as_plain_words(capsys: Captured) -> None:
    plain = said(capsys, "pickle", "20 gal for H41 H44 in V1")
    assert said(capsys, "pickle", "--gal", "20", "--hides", "H41,H44", "--in", "V1") == plain
    assert said(capsys, "20 gal of pickle for H41 44, in V1") == plain
    assert said(capsys, "PICKLE", "20", "gal,", "for", "H41", "and", "44", "in", "v1") == plain


def test_a_supply_is_taken_in_the_unit_and_to_the_step_that_its_line_says(capsys: Captured) -> None:
    text = said(capsys, "pickle", "--litres", "75")
    assert text.startswith("pickle: 75 L water, 19 3/4 lb salt, 59 1/2 oz citric ")
    assert "reckoned 19.81 lb, 0.3 % less" in text
    assert "rounding moves it by 0.2 sal at most" in text


def test_a_scale_said_for_the_whole_shop_holds_where_a_supply_says_none(capsys: Captured, book: Path) -> None:
    finer = SHOP.replace("  gallons US\n", "  gallons US\n  weighed to 2 oz\n  measured to 1 qt\n")
    (book / "shop.hides").write_text(finer, encoding="utf-8", newline="\n")
    text = said(capsys, "drum liquor 50 lb, 3 hides")
    assert text.startswith("drum liquor: 4 gal water, 7 lb alum tan, 6 dippers oil ")
    text = said(capsys, "drum liquor 41 lb, 3 hides")  # 3.28 gal, 5.74 lb
    assert text.startswith("drum liquor: 13 qt water, 5 3/4 lb alum tan, ")
    assert "is measured is not written" not in text


def test_an_amount_that_the_scale_cannot_show_says_so(capsys: Captured) -> None:
    assert "too coarse reckoned 0.1875 lb, 33.3 % more: take a finer scale, or mix more" in said(
        capsys, "pickle 3 cups"
    )
    assert "less than half of the 1/4 lb that it is measured to" in said(capsys, "pickle 1 cup")


def test_the_strength_is_expected_with_a_doubt_by_itself_and_with_the_skins_in(capsys: Captured) -> None:
    text = said(capsys, "pickle 20 gal for 27.4 lb")
    assert "40.6 sal, 10.72 % at make-up, give or take 2 sal" in text
    assert "37.2 sal, 9.83 % once the water of 27.4 lb of wet skin has joined it" in text
    assert "about 1.9 at make-up, give or take 0.3" in text
    assert "crystals or anhydrous is not written; both are within it" in text
    assert "climbs as they take acid, to about 2.7 in a day or more, give or take 0.5 (a model)" in text
    assert "wants at least 36 sal with skins in: met" in text


def test_without_skins_it_says_how_much_skin_the_salt_floor_bears(capsys: Captured) -> None:
    """20 lb of salt are 9.50 % (36 sal) in 190.5 lb of water; 166.6 lb are in the vat, so 23.9 lb may join: of 38.6 lb of skin, 62 % of it water."""
    assert "met with up to 39 lb (17 kg) of wet skin" in said(capsys, "pickle 20 gal")


def test_an_alum_tan_has_no_ph_that_could_be_reckoned(capsys: Captured) -> None:
    text = said(capsys, "drum liquor for H41 H44 in D1")
    assert "the alum tan in some warm water" in text  # no acid, and no soda that foams
    assert "not reckoned: alum tan makes acid of its own in water" in text
    assert "D1 holds 5 skins, and these count 4" in text


def test_the_order_of_work_and_the_cautions_come_with_every_acid(capsys: Captured) -> None:
    text = said(capsys, "pickle 20 gal")
    assert "the acid last, into the water, slowly, stirring; never water into acid" in text
    assert "let it cool to the room before any acid, and before any skin" in text
    assert "goggles, gloves" in text
    assert "Shop figure, check your tan maker's sheet." in text
    assert "nothing below pH 5.0 down a public sewer (40 CFR 403.5)" in text
    plain = said(capsys, "curing salt 10 lb green")
    assert "Shop figure, check your tan maker's sheet." in plain
    assert "the acid last" not in plain


def test_the_vessel_is_looked_at_with_the_skins_in_and_with_what_stands_in_it(capsys: Captured) -> None:
    text = said(capsys, "pickle 20 gal for H41 H44 in V1")
    assert "V1 takes 40 gal: 21 gal of liquor and 27.5 lb of wet skin, 16 gal of room left" in text
    assert "P7 stands in it, mixed at autumn.hides:3: let it go first, and write `P7 dumped`" in text


def test_the_next_free_tag_is_proposed_and_is_a_proposal(capsys: Captured) -> None:
    text = said(capsys, "pickle 20 gal in V1")
    assert "Write P8 mixed in V1, recipe pickle, 20 gal water, 20 lb salt, 60 oz citric Scaled from" in text
    assert "P8 is the next free tag, and another will do" in text
    assert "L1 mixed in D1, recipe drum liquor, " in said(capsys, "drum liquor for H41 in D1")


def test_counts_and_heads_are_told_apart(capsys: Captured) -> None:
    """An elk that counts 3 and two capes: five by counts, three by heads."""
    assert said(capsys, "head liquor for H41 H44 H45").startswith("head liquor: 5 gal water, 1 1/4 lb salt ")
    assert "times 3: 3 hides" in said(capsys, "drum liquor, 3 hides, 30 lb")


def test_hides_weighed_together_are_taken_once(capsys: Captured) -> None:
    assert "times 0.11: 11 lb drained" in said(capsys, "drum liquor for H48 H49")
    assert "weighed together with others that are not asked for (autumn.hides:13)" in refused(
        capsys, "drum liquor for H48"
    )


def test_a_bath_filled_up_to_a_mark_has_its_water_last(capsys: Captured) -> None:
    text = said(capsys, "brine 20 gal in V1")
    assert "topped up to 20 gal" in text
    assert "`20 gal` is the finished liquor, since the recipe goes by it: not the water taken" in text
    # densities by PHREEQC (pitzer.dat): 0.948 lb in a gallon of brine at 40 sal, 1.208 lb at 50; 1 lb lies at 42.0
    assert "salt 42.1 sal, 11.10 % at make-up" in text


@pytest.mark.parametrize(
    ("request_", "asked"),
    [
        ("pickel 20 gal", "did you mean `pickle`?"),
        ("tanning 20 gal", "the shop has `brine`"),
        ("pickle", "goes by the water (shop.hides:18): how much? `mix pickle 20 gal`"),
        ("brine", "goes by the finished liquor"),
        ("pickle 20", "`20`: a unit (`20 gal`), or a tag?"),
        ("pickle -5 gal", "`-5 gal`: it must be more than nothing"),
        ("pickle 0 gal", "it must be more than nothing"),
        ("pickle 50000 gal", "is no bath of a shop; is it a slip?"),
        ("pickle 1,500 gal", "1500, or 1.500?"),
        ("pickle 20 gal 30 gal", "how much was said before, `20 gal`"),
        ("pickle 20 gl", "did you mean `gal`?"),
        ("pickle 20 F", "a weight or a volume belongs here"),
        ("pickle 20 gal liquor", "does not go by the finished liquor (shop.hides:17) but per gal water"),
        ("pickle 20 gal oil", "behind 20 gal may stand water or liquor"),
        ("two ways 20 gal", "`20 gal water`, or `20 gal liquor`"),
        ("quick pickle 6 gal", "battery acid: of what strength? no pickle is printed on a guess"),
        (
            "loose pickle 6 gal",
            "formic acid: ounces by weight, or fluid ounces? write `floz` in the recipe (shop.hides:27)",
        ),
        ("rinse 5 gal", "which soda? baking soda, soda ash and washing soda crystals are up to 2.7-fold apart"),
        ("thin pickle 10 gal", "comes to 21.5 sal of salt at mixing, and `thin pickle` of process tub (shop.hides:44)"),
        ("pickle 20 gal in V2", "this makes 21 gal of liquor: it would run over by 2.8 gal; at most 17 gal would fit"),
        ("pickle 16 gal for 24 lb in V2", "it would run over by 1.49 gal; at most 14.5 gal would fit"),
        ("pickle 20 gal in V9", "V9 is no vessel of the shop; did you mean V1?"),
        ("drum liquor for H41 H45", "no drained weight is written for H45; weigh, and write `H45 5 lb drained`"),
        ("drum liquor for H41 H45 H46", "for H45 and H46; weigh, and write `H45 5 lb drained`, a line for each"),
        ("drum liquor 30 lb shaved", "drum liquor goes by the drained weight (shop.hides:19)"),
        ("drum liquor 30 lb", "for which? `mix drum liquor for H41 H44`, or how many: `for 5 hides`"),
        ("drum liquor for H99", "H99 is no hide of this book"),
        ("drum liquor for all in P3", "no bath P3 stands now"),
        ("head liquor for H41 H46", "of what kind H46 is is not written: write `H46 elk cape`"),
        ("head liquor for 3 hides", "goes by what the hides count"),
        ("sour paste 10 lb", "has citric acid in it and no water"),
        ("pickle 20 gal for 2 hides, H41", "2 hides, and H41: which of the two?"),
        ("pickle 20 gal for 1/2 hides", "a whole number of hides"),
    ],
)
def test_what_is_asked_back_or_refused(capsys: Captured, request_: str, asked: str) -> None:
    assert asked in refused(capsys, request_)


def test_a_place_is_marked_under_the_request(capsys: Captured) -> None:
    assert refused(capsys, "pickle", "--gal", "20", "--weight", "5 galons oil").endswith(
        "  pickle 20 gal 5 galons oil\n                ^^^^^^^^^^^^\n"
    )


def test_raw_skins_that_run_the_salt_under_its_floor_are_trouble_with_its_cure(capsys: Captured) -> None:
    """20 gal with 20 lb of salt bear 38.6 lb of wet skin above 36 sal; 45 lb want 20 times 45 / 38.6 gal, 23.3 and so 24."""
    assert "comes to 3" not in said(capsys, "pickle 20 gal for 38 lb")
    text = said(capsys, "pickle 20 gal for 45 lb")
    assert "oz citric Measure out" in text
    assert "wants at least 36 sal with skins in, and with these skins in it comes to 35." in text
    assert "more bath, 24 gal in place of 20 gal; or at most 38 lb of such skin in it" in text
    assert text.index("Trouble") < text.index("Write P8") < text.index("Scaled from")
    assert "right the recipe" not in text
    assert "wants at least 36 sal with skins in: met" in said(capsys, "pickle 24 gal for 45 lb")


def test_skins_that_met_salt_or_were_drained_bring_no_plain_water(capsys: Captured) -> None:
    text = said(capsys, "pickle 6 gal for H41 H44")  # 29.5 lb as they came, pickled and drained since
    assert "with skins in 40.6 sal, 10.72 %: 27.5 lb of skin had met salt, and bring no plain water" in text
    assert "wants at least 36 sal with skins in: met" in text
    assert "36 sal with skins in: met" in said(capsys, "pickle 6 gal for 45 lb salted")
    for basis in ("drained", "shaved"):  # from a pickle, or from a soak: the word does not say it
        either = said(capsys, f"pickle 6 gal for 45 lb {basis}")
        assert "comes to 27.1 sal where they met no salt before" in either
        assert "met where they were in salt or a pickle before, with 40.6 sal" in either
    assert "it comes to" in said(capsys, "pickle 6 gal for 45 lb green")


def test_a_floor_is_not_met_by_skins_that_nobody_weighed(capsys: Captured) -> None:
    text = said(capsys, "pickle 20 gal for H45")
    assert "36 sal with skins in: not known, since no weight is written for H45 (`H45 8 lb green`)" in text
    assert "36 sal with skins in: met" not in text


def test_a_bath_with_a_hide_in_it_is_not_let_go_from_under_it(capsys: Captured, book: Path) -> None:
    (book / "autumn.hides").write_text(f"{LINES}2026-11-09 08:00 H45 pickle in P7\n", encoding="utf-8", newline="\n")
    text = said(capsys, "pickle 20 gal in V1")
    assert "H45 lies in P7 in that tub, mixed at autumn.hides:3: P7 stays until it is out of it" in text
    assert "let it go first" not in text


def test_a_later_version_of_recipe_and_price_holds_from_its_day(capsys: Captured, book: Path) -> None:
    later = SHOP.replace(
        "recipe drum liquor",
        "recipe pickle, since 2026-11-05\n  per gal water: 18 oz salt, 3 oz citric\nrecipe drum liquor",
    )
    (book / "shop.hides").write_text(later, encoding="utf-8", newline="\n")
    assert said(capsys, "pickle 20 gal").startswith("pickle: 20 gal water, 22 1/2 lb salt")
    assert main(["mix", "pickle 20 gal", "--at", "2026-11-04"]) == 0
    assert capsys.readouterr().out.startswith("pickle: 20 gal water, 20 lb salt")


def test_a_gallon_is_asked_for_where_the_shop_has_not_said_which(capsys: Captured, book: Path) -> None:
    (book / "autumn.hides").unlink()
    page = "shop Alder Fork\n  zone Europe/Dublin\n  degrees C\nsupply salt\nrecipe pickle\n  per L water: 120 g salt\n"
    (book / "shop.hides").write_text(page, encoding="utf-8", newline="\n")
    assert "US or imperial?" in refused(capsys, "pickle 20 gal")
    assert said(capsys, "pickle 100 L").startswith("pickle: 100 L water, 12 kg salt")
    assert said(capsys, "pickle 20 imperial gal").startswith("pickle: 90.9 L water, 10.9 kg salt")


def test_the_answer_for_a_program_has_every_amount_unrounded_and_as_measured(capsys: Captured) -> None:
    assert main(["mix", "--json", "--at", "2026-11-10", "pickle 75 L"]) == 0
    found = json.loads(capsys.readouterr().out)
    water, salt, acid = found["amounts"]
    assert (water["amount"], water["unit"]) == ("75", "L")
    assert (salt["amount"], salt["reckoned"], salt["unit"], salt["step"]) == ("19.75", "19.812904", "lb", "0.25")
    assert (acid["cost"], acid["on_shelf"]) == ("$8.93", "100 oz")
    assert found["write"] == "P8 mixed, recipe pickle, 75 L water, 19 3/4 lb salt, 59 1/2 oz citric"


def test_one_record_a_line_for_a_search(capsys: Captured) -> None:
    assert main(["mix", "--plain", "--at", "2026-11-10", "pickle 20 gal"]) == 0
    lines = capsys.readouterr().out.split("\n")
    assert lines[0] == "pickle: 20 gal water, 20 lb salt, 60 oz citric"
    assert any(line.startswith("write\tP8 mixed, recipe pickle") for line in lines)


def test_nothing_is_mixed_by_half_a_recipe(capsys: Captured, book: Path) -> None:
    """A line of it that cannot be read may be the salt."""
    broken = SHOP.replace(
        "  per gal water: 1 lb salt, 3 oz citric\n", "  per gal water: 3 oz citric\n  per L water: 120 gm salt\n"
    )
    (book / "shop.hides").write_text(broken, encoding="utf-8", newline="\n")
    assert main(["mix", "pickle 20 gal", "--at", "2026-11-10"]) == 2
    assert "a line of recipe pickle could not be read (shop.hides:19:20)" in capsys.readouterr().err
    assert main(["mix", "brine 20 gal", "--at", "2026-11-10"]) == 3
    out = " ".join(capsys.readouterr().out.split())
    assert "1 line of the book could not be read, and what it says is not in these figures: shop.hides:19" in out


def test_a_broken_line_below_another_head_is_not_the_recipes(capsys: Captured, book: Path) -> None:
    broken = SHOP.replace("recipe head liquor\n", "recipe 5 head liquor\n  per hide: 3 gm salt\n")
    (book / "shop.hides").write_text(broken, encoding="utf-8", newline="\n")
    assert main(["mix", "drum liquor for H41", "--at", "2026-11-10"]) == 3
    assert capsys.readouterr().out.startswith("drum liquor: ")


def test_a_quart_of_salt_may_or_may_not_meet_a_floor_by_its_grain(capsys: Captured, book: Path) -> None:
    """A US quart is 2.1 to 2.7 lb by its grain: to a gallon of water that is 76 to 93 degrees salometer."""
    grainy = SHOP.replace("per gal water: 8 oz salt, 3 oz", "per gal water: 1 qt salt, 3 oz").replace(
        "30 sal at mixing", "85 sal at mixing"
    )
    grainy = grainy.replace(", weighed to 1/4 lb", "")
    (book / "shop.hides").write_text(grainy, encoding="utf-8", newline="\n")
    text = said(capsys, "thin pickle 6 gal")
    assert "whether it is met hangs on the grain of the salt; weigh it" in text
    weighed = grainy.replace("supply salt,", "supply salt, 10.8 lb per gal,")
    (book / "shop.hides").write_text(weighed, encoding="utf-8", newline="\n")
    assert "wants at least 85 sal at mixing: met" in said(capsys, "thin pickle 6 gal")


def test_a_book_with_a_line_unread_still_answers_and_says_so(capsys: Captured, book: Path) -> None:
    (book / "autumn.hides").write_text(LINES + "2026-11-09 08:00 H41 fleshd\n", encoding="utf-8", newline="\n")
    assert main(["mix", "pickle 20 gal", "--at", "2026-11-10"]) == 3
    assert capsys.readouterr().out.startswith("pickle: 20 gal water")


def test_the_readme_shows_what_is_printed(tmp_path: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    """The beginning of the answer in the book of the first evening, to the letter."""
    readme = (Path(__file__).resolve().parents[2] / "README.md").read_text(encoding="utf-8")
    for name, text in re.findall(r"^```hides (book/\S+)\n(.*?)^```", readme, re.DOTALL | re.MULTILINE):
        (tmp_path / "book").mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    (shown,) = re.findall(r"^```text mix\n\$ hideledger (.*?)\n(.*?)^```", readme, re.DOTALL | re.MULTILINE)
    assert main(shlex.split(shown[0])) == 3  # a line of that book cannot be read
    assert capsys.readouterr().out.startswith(shown[1])


def test_skins_drained_from_a_soak_in_plain_water_thin_the_bath_as_the_book_will_say(
    capsys: Captured, tmp_path: Path
) -> None:
    """62 % of 20 lb is 5.6 kg of water: 2.7 kg of salt in 22.7 kg and that make 8.8 %, 33.2 sal; history reckons the same once it is written."""
    page = tmp_path / "shop.hides"
    page.write_text(
        "shop S\n  zone America/Denver\n  gallons US\nvessel V1, vat, 40 gal\nsupply salt, weighed to 1/4 lb\nsupply citric acid\nkind cape, process p\n"
        "recipe pickle\n  per lb of drained: 250 % water, 30 % salt, 3 % citric acid\n"
        "process p\n  in\n  soaked  stays at most 8 h, weighs drained\n  pickle  stays at least 3 d, 36 to 60 sal with skins in\n  out\n"
        "2026-09-01 08:00 H1 in, cape, green\n2026-09-01 08:10 H1 soaked\n2026-09-01 12:00 H1 20 lb drained\n",
        encoding="utf-8",
    )
    assert main(["mix", "pickle", "for", "H1", "--book", str(tmp_path), "--at", "2026-09-01 12:30"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "with these skins in it comes to 33.2 sal" in told
    page.write_text(
        page.read_text(encoding="utf-8")
        + "2026-09-01 12:30 P1 mixed in V1, recipe pickle, 6 gal water, 6 lb salt, 9 1/2 oz citric acid\n2026-09-01 12:40 H1 pickle in P1\n",
        encoding="utf-8",
    )
    main(["history", "P1", str(tmp_path), "--at", "2026-09-01 13:00"])
    assert "with 20 lb of skin in, 33.2 sal of salt" in " ".join(capsys.readouterr().out.split())


def test_what_the_shops_lines_say_of_ph_and_weight_is_trouble(capsys: Captured, book: Path) -> None:
    lasts = SHOP.replace("recipe pickle\n", "recipe pickle, lasts 4 lb of skin per gal\n")
    (book / "shop.hides").write_text(lasts, encoding="utf-8", newline="\n")
    told = said(capsys, "pickle 9 gal for 90 lb salted")
    assert "wants at most pH 2.2" in told
    assert "and with these skins in it climbs to about" in told
    assert "lb of skin by its own line" in told
    assert told.index("Trouble") < told.index("climbs to about") < told.index("Write P8")


def test_bicarbonate_just_mixed_keeps_its_gas(capsys: Captured, tmp_path: Path) -> None:
    """A tenth of a mole of sodium bicarbonate a litre in a closed jar is pH 8.3 (textbooks, the mean of its two pK, 6.35 and 10.33); after days in the air it is 9.8."""
    folder = tmp_path / "own"
    folder.mkdir()
    (folder / "shop.hides").write_text(
        "shop S\n  zone America/Denver\n  gallons US\nsupply baking soda\nrecipe rinse\n  per gal water: 1 oz baking soda\n",
        encoding="utf-8",
    )
    assert main(["mix", "rinse", "10", "gal", "--book", str(folder), "--json"]) == 0
    assert abs(json.loads(capsys.readouterr().out)["ph"] - (6.35 + 10.33) / 2) < 0.3


def test_more_of_a_bath_that_stands_has_its_own_order_of_work(capsys: Captured, book: Path) -> None:
    told = said(capsys, "pickle 5 gal in V2")
    assert "Order of work 1 water in the vessel" in told
    with (book / "book.hides").open("a", encoding="utf-8", newline="\n") as page:
        page.write("2026-11-08 08:00 P40 mixed in V2, recipe pickle, 5 gal water, 5 lb salt, 15 oz citric acid\n")
    told = said(capsys, "pickle 5 gal in V2")
    assert "where it is kept, and this goes into it, write `P40 add …`" in told
    assert "1 lift the skins out, and read the bath" in told
    assert "Order of work 1 water in the vessel" not in told
