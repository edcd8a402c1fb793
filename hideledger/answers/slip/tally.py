"""Who met what: one column for each thing, with nobody called spared of it who may have met it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from hideledger.answers.slip.compare import Exposure
from hideledger.answers.slip.outcomes import Fate
from hideledger.model.entry import Entry
from hideledger.model.moments import When

Thing = tuple[str, str, str]  # sort, name, those: as in Exposure


class Tally:
    """Gathers what the skins met. What is not said of a skin means that it did not meet the thing.

    What was met at a step is known only of skins that came to that step: one that slipped before it is left out there, or
    every late bath would seem to spare the skins that lay in it.
    """

    __slots__ = ("_at", "_lines", "_met", "_reached", "_said", "fates")

    def __init__(self, fates: Sequence[Fate]) -> None:
        self.fates = tuple(fates)
        self._met: dict[Thing, dict[int, bool | None]] = {}
        self._at: dict[Thing, set[str]] = {}
        self._lines: dict[Thing, dict[int, Entry]] = {}
        self._said: dict[Thing, dict[str, None]] = {}
        self._reached = [reached(fate) if fate.sign is not None else frozenset() for fate in fates]

    def meets(self, thing: Thing, index: int, met: bool | None, *, at: str = "", line: Entry | None = None) -> None:
        """A skin met a thing, or may have (None), at a step, as a line of the book tells.

        Once met stays met, and once doubtful is never not met.
        """
        column = self._met.setdefault(thing, {})
        had = column.get(index, False)
        column[index] = True if had or met else (None if had is None or met is None else False)
        if at:
            self._at.setdefault(thing, set()).add(at)
        if line is not None and met is not False:
            self._lines.setdefault(thing, {}).setdefault(line.order, line)

    def tells(self, thing: Thing, line: Entry) -> None:
        """A line of the book that tells of a thing which somebody met."""
        if thing in self._met:
            self._lines.setdefault(thing, {})[line.order] = line

    def says(self, thing: Thing, words: str) -> None:
        """What a finding says of a thing which somebody met; said once."""
        self._said.setdefault(thing, {})[words] = None

    def unsaid(self, sort: str) -> None:
        """Of skins that nothing was said of yet nobody can tell whether they met things of this sort."""
        for thing in self.of_sort(sort):
            for index in range(len(self.fates)):
                if index not in self._met[thing]:
                    self._met[thing][index] = None

    def may_have(self, index: int, things: Iterable[Thing]) -> None:
        """Nobody can tell whether this skin met these things."""
        for thing in things:
            self.meets(thing, index, None)

    def of_sort(self, sort: str) -> list[Thing]:
        """The things of a sort that were met."""
        return [thing for thing in self._met if thing[0] == sort]

    def exposures(self) -> list[Exposure]:
        """All of them, in the order in which they were first met."""
        late: dict[frozenset[str], frozenset[int]] = {}
        found = []
        for thing, column in self._met.items():
            steps = frozenset(self._at.get(thing, ()))
            if steps not in late:
                late[steps] = self._never_came_to(steps)
            met = frozenset(index for index, said in column.items() if said)
            unsure = frozenset(index for index, said in column.items() if said is None) | (late[steps] - met)
            found.append(
                Exposure(
                    sort=thing[0],
                    name=thing[1],
                    those=thing[2],
                    met=met,
                    unsure=unsure,
                    lines=tuple(line for _, line in sorted(self._lines.get(thing, {}).items())),
                    said=tuple(self._said.get(thing, ())),
                )
            )
        return found

    def _never_came_to(self, steps: frozenset[str]) -> frozenset[int]:
        """Those that slipped on their way to all of these steps, and had come to none."""
        return frozenset(
            index
            for index, fate in enumerate(self.fates)
            if steps and fate.sign is not None and not steps & self._reached[index] and steps & _ahead(fate)
        )


def reached(fate: Fate) -> frozenset[str]:
    """The steps that a skin had come to when its first sign was seen."""
    return frozenset(
        mark.name
        for mark in fate.life.marks
        if not mark.skipped and not mark.elsewhere and fate.before_sign(mark.when.lo)
    )


def _ahead(fate: Fate) -> frozenset[str]:
    process = fate.life.process
    return frozenset() if process is None else frozenset(step.name for step in process.steps)


def was_before(when: When, limit_lo: int | None, limit_hi: int | None) -> bool | None:
    """Whether something came before a limit that lies between two instants (None: there is no limit); None: it may."""
    if limit_lo is None or limit_hi is None or when.hi <= limit_lo:
        return True
    return None if when.lo < limit_hi else False
