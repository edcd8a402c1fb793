"""What one hide, bath, vessel or place went through: in order of time, no stamp twice, the nearest for a wrong name."""

from pathlib import Path

import pytest

from hideledger.cli import main
from tests.unit.small_book import SHOP

Captured = pytest.CaptureFixture[str]
AT = "2026-11-05 17:00"
MORE = """\
vessel V2, vat, 40 gal
place drying room, at most 90 F
"""
# Every way of writing when that the grammar knows, and lines that are told afterwards.
PAGE = """\
2026-11-02 8:05am P1 mixed in V1, recipe pickle, 20 gal water, 20 lb salt
11/2/26 5:10pm P1 pH 1.9
2026-11-02 H1 in, whitetail cape, green, for Lena Orrick
2026-11-02 17:20 H1: pickle in P1, (ok)
2026-11-02 about 17:30 H2 in, whitetail cape, frozen
2026-11-02 evening H2 frozen in freezer
2026-11-03 0710 freezer -3 F
2026-11-03 7p P1 pH 2.0   # read by lamplight
noon P1 stirred
2026-11-04 19h40 P1 pH 2.0 strip
2026-11-05 14:30 H1 neutralised 15 min
2026-11-05 14:40 h1, drained
2026-11-05 15:40 H1 oiled in drying room
2026-11-05 16:00 V1 remark leaks at the tap
2026-11-05 16:00 P1 dumped 20 gal, pH 6, sewer
"""


@pytest.fixture
def book(tmp_path: Path) -> str:
    (tmp_path / "shop.hides").write_text(
        SHOP.replace("  out\n", "  out\n  may rest frozen after in\n") + MORE, encoding="utf-8"
    )
    (tmp_path / "november.hides").write_text(PAGE, encoding="utf-8")
    return str(tmp_path)


def told(capsys: Captured, book: str, *about: str) -> list[tuple[str, str, str]]:
    """Stamp, tag and text of each line, in order."""
    assert main(["history", *about, "--book", book, "--at", AT, "--plain"]) in (0, 3)
    lines = capsys.readouterr().out.split("\n")[:-1]
    return [(fields[0], fields[1], fields[3]) for line in lines if (fields := line.split("\t"))]


def test_no_stamp_and_no_tag_stands_twice(book: str, capsys: Captured) -> None:
    lines = told(capsys, book, "P1")
    own = [text for _, tag, text in lines if tag == "P1" and not text.startswith(("reckoned", "finding"))]
    assert own[:2] == ["mixed in V1, recipe pickle, 20 gal water, 20 lb salt", "pH 1.9"]
    assert "pH 2.0" in own
    assert "pH 2.0 strip" in own
    assert "stirred" in own
    assert "H1: pickle in P1, (ok)" in own, "the tag of another stays"
    assert not any(
        clock in text for text in own for clock in ("8:05am", "5:10pm", "11/2", "7p ", "19h40", "noon", "lamp")
    )


def test_a_loose_time_stays_since_the_column_has_no_room_for_it(book: str, capsys: Captured) -> None:
    texts = [text for _, _, text in told(capsys, book, "H2")]
    assert texts[0] == "about 17:30 H2 in, whitetail cape, frozen"
    assert "evening H2 frozen in freezer" in texts


def test_what_began_before_its_line_was_written_is_told_in_order_of_time(book: str, capsys: Captured) -> None:
    lines = told(capsys, book, "H1")
    stamps = [stamp for stamp, _, _ in lines if len(stamp) > 10]
    assert stamps == sorted(stamps)
    texts = [text for _, _, text in lines]
    ended = texts.index("stay ended: pickle in P1 since 2026-11-02 17:20, 2 d 20 h")
    assert texts[ended + 1 : ended + 3] == [
        "neutralised 15 min",
        "stay ended: neutralised since 2026-11-05 14:15, 15 min",
    ]


def test_nothing_is_found_before_an_untimed_arrival(book: str, capsys: Captured) -> None:
    texts = [text for _, _, text in told(capsys, book, "H1")]
    came = texts.index("in, whitetail cape, green, for Lena Orrick")
    found = [number for number, text in enumerate(texts) if text.startswith("finding: ")]
    assert found
    assert min(found) > came


def test_a_vessel_has_had_its_baths_their_hides_and_readings(book: str, capsys: Captured) -> None:
    assert main(["history", "v1", "--book", book, "--at", AT]) == 0
    card = capsys.readouterr().out
    assert "V1, vat, 40 gal, holds 12, empty" in card
    texts = [text for _, _, text in told(capsys, book, "V1")]
    assert texts[0].startswith("mixed in V1")
    assert texts[-2:] == ["V1 remark leaks at the tap", "dumped 20 gal, pH 6, sewer"]
    assert texts.index("H1: pickle in P1, (ok)") < texts.index("pH 2.0") < texts.index("H1 out, pickle, 2 d 20 h")
    assert not told(capsys, book, "V2")


@pytest.mark.parametrize(
    ("name", "first", "last"),
    [
        (["freezer"], ("2026-11-02", "freezer", "H2 in, frozen"), "H2 still in, frozen, 2 d 23 h to 3 d"),
        (
            ["drying", "room"],
            ("2026-11-05 15:40", "drying room", "H1 in, after oiled"),
            "H1 still in, after oiled, 1 h 20 min",
        ),
    ],
)
def test_a_place_has_had_its_hides_and_readings(
    book: str, capsys: Captured, name: list[str], first: tuple[str, str, str], last: str
) -> None:
    lines = told(capsys, book, *name)
    assert lines[0] == first
    assert lines[-1][2] == last


def test_readings_of_a_place_stand_between(book: str, capsys: Captured) -> None:
    assert ("2026-11-03 07:10", "freezer", "freezer -3 F") in told(capsys, book, "freezer")
    main(["history", "freezer", "--book", book, "--at", AT])
    assert "2026-11-03 07:10  freezer  freezer -3 F" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("wrong", "near"),
    [("frezer", "freezer"), ("V3", "V2"), ("H3", "H2"), ("drying rum", "drying room"), ("Lena Orick", "Lena Orrick")],
)
def test_a_wrong_name_gets_the_nearest(book: str, capsys: Captured, wrong: str, near: str) -> None:
    assert main(["history", wrong, "--book", book, "--at", AT]) == 1
    assert capsys.readouterr().err == f"hideledger: {wrong} is not in the book; {near} is\n"


def test_a_stay_says_how_long_its_clock_stood(tmp_path: Path, capsys: Captured) -> None:
    """Salted the 2nd at 12:00, frozen 4 h later for two days, thawed and pickled an hour after: 5 h of salt, 2 d of rest."""
    shop = SHOP.replace("  pickle  ", "  salt stays, optional\n  pickle  ")
    shop = shop.replace("  out\n", "  out\n  may rest frozen after in or salt, raw clock stops\n")
    page = (
        "2026-11-02 08:00 P1 mixed in V1, recipe pickle, 20 gal water\n"
        "2026-11-02 10:00 H1 in, whitetail cape, green\n2026-11-02 11:00 H1 fleshed\n2026-11-02 12:00 H1 salt\n"
        "2026-11-02 16:00 H1 frozen in freezer\n2026-11-04 16:00 H1 thawed\n2026-11-04 17:00 H1 pickle in P1\n"
    )
    (tmp_path / "shop.hides").write_text(shop, encoding="utf-8")
    (tmp_path / "november.hides").write_text(page, encoding="utf-8")
    texts = [text for _, _, text in told(capsys, str(tmp_path), "H1")]
    assert "stay ended: salt since 2026-11-02 12:00, 5 h, and 2 d at rest" in texts


def cards(capsys: Captured, tmp_path: Path, page: str, *about: str) -> list[tuple[str, str]]:
    """Stamp and text of each line that a page of its own tells."""
    (tmp_path / "shop.hides").write_text(SHOP + MORE, encoding="utf-8")
    (tmp_path / "page.hides").write_text(page, encoding="utf-8")
    return [(stamp, text) for stamp, _, text in told(capsys, str(tmp_path), *about)]


def test_a_line_without_a_time_is_told_no_later_than_what_stands_below_it(tmp_path: Path, capsys: Captured) -> None:
    page = """\
2026-11-03 P1 mixed in V1, recipe pickle, 20 gal water, 20 lb salt
2026-11-03 16:15 P1 stirred
2026-11-03 P1 pH 2.0
2026-11-03 17:00 P1 stirred
"""
    lines = cards(capsys, tmp_path, page, "P1")
    assert [stamp for stamp, text in lines if not text.startswith(("finding", "reckoned"))] == [
        "2026-11-03",
        "2026-11-03 16:15",
        "2026-11-03",
        "2026-11-03 17:00",
    ]


def test_how_long_a_skin_is_raw_is_not_said_where_its_arrival_could_not_be_read(
    tmp_path: Path, capsys: Captured
) -> None:
    page = "2026-11-02 08:00 H1 in, whitetail kape, grren\n2026-11-03 09:00 H1 fleshed\n"
    page += "2026-11-02 08:00 H2 in, whitetail cape, wet salted\n2026-11-02 08:00 H3 in, whitetail cape, green\n"
    (tmp_path / "shop.hides").write_text(SHOP + MORE, encoding="utf-8")
    (tmp_path / "page.hides").write_text(page, encoding="utf-8")
    main(["history", "H1", "H2", "H3", "--book", str(tmp_path), "--at", AT])
    said = capsys.readouterr().out
    assert "never written as in" in said
    assert said.count("in the shop") == 1, said
    assert "no time" not in said
