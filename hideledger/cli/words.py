"""A request in words on the command line: put together again, and where it cannot be followed, shown with a mark under the place."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from hideledger.cli.arguments import WrongUse
from hideledger.text.clean import clean

if TYPE_CHECKING:
    from hideledger.answers.of_book import InBook
    from hideledger.reading.trouble import Unreadable

_MOST = 500


def in_words(words: Sequence[str], example: str) -> str:
    """The words as one text. Raises WrongUse, with the example, where there are none, or far too many."""
    text = " ".join(clean(word.replace("\n", " ")) for word in words).strip()
    if not text:
        raise WrongUse(f"what is asked? as in: {example}")
    if len(text) > _MOST:
        raise WrongUse(f"too long a request, {len(text)} characters; as in: {example}")
    return text


def not_followed(text: str, trouble: Unreadable, bath: InBook | None = None) -> WrongUse:
    """What is wrong, the request bare as it was typed, and a mark under the place; a folder of pages behind it is asked about.

    `bath` is what a tag in the request was spelt out to.
    """
    from hideledger.cli.book_named import is_path, leads_to_pages

    last = text.rsplit(" ", maxsplit=1)[-1]
    folder = (
        f"; where the folder {last} is the book, write --book {last}"
        if not is_path(last) and leads_to_pages(last)
        else ""
    )
    start, end = (trouble.start, trouble.end) if bath is None else bath.as_typed(trouble.start, trouble.end)
    column = min(start, len(text))
    width = max(1, min(end, len(text)) - column)
    return WrongUse(f"{trouble.message}{folder}\n  {text}\n  {' ' * column}{'^' * width}")
