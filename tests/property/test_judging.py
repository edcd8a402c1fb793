"""Sentences about judging, tried on made-up books."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hideledger.model.moments import DAY, HOUR, MINUTE
from hideledger.reading import read_text
from hideledger.rules.finding import Finding
from hideledger.rules.judge import judge
from hideledger.shopfloor.layout import lay_out

SHOP = """shop Bramble Lane Skins
  zone America/Chicago
  hours 7:00 to 18:00, Mon to Sat
  gallons US
  degrees F
  room 66 F
  quiet after 3 d
vessel V1, vat, 40 gal, holds 3
vessel D1, drum, 19 gal, holds 2, at most 10 psi, stands at most 14 h
place freezer, at most 5 F
kind cape, counts 1, process both
supply citric acid
process both
  in            needs pull test
  fleshed       within 12 h of in
  salt          stays 24 h to 14 d, optional, raw clock stops
  pickle        stays 1 d to 3 d, pH 0.8 to 2.2, read every day, stirred every 12 h, raw clock stops
  shaved        optional
  pickle again  stays at least 12 h, within 4 h of shaved, pH 0.8 to 2.2, optional
  first turn    runs 30 min to 50 min, in a bath, note pressure, optional
  neutralised   stays 15 min to 30 min
  bagged        stays at most 5 d, optional
  out
  raw at most 12 h at 66 F
  may rest frozen at most 9 mo, after in or fleshed, raw clock stops

"""
FIRST_DAY = "2026-10-28"  # the clocks go back on 2026-11-01, inside the four weeks that the books cover
SLOW = settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow])


@dataclass(frozen=True)
class Line:
    """One line: minutes after the first midnight, whether its time is written, and the rest."""

    minute: int
    timed: bool
    rest: str

    @property
    def tags(self) -> frozenset[str]:
        return frozenset(word for word in self.rest.split() if word[0] in "HPL" and word[1:].isdecimal())


def written(line: Line) -> str:
    day, minute = divmod(line.minute, 1440)
    month, date = (10, 28 + day) if day < 4 else (11, day - 3)
    stamp = f"2026-{month:02}-{date:02}"
    return f"{stamp} {minute // 60:02}:{minute % 60:02} {line.rest}" if line.timed else f"{stamp} {line.rest}"


HIDE_LINES = (
    "fleshed", "salt", "pickle", "pickle in P1", "pickle in P2", "shaved", "first turn in L1", "neutralised", "neutralised 20 min",
    "out of P1", "frozen in freezer", "thawed", "bagged", "out to NAME", "pull test ok", "cut test fails, neck", "slip, left ear",
    "7 lb", "skipped salt -- fresh", "waived overdue -- thick", "back in P1 -- thin line", "keep apart -- mange", "promised 2026-11-10",
)  # fmt: skip
BATH_LINES = (
    "P1 pH 2.0", "P1 pH 2.9 meter", "P1 stirred", "P1 add 8 oz citric acid", "P2 pH 2.1 strip", "P1 dumped 20 gal, pH 6.8, sewer",
    "L1 on, 9 psi", "L1 5 psi", "L1 off", "L1 vented",
)  # fmt: skip
MINUTES = st.integers(min_value=0, max_value=24 * 1440)


@st.composite
def books(draw: st.DrawFn) -> list[Line]:
    """Lines of four hides, two pickles and a load, in order of time; a few without a time."""
    lines = [
        Line(minute=420, timed=True, rest="P1 mixed in V1, 20 gal water"),
        Line(minute=421, timed=True, rest="P2 mixed, 20 gal water"),
        Line(minute=422, timed=True, rest="L1 mixed in D1, 9 qt water"),
    ]
    for hide in ("H1", "H2", "H3", "H4"):
        lines.append(Line(minute=draw(st.integers(430, 5000)), timed=True, rest=f"{hide} in, process both"))
        lines += [
            Line(minute=draw(MINUTES), timed=draw(st.integers(0, 5)) > 0, rest=f"{hide} {what}")
            for what in draw(st.lists(st.sampled_from(HIDE_LINES), max_size=7))
        ]
    lines += [
        Line(minute=draw(MINUTES), timed=True, rest=what)
        for what in draw(st.lists(st.sampled_from(BATH_LINES), max_size=8))
    ]
    # 01:00 to 01:59 on 2026-11-01 comes twice, which is a matter of its own
    kept = [line for line in lines if not 4 * 1440 + 60 <= line.minute < 4 * 1440 + 120]
    return sorted(kept, key=lambda line: line.minute)


def found(lines: list[Line], at_minute: int, more: str = "") -> list[Finding]:
    book = read_text(SHOP + "\n".join([*map(written, lines), more]) + "\n")
    assert [complaint.text for complaint in book.unread if complaint.text not in more] == []
    midnight = book.clock.day_start(book.clock.day_of(book.clock.at(739917, 0).lo))  # 739917 is 2026-10-28
    return judge(lay_out(book, midnight + at_minute * MINUTE))


def pairs(findings: list[Finding], *, but: str = "", live: bool = False) -> set[tuple[str, str, bool, str]]:
    """Each hide or bath with what is said of it, however the findings were told together."""
    return {
        (finding.when, finding.name, finding.may, tag)
        for finding in findings
        for tag in finding.tags
        if tag != but and (finding.when != "record" or not live)
    }


@SLOW
@given(books(), st.integers(0, 26 * 1440))
def test_the_same_book_at_the_same_moment_gives_the_same(lines: list[Line], at: int) -> None:
    """The same book and the same `--at` give the same bytes."""
    once, again = found(lines, at), found(lines, at)
    assert [replace(one, entry=None) for one in once] == [replace(one, entry=None) for one in again]
    assert [one.entry.text for one in once if one.entry] == [one.entry.text for one in again if one.entry]


@SLOW
@given(books(), st.integers(0, 10 * 1440))
def test_a_hide_nobody_touched_stays_overdue(lines: list[Line], later: int) -> None:
    """What is overdue stays so until somebody writes a line about it."""
    last = max(line.minute for line in lines) + 1441  # an untimed line may lie as late as its midnight
    before = {(name, tag) for _, name, may, tag in pairs(found(lines, last)) if name == "overdue" and not may}
    after = {(name, tag) for _, name, may, tag in pairs(found(lines, last + later)) if name == "overdue" and not may}
    assert {tag for _, tag in before if tag[0] == "H"} <= {tag for _, tag in after}


@SLOW
@given(books(), st.integers(0, 10 * 1440), st.integers(0, 10 * 1440))
def test_since_when_it_is_overdue_does_not_hang_on_when_one_looks(lines: list[Line], first: int, later: int) -> None:
    """A limit is passed at one moment, and every later look says that one."""
    last = max(line.minute for line in lines) + 1441
    told = [
        {
            (str(one.rule), one.tags): one.since
            for one in found(lines, last + first + more)
            if one.name == "overdue" and not one.may
        }
        for more in (0, later)
    ]
    assert {key: told[1][key] for key in told[0] if key in told[1]} == {
        key: since for key, since in told[0].items() if key in told[1]
    }


@SLOW
@given(books(), st.data())
def test_one_bad_line_changes_nothing_live_about_other_hides(lines: list[Line], data: st.DataObject) -> None:
    """One bad line never hides the rest."""
    place = data.draw(st.integers(3, len(lines)))
    at = max(line.minute for line in lines) + 60
    bad = Line(minute=lines[place - 1].minute, timed=True, rest="H1 flezhd and what not")
    book = read_text(SHOP + "\n".join(map(written, [*lines[:place], bad, *lines[place:]])) + "\n")
    assert len(book.unread) == 1
    with_bad = judge(lay_out(book, book.clock.at(739917, 0).lo + at * MINUTE))
    assert pairs(with_bad, but="H1", live=True) == pairs(found(lines, at), but="H1", live=True)


@SLOW
@given(books(), st.data())
def test_lines_of_different_hides_on_one_day_may_change_places(lines: list[Line], data: st.DataObject) -> None:
    """Lines of one day that name no tag in common may stand in either order."""
    at = max(line.minute for line in lines) + 60
    near = [
        i
        for i in range(len(lines) - 1)
        if lines[i].minute // 1440 == lines[i + 1].minute // 1440 and not lines[i].tags & lines[i + 1].tags
    ]
    if not near:
        return
    i = data.draw(st.sampled_from(near))
    swapped = [*lines[:i], lines[i + 1], lines[i], *lines[i + 2 :]]
    assert pairs(found(swapped, at)) == pairs(found(lines, at))


ANYTHING = (
    "H1 H2 pickle in P1", "all in P1 shaved", "all in P1 but H2 out of P1", "all in V1 pickle in P2", "H1 cut into H1a cape, H1b back skin",
    "H1a pickle in P1", "H1b out to NAME", "H9 fleshed", "H3 replaces H1", "B1 in, 3 capes, frozen", "B1 opened, H21 H22", "H21 thawed",
    "H22 fleshed, salt", "H2 lost -- torn", "H2 in, process both", "P1 mixed in V1, 20 gal water", "P3 mixed in V1, 30 gal water",
    "V1 topped up to 38 gal", "P1 topped up to 45 gal", "L1 ran 8:20 to 9:00, 12 psi", "L1 pressed to 12 psi", "D1 on", "D1 off",
    "L1 cut test ok, H2 neck", "P1 dumped, sewer", "P1 dumped 20 gal, pH 2.4, sewer", "room 81 F", "freezer 30 F", "counted 40 lb salt",
    "H1 H2 together 14 lb drained", "P1 waived reading due -- closed", "H4 waived not recorded", "H4 tumbled", "remark all well", "H4 5 lb shaved",
    "H3 frozen", "H3 out of freezer", "H4 first turn 40 min", "H4 neutralised 9:00 to 9:40", "all in L1 bagged", "L1 add 3 oz soda ash",
)  # fmt: skip


@SLOW
@given(
    books(),
    st.lists(st.tuples(MINUTES, st.booleans(), st.sampled_from(ANYTHING)), max_size=25),
    st.integers(0, 40 * 1440),
    st.sampled_from((None, 0, HOUR, 7 * DAY)),
)
def test_nothing_raises_and_every_finding_can_be_told(
    lines: list[Line], more: list[tuple[int, bool, str]], at: int, ahead: int | None
) -> None:
    """Nothing raises to the user: whatever stands in a book, it is judged."""
    lines = [*lines, *(Line(minute=minute, timed=timed, rest=rest) for minute, timed, rest in more)]
    lines.sort(key=lambda line: line.minute)
    book = read_text(SHOP + "\n".join(map(written, lines)) + "\n")
    for finding in judge(lay_out(book, book.clock.at(739917, 0).lo + at * MINUTE), ahead=ahead):
        assert finding.when in ("now", "tonight", "record")
        assert finding.message
        assert finding.do
        assert "{" not in finding.do
        # what does not ring has no hour: a bath with nobody in it is to be seen to before the next skins
        assert finding.when != "tonight" or not finding.rings or (finding.over_s is not None and finding.over_s <= 0)
        assert len(set(finding.tags)) == len(finding.tags)


@given(
    began=st.integers(0, 20 * DAY // MINUTE),
    stayed=st.integers(0, 40 * HOUR // MINUTE),
    limit=st.integers(1, 36),
)
@settings(deadline=None, max_examples=150)
def test_overdue_is_real_time_past_the_limit_and_no_less(began: int, stayed: int, limit: int) -> None:
    """Limits are kept when met exactly; durations are real elapsed time, so a night when the clocks change is right."""
    began = began if not 4 * 1440 + 60 <= began < 4 * 1440 + 120 else 4 * 1440
    book = read_text(
        "shop Bramble Lane Skins\n  zone America/Chicago\n"
        f"process one\n  in\n  soaked  stays at most {limit} h\n  out\n\n"
        f"2026-10-27 12:00 H1 in\n{written(Line(minute=began, timed=True, rest='H1 soaked'))}\n"
    )
    assert not book.unread
    # reckoned by the standard library alone: wall clock to UTC through zoneinfo, then plain seconds
    wall = datetime(2026, 10, 28) + timedelta(minutes=began)
    start = int(wall.replace(tzinfo=ZoneInfo("America/Chicago")).astimezone(UTC).timestamp())
    at = start + stayed * MINUTE
    over = stayed * MINUTE - limit * HOUR
    told = [finding for finding in judge(lay_out(book, at)) if finding.name == "overdue"]
    assert [finding.over_s for finding in told] == ([over] if over > 0 else [])
