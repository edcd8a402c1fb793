"""Each line of a history says its whole date and the whole tag, so that a search for either finds it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from hideledger.answers.history.at_work import as_it_met, at_work_from
from hideledger.answers.history.reckoned import of_a_bath, of_a_hide
from hideledger.answers.history.sign import raw_at_first_slip
from hideledger.answers.saying import length_said, local_stamp, written_stamp
from hideledger.answers.wording import words_of
from hideledger.model.entry import Entry
from hideledger.model.moments import Clock, When, spoken
from hideledger.rules.finding import Finding
from hideledger.rules.spans import elapsed, now_when
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife, Member, Stay
from hideledger.shopfloor.noted import Noted

LINE, BATH, BESIDE, STAY, SIGN, FINDING = "line", "bath", "beside", "stay", "sign", "finding"
RECKONED = "reckoned"
_RANK = {LINE: 0, BATH: 0, BESIDE: 0, STAY: 1, SIGN: 1, RECKONED: 2, FINDING: 3}


@dataclass(frozen=True, slots=True, kw_only=True)
class Happening:
    """One thing happened to a hide or a bath, and a line of the book or a sum of lines tells of it.

    `sort` is `line`, `bath` (a line of the bath it was in), `beside` (a line of another that lay in there with it), `stay`, `sign` (its hair
    first came loose there), `reckoned` (what follows from a line by arithmetic) or `finding`.

    `instant` is when, in UTC seconds, for the order; `stamp` as it is shown: date and time, or the date alone.
    """

    instant: int
    order: int
    sort: str
    stamp: str
    tag: str
    text: str
    file: str
    line: int

    @property
    def rank(self) -> tuple[int, bool, int, int]:
        """The order of telling: by the earliest time it can be, then as in the book, what follows from a line behind it.

        Findings come last of what was at one instant.
        """
        return self.instant, self.sort == FINDING, self.order, _RANK[self.sort]


def of_hide(life: HideLife, findings: Sequence[Finding], floor: Floor) -> list[Happening]:
    """Its own lines, those of every bath while it was in, its stays with their length, and the findings about it."""
    clock, at = floor.book.clock, floor.at
    own = {entry.order for entry in life.lines}
    told = [
        written(entry, _when_of(entry, life, floor), life.tag, LINE, clock) for entry in [*life.lines, *life.after_end]
    ]
    told += _inherited(life, own, floor)
    told += [_stayed(stay, life, clock, at) for stay in life.stays]
    told += first_slip(life, floor)
    told += [_reckoned(life.tag, noted, text, clock) for noted, text in of_a_hide(life)]
    told += _found_on(life, findings, floor)
    return sorted(told, key=lambda happening: happening.rank)


def _found_on(life: HideLife, findings: Sequence[Finding], floor: Floor) -> Iterator[Happening]:
    """The findings about it; a bath's fault that had begun before stands where the hide went in."""
    clock, first = floor.book.clock, (life.arrived, _when_of(life.arrived, life, floor))
    for finding in findings:
        own = at_work_from(finding, life)
        for told in of_findings(life.tag, [as_it_met(finding, life, floor)], floor, first):
            if own is None or own.stay is None:
                yield told
            else:
                yield replace(told, instant=own.instant, stamp=written_stamp(own.stay.start, clock))


def first_slip(life: HideLife, floor: Floor) -> Iterator[Happening]:
    """Where its hair was first seen to come loose, and how long it had been raw by then."""
    found = raw_at_first_slip(life, floor)
    if found is not None:
        sign, raw = found
        yield replace(
            written(sign.entry, sign.when, life.tag, SIGN, floor.book.clock), text=f"first sign of slip: {raw}"
        )


def of_bath(bath: BathLife, findings: Sequence[Finding], floor: Floor) -> list[Happening]:
    """Its own lines, each skin's going in and coming out, and the findings about it."""
    clock, at = floor.book.clock, floor.at
    told = [written(entry, floor.moment(entry, bath.tag), bath.tag, LINE, clock) for entry in bath.lines]
    seen = {entry.order for entry in bath.lines}
    for member in bath.members:
        told += _came_and_went(bath, member, seen, clock, at)
    told += [_reckoned(bath.tag, noted, text, clock) for noted, text in of_a_bath(bath, floor)]
    told += of_findings(bath.tag, findings, floor, (bath.made, bath.made_when))
    return sorted(told, key=lambda happening: happening.rank)


def _reckoned(tag: str, noted: Noted, text: str, clock: Clock) -> Happening:
    """What follows from a line, told right behind it."""
    return replace(written(noted.entry, noted.when, tag, RECKONED, clock), text=f"reckoned: {text}")


def of_findings(tag: str, findings: Iterable[Finding], floor: Floor, first: tuple[Entry, When]) -> Iterator[Happening]:
    """The findings, each at the moment its fault began; one that is still to come stands at `at`.

    `first` is the line with which the life began: where it has no time, nothing that follows from it is told before.
    """
    clock, at = floor.book.clock, floor.at
    start, began_life = first
    for finding in findings:
        entry = finding.entry
        began = finding.since if finding.since is not None else entry.when.lo if entry is not None else at
        began = min(began, at)
        loose = entry is not None and not entry.when.timed and began == entry.when.lo
        instant = floor.moment(entry, tag).lo if loose and entry is not None else began
        if not start.when.timed and start.when.lo <= began:
            instant = max(instant, began_life.lo)
        may = ", maybe" if finding.may else ""
        place = finding.place or (entry.at if entry is not None else finding.rule)
        yield Happening(
            instant=min(instant, max(at, began_life.lo)),
            order=entry.order if entry is not None else 0,
            sort=FINDING,
            stamp=written_stamp(entry.when, clock) if loose and entry is not None else local_stamp(began, clock),
            tag=tag,
            text=f"finding: {finding.name}{may}: {finding.message}",
            file=place.file if place is not None else "",
            line=place.line if place is not None else 0,
        )


def written(entry: Entry, when: When, tag: str, sort: str, clock: Clock) -> Happening:
    """A line of the book, told of `tag`; `when` settles where it stands, its own stamp is what is shown."""
    place = entry.at
    return Happening(
        instant=when.lo,
        order=entry.order,
        sort=sort,
        stamp=written_stamp(entry.when, clock),
        tag=tag,
        text=words_of(entry, tag),
        file=place.file,
        line=place.line,
    )


def _when_of(entry: Entry, life: HideLife, floor: Floor) -> When:
    """The moment of a line: as the layout has settled it for the hide, where it is a step, else as for its other lines."""
    if entry.when.timed:
        return entry.when
    return next((mark.when for mark in life.marks if mark.entry is entry), floor.moment(entry, life.tag))


def _inherited(life: HideLife, own: set[int], floor: Floor) -> Iterator[Happening]:
    seen = set(own)
    for stay in life.stays:
        bath = stay.bath
        if bath is None:
            continue
        end = floor.at if stay.end is None else stay.end.hi
        for entry in bath.lines:
            when = floor.moment(entry, bath.tag)
            inside = stay.start.lo <= when.hi and when.lo <= end
            if (inside or entry is bath.made) and entry.order not in seen:
                seen.add(entry.order)
                if bath.tag in entry.tags:
                    yield written(entry, when, life.tag, BATH, floor.book.clock)
                else:
                    mate = written(entry, when, life.tag, BESIDE, floor.book.clock)
                    yield replace(mate, text=f"beside it: {mate.text}")


def _stayed(stay: Stay, life: HideLife, clock: Clock, at: int) -> Happening:
    end = stay.end if stay.end is not None else now_when(clock, at)
    least, most = elapsed(life, stay.start, end, at)
    title = stay.line.title if stay.line is not None else stay.name
    where = f" in {stay.where}" if stay.where else ""
    length = length_said(least, most)
    rested = end.lo - stay.start.hi - most
    if rested >= 60 and life.pauses:  # the step's clock stands while it is frozen
        length += f", and {spoken(rested)} at rest"
    turned = f", turned {spoken(stay.turned[0])}" if stay.line is not None and stay.line.sort == "run" else ""
    begun = written_stamp(stay.start if stay.told else stay.mark.entry.when, clock)
    words = "so far" if stay.end is None else "ended"
    entry = stay.end_entry or stay.mark.entry
    return Happening(
        instant=end.lo,
        order=entry.order,
        sort=STAY,
        stamp=local_stamp(at, clock) if stay.end is None else written_stamp(end, clock),
        tag=life.tag,
        text=f"stay {words}: {title}{where} since {begun}, {length}{turned}",
        file=entry.at.file,
        line=entry.at.line,
    )


def _came_and_went(bath: BathLife, member: Member, seen: set[int], clock: Clock, at: int) -> Iterator[Happening]:
    tag, entry = member.hide.tag, member.stay.mark.entry
    step = member.stay.line.title if member.stay.line is not None else member.stay.name
    if entry.order not in seen:
        yield moved(bath.tag, member.enter, entry, f"{tag} in, {step}", clock)
    if member.leave is not None:
        least, most = max(0, member.leave.lo - member.enter.hi), member.leave.hi - member.enter.lo
        length = length_said(least, most)
        yield moved(bath.tag, member.leave, member.stay.end_entry or entry, f"{tag} out, {step}, {length}", clock)
    else:
        yield moved(bath.tag, now_when(clock, at), entry, f"{tag} still in, {step}", clock)


def moved(tag: str, when: When, entry: Entry, text: str, clock: Clock) -> Happening:
    """A skin goes into the bath, vessel or place `tag`, or comes out of it."""
    return Happening(
        instant=when.lo,
        order=entry.order,
        sort=STAY,
        stamp=written_stamp(when, clock),
        tag=tag,
        text=text,
        file=entry.at.file,
        line=entry.at.line,
    )
