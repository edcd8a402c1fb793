"""The supper at Oswego told as a book of skins: every food is a bath that they lay in, or a lot of something put on them."""

from __future__ import annotations

from pathlib import Path

import pytest

from hideledger.answers.slip.exposures import Season, season
from hideledger.reading import read_book
from hideledger.shopfloor.layout import lay_out
from tests.outside.oswego import FOODS, GUESTS

_SHOP = """\
shop Fallow Creek Skins
  zone America/New_York
  gallons US
kind whitetail cape, process supper
supply salt
{supplies}
process supper
  in
  salted
  soak   stays at most 30 d, in a bath
  drained
  out
"""


def season_of_the_supper(folder: Path) -> Season:
    """75 skins; foods at even places are lots of a supply, the others baths. A food not known is written with no lot."""
    lots = {food: f"F-{place}" for place, food in enumerate(FOODS) if place % 2 == 0}
    baths = {food: f"P{place}" for place, food in enumerate(FOODS) if place % 2}
    (folder / "shop.hides").write_text(
        _SHOP.format(supplies="\n".join(f"supply {food}" for food in lots)), encoding="utf-8"
    )
    lines = ["2026-04-18 07:00 P100 mixed, 20 gal water"]
    lines += [f"2026-04-18 07:00 {bath} mixed, 20 gal water" for bath in baths.values()]
    tags = " ".join(f"H{number}" for number in range(1, 76))
    lines.append(f"2026-04-18 08:00 {tags} in, whitetail cape, green, for Ida Crane")
    for number, (_, ate) in enumerate(GUESTS, 1):
        taken = ["1 lb salt"]
        for place, food in enumerate(FOODS):
            if food in lots and ate[place] != "N":
                taken.append(f"1 oz {food}" + (f" lot {lots[food]}" if ate[place] == "Y" else ""))
        lines.append(f"2026-04-18 09:00 H{number} salted, {', '.join(taken)}")
    lines.append(f"2026-04-18 10:00 {tags} soak in P100")
    for hour, (food, bath) in enumerate(baths.items(), 11):
        who = " ".join(f"H{number}" for number, (_, ate) in enumerate(GUESTS, 1) if ate[FOODS.index(food)] == "Y")
        lines.append(f"2026-04-18 {hour}:00 {who} soak in {bath}")
    ill = " ".join(f"H{number}" for number, (sick, _) in enumerate(GUESTS, 1) if sick)
    lines += [
        f"2026-04-19 05:00 {tags} drained",
        f"2026-04-19 06:00 {ill} slip, both ears",
        f"2026-04-20 09:00 {tags} out to Ida Crane",
    ]
    (folder / "supper.hides").write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    book = read_book([str(folder)])
    assert not book.unread
    return season(lay_out(book, max(entry.when.hi for entry in book.entries)))


def named(food: str) -> str:
    """What the exposure to a food is called in that book."""
    place = FOODS.index(food)
    return f"bath P{place}" if place % 2 else f"lot F-{place} ({food})"


def test_the_book_of_the_supper_points_at_the_vanilla_ice_cream_and_at_nothing_else(tmp_path: Path) -> None:
    """Figures of R (epitools, fisher.test, p.adjust) on the printed counts of CDC case study 401-303."""
    found = season_of_the_supper(tmp_path)
    assert {one.exposure.name for one in found.look.found} == {named(food) for food in FOODS}
    first, *others = found.look.found
    assert first.exposure.name == named("vanilla ice cream")
    assert (first.table.hit, first.table.exposed, first.table.other_hit, first.table.others) == (43, 54, 3, 21)
    assert first.risk == pytest.approx(5.5741, abs=5e-5)
    assert first.interval is not None
    assert (first.interval.low, first.interval.high) == pytest.approx((1.9383, 16.0293), abs=5e-5)
    assert first.p == pytest.approx(2.59745e-07, rel=1e-5)
    assert first.adjusted == pytest.approx(3.63643e-06, rel=1e-5)
    assert first.stands_out
    assert not any(one.stands_out or one.spares for one in others)
    assert found.within == ()


def test_a_food_nobody_remembers_is_left_out_and_never_a_no(tmp_path: Path) -> None:
    found = {one.exposure.name: one for one in season_of_the_supper(tmp_path).look.found}
    potato, chocolate = found[named("mashed potato")], found[named("chocolate ice cream")]
    assert (potato.unknown, potato.table.count) == (1, 74)
    assert (potato.table.hit, potato.table.exposed, potato.table.other_hit, potato.table.others) == (23, 37, 23, 37)
    assert (chocolate.unknown, chocolate.table.count) == (1, 74)
    assert (chocolate.table.hit, chocolate.table.exposed) == (25, 47)
    assert (chocolate.table.other_hit, chocolate.table.others) == (20, 27)
    assert chocolate.p == pytest.approx(0.08907, abs=5e-6)
    assert chocolate.adjusted == pytest.approx(0.62348, abs=5e-6)
    assert all(one.unknown == 0 for name, one in found.items() if "ice" not in name and "potato" not in name)
