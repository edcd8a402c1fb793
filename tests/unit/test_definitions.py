"""How a shop says how it works: what is read, what is refused and where, and that one bad line never costs another.

What the lines must mean is the format reference's; the values below were worked out from it by hand. Time zone names are those of the
IANA time zone database.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from hideledger.model.moments import DAY, HOUR, Length
from hideledger.model.shop import as_of
from hideledger.reading.define_clauses import CLAUSES
from hideledger.reading.definitions import is_definition
from tests.unit.definition_pages import WHOLE_SHOP, amount, read_well


def test_a_whole_shop() -> None:
    shop = read_well(WHOLE_SHOP)
    own = shop.shop
    assert (own.name, own.zone, own.dates, own.gallons, own.degrees) == (
        "Tarrow Ridge Skins",
        "America/Chicago",
        "month first",
        "US",
        "F",
    )
    assert [(hours.start, hours.end, hours.weekdays) for hours in own.hours] == [(420, 1080, frozenset(range(6)))]
    assert [(closed.first, closed.last) for closed in own.closed] == [(date(2026, 12, 24), date(2027, 1, 2))]
    assert own.room == amount("66", "F")
    assert own.sewer_ph == Decimal("5.5")
    assert [(kept.length.months, kept.after) for kept in own.kept] == [(60, "out")]
    assert own.quiet_after == Length(seconds=14 * DAY, written="14 d")
    assert [(customer.name, customer.lines) for customer in shop.customers] == [("Oren Vale", (("phone", "555-0142"),))]
    drum = shop.vessels["D1"]
    assert (drum.is_drum, drum.volume, drum.holds, drum.most_pressure) == (
        True,
        amount("19", "gal"),
        Decimal(5),
        amount("10", "psi"),
    )
    assert drum.stands is not None
    assert drum.stands.seconds == 14 * HOUR
    assert shop.vessels["V1"].sort == "vat"
    assert shop.spots["freezer"].most == amount("5", "F")
    assert {kind.name: (kind.counts, kind.process) for kind in shop.kinds.values()} == {
        "whitetail cape": (Decimal(1), "both"),
        "elk cape": (Decimal(3), ""),
    }
    assert shop.measures["dipper"].quantity == amount("350", "ml")
    salt = shop.supplies["salt"]
    assert (salt.price, salt.price_per, salt.keep, salt.by) == (
        amount("0.19", "$"),
        amount("1", "lb"),
        amount("100", "lb"),
        "weight",
    )
    assert salt.comes_in == Length(seconds=3 * DAY, written="3 d")
    pickle = shop.recipes["pickle"]
    assert pickle.lasts == Length(seconds=60 * DAY, written="60 d")
    assert (pickle.lasts_weight, pickle.lasts_weight_per) == (amount("3", "lb"), amount("1", "gal"))
    assert [(base.base, base.per, base.amounts) for base in pickle.bases] == [
        ("gal water", amount("1", "gal"), ((amount("1", "lb"), "salt"), (amount("3", "oz"), "citric acid")))
    ]
    assert [(base.base, base.per) for base in shop.recipes["drum liquor"].bases] == [
        ("lb of drained", amount("100", "lb"))
    ]
    assert [(charge.sort, charge.what, charge.money) for charge in shop.charges] == [
        ("sent out", "", ((amount("58", "$"), "per hide"), (amount("31", "$"), "freight"))),
        ("charge", "whitetail cape", ((amount("92", "$"), ""),)),
    ]


def test_imperial_gallons() -> None:
    """An imperial gallon is 4.54609 L (Units of Measurement Regulations 1995, UK), a US one 3.785411784 L (NIST Handbook 44, app. C)."""
    page = "vessel V1, vat, 40 gal\nrecipe pickle\n  per qt water: 2 floz oil, 1 cup water, 1 pt water\nshop A\n  gallons {}\n"
    volumes = []
    for which in ("US", "Imperial"):
        shop = read_well(page.format(which))
        volume = shop.vessels["V1"].volume
        assert volume is not None
        volumes.append(volume.to("L"))
        (basis,) = shop.recipes["pickle"].bases
        assert basis.base == "qt water"
        # cup, tbsp and tsp are US customary in every shop
        assert [quantity.unit.removeprefix("imperial ") for quantity, _ in basis.amounts] == ["floz", "cup", "pt"]
        assert basis.amounts[1][0].to("ml") == Decimal("236.5882365")
    assert volumes == [Decimal("151.41647136"), Decimal("181.84360")]


def test_degrees_settle_a_bare_degree_and_dates_settle_a_date() -> None:
    page = "shop A\n  room 66°\n  closed 3/11/26\n  degrees {}\n  dates {} first\nplace rack, 50 to 60 deg\n"
    one, other = read_well(page.format("F", "month")), read_well(page.format("C", "Day"))
    assert (one.shop.room, other.shop.room) == (amount("66", "F"), amount("66", "C"))
    assert (one.spots["rack"].least, other.spots["rack"].most) == (amount("50", "F"), amount("60", "C"))
    assert [shop.shop.closed[0].first for shop in (one, other)] == [date(2026, 3, 11), date(2026, 11, 3)]


def test_hours_and_days() -> None:
    shop = read_well(
        "shop A\n"
        "  hours 7:00-18:00, Mon to Fri\n"
        "  hours 8 am to noon, Sat\n"
        "  hours 9:30 to 10:30 pm, Mon, Wednesday, Fri\n"
        "  hours 6:00 to 7:00, Sat to Mon\n"
        "  hours 5:00 to 5:30\n"
        "  closed 2026-12-24 to 2027-01-02, 2027-07-05\n"
        "  closed 5 Aug 2027\n"
    ).shop
    assert [(hours.start, hours.end, sorted(hours.weekdays)) for hours in shop.hours] == [
        (420, 1080, [0, 1, 2, 3, 4]),
        (480, 720, [5]),
        (570, 1350, [0, 2, 4]),
        (360, 420, [0, 5, 6]),
        (300, 330, [0, 1, 2, 3, 4, 5, 6]),
    ]
    assert [(closed.first, closed.last) for closed in shop.closed] == [
        (date(2026, 12, 24), date(2027, 1, 2)),
        (date(2027, 7, 5), date(2027, 7, 5)),
        (date(2027, 8, 5), date(2027, 8, 5)),
    ]


def test_a_zone_in_other_capitals() -> None:
    assert read_well("shop A\n  zone pacific/auckland\n").shop.zone == "Pacific/Auckland"


def test_names_in_free_words() -> None:
    shop = read_well(
        "shop Bob’s Hide & Fur, Inc.   # since 1980\n"
        "customer T. Marlow, address 1,200 Hill St, Tarrow, licence TX-77, email tm@tarrow.example\n"
        "customer Hob Carrow\n"
        "  phone: (555) 0176,\n"
        "  address 12 Mill Road,\n"
        "    Tarrow\n"
        "  struck phone 555-9999\n"
    )
    assert shop.shop.name == "Bob’s Hide & Fur, Inc."
    assert [customer.lines for customer in shop.customers] == [
        (("address", "1,200 Hill St, Tarrow"), ("licence", "TX-77"), ("email", "tm@tarrow.example")),
        (("phone", "(555) 0176"), ("address", "12 Mill Road, Tarrow")),
    ]


def test_supplies_and_recipes_in_every_shape() -> None:
    shop = read_well(
        "shop A\n"
        "  gallons US\n"
        "measure dipper, 350 ml\n"
        "measure scoop, 1 lb 4 oz\n"
        "supply citric acid or citric, $2.10 per lb, keep 100 lb, comes in 3 d, 7.6 lb per gal, 85 %\n"
        "supply brightener\n"
        "  €4,10 per dipper\n"
        "supply oil, £120 per 5 gal\n"
        "recipe pickle\n"
        "  lasts 60 d\n"
        "  lasts 100 lb of skin\n"
        "  per hide: 3 qt water, 2 dippers oil\n"
        "  per count: 1 scoop salt\n"
        "  100 lb of drained: 2 lb soda\n"
        "  per gal liquor: 1/2 cup oil\n"
        "  per 5 L of water: 8 oz of salt, 40 g citric\n"
    )
    citric = shop.supplies["citric acid"]
    assert (citric.others, citric.density, citric.strength) == (
        ("citric",),
        (amount("7.6", "lb"), amount("1", "gal")),
        Decimal(85),
    )
    assert shop.measures["scoop"].quantity == amount("1.25", "lb")
    brightener, oil = shop.supplies["brightener"], shop.supplies["oil"]
    assert (brightener.price, brightener.price_per, brightener.by) == (
        amount("4.10", "€"),
        amount("1", "dipper"),
        "volume",
    )
    assert (oil.price_per, oil.by) == (amount("5", "gal"), "volume")
    pickle = shop.recipes["pickle"]
    assert (str(pickle.lasts), pickle.lasts_weight, pickle.lasts_weight_per) == ("60 d", amount("100", "lb"), None)
    assert [(basis.base, basis.per) for basis in pickle.bases] == [
        ("hide", None),
        ("count", None),
        ("lb of drained", amount("100", "lb")),
        ("gal liquor", amount("1", "gal")),
        ("L water", amount("5", "L")),
    ]
    assert pickle.bases[0].amounts == ((amount("3", "qt"), "water"), (amount("2", "dipper"), "oil"))


def test_versions_by_since() -> None:
    """A later version leaves unsaid what stays as it was; before the first one, the first one holds."""
    shop = read_well(
        "supply salt or hide salt, $0.19 per lb, keep 100 lb\n"
        "supply hide salt, $0.22 per lb, since 2027-01-01\n"
        "vessel D1, drum, 20 L, at most 8 psi, since 2027-05-01\n"
        "vessel D1, drum, 20 L, at most 10 psi\n"
        "charge elk cape, $92\n"
        "charge elk cape, $99, $15 rush, since 2027-01-01\n"
        "process drum, since 2026-09-01\n"
        "  in\n"
        "process drum\n"
        "  out\n"
    )
    salt = shop.supplies["salt"]
    assert (salt.price, salt.keep, salt.since) == (amount("0.22", "$"), amount("100", "lb"), date(2027, 1, 1))
    assert as_of(salt, date(2026, 12, 31)).price == amount("0.19", "$")
    assert as_of(salt, date(2027, 1, 1)).price == amount("0.22", "$")
    drum = shop.vessels["D1"]
    assert (drum.most_pressure, as_of(drum, date(2026, 1, 1)).most_pressure) == (
        amount("8", "psi"),
        amount("10", "psi"),
    )
    assert [(charge.since, len(charge.money)) for charge in shop.charges] == [(None, 1), (date(2027, 1, 1), 2)]
    assert [process.since for process in shop.processes["drum"]] == [None, date(2026, 9, 1)]


def test_the_shops_own_defects_and_tests() -> None:
    shop = read_well("defect thumb slip or rub off\ntest crush test or crush\nprocess drum\n  in needs crush\n")
    assert (shop.defects, shop.tests) == ({"thumb slip": ("rub off",)}, {"crush test": ("crush",)})
    assert shop.processes["drum"][0].steps[0].needs == ("crush test",)


@pytest.mark.parametrize(
    ("line", "begins"),
    [
        *((f"{word} something", True) for word in CLAUSES if word not in {"step", "rest"}),
        ("Sent  Out, $58 per hide", True),
        ("shop", True),
        ("SUPPLY\u00a0salt", True),
        ("2026-11-03 shop", False),
        ("kinds whitetail", False),
        ("process-both", False),
        ("H41 process both", False),
        ("sent to Oren Vale", False),
        ("", False),
    ],
)
def test_what_begins_a_definition(line: str, begins: bool) -> None:
    assert is_definition(line) is begins


@pytest.mark.parametrize(
    ("written", "least", "most"),
    [
        ("at least 5.5", "5.5", None),
        ("at most 10", None, "10"),
        ("6 to 9", "6", "9"),
        ("6-9", "6", "9"),
        ("at least 6 at most 9", "6", "9"),
    ],
)
def test_a_sewer_line_may_give_either_end_or_both(written: str, least: str | None, most: str | None) -> None:
    own = read_well(f"shop Bramble Lane Skins\n  sewer pH {written}\n").shop
    ends = [None if end is None else str(end) for end in (own.sewer_ph, own.sewer_most)]
    assert ends == [least, most]
