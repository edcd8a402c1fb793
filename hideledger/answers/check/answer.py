"""What needs a hand now, what before the night, and what the book does not say as the shop's own lines want it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from hideledger.answers.check.record import check_record, finding_records
from hideledger.answers.check.summary import ringing, summary
from hideledger.answers.check.told_before import Told, new_among
from hideledger.answers.saying import counted, now_words, tags_said
from hideledger.answers.sheet import Quote, Row, Section, Sheet
from hideledger.model.book import Book
from hideledger.model.shop import ShopBook
from hideledger.rules.finding import Finding
from hideledger.rules.words import in_order
from hideledger.shopfloor.floor import Floor
from hideledger.text.place import Complaint, Place

UNREAD_HEADING = "Not understood"
_NO_SHOP_PAGE = "no page of this book says how the shop works (steps, units): add shop.hides, or name the folder"


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """The sheet, and whether anything rings.

    `news` is whether anything on the sheet rings that is to be told; `whole` is the sheet with nothing left out, and
    `looked` says of which shop it is and when it was looked at.
    """

    sheet: Sheet
    rings: bool
    news: bool
    whole: Sheet
    looked: str


def check(
    floor: Floor,
    findings: Sequence[Finding],
    *,
    held: Sequence[Finding] = (),
    whole_history: bool = False,
    last: Told | None = None,
) -> Checked:
    """The findings as a sheet: now, tonight, told without ringing, lines not understood, the record.

    `held` are findings of the record that wait for a line that could not be read; they are only counted. The record
    is that of hides still here and baths still standing, unless `whole_history`. Findings stay in the order in
    which they were judged: the shortest broken limit first, then by the time left. What was told `last` time is left
    out, unless it weighs more now or runs over its time.
    """
    # What is for now or tonight is told of a bath let go, too: what went down the drain too sour is still there.
    told = [finding for finding in findings if whole_history or not finding.ended or finding.when != "record"]
    waiting = [finding for finding in held if whole_history or not finding.ended]
    whole = _sheet(floor, told, waiting)
    sheet, fresh = whole, told
    if last is not None:
        new = new_among(finding_records(floor.book, told), last)
        fresh = [finding for finding, tell in zip(told, new, strict=True) if tell]
        left_out = [finding for finding, tell in zip(told, new, strict=True) if not tell]
        sheet = _sheet(floor, fresh, waiting, left_out=left_out, last=last)
    return Checked(
        sheet=sheet,
        rings=bool(ringing(told)),
        news=bool(ringing(fresh)),
        whole=whole,
        looked=f"{floor.book.shop.shop.name or 'the book'}, looked at {now_words(floor.at, floor.book.clock)}",
    )


def _sheet(
    floor: Floor,
    told: Sequence[Finding],
    waiting: Sequence[Finding],
    *,
    left_out: Sequence[Finding] = (),
    last: Told | None = None,
) -> Sheet:
    book = floor.book
    live = [finding for finding in told if finding.when in ("now", "tonight")]
    sections = [
        _section("Now", [f for f in live if f.rings and f.when == "now"], book),
        _section("Today and tonight", [f for f in live if f.rings and f.when == "tonight"], book),
        _section("No hurry", [f for f in live if not f.rings], book),
        unread_section(book, waiting, known=frozenset(last.unread) if last is not None else frozenset()),
        _section("For the record", [f for f in told if f.when == "record"], book),
    ]
    filled = [section for section in sections if section.rows]
    before = [_told_before(left_out, book)] if left_out else []
    return Sheet(
        title=summary(floor, told, left_out),
        sections=(*filled, *before),
        title_in_plain=not filled,
        record=check_record(floor, told, len(waiting), told_before=None if last is None else len(left_out)),
    )


def _told_before(left_out: Sequence[Finding], book: Book) -> Section:
    """What rings still, by its name alone, so that it is not forgotten; the rest is only counted."""
    rows = []
    for finding in ringing(left_out):
        subject = _subject(finding)
        place = place_of(finding, book)
        rows.append(Row(text=f"{subject} ({place.short})", plain=(f"{place}: {finding.when}: {subject}: rings still",)))
    rows.append(Row(text=f"{len(left_out)} told before, left out; without --already-told all is told"))
    rows[-1] = replace(rows[-1], plain=(rows[-1].text,))
    return Section(heading="Rings still" if len(rows) > 1 else "Told before", rows=tuple(rows))


def unread_section(
    book: Book, held: Sequence[Finding] = (), *, most: int | None = None, known: frozenset[str] = frozenset()
) -> Section:
    """The lines that could not be read, `most` of them in full, and how much of the record waits for them.

    A line of the `known` ones is told without being shown once more: it is asked for until it is mended.
    """
    rows = [_unread(complaint, shown=complaint.text not in known) for complaint in book.unread[:most]]
    left = len(book.unread) - len(rows)
    if left:
        rows.append(Row(text=f"and {counted(left, 'more line', 'more lines')}; hideledger check shows them all"))
    if rows and held:
        tags = tags_said(in_order(tag for finding in held for tag in finding.tags))
        words = f"{counted(len(held), 'finding')} for the record held back until these lines can be read: {tags}"
        rows.append(Row(text=words, plain=(f"{book.unread[-1].place}: {words}",)))
    closed = any(complaint.code == "page" for complaint in book.unread)  # the shop page may be one of them
    if rows and not closed and book.shop == ShopBook():
        rows.append(Row(text=_NO_SHOP_PAGE, plain=(f"{book.unread[-1].place}: {_NO_SHOP_PAGE}",)))
    return Section(heading=UNREAD_HEADING, rows=tuple(rows), at_margin=True)


def finding_row(finding: Finding, book: Book, *, head: str = "") -> Row:
    """One finding: its name and whom it is about, what was seen, what to do, and the lines of the book it rests on."""
    under = [("", finding.message)]
    if finding.more:
        under.append(("", "; ".join(finding.more)))
    if finding.do:
        under.append(("do", finding.do))
    if where := _where(finding):
        under.append(("from", where))
    place = place_of(finding, book)
    details = "; ".join([finding.message, *finding.more] + ([f"do: {finding.do}"] if finding.do else []))
    subject = _subject(finding)
    plain = f"{place}: {finding.when}: {subject}: {details}"
    return Row(head=head, text=subject, under=tuple(under), plain=() if head else (plain,))


def _subject(finding: Finding) -> str:
    name = f"{finding.name}, maybe" if finding.may else finding.name
    tags = tags_said(finding.tags)
    return f"{name}: {tags}" if tags else name


def place_of(finding: Finding, book: Book) -> Place:
    """Where an editor should jump to: the line it comes from, else the limit, else the head of the book."""
    if finding.place is not None:
        return finding.place
    if finding.entry is not None:
        return finding.entry.at
    if finding.rule is not None:
        return finding.rule
    return Place(file=book.sources[0].name if book.sources else "book", line=1)


def _where(finding: Finding) -> str:
    place = finding.place or (finding.entry.at if finding.entry is not None else None)
    parts = [] if place is None else [place.short]
    if finding.rule is not None:
        parts.append(f"limit {finding.rule.short}")
    return ", ".join(parts)


def _section(heading: str, findings: Sequence[Finding], book: Book) -> Section:
    return Section(heading=heading, rows=tuple(finding_row(finding, book) for finding in findings), spaced=True)


def _unread(complaint: Complaint, *, shown: bool) -> Row:
    message = f"{complaint.place}: {complaint.message}"
    quote = Quote(text=complaint.text, column=complaint.place.column) if complaint.text and shown else None
    return Row(text=message, quote=quote, plain=(message,))
