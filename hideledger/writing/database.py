"""Tables as one SQLite database, put in its place whole: built in memory, and known again as ours by its mark."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence

from hideledger.model.table import Column, Table
from hideledger.text.clean import clean
from hideledger.writing.in_place import put_in_place
from hideledger.writing.trouble import NotWritten

# Stands in the header of the file (bytes 68 to 71, as SQLite's own description of its format has it): "HIDE" in ASCII.
APPLICATION = 0x48494445
_HEADER = b"SQLite format 3\x00"
_TYPES = {"integer": "INTEGER", "number": "REAL", "yes or no": "INTEGER"}


def put_database(path: str, tables: Sequence[Table], version: int) -> None:
    """Makes the database, or replaces one that was left here before. Raises NotWritten."""
    if why := why_strange(path):
        raise NotWritten(f"{clean(path)}: {why}; name another, or take it away")
    try:
        body = database_bytes(tables, version)
    except (ImportError, AttributeError) as trouble:
        reason = "the Python that runs this has no SQLite, or one that is too old"
        raise NotWritten(f"{clean(path)}: {reason}; nothing was written; --csv writes the same tables") from trouble
    put_in_place(path, body, None)


def why_strange(path: str) -> str:
    """Why what lies there is none that an export has left; empty where one has, or where nothing lies there. An empty file is somebody's too.

    What is no ordinary file is never opened here, since a pipe would wait for ever: whoever puts the new one there refuses it.
    """
    if not os.path.isfile(path):
        return ""
    try:
        with open(path, "rb") as file:
            head = file.read(100)
    except OSError:
        return "there is such a file already, and it cannot be read, so nobody knows whether an export left it"
    if not head:
        return "there is an empty file of that name already, and no export left it"
    ours = head.startswith(_HEADER) and head[68:72] == APPLICATION.to_bytes(4, "big")
    return "" if ours else "there is such a file already, and no export left it"


def database_bytes(tables: Sequence[Table], version: int) -> bytes:
    """The whole file. `version` stands in `PRAGMA user_version`. Raises ImportError and AttributeError where SQLite cannot do it."""
    import sqlite3

    base = sqlite3.connect(":memory:")
    try:
        base.execute(f"PRAGMA application_id = {APPLICATION}")
        base.execute(f"PRAGMA user_version = {int(version)}")
        for table in tables:
            base.execute(f"CREATE TABLE {_name(table.name)} ({', '.join(_column(one) for one in table.columns)})")
            places = ", ".join("?" * len(table.columns))
            base.executemany(f"INSERT INTO {_name(table.name)} VALUES ({places})", _cells(table))
        for table in tables:
            for one in table.columns:
                if one.points_to or one.name == "tag":
                    base.execute(
                        f"CREATE INDEX {_name(f'{table.name}_by_{one.name}')} ON {_name(table.name)} ({_name(one.name)})"
                    )
        base.commit()
        return base.serialize()
    finally:
        base.close()


def _name(name: str) -> str:
    return '"' + name.replace('"', '""') + '"'


def _column(column: Column) -> str:
    said = f"{_name(column.name)} {_TYPES.get(column.sort, 'TEXT')}"
    if column.name == "id":
        return f"{said} PRIMARY KEY"
    return f'{said} REFERENCES {_name(column.points_to)} ("id")' if column.points_to else said


def _cells(table: Table) -> Iterable[tuple[object, ...]]:
    """A file name that is no UTF-8 comes as lone surrogates, which SQLite refuses: they are written out."""
    for row in table.flat():
        yield tuple(
            cell.encode("utf-8", "backslashreplace").decode("utf-8") if isinstance(cell, str) else cell for cell in row
        )
