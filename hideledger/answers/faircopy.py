"""What a fair copy changes, line by line: as it was, and as it is or would be."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from hideledger.answers.saying import counted, unread_said
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.model.book import Book
from hideledger.model.fair import FairLine, FairPage


def faircopy(pages: Sequence[FairPage], *, written: Collection[str] | None, book: Book) -> Sheet:
    """The sheet about these pages. `written` names the pages that were replaced; None where they were only looked at.

    `book` is read for what of it could not be read.
    """
    changed = [page for page in pages if page.changes]
    if written is None:
        sections = [_shown(page) for page in changed]
    else:
        done = tuple(
            Row(head=page.source.name, text=_so_many(page), plain=(page.source.name, "written out", _so_many(page)))
            for page in changed
            if page.source.name in written
        )
        sections = [Section(heading="Written out", rows=done, whole_lines=True)] if done else []
    sections += [section for section in (_refused(pages), _left(pages), _unread(pages)) if section.rows]
    if changed and written is None:
        text = "The same request with --replace writes this in place."
        sections.append(Section(heading="Next", rows=(Row(text=text, plain=("next", text)),), whole_lines=True))
    return Sheet(
        title=_title(pages, written, book),
        sections=tuple(sections),
        title_in_plain=not changed,
        record={
            "schema": 1,
            "changed": sum(len(page.changes) for page in changed),
            "lines": sum(page.entries for page in pages),
            "unread": len(book.unread),
            "pages": [_record(page, written) for page in pages],
        },
    )


def _title(pages: Sequence[FairPage], written: Collection[str] | None, book: Book) -> str:
    left_out = f", {unread_said(book)} not understood" if book.unread else ""
    entries = sum(page.entries for page in pages)
    changed = [page for page in pages if page.changes]
    if not changed and any(page.refused for page in pages):
        return f"nothing written out: {counted(entries, 'entry', 'entries')} on {counted(len(pages), 'page')}{left_out}"
    if not changed:
        return f"a fair copy already: {counted(entries, 'entry', 'entries')} on {counted(len(pages), 'page')}{left_out}"
    if written is None:
        done, word = changed, "to write out"
    else:
        done, word = [page for page in changed if page.source.name in written], "written out"
    count = sum(len(page.changes) for page in done)
    where = f"{done[0].source.name}: " if len(done) == 1 else ""
    of = done[0].entries if len(done) == 1 else sum(page.entries for page in pages)
    on = "" if len(done) == 1 else f", on {counted(len(done), 'page')}"
    return f"{where}{count} of {counted(of, 'entry', 'entries')} {word}{on}{left_out}"


def _so_many(page: FairPage) -> str:
    return f"{len(page.changes)} of {counted(page.entries, 'entry', 'entries')}"


def _shown(page: FairPage) -> Section:
    rows = tuple(_pair(page.source.name, change) for change in page.changes)
    return Section(heading=f"{page.source.name}, {_so_many(page)}", rows=rows, whole_lines=True, spaced=True)


def _pair(name: str, change: FairLine) -> Row:
    place = f"{name}:{change.line}"
    return Row(
        head=place,
        under=(*_labelled("was", change.was), *_labelled("now", change.now)),
        plain=(place, "\n".join(change.was), "\n".join(change.now)),
    )


def _labelled(label: str, lines: Sequence[str]) -> Iterator[tuple[str, str]]:
    for number, line in enumerate(lines):
        yield (f"{label} " if not number else " " * (len(label) + 1)), line


def _refused(pages: Sequence[FairPage]) -> Section:
    rows = tuple(
        Row(head=page.source.name, text=page.refused, plain=(page.source.name, "refused", page.refused))
        for page in pages
        if page.refused
    )
    return Section(heading="Left as it is", rows=rows)


def _left(pages: Sequence[FairPage]) -> Section:
    rows = []
    for page in pages:
        for line in page.left:
            place = f"{page.source.name}:{line.line}"
            rows.append(Row(text=f"{place}: {line.why}", under=(("", line.text),), plain=(place, "left", line.why)))
    return Section(heading="Left as written", rows=tuple(rows), whole_lines=True)


def _unread(pages: Sequence[FairPage]) -> Section:
    rows = []
    for page in pages:
        if page.unread:
            stays = "stays as it is" if page.unread == 1 else "stay as they are"
            text = f"{counted(page.unread, 'line')} {stays}; hideledger check says why"
            rows.append(Row(head=page.source.name, text=text, plain=(page.source.name, "not understood", text)))
    return Section(heading="Not understood", rows=tuple(rows), whole_lines=True)


def _record(page: FairPage, written: Collection[str] | None) -> dict[str, object]:
    return {
        "file": page.source.name,
        "lines": page.entries,
        "replaced": written is not None and page.source.name in written,
        "refused": page.refused or None,
        "changes": [
            {"line": one.line, "to_line": one.to_line, "was": list(one.was), "now": list(one.now)}
            for one in page.changes
        ],
        "left": [{"line": one.line, "text": one.text, "why": one.why} for one in page.left],
        "unread": page.unread,
    }
