"""What happened to the clocks between one look and the next, each thing once, as one line for a log or a loudspeaker.

The bell goes with whatever wants a hand: a clock that begins to be due, one whose time is up, one that is over; and with a shortest time
of two hours or less, since a hide in such a step is waited for.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from hideledger.answers.clocks.answer import ClockLook, ends_said, left_said
from hideledger.answers.clocks.countdown import DUE, OVER, RUNNING, UP, Countdown
from hideledger.answers.saying import counted, local_stamp, unread_said
from hideledger.model.book import Book
from hideledger.model.moments import MINUTE, Clock
from hideledger.rules.spans import EXACT
from hideledger.rules.words import in_order
from hideledger.text.place import Complaint


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One thing that happened: the word to search for, what it was, and whether the bell goes."""

    word: str
    text: str
    rings: bool = False

    def line(self, now: int, clock: Clock) -> str:
        """The whole line: `2026-11-05 17:05 due: H1 neutralised, 5 min left, time is up 17:10`."""
        return f"{local_stamp(now, clock)} {self.word}: {self.text}"


class Heard:
    """What was already told: how far each hide's clock was, and which lines could not be read."""

    __slots__ = ("_began", "_clocks", "_stages", "_unread")

    def __init__(self) -> None:
        self._began = False
        self._clocks: dict[str, Countdown] = {}
        self._stages: dict[str, int] = {}
        self._unread: set[tuple[str, str, str]] = set()

    @property
    def began(self) -> bool:
        """Whether anything was looked at yet."""
        return self._began

    def clocks(self, look: ClockLook, now: int) -> list[Event]:
        """Every clock that begins, gets due, is up, is over, stands, goes on, moves or ends since the last call."""
        self._began = True
        clock = look.floor.book.clock
        events: list[Event] = list(self._ended(look))
        shown = {id(one) for one in look.shown(now)}
        for one in look.clocks:
            if id(one) not in shown and not any(key in self._clocks for _, key in one.keys):
                continue  # it ends on another day, and was not told of before
            several: dict[tuple[str, bool], list[tuple[str, str]]] = {}
            for tag, key in one.keys:
                word, rings = self._word(one, key, now)
                self._clocks[key] = one if one.of_bath else replace(one, tags=(tag,))
                if word:
                    several.setdefault((word, rings), []).append((tag, key))
            for (word, rings), keys in several.items():
                part = one if one.of_bath else replace(one, tags=in_order(tag for tag, _ in keys))
                events.append(Event(word=word, text=_said(part, word, now, clock), rings=rings))
        return events

    def _word(self, one: Countdown, key: str, now: int) -> tuple[str, bool]:
        """What to tell of one hide's clock, if anything; takes note of how far it is."""
        before, stage = self._clocks.get(key), one.stage(now)
        known = self._stages.get(key, RUNNING)
        if before is None:
            self._stages[key] = max(stage, known)
            if stage == RUNNING:
                return ("stands" if one.stands else "running"), False
            # what was ready before anybody looked wakes nobody
            return _reached(one, stage), one.sort != "ready" and stage > known
        if one.stands != before.stands:
            self._stages[key] = max(stage, known) if one.stands else stage
            return ("stands" if one.stands else "goes on"), False
        if one.stands:
            return "", False
        if stage > known:
            self._stages[key] = stage
            return _reached(one, stage), one.sort != "ready" or one.limit_s <= EXACT
        if abs(one.earliest - before.earliest) >= MINUTE:
            self._stages[key] = stage
            return "moved", False
        return "", False

    def _ended(self, look: ClockLook) -> Iterator[Event]:
        """Clocks that are no more: the hide went on, the bath was read, or the line was struck."""
        still = {key for one in look.clocks for _, key in one.keys}
        gone = [one for key, one in self._clocks.items() if key not in still]
        for key in [key for key in self._clocks if key not in still]:
            del self._clocks[key]  # how far it was is kept: a page that was away for a moment rings no bell twice
        named: dict[str, list[str]] = {}
        for one in gone:
            named.setdefault(one.what, []).append(one.where if one.of_bath else one.tags[0])
        for what, tags in named.items():
            yield Event(word="ended", text=f"{' '.join(in_order(tags))} {what}")

    def unread(self, complaints: Sequence[Complaint]) -> list[Event]:
        """Lines that could not be read and were not told yet; one word more when the last of them is mended."""
        now = {(one.place.file, one.text, one.message): one for one in complaints}
        events = [
            Event(word="not understood", text=f"{one.place}: {one.message}")
            for key, one in now.items()
            if key not in self._unread
        ]
        if self._unread and not now:
            events.append(Event(word="understood", text="every line of the book can be read again"))
        self._unread = set(now)
        return events


def begun(look: ClockLook, now: int) -> Event:
    """The first line: what is watched."""
    clocks = [
        one for one in look.shown(now) if one.is_over(now) or (now < one.earliest < look.day_end and not one.stands)
    ]
    book = look.floor.book
    unread = f", {unread_said(book)} not understood" if book.unread else ""
    pages, lines = counted(len(book.sources), "page"), counted(len(look.floor.entries), "line")
    return Event(
        word="watching", text=f"{pages}, {lines}{unread}; {counted(len(clocks), 'clock')} over or to end today"
    )


def read_again(before: Book, after: Book, *, mended: bool = False) -> list[Event]:
    """The book was saved: which pages differ. Nothing when all of them say what they said, unless it was `mended` (could not be read before)."""
    old = {source.name: source.text for source in before.sources}
    new = {source.name: source.text for source in after.sources}
    told = [f"{name} changed" for name in new if name in old and new[name] != old[name]]
    told += [f"{name} is new" for name in new if name not in old]
    told += [f"{name} is gone" for name in old if name not in new]
    if not told and not mended:
        return []
    told = told or ["nothing changed"]
    unread = f", {unread_said(after)} not understood" if after.unread else ""
    return [Event(word="read again", text=f"{', '.join(told)}; {counted(len(after.entries), 'line')}{unread}")]


def not_readable(sentence: str) -> Event:
    """The book cannot be read at this moment; what was read before stands."""
    return Event(word="cannot be read now", text=f"{sentence}; what was read before stands")


def _reached(one: Countdown, stage: int) -> str:
    if one.sort == "ready":
        return "ready"
    return {DUE: "due", UP: "time may be up" if one.may else "time is up", OVER: "overdue"}[stage]


def _said(one: Countdown, word: str, now: int, clock: Clock) -> str:
    whom = f"{one.whom} {one.what}"
    if word in ("running", "goes on", "moved", "ready"):
        return f"{whom}, {ends_said(one, now, clock)}"
    if word in ("stands", "overdue"):
        return f"{whom}, {left_said(one, now, seconds=False)}"
    if word == "due":
        left = left_said(one, now, seconds=False).removeprefix("due, ")
        return f"{whom}, {left}, {ends_said(one, now, clock)}"
    return f"{whom} {one.text}"


def ringing(events: Iterable[Event]) -> bool:
    """Whether the bell goes."""
    return any(event.rings for event in events)
