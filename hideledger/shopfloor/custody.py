"""Whose hands each skin passed through: every life of every tag as one record, with the skins it was cut into or taken out of."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from hideledger.model.entry import Entry
from hideledger.model.facts import Divided, Killed, LiftedOut, Money, Opened, Party, StandsIn
from hideledger.model.moments import When
from hideledger.model.units import CURRENCIES, Quantity
from hideledger.shopfloor.again import earlier_lives
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife, StepMark
from hideledger.shopfloor.tanned import tan_began, tan_of


@dataclass(slots=True, kw_only=True, eq=False)
class Custody:
    """One skin, box or part in the shop's hands.

    `begun` is when this tag began to stand for it: the arrival, or the opening of its box, or the cut. `parts` are the skins a box was opened
    into, or a skin was cut into; `whole` what it came out of. `stands_in` are lines by which it took over another's job, `replaced_by`
    the tags that took over its own: the job moves, the custody never. `taken` are skins that came in by lines of their own and were lifted out
    of this box; `box` is that box, for each of them. `was` is the same skin as it was here before, `again` as it came in once more.
    """

    life: HideLife
    begun: When
    whole: Custody | None = None
    box: Custody | None = None
    taken: list[Custody] = field(default_factory=list)
    parts: list[Custody] = field(default_factory=list)
    replaced_by: list[tuple[str, Entry]] = field(default_factory=list)
    stands_in: list[Entry] = field(default_factory=list)
    value: tuple[Quantity, Entry] | None = None
    was: Custody | None = None
    again: list[Custody] = field(default_factory=list)

    @property
    def here(self) -> bool:
        """Whether it, or a part of it, is in the shop."""
        return any(part.here for part in self.parts) if self.parts else self.life.here

    @property
    def left(self) -> date | None:
        """The day on which the last of it left, and for the last time; None while something is here, or here again."""
        when = self.life.ended_when
        if when is None:
            return None
        later = [*self.parts, *self.again]
        days = [*(one.left for one in later), *(() if self.parts else (date.fromordinal(when.day),))]
        known = [day for day in days if day is not None]
        return max(known) if len(known) == len(days) else None

    @property
    def killed(self) -> Killed | None:
        """When and where it was killed, as its own lines have it or those of an earlier time here."""
        known = (life.killed for life in (self.life, *earlier_lives(self.life)))
        return next((killed[0] for killed in known if killed is not None), None)

    @property
    def person_for(self) -> str:
        """Who it was brought for by its own lines; what it took over with another's job is not whose skin it is."""
        own = next(
            (
                fact.name
                for entry in reversed(self.life.lines)
                for fact in reversed(entry.facts)
                if isinstance(fact, Party) and fact.role == "for"
            ),
            "",
        )
        return own or (self.was.person_for if self.was is not None and "for" in self.life.parties else "")

    def party(self, role: str) -> str:
        """The name of one of the people to do with it: `from`, `hunter`, `owner`; `for` only by its own lines."""
        if role == "for":
            return self.person_for
        found = self.life.parties.get(role)
        return found[0].name if found is not None else ""

    @property
    def owner(self) -> str:
        """Whose skin it is, as far as it is written: the `owner`, else whom it was brought for."""
        return self.party("owner") or self.person_for

    def code(self, sort: str) -> str:
        """The legal `tag`, `licence`, `seal` or `their tag`; of a part, its own or that of the whole, also where it was written later."""
        found = self.life.codes.get(sort)
        if found is not None:
            return found[0].code
        cut = self.whole is not None and not self.whole.life.box
        return self.whole.code(sort) if self.whole is not None and cut else ""

    @property
    def tanning(self) -> StepMark | None:
        """The line with which tanning began; of leather that came back, the one by which it was tanned here."""
        for life in (self.life, *earlier_lives(self.life)):
            if (began := tan_began(life)) is not None:
                return began
        return None

    @property
    def tanning_known(self) -> bool:
        """Whether its process says, or shows by its name, at which step tanning begins."""
        process = self.life.process
        return process is not None and tan_of(process) is not None


def custody_of(floor: Floor) -> tuple[Custody, ...]:
    """Every life of every tag, in order of arrival; what came out of a box or a cut stands behind it."""
    records = {id(life): Custody(life=life, begun=life.arrived_when) for life in floor.all_hides()}
    for record in records.values():
        _find_parts(record, records, floor)
    for record in records.values():
        _find_box(record, records, floor)
    for record in records.values():
        _find_standing_in(record, records, floor)
        was = record.life.was
        if was is not None and record.whole is None:
            record.was = records[id(was)]
            record.was.again.append(record)
    _find_values(records.values(), floor)
    ordered: list[Custody] = []
    for record in records.values():
        if record.whole is None:
            _put(record, ordered)
    return tuple(ordered)


def _put(record: Custody, ordered: list[Custody]) -> None:
    ordered.append(record)
    for part in record.parts:
        _put(part, ordered)


def _find_parts(record: Custody, records: dict[int, Custody], floor: Floor) -> None:
    """Its parts are the lives under the tags of the line that ended it which share its arrival."""
    life = record.life
    if life.ended is None or life.ended_when is None or life.ended_as not in ("cut", "opened"):
        return
    tags: list[str] = []
    for fact in life.ended.facts:
        if isinstance(fact, Divided):
            tags += [tag for tag, _ in fact.parts]
        elif isinstance(fact, Opened):
            tags += fact.tags
    for tag in dict.fromkeys(tags):
        for other in floor.hides.get(tag, ()):
            part = records[id(other)]
            if (
                other.arrived is life.arrived
                and part is not record
                and part.whole is None
                and life.ended in other.lines
            ):
                part.whole, part.begun = record, life.ended_when
                record.parts.append(part)


def _find_box(record: Custody, records: dict[int, Custody], floor: Floor) -> None:
    """The box that a skin with an arrival of its own was lifted out of: the last of that tag that had come in by then."""
    life = record.life
    if not life.from_box or record.whole is not None:
        return
    lifted = next(
        (
            entry
            for entry in life.lines
            for fact in entry.facts
            if isinstance(fact, LiftedOut) and fact.where == life.from_box
        ),
        None,
    )
    boxes = [box for box in floor.hides.get(life.from_box, ()) if box.box and box is not life]
    if lifted is not None and boxes:
        before = [box for box in boxes if box.arrived_when.lo <= lifted.when.hi]
        record.box = records[id((before or boxes)[-1])]
        record.box.taken.append(record)


def _find_standing_in(record: Custody, records: dict[int, Custody], floor: Floor) -> None:
    for entry in record.life.lines:
        for fact in entry.facts:
            if not isinstance(fact, StandsIn) or record.life.tag not in entry.tags:
                continue
            record.stands_in.append(entry)
            earlier = [life for life in floor.hides.get(fact.other, ()) if life.arrived_when.lo <= entry.when.hi]
            if earlier:
                records[id(earlier[-1])].replaced_by.append((record.life.tag, entry))


def _find_values(records: Iterable[Custody], floor: Floor) -> None:
    """What a skin was valued at: on its own line, or on one for several, the same for each. A part has no share of its whole's value."""
    of_money = {entry.order for entry in floor.money}
    for record in records:
        for entry in record.life.lines:
            if entry.order not in of_money or (entry.group is None and record.life.tag not in entry.tags):
                continue
            for fact in entry.facts:
                if isinstance(fact, Money) and fact.sort == "value" and fact.money.unit in CURRENCIES:
                    record.value = (fact.money, entry)
        if record.value is None and record.was is not None:
            record.value = record.was.value  # the same skin, and who came first stands first
