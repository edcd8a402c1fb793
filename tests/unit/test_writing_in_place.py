"""A whole page is put in the place of another, which keeps everything but its text; else nothing happens at all."""

import errno
import os
import stat
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hideledger.text.files import find_pages, read_raw
from hideledger.text.seen import Seen
from hideledger.writing.in_place import put_in_place
from hideledger.writing.trouble import ChangedMeanwhile, NotWritten

posix = pytest.mark.skipif(sys.platform == "win32", reason="no such thing there")
root = pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root may give a file away")
HOUR = 3600


def seen(page: Path) -> Seen:
    return read_raw(page, str(page))[1]


def made(folder: Path, body: bytes, name: str = "autumn.hides") -> Path:
    page = folder / name
    page.write_bytes(body)
    return page


def refused(page: Path, state: Seen | None) -> str:
    """The sentence with which nothing is written; the page and the folder must be as before."""
    before = page.read_bytes() if os.path.isfile(page) else None
    beside = sorted(os.listdir(page.parent)) if page.parent.is_dir() else None
    with pytest.raises(NotWritten) as trouble:
        put_in_place(str(page), b"new\n", state)
    assert (page.read_bytes() if os.path.isfile(page) else None) == before
    assert (sorted(os.listdir(page.parent)) if page.parent.is_dir() else None) == beside
    said = str(trouble.value)
    assert said.endswith("; nothing was written") and "\n" not in said
    return said


@given(body=st.binary(max_size=3000))
def test_the_bytes_given_are_the_bytes_read(tmp_path_factory: pytest.TempPathFactory, body: bytes) -> None:
    page = made(tmp_path_factory.mktemp("page"), b"old\n")
    put_in_place(str(page), body, seen(page))
    assert page.read_bytes() == body
    assert os.listdir(page.parent) == ["autumn.hides"]


def test_a_new_file_is_made_with_the_mode_of_any_new_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    made(tmp_path, b"", "other")
    put_in_place("winter.hides", b"new\n", None)
    assert Path("winter.hides").read_bytes() == b"new\n"
    assert Path("winter.hides").stat().st_mode == Path("other").stat().st_mode


def test_what_nobody_read_is_replaced_whatever_it_is(tmp_path: Path) -> None:
    page = made(tmp_path, b"old\n")
    put_in_place(str(page), b"new\n", None)
    assert page.read_bytes() == b"new\n"


@posix
def test_where_nobody_cares_another_run_that_was_quicker_is_no_trouble(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = made(tmp_path, b"old\n")
    real, quicker = os.fsync, iter([b"quicker\n", b"still quicker\n"])

    def fsync(number: int) -> None:
        real(number)
        for body in quicker:
            made(tmp_path, body, "other").replace(page)
            break

    monkeypatch.setattr(os, "fsync", fsync)
    put_in_place(str(page), b"new\n", None)
    assert page.read_bytes() == b"new\n" and os.listdir(tmp_path) == ["autumn.hides"]


@posix
@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664, 0o755])
def test_the_mode_stays(tmp_path: Path, mode: int) -> None:
    page = made(tmp_path, b"old\n")
    page.chmod(mode)
    put_in_place(str(page), b"new\n", seen(page))
    assert stat.S_IMODE(page.stat().st_mode) == mode


@root
def test_owner_and_group_stay(tmp_path: Path) -> None:
    page = made(tmp_path, b"old\n")
    os.chown(page, 12345, 23456)
    put_in_place(str(page), b"new\n", seen(page))
    assert (page.stat().st_uid, page.stat().st_gid) == (12345, 23456)


@pytest.mark.skipif(not hasattr(os, "setxattr"), reason="no extended marks here")
def test_extended_marks_stay_where_the_disk_has_them(tmp_path: Path) -> None:
    page = made(tmp_path, b"old\n")
    try:
        os.setxattr(page, "user.shelf", b"north")
    except OSError:
        pytest.skip("this disk has none")
    put_in_place(str(page), b"new\n", seen(page))
    assert os.getxattr(page, "user.shelf") == b"north"


@posix
def test_a_link_stays_a_link_and_what_it_leads_to_is_replaced(tmp_path: Path) -> None:
    (tmp_path / "card").mkdir()
    page = made(tmp_path / "card", b"old\n")
    (tmp_path / "half.hides").symlink_to(Path("card") / "autumn.hides")
    link = tmp_path / "linked.hides"
    link.symlink_to("half.hides")
    put_in_place(str(link), b"new\n", seen(link))
    assert os.readlink(link) == "half.hides" and page.read_bytes() == b"new\n" and not page.is_symlink()
    assert os.listdir(tmp_path / "card") == ["autumn.hides"]


@posix
@pytest.mark.parametrize("state", [None, Seen(device=1, inode=1, size=1, changed_ns=1)])
def test_a_link_to_nothing_or_round_in_a_loop_is_refused(tmp_path: Path, state: Seen | None) -> None:
    link = tmp_path / "linked.hides"
    link.symlink_to(tmp_path / "gone")
    assert "it is a link to" in refused(link, state)
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    assert "its links lead round in a loop" in refused(tmp_path / "a", state)


@posix
def test_a_page_with_a_second_name_is_left_alone(tmp_path: Path) -> None:
    page = made(tmp_path, b"old\n")
    os.link(page, tmp_path / "second")
    assert "a second name on this disk (a hard link)" in refused(page, seen(page))
    (tmp_path / "second").unlink()
    put_in_place(str(page), b"new\n", seen(page))
    assert page.read_bytes() == b"new\n"


def by_adding(page: Path) -> None:
    page.write_bytes(page.read_bytes() + b"more\n")


def by_renaming_with_equal_size_and_time(page: Path) -> None:
    state = page.stat()
    other = made(page.parent, b"OLD\n", "other")
    os.utime(other, ns=(state.st_atime_ns, state.st_mtime_ns))
    os.replace(other, page)


def by_removing(page: Path) -> None:
    page.unlink()


CHANGES = [by_adding, by_renaming_with_equal_size_and_time, by_removing]


@pytest.mark.parametrize("how", CHANGES)
def test_a_page_changed_after_the_reading_is_left_alone(tmp_path: Path, how: Callable[[Path], None]) -> None:
    page = made(tmp_path, b"old\n")
    state = seen(page)
    how(page)
    refused(page, state)
    with pytest.raises(ChangedMeanwhile):
        put_in_place(str(page), b"new\n", state)


@posix
@pytest.mark.parametrize("how", CHANGES)
def test_a_page_changed_while_the_new_one_was_being_written_is_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, how: Callable[[Path], None]
) -> None:
    page = made(tmp_path, b"old\n")
    state, real = seen(page), os.fsync

    def fsync(number: int) -> None:
        real(number)
        how(page)

    monkeypatch.setattr(os, "fsync", fsync)
    with pytest.raises(ChangedMeanwhile):
        put_in_place(str(page), b"new\n", state)
    monkeypatch.undo()
    assert os.listdir(tmp_path) == ([] if how is by_removing else ["autumn.hides"])
    assert not page.exists() or page.read_bytes() != b"new\n"


@pytest.mark.parametrize("at", ["fsync", "replace", "chmod"])
@pytest.mark.parametrize("trouble", [OSError(errno.EIO, "Input/output error"), KeyboardInterrupt()])
def test_whatever_stops_it_nothing_is_left_lying(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, at: str, trouble: BaseException
) -> None:
    page = made(tmp_path, b"old\n")
    state = seen(page)

    def stopped(*_: object) -> None:
        raise trouble

    monkeypatch.setattr(os, at, stopped)
    with pytest.raises((NotWritten, KeyboardInterrupt)) as raised:
        put_in_place(str(page), b"new\n", state)
    if isinstance(trouble, OSError):
        assert str(raised.value).endswith(
            "the disk did not take it (a fault in reading or writing); nothing was written"
        )
    assert page.read_bytes() == b"old\n" and os.listdir(tmp_path) == ["autumn.hides"]


def test_what_a_killed_run_left_is_thrown_away_by_the_next_after_an_hour(tmp_path: Path) -> None:
    page = made(tmp_path, b"old\n")
    left = made(tmp_path, b"half", ".hideledger-00112233445566aa.tmp")
    fresh = made(tmp_path, b"half", ".hideledger-00112233445566ab.tmp")
    theirs = made(tmp_path, b"theirs", ".hideledger-notes.tmp")
    for old in (left, theirs):
        os.utime(old, (old.stat().st_atime, old.stat().st_mtime - 2 * HOUR))
    assert find_pages([str(tmp_path)]) == ([page], [])
    put_in_place(str(page), b"new\n", seen(page))
    assert sorted(os.listdir(tmp_path)) == sorted([page.name, fresh.name, theirs.name])


@posix
def test_a_second_name_left_by_a_killed_run_is_in_nobodys_way(tmp_path: Path) -> None:
    page = made(tmp_path, b"old\n")
    os.link(page, tmp_path / ".hideledger-00112233445566aa.tmp")
    put_in_place(str(page), b"new\n", seen(page))
    assert page.read_bytes() == b"new\n" and os.listdir(tmp_path) == ["autumn.hides"]


@posix
def test_what_is_no_page_is_refused_in_plain_words(tmp_path: Path) -> None:
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    assert "it is a folder" in refused(tmp_path / "folder", None)
    assert "it is no ordinary file" in refused(tmp_path / "pipe", None)
    assert "the folder that it lies in is not there" in refused(tmp_path / "no" / "a.hides", None)
    assert "a file, not a folder" in refused(made(tmp_path, b"") / "a.hides", None)
    assert "its name is too long" in refused(tmp_path / ("n" * 300), None)
    with pytest.raises(NotWritten, match="no file can have such a name"):
        put_in_place("a\0b", b"", None)
    with pytest.raises(NotWritten, match="no ordinary file"):
        put_in_place("/dev/full", b"new\n", None)
    assert stat.S_ISCHR(os.stat("/dev/full").st_mode)


@posix
def test_a_name_as_long_as_the_disk_allows_can_be_replaced(tmp_path: Path) -> None:
    page = made(tmp_path, b"old\n", "n" * 249 + ".hides")
    put_in_place(str(page), b"new\n", seen(page))
    assert page.read_bytes() == b"new\n"
