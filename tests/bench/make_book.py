"""A made-up shop's book, as many years long as wanted: the same bytes for the same seed.

In the plain form, with a full stamp on most lines.

    python -m tests.bench.make_book --years 3 --into FOLDER
"""

import argparse
import json
import random
from datetime import datetime, timedelta
from pathlib import Path

from tests.bench.shop_days import FIRST_YEAR, SEED, SHOP, Line, lines_of

Record = dict[str, str | list[str]]


def as_book(lines: list[Line], dice: random.Random) -> str:
    """Most lines with a full stamp, some with the time alone under the date of the line above."""
    written: list[str] = []
    above = None
    for line in lines:
        carried = above == line.at.date() and dice.random() < 0.2
        stamp = f"  {line.at:%H:%M}" if carried else f"{line.at:%Y-%m-%d %H:%M}"
        written.append(f"{stamp} {line.text()}\n")
        above = line.at.date()
    return "".join(written)


def as_records(lines: list[Line]) -> list[Record]:
    """The same lines as records for other readers: the details cut at their commas, each still a string."""
    return [
        {
            "at": line.at.isoformat(sep=" ", timespec="minutes"),
            "who": line.who,
            "details": line.what.split(", "),
            "remark": line.remark,
        }
        for line in lines
    ]


def as_toml(records: list[Record]) -> str:
    """A table a record. What is quoted for JSON is quoted for TOML too, as long as it is plain ASCII."""
    tables = ("\n".join(f"{key} = {json.dumps(value)}" for key, value in record.items()) for record in records)
    return "".join(f"[[entry]]\n{table}\n" for table in tables)


def make(folder: Path, years: int, *, seed: int = SEED, entries: int | None = None) -> datetime:
    """Writes `shop.hides` and one file a year into `folder`, and `records.json`, `records.toml` beside the book.

    `entries` ends the book after so many. Returns the moment after the last entry, for `--at`.
    """
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "shop.hides").write_text(SHOP, encoding="utf-8", newline="\n")
    dice = random.Random(seed + 1)
    records: list[Record] = []
    last = datetime(FIRST_YEAR, 1, 1)
    for year, lines in lines_of(years, seed):
        kept = lines if entries is None else lines[: entries - len(records)]
        if not kept:
            break
        (folder / f"{year}.hides").write_text(as_book(kept, dice), encoding="utf-8", newline="\n")
        records += as_records(kept)
        last = kept[-1].at
    (folder / "records.json").write_text(json.dumps({"entry": records}), encoding="utf-8", newline="\n")
    (folder / "records.toml").write_text(as_toml(records), encoding="utf-8", newline="\n")
    return last + timedelta(minutes=10)


def main() -> None:
    """Writes a book and says how long it came out."""
    words = argparse.ArgumentParser(description="Write a made-up shop's book.", allow_abbrev=False)
    words.add_argument("--years", type=int, default=1)
    words.add_argument("--entries", type=int, help="end the book after so many entries")
    words.add_argument("--seed", type=int, default=SEED)
    words.add_argument("--into", type=Path, required=True)
    asked = words.parse_args()
    at = make(asked.into, asked.years, seed=asked.seed, entries=asked.entries)
    count = len(json.loads((asked.into / "records.json").read_text(encoding="utf-8"))["entry"])
    print(f"{count} entries in {asked.into}; ask with --at '{at:%Y-%m-%d %H:%M}'")


if __name__ == "__main__":
    main()
