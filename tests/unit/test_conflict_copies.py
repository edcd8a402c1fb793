"""A copy beside a page is named and never read; a page of its own is always read, whatever its name resembles.

Forms of the names: the help pages of four makers of programs that keep folders alike, and what file windows call a
second copy of a file.
"""

from pathlib import Path

import pytest

from hideledger.text.files import find_pages

PAGE = """\
2026-11-02 08:00 P3 mixed in V1, recipe pickle, 20 gal water
2026-11-02 17:30 P3 stirred
2026-11-03 07:45 P3 pH 2.3 strip, 62 F
2026-11-03 08:15 H41 fleshed
"""
OTHER = """\
2026-11-02 08:05 H51 in, whitetail cape, 7 lb, green
2026-11-02 17:31 P4 stirred
2026-11-03 07:46 P4 pH 2.1 strip, 61 F
"""
SURE = [
    "autumn.sync-conflict-20261103-081500-ABCDEF7.hides",
    "autumn (conflicted copy 2026-11-03 081500).hides",
    "autumn (Ida's conflicted copy 2026-11-03).hides",
    "autumn_conflict-20261103-081500.hides",
    "autumn_BENCHPC_Nov-03-0815-2026_Conflict.hides",
    "autumn_BENCHPC_Nov-03-0815-2026_CaseConflict.hides",
    "autumn.Conflict.hides",
    "autumn (Case Conflict 1).hides",
    "autumn.hides.orig",
    "autumn.hides.bak",
    "autumn.hides.BAK",
]
OF_EDITORS = [
    ".autumn.hides.swp",
    ".autumn.hides.swo",
    ".autumn.hides.swn",
    "#autumn.hides#",
    ".#autumn.hides",
    "autumn.hides~",
    ".~lock.autumn.hides#",
    "~$autumn.hides",
]
BY_LINES = [
    "autumn (1).hides",
    "autumn(1).hides",
    "autumn 2.hides",
    "autumn-2.hides",
    "autumn-BENCHPC.hides",
    "autumn-Ida's phone.hides",
    "autumn_BENCHPC.hides",
    "autumn copy.hides",
    "autumn copy 2.hides",
    "autumn - Copy.hides",
    "autumn - Copy (2).hides",
    "autumn (copy).hides",
    "autumn.old.hides",
    "autumn-conflict.hides",
    "Copy of autumn.hides",
    "Copy (2) of autumn.hides",
]


def put(folder: Path, **pages: str) -> None:
    for name, text in pages.items():
        (folder / f"{name}.hides").write_text(text, encoding="utf-8", newline="")


def found(folder: Path) -> tuple[list[str], list[str]]:
    pages, notices = find_pages([str(folder)])
    return [page.name for page in pages], [str(one) for one in notices]


@pytest.mark.parametrize("name", SURE)
def test_a_name_that_says_copy_is_enough(tmp_path: Path, name: str) -> None:
    put(tmp_path, autumn=PAGE)
    (tmp_path / name).write_text(OTHER, encoding="utf-8")
    pages, notices = found(tmp_path)
    assert pages == ["autumn.hides"]
    assert len(notices) == 1 and name in notices[0] and "not read" in notices[0]


@pytest.mark.parametrize("name", OF_EDITORS)
def test_what_an_editor_keeps_beside_an_open_page_is_neither_read_nor_spoken_of(tmp_path: Path, name: str) -> None:
    put(tmp_path, autumn=PAGE)
    (tmp_path / name).write_text(OTHER, encoding="utf-8")
    assert found(tmp_path) == (["autumn.hides"], [])


@pytest.mark.parametrize("name", BY_LINES)
def test_a_name_like_a_copys_is_one_where_the_lines_are_the_same(tmp_path: Path, name: str) -> None:
    put(tmp_path, autumn=PAGE)
    (tmp_path / name).write_text(PAGE + "2026-11-03 09:00 H42 fleshed\n", encoding="utf-8")
    pages, notices = found(tmp_path)
    assert pages == ["autumn.hides"]
    assert len(notices) == 1 and name in notices[0] and "1 of its lines is not in that page" in notices[0]


@pytest.mark.parametrize("name", BY_LINES)
def test_a_name_like_a_copys_is_a_page_where_the_lines_are_its_own(tmp_path: Path, name: str) -> None:
    put(tmp_path, autumn=PAGE)
    (tmp_path / name).write_text(OTHER, encoding="utf-8")
    pages, notices = found(tmp_path)
    assert sorted(pages) == sorted(["autumn.hides", name])
    assert notices == []


@pytest.mark.parametrize("name", BY_LINES)
def test_without_the_page_itself_nothing_is_a_copy_of_it(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_text(PAGE, encoding="utf-8")
    assert found(tmp_path) == ([name], [])


@pytest.mark.parametrize(
    "name", ["2026-11", "november-2", "november 2", "conflicts with the agency", "bak", "p.o.-box"]
)
def test_ordinary_names_are_pages(tmp_path: Path, name: str) -> None:
    put(tmp_path, **{name: PAGE, "2026": OTHER, "november": OTHER, "p": OTHER})
    pages, notices = found(tmp_path)
    assert f"{name}.hides" in pages and notices == []


def test_the_copy_is_named_with_the_page_and_what_only_it_holds(tmp_path: Path) -> None:
    put(tmp_path, autumn=PAGE)
    copy = tmp_path / "autumn.sync-conflict-20261103-081500-ABC.hides"
    copy.write_text(PAGE + OTHER, encoding="utf-8")
    assert found(tmp_path)[1] == [
        f"{copy}: looks like a copy of autumn.hides; not read, and 3 of its lines are not in that page: bring what is missing over, then take the copy out of the folder"
    ]
    copy.write_bytes(b"\xef\xbb\xbf" + PAGE.replace("\n", "\r\n").encode())
    assert found(tmp_path)[1] == [
        f"{copy}: looks like a copy of autumn.hides, where all of its lines stand too; not read"
    ]
    (tmp_path / "autumn.hides").rename(tmp_path / "winter.hides")
    assert found(tmp_path)[1] == [
        f"{copy}: looks like a copy left beside the book; not read: bring what is missing over, then take the copy out of the folder"
    ]


def test_a_page_for_every_tub_with_the_same_days_above_is_read(tmp_path: Path) -> None:
    put(
        tmp_path,
        baths="2026-11-02\n  07:45 P3 stirred\n2026-11-03\n  07:40 P3 stirred\n3 Nov 2026\n",
        **{"baths-north": "2026-11-02\n  07:50 P4 stirred\n2026-11-03\n  07:55 P4 stirred\n3 Nov 2026\n"},
    )
    assert found(tmp_path)[1] == []


def test_two_versions_of_a_process_in_two_files_are_both_read(tmp_path: Path) -> None:
    steps = "  in  needs pull test\n  fleshed  within 12 h of in\n  salt  stays 24 h to 14 d\n  out\n"
    put(
        tmp_path,
        drum=f"process drum, since 2026-01-01\n{steps}",
        **{"drum-2026": f"process drum, since 2026-09-01\n{steps}"},
    )
    pages, notices = found(tmp_path)
    assert pages == ["drum-2026.hides", "drum.hides"] and notices == []


def test_a_copy_of_times_below_their_days_is_seen(tmp_path: Path) -> None:
    times = "2026-11-02\n  07:45 P3 stirred\n  17:30 P3 stirred\n"
    put(tmp_path, baths=times, **{"baths-PHONE": times + "  18:00 P3 pH 2.0\n"})
    assert found(tmp_path)[0] == ["baths.hides"]


def test_a_page_named_by_the_user_is_read_whatever_its_name(tmp_path: Path) -> None:
    copy = tmp_path / SURE[0]
    copy.write_text(PAGE, encoding="utf-8")
    assert find_pages([str(copy)]) == ([copy], [])


def test_what_a_killed_run_of_ours_left_is_no_page(tmp_path: Path) -> None:
    put(tmp_path, autumn=PAGE)
    (tmp_path / ".hideledger-00112233445566aa.tmp").write_text(OTHER, encoding="utf-8")
    assert found(tmp_path) == (["autumn.hides"], [])


def test_a_hidden_page_is_named_and_not_read(tmp_path: Path) -> None:
    put(tmp_path, autumn=PAGE, **{".autumn": OTHER})
    assert found(tmp_path) == (["autumn.hides"], [f"{tmp_path / '.autumn.hides'}: a hidden file; not read"])
