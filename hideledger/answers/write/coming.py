"""What a hide's process has next after a line, not before and not after when; of several hides what is alike is said once."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from hideledger.answers.saying import point, tags_said, today
from hideledger.answers.standing import next_steps
from hideledger.model.moments import DAY, Clock, spoken
from hideledger.rules.bathwatch import reading_due
from hideledger.rules.horizon import Horizon, look
from hideledger.rules.raw import raw_clock_due
from hideledger.rules.running import Running, running_limits
from hideledger.rules.spans import current_spell, limit_falls, turned
from hideledger.rules.words import day_said, in_order
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

_MOST_NEXT = 3
_SOON = 2 * DAY  # within it, that nobody will be there is worth saying
_MOST_SAID = 3  # sorts of hides that are told apart in one sentence


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """All limits that run on the hides of a floor; instants (UTC seconds) by tag: when a raw clock is full, by when a bath is to be read."""

    running: tuple[Running, ...]
    raw: Mapping[str, int]
    reads: Mapping[str, int]


def limits_of(floor: Floor, horizon: Horizon) -> Limits:
    """The limits that run now; of raw clocks those that end before somebody is there again after a day, of readings those of a day."""
    raw = {one.tags[0]: one.since for one in raw_clock_due(floor, horizon) if one.since is not None}
    reads = {
        one.tags[-1]: floor.at - one.over_s
        for one in reading_due(floor, look(floor, DAY))
        if one.over_s is not None and one.over_s < 0
    }
    return Limits(running=tuple(running_limits(floor, horizon)), raw=raw, reads=reads)


def read_it(bath: str, limits: Limits, floor: Floor) -> str:
    """`read it by 13:05`; nothing where nobody's step asks for readings."""
    by = limits.reads.get(bath)
    return "" if by is None else f"read it by {soon(by, floor.book.clock, floor.at)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Coming:
    """What comes next: `steps` as `next: salt or pickle`, and the `bounds` of it; `first` is the earliest instant (UTC seconds) among them."""

    steps: str = ""
    bounds: str = ""
    first: int = 2**60

    @property
    def words(self) -> str:
        """Both in one."""
        return ", ".join(part for part in (self.steps, self.bounds) if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class HideSaid:
    """What one line says of one hide: what was `done`, the same in `brief`, without how long after the step before, and what is `coming`."""

    tag: str
    done: str
    brief: str
    coming: Coming

    @property
    def words(self) -> str:
        """The whole of it."""
        return "; ".join(part for part in (self.done, self.coming.words) if part)


def several_said(found: Sequence[HideSaid]) -> list[str]:
    """One line's words on all its hides: those alike together, and of many that differ only what one must know."""
    whole = _alike(found, lambda one: one.words)
    if len(whole) < _MOST_SAID:
        return [f"{_tags(alike)}: {words}" for words, alike in whole.items() if words]
    done = _alike(found, lambda one: one.done)
    if len(done) >= _MOST_SAID:
        done = _alike(found, lambda one: one.brief)
    said = [f"{_tags(alike)}: {words}" for words, alike in list(done.items())[: 2 * _MOST_SAID] if words]
    left = [one for alike in list(done.values())[2 * _MOST_SAID :] for one in alike]
    said += [f"and so {_tags(left)}"] if left else []
    return [*said, *_coming_said(found)]


def _coming_said(found: Sequence[HideSaid]) -> list[str]:
    """The steps that come next once, behind them the bounds of each hide, the earliest first: `the shop's own raw hours run out 21:20 (H20 H21)`."""
    said: list[str] = []
    by_steps = _alike(found, lambda one: one.coming.steps)
    for steps, those in by_steps.items():
        bounds = _alike(sorted(those, key=lambda one: one.coming.first), lambda one: one.coming.bounds)
        if len(bounds) == 1:
            words = those[0].coming.words
            said += [words if len(by_steps) == 1 else f"{_tags(those)}: {words}"] if words else []
            continue
        told = list(bounds.items())
        told_first = told[:_MOST_SAID]
        shared = _shared([bound for bound, _ in told_first])
        parts = [
            f"{(bound if not number else bound.removeprefix(shared)) or 'no limit'} ({_tags(alike)})"
            for number, (bound, alike) in enumerate(told_first)
        ]
        later = sum(len(alike) for _, alike in told[_MOST_SAID:])
        parts += [f"{later} more later"] if later else []
        said.append(", ".join(part for part in (steps, *parts) if part))
    return said


def _shared(bounds: Sequence[str]) -> str:
    """What all bounds begin with, where nothing but a time or a day's number follows: it is said once."""
    start = bounds[0][: bounds[0].rfind(" ") + 1]
    return (
        start
        if all(bound.startswith(start) for bound in bounds) and all(" " not in bound[len(start) :] for bound in bounds)
        else ""
    )


def _alike(found: Sequence[HideSaid], words: Callable[[HideSaid], str]) -> dict[str, list[HideSaid]]:
    alike: dict[str, list[HideSaid]] = {}
    for one in found:
        alike.setdefault(words(one), []).append(one)
    return alike


def _tags(found: Sequence[HideSaid]) -> str:
    return tags_said(in_order(one.tag for one in found))


def coming(life: HideLife, floor: Floor, horizon: Horizon, limits: Limits) -> Coming:
    """What its process has next, not before and not after when."""
    if life.process is None:
        return Coming(steps="" if life.box else "no process is written, so nothing is judged")
    clock, at = floor.book.clock, floor.at
    if life.resting is not None:
        rest = next((one for one in limits.running if one.life is life and not one.rests), None)
        return (
            Coming()
            if rest is None
            else Coming(bounds=f"may stay so until {_until(rest.earliest, clock, at)}", first=rest.earliest)
        )
    steps = [step.title for step in next_steps(life)]
    if len(steps) > _MOST_NEXT:
        steps = steps[-1:] if life.stay is None else steps[:1] + steps[-1:]
    meets = _first_limit(life, limits)
    bounds = [*_not_before(life, floor), *_not_after(meets, floor, horizon)]
    raw = limits.raw.get(life.tag)
    falls = [meets.earliest] if meets is not None and meets.earliest > at else []
    if raw is not None and life.raw is not None and life.raw.running and raw > at:
        bounds.append(f"the shop's own raw hours run out {soon(raw, clock, at)}")
        falls.append(raw)
    if not steps and not bounds:
        return Coming()
    first = min(falls, default=2**60)
    if not steps:
        return Coming(bounds=f"next: {', '.join(bounds)}", first=first)
    return Coming(steps=f"next: {' or '.join(steps)}", bounds=", ".join(bounds), first=first)


def _not_before(life: HideLife, floor: Floor) -> list[str]:
    spell = current_spell(life)
    line = spell[-1].line if spell else None
    bounds = line.limits_for(life.kind) if line is not None else None
    if line is None or bounds is None or bounds.least is None:
        return []
    clock, at = floor.book.clock, floor.at
    if line.sort == "run":
        left = bounds.least.about_seconds - turned(spell)[0]
        return [f"{spoken(left)} to turn yet"] if left > 0 else []
    ready = limit_falls(life, spell[0].start, bounds.least, clock, at)[1]
    return [f"not before {soon(ready, clock, at)}"] if ready > at else []


def _first_limit(life: HideLife, limits: Limits) -> Running | None:
    """The limit that it meets first."""
    running = [
        one for one in limits.running if one.life is life and one.rests and not one.standing and not one.optional
    ]
    return min(running, key=lambda one: one.earliest, default=None)


def _not_after(first: Running | None, floor: Floor, horizon: Horizon) -> list[str]:
    if first is None or first.earliest <= floor.at:
        return []
    clock, at = floor.book.clock, floor.at
    told = f"by {soon(first.earliest, clock, at)}"
    by = horizon.hours.act_by(first.earliest)
    if at < by < first.earliest <= at + _SOON:
        told += f" (nobody is there then: act by {soon(by, clock, at)})"
    return [told]


def _until(instant: int, clock: Clock, at: int) -> str:
    """The end of a long rest: within two days with its time, else the day alone."""
    if instant - at <= _SOON:
        return soon(instant, clock, at)
    # what ends as a day begins is over with the day before
    return day_said(clock, clock.day_of(instant - 1), at)


def soon(instant: int, clock: Clock, at: int) -> str:
    """A moment to come as one says it: `17:10`, `tomorrow 19:40`, `Thu 12 Nov 19:40`."""
    if clock.day_of(instant) == today(clock, at) + 1:
        return f"tomorrow {clock.local(instant):%H:%M}"
    return point(instant, clock, at)
