"""What became of the work on each skin: whether it was finished or went back as it came, which parts are one skin, whose job another took over."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from hideledger.answers.standing import is_finished
from hideledger.model.entry import Entry
from hideledger.model.facts import StandsIn
from hideledger.rules.names import account
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.shopfloor.tanned import place_of_work, was_worked

UNTANNED = "handed back untanned"


@dataclass(slots=True, kw_only=True, eq=False)
class Jobs:
    """All skins of a floor as jobs. `took_over` and `replaced_by` are the two ends of a line such as `H50 replaces H44`."""

    floor: Floor
    took_over: dict[int, HideLife] = field(default_factory=dict)
    replaced_by: dict[int, HideLife] = field(default_factory=dict)
    by_arrival: dict[tuple[str, int], HideLife] = field(default_factory=dict)
    parts: dict[tuple[str, int], list[HideLife]] = field(default_factory=dict)
    skins_in: dict[tuple[str, int], list[HideLife]] = field(default_factory=dict)
    worked: dict[int, bool] = field(default_factory=dict)  # what was found out of a life

    def whole(self, life: HideLife) -> HideLife:
        """The skin that a part was cut from, the first of them; of a whole skin itself."""
        while life.parent:
            above = self.by_arrival.get((life.parent, id(life.arrived)))
            if above is None or above is life:
                break
            life = above
        return life

    def parts_of(self, life: HideLife) -> list[HideLife]:
        """What a skin was cut into, in the order of its line."""
        return self.parts.get((life.tag, id(life.arrived)), [])

    def heirs(self, life: HideLife) -> list[HideLife]:
        """What a skin was cut into, or the skins that a box was opened into."""
        return [*self.parts_of(life), *self.skins_in.get((life.tag, id(life.arrived)), [])]

    def box_of(self, life: HideLife) -> HideLife | None:
        """The box that a skin was taken out of."""
        return self.by_arrival.get((life.from_box, id(life.arrived))) if life.from_box else None

    def skins(self, life: HideLife) -> Fraction:
        """How many skins a tag stands for: a box for all in it, a part for its even part of one."""
        if not life.parent:
            return Fraction(max(1, life.count))
        above = self.by_arrival.get((life.parent, id(life.arrived)))
        if above is None or above is life:
            return Fraction(1)
        return self.skins(above) / max(1, len(self.parts_of(above)))

    def counts_for(self, life: HideLife) -> Fraction:
        """What a tag counts for by its kind: of a part its share of the whole skin's kind."""
        kind = self.floor.book.shop.kinds.get(self.whole(life).kind.casefold())
        return (Fraction(1) if kind is None else Fraction(kind.counts)) * self.skins(life)

    def came_through(self, life: HideLife) -> bool:
        """Whether it was finished: it waits to be fetched, or went out after the work that makes leather of it."""
        if life.here:
            return is_finished(life, self.floor.book.clock, self.floor.at) and self.was_worked(life)
        return life.ended_as == "out" and self.was_worked(life)

    def was_worked(self, life: HideLife) -> bool:
        """Whether it went as far as the step that makes leather of a skin, or further (`shopfloor/tanned.py`); looked at once."""
        found = self.worked.get(id(life))
        if found is None:
            found = self.worked[id(life)] = was_worked(life)
        return found

    def not_finished(self, life: HideLife) -> str:
        """`lost`, `refused`, `handed back untanned`, `replaced by H50`, `back since, sent to Harrow Tannery`: why a tag will not come back finished; nothing while it may."""
        other = self.replaced_by.get(id(life))
        if other is not None:
            return f"back since, sent to {life.handed_to}" if other.was is life else f"replaced by {other.tag}"
        if life.ended_as in ("lost", "refused"):
            return life.ended_as
        return UNTANNED if life.ended_as == "out" and not self.was_worked(life) else ""

    def leaves(self, life: HideLife) -> list[HideLife]:
        """What is left of a skin or a box when all that came out of it is told: parts, skins; of a whole one itself."""
        heirs = self.heirs(life)
        return [leaf for heir in heirs for leaf in self.leaves(heir)] if heirs else [life]

    def may_come(self, life: HideLife) -> bool:
        """Whether it, a part of it, a skin out of it, or what took over its job came or may still come back finished."""
        return any(not self.not_finished(self.chain_end(leaf)) for leaf in self.leaves(life))

    def chain(self, life: HideLife) -> list[HideLife]:
        """The skins whose job this one took over, the first of them first, and itself."""
        row = [life]
        while (before := self.took_over.get(id(row[0]))) is not None and not any(before is one for one in row):
            row.insert(0, before)
        return row

    def chain_end(self, life: HideLife) -> HideLife:
        """The skin that has its job now; itself where nobody took it over."""
        row = [life]
        while (other := self.replaced_by.get(id(row[-1]))) is not None and not any(other is one for one in row):
            row.append(other)
        return row[-1]


def jobs_of(floor: Floor) -> Jobs:
    """The jobs of a floor."""
    jobs = Jobs(floor=floor)
    for life in floor.all_hides():
        came = id(life.arrived)
        jobs.by_arrival[life.tag, came] = life
        if life.parent:
            jobs.parts.setdefault((life.parent, came), []).append(life)
        elif life.from_box:
            jobs.skins_in.setdefault((life.from_box, came), []).append(life)
    for life in floor.all_hides():
        if life.stands_in_for:
            _hand_over(life, jobs)
        elif life.was is not None and not life.parent and life.tanned_before and _was_sent(life.was, jobs):
            jobs.replaced_by[id(life.was)] = life
            jobs.took_over[id(life)] = life.was
    return jobs


def _was_sent(life: HideLife, jobs: Jobs) -> bool:
    """Whether it went raw to somebody who is not its customer, to be tanned there: when it is back, the job goes on."""
    sent = life.ended_as == "out" and life.handed_to and account(life.handed_to) != account(life.payer)
    return bool(sent) and not jobs.was_worked(life) and id(life) not in jobs.replaced_by


def _hand_over(life: HideLife, jobs: Jobs) -> None:
    """The job goes over where both are for one customer; one of another customer keeps its own bill."""
    for entry in life.lines:
        if life.tag not in entry.tags:
            continue
        for fact in entry.facts:
            if not isinstance(fact, StandsIn):
                continue
            other = life_at(fact.other, entry, jobs.floor)
            if other is None or other is life or (other.payer and account(other.payer) != account(life.payer)):
                continue
            before = jobs.replaced_by.get(id(other))
            if before is not None:
                jobs.took_over.pop(id(before), None)  # the later line says who has the job
            jobs.replaced_by[id(other)] = life
            jobs.took_over[id(life)] = other


def life_at(tag: str, entry: Entry, floor: Floor) -> HideLife | None:
    """The hide that bore a tag when a line was written."""
    lives = floor.hides.get(tag, [])
    before = [life for life in lives if life.arrived is entry or life.arrived_when.lo <= entry.when.hi]
    return before[-1] if before else lives[0] if lives else None


def missing_step(life: HideLife) -> str:
    """What to write of a skin that went back untanned by its lines, and not by the work."""
    if life.process is None or not life.process.steps:
        return ""
    if life.box:
        return "a box that was not opened"
    step = life.process.steps[place_of_work(life.process)].name
    return f"no line as far as {step}; if it was finished, write it late, with its own date: `{life.tag} {step}`"
