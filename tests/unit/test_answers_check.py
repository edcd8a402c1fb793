"""What `check` says: its first line, its order, the contract with programs, lines that an editor can jump to."""

import json
import re
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from hideledger.answers.check.answer import check
from hideledger.answers.saying import tags_said
from hideledger.model.facts import Arrived
from hideledger.model.shop import ShopBook
from hideledger.render.card import card
from hideledger.render.json_text import json_text
from hideledger.render.plain import plain
from tests.unit.made_by_hand import Shop, found, instant


def shop_with_one_hide() -> Shop:
    shop = Shop("2026-11-02 08:00 H1 in, whitetail cape", "2026-11-02 17:52 H1 neutralised", "2026-11-02 H1 flashed")
    shop.hide("H1", shop.entry(1, 8, tags=("H1",), facts=(Arrived(),)))
    shop.entry(2, 17, 52, tags=("H1",))
    return shop


def first_line(shop: Shop, *findings: Any) -> str:
    return check(shop.floor(), findings).sheet.title


def test_a_quiet_evening_is_one_stamped_line() -> None:
    """The words are those of the specification; a Monday: 2 November 2026 (any perpetual calendar)."""
    sheet = check(shop_with_one_hide().floor(), ()).sheet
    assert card(sheet) == "all quiet, 1 skin, last line 17:52 (looked at Mon 2026-11-02 18:02)\n"
    assert plain(sheet) == card(sheet)


def test_the_first_line_counts_hides_and_unread_lines() -> None:
    shop = shop_with_one_hide()
    for tag in ("H2", "H3"):
        shop.hide(tag, shop.entries[0])
    shop.complaint(3, 15, "flashed is no step; did you mean fleshed?")
    assert first_line(shop, found("overdue", tags=("H1", "H2", "P3")), found("overdue", tags=("H2", "H3"))) == (
        "3 hides overdue, 1 line unread"
    )


def test_the_first_line_stays_short() -> None:
    shop = shop_with_one_hide()
    names = ("overdue", "reading due", "stir due", "gone quiet", "nobody wrote")
    findings = [found(name, tags=("H1",)) for name in names]
    assert first_line(shop, *findings) == "1 hide overdue, 1 bath to read, 1 bath to stir, 2 more"


def test_what_does_not_ring_is_not_in_the_first_line() -> None:
    """It is told below, and wakes nobody."""
    shop = shop_with_one_hide()
    title = first_line(shop, found("promise missed", rings=False), found("came out early", "record"))
    assert title.startswith("all quiet")
    shop.complaint(3, 15, "flashed is no step")
    assert first_line(shop, found("promise missed", rings=False)).startswith(
        "1 line unread, nothing else rings, 1 skin"
    )


@pytest.mark.parametrize(
    ("findings", "rings"),
    [
        ((), False),
        ((found("overdue", "now"),), True),
        ((found("due", "tonight"),), True),
        ((found("came out early", "record"),), False),
        ((found("out of range now", "now", rings=False),), False),
    ],
)
def test_only_now_and_tonight_ring(findings: tuple[Any, ...], rings: bool) -> None:
    assert check(shop_with_one_hide().floor(), findings).rings is rings


def test_now_comes_before_tonight_and_the_record_last() -> None:
    shop = shop_with_one_hide()
    shop.complaint(3, 15, "flashed is no step")
    findings = (
        found("came out early", "record"),
        found("due", "tonight"),
        found("overdue", "now"),
        found("out of range now", "now", rings=False),
    )
    sections = check(shop.floor(), findings).sheet.sections
    headings = [section.heading for section in sections]
    assert headings == ["Now", "Today and tonight", "No hurry", "Not understood", "For the record"]
    assert [section.rows[0].text.split(":")[0] for section in sections if section.heading != "Not understood"] == [
        "overdue",
        "due",
        "out of range now",
        "came out early",
    ]


def test_hides_that_are_gone_are_told_only_when_asked() -> None:
    floor = shop_with_one_hide().floor()
    gone = found("came out early", "record", ended=True)
    assert not check(floor, (gone,)).sheet.sections
    assert check(floor, (gone,), whole_history=True).sheet.sections[0].heading == "For the record"


def test_a_maybe_is_said() -> None:
    text = card(check(shop_with_one_hide().floor(), (found("overdue", may=True),)).sheet)
    assert "overdue, maybe: H1" in text
    assert text.startswith("1 hide overdue (maybe)\n")


def test_plain_lines_are_jumped_to_by_an_editor() -> None:
    """`%f:%l:%c:%m` is the form that Vim's errorformat reads (Vim manual, quickfix.txt, section errorformat)."""
    shop = shop_with_one_hide()
    shop.complaint(3, 15, "flashed is no step")
    put_in = found("overdue", entry=shop.entries[1], more=("Put in at book.hides:2.",))
    findings = (put_in, found("nobody wrote", tags=()))
    lines = plain(check(shop.floor(), findings).sheet).split("\n")[:-1]
    assert len(lines) == 3
    assert all(re.fullmatch(r"[^:]+:[0-9]+:[0-9]+: .+", line) for line in lines)
    assert lines[0].startswith("book.hides:2:1: now: overdue: H1: Neutralised")
    assert lines[2] == "book.hides:3:15: flashed is no step"


# key -> the types it may have; the order of the rows is the order of the keys
FINDING = {
    "name": str,
    "when": str,
    "may": bool,
    "tags": list,
    "file": str | None,
    "line": int | None,
    "column": int | None,
    "since": str | None,
    "since_local": str | None,
    "over_s": int | None,
    "message": str,
    "do": str,
    "rule": dict | None,
    "rings": bool,
    "more": list,
    "text": str | None,
}
WHOLE = {"schema": int, "at": str, "at_local": str, "findings": list, "unread": list, "counts": dict}
UNREAD = {"file": str, "line": int, "column": int, "message": str, "text": str}
COUNTS = ["now", "tonight", "record", "rings", "unread", "skins", "lines", "later", "held"]


def assert_shape(record: dict[str, Any], table: dict[str, Any]) -> None:
    assert list(record) == list(table)
    for key, kind in table.items():
        assert isinstance(record[key], kind), key


def test_the_json_contract() -> None:
    shop = shop_with_one_hide()
    shop.complaint(3, 15, "flashed is no step")
    since = instant(shop.clock, 17, 40)
    findings = (
        found("overdue", entry=shop.entries[1], since=since, over_s=1320, message='a "quoted" [/x] \x1b[31m ½'),
        found("due", "tonight", over_s=-3600),
        found("came out early", "record", may=True, more=("Put in at book.hides:1.",)),
    )
    text = json_text(check(shop.floor(), findings).sheet)
    record = json.loads(text)
    assert_shape(record, WHOLE)
    assert record["schema"] == 1
    for finding in record["findings"]:
        assert_shape(finding, FINDING)
        assert finding["when"] in ("now", "tonight", "record")
    for line in record["unread"]:
        assert_shape(line, UNREAD)
    assert list(record["counts"]) == COUNTS
    assert list(record["counts"].values()) == [1, 1, 1, 2, 1, 1, 2, 0, 0]
    first = record["findings"][0]
    assert first["message"] == 'a "quoted" [/x] \x1b[31m ½'
    assert first["text"] == "2026-11-02 17:52 H1 neutralised"
    assert record["findings"][1]["text"] is None, "it comes from no line"
    assert record["unread"][0]["text"] == "2026-11-02 H1 flashed"
    assert "½" in text
    assert "\x1b" not in text, "JSON escapes control characters (RFC 8259, section 7)"
    assert first["rule"] == {"file": "shop.hides", "line": 44}
    # the standard library's own zone data, not the shop's clock
    local = datetime(2026, 11, 2, 17, 40, tzinfo=ZoneInfo("America/Chicago"))
    assert first["since"] == local.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ") == "2026-11-02T23:40:00Z"
    assert first["since_local"] == "2026-11-02 17:40"


def test_a_book_without_a_zone_claims_no_utc() -> None:
    shop = Shop("2026-11-02 08:00 H1 in", zone=None)
    shop.hide("H1", shop.entry(1, 8, tags=("H1",)))
    record = json.loads(json_text(check(shop.floor(), ()).sheet))
    assert record["at"] == "2026-11-02T18:02:00"


def test_a_box_counts_as_its_skins_and_an_unknown_tag_as_none() -> None:
    shop = shop_with_one_hide()
    shop.hide("B7", shop.entries[0], count=14)
    shop.hide("H99", shop.entries[0], declared=False)
    assert "15 skins" in first_line(shop)


def test_a_line_without_a_time_is_the_last_one_only_for_want_of_another() -> None:
    shop = Shop("2026-11-02 H1 in", "2026-11-02 H1 fleshed")
    shop.hide("H1", shop.entry(1, None, tags=("H1",)))
    assert "last line some time today" in first_line(shop)
    shop.entry(2, 6, 5, tags=("H1",))
    assert "last line 06:05" in first_line(shop)


def test_long_lists_of_tags_are_told_as_runs_on_paper_and_one_by_one_to_a_program() -> None:
    tags = [f"H{number}" for number in (65, 66, 67, 68, 81, 82, 83, 90)] + ["P5"]
    sheet = check(shop_with_one_hide().floor(), (found("overdue", tags=tags),)).sheet
    said = "overdue: H65 thru H68, H81 thru H83, H90, P5"
    assert said in card(sheet)
    assert f"now: {said}: Neutralised" in plain(sheet)
    assert json.loads(json_text(sheet))["findings"][0]["tags"] == tags


@pytest.mark.parametrize(
    ("tags", "said"),
    [
        ("", ""),
        ("H1", "H1"),
        ("H1 H2 P3", "H1 H2 P3"),
        ("H9 H10 H11", "H9 thru H11"),
        ("MB-08 MB-09 MB-10", "MB-08 thru MB-10"),
        ("H1 H2 L3 L4 L5", "H1, H2, L3 thru L5"),
        ("H1 L2 H3", "H1 L2 H3"),
        ("H11 H11a H11b H12 H13", "H11 H11a H11b H12 H13"),
        ("H099 H100 H101", "H099 thru H101"),
        ("H99 H0100 H0101", "H99 H0100 H0101"),
    ],
)
def test_a_run_is_three_and_more_in_a_row(tags: str, said: str) -> None:
    assert tags_said(tags.split()) == said


def test_a_book_without_a_shop_page_is_told_so_once() -> None:
    """What a step or a unit is stands there: without it the lines say only that a word is not known."""
    shop = shop_with_one_hide()
    hint = "no page of this book says how the shop works (steps, units): add shop.hides, or name the folder"
    nothing = ShopBook()
    quiet, unread = shop.floor(), shop
    quiet.book = replace(quiet.book, shop=nothing)
    assert hint not in " ".join(card(check(quiet, ()).sheet).split()), "every line was read"
    unread.complaint(2, 1, "fleshed is no step")
    unread.complaint(3, 15, "flashed is no step")
    floor = unread.floor()
    assert hint not in " ".join(card(check(floor, ()).sheet).split()), "it has a line on the shop, its zone"
    floor.book = replace(floor.book, shop=nothing)
    sheet = check(floor, ()).sheet
    assert " ".join(card(sheet).split()).count(hint) == 1
    assert plain(sheet).split("\n")[-2] == f"book.hides:3:15: {hint}"


def test_what_is_for_now_rings_of_a_bath_that_was_let_go_too() -> None:
    """Only the record is cut short: a load dumped too sour is at the sewer now, whether or not it still stands here."""
    shop = shop_with_one_hide()
    live = replace(found("dumped below the sewer limit", tags=("L1",)), ended=True)
    past = replace(found("stir gap", "record", tags=("L1",)), ended=True)
    checked = check(shop.floor(), (live, past))
    assert checked.rings
    assert [section.heading for section in checked.sheet.sections] == ["Now"]
    assert "dumped below the sewer limit" in card(checked.sheet)
    assert "stir gap" not in card(checked.sheet)
