"""Pages written out fair for these tests: one page beside a shop's, groups told as the layout has them."""

from __future__ import annotations

from hideledger.model.book import Book
from hideledger.model.fair import FairPage
from hideledger.reading import read_sources
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.groups import meant_by_groups
from hideledger.shopfloor.layout import lay_out
from hideledger.text.source import Source
from hideledger.writing.fair_copy import fair_copy, text_of
from tests.reading.told import TRIAL_SHOP

__all__ = ["fair_page", "last_floor", "read_page", "text_of"]


def read_page(page: str, shop: str = TRIAL_SHOP) -> Book:
    """A page in the words of a shop."""
    return read_sources([Source(name="shop.hides", text=shop), Source(name="page.hides", text=page)])


def last_floor(book: Book) -> Floor:
    """The shop when all of the book has happened."""
    return lay_out(book, max((entry.when.hi for entry in book.entries), default=0))


def fair_page(book: Book) -> FairPage:
    """The fair copy of the page."""
    (page,) = fair_copy(book, ["page.hides"], meant_by_groups(last_floor(book)))
    return page
