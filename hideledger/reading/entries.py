"""Reads the entries of a page: cuts each line, reads its pieces behind a bounded cache, settles them into facts."""

from __future__ import annotations

import re
from datetime import date

from lark import Lark

from hideledger.model.entry import Entry, Group
from hideledger.model.facts import (
    Added,
    Arrived,
    Bought,
    By,
    Counted,
    Dumped,
    Expires,
    Fact,
    MeterSet,
    Mixed,
    Money,
    Price,
    Remark,
    Stirred,
    Took,
    Used,
)
from hideledger.model.moments import Clock, When
from hideledger.model.shop import ShopBook
from hideledger.reading.behind_dash import BehindDash
from hideledger.reading.complain import head_trouble
from hideledger.reading.cut import Cut, Cutter
from hideledger.reading.dates import Dating
from hideledger.reading.desk import canonical_tag
from hideledger.reading.heads import definition_trouble, weekday_trouble
from hideledger.reading.pages import Record
from hideledger.reading.pieces import PieceReader, Understood
from hideledger.reading.settle import Said, settle
from hideledger.reading.tags import between, one_tag
from hideledger.reading.trouble import Unreadable
from hideledger.reading.words import Vocabulary
from hideledger.text.place import Complaint
from hideledger.text.source import Source

LONGEST_ENTRY = 20_000
_SHORT = 16  # a year alone on a line is no longer
_YEAR = re.compile(r"[ \t]*((?:19|20)[0-9]{2})[ \t]*$")
_DATE_LIKE = re.compile(
    r"[ \t]*(?:[0-9]{1,4}[-–—−/.][0-9]|[0-9]{6,8}\b|[0-9]{1,2} ?[A-Za-z]{3,}|[A-Za-z]{3,9}\.? [0-9]{1,2}\b)"
)
_GOES_DOWN = re.compile(r"([0-9]+)[a-z]?[ \t\u00a0\u202f]+([0-9]+)$")
# What may stand on a line that names nobody.
_OF_THE_SHOP = (Bought, Counted, Used, Took, Price, Expires, Money, By, Remark, MeterSet)
# What is done to a bath, and never to a hide.
_OF_A_BATH = (Mixed, Added, Stirred, Dumped)


class EntryReader:
    """Reads entries in the words of one shop. One reader for one book: its cache holds readings in that shop's words."""

    def __init__(self, parser: Lark, cutter: Cutter, shop: ShopBook, clock: Clock) -> None:
        self._cutter = cutter
        self._words = Vocabulary(shop)
        self._dating = Dating(shop, clock)
        self._read = PieceReader(parser, self._words, shop)
        self._behind_dash = BehindDash(cutter, self._read, self._words, shop)
        self.entries: list[Entry] = []
        self.complaints: list[Complaint] = []

    def read(self, source: Source, records: list[Record], *, below: Entry | None = None) -> None:
        """Reads one page, or what stands `below` the last entry of one; entries and complaints are kept in written order."""
        self._dating.begin_file()
        if below is not None:
            self._dating.below(below.when)
        for record in records:
            year = _YEAR.match(record.text) if len(record.text) < _SHORT else None
            if year is not None:
                self._dating.year_alone(int(year[1]))
                continue
            self._dating.of_line = self._dating.ordinal
            try:
                entry = self._entry(source, record)
            except Unreadable as trouble:
                self._complain(source, record, trouble)
            else:
                if entry is not None:
                    self.entries.append(entry)

    # --- one line ----------------------------------------------------------------------------------------------------------

    def _entry(self, source: Source, record: Record) -> Entry | None:
        line = record.text
        if len(line) > LONGEST_ENTRY:
            raise Unreadable("too long", f"a line of {len(line)} characters is no entry", 0, 1)
        cut = self._cutter.cut(line)
        if not cut.who and cut.spoken is None:
            self._look_at_head(line, cut)
        nothing = not cut.pieces and not cut.remark and cut.spoken is None
        when = self._dating.of(cut, alone=nothing and not cut.who)
        if nothing:
            if cut.date and not cut.time and not cut.who:
                return None
            self._say_nothing(cut)
        tags, group = self._people(cut.who, cut.who_at) if cut.who else ((), None)
        facts, further, place = self._facts(line, cut, when, tags, group)
        return Entry(
            source=source,
            start=record.start + (len(line) - len(line.lstrip()) if line[0] in " \t\u00a0\u202f" else 0),
            end=record.start + len(line.rstrip()),
            order=len(self.entries) + len(self.complaints),
            when=when,
            tags=further or tags,
            facts=facts,
            remark=cut.remark,
            group=group,
            place=place,
        )

    def _look_at_head(self, line: str, cut: Cut) -> None:
        """A line that names nobody: one of the usual slips, or a doing of the whole shop. A stamp before the slip dates the lines below."""
        trouble = head_trouble(line, _first_sign(line, cut.body_at))
        if trouble is None and not cut.date and not cut.time:
            trouble = definition_trouble(line, self._words)
        if trouble is None:
            return
        above = self._dating.ordinal
        if trouble.code == "weekday" and above is not None and not self._cutter.date.match(line, trouble.end):
            trouble = weekday_trouble(line, trouble, above)
        if cut.date or cut.time:
            self._dating.of(cut, alone=False)
        raise trouble

    def _say_nothing(self, cut: Cut) -> None:
        if cut.who:
            message = f"{cut.who.strip()}: nothing is said of it; is a step or a unit missing?"
            raise Unreadable("nothing", message, cut.who_at, cut.who_at + len(cut.who))
        raise Unreadable("nothing", "a time with nothing behind it", cut.time_at, cut.time_at + max(1, len(cut.time)))

    def _people(self, text: str, at: int) -> tuple[tuple[str, ...], Group | None]:
        try:
            if self._cutter.tag.fullmatch(text):
                return (one_tag(text, 0),), None
            return self._read.people(text)
        except Unreadable as trouble:
            raise trouble.moved(at) from None

    def _facts(
        self, line: str, cut: Cut, when: When, tags: tuple[str, ...], group: Group | None
    ) -> tuple[tuple[Fact, ...], tuple[str, ...], str]:
        """The facts of the line, tags that a step put first names, the place it is about."""
        if cut.spoken is not None:
            return (Remark(text=cut.spoken),), (), ""
        who = bool(tags) or group is not None
        if not cut.pieces:
            self._behind_dash.look(line, cut, (), who, "")
            return (Remark(text=cut.remark),), (), ""
        facts: tuple[Fact, ...] = ()
        further: tuple[str, ...] = ()
        place = ""
        mode = ""
        loose = False
        read: list[tuple[Understood, int]] = []
        for text, at in cut.pieces:
            try:
                understood = self._read.piece(not read, who, mode, text)
            except Unreadable as trouble:
                if trouble.code == "no defect" and cut.who:  # what to write in its place, under its own tag
                    trouble.message = trouble.message.replace("`H41 ", f"`{cut.who.strip()} ")
                raise trouble.moved(at) from None
            read.append((understood, at))
            mode = understood.mode
            facts = facts + understood.facts if facts else understood.facts
            loose = loose or understood.loose
            further += understood.tags
            place = understood.place or place
        if cut.remark:
            self._behind_dash.look(line, cut, facts, who, mode)
        if loose:
            said: list[Said] = [(fact, at) for understood, at in read for fact in understood.facts]
            several = len(tags or further) > 1 or group is not None
            facts = settle(said, several=several, day=date.fromordinal(when.day))
        elif not facts:
            raise Unreadable("nothing", "this says nothing yet", cut.body_at, cut.end)
        if not who and not further and not place and not all(isinstance(fact, _OF_THE_SHOP) for fact in facts):
            text, at = cut.pieces[0]
            shown = text.strip()
            of_bath = any(isinstance(fact, _OF_A_BATH) for fact in facts)
            raise Unreadable(
                "who",
                f"{shown}: which {'bath' if of_bath else 'hide or bath'}? its tag stands in front: `{'P4' if of_bath else 'H41'} …`",
                at + len(text) - len(text.lstrip()),
                at + len(text),
            )
        if len(tags) > 1 and isinstance(facts[0], Arrived):
            self._hides_or_inches(cut)
        return facts, further, place

    def _hides_or_inches(self, cut: Cut) -> None:
        """`H41 3 in`: three inches of something, or does H3 arrive? A bare number that goes down is asked."""
        found = _GOES_DOWN.search(cut.who)
        if found is not None and int(found[2]) < int(found[1]):
            message = f"{found[2]} in: does H{found[2]} arrive (write its whole tag), or {found[2]} inches of what?"
            raise Unreadable("inches", message, cut.who_at + found.start(2), cut.who_at + found.end(2))

    # --- complaints ------------------------------------------------------------------------------------------------------------

    def _complain(self, source: Source, record: Record, trouble: Unreadable) -> None:
        line = record.text
        if (
            self._cutter.stamp.match(line) is None
            and _DATE_LIKE.match(line)
            and trouble.code.startswith(("date", "year", "weekday"))
        ) or trouble.code in ("date", "date order", "year", "year or time"):
            self._dating.lost(record.line)
        start = record.start + min(trouble.start, len(line.rstrip()))
        place = source.place(start, record.start + max(trouble.end, trouble.start + 1))
        day = self._dating.of_line
        self.complaints.append(
            Complaint(
                place=place,
                code=trouble.code,
                message=trouble.message,
                text=source.line(place.line),
                tags=self._tags_named(line),
                day=date.fromordinal(day).isoformat() if day is not None else "",
            )
        )

    def _tags_named(self, line: str) -> tuple[str, ...]:
        """Every tag a line names that could not be read, in runs too: what is said of them further down is no slip."""
        named: dict[str, None] = {}
        for found in self._cutter.tag.finditer(line):
            run = self._cutter.run.match(line, found.start())
            inside = between(run[1], run[2]) if run is not None else ()
            named |= dict.fromkeys(inside or (canonical_tag(found.group()),))
        return tuple(named)


def _first_sign(line: str, at: int) -> int:
    """Offset of the first sign that is no blank, from `at` on."""
    return at + len(line[at:]) - len(line[at:].lstrip())
