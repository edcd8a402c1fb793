"""The writing hands under what really happens: a kill at any moment, eight at once, a full disk, somebody else's file."""

import contextlib
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

import pytest

from hideledger.text.files import read_raw
from hideledger.writing.at_end import add_at_end
from hideledger.writing.in_place import put_in_place
from hideledger.writing.trouble import ChangedMeanwhile, NotWritten
from tests.unit.kill_trial import ended, kill_trial, settled, split_off

if sys.platform == "win32":
    pytest.skip("these trials need processes that split", allow_module_level=True)

import resource

root = pytest.mark.skipif(os.geteuid() != 0, reason="needs root")
OLD = b"2026-11-02 08:00 P3 mixed in V1\n" * 120  # 60 lines more and it crosses the 4096 bytes of a page of memory
LINES = tuple(f"2026-11-03 08:{number:02} H{number + 41} fleshed" for number in range(60))


def adding(page: Path) -> None:
    add_at_end(str(page), LINES, read_raw(page, str(page))[1])


def adding_little(page: Path) -> None:
    add_at_end(str(page), LINES[:3], read_raw(page, str(page))[1])


def adding_much(page: Path) -> None:
    add_at_end(str(page), LINES * 100, read_raw(page, str(page))[1])


def replacing(page: Path) -> None:
    put_in_place(str(page), NEW_PAGE, read_raw(page, str(page))[1])


NEW_PAGE = OLD.replace(b"V1", b"V22") * 20
WITH_LINES = OLD + "".join(f"{line}\n" for line in LINES).encode()


@pytest.mark.parametrize(
    ("work", "new", "runs"),
    [
        (adding_little, OLD + "".join(f"{line}\n" for line in LINES[:3]).encode(), 200),
        (adding, WITH_LINES, 200),
        (adding_much, WITH_LINES + WITH_LINES[len(OLD) :] * 99, 100),
        (replacing, NEW_PAGE, 200),
    ],
)
def test_a_kill_leaves_the_old_page_or_the_new(
    tmp_path: Path, work: Callable[[Path], None], new: bytes, runs: int
) -> None:
    page = tmp_path / "autumn.hides"
    counted = kill_trial(page, OLD, new, lambda: work(page), runs=runs, seed=20261103)
    assert counted.torn == 0
    assert counted.old + counted.new == runs
    assert min(counted.old, counted.new) >= runs // 8, f"both ends must have been seen: {counted}"
    assert counted.cut >= runs // 4, f"many kills must have come in time: {counted}"


def test_the_trial_sees_a_page_that_is_torn(tmp_path: Path) -> None:
    """The same trial on a hand that writes line by line finds parts; else it would prove nothing."""

    def by_the_line(page: Path) -> None:
        with page.open("ab", buffering=0) as slow:
            for line in LINES:
                slow.write(f"{line}\n".encode())
                time.sleep(0.001)

    page = tmp_path / "autumn.hides"
    assert kill_trial(page, OLD, WITH_LINES, lambda: by_the_line(page), runs=40, seed=1).torn > 0


def test_a_page_that_is_being_made_is_whole_or_not_there(tmp_path: Path) -> None:
    page = tmp_path / "autumn.hides"
    whole = "".join(f"{line}\n" for line in LINES).encode()
    counted = kill_trial(page, None, whole, lambda: add_at_end(str(page), LINES, None), runs=100, seed=20261104)
    assert counted.torn == 0
    assert min(counted.old, counted.new) >= 12, f"both ends must have been seen: {counted}"


@pytest.mark.parametrize("stop", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP, signal.SIGKILL])
def test_a_stop_in_the_very_middle_of_the_writing_tears_nothing(tmp_path: Path, stop: int) -> None:
    """Sent from within the write: a kill to the run itself, all else, as a terminal does, to whatever belongs to it."""
    page = tmp_path / "autumn.hides"
    page.write_bytes(OLD)
    real = os.write

    def work() -> None:
        run = os.getpid()

        def written_then_stopped(number: int, block: bytes) -> int:
            half = real(number, block[: len(block) // 2])
            for process in {run, run if stop == signal.SIGKILL else os.getpid()}:
                os.kill(process, stop)
            return half + real(number, block[half:])

        if stop != signal.SIGKILL:
            signal.signal(stop, signal.SIG_DFL)
        os.write = written_then_stopped  # type: ignore[assignment]
        adding(page)

    assert ended(split_off(work)) == -stop
    assert settled(page) == WITH_LINES


WRITER = """
import sys
from pathlib import Path
from hideledger.text.files import read_raw
from hideledger.writing.at_end import add_at_end
from hideledger.writing.trouble import ChangedMeanwhile

page, writer = sys.argv[1:]
for number in range(400):
    while True:
        try:
            add_at_end(page, [f"2026-11-03 08:15 W{writer}-{number} stirred"], read_raw(Path(page), page)[1])
            break
        except ChangedMeanwhile:
            pass
"""


def test_eight_writers_at_once_lose_and_double_nothing(tmp_path: Path) -> None:
    page = tmp_path / "autumn.hides"
    page.write_bytes(b"# autumn")  # the last line is not ended yet
    here = {**os.environ, "PYTHONPATH": str(Path(__file__).resolve().parents[2])}
    writers = [
        subprocess.Popen([sys.executable, "-c", WRITER, str(page), str(writer)], env=here) for writer in range(8)
    ]
    assert [writer.wait() for writer in writers] == [0] * 8
    first, *lines, last = page.read_text(encoding="utf-8").split("\n")
    assert (first, last, len(lines)) == ("# autumn", "", 3200)
    assert set(lines) == {
        f"2026-11-03 08:15 W{writer}-{number} stirred" for writer in range(8) for number in range(400)
    }


def test_adding_and_replacing_at_once_lose_nothing(tmp_path: Path) -> None:
    """A line added between the reading and the replacing of a page is never lost with the page that is put away."""
    page = tmp_path / "autumn.hides"
    page.write_bytes(b"# 0\n")

    def add(writer: int) -> None:
        for number in range(100):
            while True:
                with contextlib.suppress(ChangedMeanwhile):
                    add_at_end(str(page), [f"W{writer}-{number}"], read_raw(page, "")[1])
                    break

    def replace() -> None:
        for number in range(1, 101):
            while True:
                with contextlib.suppress(ChangedMeanwhile):
                    body, state = read_raw(page, "")
                    put_in_place(str(page), b"# %d\n" % number + body.partition(b"\n")[2], state)
                    break

    children = [split_off(lambda: add(1)), split_off(lambda: add(2)), split_off(replace)]
    assert [ended(child) for child in children] == [0, 0, 0]
    first, *lines = page.read_text(encoding="utf-8").split()[1:]
    assert first == "100"
    assert sorted(lines) == sorted(f"W{writer}-{number}" for writer in (1, 2) for number in range(100))
    assert os.listdir(tmp_path) == ["autumn.hides"]


@contextlib.contextmanager
def full_disk(folder: Path) -> Iterator[Path]:
    """A disk of 64 kB in memory."""
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(folder)], capture_output=True, check=False
    )
    if mounted.returncode:
        pytest.skip("no disk can be mounted here")
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)


def said_of(work: Callable[[], object]) -> str:
    with pytest.raises(NotWritten) as trouble:
        work()
    return str(trouble.value)


@root
@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="no tmpfs")
def test_a_full_disk_leaves_the_page_as_it_was(tmp_path: Path) -> None:
    with full_disk(tmp_path) as disk:
        page = disk / "autumn.hides"
        page.write_bytes(OLD)
        state = read_raw(page, "")[1]
        many = ["x" * 1000] * 80
        for work in (
            lambda: add_at_end(str(page), many, state),
            lambda: put_in_place(str(page), b"y" * 80_000, read_raw(page, "")[1]),
            lambda: add_at_end(str(disk / "new.hides"), many, None),
            lambda: put_in_place(str(disk / "new.hides"), b"y" * 80_000, None),
        ):
            said = said_of(work)
            assert said.endswith(": the disk is full; nothing was written") and said.startswith(str(disk))
            assert page.read_bytes() == OLD and os.listdir(disk) == ["autumn.hides"]
        add_at_end(str(page), ["a"], read_raw(page, "")[1])
        assert page.read_bytes() == OLD + b"a\n"


def test_a_file_that_may_not_grow_stays_as_it_was(tmp_path: Path) -> None:
    page = tmp_path / "autumn.hides"
    page.write_bytes(OLD)

    def work() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (len(OLD) + 100, resource.RLIM_INFINITY))
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        for write in (adding, replacing):
            assert said_of(partial(write, page)) == (
                f"{page}: the file would grow larger than this system lets it; nothing was written"
            )
            assert page.read_bytes() == OLD and os.listdir(tmp_path) == ["autumn.hides"]
        add_at_end(str(page), ["a"], read_raw(page, "")[1])

    assert ended(split_off(work)) == 0
    assert page.read_bytes() == OLD + b"a\n"


def as_somebody_else(work: Callable[[], object]) -> None:
    """Does the work as a user without any rights of its own, where we are root; else as ourselves."""

    def without_rights() -> None:
        if os.geteuid() == 0:
            os.setgroups([])
            os.setgid(54321)
            os.setuid(54321)
        work()

    assert ended(split_off(without_rights)) == 0


def open_to_all(folder: Path) -> None:
    """Lets any user come as far as this folder."""
    for above in (folder, *folder.parents):
        with contextlib.suppress(PermissionError):
            above.chmod(above.stat().st_mode | 0o055)


def test_without_permission_nothing_is_written_and_that_is_said(tmp_path: Path) -> None:
    open_to_all(tmp_path)
    page = tmp_path / "autumn.hides"
    page.write_bytes(OLD)
    page.chmod(0o444)
    tmp_path.chmod(0o555)

    def work() -> None:
        for write in (
            adding,
            replacing,
            lambda _: add_at_end(str(tmp_path / "new.hides"), ["a"], None),
            lambda _: put_in_place(str(tmp_path / "new.hides"), b"a", None),
        ):
            said = said_of(partial(write, page))
            assert said.endswith(": no permission to write here; nothing was written"), said

    as_somebody_else(work)
    tmp_path.chmod(0o755)
    assert page.read_bytes() == OLD and os.listdir(tmp_path) == ["autumn.hides"]


def test_a_folder_that_takes_no_files_still_lets_a_page_grow(tmp_path: Path) -> None:
    open_to_all(tmp_path)
    page = tmp_path / "autumn.hides"
    page.write_bytes(OLD)
    page.chmod(0o666)
    tmp_path.chmod(0o555)

    def work() -> None:
        assert said_of(lambda: replacing(page)).endswith(": no permission to write here; nothing was written")
        adding(page)

    as_somebody_else(work)
    tmp_path.chmod(0o755)
    assert page.read_bytes() == WITH_LINES


@root
def test_a_page_of_somebody_else_grows_but_is_not_replaced(tmp_path: Path) -> None:
    """A file put in its place would belong to whoever put it there, and its owner might be shut out."""
    open_to_all(tmp_path)
    page = tmp_path / "autumn.hides"
    page.write_bytes(OLD)
    page.chmod(0o666)
    tmp_path.chmod(0o777)

    def work() -> None:
        assert said_of(lambda: replacing(page)).endswith("a new file in its place would not; nothing was written")
        adding(page)

    as_somebody_else(work)
    assert page.read_bytes() == WITH_LINES and page.stat().st_uid == 0 and os.listdir(tmp_path) == ["autumn.hides"]


@root
@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="no tmpfs")
def test_a_disk_that_can_only_be_read_is_said_to_be_one(tmp_path: Path) -> None:
    with full_disk(tmp_path) as disk:
        page = disk / "autumn.hides"
        page.write_bytes(OLD)
        subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)
        for write in (adding, replacing, lambda _: add_at_end(str(disk / "new.hides"), ["a"], None)):
            said = said_of(partial(write, page))
            assert said.endswith(": this disk can be read but not written to; nothing was written")
        assert page.read_bytes() == OLD and os.listdir(disk) == ["autumn.hides"]
