"""What holds of every mixed recipe: twice the water takes twice of everything, rounding stays within half a step, gallons and litres agree, and the
line that is printed reads back to the amounts that were printed.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hideledger.answers.acid.names import NotReckoned
from hideledger.answers.mix.answer import mix
from hideledger.answers.mix.asked import wanted
from hideledger.answers.mix.scale import Scaled, Taken, scaled
from hideledger.answers.mix.strength import strength_of
from hideledger.model.facts import Mixed, Took, ToppedUp
from hideledger.model.units import Quantity
from hideledger.reading import read_text
from hideledger.reading.asking_mix import mix_asked
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out
from hideledger.trade import brine
from hideledger.trade.bath_ph import made_of, ph
from hideledger.trade.brine_making import Batch
from hideledger.trade.chemicals import CHEMICALS
from hideledger.trade.rounding import ordinary_step, rounded
from hideledger.trade.skin_uptake import BINDS_MOL_PER_KG, thinned, with_skin

DAY = date(2026, 11, 20)
SHOP = """\
shop Alder Fork
  zone America/Chicago
  gallons {gallons}
measure dipper, 350 ml
vessel V1, vat, 5000 gal
supply salt, $0.19 per lb{salt}
supply citric acid, $2.40 per lb{acid}
supply alum tan
supply oil, $31.00 per gal
supply sulphuric acid, keep 1 gal, 93 %
recipe pickle
  per gal water: 1 lb salt, 3 oz citric acid
recipe drum liquor
  100 lb of drained: 8 gal water, 14 lb alum tan
  per hide: 2 dippers oil
  per gal liquor: 1/3 oz soda ash
recipe brine
  per gal liquor: 12 oz salt, 2 ml sulphuric acid
recipe metric
  per L water: 90 g salt, 12 g citric acid
"""
RECIPES = ("pickle {gal} gal", "drum liquor {gal} lb, 3 hides", "brine {gal} gal in V1", "metric {gal} gal in V1")
amounts = st.decimals(Decimal("0.1"), Decimal(900), places=2)
steps = st.sampled_from(["", ", weighed to 1/4 lb", ", weighed to 1 oz", ", weighed to 5 g", ", weighed to 1/3 oz"])


def floor_of(*, gallons: str = "US", salt: str = "", acid: str = "") -> Floor:
    book = read_text(SHOP.format(gallons=gallons, salt=salt, acid=acid))
    assert not book.unread, book.unread
    return lay_out(book, book.clock.day_end(DAY.toordinal()))


FLOOR = floor_of()


def at_size(floor: Floor, request: str) -> Scaled:
    return scaled(wanted(mix_asked(request, gallons=floor.book.shop.shop.gallons), floor, DAY), DAY)


def by_supply(taken: tuple[Taken, ...]) -> dict[str, Quantity]:
    """What was reckoned of each supply, in kg or L."""
    return {one.stuff.name: one.stuff.plain(one.amount.exact) for one in taken}


@settings(deadline=None)
@given(st.sampled_from(RECIPES), amounts, st.integers(2, 5))
def test_before_rounding_a_recipe_grows_with_what_was_asked(request_: str, gal: Decimal, times: int) -> None:
    one = by_supply(at_size(FLOOR, request_.format(gal=gal)).taken)
    several = by_supply(at_size(FLOOR, request_.format(gal=gal * times)).taken)
    for name, quantity in one.items():
        if name == "oil" or (name == "soda ash" and "drum" in request_):
            continue  # goes by the hides, who are as many as before; and by the liquor, which has their oil in it
        assert float(several[name].value) == pytest.approx(float(quantity.value * times), rel=1e-12)


@given(amounts, st.sampled_from(["lb", "oz", "kg", "g", "gal", "L", "ml", "dipper"]), st.none() | amounts)
def test_rounding_stays_within_half_a_step(value: Decimal, unit: str, finest: Decimal | None) -> None:
    found = rounded(Quantity(value=value, unit=unit), finest)
    off = abs(found.taken.value - value)
    assert found.too_fine or off <= found.step / 2 + Decimal("0.00005")
    if found.too_fine:
        assert off <= abs(value) / 1000
    elif found.step / 2 <= value / 200:
        assert abs(found.off_by) <= Decimal("0.0051")


@given(amounts, st.sampled_from(["lb", "oz", "kg", "g", "gal", "L", "ml"]))
def test_an_ordinary_step_keeps_one_part_in_two_hundred_or_is_one_of_the_two_finest(value: Decimal, unit: str) -> None:
    step = ordinary_step(Quantity(value=value, unit=unit))
    finest = ordinary_step(Quantity(value=Decimal("0.0001"), unit=unit))
    assert step / 2 <= value / 200 or step == finest or step / 2 <= value / 40


@given(amounts, st.sampled_from(["lb", "oz", "kg", "g", "gal", "qt", "L", "ml"]), st.none() | amounts)
def test_no_amount_is_told_to_more_than_four_figures(value: Decimal, unit: str, finest: Decimal | None) -> None:
    taken = rounded(Quantity(value=value, unit=unit), finest).taken.value
    fraction = taken < 1000 and (taken * 16 == int(taken * 16) or round(taken * 3, 9) == int(round(taken * 3, 9)))
    assert fraction or len(taken.normalize().as_tuple().digits) <= 4


@settings(deadline=None)
@given(amounts, steps, steps)
def test_the_strength_after_rounding_stays_within_what_is_said(gal: Decimal, salt: str, acid: str) -> None:
    mixed = at_size(floor_of(salt=salt, acid=acid), f"pickle {gal} gal")
    found = strength_of(mixed, 0)
    exact = by_supply(mixed.taken)
    reckoned = Batch(water_kg=float(exact["water"].value) * brine.KG_WATER_PER_L, salt_kg=float(exact["salt"].value))
    salted = next(one for one in mixed.taken if one.stuff.name == "salt")
    if not salted.amount.too_fine:
        moved = abs(brine.salometer(found.strong.share) - brine.salometer(reckoned.share))
        assert moved <= found.rounding + 0.001


@given(amounts)
def test_gallons_of_either_sort_and_litres_agree(gal: Decimal) -> None:
    us, imperial = FLOOR, floor_of(gallons="imperial")
    litres = gal * Decimal("3.785411784")
    whole = by_supply(at_size(us, f"metric {gal} gal").taken)
    for floor, request in (
        (us, f"metric {litres:.9f} L"),
        (imperial, f"metric {litres / Decimal('4.54609'):.9f} gal"),
        (imperial, f"metric {gal} US gal"),
    ):
        other = by_supply(at_size(floor, request).taken)
        for name, quantity in whole.items():
            rel = (
                0.02 if name == "water" and "US gal" in request else 1e-6
            )  # gallons of another sort are turned to two figures
            assert float(other[name].value) == pytest.approx(
                float(quantity.value), rel=rel, abs=0.03 if rel > 1e-3 else 1e-9
            )


@settings(deadline=None, max_examples=50)
@given(st.sampled_from(RECIPES), amounts, steps, steps, st.sampled_from(["US", "imperial"]))
def test_the_line_that_is_printed_reads_back_to_the_amounts_that_were_printed(
    request_: str, gal: Decimal, salt: str, acid: str, gallons: str
) -> None:
    floor = floor_of(gallons=gallons, salt=salt, acid=acid)
    request = request_.format(gal=gal)
    sheet = mix(mix_asked(request, gallons=gallons), floor, DAY)
    assert sheet.record is not None
    page = SHOP.format(gallons=gallons, salt=salt, acid=acid) + f"2026-11-20 08:00 {sheet.record['write']}\n"
    book = read_text(page)
    assert not book.unread, book.unread
    (entry,) = book.entries
    mixed = at_size(floor, request)
    assert [fact.amount.quantity for fact in entry.facts if isinstance(fact, Took)] == [
        one.quantity for one in mixed.taken
    ]
    assert [fact.amount.supply for fact in entry.facts if isinstance(fact, Took)] == [
        one.stuff.name for one in mixed.taken
    ]
    assert [fact.recipe for fact in entry.facts if isinstance(fact, Mixed)] == [sheet.record["recipe"]]
    filled = [fact.volume for fact in entry.facts if isinstance(fact, ToppedUp)]
    assert filled == ([] if mixed.filled_to is None else [mixed.filled_to])


@settings(deadline=None, max_examples=40)
@given(st.floats(0.5, 8), st.floats(0.5, 60))
def test_more_acid_is_never_less_sour_and_skins_never_make_a_pickle_sourer(ounces: float, skin_lb: float) -> None:
    page = "shop A\n  zone America/Chicago\n  gallons US\nrecipe p\n"
    found = []
    for each in (ounces, ounces * 1.5):
        book = read_text(page + f"  per gal water: 1 lb salt, {each:.3f} oz citric acid\n")
        floor = lay_out(book, book.clock.day_end(DAY.toordinal()))
        asked = wanted(mix_asked(f"p 20 gal for {skin_lb:.2f} lb", gallons="US"), floor, DAY)
        found.append(strength_of(scaled(asked, DAY), asked.wet_kg()[0]))
    first, second = (one.sour for one in found)
    assert first is not None and second is not None
    assert second.ph < first.ph
    for one in found:
        assert one.sour is not None and one.with_skins_in is not None
        assert one.sour.ph - 0.02 <= one.with_skins_in.at_first.ph <= one.with_skins_in.settled.ph
        assert one.with_skins(one.strong).share < one.strong.share


@given(
    st.sampled_from(["formic acid", "sulphuric acid", "citric acid, anhydrous"]),
    st.floats(0.01, 0.1),
    st.floats(0.02, 1),
)
def test_what_the_skins_take_is_what_the_water_loses(name: str, moles: float, kg: float) -> None:
    """The acid balance closes: protons bound by the skin are those that the bath's own acid no longer holds or shows."""
    liquor = made_of([(CHEMICALS[name], moles)])
    wet = with_skin(liquor, kg)
    after = ph(wet)
    bound = BINDS_MOL_PER_KG * kg / (1 + 10 ** (after - 3.8))
    pkas = liquor.groups[0][0].pkas
    shares = [1.0]
    for pka in pkas:
        shares.append(shares[-1] * 10 ** (after - pka))
    given_away = moles * sum(charge * share for charge, share in enumerate(shares)) / sum(shares)
    assert given_away == pytest.approx(bound + 10**-after - 1e-14 / 10**-after, rel=1e-6)


def test_water_is_added_and_not_taken_out() -> None:
    liquor = made_of([(CHEMICALS["formic acid"], 0.1)])
    assert ph(thinned(liquor, 10)) > ph(thinned(liquor, 2)) > ph(liquor)
    with pytest.raises(ValueError, match="not taken out"):
        thinned(liquor, 0.5)
    with pytest.raises(ValueError, match="no less than nothing"):
        with_skin(liquor, -1)


def test_a_pickle_is_refused_when_its_acid_is_named_only_by_acid() -> None:
    """An acid of which nobody wrote the strength is never printed, whatever it is called."""
    for name in ("pickling acid", "oxy acid", "vinegar", "oil of vitriol"):
        book = read_text(f"shop A\n  gallons US\nsupply {name}\nrecipe p\n  per gal water: 1 lb salt, 1 floz {name}\n")
        if book.unread:
            continue
        floor = lay_out(book, book.clock.day_end(DAY.toordinal()))
        with pytest.raises(NotReckoned, match="of what strength"):
            at_size(floor, "p 5 gal")
