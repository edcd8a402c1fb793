"""A tag is a hide by its `in`, a bath or load by its `mixed`, a vessel by its definition; its letter says nothing."""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Mapping, Sequence

from hideledger.model.book import Book
from hideledger.model.entry import Entry
from hideledger.model.facts import (
    Added,
    Arrived,
    Code,
    Divided,
    Dumped,
    Flaw,
    HandedOut,
    Killed,
    LiftedOut,
    Lost,
    Mixed,
    OfKind,
    OfSex,
    Opened,
    Pressed,
    Ran,
    Refused,
    Skipped,
    Stepped,
    Stirred,
    ToppedUp,
    Turning,
    Vented,
    Weighed,
)
from hideledger.shopfloor.floor import Oddity

_COMES = re.compile(r"\b(?:in|arrived)\b(?!\s+[a-z]{1,4}-?[0-9])", re.IGNORECASE)  # but not `pickle in P3`
_MAKES = re.compile(r"\bmixed\b", re.IGNORECASE)


# What is done to baths alone, and to hides alone: it shows what a tag is where the line that declared it cannot be read.
_ON_BATHS = (Added, Dumped, Pressed, Ran, Stirred, ToppedUp, Turning, Vented)
_ON_HIDES = (Flaw, HandedOut, LiftedOut, Lost, Skipped, Stepped, Weighed)
_OF_A_SKIN: frozenset[type] = frozenset((Code, Killed, OfKind, OfSex))


class Declared:
    """Each tag of the book is a hide, a bath or a vessel by the line that declares it.

    `sorts` holds `hide`, `bath` or `vessel` by tag; reading a line never hangs on where that stands.

    `unsure` are tags whose own line could not be read, though it looks like one that declares them: their other lines
    still count. `wrong` are the lines that declare a tag to be something else than it is already, with the line that
    came first.
    """

    __slots__ = ("firsts", "sorts", "unsure", "wrong")

    def __init__(self, vessels: Iterable[str]) -> None:
        self.sorts: dict[str, str] = dict.fromkeys(vessels, "vessel")
        self.firsts: dict[str, Entry] = {}
        self.wrong: list[Oddity] = []
        self.unsure: set[str] = set()

    def declare(self, tag: str, sort: str, entry: Entry) -> None:
        """The first line to say what a tag is holds; another sort later is an oddity."""
        had = self.sorts.setdefault(tag, sort)
        if had != sort:
            first = self.firsts.get(tag)
            self.wrong.append(Oddity(sort="two declarations", tags=(tag,), entry=entry, other=first, note=had))
        else:
            self.firsts.setdefault(tag, entry)


def own_tag(tag: str, fact: Mixed, sorts: Mapping[str, str]) -> bool:
    """Whether a bath goes by the tag of the vessel it is mixed in: `V1 mixed`. That is no second thing of that name."""
    return sorts.get(tag) == "vessel" and fact.vessel in ("", tag)


def declared(book: Book) -> Declared:
    """What every tag is, from the definitions and from all lines of the book, later ones too."""
    found = Declared(book.shop.vessels)
    for entry in book.entries:
        for fact in entry.facts:
            sort = type(fact)
            if sort is Arrived or sort is Refused:
                for tag in entry.tags:
                    found.declare(tag, "hide", entry)
            elif isinstance(fact, Mixed):
                for tag in entry.tags:
                    if not own_tag(tag, fact, found.sorts):
                        found.declare(tag, "bath", entry)
            elif isinstance(fact, Divided):
                for tag, _ in fact.parts:
                    found.declare(tag, "hide", entry)
            elif isinstance(fact, Opened):
                for tag in (*entry.tags, *fact.tags):
                    found.declare(tag, "hide", entry)
    for entry in book.entries:
        sorts = set(map(type, entry.facts))
        if sorts & _OF_A_SKIN and Arrived not in sorts:
            for tag in entry.tags:
                had = found.sorts.get(tag, "hide")
                if had != "hide":  # `P3 whitetail cape`: nothing would come of it, and nobody be told
                    first = found.firsts.get(tag)
                    found.wrong.append(Oddity(sort="two declarations", tags=(tag,), entry=entry, other=first, note=had))
    if book.unread:
        _from_unread(found, book)
    return found


def _from_unread(found: Declared, book: Book) -> None:
    """One bad line must not hide the rest: a tag whose arrival or make-up could not be read is no unknown tag.

    Nor is a hide that some other unread line names, where nothing else declares it: what that line said is not known.
    """
    worked: set[str] | None = None
    for complaint in book.unread:
        if complaint.definition:
            continue
        for tag in complaint.tags:
            had = found.sorts.get(tag)
            if had == "vessel" and re.search(rf"\b{re.escape(tag)}[\s,:]+mixed\b", complaint.text, re.IGNORECASE):
                found.unsure.add(tag)
            if had is not None:
                continue
            if _MAKES.search(complaint.text):
                sort = "bath"
            elif _COMES.search(complaint.text):
                sort = "hide"
            else:
                worked = _worked(book) if worked is None else worked
                sort = "hide" if tag in worked else ""
            if sort:
                found.sorts[tag] = sort
                found.unsure.add(tag)


def _worked(book: Book) -> set[str]:
    """Tags that the lines which can be read take for hides: they are worked, and nothing goes into them nor is added."""
    worked: set[str] = set()
    baths: set[str] = set()
    for entry in book.entries:
        if entry.group is not None:
            baths.add(entry.group.where)
        for fact in entry.facts:
            if isinstance(fact, Stepped | LiftedOut) and fact.where:
                baths.add(fact.where)
            if isinstance(fact, _ON_BATHS):
                baths.update(entry.tags)
            elif isinstance(fact, _ON_HIDES):
                worked.update(entry.tags)
    return worked - baths


def guessed_groups(entries: Sequence[Entry], in_bath: Container[str] = ()) -> dict[int, tuple[str, ...]]:
    """Whom `all in P3` most likely names, by the order of the lines alone; the walk through the day decides for good.

    A step of `in_bath` that names no place leaves a hide where it is. Keyed by the entry's order. Only for narrowing lines without a time, which must be done before the walk.
    """
    where_is: dict[str, str] = {}
    inside: dict[str, dict[str, None]] = {}
    guessed: dict[int, tuple[str, ...]] = {}
    for entry in entries:
        tags: Iterable[str] = entry.tags
        if entry.group is not None:
            tags = guessed[entry.order] = tuple(
                t for t in inside.get(entry.group.where, ()) if t not in entry.group.but
            )
        for fact in entry.facts:
            if isinstance(fact, Stepped):
                if not fact.where and fact.step in in_bath:
                    continue
                goes = fact.where
            elif isinstance(fact, LiftedOut | HandedOut | Lost):
                goes = ""
            else:
                continue
            for tag in tags:
                inside.get(where_is.get(tag, ""), {}).pop(tag, None)
                where_is[tag] = goes
                if goes:
                    inside.setdefault(goes, {})[tag] = None
    return guessed
