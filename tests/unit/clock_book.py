"""A little book with short steps for the tests of the clocks. An invented shop; its limits are nobody's advice."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from hideledger.answers.clocks.answer import ClockLook, look_at
from hideledger.model.book import Book
from hideledger.reading import read_text
from hideledger.shopfloor.layout import lay_out

SHOP = """\
shop Fallow Creek Skins
  zone America/Chicago
  hours 8:00 to 18:00, Mon to Sat
  gallons US
  room 66 F
vessel V1, vat, 40 gal, holds 12
vessel D1, drum, 19 gal, holds 5, stands at most 14 h
kind whitetail cape, process tub
place freezer, at most 5 F
supply salt
recipe pickle
  per gal water: 1 lb salt
process tub
  in
  fleshed       within 12 h of in
  salt          stays at least 24 h, optional, raw clock stops
  pickle        stays at least 3 d, pH 0.8 to 2.2, read every day, raw clock stops
  neutralised   stays 20 min to 30 min
  soap          stays at most 10 min, optional
  first turn    runs 30 min to 50 min, in a bath
  tan           stays 16 h to 24 h
  out
  raw at most 12 h at 66 F
  may rest frozen at most 9 mo, after in or fleshed or neutralised, raw clock stops
"""

# Three capes long enough in the pickle; Thursday 5 November is the day of the tests, and P1 was read on it.
PICKLED = """\
2026-11-02 08:00 P1 mixed in V1, recipe pickle, 20 gal water, 20 lb salt
2026-11-02 09:00 H1 H2 H3 in, whitetail cape, green, killed 2026-11-02 6:30, for Oren Vale
2026-11-02 10:00 H1 H2 H3 fleshed, pickle in P1
2026-11-02 11:05 P1 pH 1.8 strip
2026-11-03 09:00 P1 pH 1.8 strip
2026-11-04 09:00 P1 pH 1.9 strip
2026-11-05 15:00 P1 pH 2.0 strip
"""


def book_of(*lines: str, page: str = PICKLED, shop: str = SHOP) -> Book:
    """The book with further lines."""
    return read_text(shop + page + "".join(f"{line}\n" for line in lines))


def instant(book: Book, at: str) -> int:
    """`2026-11-05 17:02`, or with seconds."""
    minute = int(at[11:13]) * 60 + int(at[14:16])
    return book.clock.instant(date.fromisoformat(at[:10]).toordinal(), minute)[0] + int(at[17:] or 0)


def look(book: Book, at: str) -> ClockLook:
    """The clocks at a moment."""
    now = instant(book, at)
    return look_at(lay_out(book, now - now % 60))


def saved(folder: Path, lines: Sequence[str] = (), *, name: str = "november.hides", page: str = PICKLED) -> Path:
    """The book in a folder; the path of its page of entries."""
    folder.mkdir(exist_ok=True)
    (folder / "shop.hides").write_text(SHOP, encoding="utf-8", newline="\n")
    path = folder / name
    path.write_text(page + "".join(f"{line}\n" for line in lines), encoding="utf-8", newline="\n")
    return path
