"""Lines of the shop file that could not be read, where they make a recipe less than it is: nothing is mixed by half of one."""

from __future__ import annotations

from hideledger.answers.acid.names import NotReckoned
from hideledger.model.book import Book
from hideledger.model.shop import Recipe, ShopBook
from hideledger.text.place import Complaint, Place


def read_whole(recipe: Recipe, book: Book) -> None:
    """Refuses a recipe of which a line could not be read. Raises NotReckoned."""
    broken = [trouble for trouble in book.unread if trouble.definition and _belongs(trouble, recipe.place, book)]
    if broken:
        raise NotReckoned(
            f"a line of recipe {recipe.name} could not be read ({broken[0].place}): {broken[0].message}; nothing is mixed by the rest of it"
        )


def unread_words(book: Book) -> tuple[str, ...]:
    """That some lines could not be read, and so are not in these figures."""
    if not book.unread:
        return ()
    first = book.unread[0].place.short
    if len(book.unread) == 1:
        return (f"1 line of the book could not be read, and what it says is not in these figures: {first}",)
    return (
        f"{len(book.unread)} lines of the book could not be read, and what they say is not in these figures: {first} and on",
    )


def _belongs(trouble: Complaint, head: Place, book: Book) -> bool:
    """Whether a line stands in the block below a head: no other head, read or unread, between them."""
    line = trouble.place.line
    if trouble.place.file != head.file or line < head.line:
        return False
    between = [place.line for place in _heads(book.shop) if place.file == head.file and head.line < place.line <= line]
    unread_heads = [
        one
        for one in book.unread
        if one.place.file == head.file and head.line < one.place.line <= line and one.text[:1].strip()
    ]
    return not between and not unread_heads


def _heads(shop: ShopBook) -> list[Place]:
    """Where the definitions of the shop begin."""
    found = [] if shop.shop.place is None else [shop.shop.place]
    found += [version.place for vessel in shop.vessels.values() for version in (vessel, *vessel.earlier)]
    found += [version.place for supply in shop.supplies.values() for version in (supply, *supply.earlier)]
    found += [version.place for recipe in shop.recipes.values() for version in (recipe, *recipe.earlier)]
    found += [customer.place for customer in shop.customers]
    found += [spot.place for spot in shop.spots.values()]
    found += [kind.place for kind in shop.kinds.values()]
    found += [measure.place for measure in shop.measures.values()]
    found += [charge.place for charge in shop.charges]
    return found + [process.place for several in shop.processes.values() for process in several]
