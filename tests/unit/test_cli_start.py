"""A starter book is read whole, is quiet, and gives no figure without the page it was published on."""

import re
from pathlib import Path

import pytest

from hideledger.answers.starter_pages import SHOP_PAGE
from hideledger.cli import main

Captured = pytest.CaptureFixture[str]
AT = "2026-11-25 18:00"


@pytest.fixture
def started(tmp_path: Path, capsys: Captured) -> Path:
    folder = tmp_path / "book"
    assert main(["start", str(folder), "--at", AT]) == 0
    out = capsys.readouterr().out
    assert "shop.hides" in out
    assert "2026-11.hides" in out
    return folder


def test_it_has_a_shop_page_and_a_first_page_of_that_day(started: Path) -> None:
    assert sorted(page.name for page in started.iterdir()) == ["2026-11.hides", "shop.hides"]
    first = (started / "2026-11.hides").read_text(encoding="utf-8")
    assert "2026-11-25 07:10 H1 in, whitetail cape" in first


def test_a_date_alone_is_that_day(tmp_path: Path) -> None:
    assert main(["start", str(tmp_path / "book"), "--at", "2026-10-31"]) == 0
    assert "2026-10-31 07:10 H1" in (tmp_path / "book" / "2026-10.hides").read_text(encoding="utf-8")


def test_every_line_of_it_is_understood_and_nothing_rings(started: Path, capsys: Captured) -> None:
    assert main(["check", str(started), "--at", AT]) == 0
    out, err = capsys.readouterr()
    assert out.startswith("all quiet, 1 skin")
    assert err == ""


def test_the_example_of_the_next_days_is_understood_too(started: Path, capsys: Captured) -> None:
    page = started / "2026-11.hides"
    text = page.read_text(encoding="utf-8").replace("# 2026-11-25", "2026-11-25")
    page.write_text(text, encoding="utf-8")
    assert main(["check", str(started), "--at", AT, "--json"]) in (0, 1)
    assert '"unread": []' in capsys.readouterr().out


def test_it_goes_nowhere_where_a_book_is(started: Path, capsys: Captured) -> None:
    before = (started / "shop.hides").read_bytes()
    assert main(["start", str(started)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "holds a book already" in err
    assert (started / "shop.hides").read_bytes() == before


def test_a_line_to_complete_is_a_line_of_the_language(started: Path, capsys: Captured) -> None:
    """Completed and put in the place of the line above it, it is read."""
    shop = started / "shop.hides"
    lines = SHOP_PAGE.split("\n")
    for number, line in enumerate(lines):
        found = re.fullmatch(r"( *)# yours to fill in[^:]*: +(.*?)(   \(.*\))?", line)
        if found is None:
            continue
        indent, words, rest = found.groups()
        done = [*lines]
        done[number] = ""
        above = max(n for n in range(number) if lines[n].strip() and not lines[n].strip().startswith("#"))
        same = lines[above].split()[:1] == words.split()[:1]
        done[above if same else number] = indent + words.replace("__ to __", "2 to 4").replace("__", "2")
        if rest:
            assert same, "only a line that stands above has a rest"
        shop.write_text("\n".join(done), encoding="utf-8")
        assert main(["check", str(started), "--at", AT, "--json"]) in (0, 1), words
        assert '"unread": []' in capsys.readouterr().out, words


# What each figure stands on. Read in stored copies: the dictionary's entry pickling
# (cool.culturalheritage.org/don/dt/dt2570.html), Farnham's chapters III and XI, Austin's shrinkage experiments,
# 40 CFR 403.5(b)(2) as cities print it, and Henley's leather-pickling process.
PUBLISHED = {
    "sewer pH at least 5": "40 CFR 403.5(b)(2)",
    "stays 12 h to 48 h": "Farnham 1916, XI",
    "pH at most 2, at least 38 sal with skins in, at most 32 C": "dictionary, entry pickling",
    "stirred every day": "Farnham 1916, III",
    "at most 40 C": "Austin 1922",
    "110 lb of drained: 25 gal water, 22 lb salt": "Henley's Formulas, 22 lb salt and 25 gal water to 110 lb",
    "1.14 lb salt": "12 % salt: dictionary, entry pickling",
}


@pytest.mark.parametrize(("limit", "source"), PUBLISHED.items())
def test_a_limit_has_its_source_beside_it(limit: str, source: str) -> None:
    assert limit in SHOP_PAGE
    assert source in SHOP_PAGE


def test_no_limit_stands_without_a_source() -> None:
    """Every process line that sets a figure is one of those above; all other limits are blanks."""
    body = SHOP_PAGE[SHOP_PAGE.index("process tub ") :]
    with_figures = [line for line in body.split("\n") if line.strip() and re.search("[0-9]", line.split("#")[0])]
    assert with_figures
    for line in with_figures:
        assert any(limit in line for limit in PUBLISHED), line


def test_twelve_per_cent_is_that_much_salt_to_a_gallon() -> None:
    """Published brine table at 60 F (pounds of salt to a US gallon of water): 11.878 % 1.123, 13.198 % 1.266."""
    share = (12 - 11.878) / (13.198 - 11.878)
    assert round(1.123 + share * (1.266 - 1.123), 2) == 1.14


def test_ten_per_cent_is_that_many_degrees_salometer() -> None:
    """The same published table: 35 degrees are 9.238 %, 40 degrees 10.558 %."""
    degrees = 35 + 5 * (10 - 9.238) / (10.558 - 9.238)
    assert round(degrees, 1) == 37.9


@pytest.mark.parametrize(
    "caution",
    [
        "Acid into water, never water into acid",
        "acid last and slowly",
        "Eye protection, gloves",
        "zero pressure and locked out",
        "ask your sewer authority",
        "sheet outranks every figure",
    ],
)
def test_the_usual_cautions_stand_at_its_head(caution: str) -> None:
    assert caution in SHOP_PAGE[: SHOP_PAGE.index("shop My Shop")]
