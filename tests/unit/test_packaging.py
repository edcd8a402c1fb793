"""What is installed is what stands in the checkout: every file of the house, and the grammar byte for byte."""

import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).resolve().parents[2]

# hatchling comes with the `test` extra, so that this needs no network and no pip; without it nothing can be built
pytest.importorskip("hatchling", reason="hatchling is not installed here, so no wheel can be built")


def build(what: str, source: Path, into: Path) -> Path:
    """The wheel or source archive that pip would make of `source`; `what` is the hook of PEP 517 that pip calls."""
    into.mkdir(exist_ok=True)
    script = f"import sys; from hatchling.build import {what}; print({what}(sys.argv[1]))"
    done = subprocess.run(
        [sys.executable, "-c", script, str(into)],
        cwd=source,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return into / done.stdout.strip().split("\n")[-1]


def files_below(folder: Path, pattern: str = "*") -> dict[str, bytes]:
    """Each file's bytes by its path below `folder`, what Python and editors leave behind left out."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob(pattern))
        if path.is_file() and "__pycache__" not in path.parts and not path.name.endswith(("~", ".swp"))
    }


def packed_below(wheel: Path, folder: str) -> dict[str, bytes]:
    with zipfile.ZipFile(wheel) as packed:
        return {name.removeprefix(folder): packed.read(name) for name in packed.namelist() if name.startswith(folder)}


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build("build_wheel", CHECKOUT, tmp_path_factory.mktemp("wheel"))


def test_the_grammar_is_shipped_byte_for_byte(wheel: Path) -> None:
    ours = files_below(CHECKOUT / "grammar")
    assert any(name.endswith(".lark") for name in ours)
    assert packed_below(wheel, "hideledger/grammar/") == ours


def test_every_file_of_the_house_is_shipped(wheel: Path) -> None:
    ours = files_below(CHECKOUT / "hideledger", "*.py")
    packed = packed_below(wheel, "hideledger/")
    assert {name: body for name, body in packed.items() if name.endswith(".py")} == ours


def test_the_files_for_editors_are_shipped_byte_for_byte(wheel: Path) -> None:
    ours = files_below(CHECKOUT / "hideledger" / "editors")
    assert {"hides.tmLanguage.json", "vim/syntax/hides.vim", "vim/compiler/hideledger.vim"} <= ours.keys()
    assert packed_below(wheel, "hideledger/editors/") == ours


def test_a_wheel_made_from_the_source_archive_is_the_same(wheel: Path, tmp_path: Path) -> None:
    archive = build("build_sdist", CHECKOUT, tmp_path / "archive")
    with tarfile.open(archive) as packed:
        packed.extractall(tmp_path / "unpacked", filter="data")
    (source,) = (tmp_path / "unpacked").iterdir()
    again = build("build_wheel", source, tmp_path / "again")
    assert packed_below(again, "hideledger/") == packed_below(wheel, "hideledger/")
    # pip never writes back into the checkout, but it does take the tests along for whoever packs this for a system
    assert (source / "tests" / "unit" / Path(__file__).name).read_bytes() == Path(__file__).read_bytes()


def test_the_wheel_asks_for_nothing_but_the_three_and_zone_data(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as packed:
        (page,) = [name for name in packed.namelist() if name.endswith(".dist-info/METADATA")]
        lines = packed.read(page).decode("utf-8").split("\n")
    needed = [line for line in lines if line.startswith("Requires-Dist:") and "extra ==" not in line]
    names = {line.split(":", 1)[1].strip().split(";")[0].rstrip("0123456789.,<>=! ") for line in needed}
    assert names == {"lark", "rich", "python-dateutil", "tzdata"}
    assert [line for line in needed if "tzdata" in line and "win32" in line], "zone data is for Windows only"
