"""Each line of a history says its whole date and the whole tag, so that a search for either finds it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from hideledger.answers.saying import local_stamp, written_stamp
from hideledger.model.entry import Entry
from hideledger.model.moments import Clock, When, spoken
from hideledger.rules.finding import Finding
from hideledger.rules.spans import elapsed, now_when
from hideledger.shopfloor.life import BathLife, HideLife, Member, Stay

# What a line shows at its head in another form already: a date and a time as most books write them.
_STAMP = re.compile(r"(?:[0-9]{4}-[0-9]{2}-[0-9]{2}(?![0-9]))?[ \t]*(?:[0-9]{1,2}:[0-9]{2}(?![0-9])(?! *[ap]))?[ \t]*")

LINE, BATH, STAY, FINDING = "line", "bath", "stay", "finding"
_RANK = {LINE: 0, BATH: 0, STAY: 1, FINDING: 2}


@dataclass(frozen=True, slots=True, kw_only=True)
class Happening:
    """One thing that happened to a hide or a bath; `sort` is `line`, `bath` (a line of the bath it was in), `stay`
    or `finding`.

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
    def rank(self) -> tuple[int, int, int]:
        """The order of telling: by time, then what was written before what follows from it, then as in the book."""
        return self.instant, _RANK[self.sort], self.order


def of_hide(life: HideLife, findings: Sequence[Finding], clock: Clock, at: int) -> list[Happening]:
    """Its own lines, those of every bath while it was in, its stays with their length, and the findings about it."""
    own = {entry.order for entry in life.lines}
    told = [_written(entry, _when_of(entry, life), life.tag, LINE, clock) for entry in [*life.lines, *life.after_end]]
    told += _inherited(life, own, clock, at)
    told += [_stayed(stay, life, clock, at) for stay in life.stays]
    told += of_findings(life.tag, findings, clock, at)
    return sorted(told, key=lambda happening: happening.rank)


def of_bath(bath: BathLife, findings: Sequence[Finding], clock: Clock, at: int) -> list[Happening]:
    """Its own lines, each skin's going in and coming out, and the findings about it."""
    told = [_written(entry, entry.when, bath.tag, LINE, clock) for entry in bath.lines]
    seen = {entry.order for entry in bath.lines}
    for member in bath.members:
        told += _came_and_went(bath, member, seen, clock, at)
    told += of_findings(bath.tag, findings, clock, at)
    return sorted(told, key=lambda happening: happening.rank)


def of_findings(tag: str, findings: Iterable[Finding], clock: Clock, at: int) -> Iterator[Happening]:
    """The findings, each at the moment its fault began; one that is still to come stands at `at`."""
    for finding in findings:
        entry = finding.entry
        began = finding.since if finding.since is not None else entry.when.lo if entry is not None else at
        began = min(began, at)
        may = ", maybe" if finding.may else ""
        place = finding.place or (entry.at if entry is not None else finding.rule)
        yield Happening(
            instant=began,
            order=entry.order if entry is not None else 0,
            sort=FINDING,
            stamp=local_stamp(began, clock),
            tag=tag,
            text=f"finding: {finding.name}{may}: {finding.message}",
            file=place.file if place is not None else "",
            line=place.line if place is not None else 0,
        )


def _written(entry: Entry, when: When, tag: str, sort: str, clock: Clock) -> Happening:
    place = entry.at
    bare = words_of(entry)
    if entry.tags == (tag,) and bare[: len(tag) + 1].casefold() == f"{tag} ".casefold():
        bare = bare[len(tag) :]
    return Happening(
        instant=when.lo if when.timed else when.hi,
        order=entry.order,
        sort=sort,
        stamp=written_stamp(entry.when, clock),
        tag=tag,
        text=bare.strip(),
        file=place.file,
        line=place.line,
    )


def words_of(entry: Entry) -> str:
    """The words of an entry in one line, without the date and time at its head."""
    found = _STAMP.match(entry.text)
    return " ".join((entry.text[found.end() :] if found is not None else entry.text).split())


def _when_of(entry: Entry, life: HideLife) -> When:
    """The moment of a line as its neighbours leave it, where the layout has narrowed it."""
    return next((mark.when for mark in life.marks if mark.entry is entry), entry.when)


def _inherited(life: HideLife, own: set[int], clock: Clock, at: int) -> Iterator[Happening]:
    seen = set(own)
    for stay in life.stays:
        bath = stay.bath
        if bath is None:
            continue
        end = at if stay.end is None else stay.end.hi
        for entry in bath.lines:
            inside = stay.start.lo <= entry.when.hi and entry.when.lo <= end
            if (inside or entry is bath.made) and entry.order not in seen:
                seen.add(entry.order)
                told = _written(entry, entry.when, life.tag, BATH, clock)
                yield told


def _stayed(stay: Stay, life: HideLife, clock: Clock, at: int) -> Happening:
    end = stay.end if stay.end is not None else now_when(clock, at)
    least, most = elapsed(life, stay.start, end, at)
    title = stay.line.title if stay.line is not None else stay.name
    where = f" in {stay.where}" if stay.where else ""
    length = spoken(least) if most - least < 60 else f"{spoken(least)} to {spoken(most)}"
    turned = f", turned {spoken(stay.turned[0])}" if stay.line is not None and stay.line.sort == "run" else ""
    begun = written_stamp(stay.mark.entry.when, clock)
    words = "so far" if stay.end is None else "ended"
    entry = stay.end_entry or stay.mark.entry
    return Happening(
        instant=end.lo if end.timed else end.hi,
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
        yield _moved(bath, member.enter, entry, f"{tag} in, {step}", clock)
    if member.leave is not None:
        least, most = max(0, member.leave.lo - member.enter.hi), member.leave.hi - member.enter.lo
        length = spoken(least) if most - least < 60 else f"{spoken(least)} to {spoken(most)}"
        yield _moved(bath, member.leave, member.stay.end_entry or entry, f"{tag} out, {step}, {length}", clock)
    else:
        yield _moved(bath, now_when(clock, at), entry, f"{tag} still in, {step}", clock)


def _moved(bath: BathLife, when: When, entry: Entry, text: str, clock: Clock) -> Happening:
    return Happening(
        instant=when.lo if when.timed else when.hi,
        order=entry.order,
        sort=STAY,
        stamp=written_stamp(when, clock),
        tag=bath.tag,
        text=text,
        file=entry.at.file,
        line=entry.at.line,
    )
