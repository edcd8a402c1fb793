"""The whole book as tables for other programs: what was written, what it means, and what `check` finds in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from hideledger import __version__
from hideledger.answers.check.record import finding_records
from hideledger.answers.export.baths import bath_tables
from hideledger.answers.export.columns import SCHEMA, TABLES, columns_of
from hideledger.answers.export.facts import fact_object, fact_sorts, number
from hideledger.answers.export.ground import Ground, ground_of
from hideledger.answers.export.hides import hide_tables
from hideledger.answers.saying import counted, local_stamp, now_words, unread_said, utc_stamp
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.wording import words_of
from hideledger.model.facts import Money
from hideledger.model.table import SORTS, Table
from hideledger.rules.finding import Finding
from hideledger.shopfloor.floor import Floor


def export_tables(floor: Floor, findings: Sequence[Finding]) -> tuple[Table, ...]:
    """Every table, in the order of TABLES."""
    ground = ground_of(floor)
    found = {
        "book": _rows("book", [_book(floor)]),
        "events": _rows("events", _events(ground)),
        "money": _numbered("money", _money(ground)),
        "findings": _numbered("findings", _findings(floor, findings)),
        "not_understood": _numbered("not_understood", _unread(floor)),
        **{table.name: table for table in (*hide_tables(ground), *bath_tables(ground))},
    }
    return tuple(found[table.name] for table in TABLES)


def _rows(name: str, rows: Sequence[tuple[object, ...]] | Iterator[tuple[object, ...]]) -> Table:
    return replace(columns_of(name), rows=tuple(rows))


def _numbered(name: str, rows: Iterator[tuple[object, ...]]) -> Table:
    return _rows(name, [(count, *row) for count, row in enumerate(rows, start=1)])


def _book(floor: Floor) -> tuple[object, ...]:
    book = floor.book
    return (
        SCHEMA,
        __version__,
        utc_stamp(floor.at, book.clock),
        local_stamp(floor.at, book.clock),
        book.shop.shop.name,
        book.clock.zone_name or "",
        floor.later,
        len(book.unread),
    )


def _events(ground: Ground) -> Iterator[tuple[object, ...]]:
    for entry in ground.entries:
        yield (
            ground.event(entry),
            entry.order,
            entry.at.file,
            entry.at.line,
            *ground.when(entry.when),
            entry.when.timed,
            entry.tags if entry.group is None else tuple(ground.groups.get(entry.order, ())),
            "" if entry.group is None else entry.group.where,
            entry.place,
            words_of(entry),
            entry.remark,
            [fact_object(fact) for fact in entry.facts],
        )


def _money(ground: Ground) -> Iterator[tuple[object, ...]]:
    for entry in ground.floor.money:
        for fact in entry.facts:
            if isinstance(fact, Money):
                tags = entry.tags if entry.group is None else tuple(ground.groups.get(entry.order, ()))
                yield (
                    fact.sort,
                    number(fact.money.value),
                    fact.money.unit,
                    fact.by,
                    tags,
                    *ground.when(entry.when),
                    ground.event(entry),
                )


def _findings(floor: Floor, findings: Sequence[Finding]) -> Iterator[tuple[object, ...]]:
    """As `check --json` has them."""
    for one in finding_records(floor.book, findings):
        rule, tags = one["rule"], one["tags"]
        yield (
            one["name"],
            one["when"],
            one["may"],
            tuple(tags) if isinstance(tags, list) else (),
            one["file"],
            one["line"],
            one["since"],
            one["since_local"],
            one["over_s"],
            one["message"],
            one["do"],
            rule["file"] if isinstance(rule, dict) else None,
            rule["line"] if isinstance(rule, dict) else None,
            one["rings"],
        )


def _unread(floor: Floor) -> Iterator[tuple[object, ...]]:
    for complaint in floor.book.unread:
        place = complaint.place
        yield place.file, place.line, place.column, complaint.message, complaint.text


def written_sheet(target: str, tables: Sequence[Table], floor: Floor, *, files: bool) -> Sheet:
    """One line: what was written, where, how much, of which moment, and what could not be read."""
    rows = sum(len(table.rows) for table in tables)
    what = f"{counted(len(tables), 'table')}, {'a CSV file each, ' if files else ''}{counted(rows, 'row')}"
    unread = f"; {unread_said(floor.book)} of the book not understood" if floor.book.unread else ""
    where = f"written {'into' if files else 'to'} {target}"
    return Sheet(
        title=f"{what}, {where}, the book as of {now_words(floor.at, floor.book.clock)}{unread}", title_in_plain=True
    )


def schema_sheet() -> Sheet:
    """What `export --schema` prints: every table, every column, what it holds."""
    sections = [
        Section(
            heading=f"{table.name}: {table.about}",
            rows=tuple(
                Row(
                    head=column.name,
                    text=f"{column.sort}{f', id of {column.points_to}' if column.points_to else ''}{f'; {column.about}' if column.about else ''}",
                    plain=(table.name, column.name, column.sort, column.points_to, column.about),
                )
                for column in table.columns
            ),
        )
        for table in TABLES
    ]
    sorts = Section(
        heading="What the sorts of columns are", rows=tuple(Row(head=sort, text=said) for sort, said in SORTS.items())
    )
    facts = Section(
        heading="What a fact of an event may be, and its keys",
        rows=tuple(Row(head=name, text=", ".join(keys), plain=("fact", name, *keys)) for name, keys in fact_sorts()),
    )
    return Sheet(
        title=f"The tables of export, version {SCHEMA}",
        sections=(*sections, sorts, facts),
        record={
            "schema": SCHEMA,
            "tables": [
                {
                    "name": table.name,
                    "about": table.about,
                    "columns": [
                        {"name": one.name, "sort": one.sort, "id_of": one.points_to or None, "about": one.about}
                        for one in table.columns
                    ],
                }
                for table in TABLES
            ],
            "facts": [{"fact": name, "keys": list(keys)} for name, keys in fact_sorts()],
        },
    )
