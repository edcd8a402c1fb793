"""The answer to `write` as a card: one line for each line written, then what it brings up and what it puts right.

What `write --json` prints, version 1, one object, keys in this order: `schema` 1; `written` whether it stands in the book
now; `at`, `at_local` the moment; `page` the file; `lines`, each with `file`, `line`, `text` as it stands and `understood`
(null for what is not said of); `findings` as `check --json` has them; `right`, what the lines answered: `name`, `tags`;
`unread` and `to_come`, each with `file`, `line`, `column`, `message`: what stood in the way, or was kept unread;
`asked`, each with `file`, `line`, `message`: what may be a slip; `new_page` whether the page is begun by these lines.
"""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.answers.check.answer import finding_row
from hideledger.answers.check.record import finding_records
from hideledger.answers.head import moment_record
from hideledger.answers.saying import counted
from hideledger.answers.sheet import Quote, Row, Section, Sheet
from hideledger.answers.write.understood import Said, Understood, answered_words
from hideledger.model.book import Book
from hideledger.reading.draft import Draft
from hideledger.text.place import Complaint

SCHEMA = 1
_TRIED = "tried, not written: "


def written_sheet(draft: Draft, told: Understood, at: int, *, tried: bool, in_plain: bool) -> Sheet:
    """What was understood; `tried` where nothing was written, `in_plain` for one record a line."""
    before = _TRIED if tried else ""
    rows = tuple(
        Row(
            text=_with_place(said, draft),
            plain=(f"{said.place.file}:{said.place.line}:1: {before}{said.words}{_new_page(draft)}",),
        )
        for said in told.said
    )
    title = _title(draft, told, tried=tried)
    sections = [Section(heading="Understood", rows=rows, whole_lines=True)] if len(rows) != 1 or in_plain else []
    sections += _aside(draft, told)
    return Sheet(
        title=title,
        sections=tuple(section for section in sections if section.rows),
        title_in_plain=not rows,
        record=_record(draft, told, at, written=not tried),
    )


def refused_sheet(draft: Draft, at: int) -> Sheet:
    """What stood in the way; nothing was written."""
    wrong = sorted([*draft.unread, *draft.to_come], key=lambda complaint: complaint.place)
    rows = tuple(_unread(one, before="not written: ") for one in wrong)
    return Sheet(
        title=f"not written: {counted(len(wrong), 'line')} not understood",
        sections=(Section(heading="Not understood", rows=rows, at_margin=True),),
        record=_record(draft, Understood(said=(), findings=(), right=()), at, written=False),
    )


def _title(draft: Draft, told: Understood, *, tried: bool) -> str:
    before = _TRIED if tried else ""
    if len(told.said) == 1:
        return before + _with_place(told.said[0], draft)
    where = f"{'for' if tried else 'written to'} {draft.page.name}{_new_page(draft)}"
    return f"{before}{counted(len(told.said), 'line')} {where}"


def _with_place(said: Said, draft: Draft) -> str:
    return f"{said.words}  ({said.place.short}{_new_page(draft)})"


def _new_page(draft: Draft) -> str:
    return ", a new page" if draft.new_page else ""


def _aside(draft: Draft, told: Understood) -> list[Section]:
    book = draft.after
    first = f"{draft.page.name}:{draft.first}:1"
    right = [answered_words(name, tags) for name, tags in told.right]
    asked = tuple(
        Row(text=one.words, plain=(f"{one.place.file}:{one.place.line}:1: asked: {one.words}",)) for one in told.asked
    )
    return [
        Section(heading="Not understood", rows=tuple(_unread(one) for one in draft.unread), at_margin=True),
        Section(heading="Is it so?", rows=asked),
        Section(heading="Brought up by it", rows=tuple(finding_row(one, book) for one in told.findings), spaced=True),
        Section(heading="Put right", rows=tuple(Row(text=one, plain=(f"{first}: {one}",)) for one in right)),
    ]


def _record(draft: Draft, told: Understood, at: int, *, written: bool) -> dict[str, object]:
    book: Book = draft.after
    words = {said.place.line: said.words for said in told.said}
    return {
        "schema": SCHEMA,
        "written": written,
        **moment_record(at, book.clock),
        "page": draft.page.name,
        "lines": [
            {"file": draft.page.name, "line": number, "text": line, "understood": words.get(number)}
            for number, line in enumerate(draft.lines, draft.first)
        ],
        "findings": finding_records(book, told.findings),
        "right": [{"name": name, "tags": list(tags)} for name, tags in told.right],
        "unread": _complaints(draft.unread),
        "to_come": _complaints(draft.to_come),
        "asked": [{"file": one.place.file, "line": one.place.line, "message": one.words} for one in told.asked],
        "new_page": draft.new_page,
    }


def _complaints(found: Sequence[Complaint]) -> list[dict[str, object]]:
    return [
        {"file": one.place.file, "line": one.place.line, "column": one.place.column, "message": one.message}
        for one in found
    ]


def _unread(complaint: Complaint, *, before: str = "") -> Row:
    """As `check` tells it: place and message, the line, a mark under the place."""
    message = f"{complaint.place}: {complaint.message}"
    plain = f"{complaint.place}: {before}{complaint.message}"
    return Row(text=message, quote=Quote(text=complaint.text, column=complaint.place.column), plain=(plain,))
