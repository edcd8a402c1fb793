"""A little invented shop whose skins come and go in every way: spare, refused, lost, replaced, cut, boxed, sealed."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from hideledger.answers.custody.record import Recorded, recorded
from hideledger.model.moments import Clock
from hideledger.reading import read_book
from hideledger.shopfloor.custody import custody_of
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  gallons US
  dates month first
  degrees F
  sewer pH at least 5.5
  records kept 3 y after out
  records kept 5 y after the year
customer Oren Vale, phone 555-0142, address 12 Mill Road, Tarrow, licence TX-77
customer Harrow Tannery, phone 555-0101, address 3 Dock Lane, Harrow
customer Ida Crane, phone +1 555-0123
vessel V1, vat, 40 gal, holds 12
vessel D1, drum, 19 gal, holds 5
place freezer
kind whitetail cape, process both
kind black bear, process both
supply salt, $0.20 per lb
recipe pickle
  per gal water: 1 lb salt
process both
  in
  fleshed
  pickle       stays at least 3 d, raw clock stops
  first turn   runs 30 min to 50 min, in a bath, tanning begun
  drained      stays 30 min to 24 h
  out
  may rest frozen at most 9 mo, after in or fleshed
"""

PAGE = """\
2025-12-28 10:00 H38 in, whitetail cape, doe, green, killed 2025-12-27, for Ida Crane, tag 39001
2026-01-05 H38 lost -- slipped all over
2026-10-30 18:20 H41 in, whitetail cape, buck, green, killed 2026-10-29 16:00 at Tarrow county, for Oren Vale, tag 40718, valued at $400
2026-10-30 18:30 H42 in, black bear, boar, green, killed 2026-10-28 at Unit 14, for Oren Vale, from Pell Vale, seal 4411, valued at $900
2026-10-30 18:40 H44 in, whitetail cape, green, from Ida Crane, hunter Tam Reedy, deposit $50
2026-10-31 9:00 H45 in, whitetail cape, buck, green, for Ida Crane, tag 40720
2026-10-31 9:10 H50 in, whitetail cape, green
2026-11-01 9:00 H46 refused -- green belly, smells
2026-11-01 10:00 B7 in, 4 whitetail capes, frozen, for Harrow Tannery, valued at $1000
2026-11-02 8:00 P3 mixed in V1, recipe pickle, 20 gal water, 20 lb salt
2026-11-02 8:30 H41 H42 fleshed, pickle in P3
2026-11-02 bought 50 lb salt, $9.50
2026-11-05 9:00 H45 lost -- slipped all over
2026-11-05 9:10 H50 replaces H45
2026-11-05 10:00 B7 opened, H60 thru H62, their tags R-101 thru R-103
2026-11-06 9:00 H41 cut into H41a cape, H41b back skin
struck 2026-11-06 H47 in, whitetail cape
2026-11-08 9:00 L14 mixed in D1, 9 qt water
2026-11-08 9:05 H42 first turn in L14
2026-11-08 9:06 L14 on
2026-11-08 9:45 L14 off
2026-11-08 11:00 L14 dumped 2 gal, pH 5.1, sewer
2026-12-10 16:00 H41a out to Oren Vale
2026-12-10 16:05 paid $92.00 by Oren Vale
2027-01-10 9:00 H63 in, whitetail cape, green, for Oren Vale
2027-01-12 9:00 P3 pH 2.2 strip
2027-01-15 9:00 P3 dumped 21 gal, sewer
"""
AT = "2027-01-20"


def write(folder: Path, page: str = PAGE, shop: str = SHOP) -> Path:
    """Puts the two pages into a folder and gives it back."""
    folder.mkdir(exist_ok=True)
    (folder / "shop.hides").write_text(shop, encoding="utf-8", newline="\n")
    (folder / "2026.hides").write_text(page, encoding="utf-8", newline="\n")
    return folder


def floor_of(folder: Path, day: str = AT) -> Floor:
    """The shop at the end of a day."""
    book = read_book([str(folder)])
    return lay_out(book, Clock("America/Chicago").day_end(date.fromisoformat(day).toordinal()))


def made_of(floor: Floor) -> dict[str, Recorded]:
    """Each record by its tag."""
    return {one.tag: one for one in recorded(floor, custody_of(floor))}
