"""The stays that a hide still has before it, as a timetable wants them: how long, in which vessels, beside whom."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hideledger.answers.load.past import Past
from hideledger.answers.load.vessels import back_in_use, in_use
from hideledger.model.moments import MINUTE, spoken
from hideledger.model.process import Step
from hideledger.model.shop import ShopBook
from hideledger.rules.gas import is_to_be_left
from hideledger.rules.raw import raw_past_its_limit, raw_time_is_up
from hideledger.rules.spans import EXACT, counts_from, to_come
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife

THAW_MINUTES = 12 * 60  # no book says how long a skin thaws: over a night (common practice, no source)


class NotPlanned(Exception):
    """A hide that cannot be laid out; the text says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One stay to come: its steps (turns of one load are one stay), the doings just before it, lengths in minutes, vessels by tag."""

    steps: tuple[Step, ...]
    before: tuple[Step, ...]
    least: int
    most: int | None
    vessels: tuple[str, ...]
    mates: str
    told: str = ""  # how its length is known, where the process does not say it

    @property
    def title(self) -> str:
        """`first turn, second turn`."""
        return ", ".join(step.title for step in self.steps)


class Ways:
    """Turns processes into stays, for one floor."""

    def __init__(self, floor: Floor, past: Past, last_day: int) -> None:
        self.floor, self.past = floor, past
        self.shop: ShopBook = floor.book.shop
        day = floor.book.clock.day_of(floor.at)
        self.vessels = in_use(self.shop, day)
        self.back = {tag: vessel for tag, (_, vessel) in back_in_use(self.shop, day, last_day).items()}
        self.standing: dict[str, BathLife] = {bath.vessel: bath for bath in floor.standing() if bath.vessel}
        self.said: dict[str, None] = {}  # what was taken for granted, once each

    def parts(self, life: HideLife, *, usual: bool = False) -> tuple[list[Part], tuple[Step, ...]]:
        """The stays to come in order, and the doings after the last. `usual`: no shorter than this shop usually takes. Raises NotPlanned."""
        assert life.process is not None
        parts: list[Part] = []
        before: list[Step] = []
        running: list[Step] = []
        doings_of_run: tuple[Step, ...] = ()
        for step in [*self._taken(life), None]:
            if step is not None and step.sort == "run":
                if not running:
                    doings_of_run, before = tuple(before), []
                running.append(step)
                continue
            if running:
                parts.append(self._run(life, running, doings_of_run))
                running = []
            if step is None or step.name in ("in", "out"):
                continue
            if step.sort == "moment":
                before.append(step)
                continue
            parts.append(self._stay(life, step, tuple(before), usual=usual))
            before = []
        while parts and not parts[-1].vessels and parts[-1].told:
            # Nobody wrote how long it must stay there at the least: it may be fetched as soon as it lies there.
            last = parts.pop()
            self.said.pop(last.told, None)
            before = [*last.before, *last.steps, *before]
        return parts, tuple(before)

    def _taken(self, life: HideLife) -> list[Step]:
        """The steps to come, without the optional ones that most hides here left out."""
        assert life.process is not None
        taken = []
        for step in to_come(life):
            if step.optional and not self.past.usually_done(life.process.name, step):
                if step.sort != "moment":
                    why = " and most hides here went without it" if self.past.came_past(life.process.name, step) else ""
                    self.said[f"{step.title} ({life.process.name}) is optional{why}: left out"] = None
                continue
            taken.append(step)
        return taken

    def _stay(self, life: HideLife, step: Step, before: tuple[Step, ...], *, usual: bool) -> Part:
        least, most, told = self.lengths(life, step, usual=usual)
        if told:
            self.said[told] = None
        vessels = self._tubs(step) if self._wants_bath(step) else ()
        return Part(
            steps=(step,), before=before, least=least, most=most, vessels=vessels, mates=_mates(life, step), told=told
        )

    def lengths(self, life: HideLife, step: Step, *, usual: bool = False) -> tuple[int, int | None, str]:
        """Least and most minutes of a stay, and how the least is known where the process does not say it. Raises NotPlanned."""
        assert life.process is not None
        limits, name = step.limits_for(life.kind), f"{step.title} ({life.process.name})"
        most = None if limits is None or limits.most is None else limits.most.about_seconds // MINUTE
        least = None if limits is None or limits.least is None else -(-limits.least.about_seconds // MINUTE)
        known = self.past.stayed(life.process.name, step)
        here = None if known is None else known.middle // MINUTE
        if here is not None and most is not None:
            here = min(here, most)
        if least is not None:
            return (max(least, here) if usual and here is not None else least), most, ""
        if known is not None and here is not None:
            said = f"{name} has no shortest time written: {spoken(here * MINUTE)}, the usual of {known.of} here"
            return here, most, said
        if most is not None:
            return most, most, f"{name} has no shortest time written: the whole {spoken(most * MINUTE)} is kept for it"
        raise NotPlanned(
            f"{step.title} of process {life.process.name} has no length ({step.place.short}), and too few hides here had it to know one"
        )

    def present(self, life: HideLife, parts: list[Part]) -> tuple[int, int | None, tuple[Step, ...]]:
        """Least and most minutes of the stay that a hide is in now; and the turns of its load that are still to come, which are taken into it. Raises NotPlanned."""
        if life.resting is not None:
            return (THAW_MINUTES if life.resting.name == "frozen" else 0), None, ()
        if life.stay is None or life.stay.line is None or life.process is None:
            return 0, None, ()
        line = life.stay.line
        if line.sort == "run":
            limits = line.limits_for(life.kind)
            least = 0 if limits is None or limits.least is None else -(-limits.least.about_seconds // MINUTE)
            if parts and parts[0].steps[0].sort == "run":
                further = parts.pop(0)
                return least + further.least, None, further.steps
            return least, None, ()
        limits = line.limits_for(life.kind)
        if limits is not None and limits.least is None and limits.most is not None:
            return 0, limits.most.about_seconds // MINUTE, ()  # it may go on as soon as somebody says so
        if not parts and (limits is None or limits.least is None):
            return 0, None, ()
        least, most, told = self.lengths(life, line)
        if told:
            self.said[told] = None
        return least, most, ()

    def _run(self, life: HideLife, steps: Sequence[Step], before: tuple[Step, ...]) -> Part:
        assert life.process is not None
        drums = tuple(tag for tag, vessel in (self.vessels | self.back).items() if vessel.is_drum)
        title = ", ".join(step.title for step in steps)
        if not drums:
            raise NotPlanned(f"{title} wants a drum, and {self._none('drum', 'vessel D1, drum, holds 5')}")
        limits = [step.limits_for(life.kind) for step in steps]
        leasts = [None if one is None or one.least is None else one.least.about_seconds // MINUTE for one in limits]
        mosts = [None if one is None or one.most is None else one.most.about_seconds // MINUTE for one in limits]
        known = self.past.in_the_drum(life.process.name, steps)
        written = sum(least or 0 for least in leasts)
        if known is None and any(least is None for least in leasts):
            raise NotPlanned(
                f"{title} of process {life.process.name} has no running time ({steps[0].place.short}), and too few loads ran here to know one"
            )
        least = written if known is None else max(written, -(-known.middle // MINUTE))
        if known is not None and least > written:
            self.said[
                f"a load is in the drum for {spoken(least * MINUTE)} ({title}), the usual of {known.of} here with opening and adding"
            ] = None
        most = None if any(one is None for one in mosts) else max(least, sum(one or 0 for one in mosts))
        # A drum may stand a while between and after its turns: to the next quarter, half or whole hour.
        most = None if most is None else max(most, -(-least // 60) * 60)
        mates = f"{life.process.name}: {title}{_apart(life)}"
        return Part(steps=tuple(steps), before=before, least=least, most=most, vessels=drums, mates=mates)

    def _wants_bath(self, step: Step) -> bool:
        bath = (step.ph, step.salt, step.temperature, step.read_every, step.stirred_every)
        return step.in_bath or any(one is not None for one in bath) or bool(self.past.vessels_of(step.name))

    def _tubs(self, step: Step) -> tuple[str, ...]:
        """Tubs with a bath of that step standing in them; else empty ones that were used for it; else any that is empty.

        Those that are out of use and come back within the weeks stand beside them, where they are no worse.
        """
        tubs = [tag for tag, vessel in (self.vessels | self.back).items() if not vessel.is_drum]
        used = self.past.vessels_of(step.name)
        with_bath = [tag for tag in tubs if tag in self.standing and self._serves(self.standing[tag], step)]
        with_bath = [tag for tag in with_bath if not self._left_alone(self.standing[tag])]
        empty = [tag for tag in tubs if tag not in self.standing]
        found: list[str] = []
        for those in (with_bath, [tag for tag in empty if tag in used], empty):
            found += [tag for tag in those if tag not in found]
            if any(tag in self.vessels for tag in those):
                break
        if not tubs:
            raise NotPlanned(f"{step.title} wants a tub, and {self._none('tub', 'vessel V1, vat, holds 12')}")
        if not found:
            raise NotPlanned(f"{step.title} wants a tub, and none is empty or has such a bath in it")
        if not with_bath:
            self.said[f"no bath for {step.title} stands: it has to be mixed first, in {' or '.join(found)}"] = None
        return tuple(found)

    def _left_alone(self, bath: BathLife) -> bool:
        """Whether nobody goes near a bath, and so no skin goes into it."""
        left = is_to_be_left(bath, self.floor)
        if left:
            self.said[f"{bath.tag} is left alone, since a gas that kills may come off it: see `check`"] = None
        return left

    def _none(self, sort: str, line: str) -> str:
        drums = [vessel.is_drum for vessel in self.shop.vessels.values()]
        if (sort == "drum") in drums:
            return f"no {sort} is in use"
        return f"no {sort} is written down in the book (as in `{line}`)"

    @staticmethod
    def _serves(bath: BathLife, step: Step) -> bool:
        names = {step.name.casefold(), *(other.casefold() for other in step.others)}
        return bath.recipe.casefold() in names or any(member.stay.name == step.name for member in bath.members)

    def deadline(self, life: HideLife, before: tuple[Step, ...], part: Part | None) -> int | None:
        """The instant by which the next doing has to be begun, by a `within` or the raw clock that runs now and is not yet past."""
        found = self._withins(life, before, part)
        raw = raw_time_is_up(life, max(self.floor.at, life.arrived_when.lo)) if life.resting is None else None
        found += [] if raw is None else [raw]
        return min((one for one in found if one >= self.floor.at), default=None)

    def _withins(self, life: HideLife, before: tuple[Step, ...], part: Part | None) -> list[int]:
        found = []
        for step in (*before, *(() if part is None else part.steps[:1])):
            for within in step.within:
                counted = counts_from(life, within)
                if counted is not None:
                    found.append(within.length.after(counted[0].lo, self.floor.book.clock))
        return found

    def presses(self, life: HideLife, before: tuple[Step, ...], part: Part | None) -> bool:
        """Whether a hide that is past a limit is harmed by each further hour: it lies raw, or in a step of a few hours at most."""
        at = self.floor.at
        if life.resting is not None or life.arrived_when.lo > at:
            return False
        if life.raw is not None and life.raw.running:
            return raw_past_its_limit(life) or any(one < at for one in self._withins(life, before, part))
        line = None if life.stay is None else life.stay.line
        limits = None if line is None or line.sort != "stay" else line.limits_for(life.kind)
        if life.stay is None or limits is None or limits.most is None or limits.most.about_seconds > EXACT:
            return False
        return life.stay.start.lo + limits.most.about_seconds < at


def mates_now(life: HideLife) -> str:
    """The name under which a hide in a bath lies beside others."""
    line = None if life.stay is None else life.stay.line
    if line is None:
        return "" if life.stay is None else life.stay.name
    return _mates(life, line)


def _mates(life: HideLife, step: Step) -> str:
    """Hides lie together in a tub when it is the same step by name and the sheet wants the same of the bath."""
    wants = [f"{one.least}-{one.most}" for one in (step.ph, step.salt, step.temperature) if one is not None]
    return " ".join([step.name, *wants]) + _apart(life)


def _apart(life: HideLife) -> str:
    return f", {life.tag} apart" if life.apart is not None else ""
