"""`cost`: a skin is costed and saved once, however it is written; what was not finished is neither; what is in no sum is named."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from hideledger.answers.cost.hides import costs
from hideledger.cli.moment import instant_of
from hideledger.reading import read_text
from hideledger.shopfloor.layout import lay_out
from tests.unit.bill_book import SHOP, Captured, book, hides, record, said

BOUGHT = "2026-11-01 08:00 bought 100 lb salt, $20.00\n"
WORK = SHOP.replace("  gallons US\n", "  gallons US\n  labour $24 per h\n").replace(
    "fleshed      optional", "fleshed      takes 20 min"
)


def test_what_went_back_untanned_is_not_counted_as_saved(tmp_path: Path, capsys: Captured) -> None:
    """H1 took 2 lb of salt, $0.40, and was fetched; the one that came through carries it. Sent out it would have been $89."""
    lines = f"""{BOUGHT}2026-11-02 08:10 H1 H2 H3 in, cape, for Oren Vale
2026-11-02 08:20 H1 salt, 2 lb salt
2026-11-02 08:30 H2 pickle
2026-11-05 09:00 H1 out to Oren Vale
2026-11-05 09:01 H3 refused -- smells
2026-11-09 09:00 H2 out to Oren Vale"""
    told = said(capsys, "cost", book(tmp_path, lines))
    assert "cape 1 hide at $0.40 each, $0.40 materials $0.00, its part of the lost ones $0.40" in told
    assert "refused H3: $0.00 handed back untanned H1: $0.40" in told
    assert "over 1 hide that came through sent out $89.00 a hide, each sent by itself saved a hide $88.60" in told
    found = hides(record(capsys, "cost", str(tmp_path)))
    assert [found[tag]["came_through"] for tag in ("H1", "H2", "H3")] == [False, True, False]
    assert found["H1"]["for_nothing"] == "handed back untanned"


def test_a_skin_cut_in_parts_is_costed_and_saved_once(tmp_path: Path, capsys: Captured) -> None:
    """2 lb of salt, $0.40, is $0.20 for each of two parts; the skin sent out is $89.00, half of it for each."""
    lines = f"""{BOUGHT}2026-11-02 08:10 H5 in, skin, for June Akers
2026-11-02 08:20 H5 salt, 2 lb salt
2026-11-02 08:30 H5 cut into H5a cape, H5b back skin
2026-11-02 08:40 H5a H5b pickle
2026-11-09 09:00 H5a H5b out to June Akers"""
    where = book(tmp_path, lines)
    told = said(capsys, "cost", where)
    assert "skin 1 hide at $0.40 each, $0.40" in told
    assert "a hide here $0.40, over 1 hide that came through" in told
    assert "saved so far $88.60" in told
    found = hides(record(capsys, "cost", where))
    assert {tag: (one["skins"], one["total"], one["sent_out"]) for tag, one in found.items()} == {
        "H5a": ("1/2", "0.20", "44.50"),
        "H5b": ("1/2", "0.20", "44.50"),
    }
    assert "H5a $0.20, cape, 1/2 hide of H5, out" in said(capsys, "cost", where, "H5")
    apart = SHOP.replace("sent out,", "sent out back skin, $20 per hide\nsent out,")
    found = hides(record(capsys, "cost", book(tmp_path, lines, apart)))
    assert (found["H5a"]["sent_out"], found["H5b"]["sent_out"]) == ("44.50", "20.00")


def test_a_part_of_a_lost_skin_is_half_a_skin_that_came_through(tmp_path: Path, capsys: Captured) -> None:
    """What the lost half took, $0.20, is carried by the half that came through."""
    lines = f"""{BOUGHT}2026-11-02 08:10 H5 in, cape, for June Akers
2026-11-02 08:20 H5 salt, 2 lb salt
2026-11-02 08:30 H5 cut into H5a neck, H5b saddle
2026-11-02 08:40 H5a H5b pickle
2026-11-05 09:00 H5b lost -- slipped
2026-11-09 09:00 H5a out to June Akers"""
    told = said(capsys, "cost", book(tmp_path, lines))
    assert "1/2 hide at $0.80 each, $0.40" in told
    assert hides(record(capsys, "cost", str(tmp_path)))["H5a"]["total"] == "0.40"


def test_a_box_counts_for_the_skins_in_it(tmp_path: Path, capsys: Captured) -> None:
    """Three skins at $89.00 each, and 3 lb of salt at $0.20."""
    lines = f"""{BOUGHT}2026-11-02 08:16 B8 in, 3 capes, for Harrow Tannery
2026-11-02 08:20 B8 salt, 3 lb salt
2026-11-02 09:16 B8 pickle
2026-11-06 09:16 B8 out to Harrow Tannery"""
    told = said(capsys, "cost", book(tmp_path, lines))
    assert "cape 3 hides at $0.20 each, $0.60" in told
    assert "saved so far $266.40" in told


def test_work_written_out_of_order_is_counted(tmp_path: Path, capsys: Captured) -> None:
    """20 minutes at $24 an hour are $8.00, behind the pickle as well as before it."""
    for order in ("fleshed, pickle", "pickle, fleshed"):
        lines = f"2026-11-02 08:10 H1 in, cape\n2026-11-02 08:20 H1 {order}"
        assert hides(record(capsys, "cost", book(tmp_path, lines, WORK)))["H1"]["work"] == "8.00"
        told = said(capsys, "cost", str(tmp_path))
        assert "work at pickle, which has no `takes` in the process; and work on a bath" in told


def test_what_the_shop_states_from_a_later_day_on_is_not_said_to_be_missing(tmp_path: Path, capsys: Captured) -> None:
    early = ("--at", "2026-10-01 12:00")
    lines = "2026-11-02 08:10 H1 in, cape\n2026-11-02 08:20 H1 fleshed"
    assert "states none" not in said(capsys, "cost", book(tmp_path, lines, WORK), at=early)
    timed = (
        "process tub, since 2026-12-01\n  in\n  fleshed      takes 20 min\n  pickle       stays at least 3 d\n  out\n"
    )
    shop = SHOP.replace("  gallons US\n", "  gallons US\n  labour $24 per h\n") + timed
    told = said(capsys, "cost", book(tmp_path, lines, shop))
    assert "work at fleshed, which has no `takes` in the process (fleshed for what comes in from 2026-12-01 on)" in told
    pounds = WORK.replace("labour $24 per h", "labour £24 per h")
    assert "work: its wage of £24.00 is other money than the shop's $" in said(
        capsys, "cost", book(tmp_path, lines, pounds)
    )


def test_a_supply_without_a_price_is_named_wherever_it_went(tmp_path: Path, capsys: Captured) -> None:
    lines = f"""{BOUGHT}2026-11-02 08:05 P1 mixed in V1, 20 gal water, 10 lb salt, 2 floz oil
2026-11-02 08:06 used 1 qt oil -- to the door
2026-11-02 08:07 bought 1 paddle
2026-11-02 08:08 bought 1 gal oil, £9.00
2026-11-02 08:10 H1 in, cape
2026-11-02 08:20 H1 pickle"""
    told = said(capsys, "cost", book(tmp_path, lines))
    assert "P1 $2.00 at the least, since oil has no price, nobody was in it so far" in told
    assert "shop $0.00 used for what no bath and no hide tells, at the least, since oil has no price" in told
    assert "oil: no price is known; write it where it is bought" in told
    assert "1 paddle, no price written" in told
    found = record(capsys, "cost", str(tmp_path))["in_no_hide"]
    assert isinstance(found, dict)
    assert found["without_price"] == ["oil"]


def test_what_cannot_be_reckoned_is_told_of_supplies_bought_in_other_money(tmp_path: Path, capsys: Captured) -> None:
    lines = f"{BOUGHT}2026-11-02 08:08 bought 5 lb salt, £9.00"
    assert "paid in other money than the shop's $, and not reckoned: £9.00 for salt" in said(
        capsys, "cost", book(tmp_path, lines)
    )


def test_parts_boxes_and_what_was_for_nothing_add_up_to_what_was_bought() -> None:
    lines = f"""{BOUGHT}2026-11-02 08:10 H5 in, cape, 7 lb
2026-11-02 08:11 H6 in, cape, 5 lb
2026-11-02 08:12 B8 in, 3 capes
2026-11-02 08:20 H5 H6 B8 salt, 2 lb salt
2026-11-02 08:25 P1 mixed in V1, 20 gal water, 10 lb salt
2026-11-02 08:28 H5 H6 B8 pickle in P1
2026-11-02 08:30 H5 cut into H5a neck, H5b saddle
2026-11-03 08:30 B8 opened, H7 thru H9
2026-11-04 08:30 H7 lost -- slipped
2026-11-09 09:00 H5a H5b H8 H9 out to June Akers"""
    read = read_text(f"{SHOP}{lines}\n")
    found = costs(lay_out(read, instant_of("2026-11-20 12:00", read.clock)))
    spent = sum((one.materials for one in found.hides), Fraction(0))
    assert spent + found.held["salt"].shelf.cost == 20
    carried = sum((one.carried for one in found.hides), Fraction(0))
    assert carried == found.lost == sum((one.spent for one in found.hides if one.for_nothing), Fraction(0))


def test_a_bath_gives_what_lay_in_it_and_what_that_was_cut_into(tmp_path: Path, capsys: Captured) -> None:
    lines = f"""{BOUGHT}2026-11-02 08:10 H5 H6 in, cape, for Ida Crane
2026-11-02 08:25 P1 mixed in V1, 20 gal water, 10 lb salt
2026-11-02 08:28 H5 pickle in P1
2026-11-06 08:30 H5 out of P1
2026-11-06 08:31 H5 cut into H5a neck, H5b saddle"""
    where = book(tmp_path, lines)
    assert set(hides(record(capsys, "cost", where, "P1"))) == {"H5a", "H5b"}
    assert set(hides(record(capsys, "cost", where, "p1", "H6"))) == {"H5a", "H5b", "H6"}
    assert set(hides(record(capsys, "cost", where, "H5"))) == {"H5a", "H5b"}
    assert said(capsys, "cost", where, "P1", "H6").startswith("What a hide costs, P1 and H6, Fri 2026-11-20")


def test_when_a_machine_is_paid_stands_with_doubt_where_a_supply_has_no_price(tmp_path: Path, capsys: Captured) -> None:
    lines = """\
2026-11-01 08:00 bought 1 drum, $980.00
2026-11-02 08:10 H1 in, cape, for Oren Vale
2026-11-02 08:20 H1 pickle
2026-11-06 08:20 H1 oiled, 1 lb oil"""
    assert "; it may be later, since oil has no price" in said(capsys, "cost", book(tmp_path, lines))


def test_of_a_hide_that_took_nothing_it_is_said_why_there_is_nothing(tmp_path: Path, capsys: Captured) -> None:
    lines = """\
2026-11-02 08:10 H1 in, cape, for Oren Vale
2026-11-02 08:20 B2 in, box of 3 capes, for Ida Crane
2026-11-03 08:20 H1 refused -- smells"""
    where = book(tmp_path, lines)
    why = "nothing: no supply and no work of known minutes is written on it"
    assert f"H1 {why}, cape, refused" in said(capsys, "cost", where, "H1")
    assert f"B2 {why}, box of 3, cape, box, not opened" in said(capsys, "cost", where, "B2")
