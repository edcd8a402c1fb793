"""The life of one hide in the shop, and of one bath: stays, steps, readings, each with the entry it comes from."""

from __future__ import annotations

from dataclasses import dataclass, field

from hideledger.model.entry import Entry
from hideledger.model.facts import (
    Amount,
    Code,
    Hung,
    InCondition,
    KeepApart,
    Killed,
    Party,
    Promised,
)
from hideledger.model.moments import When
from hideledger.model.process import Process, Step
from hideledger.model.units import Quantity
from hideledger.shopfloor.noted import Answer, BathReading, Defect, Dose, Noted, Spent, Taken, Test, Weight


@dataclass(slots=True, kw_only=True, eq=False)
class StepMark(Noted):
    """A step as written on this hide.

    `name` is the shop's own name for it; `line` the line of the process that the best alignment gives it (None: not a
    step of its process, or one too many); `fault` is "" or "out of order" or "not of this process"; `back` that it is a
    going back, no fault. `skipped` marks a step left out on purpose. `where` is the bath, vessel or place written with
    it.
    """

    name: str
    line: Step | None = None
    where: str = ""
    fault: str = ""
    back: bool = False
    skipped: bool = False
    on_purpose: bool = False  # `back in …`, or after a failed test
    elsewhere: bool = False  # told on the arrival line: done before it came, no stay begins here
    moved: bool = False  # the same stay goes on in another bath, or after a rest: no new step of the way


@dataclass(slots=True, kw_only=True, eq=False)
class Pause:
    """While a hide rests (frozen) the step clock stands.

    `end` None: still resting. `end_entry` None with an end: thawed at an unknown time.
    """

    name: str
    start: When
    entry: Entry
    end: When | None = None
    end_entry: Entry | None = None
    place: str = ""
    from_door: bool = False  # arrived frozen
    after: StepMark | None = None  # the last step before the rest


@dataclass(slots=True, kw_only=True, eq=False)
class Stay:
    """A step that holds the hide: from its line to the next step, `out of`, `out`, `lost` or the cut.

    `bath` is the bath's life when it was in one, `where` the tag or place as written. `turned` is the time the load ran
    while the hide was in it, seconds (least, most). A move of the same step to another bath is a new Stay with
    `goes_on` True. `end` None: it is in it now. `begun` is the start of the first of a row of stays that go on; `told`
    that it was written afterwards with its length or its from and to.
    """

    mark: StepMark
    start: When
    end: When | None = None
    end_entry: Entry | None = None
    where: str = ""
    bath: BathLife | None = None
    goes_on: bool = False
    begun: When | None = None
    told: bool = False
    turned: tuple[int, int] = (0, 0)
    turning_now: bool = False

    @property
    def name(self) -> str:
        """The step's name."""
        return self.mark.name

    @property
    def line(self) -> Step | None:
        """The process line that limits it."""
        return self.mark.line


@dataclass(slots=True, kw_only=True, eq=False)
class RawClock:
    """Hours raw since the kill, weighted by temperature to hours at `reference` degrees C.

    `shop` and `door` are seconds (least, most) in the shop and before the door, unweighted by the cold only when
    unknown; `weighted` is the shop's weighted seconds (least, most), or None where no temperature is known at all.
    `running` says whether it runs now; `stopped_by` the entry that stopped it last. `sure` is False when the kill time
    or a temperature is unknown.
    """

    door: tuple[int, int] | None
    shop: tuple[int, int]
    weighted: tuple[int, int] | None
    running: bool
    since: int
    stopped_by: Entry | None
    sure: bool
    spans: tuple[tuple[int, int, float | None], ...] = ()  # (from, to, degrees C or None) while it ran, in the shop
    reference_c: float | None = None  # degrees C at which an hour weighs an hour; None: not weighted
    door_weighted: tuple[int, int] | None = None  # before the door, where `hung` gave a temperature


@dataclass(slots=True, kw_only=True, eq=False)
class Missing:
    """A step of the process has no line although a later one has.

    The process line, and the mark before which it is missing (None: before out).
    """

    line: Step
    before: StepMark | None


@dataclass(slots=True, kw_only=True, eq=False)
class HideLife:
    """One hide (or box) lives from `in` to `out`, `lost`, `refused` or the cut.

    A tag may begin anew after it ended: another HideLife. Attribute fields hold (fact, entry) of the last line that counts, or None.
    """

    tag: str
    arrived: Entry
    arrived_when: When
    declared: bool = True  # False: no `in` was ever written; made up so that its lines have a home
    arrival_unread: bool = False  # a line that names it, its arrival as it seems, stands in the book and cannot be read
    box: bool = False
    count: int = 1
    ended: Entry | None = None
    ended_when: When | None = None
    ended_as: str = ""  # "out", "lost", "refused", "cut", "opened"
    kind: str = ""
    sex: str = ""
    condition: tuple[InCondition, Entry] | None = None
    killed: tuple[Killed, Entry] | None = None
    kill_when: When | None = None
    hung: tuple[Hung, Entry] | None = None
    parties: dict[str, tuple[Party, Entry]] = field(default_factory=dict)  # by role: "for", "from", "hunter", "owner"
    codes: dict[str, tuple[Code, Entry]] = field(default_factory=dict)  # "tag", "licence", "seal", "their tag"
    promised: tuple[Promised, Entry] | None = None
    apart: tuple[KeepApart, Entry] | None = None
    process: Process | None = None
    process_entry: Entry | None = None
    parent: str = ""  # cut from
    what: str = ""  # which part of it: `cape`, `back skin`
    stands_in_for: str = ""
    from_box: str = ""
    tanned_before: bool = False  # leather when it came in: tanned elsewhere, or here before
    was: HideLife | None = None  # the same skin, the last time it was here
    before: HideLife | None = None  # the same skin, when this book tanned it
    came_back: tuple[HideLife, ...] = ()  # the same skin, each time it came in again as leather
    handed_to: str = ""
    lines: list[Entry] = field(default_factory=list)  # every entry that names it, in time order; `after_end` apart
    marks: list[StepMark] = field(default_factory=list)  # in time order, skipped ones too
    missing: list[Missing] = field(default_factory=list)
    swapped: list[tuple[StepMark, Step]] = field(default_factory=list)
    stays: list[Stay] = field(default_factory=list)
    pauses: list[Pause] = field(default_factory=list)
    # where it stood from when on: bath tag, place name, or ""
    places: list[tuple[When, str]] = field(default_factory=list)
    weights: list[Weight] = field(default_factory=list)
    tests: list[Test] = field(default_factory=list)
    defects: list[Defect] = field(default_factory=list)
    taken: list[Taken] = field(default_factory=list)
    used: list[Spent] = field(default_factory=list)
    waived: list[Answer] = field(default_factory=list)
    raw: RawClock | None = None
    after_end: list[Entry] = field(default_factory=list)  # steps, readings … written after it was out
    twice_in: list[Entry] = field(default_factory=list)  # further arrivals under this tag while it was here

    @property
    def here(self) -> bool:
        """Whether it is in the shop (at the moment the floor was laid out)."""
        return self.ended is None

    @property
    def stay(self) -> Stay | None:
        """The stay it is in now."""
        last = self.stays[-1] if self.stays else None
        return last if last is not None and last.end is None else None

    @property
    def resting(self) -> Pause | None:
        """The rest it is in now."""
        last = self.pauses[-1] if self.pauses else None
        return last if last is not None and last.end is None else None

    @property
    def payer(self) -> str:
        """Who the job is for."""
        party = self.parties.get("for")
        return party[0].name if party else ""


@dataclass(slots=True, kw_only=True, eq=False)
class Member:
    """A hide's time in a bath: `leave` None while it is in."""

    hide: HideLife
    stay: Stay
    enter: When
    leave: When | None = None


@dataclass(slots=True, kw_only=True, eq=False)
class Turn:
    """A load turned for one stretch.

    `end` None while it turns; `open_ended` when no `off` was written and the next line had to end it; `told` when it was written afterwards
    with its from and to.
    """

    start: When
    end: When | None
    entry: Entry
    end_entry: Entry | None = None
    open_ended: bool = False
    told: bool = False


@dataclass(slots=True, kw_only=True, eq=False)
class BathLife:
    """One bath or load from `mixed` to `dumped` (or to being mixed anew). All lists in time order."""

    tag: str
    made: Entry
    made_when: When
    vessel: str = ""
    recipe: str = ""
    declared: bool = True
    amounts: tuple[Amount, ...] = ()
    ended: Entry | None = None
    ended_when: When | None = None
    ended_as: str = ""  # "dumped" or "mixed anew"
    doses: list[Dose] = field(default_factory=list)
    readings: list[BathReading] = field(default_factory=list)
    stirs: list[Noted] = field(default_factory=list)  # stirred, mixed, add, topped up, turned: whatever moves it
    members: list[Member] = field(default_factory=list)
    turns: list[Turn] = field(default_factory=list)
    vents: list[Noted] = field(default_factory=list)
    pressed: list[tuple[Noted, Quantity | None]] = field(default_factory=list)
    tests: list[Test] = field(default_factory=list)
    load_weights: list[Weight] = field(default_factory=list)
    waived: list[Answer] = field(default_factory=list)
    lines: list[Entry] = field(default_factory=list)
    after_end: list[Entry] = field(default_factory=list)  # written after it was let go, before it was mixed again
    volume_l: float | None = None  # litres of liquid now, no more than its vessel takes
    ran_over: tuple[Entry, float] | None = (
        None  # the line that wrote more into it than its vessel takes, and how many litres that came to
    )
    pounds_through: float = 0.0  # lb of skin that has gone in: each hide once, by its last weight when it first went in
    unweighed: int = 0  # hides that went in with no weight known

    def inside(self, instant: int) -> list[Member]:
        """Who is in it at an instant, for certain or maybe (both ends included)."""
        return [m for m in self.members if m.enter.lo <= instant and (m.leave is None or instant <= m.leave.hi)]

    @property
    def now_in(self) -> list[Member]:
        """Who is in it at the moment the floor was laid out."""
        return [m for m in self.members if m.leave is None]
