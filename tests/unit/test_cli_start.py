"""A starter book is read whole, is quiet, and gives no figure without the page it was published on."""

import re
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

import pytest

from hideledger.answers.start.pages import SHOP_PAGE
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


def test_the_first_page_is_dated_by_the_zone_that_it_names(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """1 December 2026, 3:00 in UTC is 30 November, 21:00 in America/Chicago (IANA time zone database)."""
    night = datetime(2026, 12, 1, 3, 0, tzinfo=UTC).timestamp()
    monkeypatch.setattr("hideledger.cli.moment.exact_now", lambda _: night)
    assert main(["start", str(tmp_path / "book")]) == 0
    assert "2026-11-30 07:10 H1" in (tmp_path / "book" / "2026-11.hides").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("name", "typed"), [("my book", '"my book"'), ("book", "book"), ("its $5 book", "'its $5 book'")]
)
def test_what_to_type_next_has_quotes_where_the_name_has_a_blank(
    name: str, typed: str, tmp_path: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["start", name, "--at", AT]) == 0
    assert f"Then ask: hideledger check {typed}\n" in capsys.readouterr().out


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


@pytest.mark.parametrize("folder", ["", "  "])
def test_a_folder_without_a_name_is_asked_for(
    folder: str, tmp_path: Path, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["start", folder]) == 2
    assert capsys.readouterr().err == (
        "hideledger: start where? give the name of a new folder, as in: hideledger start book\n"
    )
    assert not list(tmp_path.iterdir())


def test_a_line_to_complete_is_a_line_of_the_language(started: Path, capsys: Captured) -> None:
    """Each completed by itself, as the head of the page says, is read."""
    shop = started / "shop.hides"
    offered = offers(SHOP_PAGE)
    assert len(offered) >= 25
    for offer in offered:
        shop.write_text(completed(SHOP_PAGE, [offer], rough), encoding="utf-8")
        assert main(["check", str(started), "--at", AT, "--json"]) in (0, 1), offer.words
        assert '"unread": []' in capsys.readouterr().out, offer.words


def test_every_blank_belongs_to_a_line_to_complete() -> None:
    blanks = sum(line.count("__") for line in SHOP_PAGE.split("\n")) - 1  # the head of the page speaks of them
    assert sum(offer.words.count("__") for offer in offers(SHOP_PAGE)) == blanks


def test_a_line_for_the_line_above_says_all_that_it_said() -> None:
    """Whoever follows the page must lose no limit that was published."""
    for offer in offers(SHOP_PAGE):
        if offer.instead is not None:
            old = SHOP_PAGE.split("\n")[offer.instead].split("#")[0]
            missing = [
                said for said in re.split(r"[\s,]+", old) if said and said not in re.split(r"[\s,]+", offer.words)
            ]
            assert not missing, offer.words


# In a US shop one writes the plain forms: both hides go all the way in them, each step within its time.
# The figures filled in are invented (from memory of common practice, no source), chosen so that the lives below fit.
FILLED = {
    "room __ F": "room 66 F",
    "records kept __ y": "records kept 3 y",
    "quiet after __ d": "quiet after 14 d",
    "holds __, at most __ psi, stands at most __ h": "holds 5, at most 10 psi, stands at most 14 h",
    "freezer, at most __ F": "freezer, at most 5 F",
    "__ oz acid": "3 oz acid",
    "lasts __ d": "lasts 60 d",
    "__ lb acid, __ lb tan": "3 lb acid, 12 lb tan",
    "within __ h of in": "within 12 h of in",
    "within __ h of shaved": "within 4 h of shaved",
    "within __ h of drained": "within 24 h of drained",
    "within __ h of rested": "within 24 h of rested",
    "stays at least __ d": "stays at least 3 d",
    "stays at least __ h": "stays at least 12 h",
    "neut stays __ min to __ min": "neut stays 20 min to 45 min",
    "stays __ h to __ h, pH __ to __": "stays 16 h to 48 h, pH 3.5 to 4.5",
    "stays __ min to __ h": "stays 30 min to 24 h",
    "first turn runs __ min to __ min": "first turn runs 30 min to 50 min",
    "second turn runs __ min to __ min": "second turn runs 90 min to 150 min",
    "raw at most __ h at __ F": "raw at most 30 h at 66 F",
    "frozen at most __ mo": "frozen at most 9 mo",
}
TUB = """\
2026-11-02 08:10 H1 in, whitetail cape, buck, 7 1/2 lb, green, killed 2026-11-02 6:30, for Jo Example, tag 00-000
2026-11-02 08:15 H1 pull test ok
2026-11-02 08:50 H1 flesh, ears turned, by JE
2026-11-02 09:30 H1 salted, 6 lb salt
2026-11-03 08:30 P1 mixed in V1, recipe pickle, 20 gal water, 22.8 lb salt, 60 oz acid
2026-11-03 09:00 P1 pH 1.5 meter, 64 F, 46 sal
2026-11-03 09:30 H1 pickled in P1
2026-11-03 10:30 P1 pH 1.6 meter, 64 F, 46 sal
2026-11-04 09:00 P1 pH 1.6 meter, 64 F, 45 sal, stirred
2026-11-05 09:00 P1 pH 1.7 meter, 64 F, 45 sal, stirred
2026-11-06 09:00 P1 pH 1.7 meter, 64 F, 45 sal, stirred
2026-11-06 10:00 H1 shave, 5 lb shaved
2026-11-06 10:30 H1 pickled in P1
2026-11-06 11:30 P1 pH 1.7 meter, 64 F, 45 sal
2026-11-09 08:30 P1 pH 1.8 meter, 64 F, 45 sal, stirred
2026-11-09 09:00 T1 mixed in V2, 20 gal water, 5 lb tan
2026-11-09 09:05 T1 pH 4.0 meter
2026-11-09 09:30 H1 neut
2026-11-09 10:05 H1 tanned in T1
2026-11-10 09:00 T1 pH 4.1 meter
2026-11-10 11:00 H1 cut test ok
2026-11-10 11:10 H1 drain
2026-11-10 13:00 H1 oil
2026-11-12 13:00 H1 out to Jo Example
"""
DRUM = """\
2026-11-03 08:10 H2 in, whitetail cape, buck, 7 1/2 lb, green, killed 2026-11-03 6:30, for Jo Example, tag 00-001
2026-11-03 08:11 H2 process drum
2026-11-03 08:15 H2 pull test ok
2026-11-03 08:50 H2 flesh, ears turned, by JE
2026-11-03 09:10 H2 drain, 6 lb drained
2026-11-03 09:40 L1 mixed in D1, recipe drum pickle, 1.36 gal water, 1.2 lb salt, 2.6 oz acid, 10.5 oz tan
2026-11-03 09:45 H2 first turn in L1
2026-11-03 10:31 L1 ran 9:50 to 10:30, 8 psi
2026-11-03 10:32 L1 vented
2026-11-03 10:40 H2 shave, 5 lb shaved
2026-11-03 11:00 H2 second turn in L1
2026-11-03 13:06 L1 ran 11:05 to 13:05, 8 psi
2026-11-03 13:10 L1 vented
2026-11-03 13:20 H2 neutralized
2026-11-03 13:50 H2 cut test ok
2026-11-03 13:55 H2 rest
2026-11-03 15:00 H2 oil
2026-11-03 15:30 L1 dumped 1 gal, pH 7, sewer
2026-11-04 14:00 H2 out to Jo Example
"""


def test_filled_in_as_it_says_a_hide_goes_all_its_way_quietly(tmp_path: Path, capsys: Captured) -> None:
    """In the tubs and in the drum: at each closing nothing rings and the record is empty, of gone hides too."""
    shop = completed(SHOP_PAGE, offers(SHOP_PAGE), filled)
    assert shop.count("__") == 1, "at its head, where blanks are spoken of"
    for name, text in (("shop", shop), ("tub", TUB), ("drum", DRUM)):
        (tmp_path / f"{name}.hides").write_text(text, encoding="utf-8")
    for day in (2, 3, 4, 5, 6, 9, 10, 11, 12, 13):
        code = main(["check", str(tmp_path), "--all", "--at", f"2026-11-{day:02d} 17:00"])
        out = capsys.readouterr().out
        assert (code, out.split(",")[0], out.count("\n")) == (0, "all quiet", 1), out
    assert main(["history", "H1", "H2", "--book", str(tmp_path), "--at", "2026-11-13 17:00"]) == 0
    told = capsys.readouterr().out
    for stay in ("salt", "pickle in P1", "pickle again in P1", "neutralised", "tan in T1", "drained", "first turn in L1",
                 "second turn in L1", "rested"):  # fmt: skip
        assert f"stay ended: {stay} since" in told


def test_without_any_limit_filled_in_the_same_lives_are_quiet_too(started: Path, capsys: Captured) -> None:
    (started / "2026-11.hides").write_text(TUB, encoding="utf-8")
    (started / "drum.hides").write_text(DRUM, encoding="utf-8")
    assert main(["check", str(started), "--all", "--at", "2026-11-13 17:00"]) == 0
    assert capsys.readouterr().out.startswith("all quiet, no skins")


@pytest.mark.parametrize(("step", "lines"), [("first turn", DRUM), ("pickle", TUB), ("salt", TUB)])
def test_the_raw_clock_stands_once_the_skin_is_kept(tmp_path: Path, capsys: Captured, step: str, lines: str) -> None:
    """Raw at most 30 h: three days later nothing of that is told, though the hide stays in that step."""
    page = lines.split("\n")
    last = next(n for n, line in enumerate(page) if re.search(rf"H[12] {step}", line))
    shop = completed(SHOP_PAGE, [offer for offer in offers(SHOP_PAGE) if "raw at most" in offer.words], filled)
    (tmp_path / "shop.hides").write_text(shop, encoding="utf-8")
    (tmp_path / "page.hides").write_text("\n".join(page[: last + 1]) + "\n", encoding="utf-8")
    main(["check", str(tmp_path), "--at", "2026-11-06 17:00", "--json"])
    assert "raw for" not in capsys.readouterr().out
    (tmp_path / "page.hides").write_text("\n".join(page[:3]) + "\n", encoding="utf-8")
    main(["check", str(tmp_path), "--at", "2026-11-06 17:00", "--json"])
    assert "raw for" in capsys.readouterr().out, "the check of this test: without the step it is told"


class Offer(NamedTuple):
    """A line to complete: its lines in the page, its words, and the line in whose place it goes (None: it is added)."""

    first: int
    last: int
    indent: str
    words: str
    instead: int | None


def offers(text: str) -> list[Offer]:
    lines = text.split("\n")
    found = []
    for number, line in enumerate(lines):
        match = re.fullmatch(r"( *)# yours (to add|for the line above)[^:]*: +(\S.*)", line)
        if match is None:
            continue
        indent, way, words = match.groups()
        last = number
        while re.match(r" *# {20,}\S", lines[last + 1]):
            last += 1
            words += " " + lines[last].strip(" #")
        instead = None
        if way == "for the line above":
            instead = max(n for n in range(number) if lines[n].strip() and not lines[n].strip().startswith("#"))
        found.append(Offer(number, last, indent, words, instead))
    return found


def completed(text: str, chosen: list[Offer], fill: Callable[[str], str]) -> str:
    """The page with these lines completed as its head says."""
    lines: list[str | None] = list(text.split("\n"))
    for offer in chosen:
        lines[offer.first : offer.last + 1] = [None] * (offer.last + 1 - offer.first)
        lines[offer.first] = offer.indent + fill(offer.words)
        if offer.instead is not None:
            lines[offer.instead] = None
    return "\n".join(line for line in lines if line is not None)


def rough(words: str) -> str:
    return words.replace("__ to __", "2 to 4").replace("__", "2")


def filled(words: str) -> str:
    for blank, figure in FILLED.items():
        words = words.replace(blank, figure)
    assert "__" not in words, words
    return words


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
