"""Pages that define a shop, for the tests of definitions."""

from __future__ import annotations

from decimal import Decimal

from hideledger.model.shop import ShopBook
from hideledger.model.units import Quantity
from hideledger.reading.definitions import read_definitions
from hideledger.reading.pages import Block
from hideledger.text.place import Complaint
from hideledger.text.source import Source

WHOLE_SHOP = """\
shop Tarrow Ridge Skins
  zone America/Chicago
  hours 7:00 to 18:00, Mon to Sat             # when somebody is there to move a hide
  closed 2026-12-24 to 2027-01-02
  dates month first
  gallons US
  degrees F
  room 66 F
  sewer pH at least 5.5                       # ask your authority
  records kept 5 y after out
  quiet after 14 d
customer Oren Vale, phone 555-0142
vessel D1, drum, 19 gal, holds 5, at most 10 psi, stands at most 14 h
vessel V1, vat, 40 gal, holds 12
place freezer, at most 5 F
kind whitetail cape, counts 1, process both
kind elk cape, counts 3
measure dipper, 350 ml
supply salt, $0.19 per lb, keep 100 lb, comes in 3 d
supply soda ash, $2.10 per lb
recipe pickle, lasts 60 d, lasts 3 lb of skin per gal
  per gal water: 1 lb salt, 3 oz citric acid
recipe drum liquor
  100 lb of drained: 8 gal water, 14 lb alum tan
sent out, $58 per hide, $31 freight           # what sending it away would cost
charge whitetail cape, $92

process both, since 2026-09-01                # open pickle, then the drum
  in              needs pull test
  fleshed         within 12 h of in
  ears turned     optional
  salt            stays 24 h to 14 d, optional, raw clock stops
  pickle          stays at least 3 d, pH 0.8 to 2.2, 50 to 80 F, read every day, stirred every day, raw clock stops
  shaved          optional, weighs shaved
  pickle again    stays at least 12 h, within 4 h of shaved, pH 0.8 to 2.2, read every day, optional
  first turn      runs 30 min to 50 min, in a bath, note pressure
  second turn     runs 90 min to 2 h 30 min, in a bath
  drained         stays 30 min to 24 h, needs cut test, weighs drained
  oiled           within 24 h of drained
  bagged          stays at most 5 d, optional
  out
  raw at most 12 h at 66 F
  may rest frozen at most 9 mo, after in or fleshed, raw clock stops
"""


def blocks_of(text: str, name: str = "shop.hides") -> list[Block]:
    """Each line at the margin with the indented lines below it; blank lines and lines of comment left out."""
    source = Source(name=name, text=text)
    found: list[list[tuple[int, int]]] = []
    for number, start in enumerate(source.starts, start=1):
        line = source.line(number)
        if not line.strip() or line.strip().startswith("#"):
            continue
        if not found or line[0] not in " \t\u00a0":
            found.append([])
        found[-1].append((start, start + len(line)))
    return [Block(source=source, lines=tuple(lines)) for lines in found]


def read(text: str) -> tuple[ShopBook, tuple[Complaint, ...]]:
    return read_definitions(blocks_of(text))


def read_well(text: str) -> ShopBook:
    shop, complaints = read(text)
    assert [(str(said.place), said.message) for said in complaints] == []
    assert shop.whole
    return shop


def amount(value: str, unit: str) -> Quantity:
    return Quantity(value=Decimal(value), unit=unit)
