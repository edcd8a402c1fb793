"""A waiving line answers only what is told, and only with a reason: what is wanting is said at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from hideledger.model.book import Book
from hideledger.model.entry import Entry
from hideledger.model.facts import Waived
from hideledger.reading.draft import Draft
from hideledger.rules.answering import LATER_NAME, reason_of
from hideledger.rules.finding import Finding
from hideledger.rules.judge import judging
from hideledger.rules.words import who
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out


def waived_asked(written: Draft, floor: Floor) -> list[tuple[Entry, str]]:
    """A sentence for each waiving without a reason, and for each of something that is not told of those it names."""
    new = [entry for entry in floor.book.entries if entry.order in written.new]
    waiving = [(entry, fact.finding) for entry in new for fact in entry.facts if isinstance(fact, Waived)]
    if not waiving:
        return []
    judged = judging(lay_out(_without(floor.book, [entry for entry, _ in waiving]), floor.at))
    told = (*judged.findings, *judged.held)
    said: list[tuple[Entry, str]] = []
    for entry, name in waiving:
        absent = [tag for tag in entry.tags if not _is_told(name, tag, told)]
        if absent:
            said.append(
                (entry, f"nothing of the name `{name}` is told of {who(absent)} now: there is nothing to waive")
            )
        elif not reason_of(entry):
            words = f"without a reason it answers nothing: write it again with the reason behind the dash: `{who(entry.tags)} waived {name} -- why`"
            said.append((entry, words))
    return said


def _is_told(name: str, tag: str, told: Sequence[Finding]) -> bool:
    plain = " ".join(name.replace("’", "'").casefold().split())
    names = LATER_NAME.get(plain, (plain,))
    return any(finding.name in names and tag in finding.tags for finding in told)


def _without(book: Book, waiving: Sequence[Entry]) -> Book:
    """The book as if those lines waived nothing."""
    orders = {entry.order for entry in waiving}
    entries = (_bare(entry) if entry.order in orders else entry for entry in book.entries)
    return replace(book, entries=tuple(entry for entry in entries if entry.facts or entry.order not in orders))


def _bare(entry: Entry) -> Entry:
    return Entry(
        source=entry.source,
        start=entry.start,
        end=entry.end,
        order=entry.order,
        when=entry.when,
        tags=entry.tags,
        facts=tuple(fact for fact in entry.facts if not isinstance(fact, Waived)),
        remark=entry.remark,
        group=entry.group,
        place=entry.place,
    )
