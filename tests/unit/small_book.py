"""A small invented book for tests of the front desk: one tub, two capes, five days."""

from pathlib import Path

SHOP = """\
shop Alder Fork
  zone America/Chicago
  hours 7:00 to 18:00, Mon to Sat
  dates month first
  gallons US
  degrees F
customer Lena Orrick, phone 555-0131
vessel V1, vat, 40 gal, holds 12
place freezer
kind whitetail cape, counts 1, process tub
supply salt
supply citric acid
recipe pickle, lasts 60 d, lasts 3 lb of skin per gal
  per gal water: 1 lb salt, 3 oz citric acid
process tub
  in
  fleshed
  pickle          stays at least 3 d, pH 0.8 to 2.2, read every day, raw clock stops
  neutralised     stays 10 min to 30 min
  drained         stays 30 min to 3 d
  oiled
  out
"""

PAGE = """\
2026-11-02 08:00 P1 mixed in V1, recipe pickle, 20 gal water, 20 lb salt, 60 oz citric acid
2026-11-02 08:10 P1 pH 1.8 meter, 64 F
2026-11-02 09:00 H1 H2 in, whitetail cape, green, for Lena Orrick, killed 2026-11-01 16:00
2026-11-02 09:05 H1 7 1/2 lb, tag 31-203
2026-11-02 09:06 H2 6.8 lb, tag 31-204
2026-11-02 09:30 H1 H2 fleshed, by RT
2026-11-02 10:00 H1 H2 pickle in P1
2026-11-02 11:00 P1 pH 1.9 meter, 64 F
2026-11-03 07:30 P1 pH 1.9 meter, 63 F
2026-11-04 07:30 P1 pH 2.0 meter, 63 F
2026-11-05 07:30 P1 pH 2.0 strip, 62 F
2026-11-05 10:30 H1 neutralised -- soft [/x] ears
"""
QUIET = PAGE + "2026-11-05 10:50 H1 drained\n2026-11-05 17:40 P1 pH 2.0 strip\n"
UNREAD = PAGE + "2026-11-05 10:45 H2 neutralized-ish\n"
AT = "2026-11-05 17:50"


def write_book(folder: Path, page: str, shop: str = SHOP) -> str:
    """Puts the two pages into a folder and gives its path."""
    folder.mkdir(exist_ok=True)
    (folder / "shop.hides").write_text(shop, encoding="utf-8", newline="\n")
    (folder / "november.hides").write_text(page, encoding="utf-8", newline="\n")
    return str(folder)
