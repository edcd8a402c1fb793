"""Which written step of a hide is which line of its process: cases worked by hand, laws, a slow reckoning of the cost.

Sources. Going back into the pickle after shaving, and washing more than once: practitioners in a tanning forum, 1999
and 2000 (washing capes before or after the pickle). Which order is right for which hide is the shop's; the processes
below are made up. What is left over when two rows are laid side by side: R. A. Wagner and M. J. Fischer, "The
String-to-String Correction Problem", Journal of the ACM 21 (1974), cited from memory.
"""

from collections.abc import Iterator
from functools import cache
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hideledger.shopfloor.alignment import Alignment, Slot, align, align_anew

Slots = tuple[Slot, ...]
Written = tuple[str, ...]


def slots_of(text: str) -> Slots:
    """`salt, shaved?` as two slots, the second optional."""
    names = [name.strip() for name in text.split(",") if name.strip()]
    return tuple(Slot(name=name.removesuffix("?"), optional=name.endswith("?")) for name in names)


def steps_of(text: str) -> Written:
    """`salt, shaved` as two written steps."""
    return tuple(name.strip() for name in text.split(",") if name.strip())


def told(slots: Slots, written: Written, found: Alignment) -> str:
    """What was found, as the table below writes it.

    Each written step with the slot it is taken as (counted from 0) and `back`, `swapped` or `extra`; then what is
    missing, as `slot before written step`.
    """
    words = []
    for i in range(len(written)):
        word = "" if found.slot_of[i] is None else str(found.slot_of[i])
        if i in found.back:
            word += " back"
        if (i, found.slot_of[i]) in found.swapped:
            word += " swapped"
        if i in found.extra:
            word += " extra"
        words.append(word.strip())
    lost = [f"no {slots[slot].name} {slot} before {before}" for slot, before in found.missing]
    return "; ".join([", ".join(words), *lost])


BOTH = "in, fleshed, salt?, pickle, shaved?, pickle?, first turn, second turn, drained, oiled, out"
SHORT = "in, fleshed, salt, pickle, tan, out"
WASHES = "in, wash, pickle, wash, tan, wash, out"

# what it is, the process, what was written, out or here, what each line is taken as and what is missing, raw cost
CASES = [
    # the whole way
    ("every line there", SHORT, "in, fleshed, salt, pickle, tan, out", "out", "0, 1, 2, 3, 4, 5", 0),
    (
        "an optional step costs nothing when it is absent",
        BOTH,
        "in, fleshed, pickle, first turn, second turn, drained, oiled, out",
        "out",
        "0, 1, 3, 6, 7, 8, 9, 10",
        0,
    ),
    ("nothing written, out", "in, out", "", "out", "; no in 0 before 0; no out 1 before 0", 2),
    ("no process at all", "", "fleshed, salt", "out", "extra, extra", 2),
    # one forgotten line: one missing, and the rest in place
    (
        "forgotten in the middle",
        SHORT,
        "in, fleshed, pickle, tan, out",
        "out",
        "0, 1, 3, 4, 5; no salt 2 before 2",
        1,
    ),
    ("forgotten at the end", SHORT, "in, fleshed, salt, pickle, tan", "out", "0, 1, 2, 3, 4; no out 5 before 5", 1),
    ("forgotten at the door", SHORT, "fleshed, salt, pickle, tan, out", "out", "1, 2, 3, 4, 5; no in 0 before 0", 1),
    (
        "two forgotten side by side",
        SHORT,
        "in, fleshed, tan, out",
        "out",
        "0, 1, 4, 5; no salt 2 before 2; no pickle 3 before 2",
        2,
    ),
    (
        "the middle one of three washes",
        WASHES,
        "in, wash, pickle, tan, wash, out",
        "out",
        "0, 1, 2, 4, 5, 6; no wash 3 before 3",
        1,
    ),
    (
        "shaving forgotten between two pickles that are both asked for",
        "in, pickle, shaved, pickle, tan",
        "in, pickle, pickle, tan",
        "out",
        "0, 1, 3, 4; no shaved 2 before 2",
        1,
    ),
    # what the process does not have
    (
        "a step of another process",
        SHORT,
        "in, fleshed, salt, dyed, pickle, tan, out",
        "out",
        "0, 1, 2, extra, 3, 4, 5",
        1,
    ),
    # swaps
    (
        "two neighbours swapped: the earlier line stands",
        SHORT,
        "in, fleshed, pickle, salt, tan, out",
        "out",
        "0, 1, 3, 2 swapped, 4, 5",
        2,
    ),
    (
        "one step written three places late",
        SHORT,
        "in, salt, pickle, tan, fleshed, out",
        "out",
        "0, 2, 3, 4, 1 swapped, 5",
        2,
    ),
    (
        "the second wash came before the pickle, and none after",
        "wash, pickle, wash, tan",
        "wash, wash, pickle, tan",
        "out",
        "0, 2, 1 swapped, 3",
        2,
    ),
    (
        "too early, and again in its place: the early line is the fault",
        "in, fleshed, salt",
        "fleshed, in, fleshed, salt",
        "out",
        "extra, 0, 1, 2",
        1,
    ),
    (
        "an optional step in the wrong place",
        "in, salt?, pickle, out",
        "in, pickle, salt, out",
        "out",
        "0, 2, extra, 3",
        1,
    ),
    (
        "too early, and once more too late: two faults",
        "in, salt?, pickle, out",
        "salt, in, pickle, salt, out",
        "out",
        "extra, 0, 2, extra, 3",
        2,
    ),
    (
        "two washes missing and one out of place: it is the nearer one, here the one before",
        "pickle, wash, turned, drained, sweated, oiled, wash, out",
        "pickle, turned, wash, drained, sweated, oiled, out",
        "out",
        "0, 2, 1 swapped, 3, 4, 5, 7; no wash 6 before 6",
        3,
    ),
    (
        "two washes missing and one out of place: it is the nearer one, here the one after",
        "pickle, wash, turned, drained, sweated, oiled, bagged, combed, wash, out",
        "pickle, turned, drained, sweated, oiled, wash, bagged, combed, out",
        "out",
        "0, 2, 3, 4, 5, 8 swapped, 6, 7, 9; no wash 1 before 1",
        3,
    ),
    # which of two places
    ("early among equals: the first pickle", BOTH, "in, fleshed, pickle", "here", "0, 1, 3", 0),
    ("after shaving it is pickle again", BOTH, "in, fleshed, pickle, shaved, pickle", "here", "0, 1, 3, 4, 5", 0),
    (
        "after shaving it is pickle again, and the first was forgotten",
        BOTH,
        "in, fleshed, shaved, pickle",
        "here",
        "0, 1, 4, 5; no pickle 3 before 2",
        1,
    ),
    # going back
    ("salted once more", SHORT, "in, fleshed, salt, salt, pickle, tan, out", "out", "0, 1, 2, 2 back, 3, 4, 5", 1),
    (
        "a wash once more, where three are in the process",
        WASHES,
        "in, wash, pickle, wash, pickle, wash, tan, wash, out",
        "out",
        "0, 1, 2, 3, 2 back, 3 back, 4, 5, 6",
        2,
    ),
    (
        "back to the pickle after the first turn, and turned again: judged as pickle again",
        BOTH,
        "in, fleshed, pickle, shaved, pickle, first turn, pickle, first turn, second turn, drained, oiled, out",
        "out",
        "0, 1, 3, 4, 5, 6, 5 back, 6 back, 7, 8, 9, 10",
        2,
    ),
    (
        "back from the first turn, and only now shaved: turned twice, no fault",
        BOTH,
        "in, fleshed, pickle, first turn, pickle, shaved, pickle, first turn, second turn, drained, oiled, out",
        "out",
        "0, 1, 3, 6 back, 5 back, 4, 5, 6, 7, 8, 9, 10",
        2,
    ),
    (
        "a later place of the wash must not turn the going back into a fault of the step after it",
        "wash, degreased?, pickle?, wash?, tan",
        "wash, degreased, wash, pickle, tan",
        "out",
        "0, 1, 0 back, 2, 4",
        1,
    ),
    (
        "a forgotten line and a going back that does not cross it",
        SHORT,
        "in, fleshed, pickle, tan, pickle, tan, out",
        "out",
        "0, 1, 3, 4, 3 back, 4 back, 5; no salt 2 before 2",
        3,
    ),
    (
        "a forgotten line and the same step twice before it",
        SHORT,
        "in, fleshed, fleshed, pickle, tan, out",
        "out",
        "0, 1, 1 back, 3, 4, 5; no salt 2 before 3",
        2,
    ),
    (
        "back across what is missing is no going back; told once, not for each line after",
        SHORT,
        "in, fleshed, pickle, fleshed, fleshed, tan, out",
        "out",
        "0, 1, 3, extra, 1 back, 4, 5; no salt 2 before 2",
        3,
    ),
    (
        "back across what is missing, though the process has the step once more later",
        "wash, salt, pickle, shaved, wash, tan",
        "wash, pickle, wash, shaved, wash, tan",
        "out",
        "0, 2, extra, 3, 4, 5; no salt 1 before 1",
        2,
    ),
    (
        "sent back from the second wash, which no line had before",
        "wash?, salt, pickle, shaved?, wash?, turned",
        "salt, pickle, wash, pickle, shaved, wash, turned",
        "out",
        "1, 2, 4 back, 2 back, 3, 4, 5",
        2,
    ),
    (
        "back across a step that was only swapped is a going back",
        SHORT,
        "in, fleshed, pickle, fleshed, salt, tan, out",
        "out",
        "0, 1, 3, 1 back, 2 swapped, 4, 5",
        3,
    ),
    # while the hide is here
    ("nothing written yet", SHORT, "", "here", "", 0),
    ("only a step of another process", SHORT, "dyed", "here", "extra", 1),
    ("nothing after the present step is missing", SHORT, "in, fleshed", "here", "0, 1", 0),
    ("forgotten before the present step", SHORT, "in, fleshed, pickle", "here", "0, 1, 3; no salt 2 before 2", 1),
    (
        "the present step is true, though taking it for an error would cost less",
        SHORT,
        "in, fleshed, out",
        "here",
        "0, 1, 5; no salt 2 before 2; no pickle 3 before 2; no tan 4 before 2",
        3,
    ),
    (
        "a step of another process after the present one leaves the present one true",
        SHORT,
        "in, fleshed, tan, dyed",
        "here",
        "0, 1, 4, extra; no salt 2 before 2; no pickle 3 before 2",
        3,
    ),
    (
        "done late and standing there: the line before is over",
        SHORT,
        "in, fleshed, pickle, salt",
        "here",
        "0, 1, extra, 2",
        1,
    ),
    ("gone back and standing there", SHORT, "in, fleshed, salt, pickle, salt", "here", "0, 1, 2, 3, 2 back", 1),
    (
        "gone back, standing there, over a line that was forgotten: the one missing line and no more",
        SHORT,
        "in, fleshed, pickle, fleshed",
        "here",
        "0, 1, 3, 1 back; no salt 2 before 2",
        2,
    ),
    (
        "standing in the pickle for the third time",
        BOTH,
        "in, fleshed, pickle, shaved, pickle, first turn, pickle",
        "here",
        "0, 1, 3, 4, 5, 6, 5 back",
        1,
    ),
    (
        "sent back, shaved now for the first time, not yet turned again",
        BOTH,
        "in, fleshed, pickle, first turn, pickle, shaved",
        "here",
        "0, 1, 3, 6 back, 5 back, 4",
        2,
    ),
    (
        "shaved after the first turn and not sent back: the turn is in the wrong place",
        "pickle, shaved?, first turn, second turn",
        "pickle, first turn, shaved, pickle, shaved",
        "here",
        "0, extra, 1, 0 back, 1 back",
        3,
    ),
    (
        "the line it stands at is not told as the one that is missing",
        "pickle, shaved, pickle, first turn, second turn, oiled, out",
        "pickle, shaved, first turn, second turn, oiled, pickle",
        "here",
        "0, 1, 3, 4, 5, 2 back; no pickle 2 before 2",
        2,
    ),
]


@pytest.mark.parametrize(
    ("process", "written", "state", "expected", "cost"), [c[1:] for c in CASES], ids=[c[0] for c in CASES]
)
def test_worked_by_hand(process: str, written: str, state: str, expected: str, cost: int) -> None:
    slots, steps = slots_of(process), steps_of(written)
    found = align(slots, steps, finished=state == "out")
    assert told(slots, steps, found) == expected
    assert found.cost == cost


# the same with returns written on purpose (`back in P3`, or after a failed test); common practice, no source
RETURNS = [
    (
        "across what is missing",
        SHORT,
        "in, fleshed, pickle, fleshed, tan, out",
        {3},
        "0, 1, 3, 1 back, 4, 5; no salt 2 before 2",
    ),
    (
        "to a step that is still to come",
        SHORT,
        "pickle, in, fleshed, salt, pickle, tan, out",
        {0},
        "3 back, 0, 1, 2, 3, 4, 5",
    ),
    (
        "to a step that the process does not have",
        SHORT,
        "in, fleshed, salt, dyed, pickle, tan, out",
        {3},
        "0, 1, 2, back, 3, 4, 5",
    ),
    (
        "on purpose is not the wash that is missing",
        "wash, pickle, wash, tan",
        "wash, wash, pickle, tan",
        {1},
        "0, 0 back, 1, 3; no wash 2 before 3",
    ),
    (
        "that has a slot of its own takes it",
        "pickle, shaved, pickle, tan",
        "pickle, shaved, pickle, tan",
        {2},
        "0, 1, 2, 3",
    ),
]


@pytest.mark.parametrize(
    ("process", "written", "returns", "expected"), [c[1:] for c in RETURNS], ids=[c[0] for c in RETURNS]
)
def test_a_return_on_purpose_is_never_a_fault(process: str, written: str, returns: set[int], expected: str) -> None:
    slots, steps = slots_of(process), steps_of(written)
    found = align(slots, steps, finished=True, returns=frozenset(returns))
    assert told(slots, steps, found) == expected


# --- laws -------------------------------------------------------------------------------------------------------------

FEW = st.sampled_from("abc")
some_slots = st.lists(
    st.builds(lambda name, optional: Slot(name=name, optional=optional), FEW, st.booleans()), max_size=5
).map(tuple)
some_steps = st.lists(st.sampled_from("abcz"), max_size=6).map(tuple)  # z is in no process
some_returns = st.frozensets(st.integers(min_value=0, max_value=5), max_size=2)


@st.composite
def processes(draw: st.DrawFn, *, repeated: bool) -> Slots:
    """Required steps, `repeated` or each once. Names of optional ones begin with o and stand once, so that nothing can
    fill in for a required one.
    """
    required = draw(
        st.lists(
            st.sampled_from([f"r{k}" for k in range(3 if repeated else 8)]), min_size=1, max_size=7, unique=not repeated
        )
    )
    optional = draw(st.lists(st.sampled_from([f"o{k}" for k in range(4)]), max_size=4, unique=True))
    mixed = [Slot(name=name) for name in required]
    for name in optional:
        mixed.insert(draw(st.integers(min_value=0, max_value=len(mixed))), Slot(name=name, optional=True))
    return tuple(mixed)


@st.composite
def true_ways(draw: st.DrawFn, *, repeated: bool = True) -> tuple[Slots, tuple[int, ...]]:
    """A process, and the slots of a way through it on which nothing was forgotten."""
    slots = draw(processes(repeated=repeated))
    return slots, tuple(k for k, slot in enumerate(slots) if not slot.optional or draw(st.booleans()))


def names_at(slots: Slots, way: tuple[int, ...]) -> Written:
    return tuple(slots[k].name for k in way)


def quiet(found: Alignment) -> bool:
    """No fault in it."""
    return not (found.extra or found.missing or found.swapped)


@given(true_ways(), st.integers(min_value=0, max_value=11))
def test_a_way_on_which_nothing_was_forgotten_costs_nothing_as_far_as_it_went(
    way: tuple[Slots, tuple[int, ...]], far: int
) -> None:
    slots, passed = way
    found = align(slots, names_at(slots, passed), finished=True)
    assert (found.cost, quiet(found), found.back) == (0, True, frozenset())
    begun = align(slots, names_at(slots, passed[:far]), finished=False)
    assert (begun.cost, quiet(begun), begun.back) == (0, True, frozenset())


@given(true_ways(), st.data())
def test_one_forgotten_step_costs_one_and_is_named(way: tuple[Slots, tuple[int, ...]], data: st.DataObject) -> None:
    slots, passed = way
    gone = data.draw(st.sampled_from([i for i, k in enumerate(passed) if not slots[k].optional]))
    found = align(slots, names_at(slots, passed[:gone] + passed[gone + 1 :]), finished=True)
    assert found.cost == 1
    assert [slots[slot].name for slot, _ in found.missing] == [slots[passed[gone]].name]
    assert found.extra == ()
    assert found.swapped == ()
    assert found.back == frozenset()


@given(true_ways(repeated=False), st.data())
def test_a_step_forgotten_before_the_present_one_is_named_with_its_place(
    way: tuple[Slots, tuple[int, ...]], data: st.DataObject
) -> None:
    slots, passed = way
    gone = data.draw(st.sampled_from([i for i, k in enumerate(passed) if not slots[k].optional]))
    far = data.draw(st.integers(min_value=gone + 1, max_value=len(passed)))
    found = align(slots, names_at(slots, passed[:gone] + passed[gone + 1 : far]), finished=False)
    nothing_after = far == gone + 1
    assert found.missing == (() if nothing_after else ((passed[gone], gone),))
    assert found.cost == (0 if nothing_after else 1)


@given(some_slots, some_steps, st.integers(min_value=0, max_value=6), st.booleans())
def test_a_step_of_no_process_costs_one_and_moves_nothing(
    slots: Slots, steps: Written, at: int, finished: bool
) -> None:
    at = min(at, len(steps))
    without = align(slots, steps, finished=finished)
    found = align(slots, (*steps[:at], "dyed", *steps[at:]), finished=finished)
    assert found.cost == without.cost + 1
    assert at in found.extra
    assert found.slot_of[at] is None
    assert found.slot_of[:at] + found.slot_of[at + 1 :] == without.slot_of


@given(true_ways())
def test_optional_steps_are_free(way: tuple[Slots, tuple[int, ...]]) -> None:
    slots, passed = way
    bare = tuple(k for k in passed if not slots[k].optional)
    assert align(slots, names_at(slots, bare), finished=True).slot_of == bare
    assert align(slots, names_at(slots, bare), finished=True).cost == 0


@given(processes(repeated=False), st.data())
def test_two_neighbours_swapped_are_told_as_one(slots: Slots, data: st.DataObject) -> None:
    way = [k for k, slot in enumerate(slots) if not slot.optional]
    if len(way) < 2:
        return
    i = data.draw(st.integers(min_value=0, max_value=len(way) - 2))
    way[i], way[i + 1] = way[i + 1], way[i]
    found = align(slots, names_at(slots, tuple(way)), finished=True)
    assert found.cost == 2
    assert found.swapped == ((i + 1, way[i + 1]),)
    assert found.extra == ()
    assert found.missing == ()
    assert found.back == frozenset()


@st.composite
def ways_with_returns(draw: st.DrawFn) -> tuple[Slots, Written]:
    """A way on which the hide is sent back now and then, and does again what it had done.

    On its second way it may also do optional steps that it had left out on the first.
    """
    slots = draw(processes(repeated=False))
    at, sent_back = -1, draw(st.integers(min_value=0, max_value=3))
    way: list[int] = []
    while True:
        needed = [k for k in range(at + 1, len(slots)) if not slots[k].optional or k in way]
        onward = list(range(at + 1, (needed[0] if needed else len(slots) - 1) + 1))
        if way and sent_back and draw(st.booleans()):
            at, sent_back = draw(st.sampled_from(sorted({k for k in way if k <= at}))), sent_back - 1
        elif not onward:
            return slots, names_at(slots, tuple(way))
        else:
            at = draw(st.sampled_from(onward))
        way.append(at)


@settings(max_examples=400)
@given(ways_with_returns())
def test_sent_back_and_done_again_is_no_fault_at_any_moment(way: tuple[Slots, Written]) -> None:
    slots, steps = way
    assert quiet(align(slots, steps, finished=True))
    for far in range(len(steps)):
        assert quiet(align(slots, steps[:far], finished=False)), steps[:far]


@given(some_slots, some_steps, st.booleans(), some_returns)
def test_every_line_and_every_slot_is_accounted_for(
    slots: Slots, steps: Written, finished: bool, returns: frozenset[int]
) -> None:
    found = align(slots, steps, finished=finished, returns=returns)
    swapped = [i for i, _ in found.swapped]
    matched = sorted(set(range(len(steps))) - found.back - set(found.extra) - set(swapped))
    assert len(matched) + len(found.back) + len(found.extra) + len(swapped) == len(steps) == len(found.slot_of)
    assert found.cost == len(found.back) + len(found.extra) + len(found.missing) + 2 * len(swapped)
    # matched lines go forward through the process, and every line is judged by a slot of its own name
    places = [k for k in (found.slot_of[i] for i in matched) if k is not None]
    assert len(places) == len(matched)
    assert all(one < two for one, two in pairwise(places))
    names = {slot.name for slot in slots}
    for i, slot in enumerate(found.slot_of):
        assert (slot is None) == (i in found.extra or steps[i] not in names)
        assert slot is None or slots[slot].name == steps[i]
    # what is neither there nor swapped is missing, as far as the hide has come
    come = len(slots) if finished else max(places, default=-1) + 1
    absent = {k for k in range(come) if not slots[k].optional} - set(places)
    assert sorted([k for k, _ in found.missing] + [k for _, k in found.swapped]) == sorted(absent)
    for slot, before in found.missing:
        assert all((found.slot_of[i] or 0) < slot if i < before else (found.slot_of[i] or 0) > slot for i in matched)
    assert not returns & (set(found.extra) | set(swapped))


@given(some_slots, some_steps, some_returns)
def test_the_line_a_hide_stands_at_is_never_a_fault(slots: Slots, steps: Written, returns: frozenset[int]) -> None:
    names = {slot.name for slot in slots}
    known = [i for i, name in enumerate(steps) if name in names]
    found = align(slots, steps, finished=False, returns=returns)
    if not known:
        assert not found.missing
        return
    here = known[-1]
    assert found.slot_of[here] is not None
    assert here not in found.extra
    assert here not in [i for i, _ in found.swapped]
    assert all(before <= here for _, before in found.missing)


@given(some_slots, some_steps, st.booleans(), some_returns)
def test_a_kept_answer_is_the_one_worked_out_anew(
    slots: Slots, steps: Written, finished: bool, returns: frozenset[int]
) -> None:
    first = align(slots, steps, finished=finished, returns=returns)
    assert align(tuple(slots), tuple(steps), finished=finished, returns=frozenset(returns)) == first
    assert align_anew(slots, steps, finished, returns) == first


# --- a slow reckoning -------------------------------------------------------------------------------------------------


def every_way(slots: Slots, steps: Written, i: int = 0, j: int = 0) -> Iterator[tuple[int | None, ...]]:
    """Every way to give the written steps from i on slots from j on, or to leave them over."""
    if i == len(steps):
        yield ()
        return
    for k in range(j, len(slots)):
        if slots[k].name == steps[i]:
            yield from ((k, *rest) for rest in every_way(slots, steps, i + 1, k + 1))
    yield from ((None, *rest) for rest in every_way(slots, steps, i + 1, j))


def cost_of(slots: Slots, way: tuple[int | None, ...], finished: bool) -> int:
    taken = [k for k in way if k is not None]
    come = len(slots) if finished else max(taken, default=-1) + 1
    return way.count(None) + sum(not slots[k].optional and k not in taken for k in range(come))


def allowed(slots: Slots, steps: Written, way: tuple[int | None, ...], finished: bool) -> bool:
    """While the hide is here, its last line with a slot is matched, or is once more a step matched before."""
    names = {slot.name for slot in slots}
    known = [i for i, name in enumerate(steps) if name in names]
    if finished or not known:
        return True
    here = known[-1]
    return way[here] is not None or any(way[i] is not None and steps[i] == steps[here] for i in range(here))


@settings(max_examples=400, deadline=None)
@given(some_slots, some_steps, st.booleans())
def test_no_explanation_costs_less(slots: Slots, steps: Written, finished: bool) -> None:
    ways = [way for way in every_way(slots, steps) if allowed(slots, steps, way, finished)]
    assert align(slots, steps, finished=finished).cost == min(cost_of(slots, way, finished) for way in ways)


@settings(max_examples=400, deadline=None)
@given(some_slots, st.permutations("abcz"), st.integers(min_value=0, max_value=4), st.booleans())
def test_among_equals_lines_match_as_early_as_they_can(
    slots: Slots, order: list[str], far: int, finished: bool
) -> None:
    """Where no step is written twice nothing can be a going back, so this is the whole of the choice."""
    steps = tuple(order[:far])
    ways = [way for way in every_way(slots, steps) if allowed(slots, steps, way, finished)]
    least = min(cost_of(slots, way, finished) for way in ways)
    earliest = min(
        (way for way in ways if cost_of(slots, way, finished) == least),
        key=lambda way: [len(slots) if k is None else k for k in way],
    )
    found = align(slots, steps, finished=finished)
    swapped = {i for i, _ in found.swapped}
    assert tuple(None if i in swapped else k for i, k in enumerate(found.slot_of)) == earliest


@given(st.lists(FEW, max_size=9).map(tuple), st.lists(FEW, max_size=9).map(tuple))
def test_where_nothing_is_optional_the_cost_is_what_the_longest_common_row_leaves(
    asked: Written, steps: Written
) -> None:
    """Wagner and Fischer 1974: with nothing but leaving out and putting in, the distance is m + n - 2 * common."""

    @cache
    def common(i: int, j: int) -> int:
        if i == len(asked) or j == len(steps):
            return 0
        if asked[i] == steps[j]:
            return 1 + common(i + 1, j + 1)
        return max(common(i + 1, j), common(i, j + 1))

    found = align(tuple(Slot(name=name) for name in asked), steps, finished=True)
    assert found.cost == len(asked) + len(steps) - 2 * common(0, 0)


def test_a_long_way_grows_with_lines_times_slots_and_not_faster() -> None:
    """A hide sent back two hundred times: the number of explanations has more than a hundred digits.

    Five lines have a slot: in, pickle, pickle again, turned, out.
    """
    slots = slots_of("in, pickle, shaved?, pickle?, turned, out")
    steps = ("in", *("pickle", "turned") * 200, "out")
    found = align(slots, steps, finished=True)
    assert found.cost == len(steps) - 5
    assert quiet(found)
