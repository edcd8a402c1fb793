"""The recipes of the README for a nightly run are real ones: what stands there is run, and read by the programs it is for."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from hideledger.cli.arguments import parsed
from tests.unit.small_book import AT, PAGE, QUIET, write_book

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
SECTION = re.findall(r"^## The nightly run\n(.*?)^## ", README, re.DOTALL | re.MULTILINE)[0]
UNITS: dict[str, str] = dict(re.findall(r"^```ini (\S+)\n(.*?)^```$", SECTION, re.DOTALL | re.MULTILINE))
CRONTABS: list[str] = re.findall(r"^```crontab\n(.*?)^```$", SECTION, re.DOTALL | re.MULTILINE)
HOME = "/home/ida"
STRANGE = QUIET + "2026-11-05 17:45 H77 drained\n"

on_unix = pytest.mark.skipif(os.name != "posix", reason="cron and systemd are Unix programs")
with_systemd = pytest.mark.skipif(shutil.which("systemd-analyze") is None, reason="systemd is not on this machine")


def crontab_of(text: str) -> tuple[dict[str, str], list[tuple[list[str], str]]]:
    """A user's crontab: its variables, and its lines as five fields and a command (crontab(5), Debian)."""
    variables, lines = {}, []
    for line in text.split("\n"):
        if setting := re.fullmatch(r"([A-Za-z_]+)\s*=\s*(.*)", line):
            variables[setting[1]] = setting[2]
        elif line.strip() and not line.startswith("#"):
            *fields, command = line.split(None, 5)
            lines.append((fields, command))
    return variables, lines


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """Ida's folder, with the program at the moment of `AT`, and a `mail` that keeps what it is given."""
    there = tmp_path / "home"
    programs = there / "hideledger" / ".venv" / "bin"
    programs.mkdir(parents=True)
    (there / "nightly").mkdir()
    mails = shlex.quote(str(there / "mails"))
    scripts = {
        "hideledger": f"PYTHONPATH={shlex.quote(str(ROOT))} exec {shlex.quote(sys.executable)} -m hideledger \"$@\" --at '{AT}'",
        "mail": f"printf '%s\\n' \"$@\" >> {mails}.said; cat >> {mails}.body; exit $(cat {mails}.code 2>/dev/null || echo 0)",
    }
    for name, line in scripts.items():
        (programs / name).write_text(f"#!/bin/sh\n{line}\n", encoding="utf-8", newline="\n")
        (programs / name).chmod(0o755)
    return there


def night(home: Path) -> subprocess.CompletedProcess[bytes]:
    """The first crontab, run once as cron runs it: its own variables, a bare environment, /bin/sh, the home folder."""
    variables, ((_, command),) = crontab_of(CRONTABS[0].replace(HOME, str(home)))
    bare = {"HOME": str(home), "LOGNAME": "ida", "SHELL": "/bin/sh", **variables}
    return subprocess.run(
        ["/bin/sh", "-c", command], env=bare, cwd=home, stdin=subprocess.DEVNULL, capture_output=True, check=False
    )


def mailed(home: Path) -> tuple[list[str], str]:
    """What `mail` was asked with, and the body it was given, and forgets it."""
    said, body = home / "mails.said", home / "mails.body"
    if not said.exists():
        return [], ""
    kept = said.read_text(encoding="utf-8").split("\n")[:-1], body.read_text(encoding="utf-8")
    said.unlink()
    body.unlink()
    return kept


def test_a_crontab_line_has_five_fields_and_no_bare_percent() -> None:
    """In a crontab an unescaped % ends the command and begins its input (crontab(5), Debian)."""
    assert len(CRONTABS) == 2
    for text in CRONTABS:
        _, lines = crontab_of(text)
        ((fields, command),) = lines
        assert len(fields) == 5
        for field, (least, most) in zip(fields, ((0, 59), (0, 23), (1, 31), (1, 12), (0, 7)), strict=True):
            assert field == "*" or least <= int(field) <= most
        assert not 1 <= int(fields[1]) < 3, "an hour that is skipped in spring and comes twice in autumn"
        assert not re.search(r"(?<!\\)%", text)
        assert "~" not in command
        assert command.count("hideledger check") == 1, "the book is looked over once"
    variables, _ = crontab_of(CRONTABS[0])
    assert "$" not in variables["PATH"], "cron does not look into a variable"
    assert variables["MAILTO"]


@on_unix
def test_a_night_with_something_that_rings_is_one_mail_with_its_subject(home: Path) -> None:
    write_book(home / "book", STRANGE)
    done = night(home)
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")
    said, body = mailed(home)
    assert said == ["-s", "1 unknown tag", "ida@example.org"]
    assert body.startswith("1 unknown tag\n\nNow\n  unknown tag: H77\n")
    night(home)
    assert mailed(home) == ([], ""), "told once"
    write_book(home / "book", STRANGE + "2026-11-05 17:46 H78 drained\n")
    night(home)
    assert mailed(home)[0][1] == "1 unknown tag, 1 told before"


@on_unix
def test_an_overdue_hide_is_mailed_each_night(home: Path) -> None:
    write_book(home / "book", PAGE)
    for _ in range(2):
        night(home)
        said, body = mailed(home)
        assert said[1] == "1 hide overdue"
        assert "overdue: H1" in body


@on_unix
def test_a_quiet_night_is_no_mail_and_no_output(home: Path) -> None:
    write_book(home / "book", QUIET)
    done = night(home)
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")
    assert mailed(home) == ([], "")


@on_unix
def test_a_mail_that_was_not_taken_is_sent_again_the_next_night(home: Path) -> None:
    write_book(home / "book", STRANGE)
    (home / "mails.code").write_text("75\n", encoding="utf-8")
    night(home)
    first = mailed(home)
    (home / "mails.code").unlink()
    night(home)
    assert mailed(home) == first
    night(home)
    assert mailed(home) == ([], "")


@on_unix
def test_what_goes_wrong_is_left_to_cron_to_mail(home: Path) -> None:
    """cron mails whatever a command prints, to MAILTO (cron(8), Debian)."""
    done = night(home)  # there is no book
    assert b"there is no such file or folder" in done.stderr
    assert mailed(home) == ([], "")


@on_unix
def test_the_crontab_without_a_mail_leaves_a_page(home: Path) -> None:
    write_book(home / "book", QUIET)
    _, ((_, command),) = crontab_of(CRONTABS[1].replace(HOME, str(home)))
    done = subprocess.run(
        ["/bin/sh", "-c", command], env={"PATH": "/usr/bin:/bin"}, cwd=home, capture_output=True, check=False
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")
    assert "all quiet, 2 skins" in (home / "nightly" / "morning.html").read_text(encoding="utf-8")


@with_systemd
def test_systemd_takes_the_units_without_a_word(home: Path, tmp_path: Path) -> None:
    units = tmp_path / "units"
    units.mkdir()
    assert sorted(UNITS) == ["hideledger-check.service", "hideledger-check.timer", "hideledger-trouble.service"]
    for name, text in UNITS.items():
        (units / name).write_text(text.replace(HOME, str(home)), encoding="utf-8")
    environment = {"PATH": os.environ["PATH"], "HOME": str(home), "XDG_RUNTIME_DIR": str(tmp_path)}

    def verified() -> str:
        done = subprocess.run(
            ["systemd-analyze", "verify", "--user", "--man=no", *(str(units / name) for name in sorted(UNITS))],
            env=environment,
            capture_output=True,
            text=True,
            encoding="utf-8",
            check=False,
        )
        return done.stderr + done.stdout + ("" if done.returncode == 0 else f"exit {done.returncode}")

    assert verified() == ""
    broken = units / "hideledger-check.service"
    broken.write_text(
        broken.read_text(encoding="utf-8").replace("SuccessExitStatus", "SucessExitStatus"), encoding="utf-8"
    )
    assert "SucessExitStatus" in verified(), "or it would say nothing whatever stood there"


@with_systemd
def test_systemd_understands_when_to_run() -> None:
    (when,) = re.findall(r"^OnCalendar=(.*)$", UNITS["hideledger-check.timer"], re.MULTILINE)
    done = subprocess.run(
        ["systemd-analyze", "calendar", when], capture_output=True, text=True, encoding="utf-8", check=False
    )
    assert done.returncode == 0
    assert re.search(r"Normalized form: \*-\*-\* 05:00:00$", done.stdout, re.MULTILINE)
    assert "Persistent=true" in UNITS["hideledger-check.timer"]


def unit_line(name: str, key: str, home: Path) -> list[str]:
    """A command of a unit as systemd hands it on: split into words, `$$` for a dollar (systemd.service(5), Command lines)."""
    (line,) = re.findall(rf"^{key}=(.*)$", UNITS[name], re.MULTILINE)
    assert not re.search(r"(?<!\$)\$(?!\$)", line), "a single dollar would be systemd's own"
    assert "%" not in line, "a percent sign would be systemd's own"
    return shlex.split(line.replace(HOME, str(home)).replace("$$", "$"))


@on_unix
def test_the_service_mails_as_the_crontab_does(home: Path) -> None:
    write_book(home / "book", STRANGE)
    programs = home / "hideledger" / ".venv" / "bin"
    (programs / "journalctl").write_text("#!/bin/sh\necho trouble\n", encoding="utf-8")
    (programs / "journalctl").chmod(0o755)

    def started(key: str, name: str = "hideledger-check.service") -> int:
        bare = {"PATH": f"{programs}:/usr/bin:/bin", "LANG": "C.UTF-8"}
        return subprocess.run(unit_line(name, key, home), env=bare, cwd=home / "nightly", check=False).returncode

    assert re.search("^SuccessExitStatus=1 3$", UNITS["hideledger-check.service"], re.MULTILINE)
    assert started("ExecStart") == 1
    assert started("ExecStartPost") == 0
    assert mailed(home)[0] == ["-s", "1 unknown tag", "ida@example.org"]
    assert (started("ExecStart"), started("ExecStartPost")) == (1, 0)
    assert mailed(home) == ([], "")
    write_book(home / "book", PAGE)
    (home / "mails.code").write_text("1\n", encoding="utf-8")
    assert (started("ExecStart"), started("ExecStartPost")) == (1, 9), "1 would be taken for success"
    assert not (home / "nightly" / "told.json").exists()
    mailed(home)
    (home / "mails.code").unlink()
    assert started("ExecStart", "hideledger-trouble.service") == 0
    assert mailed(home) == (["-s", "the nightly run of hideledger failed", "ida@example.org"], "trouble\n")


def test_the_windows_lines_ask_what_can_be_asked() -> None:
    """A task's command may be 261 characters long (schtasks create, Microsoft; from memory)."""
    (line,) = re.findall(r"^```bat\n(.*?)\n```$", SECTION, re.DOTALL | re.MULTILINE)
    (command,) = re.findall(r'/TR "(.*?)"$', line)
    assert len(command) <= 261
    program, *words = command.split(" ")
    assert program.endswith(r"\hideledger.exe")
    wanted = parsed(words)
    assert (wanted.command, wanted.book, wanted.page) == (
        "check",
        [r"C:\Users\ida\book"],
        [r"C:\Users\ida\Desktop\morning.html"],
    )
    (script,) = re.findall(r"^```powershell\n(.*?)^```$", SECTION, re.DOTALL | re.MULTILINE)
    (told,) = re.findall(r"-Argument '(.*?)'", script)
    assert told.split(" ") == words
    assert program in script
    assert "-StartWhenAvailable" in script
