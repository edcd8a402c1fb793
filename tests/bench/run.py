"""How fast a book is read and checked, how much memory that takes, and how both grow with the years.

Seconds mean little on another machine, so everything is measured side by side in one run and told as a ratio. Every
measurement has a Python process of its own, so that none inherits the memory of the one before, and counts the seconds
that the process itself worked, so that a busy machine spoils less.

    python -m tests.bench.run [--years 1 3 10 30] [--shell-entries 1500] [--reading-only]
"""

import argparse
import contextlib
import json
import math
import os
import subprocess
import sys
import tempfile
import time
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from tests.bench.make_book import make
from tests.bench.shop_days import FIRST_YEAR

CHECKOUT = Path(__file__).resolve().parents[2]
SHELL_ENTRIES = 1500
SHELL_TIMES = 7
COLUMNS = ("toml", "json", "check")


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """One thing done once in a fresh process: seconds of its own work, and the bytes by which its peak memory rose."""

    seconds: float
    grown: float


def peak() -> float:
    """The most memory this process has held so far, in bytes; nan where the system does not say (Windows)."""
    # On Linux ru_maxrss begins at what the parent held when it started this process, so the kernel's own page is asked.
    status = Path("/proc/self/status")
    if status.exists():
        words = status.read_text(encoding="ascii").split("VmHWM:", 1)[1].split()
        return float(words[0]) * 1024
    try:
        import resource
    except ImportError:
        return math.nan
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return float(most if sys.platform == "darwin" else most * 1024)


def doing(what: str, folder: Path, at: str) -> Callable[[], object]:
    """The thing to be measured, with everything it imports already in memory."""
    match what:
        case "read":
            from hideledger.reading import read_book

            read_book([str(folder / "shop.hides")])  # builds the grammars: once a process, however long the book
            return lambda: read_book([str(folder)])
        case "check":
            from hideledger.cli import main

            return lambda: main(["check", str(folder), "--at", at])
        case "json":
            text = (folder / "records.json").read_text(encoding="utf-8")
            return lambda: json.loads(text)
        case "toml":
            text = (folder / "records.toml").read_text(encoding="utf-8")
            return lambda: tomllib.loads(text)
        case _:
            raise ValueError(what)


def measure_here(what: str, folder: Path, at: str) -> None:
    """Does one thing and tells seconds and bytes on stdout: what the fresh process runs."""
    act = doing(what, folder, at)
    before = peak()
    with open(os.devnull, "w", encoding="utf-8") as nowhere, contextlib.redirect_stdout(nowhere):
        start = time.process_time()
        kept = act()
        seconds = time.process_time() - start
    after = peak()
    del kept
    print(json.dumps({"seconds": seconds, "grown": after - before}))


def measure(what: str, folder: Path, at: str) -> Measured:
    """One thing in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.bench.run", "--measure", what, str(folder), at],
        cwd=CHECKOUT,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    if done.returncode != 0:
        raise SystemExit(f"{what} of {folder}:\n{done.stderr}")
    told = json.loads(done.stdout)
    return Measured(seconds=told["seconds"], grown=told["grown"])


def from_the_shell(arguments: list[str]) -> float:
    """Median wall time, in seconds, of `python -m hideledger ARGUMENTS`, the start of Python included."""
    times = []
    for _ in range(SHELL_TIMES):
        start = time.perf_counter()
        done = subprocess.run(
            [sys.executable, "-m", "hideledger", *arguments], cwd=CHECKOUT, capture_output=True, check=False
        )
        times.append(time.perf_counter() - start)
        if done.returncode not in {0, 1, 3}:
            raise SystemExit(done.stderr.decode("utf-8", errors="replace"))
    return sorted(times)[SHELL_TIMES // 2]


def exponent(sizes: list[int], values: list[float]) -> float:
    """The power by which values grow with sizes (1 is in step), by least squares on the logarithms."""
    xs = [math.log(size) for size in sizes]
    ys = [math.log(value) for value in values]
    middle_x, middle_y = sum(xs) / len(xs), sum(ys) / len(ys)
    return sum((x - middle_x) * (y - middle_y) for x, y in zip(xs, ys, strict=True)) / sum(
        (x - middle_x) ** 2 for x in xs
    )


def count_of(folder: Path) -> int:
    """How many entries the book has."""
    return len(json.loads((folder / "records.json").read_text(encoding="utf-8"))["entry"])


def compare(years: list[int], base: Path, *, check: bool) -> None:
    """Prints a line a book, with ratios to the reading of that same book, and how each grows."""
    names = ("read", "toml", "json", "check") if check else ("read", "toml", "json")
    heads = f"{'years':>5} {'entries':>8} {'read s':>8} {'a second':>9} {'toml':>7} {'json':>7} {'check':>7}"
    print(f"{heads}  bytes an entry")
    print(f"{'':>33} {'times as long as reading':>23}  read, check")
    sizes: list[int] = []
    seconds: dict[str, list[float]] = {name: [] for name in names}
    for many in years:
        folder = base / f"years-{many}"
        at = f"{make(folder, many):%Y-%m-%d %H:%M}"
        count = count_of(folder)
        told = {name: measure(name, folder, at) for name in names}
        sizes.append(count)
        for name in names:
            seconds[name].append(told[name].seconds)
        read = told["read"].seconds
        ratios = " ".join(f"{told[name].seconds / read if name in told else math.nan:>7.3f}" for name in COLUMNS)
        memory = ", ".join(f"{told[name].grown / count:,.0f}" for name in ("read", "check") if name in told)
        print(f"{many:>5} {count:>8,} {read:>8.2f} {count / read:>9,.0f} {ratios}  {memory}", flush=True)
    if len(set(sizes)) > 1:
        grown = ", ".join(f"{name} {exponent(sizes, seconds[name]):.2f}" for name in names)
        print(f"time grows with the entries to the power of: {grown}")


def shell(entries: int, base: Path) -> None:
    """Prints how long a person waits for `check` of an ordinary season, beside a start that does nothing."""
    folder = base / "shell"
    at = f"{make(folder, 1 + entries // 13000, entries=entries):%Y-%m-%d %H:%M}"
    nothing = from_the_shell(["--version"])
    whole = from_the_shell(["check", str(folder), "--at", at])
    print(f"{count_of(folder):,} entries checked from the shell: {whole:.2f} s")
    print(f"to start and say its version: {nothing:.2f} s of that")


def main() -> None:
    """Measures, and prints as it goes."""
    if sys.argv[1:2] == ["--measure"]:
        what, folder, at = sys.argv[2:]
        measure_here(what, Path(folder), at)
        return
    words = argparse.ArgumentParser(description="Measure reading and checking of made-up books.", allow_abbrev=False)
    words.add_argument("--years", type=int, nargs="+", default=[1, 3, 10, 30], help=f"counted from {FIRST_YEAR}")
    words.add_argument("--shell-entries", type=int, default=SHELL_ENTRIES)
    words.add_argument("--reading-only", action="store_true", help="no check, which takes longer than all the rest")
    asked = words.parse_args()
    with tempfile.TemporaryDirectory(prefix="hideledger-bench-") as base:
        if not asked.reading_only:
            shell(asked.shell_entries, Path(base))
        compare(asked.years, Path(base), check=not asked.reading_only)


if __name__ == "__main__":
    main()
