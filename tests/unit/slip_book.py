"""A little shop for the sheets of a hide that slipped, and its parts by heading and head. Its figures are nobody's advice."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.slip.hide import slip_hide
from hideledger.reading import read_text
from hideledger.render.card import card
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  hours 7:00 to 18:00, Mon to Sat
  gallons US
  degrees F
  room 66 F
customer Oren Vale
customer Ida Crane
vessel V1, vat, 40 gal, holds 12
vessel V2, vat, 40 gal
vessel D1, drum, 19 gal
place freezer, at most 5 F
kind whitetail cape, process both
supply salt
supply citric acid
supply alum tan
process both
  in            needs pull test
  fleshed       within 12 h of in
  ears turned   optional
  salt          stays 24 h to 14 d, optional, raw clock stops
  bench rest    stays, optional
  soak          stays at most 8 h, optional
  pickle        stays at least 3 d, pH 0.8 to 2.2, read every day, raw clock stops
  shaved        optional, weighs shaved
  neutralised   stays at most 30 min
  tan           stays 16 h to 3 d, tanning begun
  drained       stays 30 min to 24 h
  bagged        stays at most 5 d, optional
  out
  raw at most 12 h at 66 F
  may rest frozen at most 9 mo, after in or fleshed, raw clock stops

"""


def floor_of(lines: str, at: str) -> Floor:
    """The shop with these lines at a moment; every line must have been read."""
    book = read_text(SHOP + lines)
    assert [f"{one.place} {one.message}" for one in book.unread] == []
    local = datetime.strptime(at, "%Y-%m-%d %H:%M")
    return lay_out(book, book.clock.instant(local.toordinal(), local.hour * 60 + local.minute)[0])


def sheet_of(lines: str, tag: str, at: str, defect: str = "slip") -> Sheet:
    """The sheet of one hide."""
    return slip_hide(floor_of(lines, at), tag, defect=defect)


def part(sheet: Sheet, heading: str) -> Section:
    """The section whose heading begins so."""
    return next(section for section in sheet.sections if section.heading.startswith(heading))


def headings(sheet: Sheet) -> list[str]:
    """The first three words of each heading."""
    return [" ".join(section.heading.split()[:3]).rstrip(":,") for section in sheet.sections]


def row(section: Section, head: str) -> Row:
    """The row of that head."""
    return next(one for one in section.rows if one.head == head)


def under(one: Row) -> list[str]:
    """The lines beneath a row, each as label and text."""
    return [" ".join(part for part in both if part) for both in one.under]


def asked(sheet: Sheet, head: str) -> str:
    """What the investigator's list answers to one question, with the lines beneath it."""
    found = row(part(sheet, "What an investigator asks"), head)
    return "\n".join([found.text, *under(found)])


def drawn(sheet: Sheet, width: int = 80) -> list[str]:
    """The lines of the timeline as they stand on the card."""
    lines = card(sheet, width=width).split("\n")
    start = next(number for number, line in enumerate(lines) if line.startswith("Side by side"))
    first = next(number for number in range(start, len(lines)) if lines[number].startswith("  "))
    end = next(number for number in range(first, len(lines)) if not lines[number])
    return lines[first:end]


def heads(rows: Sequence[Row]) -> list[str]:
    """The heads of rows."""
    return [one.head for one in rows]
