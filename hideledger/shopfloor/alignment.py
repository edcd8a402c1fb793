"""A hide's steps stand in one order in the process; in the book some are forgotten, swapped, or done once more.

Shaving and going back into the pickle is how the work goes, and a wash may come three times, so a way that only leads
forward would cry wolf. What was written is laid beside the process in the way that leaves the fewest steps missing
plus the fewest lines over; only then is it asked which lines left over are faults. No step name has a meaning of its
own here.

The table of least costs is the one of the longest common subsequence: a row for each written line, a column for each
line of the process.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

# A shop has a handful of routes and some dozens of ways through them. The bound only keeps a stray book from filling
# the memory.
_KEPT = 4096

# [written steps gone][whether the step the hide stands at was matched before][slots gone]
_Costs = list[tuple[list[int], list[int]]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """One line of a process: a hide passes it once on the way through, unless it is sent back.

    `name` is the step's name without `again` (`pickle again` is a second slot named `pickle`). An `optional` one costs
    nothing when it is absent.
    """

    name: str
    optional: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Alignment:
    """One forgotten line is one missing step and no more: what each written step of a hide was taken as.

    Indices count from 0, into the written steps as handed in and into the slots. Every written step is exactly one of
    these four: matched to a slot of its own, in `back`, in `swapped`, in `extra`.
    """

    # for each written step the slot whose limits judge it; None when it is in `extra`, and for a marked return to a
    # step that the process does not have
    slot_of: tuple[int | None, ...]
    # no fault: done once more with nothing missing between, or done over again later in that way, or marked as a
    # return, or the line the hide stands at
    back: frozenset[int]
    # left over, and a fault
    extra: tuple[int, ...]
    # (slot, the written step before which it is missing), by slot; the number of written steps stands for the end
    missing: tuple[tuple[int, int], ...]
    # (written step, slot), by written step: left over while that very step is missing elsewhere. Told as one, so it is
    # neither in `extra` nor in `missing`
    swapped: tuple[tuple[int, int], ...]
    # missing plus left over before anything is forgiven: a swap counts 2, a going back 1
    cost: int


def align(
    slots: tuple[Slot, ...], written: tuple[str, ...], *, finished: bool, returns: frozenset[int] = frozenset()
) -> Alignment:
    """The way a hide went: the explanation of its written steps with the fewest missing plus extra steps.

    `written` holds the names of the steps in order of time, skipped ones too. `finished`: the hide is out, so every
    slot that is not optional has to be there. Otherwise the last written step that has a slot is where the hide stands:
    its line is true (matched, or a going back), and nothing after it is missing. `returns` are indices of written steps
    meant as a return, or sent back by a failed test: never a fault. Among equals, lines match as early as they can,
    unless that calls a fault what an equal explanation takes for a going back.

    Raises nothing. Time grows with slots times written steps; a way that was seen before costs a look-up.
    """
    return _kept(slots, written, finished, returns)


def align_anew(slots: tuple[Slot, ...], written: tuple[str, ...], finished: bool, returns: frozenset[int]) -> Alignment:
    """The same as `align`, worked out again even when the same way was asked for before."""
    names = {slot.name for slot in slots}
    stands_at = -1  # no line is bound to be true
    if not finished:
        stands_at = max((i for i, name in enumerate(written) if name in names), default=-1)
    # A missing or extra step costs `step`, and one more where it cannot be a going back: so little only parts equals.
    # A marked return is rather left over than any other line, since that is what its writer says it is.
    step = len(slots) + len(written) + 1
    prices = [step + (i not in returns) for i in range(len(written))]
    early = _explain(slots, written, finished, stands_at, returns, prices, step)
    if not _faults(early):
        return early
    # Then rather a step that was done before than one that never was, or that is missing.
    prices = [step + (i not in returns and name not in written[:i]) for i, name in enumerate(written)]
    other = _explain(slots, written, finished, stands_at, returns, prices, step)
    return other if _faults(other) < _faults(early) else early


_kept = lru_cache(maxsize=_KEPT)(align_anew)


def _faults(found: Alignment) -> int:
    return len(found.extra) + len(found.missing) + len(found.swapped)


def _explain(
    slots: tuple[Slot, ...],
    written: tuple[str, ...],
    finished: bool,
    stands_at: int,
    returns: frozenset[int],
    prices: list[int],
    step: int,
) -> Alignment:
    """A cheapest way under these prices, and which of its lines left over are faults."""
    table = _least_costs(slots, written, finished, stands_at, prices, step + 1)
    matched, missing = _earliest(slots, written, finished, stands_at, table, step + 1)

    slot_of = list(matched)
    left_over = [i for i, slot in enumerate(matched) if slot is None]
    swapped: list[tuple[int, int]] = []
    for i in left_over:
        if i in returns or i == stands_at:
            continue
        elsewhere = [(abs(before - i), slot, before) for slot, before in missing if slots[slot].name == written[i]]
        if elsewhere:
            _, slot, before = min(elsewhere)
            missing.remove((slot, before))
            swapped.append((i, slot))
            slot_of[i] = slot

    # After the swaps: a step that was done in the wrong place is not missing, so it stands in nobody's way.
    where, onward = _whereabouts(slots, written, matched)
    back: set[int] = set()
    extra: list[int] = []
    for i in left_over:
        if slot_of[i] is not None:
            continue
        if (
            i in returns
            or i == stands_at
            or _once_more(i, written, slot_of, missing)
            or (onward[i] and _over_again(i, written, matched, finished))
        ):
            back.add(i)
            slot_of[i] = where[i]
        else:
            extra.append(i)
    return Alignment(
        slot_of=tuple(slot_of),
        back=frozenset(back),
        extra=tuple(extra),
        missing=tuple(missing),
        swapped=tuple(swapped),
        cost=table[0][0][0] // step,
    )


def _least_costs(
    slots: tuple[Slot, ...],
    written: tuple[str, ...],
    finished: bool,
    stands_at: int,
    prices: list[int],
    fault: int,
) -> _Costs:
    """What is still to pay from each place on: `table[i][seen][j]` for written steps from i on against slots from j on.

    `fault` is the price of a missing step, `prices` those of leaving a written step over. `seen` (0 or 1) is whether
    the step the hide stands at was matched before. Only then may its last line be a going back; otherwise that line
    must have a slot of its own, since the hide is there for certain.
    """
    width = len(slots)
    passing = [0 if slot.optional else fault for slot in slots]
    never = fault * (width + len(written) + 1)  # more than leaving everything over and missing everything
    at_end = [0] * (width + 1)
    if finished:
        for j in range(width - 1, -1, -1):
            at_end[j] = at_end[j + 1] + passing[j]
    table = [(at_end, at_end)]
    for i in range(len(written) - 1, -1, -1):
        name = written[i]
        below = table[-1]
        here = stands_at >= 0 and name == written[stands_at]
        rows: list[list[int]] = []
        for seen in (0, 1):
            over = never if i == stands_at and not seen else prices[i]
            if_over = below[seen]
            if_matched = below[1 if here else seen]
            row = [0] * width + [if_over[width] + over]
            for j in range(width - 1, -1, -1):
                least = min(if_over[j] + over, row[j + 1] + passing[j])
                row[j] = min(least, if_matched[j + 1]) if slots[j].name == name else least
            rows.append(row)
        table.append((rows[0], rows[1]))
    table.reverse()
    return table


def _earliest(
    slots: tuple[Slot, ...], written: tuple[str, ...], finished: bool, stands_at: int, table: _Costs, fault: int
) -> tuple[list[int | None], list[tuple[int, int]]]:
    """The cheapest way with each line in turn at the earliest slot it can have: the slots, and what is missing."""
    matched: list[int | None] = []
    missing: list[tuple[int, int]] = []
    j = seen = 0
    for i, name in enumerate(written):
        seen_if_matched = 1 if stands_at >= 0 and name == written[stands_at] else seen
        left = table[i][seen][j]
        passed: list[int] = []
        found: int | None = None
        for k in range(j, len(slots)):
            if slots[k].name == name and len(passed) * fault + table[i + 1][seen_if_matched][k + 1] == left:
                found = k
                break
            if not slots[k].optional:
                passed.append(k)
        matched.append(found)
        if found is not None:
            missing.extend((slot, i) for slot in passed)
            j, seen = found + 1, seen_if_matched
    if finished:
        missing.extend((k, len(written)) for k in range(j, len(slots)) if not slots[k].optional)
    return matched, missing


def _whereabouts(
    slots: tuple[Slot, ...], written: tuple[str, ...], matched: list[int | None]
) -> tuple[list[int | None], list[bool]]:
    """Where each line brought the hide when it was written, and whether that was onward over none but optional steps.

    A step done before takes the last place that the hide has passed with it, any other the next place to come. None
    where the process has no such step.
    """
    where: list[int | None] = []
    onward: list[bool] = []
    at = furthest = -1
    for i, name in enumerate(written):
        places = [k for k, slot in enumerate(slots) if slot.name == name]
        passed = [k for k in places if k <= furthest]
        ahead = [k for k in places if k > at]
        place = matched[i]
        if place is None:
            nearest = passed[-1:] + ahead[:1] if name in written[:i] else ahead[:1] + passed[-1:]
            place = nearest[0] if nearest else None
        onward.append(place is not None and place > at and all(slot.optional for slot in slots[at + 1 : place]))
        where.append(place)
        if place is not None:
            at = place
            furthest = max(furthest, at)
    return where, onward


def _once_more(i: int, written: tuple[str, ...], slot_of: list[int | None], missing: list[tuple[int, int]]) -> bool:
    """A step is done once more when it was done before and nothing is missing since its last line.

    A last line that was itself a fault counts as well: that fault is told once, at that line.
    """
    before = [h for h in range(i) if written[h] == written[i]]
    if all(slot_of[h] is None for h in before):
        return False
    return not any(before[-1] < at <= i for _, at in missing)


def _over_again(i: int, written: tuple[str, ...], matched: list[int | None], finished: bool) -> bool:
    """A hide sent back from a step comes to it again: of the two lines the later one was matched, and this one is left.

    While the hide is here the later line may still be to come; then the going back itself must be written.
    """
    if any(matched[h] is not None and written[h] == written[i] for h in range(i + 1, len(written))):
        return True
    if finished:
        return False
    done = {written[h] for h in range(i) if matched[h] is not None}
    for h in range(i + 1, len(written)):
        if matched[h] is not None:
            return False
        if written[h] in done:
            return True
    return False
