"""A new book is a page on how the shop works and a first page to write on."""

from __future__ import annotations

import re
import shlex
from collections.abc import Sequence
from datetime import date, timedelta

from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.start.pages import FIRST_PAGE, SHOP_PAGE

_ZONE_LINE = re.compile(r"(?m)^  zone ([A-Za-z_/]+)")
_FOUND = _ZONE_LINE.search(SHOP_PAGE)
ZONE = "" if _FOUND is None else _FOUND[1]  # the zone that the shop page names until it is changed


def pages(today: date) -> tuple[tuple[str, str], ...]:
    """Name and text of each page; the first page bears the month and its example the day handed in."""
    first = FIRST_PAGE.format(day=today.isoformat(), eve=(today - timedelta(days=1)).isoformat())
    return ("shop.hides", SHOP_PAGE), (f"{today:%Y-%m}.hides", first)


def _as_typed(folder: str) -> str:
    """The name as one types it after a command: in double quotes where it has a blank, which every shell understands."""
    quoted = shlex.quote(folder)
    return f'"{folder}"' if quoted == f"'{folder}'" and not set(folder) & set('"$`\\!%') else quoted


def started(folder: str, written: Sequence[str]) -> Sheet:
    """What was written, and what to do with it."""
    then = (
        "Make shop.hides yours: zone, hours, vessels, kinds, and each line with a blank (its head says how).",
        f"Then ask: hideledger check {_as_typed(folder)}",
    )
    return Sheet(
        title=f"A new book in {folder}",
        sections=(
            Section(heading="Written", rows=tuple(Row(text=path) for path in written), whole_lines=True),
            Section(heading="Next", rows=tuple(Row(text=text) for text in then), whole_lines=True),
        ),
        record={"schema": 1, "folder": folder, "written": list(written)},
    )
