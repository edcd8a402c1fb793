"""What was told last night is not told again, and nothing is lost by it: single findings, then a season night by night."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

from hideledger.answers.check.answer import Checked, check
from hideledger.answers.check.told_before import NoSuchRecord, Told, new_among, told_before
from hideledger.reading import read_book
from hideledger.render.card import card
from hideledger.render.json_text import json_text
from hideledger.rules.judge import judging
from hideledger.shopfloor.layout import lay_out
from tests.unit.made_by_hand import Shop, found

SEASON = Path(__file__).resolve().parents[2] / "sample_ledgers" / "tarrow-ridge"
# stretches of nights with much going on; between them the computer was off
STRETCHES = (("10-22", 6), ("11-09", 4), ("11-30", 4), ("12-15", 2), ("12-24", 3))
NIGHTS = [
    date.fromisoformat(f"2026-{first}").toordinal() + night for first, count in STRETCHES for night in range(count)
]
Record = dict[str, Any]


def due(**changed: Any) -> Record:
    """A hide that has to move before the night, as a record tells it."""
    return {
        "name": "due",
        "when": "tonight",
        "may": False,
        "tags": ["H1", "H2", "P3"],
        "since": "2026-11-03T09:00:00Z",
        "over_s": -3600,
        "message": "in pickle since Tue 3 Nov 10:40, 12 h at most: 40 min left",
        "rings": True,
        "more": ["put in at book/november.hides:14"],
        "text": "10:40 H1 H2 pickle in P3",
    } | changed


def new(now: Record, *before: Record) -> bool:
    (told,) = new_among([now], Told(findings=before, unread=()))
    return told


def test_the_same_matter_is_not_new() -> None:
    assert new(due())
    assert not new(due(), due())


@pytest.mark.parametrize(
    "changed",
    [
        {"message": "in pickle since Tue 3 Nov 10:40, 12 h at most: 1 d 2 h left"},
        {"message": "in pickle since Tue 3 Nov 2026 10:40, 12 h at most: 5 min left"},
        {"message": "in pickle since Tue 3 Nov 10:40, 12 h at most: Wed 40 min left"},
        {"over_s": -60},
        {"line": 99, "column": 3},
        {"more": ["put in at book/november.hides:15"]},
        {"tags": ["H2", "P3"]},
        {"may": True},
        {"rings": False},
        {"when": "record", "rings": False},
        {"do": "another line to write"},
    ],
)
def test_time_that_goes_by_lines_put_in_above_and_less_than_before_are_no_news(changed: Record) -> None:
    assert not new(due(**changed), due())


@pytest.mark.parametrize(
    ("before", "now"),
    [
        ({}, {"when": "now"}),
        ({"when": "record"}, {"when": "tonight"}),
        ({"may": True}, {"may": False}),
        ({"rings": False}, {"rings": True}),
        ({}, {"tags": ["H1", "H2", "H3", "P3"]}),
        ({}, {"since": "2026-11-04T09:00:00Z"}),
        ({}, {"text": "10:40 H1 H2 pickle in P4"}),
        ({}, {"name": "overdue"}),
        ({}, {"message": "in salt since Tue 3 Nov 10:40, 12 h at most: 40 min left"}),
        ({}, {"more": ["put in at book/november.hides:14", "and not fleshed yet, in since Tue 3 Nov 8:00"]}),
        ({"text": None}, {}),
        ({"message": "pH 2.8, strip"}, {"message": "pH 2.8, meter"}),
    ],
)
def test_what_weighs_more_or_is_another_matter_is_told(before: Record, now: Record) -> None:
    assert new(due(**now), due(**before))


@pytest.mark.parametrize(
    ("changed", "again"),
    [
        ({"name": "overdue", "when": "now", "over_s": 60}, True),
        ({"name": "overdue", "when": "now", "over_s": 60, "may": True}, True),
        ({"name": "raw too long", "when": "now", "over_s": 60}, True),
        ({"name": "promise missed", "when": "now", "over_s": 60, "rings": False}, False),
        ({"name": "unknown tag", "when": "now", "over_s": None}, False),
        ({"name": "stayed too long", "when": "record", "over_s": 60, "rings": False}, False),
        ({"when": "tonight", "over_s": -60}, False),
    ],
)
def test_what_runs_over_its_time_is_told_each_night(changed: Record, again: bool) -> None:
    assert new(due(**changed), due(**changed)) is again


def test_of_two_alike_the_second_is_new() -> None:
    assert new_among([due(), due()], Told(findings=(due(),), unread=())) == [False, True]
    wide, narrow = due(tags=["H1", "H2", "H3", "P3"]), due(tags=["H1", "P3"])
    for before in ((wide, narrow), (narrow, wide)):
        assert new_among([narrow, wide], Told(findings=before, unread=())) == [False, False]


@pytest.mark.parametrize(
    "raw",
    [
        b"",
        b"all quiet, 2 skins\n",
        b"[1, 2]",
        b'{"schema": 1, "findings": []}',
        b'{"schema": 1, "at": "", "shop": "", "sections": [], "unread": 1}',
        b'{"schema": 1, "findings": [{"name": "due"}], "unread": [], "counts": {}}',
        b'{"schema": 1, "findings": {}, "unread": [], "counts": {}}',
        b'{"schema": 1, "findings": [], "unread": [7], "counts": {}}',
        json.dumps({"schema": 1, "findings": [due(tags=[1])], "unread": [], "counts": {}}).encode(),
        json.dumps({"schema": 1, "findings": [due(name=["x"])], "unread": [], "counts": {}}).encode(),
        json.dumps({"schema": 1, "findings": [due(since=3)], "unread": [], "counts": {}}).encode(),
        b"[" * 100_000,
        b"\xff\xfe\x00",
    ],
)
def test_whatever_is_no_such_record_is_refused(raw: bytes) -> None:
    with pytest.raises(NoSuchRecord, match=r"^is not what `check --json` prints$"):
        told_before(raw)


def test_another_schema_is_refused_by_its_number() -> None:
    with pytest.raises(NoSuchRecord, match=r"^has schema 2, and this program knows schema 1$"):
        told_before(b'{"schema": 2, "findings": [], "unread": [], "counts": {}}')


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_a_record_sent_into_a_file_by_any_shell_is_read(encoding: str) -> None:
    """PowerShell 5.1 writes UTF-16 with a byte order mark for `>` (about_Character_Encoding, Microsoft; from memory)."""
    raw = json.dumps({"schema": 1, "findings": [due()], "unread": [{"text": "½"}], "counts": {}}).encode(encoding)
    assert told_before(raw) == Told(findings=(due(),), unread=("½",))


def shop_with_a_bad_line() -> Shop:
    shop = Shop("2026-11-02 08:00 H1 in", "2026-11-02 09:00 H1 flashed")
    shop.hide("H1", shop.entry(1, 8, tags=("H1",)))
    shop.complaint(2, 21, "`flashed` is no step")
    return shop


def test_a_line_not_understood_is_asked_for_until_it_is_mended_but_not_shown_twice() -> None:
    floor = shop_with_a_bad_line().floor()
    first = check(floor, (), last=Told(findings=(), unread=()))
    assert "H1 flashed\n" in card(first.sheet)
    again = card(check(floor, (), last=told_before(json_text(first.whole).encode())).sheet)
    assert "book.hides:2:21: `flashed` is no step" in again
    assert "H1 flashed" not in again
    assert again.startswith("1 line unread, nothing else rings, 1 skin")


def test_what_still_rings_is_named_in_one_line_and_the_rest_counted() -> None:
    floor = Shop("2026-11-02 08:00 H1 in").floor()
    findings = (found("unknown tag"), found("slip nearby", tags=("H7",)), found("came out early", "record"))
    last = told_before(json_text(check(floor, findings).sheet).encode())
    checked = check(floor, findings, last=last)
    assert (checked.rings, checked.news) == (True, False)
    assert card(checked.sheet) == (
        "nothing new, 2 still ring, no skins (looked at Mon 2026-11-02 18:02)\n"
        "\n"
        "Rings still\n"
        "  unknown tag: H1 (shop.hides:44)\n"
        "  slip nearby: H7 (shop.hides:44)\n"
        "  3 told before, left out; without --already-told all is told\n"
    )
    assert checked.sheet.record is not None
    assert checked.sheet.record["findings"] == []
    counts = checked.sheet.record["counts"]
    assert isinstance(counts, dict)
    assert list(counts)[-1] == "told_before"
    assert counts["told_before"] == 3
    assert card(checked.whole) == card(check(floor, findings).sheet)
    more = check(floor, (*findings, found("reading due", tags=("P1",))), last=last)
    assert more.news
    assert more.sheet.title == "1 bath to read, 2 told before"


# A whole season, night by night, at five in the morning.


@lru_cache(maxsize=1)
def season() -> list[tuple[Checked, Record, Record]]:
    """For each night the answer, the record of everything, and the record of what was told."""
    book = read_book([str(SEASON)])
    nights = []
    last = Told(findings=(), unread=())
    for day in NIGHTS:
        floor = lay_out(book, book.clock.instant(day, 5 * 60)[0])
        judged = judging(floor)
        checked = check(floor, judged.findings, held=judged.held, last=last)
        left = json_text(checked.whole)
        nights.append((checked, json.loads(left), json.loads(json_text(checked.sheet))))
        last = told_before(left.encode())
    return nights


def loosely(finding: Record) -> tuple[str, str, bool]:
    """Less than any two runs could take for one matter: the name alone, when, and whether it is certain."""
    return finding["name"], finding["when"], finding["may"]


def strictly(finding: Record) -> str:
    """All of it but the lengths of time and the example in the line to write."""
    return json.dumps({key: value for key, value in finding.items() if key not in ("over_s", "message", "do", "more")})


def over_its_time(finding: Record) -> bool:
    return finding["when"] == "now" and finding["rings"] and (finding["over_s"] or 0) > 0


def every_night(law: Callable[[Record, Record, Record], None]) -> None:
    before: Record = {"findings": []}
    for _, whole, told in season():
        law(before, whole, told)
        before = whole


def test_told_and_left_out_are_together_everything_in_its_order() -> None:
    def law(_: Record, whole: Record, told: Record) -> None:
        rest = iter(whole["findings"])
        assert all(any(one == other for other in rest) for one in told["findings"])
        assert told["counts"]["told_before"] == len(whole["findings"]) - len(told["findings"])
        assert "told_before" not in whole["counts"]

    every_night(law)


def test_nothing_is_lost_whatever_was_not_there_the_night_before_is_told() -> None:
    def law(before: Record, whole: Record, told: Record) -> None:
        known = [(loosely(one), set(one["tags"])) for one in before["findings"]]
        for finding in whole["findings"]:
            if not any(loosely(finding) == how and set(finding["tags"]) <= tags for how, tags in known):
                heavier = any(
                    one["name"] == finding["name"] and one["since"] == finding["since"] and one["when"] == "now"
                    for one in before["findings"]
                )
                assert finding in told["findings"] or (heavier and finding["when"] == "record"), finding["message"]

    every_night(law)


def test_every_finding_of_the_season_was_told_on_some_night() -> None:
    told_ever = {
        (one["name"], one["since"], tag)
        for _, _, told in season()
        for one in told["findings"]
        for tag in one["tags"] or [""]
    }
    for _, whole, _ in season():
        for finding in whole["findings"]:
            for tag in finding["tags"] or [""]:
                assert (finding["name"], finding["since"], tag) in told_ever, finding["message"]


def test_what_stands_as_it_stood_is_told_once() -> None:
    def law(before: Record, _: Record, told: Record) -> None:
        known = {strictly(finding) for finding in before["findings"]}
        again = [one for one in told["findings"] if strictly(one) in known and not over_its_time(one)]
        # a limit that draws near is put in other words when nobody will be there any more to keep it
        assert all(one["name"] in ("due", "drum standing loaded") for one in again), again

    every_night(law)


def test_what_runs_over_its_time_is_told_every_night_of_the_season() -> None:
    nights = 0
    for _, whole, told in season():
        for finding in whole["findings"]:
            if finding["name"] == "overdue" or over_its_time(finding):
                nights += 1
                assert finding in told["findings"]
    assert nights >= 3, "the season has such nights, or this says nothing"


def test_the_exit_code_speaks_of_everything_and_most_mails_are_short() -> None:
    lengths = []
    for checked, whole, told in season():
        assert checked.rings is (whole["counts"]["rings"] > 0)
        assert checked.news is (told["counts"]["rings"] > 0)
        lengths.append((len(told["findings"]), len(whole["findings"])))
    assert sum(told for told, _ in lengths) * 3 < sum(whole for _, whole in lengths)
    assert any(checked.rings and not checked.news for checked, _, _ in season()), (
        "a night on which nobody is woken again"
    )
