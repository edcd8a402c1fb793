"""Reads what was written: the grammar, the words of the shop, the dates; or says why not."""

from hideledger.reading.book import read_book, read_sources, read_text

__all__ = ["read_book", "read_sources", "read_text"]
