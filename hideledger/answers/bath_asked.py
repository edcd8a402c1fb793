"""Which bath of the book a request of `brine` or `acid` names, and where in it; what stands under no such tag is refused with the nearest."""

from __future__ import annotations

import re

from hideledger.answers.acid.names import NotReckoned
from hideledger.reading.asked import BATH
from hideledger.reading.desk import canonical_tag
from hideledger.rules.words import listed
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife
from hideledger.text.nearest import nearest

_IN = re.compile(r"(?<![A-Za-z0-9])(?:in|into)[ \t]+$", re.IGNORECASE)

# In front of the tag, what is put into it: an amount of something.
_PUT_INTO = re.compile(
    r"[ \t]*(?:(?:add|put|pour)[ \t]+)?([0-9½¼¾][^A-Za-z]*[A-Za-z%]+[ \t]+(?!(?:water|bath|pickle|liquor|brine|to)(?![A-Za-z]))[A-Za-z][^,]*?)[ \t]+(?:to|in|into)[ \t]*",
    re.IGNORECASE,
)
# Beside the tag, a word that joins nothing.
_LOOSE_AHEAD = re.compile(
    r"(?:^|[ \t])((?!(?:for|in|into|of|is|to|and|plus|with|bring|raise|lower|take|get|move|drop|much|neutrali[sz](?:e|ing))[ \t]*$)[A-Za-z]+)[ \t]*$",
    re.IGNORECASE,
)
_LOOSE_BEHIND = re.compile(
    r"[ \t]*((?!(?:to|up|down|at|from|reads?|reading|with|using|w/|and|plus|for|ph|needs?|wants?|please|pls|neutrali[sz](?:e|ing))(?![A-Za-z]))[A-Za-z]+)",
    re.IGNORECASE,
)


def bath_in(text: str, floor: Floor) -> tuple[BathLife, re.Match[str]] | None:
    """The bath that a request names, and where. Raises NotReckoned for a tag of none, or of one that was let go."""
    match = BATH.search(text)
    if match is None:
        return None
    tag = canonical_tag(match.group())
    if _IN.search(text[: match.start()]) is not None and not put_into(text[: match.start()]):
        raise NotReckoned(
            f"`in {tag}`: no vessel is looked at here; leave it away, or ask for the bath that stands in it, as in `{tag} to …`"
        )
    standing = [bath for bath in floor.standing() if tag in (bath.tag, bath.vessel) and bath.declared]
    if standing:
        return standing[-1], match
    unmade = next((bath for bath in floor.standing() if tag in (bath.tag, bath.vessel)), None)
    if unmade is not None:
        raise NotReckoned(_never_made(unmade, floor))
    if tag in floor.hides:
        raise NotReckoned(f"{tag} is a hide; a bath is asked for by its own tag, or by that of its vessel")
    gone = floor.baths.get(tag)
    if gone and gone[-1].ended is not None:
        raise NotReckoned(f"{tag} was let go ({gone[-1].ended.at.short}): no bath {tag} stands now")
    if tag in floor.book.shop.vessels:
        raise NotReckoned(f"nothing stands in {tag} now by this book")
    here = [bath.tag for bath in floor.standing()]
    near = nearest(tag, here, least=0.5)
    hint = (
        f"did you mean {near}?"
        if near
        else f"{listed(here)} {'stands' if len(here) == 1 else 'stand'}"
        if here
        else "none stands"
    )
    raise NotReckoned(f"no bath {tag} stands now by this book; {hint}")


def _never_made(bath: BathLife, floor: Floor) -> str:
    """Of a bath that is there only since a line about it could not be read: that line."""
    broken = next(one for one in floor.book.unread if not one.definition and bath.tag in one.tags)
    return f"what {bath.tag} was made of is not known: a line about it could not be read ({broken.place}): {broken.message}; right it, or ask with how much it is, as in `20 gal …`"


def put_into(ahead: str) -> str:
    """`8 oz citric acid` of `add 8 oz citric acid to` in front of a tag; empty where that is not what stands there."""
    found = _PUT_INTO.fullmatch(ahead)
    return found.group(1) if found is not None else ""


def nothing_loose_beside(tag: str, ahead: str, rest: str, examples: str) -> None:
    """Refuses words beside a tag that would be taken for part of a name in what it stands for. Raises NotReckoned."""
    loose = _LOOSE_AHEAD.search(ahead) or _LOOSE_BEHIND.match(rest)
    if loose is not None:
        raise NotReckoned(
            f"`{loose.group(1)}` beside {tag} says nothing that can be followed; as in {examples}, or `{tag}` alone"
        )
