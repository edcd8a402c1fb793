"""Four skins through a pickle and the drum, for tests of what skins met and what became of them."""

from __future__ import annotations

from pathlib import Path

from hideledger.answers.slip.exposures import Season, season
from hideledger.reading import read_book
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  gallons US
  degrees F
  room 66 F
vessel V1, vat, 40 gal, holds 12
vessel D1, drum, 19 gal, holds 12
place freezer
kind whitetail cape, process both
kind back skin, process both
supply salt
supply citric acid
supply alum tan
recipe pickle, lasts 10 d
  per gal water: 1 lb salt
process both
  in
  fleshed
  salt         stays at least 12 h, optional, raw clock stops
  pickle       stays at least 1 d, raw clock stops
  first turn   runs 10 min to 4 h, in a bath
  drained
  out
  raw at most 12 h at 66 F
  may rest frozen at most 9 mo, after in or fleshed, raw clock stops
"""

# P1 with acid C-1; H1 to H4 through it, the drum and out.
FOUR = """\
2026-11-02 07:00 P1 mixed in V1, recipe pickle, 20 gal water, 20 lb salt lot S-1, 60 oz citric acid lot C-1
2026-11-02 08:00 H1 H2 H3 H4 in, whitetail cape, green, for Oren Vale, killed 2026-11-02 6:00, hung 36 F
2026-11-02 09:00 H1 H2 H3 H4 fleshed
2026-11-02 10:00 H1 H2 H3 H4 salt, 24 lb salt lot S-1
2026-11-03 10:00 H1 H2 H3 H4 pickle in P1
2026-11-06 08:00 L1 mixed in D1, 9 qt water, 2 lb alum tan lot K-1
2026-11-06 09:00 H1 H2 H3 H4 first turn in L1
2026-11-06 12:00 H1 H2 H3 H4 drained
2026-11-12 12:00 H1 H2 H3 H4 out to Oren Vale
"""


def floor_of(folder: Path, *pages: str, shop: str = SHOP) -> Floor:
    """The shop after the last line of these pages; every line must be readable."""
    (folder / "shop.hides").write_text(shop, encoding="utf-8", newline="\n")
    for number, page in enumerate(pages):
        (folder / f"page{number}.hides").write_text(page, encoding="utf-8", newline="\n")
    book = read_book([str(folder)])
    assert not book.unread, book.unread
    return lay_out(book, max(entry.when.hi for entry in book.entries))


def ends(floor: Floor, defect: str = "slip") -> dict[str, str]:
    """What became of each skin."""
    return {fate.life.tag: fate.end for fate in season(floor, defect).fates}


def met(found: Season, name: str) -> dict[str, bool | None]:
    """For each skin whether it met the exposure of that name; None where nobody can tell."""
    (exposure,) = [one for one in found.exposures if one.name == name]
    return {
        fate.life.tag: True if index in exposure.met else None if index in exposure.unsure else False
        for index, fate in enumerate(found.fates)
    }
