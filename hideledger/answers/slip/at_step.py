"""The steps at which a failure other than slip happens, as they were done on this hide: by whom, and how long before the sign."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hideledger.answers.saying import counted
from hideledger.answers.slip.apt import APT
from hideledger.answers.slip.sign import Case, by_whom, seen_words
from hideledger.answers.slip.weak_point import Weak
from hideledger.model.moments import DAY
from hideledger.model.process import Process
from hideledger.shopfloor.doings import DRIED, NEUTRALISED, WASHED, Done, sort_of_name, steps_of

# Kinds that carry so much fat that what the knife leaves burns in the drying (common practice, no source).
_FAT = (
    "bear",
    "raccoon",
    "coon",
    "beaver",
    "badger",
    "hog",
    "boar",
    "otter",
    "skunk",
    "opossum",
    "possum",
    "seal",
    "woodchuck",
)


# What happens at a step shows soon after it (common practice, no source).
_SOON = 2 * DAY


def on_the_same_line(case: Case) -> Iterator[Weak]:
    """Bald is not always slip: what else was written of the skin with the bald spot comes before every step."""
    if case.sign is None or case.defect != "bald spot":
        return
    for one in case.life.defects:
        if one.entry is case.sign.entry and one.fact.defect not in ("bald spot", "slip"):
            words = seen_words(one)
            yield Weak(
                instant=one.when.lo,
                moment=case.said(one.when),
                name=one.fact.defect,
                text=f'written on the same line{f", {words}" if words else ""}: a bald place that comes of it is no slip; `hideledger slip {case.life.tag} --defect "{one.fact.defect}"` asks about it',
                place=one.entry.at,
                at_step=one.fact.defect,
            )


def at_its_steps(case: Case) -> Iterator[Weak]:
    """Each sort of step at which it happens, as it was last done before the sign; where none was, the last of those that can have led to it."""
    apt = APT.get(case.defect)
    if apt is None or case.sign is None:
        return
    done = _done_before(case)
    found = [
        _weak(case, several[-1], done) for sort in apt.steps if (several := [one for one in done if one.sort == sort])
    ]
    if not found and (led := [one for one in done if one.sort in apt.also]):
        found = [_weak(case, led[-1], done)]
    yield from found


def _done_before(case: Case) -> list[Done]:
    return [
        one
        for one in steps_of(case.life)
        if not one.mark.skipped and not one.mark.elsewhere and not one.mark.moved and case.before(one.mark.when)
    ]


def _weak(case: Case, done: Done, earlier: Sequence[Done]) -> Weak:
    apt = APT[case.defect]
    parts = [hand_said(done), apt.says.get(done.sort, ""), *_left_undone(case, done, earlier)]
    return Weak(
        instant=done.mark.when.lo,
        moment=case.said(done.mark.when),
        name=done.name,
        text="; ".join(part for part in parts if part),
        place=done.mark.entry.at,
        at_step=done.sort,
        soon=case.until - done.mark.when.lo <= _SOON,
    )


def hand_said(done: Done) -> str:
    """`by Jo`; where nobody signed the line, that."""
    return by_whom(done.mark.entry).removeprefix(", ") or "by whom is not written"


def _left_undone(case: Case, done: Done, earlier: Sequence[Done]) -> Iterator[str]:
    sorts = {one.sort for one in earlier if one.mark.when.lo <= done.mark.when.lo}
    if case.defect == "burn" and done.sort == DRIED and NEUTRALISED not in sorts:
        yield "no neutralising is written before it"
    if case.defect == "grease burn":
        kind = case.life.kind.casefold()
        if any(name in kind.split() for name in _FAT):
            yield f"{case.life.kind} is a fat kind"
        if WASHED not in sorts:
            yield "no degreasing is written before it"


def step_before(case: Case) -> tuple[str, Done] | None:
    """The last step before the sign with its hand: whatever it was, it is asked about; None where none is written."""
    if case.sign is None:
        return None
    done = [one for one in _done_before(case) if one.mark.entry is not case.sign.entry]
    if not done:
        return None
    last = max(done, key=lambda one: (one.mark.when.lo, one.mark.entry.order))
    where = last.stay.where if last.stay is not None else last.mark.where
    said = f"{last.name}{f' in {where}' if where else ''} {case.said(last.mark.when)}"
    skins = len(last.mark.entry.tags)
    together = f", with {counted(skins - 1, 'other')}" if skins > 1 else ""
    return f"{said}, {hand_said(last)}{together}", last


def names_of_step(process: Process | None, sort: str) -> list[str]:
    """What a process calls its steps of a sort."""
    return [] if process is None else [step.title for step in process.steps if sort_of_name(step.name) == sort]
