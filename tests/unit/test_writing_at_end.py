"""Lines are added at the end of a page whole or not at all, and never to a page that somebody else changed meanwhile."""

import os
import stat
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hideledger.text.files import decode, read_raw
from hideledger.text.newlines import newline_of
from hideledger.text.seen import Seen
from hideledger.writing.at_end import add_at_end, block_for
from hideledger.writing.trouble import ChangedMeanwhile, NotWritten

LINE = "2026-11-03 08:15 H41 fleshed"
posix = pytest.mark.skipif(sys.platform == "win32", reason="no such thing there")
links = pytest.mark.skipif(not hasattr(os, "symlink") or sys.platform == "win32", reason="links need leave there")


def seen(page: Path) -> Seen:
    return read_raw(page, str(page))[1]


def made(folder: Path, body: bytes, name: str = "autumn.hides") -> Path:
    page = folder / name
    page.write_bytes(body)
    return page


def after(folder: Path, body: bytes, *lines: str) -> bytes:
    page = made(folder, body)
    add_at_end(str(page), lines, seen(page))
    return page.read_bytes()


def refused(page: Path, lines: list[str], state: Seen | None) -> str:
    """The sentence with which nothing is written; the page and the folder must be as before."""
    before = page.read_bytes() if os.path.isfile(page) else None
    beside = sorted(os.listdir(page.parent)) if page.parent.is_dir() else None
    with pytest.raises(NotWritten) as trouble:
        add_at_end(str(page), lines, state)
    assert (page.read_bytes() if os.path.isfile(page) else None) == before
    assert (sorted(os.listdir(page.parent)) if page.parent.is_dir() else None) == beside
    said = str(trouble.value)
    assert said.endswith("; nothing was written") and "\n" not in said
    return said


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        (b"", b"a\nb\n"),
        (b"x\n", b"x\na\nb\n"),
        (b"x", b"x\na\nb\n"),
        (b"x\r\ny\r\n", b"x\r\ny\r\na\r\nb\r\n"),
        (b"x\r\ny", b"x\r\ny\r\na\r\nb\r\n"),
        (b"x\ry\rz", b"x\ry\rz\ra\rb\r"),
        (b"\xef\xbb\xbf", b"\xef\xbb\xbfa\nb\n"),
        (b"\xef\xbb\xbfx\r\n", b"\xef\xbb\xbfx\r\na\r\nb\r\n"),
        (b"x\r\ny\nz\n", b"x\r\ny\nz\na\nb\n"),
        (b"x\n\n", b"x\n\na\nb\n"),
    ],
)
def test_lines_follow_in_the_pages_own_way(tmp_path: Path, body: bytes, expected: bytes) -> None:
    assert after(tmp_path, body, "a", "b") == expected


def test_letters_of_all_scripts_tabs_and_empty_lines_are_lines(tmp_path: Path) -> None:
    assert after(tmp_path, b"x\n", "", "\tH41 -- Öl ½ 皮") == "x\n\n\tH41 -- Öl ½ 皮\n".encode()


def test_without_lines_nothing_is_touched(tmp_path: Path) -> None:
    page = made(tmp_path, b"x")
    before = seen(page)
    add_at_end(str(page), [], before)
    add_at_end(str(tmp_path / "new.hides"), [], None)
    assert seen(page) == before and os.listdir(tmp_path) == ["autumn.hides"]


def test_a_new_page_is_made_with_the_mode_of_any_new_file(tmp_path: Path) -> None:
    made(tmp_path, b"", "other")
    page = tmp_path / "winter.hides"
    add_at_end(str(page), [LINE], None)
    assert page.read_bytes() == f"{LINE}\n".encode()
    assert page.stat().st_mode == (tmp_path / "other").stat().st_mode and page.stat().st_nlink == 1
    assert sorted(os.listdir(tmp_path)) == ["other", "winter.hides"]


def test_a_new_page_is_made_in_the_folder_one_stands_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    add_at_end("winter.hides", [LINE], None)
    assert (tmp_path / "winter.hides").read_bytes() == f"{LINE}\n".encode()


@posix
def test_a_disk_without_second_names_gets_its_new_page_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def no_link(*_: str) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", no_link)
    add_at_end(str(tmp_path / "winter.hides"), [LINE], None)
    assert (tmp_path / "winter.hides").read_bytes() == f"{LINE}\n".encode()
    assert os.listdir(tmp_path) == ["winter.hides"]


def test_a_page_that_came_meanwhile_is_not_made_again(tmp_path: Path) -> None:
    page = made(tmp_path, b"mine\n")
    assert "there is such a file by now" in refused(page, [LINE], None)
    with pytest.raises(ChangedMeanwhile):
        add_at_end(str(page), [LINE], None)


def by_adding(page: Path) -> None:
    page.write_bytes(page.read_bytes() + b"2026-11-03 08:20 H42 fleshed\n")


def by_same_size(page: Path) -> None:
    state = page.stat()
    page.write_bytes(page.read_bytes().replace(b"H41", b"H42"))
    os.utime(page, ns=(state.st_atime_ns, state.st_mtime_ns + 1))


def by_renaming_with_equal_size_and_time(page: Path) -> None:
    state = page.stat()
    other = page.with_name("other")
    other.write_bytes(page.read_bytes().replace(b"H41", b"H42"))
    os.utime(other, ns=(state.st_atime_ns, state.st_mtime_ns))
    os.replace(other, page)


def by_removing(page: Path) -> None:
    page.unlink()


@pytest.mark.parametrize("how", [by_adding, by_same_size, by_renaming_with_equal_size_and_time, by_removing])
def test_a_page_changed_after_the_reading_is_left_alone(tmp_path: Path, how: Callable[[Path], None]) -> None:
    page = made(tmp_path, f"{LINE}\n".encode())
    state = seen(page)
    how(page)
    assert str(page) in refused(page, [LINE], state)
    with pytest.raises(ChangedMeanwhile):
        add_at_end(str(page), [LINE], state)


@posix
@pytest.mark.parametrize("with_our_line", [True, False])
def test_an_editor_that_saves_in_the_very_moment_is_noticed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, with_our_line: bool
) -> None:
    page = made(tmp_path, f"{LINE}\n".encode())
    state = seen(page)
    real = os.fsync

    def fsync(number: int) -> None:
        real(number)
        body = page.read_bytes() if with_our_line else f"{LINE}\n".encode()
        made(tmp_path, body, "other").replace(page)

    monkeypatch.setattr(os, "fsync", fsync)
    if with_our_line:
        add_at_end(str(page), ["2026-11-03 09:00 H43 fleshed"], state)
    else:
        with pytest.raises(ChangedMeanwhile, match="replaced it while"):
            add_at_end(str(page), ["2026-11-03 09:00 H43 fleshed"], state)
    assert (b"H43" in page.read_bytes()) == with_our_line


@pytest.mark.parametrize(
    ("line", "shown"),
    [
        ("a\nb", r"\n at column 2"),
        ("a\r", r"\x0d at column 2"),
        ("\0", r"\x00 at column 1"),
        ("a \x0c", r"\x0c at column 3"),
        ("\x1b[2J", r"\x1b at column 1"),
        ("a\u2028", r"\u2028 at column 2"),
        ("a\x85", r"\x85 at column 2"),
        ("\ufeffa", r"\ufeff at column 1"),
        ("a\udc80", r"\udc80 at column 2"),
    ],
)
def test_what_is_no_line_is_refused_with_its_column(tmp_path: Path, line: str, shown: str) -> None:
    page = made(tmp_path, b"x\n")
    assert shown in refused(page, [LINE, line], seen(page))
    assert shown in refused(tmp_path / "winter.hides", [LINE, line], None)


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("ab\n".encode("utf-16"), "UTF-16"),
        ("ab\n".encode("utf-16-be"), "UTF-16"),
        (
            b"Gr\xf6\xdfe\n",
            "1:3: this page is saved in another encoding (ANSI, Windows): byte 0xf6 is no UTF-8, first on line 1; save it again as UTF-8",
        ),
    ],
)
def test_a_page_in_other_letters_is_refused(tmp_path: Path, body: bytes, said: str) -> None:
    page = made(tmp_path, body)
    assert said in refused(page, [LINE], seen(page))


@links
def test_a_link_stays_a_link_and_the_page_behind_it_grows(tmp_path: Path) -> None:
    (tmp_path / "card").mkdir()
    page = made(tmp_path / "card", b"x\n")
    link = tmp_path / "linked.hides"
    link.symlink_to(page)
    add_at_end(str(link), ["a"], seen(link))
    assert link.is_symlink() and page.read_bytes() == b"x\na\n"


@links
def test_a_link_to_nothing_is_said_to_be_one(tmp_path: Path) -> None:
    link = tmp_path / "linked.hides"
    link.symlink_to(tmp_path / "gone")
    assert "it is a link to" in refused(link, [LINE], None)
    assert "it is a link to" in refused(link, [LINE], Seen(device=1, inode=1, size=1, changed_ns=1))


@links
def test_a_loop_of_links_is_said_to_be_one(tmp_path: Path) -> None:
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    assert "loop" in refused(tmp_path / "a", [LINE], Seen(device=1, inode=1, size=1, changed_ns=1))
    assert "loop" in refused(tmp_path / "a", [LINE], None)


@posix
def test_both_names_of_a_page_get_the_lines(tmp_path: Path) -> None:
    page = made(tmp_path, b"x\n")
    os.link(page, tmp_path / "second")
    add_at_end(str(page), ["a"], seen(page))
    assert (tmp_path / "second").read_bytes() == b"x\na\n"


@posix
def test_mode_and_place_on_the_disk_stay(tmp_path: Path) -> None:
    page = made(tmp_path, b"x\n")
    page.chmod(0o640)
    before = page.stat()
    add_at_end(str(page), ["a"], seen(page))
    assert stat.S_IMODE(page.stat().st_mode) == 0o640 and page.stat().st_ino == before.st_ino


def test_what_is_no_page_is_refused_in_plain_words(tmp_path: Path) -> None:
    state = Seen(device=1, inode=1, size=1, changed_ns=1)
    (tmp_path / "folder").mkdir()
    assert "it is a folder" in refused(tmp_path / "folder", [LINE], state)
    assert "the folder that it lies in is not there" in refused(tmp_path / "no" / "a.hides", [LINE], None)
    with pytest.raises(NotWritten, match="no file can have such a name"):
        add_at_end("a\0b", [LINE], state)


@posix
def test_devices_pipes_and_long_names_are_refused_in_plain_words(tmp_path: Path) -> None:
    state = Seen(device=1, inode=1, size=1, changed_ns=1)
    os.mkfifo(tmp_path / "pipe")
    assert "no ordinary file" in refused(tmp_path / "pipe", [LINE], state)
    for path in ("/dev/full", "/dev/null"):
        with pytest.raises(NotWritten, match="no ordinary file; nothing was written"):
            add_at_end(path, [LINE], state)
    assert "its name is too long" in refused(tmp_path / ("n" * 300), [LINE], None)


@posix
def test_a_page_that_another_program_locks_for_long_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import fcntl

    monkeypatch.setattr("hideledger.writing.holding.LONGEST_WAIT", 0.05)
    page = made(tmp_path, b"x\n")
    state = seen(page)
    with page.open("rb") as other:
        fcntl.flock(other, fcntl.LOCK_EX)
        assert "kept it locked" in refused(page, [LINE], state)
    add_at_end(str(page), ["a"], state)
    assert page.read_bytes() == b"x\na\n"


@posix
@pytest.mark.parametrize("missing", ["fork", "flock"])
def test_a_system_without_locks_or_second_processes_writes_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, missing: str
) -> None:
    def none(*_: object) -> int:
        raise OSError(38, "Function not implemented")

    monkeypatch.setattr(f"{'fcntl' if missing == 'flock' else 'os'}.{missing}", none)
    assert after(tmp_path, b"x\n", "a") == b"x\na\n"


PIECES = st.lists(st.sampled_from([b"a", "½".encode(), b"\n", b"\r\n", b"\r", b" ", b"\t", b"#"]), max_size=30)
LINES = st.lists(st.text(alphabet="aH41½ \t#,-", max_size=12), min_size=1, max_size=5)


@given(mark=st.sampled_from([b"", b"\xef\xbb\xbf"]), pieces=PIECES, lines=LINES)
def test_whatever_the_page_old_lines_then_new_lines_are_read(
    mark: bytes, pieces: list[bytes], lines: list[str]
) -> None:
    body = mark + b"".join(pieces)
    old = decode(body, "page")
    old_lines = old.removesuffix("\n").split("\n") if old else []
    whole = body + block_for(body, lines)
    assert whole.startswith(body)
    new = decode(whole, "page")
    assert new.endswith("\n")
    assert new[:-1].split("\n") == [*old_lines, *lines]


@given(pieces=PIECES)
def test_the_newline_is_that_of_most_lines(pieces: list[bytes]) -> None:
    body = b"".join(pieces)
    marked = body.replace(b"\r\n", b"2")
    counts = {b"\r\n": marked.count(b"2"), b"\n": marked.count(b"\n"), b"\r": marked.count(b"\r")}
    assert counts[newline_of(body)] == max(counts.values())
    if counts[b"\n"] == max(counts.values()):
        assert newline_of(body) == b"\n"
