"""`complete`: what finishes the words of a person who types, in a shell and in an editor."""

from __future__ import annotations

import os
from argparse import Namespace
from collections.abc import Sequence

from hideledger.cli.arguments import BOOK, Parser, WrongUse, add_named_book
from hideledger.cli.book_named import books_and_words, is_path
from hideledger.cli.giving import NOT_FOUND, QUIET, paths_of
from hideledger.cli.streams import deliver

SHELLS = ("bash", "zsh", "fish")
# While somebody types, nobody wants to wait for a walk through everything they own.
_MOST_FOLDERS = 300


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_named_book(parser, f"{BOOK}; with tags and words")
    parser.add_argument(
        "what",
        choices=(*SHELLS, "editors", "tags", "words"),
        metavar="WHAT",
        help="bash, zsh or fish: the script for that shell; editors: the folder with the files for editors; tags: the tags and names "
        "of the book, the one named last first; words: those and its steps, kinds, supplies",
    )
    parser.add_argument(
        "typed",
        nargs="*",
        default=[],
        metavar="TYPED",
        help="with tags and words: what has been typed, the last word to be finished",
    )


def answer(wanted: Namespace) -> int:
    """The script, the folder or the words; whether there is anything to offer."""
    if wanted.what in SHELLS:
        deliver(_script(wanted.what))
        return QUIET
    if wanted.what == "editors":
        from hideledger.text.packed import editors_folder

        deliver(f"{editors_folder()}\n")
        return QUIET
    offered = _offered(wanted.what, wanted.typed, wanted.named_book)
    deliver("".join(f"{word}\n" for word in offered))
    return QUIET if offered else NOT_FOUND


def _script(shell: str) -> str:
    from importlib import import_module

    from hideledger.cli.shells.typed import commands, program
    from hideledger.reading.own_words import FINDINGS

    made: str = import_module(f"hideledger.cli.shells.{shell}").script(program(), commands(), FINDINGS)
    return made


def _offered(what: str, typed: Sequence[str], more_book: Sequence[str]) -> list[str]:
    """What the last of the typed words may become. Trouble with the book is no matter here: then there is nothing to offer."""
    from hideledger.text.clean import clean
    from hideledger.text.named import names_in, next_words, tags_in

    *before, last = typed or [""]
    books, said = _books(what, before, more_book)
    texts = _pages(books)
    sorts = ("place", "customer") + (("step", "kind", "supply", "recipe", "process") if what == "words" else ())
    names = [*tags_in(texts), *names_in(texts, *sorts)]
    words = next_words([*said, last], names) if typed else names
    return [word for word in words if clean(word) == word]


def _books(what: str, before: Sequence[str], named: Sequence[str]) -> tuple[list[str], list[str]]:
    """The book among the typed words, and the others; a line to write has no bare folder in it."""
    if what == "tags":
        try:
            return books_and_words(before, named, what)
        except WrongUse:
            pass  # a folder, or a name: it is asked when the line is sent off
    return [*(word for word in before if is_path(word)), *named], [word for word in before if not is_path(word)]


def _pages(books: Sequence[str]) -> list[str]:
    """The text of every page that can be read."""
    from hideledger.text.files import BookTrouble, find_pages, read_page

    texts: list[str] = []
    paths = [path for path in paths_of(books) if _soon_walked(path)]
    try:
        pages, _ = find_pages(paths)
    except (BookTrouble, OSError):
        return texts
    for page in pages:
        try:
            texts.append(read_page(page).text)
        except (BookTrouble, OSError):
            continue
    return texts


def _soon_walked(path: str) -> bool:
    """Whether there are few folders below it."""
    for folders, (_, below, _) in enumerate(os.walk(path), start=1):
        below[:] = [name for name in below if not name.startswith(".")]
        if folders + len(below) > _MOST_FOLDERS:
            return False
    return True
