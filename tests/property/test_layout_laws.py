"""Sentences of the format about time, tried on made-up books."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hypothesis import given
from hypothesis import strategies as st

from hideledger.model.facts import (
    Amount,
    Arrived,
    Divided,
    Dumped,
    Fact,
    HandedOut,
    InCondition,
    LiftedOut,
    Lost,
    Mixed,
    Opened,
    Ran,
    Reading,
    Skipped,
    Span,
    StandsIn,
    Stepped,
    Took,
    ToppedUp,
    Turning,
    Weighed,
)
from hideledger.model.moments import Length, NoSuchTime, When
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.lengths import between, elapsed, rested
from hideledger.shopfloor.life import HideLife, Pause
from hideledger.shopfloor.who import declared
from tests.unit.little_book import Page, proof, quantity

HIDES = ("H41", "H42", "H43")
STEPS = ("fleshed", "salt", "pickle", "shaved", "drained", "frozen", "thawed")


@dataclass(frozen=True)
class Line:
    """One line to be written: day in November, minutes past midnight or none, who, what."""

    day: int
    minute: int | None
    who: str
    fact: Fact

    @property
    def stamp(self) -> str:
        """As `Page` takes it."""
        at = "" if self.minute is None else f" {self.minute // 60:02d}:{self.minute % 60:02d}"
        return f"2026-11-{self.day:02d}{at}"


facts: st.SearchStrategy[Fact] = st.one_of(
    st.builds(lambda name, where: Stepped(step=name, where=where), st.sampled_from(STEPS), st.sampled_from(("", "P3"))),
    st.just(LiftedOut(where="P3")),
    st.just(Weighed(weight=quantity("7", "lb"))),
)
hide_lines = st.builds(Line, st.integers(2, 4), st.none() | st.integers(0, 1439), st.sampled_from(HIDES), facts)
bath_lines = st.builds(
    Line,
    st.integers(2, 4),
    st.none() | st.integers(0, 1439),
    st.just("P3"),
    st.just(Reading(what="pH", value=quantity("2", "pH"))),
)
books = st.lists(st.one_of(hide_lines, hide_lines, bath_lines), max_size=14)


def written(lines: list[Line]) -> Page:
    """A book in which three hides come in and a pickle stands, and then these lines."""
    page = Page()
    page.line("2026-11-01 07:00", "P3", Mixed(vessel="V1"))
    for tag in HIDES:
        page.line("2026-11-01 08:00", tag, Arrived())
    for line in lines:
        page.line(line.stamp, line.who, line.fact)
    return page


def as_it_went(lines: list[Line]) -> list[Line]:
    """The same lines by someone who wrote each as it happened: no line with a time was forgotten and written late."""
    lines = sorted(lines, key=lambda line: line.day)
    times = iter(sorted((line.day, line.minute) for line in lines if line.minute is not None))
    return [line if line.minute is None else replace(line, minute=next(times)[1]) for line in lines]


def told(floor: Floor) -> object:
    """What a floor says of each hide and bath, without where it was written."""
    return (
        [
            (
                life.tag,
                [(m.name, m.when, m.where, m.line, m.fault, m.back, m.moved) for m in life.marks],
                [(s.name, s.start, s.end, s.where, s.goes_on, s.begun) for s in life.stays],
                [(p.name, p.start, p.end) for p in life.pauses],
                [(w.when, w.basis) for w in life.weights],
                [(m.line.title, None if m.before is None else m.before.when) for m in life.missing],
                None if life.raw is None else (life.raw.shop, life.raw.weighted, life.raw.running),
            )
            for life in sorted(floor.all_hides(), key=lambda life: life.tag)
        ],
        [
            (
                life.tag,
                sorted(
                    (m.hide.tag, m.enter.lo, m.enter.hi, 0 if m.leave is None else m.leave.lo) for m in life.members
                ),
                [r.when for r in life.readings],
            )
            for life in floor.all_baths()
        ],
    )


anything: st.SearchStrategy[Fact] = st.one_of(
    st.just(Arrived()),
    st.just(Arrived(count=3)),
    st.just(Lost()),
    st.just(HandedOut(to="Oren Vale")),
    st.just(Divided(parts=(("H42", "cape"), ("H43", "back skin")))),
    st.just(Opened(tags=("H41", "H44"), their_tags=("R-1",))),
    st.sampled_from(HIDES).map(lambda tag: StandsIn(other=tag)),
    st.sampled_from(("frozen", "wet salted", "green")).map(lambda condition: InCondition(condition=condition)),
    st.builds(
        lambda name, where, back, length, start, end: Stepped(
            step=name, where=where, back=back, span=Span(length=length, start=start, end=end)
        ),
        st.sampled_from((*STEPS, "", "first turn", "elsewhere")),
        st.sampled_from(("", "P3", "V1", "L14", "freezer", "P9")),
        st.booleans(),
        st.none() | st.integers(0, 90_000).map(lambda seconds: Length(seconds=seconds)),
        st.none() | st.integers(0, 1439),
        st.none() | st.integers(0, 1439),
    ),
    st.sampled_from(("P3", "V1", "D1", "freezer", "P9")).map(lambda where: LiftedOut(where=where)),
    st.sampled_from(STEPS).map(lambda name: Skipped(step=name)),
    st.booleans().map(lambda passed: proof("cut test", passed=passed, on="H41")),
    st.just(Weighed(weight=quantity("14", "lb"), together=True)),
    st.sampled_from(("V1", "D1", "")).map(lambda vessel: Mixed(vessel=vessel)),
    st.just(Took(amount=Amount(quantity=quantity("2", "gal"), supply="water"))),
    st.just(ToppedUp(volume=quantity("20", "gal"))),
    st.just(Dumped()),
    st.booleans().map(lambda on: Turning(on=on)),
    st.builds(lambda start, end: Ran(start=start, end=end), st.integers(0, 1439), st.integers(0, 1439)),
    st.just(Reading(what="temperature", value=quantity("60", "F"))),
)
wild_lines = st.lists(
    st.tuples(
        st.integers(1, 4),
        st.none() | st.integers(0, 1439),
        st.sampled_from(
            (*HIDES, "H44", "B7", "P3", "L14", "D1", "H41 H42", "all in P3", "all in freezer", "@room", "")
        ),
        st.lists(anything, max_size=3),
    ),
    max_size=14,
)


@given(wild_lines, st.integers(1, 5))
def test_whatever_was_written_is_laid_out(lines: list[tuple[int, int | None, str, list[Fact]]], day: int) -> None:
    """Nothing raises, and every line that counts and names a declared hide is among that hide's lines."""
    page = Page()
    for on, minute, who, what in lines:
        at = "" if minute is None else f" {minute // 60:02d}:{minute % 60:02d}"
        try:
            page.line(f"2026-11-{on:02d}{at}", who, *what)
        except NoSuchTime:
            continue
    floor = page.floor(f"2026-11-{day:02d} 12:00")
    assert len(floor.entries) + floor.later == len(page.entries)
    of_two_sorts = {tag for oddity in declared(page.book()).wrong for tag in oddity.tags}
    for entry in floor.entries:
        for tag in set(entry.tags) & set(floor.hides) - of_two_sorts:  # such a tag is told, and is either
            assert any(entry in life.lines or entry in life.after_end for life in floor.hides[tag])
    for bath in floor.all_baths():
        for member in bath.members:
            assert member.enter.lo >= bath.made_when.lo
            assert member.leave is None or member.leave.lo >= member.enter.lo
            assert member.leave is not None or bath.ended is None
    for life in floor.all_hides():
        assert [stay.end is None for stay in life.stays[:-1]].count(True) == 0
        assert life.raw is not None
        assert 0 <= life.raw.shop[0] <= life.raw.shop[1]


def named(line: Line) -> set[str]:
    """Every tag that a line names."""
    where = line.fact.where if isinstance(line.fact, Stepped | LiftedOut) else ""
    return {line.who, where} - {""}


@given(books, st.integers(0, 12))
def test_lines_of_different_hides_on_one_day_may_change_places(lines: list[Line], at: int) -> None:
    """`Keeps its place among the lines of that day that name the same tag`: others may stand in any order."""
    if at + 1 >= len(lines):
        return
    one, two = lines[at], lines[at + 1]
    if one.day != two.day:
        return
    hides = one.who != two.who and "P3" not in (one.who, two.who)
    if not hides and named(one) & named(two):
        return
    swapped = [*lines[:at], two, one, *lines[at + 2 :]]
    assert told(written(lines).floor()) == told(written(swapped).floor())


@given(books, st.integers(2, 4), st.integers(0, 1439))
def test_lines_after_the_moment_do_not_count(lines: list[Line], day: int, minute: int) -> None:
    """The book up to a moment gives the same as the whole book asked about that moment."""
    lines = as_it_went(lines)  # a line written late may have hidden what the one above it says
    stamp = f"2026-11-{day:02d} {minute // 60:02d}:{minute % 60:02d}"
    page = written(lines)
    moment = page.when(stamp).lo
    whole = page.floor(stamp)
    counted = {entry.order for entry in whole.entries}
    kept = [line for order, line in enumerate(lines, start=1 + len(HIDES)) if order in counted]
    assert whole.later == len(lines) - len(kept)
    for line in lines:
        if line.minute is not None:
            assert (line in kept) == (page.when(line.stamp).lo <= moment)
    assert told(whole) == told(written(kept).floor(stamp))


@given(books)
def test_ends_lie_after_beginnings_and_nobody_is_in_two_stays(lines: list[Line]) -> None:
    """Any step ends the stay before it."""
    for life in written(as_it_went(lines)).floor().all_hides():
        for stay in life.stays[:-1]:
            assert stay.end is not None
        for stay in life.stays:
            if stay.end is not None:
                assert stay.start.lo <= stay.end.lo
                assert stay.start.hi <= stay.end.hi
        for pause in life.pauses:
            if pause.end is not None:
                assert pause.start.lo <= pause.end.lo
                assert pause.start.hi <= pause.end.hi


@given(books)
def test_lines_of_one_tag_keep_their_order_on_the_page(lines: list[Line]) -> None:
    """A line without a time keeps its place among the lines of that day that name the same tag, unless it was written late."""
    untimed = as_it_went([line for line in lines if line.minute is None])
    for life in written(untimed).floor().all_hides():
        seen = [(m.entry.when.day, m.entry.order) for m in life.marks]
        assert seen == sorted(seen)


def unsure(instant: int, before: int, after: int) -> When:
    """A moment of which only a range is known."""
    return When(instant - before, instant + after, 1, False)


margins = st.tuples(st.integers(0, 50), st.integers(0, 50))


@given(
    instants=st.lists(st.integers(0, 200), min_size=6, max_size=6),
    vague=st.lists(margins, min_size=6, max_size=6),
    at_the_door=st.booleans(),
    still=st.booleans(),
    to_the_thaw=st.booleans(),
)
def test_a_length_holds_whatever_the_unknown_times_were(
    instants: list[int], vague: list[tuple[int, int]], *, at_the_door: bool, still: bool, to_the_thaw: bool
) -> None:
    """The range of a length without its rests holds the true one; two moments of one line have one true time."""
    first, froze, thawed, froze_again, thawed_again, last = sorted(instants)
    at = last + 100
    if at_the_door:
        froze = first
    if to_the_thaw:
        last = thawed_again
    start = unsure(first, *vague[0])
    thaw = unsure(thawed_again, *vague[4])
    end = thaw if to_the_thaw and not still else unsure(last, *vague[5])
    entry = Page().comes("2026-11-01 08:00", "H41")
    life = HideLife(tag="H41", arrived=entry, arrived_when=start)
    life.pauses = [
        Pause(
            name="frozen",
            start=start if at_the_door else unsure(froze, *vague[1]),
            entry=entry,
            end=unsure(thawed, *vague[2]),
        ),
        Pause(name="frozen", start=unsure(froze_again, *vague[3]), entry=entry, end=None if still else thaw),
    ]
    out_again = at if still else thawed_again
    truly = [(froze, thawed), (froze_again, out_again)]
    rest = sum(max(0, min(stop, last) - max(began, first)) for began, stop in truly)
    least, most = elapsed(life, start, end, at)
    assert least <= last - first - rest <= most
    least, most = rested(life, start, end, at)
    assert least <= rest <= most
    assert between(start, end)[0] <= last - first <= between(start, end)[1]
