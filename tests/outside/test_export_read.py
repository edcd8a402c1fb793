"""What `export` and `custody --csv` leave is read by other people's programs: pandas, and the command-line shell of SQLite."""

from __future__ import annotations

import io
import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from hideledger.answers.export.columns import SCHEMA, TABLES
from hideledger.cli import main
from tests.unit.custody_book import write

CHECKOUT = Path(__file__).resolve().parents[2]
AT = "2027-06-30"  # behind the last line of each
Captured = pytest.CaptureFixture[str]


def pandas() -> Any:
    return pytest.importorskip("pandas", reason="in the extra `outside`")


@pytest.fixture(params=["little", "rough", "tarrow-ridge"])
def book(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """The little book of the unit tests, a sample full of hurried lines, and a whole season."""
    if request.param == "little":
        return str(write(tmp_path / "book"))
    return str(CHECKOUT / "sample_ledgers" / str(request.param))


def test_pandas_reads_the_json_lines(book: str, capsys: Captured) -> None:
    frames = pandas()
    assert main(["export", book, "--at", AT]) in (0, 3)
    out = capsys.readouterr().out
    frame = frames.read_json(io.StringIO(out), lines=True)
    assert len(frame) == out.count("\n")
    counts = {name: int(number) for name, number in frame["record"].value_counts().items()}
    expected: dict[str, int] = {}
    for line in out.split("\n")[:-1]:
        name = json.loads(line)["record"]
        expected[name] = expected.get(name, 0) + 1
    assert counts == expected


def test_pandas_reads_the_csv_files_as_the_json_lines_have_them(book: str, tmp_path: Path, capsys: Captured) -> None:
    frames = pandas()
    main(["export", book, "--at", AT])
    records: dict[str, list[dict[str, Any]]] = {table.name: [] for table in TABLES}
    for line in capsys.readouterr().out.split("\n")[:-1]:
        record = json.loads(line)
        records[record.pop("record")].append(record)
    assert main(["export", book, "--at", AT, "--csv", str(tmp_path / "tables"), "--raw"]) in (0, 3)
    for table in TABLES:
        frame = frames.read_csv(tmp_path / "tables" / f"{table.name}.csv", dtype=str, keep_default_na=False)
        assert tuple(frame.columns) == table.header
        assert len(frame) == len(records[table.name])
        for column in table.columns:
            if column.sort == "number":
                of_csv = [float(cell) if cell else None for cell in frame[column.name]]
            elif column.sort in ("text", "code"):
                of_csv = [cell or None for cell in frame[column.name]]
            else:
                continue
            assert of_csv == [
                record[column.name] or (0.0 if record[column.name] == 0 else None) for record in records[table.name]
            ]


def test_pandas_reads_the_register_behind_its_byte_order_mark(book: str, capsys: Captured) -> None:
    frames = pandas()
    main(["custody", book, "--at", AT, "--csv"])
    out = capsys.readouterr().out.encode()
    frame = frames.read_csv(io.BytesIO(out), dtype=str, keep_default_na=False, encoding="utf-8-sig")
    assert list(frame["number"]) == [str(number) for number in range(1, len(frame) + 1)]
    main(["custody", book, "--at", AT, "--json"])
    skins = json.loads(capsys.readouterr().out)["skins"]
    assert list(frame["tag"]) == [skin["tag"] for skin in skins]


def test_the_shell_of_sqlite_finds_the_file_sound(book: str, tmp_path: Path) -> None:
    shell = shutil.which("sqlite3")
    if shell is None:
        pytest.skip("the sqlite3 shell is not installed here")
    path = tmp_path / "book.sqlite"
    assert main(["export", book, "--at", AT, "--sqlite", str(path)]) in (0, 3)
    asked = "PRAGMA integrity_check; PRAGMA foreign_key_check; PRAGMA user_version; SELECT count(*) > 0 FROM events;"
    done = subprocess.run([shell, str(path), asked], capture_output=True, check=True, encoding="utf-8")
    assert done.stdout.split() == ["ok", str(SCHEMA), "1"]
