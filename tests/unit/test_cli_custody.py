"""`custody` at the front desk: its forms, what it refuses, and what its exit code says."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from pathlib import Path

import pytest

from hideledger.answers.custody.table import COLUMNS
from hideledger.cli import main
from tests.unit.custody_book import AT, PAGE, write

Captured = pytest.CaptureFixture[str]
Ask = Callable[..., tuple[int, str, str]]


@pytest.fixture
def book(tmp_path: Path) -> str:
    return str(write(tmp_path / "book"))


@pytest.fixture
def ask(capsys: Captured) -> Ask:
    def asked(*argv: str) -> tuple[int, str, str]:
        code = main(["custody", *argv, "--at", AT])
        return code, *capsys.readouterr()

    return asked


def test_the_register_goes_to_paper(book: str, ask: Ask) -> None:
    code, out, err = ask(book)
    assert (code, err) == (0, "")
    assert out.startswith("Register of skins of Fallow Creek Skins, 14 records, Wed 2027-01-20 24:00\n")
    # a place in a page is never broken, and the folder of a test has a long name
    assert max(len(line) for line in out.split("\n")[1:] if book not in line) <= 80
    assert "Missing for the record" in out


def test_the_csv_opens_in_a_spreadsheet_with_every_skin_in_it(book: str, ask: Ask) -> None:
    """Read back by the csv module: a byte order mark, a header, and one row a record (RFC 4180)."""
    code, out, _ = ask(book, "--csv")
    assert code == 0
    assert out.startswith("\ufeffnumber,tag,kind,")
    records = list(csv.DictReader(io.StringIO(out.removeprefix("\ufeff"), newline=""), strict=True))
    assert [record["number"] for record in records] == [str(number) for number in range(1, 15)]
    of_tag = {record["tag"]: record for record in records}
    assert of_tag["H38"]["owner_phone"] == "'+1 555-0123", "a spreadsheet would add it up"
    assert of_tag["H41"]["owner_address"] == "12 Mill Road, Tarrow"
    assert of_tag["H41"]["into"] == "H41a H41b"
    assert of_tag["H41a"]["keep_through"] == "2031-12-31"
    assert of_tag["H42"]["tanning_began"] == "2026-11-08 09:05"


def test_a_program_gets_the_csv_raw(book: str, ask: Ask) -> None:
    _, out, _ = ask(book, "--csv", "--raw")
    assert out.startswith("number,tag,kind,")
    assert ",+1 555-0123," in out


def test_open_first_holds_in_the_csv_too(book: str, ask: Ask) -> None:
    _, out, _ = ask(book, "--csv", "--raw", "--open-first")
    states = [record["state"] for record in csv.DictReader(io.StringIO(out, newline=""))]
    assert states == ["cut", *["here"] * 4, "opened", *["here"] * 4, "lost", "out", "lost", "refused"]


def test_json_has_every_column_by_its_name(book: str, ask: Ask) -> None:
    _, out, _ = ask("H42", book, "--json")
    record = json.loads(out)
    (skin,) = record["skins"]
    assert (record["schema"], record["unread"]) == (1, 0)
    assert list(skin) == [column.name for column in COLUMNS]
    assert (skin["seal"], skin["value"], skin["box"], skin["missing"]) == (
        "4411",
        900.0,
        False,
        ["address of Pell Vale", "legal tag"],
    )


def test_plain_is_one_record_a_line(book: str, ask: Ask) -> None:
    _, out, _ = ask("H42", book, "--plain")
    fields = out.split("\n")[0].split("\t")
    assert len(fields) == len(COLUMNS)
    assert fields[:3] == ["5", "H42", "black bear"]


@pytest.mark.parametrize("form", ["--by-place", "--boxes", "--held"])
def test_each_list_has_its_paper_its_csv_and_its_json(book: str, ask: Ask, form: str) -> None:
    code, out, err = ask(book, form)
    assert (code, err) == (0, "") and "Fallow Creek Skins" in out.split("\n")[0]
    _, out, _ = ask(book, form, "--csv", "--raw")
    rows = list(csv.reader(io.StringIO(out, newline=""), strict=True))
    assert len(rows) > 3 and len({len(row) for row in rows}) == 1
    _, out, _ = ask(book, form, "--json")
    assert json.loads(out)["shop"] == "Fallow Creek Skins"


def test_the_year_is_told_in_one_object_too(book: str, ask: Ask) -> None:
    code, out, _ = ask(book, "--year", "2026", "--json")
    told = json.loads(out)
    assert code == 0
    assert told["skins"] == {
        "at_start": 1,
        "in": 10,
        "in_again": 0,
        "by_cutting": 1,
        "by_opening": -1,
        "out": 1,
        "lost": 2,
        "refused": 1,
        "at_end": 7,
        "adds_up": True,
    }
    assert told["baths_let_go"][0]["litres"] == 7.571  # 2 US gallons of 3.785411784 L (NIST Handbook 44, Appendix C)
    assert told["shelf_worth"] == "5.70"


@pytest.mark.parametrize(
    ("argv", "said"),
    [
        (["--year", "26"], "--year 26: a year has four figures, as in --year 2026"),
        (["--year", "2028"], "the year 2028 has not begun at Wed 2027-01-20 24:00"),
        (
            ["--year", "2026", "--csv"],
            "--year is several tables, and CSV is one; hideledger export --csv FOLDER has every table",
        ),
        (["--csv", "--json"], "--csv, --json and --plain are three forms of the answer; which of them?"),
        (["--raw"], "--raw goes with --csv"),
        (
            ["H41", "--year", "2026"],
            "--year tells of the whole shop, and not of H41; a page or a folder has a slash or .hides",
        ),
    ],
)
def test_what_cannot_be_followed_gets_one_sentence(book: str, ask: Ask, argv: list[str], said: str) -> None:
    code, out, err = ask(*argv, "--book", book)
    assert (code, out, err) == (2, "", f"hideledger: {said}\n")


def test_who_is_in_no_record_is_not_found(book: str, ask: Ask) -> None:
    code, out, err = ask("Orin", "Vale", book)
    assert (code, out) == (1, "")
    assert err == "hideledger: Orin Vale is in no record; Oren Vale is\n"


def test_a_line_that_cannot_be_read_is_told_and_changes_the_exit_code(tmp_path: Path, ask: Ask) -> None:
    book = str(write(tmp_path / "book", PAGE + "2027-01-16 H64 inn, whitetail cape\n"))
    code, out, _ = ask(book)
    assert code == 3
    assert "1 line of the book, counted nowhere here" in out.split("\n")[3]


def test_the_same_book_and_moment_give_the_same_bytes(book: str, ask: Ask) -> None:
    for form in ((), ("--csv",), ("--json",), ("--year", "2026")):
        assert ask(book, *form) == ask(book, *form)


def test_a_tag_that_a_spreadsheet_would_make_a_day_of_stays_a_tag(tmp_path: Path, ask: Ask) -> None:
    """`MAR-7` is a day in March to a spreadsheet, wherever it stands: as the skin, as what it was cut from, as the box it came in."""
    page = (
        "2026-11-01 10:00 MAR-7 in, whitetail cape, for Oren Vale, tag 00718\n2026-11-02 MAR-7 cut into DEC-1 cape\n"
        "2026-11-03 10:00 MAY-2 in, 2 whitetail capes, for Ida Crane\n2026-11-04 MAY-2 opened, H1 H2\n"
    )
    book = str(write(tmp_path / "dated", page))
    for form in ([], ["--boxes"]):
        _, out, _ = ask(book, *form, "--csv")
        cells = [cell for row in csv.reader(io.StringIO(out.removeprefix("\ufeff")), strict=True) for cell in row]
        assert not {"MAR-7", "DEC-1", "MAY-2", "00718"} & set(cells)
        assert "'MAY-2" in cells


@pytest.mark.parametrize("form", [[], ["--open-first"], ["--by-place"], ["--boxes"], ["--held"], ["--year", "2026"]])
def test_every_sheet_fits_a_page_of_eighty_columns(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ask: Ask, form: list[str]
) -> None:
    monkeypatch.chdir(write(tmp_path / "book", PAGE + "2027-01-16 H63 fleshd\n").parent)
    _, out, _ = ask("book/", *form)
    assert max(map(len, out.split("\n"))) <= 80
