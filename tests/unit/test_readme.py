"""The two commands of the README are what a newcomer types: they must be there, whole, and true."""

import re
import shlex
import subprocess
import sys
import tomllib
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parents[2]


def two_commands() -> list[str]:
    """The lines of the README's block marked `two-commands`; .ci/run takes them from the same block."""
    page = (CHECKOUT / "README.md").read_text(encoding="utf-8")
    (block,) = re.findall(r"^```sh two-commands\n(.*?)^```$", page, flags=re.MULTILINE | re.DOTALL)
    return [line for line in block.split("\n") if line]


def test_there_are_two_and_the_second_runs_the_tests() -> None:
    setup, tests = two_commands()
    assert setup.split(" && ")[0] == "python3 -m venv --without-pip .venv"
    assert tests == ".venv/bin/python -m pytest -q"


def test_the_extra_they_install_exists() -> None:
    (extra,) = re.findall(r"'\.\[([a-z]+)\]'", two_commands()[0])
    project = tomllib.loads((CHECKOUT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert any(need.startswith("pytest") for need in project["optional-dependencies"][extra])
    assert f"python{project['requires-python']}" == "python>=3.11"


def test_the_first_look_at_the_sample_goes_well() -> None:
    """What the first command runs last: the sample's first week, with something to say and exit code 0."""
    program, *rest = shlex.split(two_commands()[0].split(" && ")[-1])
    assert program == ".venv/bin/hideledger"
    done = subprocess.run(
        [sys.executable, "-m", "hideledger", *rest],
        cwd=CHECKOUT,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.strip()
