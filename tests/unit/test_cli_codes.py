"""Exit codes and streams: what a schedule, a pipe and a person in a hurry can count on."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from hideledger import __version__
from hideledger.cli import main
from tests.unit.small_book import AT, PAGE, QUIET, UNREAD, write_book

CHECKOUT = Path(__file__).resolve().parents[2]
Captured = pytest.CaptureFixture[str]


@pytest.fixture
def quiet(tmp_path: Path) -> str:
    return write_book(tmp_path / "quiet", QUIET)


@pytest.fixture
def ringing(tmp_path: Path) -> str:
    return write_book(tmp_path / "ringing", PAGE)


@pytest.fixture
def unread(tmp_path: Path) -> str:
    return write_book(tmp_path / "unread", UNREAD)


def shell(*argv: str, cwd: str | None = None, **env: str) -> subprocess.CompletedProcess[bytes]:
    """The command as a shell runs it, with nothing of this test run's surroundings."""
    surroundings = {"PATH": os.environ["PATH"], "PYTHONPATH": str(CHECKOUT), **env}
    return subprocess.run(
        [sys.executable, "-m", "hideledger", *argv], capture_output=True, check=False, env=surroundings, cwd=cwd
    )


def test_all_quiet_is_0_and_one_line(quiet: str, capsys: Captured) -> None:
    assert main(["check", quiet, "--at", AT]) == 0
    out, err = capsys.readouterr()
    assert out == "all quiet, 2 skins, last line 17:40 (looked at Thu 2026-11-05 17:50)\n"
    assert err == ""


def test_quiet_prints_nothing_at_all(quiet: str, capsys: Captured) -> None:
    assert main(["check", quiet, "--at", AT, "--quiet"]) == 0
    assert capsys.readouterr() == ("", "")


@pytest.mark.parametrize("more", [[], ["--quiet"]])
def test_something_that_rings_is_1(ringing: str, capsys: Captured, more: list[str]) -> None:
    """H1 lies in the neutraliser since 10:30, 30 minutes at most."""
    assert main(["check", ringing, "--at", AT, *more]) == 1
    out, _ = capsys.readouterr()
    assert out.startswith("1 hide overdue")
    assert "overdue: H1" in out
    assert "november.hides:12" in out
    assert "shop.hides:19" in out


@pytest.mark.parametrize("more", [[], ["--quiet"]])
def test_a_line_that_cannot_be_read_is_3_and_the_rest_is_judged(unread: str, capsys: Captured, more: list[str]) -> None:
    assert main(["check", unread, "--at", AT, *more]) == 3
    out, _ = capsys.readouterr()
    assert out.split("\n")[0] == "1 hide overdue, 1 line unread"
    assert "november.hides:13:" in out
    lines = out.split("\n")
    bare = next(number for number, line in enumerate(lines) if line.strip() == "2026-11-05 10:45 H2 neutralized-ish")
    assert lines[bare + 1].index("^") == lines[bare].index("neutralized-ish")


def test_quiet_is_not_silent_about_an_unread_line(tmp_path: Path, capsys: Captured) -> None:
    book = write_book(tmp_path / "book", QUIET + "2026-11-05 17:41 P1 ph seven\n")
    assert main(["check", book, "--at", AT, "--quiet"]) == 3
    out, _ = capsys.readouterr()
    assert out.startswith("1 line unread, nothing else rings, 2 skins")


@pytest.mark.parametrize(
    "argv",
    [
        [],
        ["chek"],
        ["check", "--at", "tomorrow"],
        ["check", "--ahead", "a while"],
        ["check", "--json", "--plain"],
        ["check", "--pla"],
        ["check", "/no/such/folder"],
        ["history"],
        ["history", "."],
        ["meaning", "swallowed by a bear"],
        ["start"],
    ],
)
def test_wrong_use_is_2_and_one_sentence(
    argv: list[str], capsys: Captured, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(argv) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("hideledger: ")
    assert err.count("\n") == 1


def test_a_misspelt_command_gets_the_nearest(capsys: Captured) -> None:
    main(["flor"])
    assert "did you mean floor?" in capsys.readouterr().err


def test_a_fault_of_the_program_is_70_and_one_sentence(
    quiet: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch
) -> None:
    import hideledger.rules.judge

    def broken(*_: object, **__: object) -> None:
        raise KeyError("H1")

    monkeypatch.setattr(hideledger.rules.judge, "judging", broken)
    assert main(["check", quiet, "--at", AT]) == 70
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("hideledger: a fault of the program, not of your book (KeyError at test_cli_codes.py:")
    assert err.count("\n") == 1


def test_the_keyboard_stops_it_with_130(quiet: str, capsys: Captured, monkeypatch: pytest.MonkeyPatch) -> None:
    import hideledger.rules.judge

    def stopped(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(hideledger.rules.judge, "judging", stopped)
    assert main(["check", quiet, "--at", AT]) == 130
    assert capsys.readouterr() == ("", "")


@pytest.mark.skipif(os.name != "posix", reason="pipes of a Unix shell")
@pytest.mark.parametrize("argv", [["check"], ["check", "--json"], ["floor", "--plain"], ["--help"]])
def test_a_closed_pipe_is_141_and_no_word(ringing: str, argv: list[str]) -> None:
    reader, writer = os.pipe()
    os.close(reader)
    more = [] if argv == ["--help"] else [ringing, "--at", AT]
    done = subprocess.run(
        [sys.executable, "-m", "hideledger", *argv, *more],
        stdout=writer,
        stderr=subprocess.PIPE,
        check=False,
        env={"PATH": os.environ["PATH"], "PYTHONPATH": str(CHECKOUT)},
    )
    os.close(writer)
    assert (done.returncode, done.stderr) == (141, b"")


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="a full disk to try on")
@pytest.mark.parametrize("argv", [["check"], ["check", "--json"], ["floor"], ["--help"]])
def test_a_full_disk_is_said_in_one_sentence(ringing: str, argv: list[str]) -> None:
    more = [] if argv == ["--help"] else [ringing, "--at", AT]
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "hideledger", *argv, *more],
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
            env={"PATH": os.environ["PATH"], "PYTHONPATH": str(CHECKOUT)},
        )
    assert done.returncode == 74, "no fault of the program, and no answer either"
    assert done.stderr.startswith(b"hideledger: the answer could not be written out: No space left")
    assert done.stderr.count(b"\n") == 1


def test_the_variable_names_the_book(ringing: str, tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    done = shell("check", "--at", AT, cwd=str(elsewhere), HIDELEDGER_BOOK=ringing)
    assert done.returncode == 1
    assert done.stdout.startswith(b"1 hide overdue")
    # the folder on the line wins over the variable, and this folder is the book when neither is given
    assert shell("check", ringing, "--at", AT, HIDELEDGER_BOOK="/no/such/folder").returncode == 1
    here = shell("check", "--at", AT, cwd=ringing)
    assert here.stdout.split(b"\n")[0] == done.stdout.split(b"\n")[0]


def test_the_zone_of_the_computer_does_not_matter(ringing: str) -> None:
    for argv in (["check", "--json", "--all"], ["floor"], ["history", "H1", "--book"]):
        said = {
            shell(*argv, ringing, "--at", AT, TZ=zone, LC_ALL=language, PYTHONHASHSEED=seed).stdout
            for zone, language, seed in (("UTC", "C.UTF-8", "1"), ("Pacific/Auckland", "C", "2"))
        }
        assert len(said) == 1
        assert said != {b""}


def test_the_end_of_a_day_is_still_that_day(quiet: str, capsys: Captured) -> None:
    main(["check", quiet, "--at", "2026-11-05", "--ahead", "0h"])
    assert capsys.readouterr().out == ("all quiet, 2 skins, last line 17:40 (looked at Thu 2026-11-05 24:00)\n")


def test_the_version(capsys: Captured) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"hideledger {__version__}\n"


@pytest.mark.parametrize("command", ["", "check", "floor", "history", "meaning", "start"])
def test_help_is_an_answer(command: str, capsys: Captured) -> None:
    assert main([word for word in (command, "--help") if word]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert "hideledger" in out


def test_a_later_at_and_a_wider_horizon(quiet: str, capsys: Captured) -> None:
    """H1 drains since 5 November 10:50, 3 days at most: 72 hours and no clock change, so till 8 November 10:50."""
    assert main(["check", quiet, "--at", "2026-11-06 08:00", "--ahead", "1h", "--json"]) in (0, 1)
    near = capsys.readouterr().out
    assert main(["check", quiet, "--at", "2026-11-06 08:00", "--ahead", "60h", "--json"]) == 1
    far = capsys.readouterr().out
    assert '"name": "due"' not in near
    assert '"name": "due"' in far
    assert '"since": "2026-11-08T16:50:00Z"' in far


@pytest.mark.parametrize("name", ["bad.hides", "shop.hides"])
def test_a_page_that_cannot_be_decoded_is_shown_and_the_others_count(
    name: str, tmp_path: Path, capsys: Captured
) -> None:
    """0xE9 alone is no UTF-8 (RFC 3629, section 3): a byte that begins three must be followed by two of its kind."""
    book = write_book(tmp_path / "book", QUIET)
    (tmp_path / "book" / name).write_bytes(b"2026-11-05 08:00 P1 stirred\n2026-11-05 P1 -- caf\xe9 hours\n")
    assert main(["check", book, "--at", AT]) == 3
    card = capsys.readouterr().out
    said = f"{book}/{name}:2:21: nothing of this page could be read"
    assert "1 page" in card.split("\n")[0]
    assert said in " ".join(card.split())
    assert "no page of this book says how the shop works" not in " ".join(card.split()), "that page may be the one"
    assert main(["check", book, "--at", AT, "--json"]) == 3
    first = json.loads(capsys.readouterr().out)["unread"][0]
    assert (first["file"], first["line"], first["column"]) == (f"{book}/{name}", 2, 21)
    if name == "bad.hides":
        assert card.startswith("1 page unread, nothing else rings, 2 skins")
    assert main(["floor", book, "--at", AT]) == 3
    assert said in " ".join(capsys.readouterr().out.split())
