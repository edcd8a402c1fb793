"""The clocks while they run: each thing is told once, the bell goes when it should, and a saved book is read again."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from hideledger.cli.book_watch import BookWatch
from hideledger.cli.clocks_live import Lines, Picture, fitting, keep_running
from hideledger.model.book import Book
from hideledger.model.moments import Clock
from hideledger.reading import read_book
from hideledger.text.files import BookTrouble
from tests.unit.clock_book import PICKLED, book_of, instant, saved

Told = list[str]
Captured = pytest.CaptureFixture[str]
AT = "2026-11-05 17:02"
NEUTRAL = "2026-11-05 16:40 H1 neutralised"


class Evening:
    """An evening that passes in no time: each sleep moves the clock on, and what was planned for a moment is done at it."""

    def __init__(self, start: int, seconds: int) -> None:
        self.now = float(start)
        self.end = start + seconds
        self.plans: dict[int, Callable[[], object]] = {}
        self.pictures: list[Picture] = []

    def time(self, _clock: Clock) -> float:
        return self.now

    def sleep(self, seconds: float) -> None:
        assert 0 < seconds <= 1
        self.now += seconds
        plan = self.plans.pop(int(self.now), None)
        if plan is not None:
            plan()
        if self.now >= self.end:
            raise KeyboardInterrupt

    def show(self, picture: Picture) -> None:
        self.pictures.append(picture)

    def told(self, *words: str) -> Told:
        """The lines of the log, those with one of the words."""
        lines = [
            (event.word, event.line(picture.now, picture.look.floor.book.clock))
            for picture in self.pictures
            for event in picture.events
        ]
        return [line for word, line in lines if word in words or not words]

    def bells(self) -> list[str]:
        return [
            f"{event.word} {picture.look.floor.book.clock.local(picture.now):%H:%M:%S}"
            for picture in self.pictures
            for event in picture.events
            if event.rings
        ]

    def run(self, book: Book, read: Callable[[], Book], changed: Callable[[], bool]) -> None:
        with pytest.raises(KeyboardInterrupt):
            keep_running(book, read=read, changed=changed, now=self.time, sleep=self.sleep, show=self.show)


def evening_over(book: Book, minutes: int, at: str = AT) -> Evening:
    """The clocks of a book that nobody saves."""
    evening = Evening(instant(book, at), minutes * 60)
    evening.run(book, lambda: book, lambda: False)
    return evening


def evening_at(folder: Path, seconds: int, plans: dict[int, Callable[[], object]]) -> Evening:
    """The clocks of a book in a folder, to which something is done so many seconds after the start."""
    paths = [str(folder)]
    book = read_book(paths)
    evening = Evening(instant(book, AT), seconds)
    evening.plans = {int(evening.now) + after: plan for after, plan in plans.items()}
    evening.run(book, lambda: read_book(paths), BookWatch(paths).changed)
    return evening


def test_each_thing_is_told_once_and_at_its_moment() -> None:
    evening = evening_over(book_of(NEUTRAL), 60)
    assert evening.told("running", "due", "time is up", "overdue") == [
        "2026-11-05 17:02 running: H1 neutralised, time is up 17:10",
        "2026-11-05 17:05 due: H1 neutralised, 5 min left, time is up 17:10",
        "2026-11-05 17:10 time is up: H1 neutralised since 16:40, 30 min at most",
        "2026-11-05 17:11 overdue: H1 neutralised, 1 min over",
    ]
    assert evening.bells() == ["due 17:05:00", "time is up 17:10:00", "overdue 17:11:00"]
    assert len(evening.told()) == len(set(evening.told()))


def test_the_first_line_says_what_is_watched() -> None:
    evening = evening_over(book_of(NEUTRAL), 1)
    assert evening.told()[0] == "2026-11-05 17:02 watching: 1 page, 8 lines; 1 clock over or to end today"


def test_a_short_shortest_time_rings_when_it_is_reached_and_a_long_one_does_not() -> None:
    evening = evening_over(book_of("2026-11-05 16:45 H1 neutralised"), 10)
    assert evening.told("ready")[-1] == "2026-11-05 17:05 ready: H1 neutralised, ready since 17:05"
    assert evening.bells() == ["ready 17:05:00", "due 17:10:00"]
    page = PICKLED.replace("10:00 H1 H2 H3 fleshed", "17:03 H1 H2 H3 fleshed")
    pickled = evening_over(book_of(page=page), 3)
    assert pickled.told("ready") == ["2026-11-05 17:03 ready: H1 thru H3 pickle in P1, ready since 17:03"]
    assert pickled.bells() == []


@pytest.mark.parametrize(
    ("limit", "due"),
    [("6 min", "17:06"), ("10 min", "17:09"), ("30 min", "17:27"), ("2 h", "18:50"), ("5 h", "21:32")],
)
def test_a_clock_is_due_a_tenth_before_its_end_within_five_and_thirty_minutes(limit: str, due: str) -> None:
    """From 17:02: 6 min end 17:08 less 2; 10 min 17:12 less 3; 30 min 17:32 less 5; 2 h 19:02 less 12; 5 h 22:02 less 30."""
    shop = "shop Tarrow Ridge Skins\n  zone America/Chicago\nprocess tub\n  in\n"
    shop += f"  soap stays at most {limit}\n  out\n"
    lines = "2026-11-05 17:00 H1 in, process tub\n2026-11-05 17:02 H1 soap\n"
    evening = evening_over(book_of(page=lines, shop=shop), 301)
    assert evening.told("due")[0].startswith(f"2026-11-05 {due} due: H1 soap, ")


def test_what_ends_while_nobody_is_there_is_due_before_closing() -> None:
    """A skin that came in at 17:00 is twelve hours raw at 5:00; the shop is left at 18:00."""
    book = book_of("2026-11-05 17:00 H5 in, whitetail cape, green", "2026-11-05 17:01 H5 fleshed")
    evening = evening_over(book, 40)
    assert [line for line in evening.told("due") if "H5" in line] == [
        "2026-11-05 17:30 due: H5 raw, 11 h 30 min left, time is up tomorrow 05:00, when nobody is there; act before closing, 18:00"
    ]


def test_a_stopped_drum_rings_for_nobody_and_goes_on_where_it_stood() -> None:
    """Fifty minutes at most, on at 16:20, off at 17:08 with two minutes left, on again at 17:30: time is up at 17:32."""
    lines = ["2026-11-05 16:05 L1 mixed in D1", "2026-11-05 16:10 H1 first turn in L1", "2026-11-05 16:20 L1 on"]
    lines += ["2026-11-05 17:08 L1 off", "2026-11-05 17:30 L1 on"]
    evening = evening_over(book_of(*lines), 32)
    assert evening.told("due", "stands", "goes on", "time is up", "overdue") == [
        "2026-11-05 17:05 due: H1 first turn in L1, 5 min left, time is up 17:10",
        "2026-11-05 17:08 stands: H1 first turn in L1, 2 min left",
        "2026-11-05 17:30 goes on: H1 first turn in L1, time is up 17:32",
        "2026-11-05 17:32 time is up: H1 first turn in L1 since 16:10, 50 min at most, turned 50 min",
        "2026-11-05 17:33 overdue: H1 first turn in L1, 1 min over",
    ]
    assert evening.bells() == ["due 17:05:00", "time is up 17:32:00", "overdue 17:33:00"]


def test_a_clock_without_a_known_start_may_be_up_before_it_is() -> None:
    evening = evening_over(book_of("2026-11-05 17:02 H1 soap", "2026-11-05 H2 neutralised"), 2, "2026-11-05 17:30")
    (line,) = evening.told("time may be up")
    assert line == "2026-11-05 17:30 time may be up: H2 neutralised since some time today, 30 min at most"


def add(page: Path, line: str) -> Callable[[], object]:
    """Saves the page with a line more, the way an editor does that writes another file and moves it there."""

    def save() -> None:
        new = page.with_name("new~")
        new.write_text(page.read_text(encoding="utf-8") + line + "\n", encoding="utf-8", newline="\n")
        os.replace(new, page)

    return save


def test_a_book_saved_by_renaming_is_read_again(tmp_path: Path) -> None:
    page = saved(tmp_path / "book", [NEUTRAL, "2026-11-05 16:45 H2 neutralised"])
    evening = evening_at(tmp_path / "book", 600, {20: add(page, "2026-11-05 17:02 H1 tan")})
    assert evening.told("read again") == [f"2026-11-05 17:02 read again: {page} changed; 10 lines"]
    assert evening.told("ended") == ["2026-11-05 17:02 ended: H1 neutralised"]
    assert [line for line in evening.told("due", "overdue") if "H1 n" in line] == []
    # read within two looks of the saving, which a second apart
    (found,) = (p for p in evening.pictures if any(event.word == "read again" for event in p.events))
    assert found.now - evening.pictures[0].now in (21, 22)


def test_pages_may_come_and_go(tmp_path: Path) -> None:
    page = saved(tmp_path / "book", [NEUTRAL])
    other = page.with_name("december.hides")
    plans: dict[int, Callable[[], object]] = {
        10: lambda: other.write_text("2026-11-05 17:02 H2 neutralised\n", encoding="utf-8"),
        20: lambda: other.rename(other.with_name("winter.hides")),
        30: lambda: os.utime(page),
    }
    evening = evening_at(tmp_path / "book", 40, plans)
    assert evening.told("read again", "ended", "running", "cannot be read now")[1:] == [
        f"2026-11-05 17:02 read again: {other} is new; 9 lines",
        "2026-11-05 17:02 ended: H2 pickle in P1",
        "2026-11-05 17:02 running: H2 neutralised, ready 17:22",
        "2026-11-05 17:02 running: H2 neutralised, time is up 17:32",
        f"2026-11-05 17:02 read again: {other.with_name('winter.hides')} is new, {other} is gone; 9 lines",
        # nothing is ended by another name, and nothing is told of a page that was only touched
    ]


def test_a_page_taken_away_ends_no_clock_and_leaves_the_last_sheet_standing(tmp_path: Path) -> None:
    page = saved(tmp_path / "book", ["2026-11-05 16:20 H1 neutralised"])
    away = page.with_name("away")
    plans: dict[int, Callable[[], object]] = {10: lambda: page.rename(away), 40: lambda: away.rename(page)}
    evening = evening_at(tmp_path / "book", 60, plans)
    assert evening.told("ended") == []
    assert evening.told("cannot be read now", "read again") == [
        f"2026-11-05 17:02 cannot be read now: {page} is no longer there: put it back, or end the clocks and begin them again without it; what was read before stands",
        "2026-11-05 17:02 read again: nothing changed; 8 lines",
    ]
    assert evening.bells() == ["overdue 17:02:00"]
    while_away = [picture for picture in evening.pictures if picture.trouble]
    assert len(while_away) > 20
    assert all(picture.look.clocks for picture in while_away)


def test_a_page_that_an_editor_empties_before_it_fills_it_ends_no_clock(tmp_path: Path) -> None:
    page = saved(tmp_path / "book", [NEUTRAL])
    whole = page.read_bytes()
    plans: dict[int, Callable[[], object]] = {10: lambda: page.write_bytes(b""), 11: lambda: page.write_bytes(whole)}
    quiet = evening_at(tmp_path / "book", 30, {})
    assert evening_at(tmp_path / "book", 30, plans).told() == quiet.told()


def test_a_limit_changed_in_the_shop_page_moves_the_clock_and_rings_anew(tmp_path: Path) -> None:
    """Thirty minutes from 16:40 are due at 17:05 and end at 17:10; forty, written at 17:07, are due at 17:15."""
    shop = saved(tmp_path / "book", [NEUTRAL]).with_name("shop.hides")
    longer = shop.read_text(encoding="utf-8").replace("20 min to 30 min", "20 min to 40 min")
    evening = evening_at(tmp_path / "book", 900, {300: lambda: shop.write_text(longer, encoding="utf-8", newline="\n")})
    assert evening.told("due", "moved", "time is up") == [
        "2026-11-05 17:05 due: H1 neutralised, 5 min left, time is up 17:10",
        "2026-11-05 17:07 moved: H1 neutralised, time is up 17:20",
        "2026-11-05 17:15 due: H1 neutralised, 5 min left, time is up 17:20",
    ]
    assert evening.bells() == ["due 17:05:00", "due 17:15:00"]


def test_a_page_caught_half_saved_leaves_the_last_sheet_standing(tmp_path: Path) -> None:
    page = saved(tmp_path / "book", [NEUTRAL])
    whole = page.read_bytes()
    plans: dict[int, Callable[[], object]] = {
        10: lambda: page.write_bytes(whole[:400] + b"\xc3"),
        16: lambda: page.write_bytes(whole + b"2026-11-05 17:02 H1 tan\n"),
    }
    evening = evening_at(tmp_path / "book", 30, plans)
    words = [line.split(": ")[0][17:] for line in evening.told("cannot be read now", "read again", "ended")]
    assert words == ["cannot be read now", "read again", "ended"]
    troubled = [picture for picture in evening.pictures if picture.trouble]
    assert 3 <= len(troubled) <= 7
    assert all("0xc3 is no UTF-8" in picture.trouble for picture in troubled)
    assert all(len(picture.look.clocks) == len(evening.pictures[0].look.clocks) for picture in troubled)
    assert evening.pictures[-1].trouble == ""


def test_a_page_that_stays_closed_is_told_like_any_line_not_understood(tmp_path: Path) -> None:
    page = saved(tmp_path / "book", [NEUTRAL])
    evening = evening_at(tmp_path / "book", 40, {5: lambda: page.write_bytes(b"\xff\xfe2\x000\x00")})
    assert len(evening.told("cannot be read now")) == 1
    assert ["UTF-16" in line for line in evening.told("not understood")] == [True]
    assert evening.pictures[-1].trouble == ""


def test_a_book_that_is_gone_is_waited_for() -> None:
    book, calls = book_of(NEUTRAL), iter(range(100))

    def read() -> Book:
        if next(calls) < 5:
            raise BookTrouble("book: there is no such file or folder")
        return book

    evening = Evening(instant(book, AT), 20)
    times = iter([False, True])
    evening.run(book, read, lambda: next(times, False))
    assert evening.told("cannot be read now", "read again") == [
        "2026-11-05 17:02 cannot be read now: book: there is no such file or folder; what was read before stands",
        "2026-11-05 17:02 read again: nothing changed; 8 lines",
    ]


def test_a_line_not_understood_is_told_once_and_once_more_when_all_is_mended(tmp_path: Path) -> None:
    page = saved(tmp_path / "book", [NEUTRAL])
    text = page.read_text(encoding="utf-8")
    plans: dict[int, Callable[[], object]] = {
        10: add(page, "2026-11-05 17:02 H1 tann"),
        20: add(page, "# a comment more"),
        30: lambda: page.write_text(text, encoding="utf-8", newline="\n"),
    }
    evening = evening_at(tmp_path / "book", 40, plans)
    (line,) = evening.told("not understood")
    assert f"{page}:9:21: `tann` is no step" in line
    assert len(evening.told("understood")) == 1
    assert len(evening.told("read again")) == 3


def test_lines_are_harmless_and_one_each(tmp_path: Path, capsys: Captured) -> None:
    page = saved(tmp_path / "book", ["2026-11-05 17:01 H1 \x1b[2J gone"])
    evening = evening_at(page.parent, 2, {})
    lines = Lines(bell=False, reader_is_there=lambda: True)
    for picture in evening.pictures:
        lines(picture)
    out = capsys.readouterr().out
    assert "\\x1b" in out
    assert out.replace("\n", "").isprintable()
    assert all(line[:16] == AT for line in out.split("\n")[:-1])


def test_when_the_reader_is_gone_no_further_line_is_waited_for() -> None:
    evening = evening_over(book_of(NEUTRAL), 1)
    with pytest.raises(BrokenPipeError):
        Lines(bell=False, reader_is_there=lambda: False)(evening.pictures[-1])


@pytest.mark.parametrize("rows", [3, 5, 8, 12, 23, 60])
def test_the_sheet_fits_the_screen_and_keeps_what_is_most_pressing(rows: int) -> None:
    lines = ["2026-11-05 16:20 H1 neutralised", "2026-11-05 16:40 H2 neutralised", "2026-11-05 17:00 H3 neutralisd"]
    picture = evening_over(book_of(*lines), 1).pictures[-1]
    for columns in (30, 50, 80, 200):
        shown = fitting(picture, columns, rows)
        assert all(len(text) < columns for text, _ in shown)
        if rows >= 12 and columns >= 50:
            assert len(shown) <= rows
        assert [text for text, _ in shown if "12 min over" in text] != []
