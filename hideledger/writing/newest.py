"""A new line goes to the newest page; a month or a year that has passed gets no line of the next."""

from __future__ import annotations

import os
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from hideledger.model.book import Book
from hideledger.model.moments import DAY
from hideledger.model.shop import ShopBook
from hideledger.text.clean import clean
from hideledger.text.copies import copy_left, is_an_editors
from hideledger.text.files import ENDING
from hideledger.text.place import Place
from hideledger.text.source import Source
from hideledger.writing.trouble import NotWritten

_PERIOD = re.compile(r"(?P<head>.*[-_. ])?(?P<year>(?:19|20)[0-9]{2})(?:-(?P<month>0[1-9]|1[0-2]))?")
_SHOP_PAGE = f"shop{ENDING}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """Where lines go: the path, the name that reports give it, and the page as it was read; None for one to be begun."""

    path: str
    name: str
    source: Source | None


def newest_page(book: Book, paths: Sequence[str], at: int, day: int) -> Page:
    """The page whose latest entry is the latest, or a new one of its form when it is named for a time before `day`.

    Raises NotWritten where that page is there and could not be read. The page that holds the `shop` definition is none of them, whatever else stands on it. An entry more than a day ahead of `at` (UTC seconds) is a slip and makes no page the newest.
    """
    latest: dict[str, int] = {}
    for entry in book.entries:
        if entry.when.lo <= at + DAY:
            name = entry.source.name
            latest[name] = max(latest.get(name, entry.when.lo), entry.when.lo)
    for complaint in book.unread:
        if complaint.day and not complaint.definition:
            latest.setdefault(complaint.place.file, -(2**60))
    folder = _folder(paths)
    kept = _says_how(book)
    pages = [source for source in book.sources if source.name in latest and source is not kept]
    if not pages:
        # A page that somebody made for the lines to come; of several nobody knows which.
        empty = [source for source in book.sources if source.name not in _defining(book) and source is not kept]
        pages = empty if len(empty) == 1 else []
    if not pages:
        first = date.fromordinal(day).strftime(f"%Y-%m{ENDING}")
        if folder is None:  # then the pages themselves were named, and one of them it must be
            return _of(next((source for source in reversed(book.sources) if source is not kept), book.sources[-1]))
        return _beside(book, str(Path(folder) / first), str(Path(folder) / first))
    newest = max(enumerate(pages), key=lambda one: (latest.get(one[1].name, 0), one[0]))[1]
    following = None if folder is None else _following(os.path.basename(newest.path), day)
    if following is None:
        return _of(newest)
    return _beside(
        book,
        os.path.join(os.path.dirname(newest.path), following),
        os.path.join(os.path.dirname(newest.name), following),
    )


def shop_page(book: Book, paths: Sequence[str]) -> Page:
    """The page that says how the shop works: that of the `shop` line, else the one with most definitions."""
    shop = book.shop
    counts = Counter(place.file for place in _definition_places(shop))
    name = shop.shop.place.file if shop.shop.place is not None else max(counts, key=lambda one: counts[one], default="")
    for source in book.sources:
        if source.name == name or (not name and os.path.basename(source.path) == _SHOP_PAGE):
            return _of(source)
    folder = _folder(paths)
    if folder is None:
        return _of(book.sources[0])
    return _beside(book, str(Path(folder) / _SHOP_PAGE), str(Path(folder) / _SHOP_PAGE))


def _says_how(book: Book) -> Source | None:
    """The page that holds the `shop` definition."""
    place = book.shop.shop.place
    return None if place is None else next((source for source in book.sources if source.name == place.file), None)


def _defining(book: Book) -> set[str]:
    """The names of the pages with definitions, those that cannot be read among them."""
    unread = {complaint.place.file for complaint in book.unread if complaint.definition}
    return unread | {place.file for place in _definition_places(book.shop)}


def _definition_places(shop: ShopBook) -> list[Place]:
    return [
        *(customer.place for customer in shop.customers),
        *(vessel.place for vessel in shop.vessels.values()),
        *(spot.place for spot in shop.spots.values()),
        *(kind.place for kind in shop.kinds.values()),
        *(supply.place for supply in shop.supplies.values()),
        *(measure.place for measure in shop.measures.values()),
        *(recipe.place for recipe in shop.recipes.values()),
        *(version.place for versions in shop.processes.values() for version in versions),
    ]


def named_page(book: Book, paths: Sequence[str], wanted: str) -> Page:
    """The page that was asked for, there already or new. Raises NotWritten where the book would never read it."""
    said = clean(wanted)
    if not wanted.endswith(ENDING) or os.path.basename(wanted) == ENDING:
        raise NotWritten(f"{said}: a page of the book ends in {ENDING}; nothing was written")
    folder = _folder(paths)
    tried = [wanted] if folder is None else [wanted, str(Path(folder) / wanted)]
    for path in tried:
        for source in book.sources:
            if os.path.realpath(source.path) == os.path.realpath(path):
                return _of(source)
    bare = os.path.basename(wanted) == wanted and folder is not None
    path = tried[-1] if bare else wanted
    if not any(_holds(given, path) for given in paths):
        where = " ".join(clean(given) for given in paths)
        raise NotWritten(
            f"{said}: lies outside the book ({where}), where check would never read it; nothing was written"
        )
    hidden = any(part.startswith(".") for part in os.path.relpath(path, _folder(paths) or ".").split(os.sep))
    if hidden or is_an_editors(os.path.basename(path)) or copy_left(Path(path), (), ENDING):
        raise NotWritten(f"{said}: check reads no page of such a name (hidden, or a copy); nothing was written")
    if os.path.lexists(path):
        raise NotWritten(f"{said}: is there, but cannot be read as a page of the book; nothing was written")
    return Page(path=path, name=path, source=None)


def _folder(paths: Sequence[str]) -> str | None:
    """The folder that is the book; None where single pages are, and a page beside them would never be read."""
    return next((path for path in paths if os.path.isdir(path)), None)


def _holds(given: str, path: str) -> bool:
    if not os.path.isdir(given):
        return False
    inside, book = os.path.realpath(path), os.path.realpath(given)
    return os.path.commonpath((inside, book)) == book


def _following(name: str, day: int) -> str | None:
    """`2026-11.hides` behind `2026-10.hides` on a day in November; None where the page's own time holds, or it names none."""
    found = _PERIOD.fullmatch(name.removesuffix(ENDING))
    if found is None:
        return None
    today = date.fromordinal(day)
    head = found["head"] or ""
    if found["month"] is None:
        return f"{head}{today.year}{ENDING}" if today.year > int(found["year"]) else None
    if (today.year, today.month) <= (int(found["year"]), int(found["month"])):
        return None
    return f"{head}{today:%Y-%m}{ENDING}"


def _beside(book: Book, path: str, name: str) -> Page:
    for source in book.sources:
        if os.path.realpath(source.path) == os.path.realpath(path):
            return _of(source)
    closed = next((one for one in book.unread if one.code == "page" and one.place.file in (name, clean(name))), None)
    if closed is not None:
        raise NotWritten(
            f"{clean(name)}: the line belongs on this page, and {closed.message}; mend that, or name another page with --file; nothing was written"
        )
    return Page(path=path, name=name, source=None)


def _of(source: Source) -> Page:
    return Page(path=source.path, name=source.name, source=source)
