"""Says back what was understood of lines that were just written, what they bring up, and what they put right."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hideledger.answers.saying import point, tags_said, when_words
from hideledger.answers.wording import words_of
from hideledger.answers.write.baths import bath_said, place_said, signs_said
from hideledger.answers.write.coming import Limits, limits_of, read_it, several_said
from hideledger.answers.write.facts import facts_said
from hideledger.answers.write.findings import Right, brought_up, put_right
from hideledger.answers.write.hides import hide_said
from hideledger.answers.write.people import people_asked
from hideledger.answers.write.waived import waived_asked
from hideledger.answers.write.weights import weights_asked
from hideledger.model.entry import Entry
from hideledger.model.facts import By, Remark
from hideledger.reading.definitions import is_definition
from hideledger.reading.draft import AHEAD, Draft
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon, look
from hideledger.rules.judge import PRESSING, judge
from hideledger.rules.words import day_said, in_order
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife
from hideledger.text.blanks import BLANKS
from hideledger.text.place import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One line of the page and what was understood of it."""

    place: Place
    text: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Understood:
    """All that is said back: line by line, what is asked about them, the findings that were not there before, and those that are answered.

    `ahead` says that a line is dated so far ahead that it does not count yet.
    """

    said: tuple[Said, ...]
    findings: tuple[Finding, ...]
    right: tuple[Right, ...]
    asked: tuple[Said, ...] = ()
    ahead: bool = False

    @property
    def rings(self) -> bool:
        """Whether the lines themselves make something ring."""
        return self.ahead or any(finding.rings and finding.when in ("now", "tonight") for finding in self.findings)


def moment_of(written: Draft, at: int) -> int:
    """The instant to look from: now, or some minutes on where a clock that is ahead gave the line its time."""
    ahead = [entry.when.lo for entry in written.after.entries if entry.order in written.new]
    return max([at, *(lo for lo in ahead if lo <= at + AHEAD)])


def understood(written: Draft, before: Floor, after: Floor) -> Understood:
    """What became of the lines; both floors laid out at one moment, without and with them."""
    horizon = look(after)
    old, now = judge(before), judge(after)
    limits = limits_of(after, horizon)
    new = [entry for entry in after.book.entries if entry.order in written.new]
    found = [_entry_said(entry, after, horizon, limits) for entry in new]
    said = sorted([*found, *_unjudged(written, {one.place.line for one in found})], key=lambda one: one.place.line)
    findings = _in_their_order(brought_up(old, now), new)
    return Understood(
        said=tuple(said),
        findings=tuple(findings),
        right=tuple(put_right(old, now, after, new)),
        asked=tuple(_asked(written, after, new, findings)),
        ahead=any(entry.when.lo > after.at for entry in new),
    )


def _in_their_order(findings: list[Finding], new: list[Entry]) -> list[Finding]:
    """What is pressing first, and of what is alike in that the lines in the order in which they were written."""
    row = {id(entry): number for number, entry in enumerate(new)}
    return sorted(findings, key=lambda one: (PRESSING[one.when], one.may, row.get(id(one.entry), len(row))))


def _asked(written: Draft, floor: Floor, new: list[Entry], findings: list[Finding]) -> list[Said]:
    """What is asked about the lines, in their order: a name, a weight, a waiving that answers nothing."""
    asked = [*people_asked(written, findings), *waived_asked(written, floor)]
    asked += [
        (entry, words) for entry in new for life in _lives(entry, floor) for words in weights_asked(life, entry, floor)
    ]
    asked.sort(key=lambda one: one[0].order)
    return [Said(place=entry.at, text=entry.text, words=words) for entry, words in asked]


def _entry_said(entry: Entry, floor: Floor, horizon: Horizon, limits: Limits) -> Said:
    words = _words(entry, floor, horizon, limits) or f"noted: {words_of(entry)}"
    clock = floor.book.clock
    if entry.when.lo > floor.at:
        facts = _named(entry, _plain_facts(entry, floor)) or words_of(entry)
        begins = (
            point(entry.when.lo, clock, floor.at) if entry.when.timed else day_said(clock, entry.when.day, floor.at)
        )
        words = f"{facts}; dated ahead, it does not count until {begins}"
    if entry.when.twice:
        words += f"; {clock.local(entry.when.lo):%H:%M} comes twice that night, and the first is taken"
    return Said(place=entry.at, text=entry.text, words=words)


def _words(entry: Entry, floor: Floor, horizon: Horizon, limits: Limits) -> str:
    if entry.place:
        return f"{entry.place}: {place_said(entry, floor)}" if place_said(entry, floor) else ""
    lives = list(_lives(entry, floor))
    parts = several_said([hide_said(life, entry, floor, horizon, limits) for life in lives])
    into = {
        stay.bath.tag: stay.bath
        for life in lives
        for stay in life.stays[-1:]
        if stay.mark.entry is entry and stay.bath is not None and stay.end is None
    }
    for tag in in_order(into):
        words = "; ".join(
            part for part in (signs_said(into[tag], lives, floor, horizon), read_it(tag, limits, floor)) if part
        )
        parts += [f"{tag}: {words}"] if words else []
    parts += [
        f"{bath.tag}: {words}" for bath in _baths(entry, floor) if (words := bath_said(bath, entry, floor, limits))
    ]
    parts += _too_late(entry, floor)
    if parts:
        return "; ".join(parts)
    return _named(entry, _plain_facts(entry, floor))


def _named(entry: Entry, facts: str) -> str:
    who = tags_said(entry.tags) or (f"all in {entry.group.where}" if entry.group is not None else entry.place)
    return f"{who}: {facts}" if who and facts else facts


def _too_late(entry: Entry, floor: Floor) -> list[str]:
    """Work that is written on what was gone by then counts for nothing."""
    clock = floor.book.clock
    return [
        f"{life.tag}: {life.ended_as} since {when_words(life.ended_when, clock, floor.at)}, so this counts for nothing"
        for tag in entry.tags
        for life in (*floor.hides.get(tag, ()), *floor.baths.get(tag, ()))
        if life.ended_when is not None and any(line is entry for line in life.after_end)
    ]


def _plain_facts(entry: Entry, floor: Floor) -> str:
    but = (By,) if any(isinstance(fact, Remark) for fact in entry.facts) else (By, Remark)
    return ", ".join(facts_said(entry.facts, floor.book.clock, floor.at, but=but))


def _lives(entry: Entry, floor: Floor) -> Iterator[HideLife]:
    """The hides a line is about, as it reached them."""
    if entry.group is not None:
        yield from (life for life in floor.all_hides() if any(line is entry for line in life.lines))
        return
    for tag in entry.tags:
        yield from (life for life in floor.hides.get(tag, ()) if any(line is entry for line in life.lines))


def _baths(entry: Entry, floor: Floor) -> Iterator[BathLife]:
    """The baths that a line is about: by their own tag, or by that of the vessel they stand in."""
    for bath in floor.all_baths():
        if (bath.tag in entry.tags or bath.vessel in entry.tags) and any(line is entry for line in bath.lines):
            yield bath


def _unjudged(written: Draft, taken: set[int]) -> Iterator[Said]:
    """What stands among the lines without being an entry: struck lines, comments, lines on how the shop works."""
    unread = {complaint.place.line for complaint in written.unread}
    for number, line in enumerate(written.lines, written.first):
        place = Place(file=written.page.name, line=number)
        bare = line.strip(BLANKS)
        if number in unread:
            yield Said(place=place, text=line, words="kept as it is, unread; check asks for it until it is mended")
        elif number in taken or not bare:
            continue
        elif bare.startswith("#"):
            yield Said(place=place, text=line, words="a comment, read by nobody")
        elif bare.startswith("~") or bare.casefold().startswith("struck"):
            yield Said(place=place, text=line, words="a struck line, kept and not counted")
        elif line[0] not in BLANKS and is_definition(line):
            yield Said(place=place, text=line, words=f"from now on part of how the shop works: {bare}")


def answered_words(name: str, tags: tuple[str, ...]) -> str:
    """`no longer overdue: H1`; of what is called by what was not there, `answered: no bath written: H1`."""
    if name.startswith(("no ", "not ", "nobody ")):
        return f"answered: {name}{f': {tags_said(in_order(tags))}' if tags else ''}"
    return f"no longer {name}{f': {tags_said(in_order(tags))}' if tags else ''}"
