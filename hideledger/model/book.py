"""The book as read: every entry, every definition, and what could not be read."""

from __future__ import annotations

from dataclasses import dataclass

from hideledger.model.entry import Entry
from hideledger.model.moments import Clock
from hideledger.model.shop import ShopBook
from hideledger.text.place import Complaint
from hideledger.text.source import Source


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """One book: all its files together. `notices` are sentences about files left alone (conflict copies, backups)."""

    sources: tuple[Source, ...]
    shop: ShopBook
    clock: Clock
    entries: tuple[Entry, ...]
    unread: tuple[Complaint, ...]
    notices: tuple[str, ...] = ()
