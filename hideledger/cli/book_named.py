"""Which of the words behind a command are the book: one rule for all that take tags and names and a book in one request."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence

from hideledger.cli.parser import WrongUse
from hideledger.text.files import ENDING, BookTrouble, find_pages, read_page

# As grammar/words.lark has a tag; a folder that is called so is named with a slash.
_TAG = re.compile(r"[A-Za-z]{1,4}-?[0-9]{1,6}[A-Za-z]?")
# A legal tag, a seal or a lot may have slashes: 31/204. Small letters are left to paths.
_CODE = re.compile(r"(?=.*[0-9])[A-Z0-9:_.-]+(?:/[A-Z0-9:_.-]+)+")


def books_and_words(words: Sequence[str], named: Sequence[str], command: str) -> tuple[list[str], list[str]]:
    """Of the words behind a command those that are the book, with what stands behind `--book`; and the others.

    A path is the book. So is the bare name of a folder that holds pages, or of a page without the usual ending, unless the
    book is named already. A tag never is. Raises WrongUse where a word may be either, with both lines that work.
    """
    sure = bool(named) or any(is_path(word) for word in words)
    books = [word for word in words if is_path(word) or (not sure and leads_to_pages(word))]
    for word in books:
        if not is_path(word) and (page := _where_it_is_a_name(word)):
            kind = "folder" if os.path.isdir(word) else "file"
            raise WrongUse(
                f"{word}: the {kind}, or the name that stands in the book? for the {kind} hideledger {command} {_quoted(os.path.join('.', word))}, for the name hideledger {command} {_quoted(word)} --book {_quoted(page)}"
            )
    return [*books, *named], [word for word in words if word not in books]


def is_path(word: str) -> bool:
    """A word with a slash, a backslash or the ending of a page is a page or a folder: no tag and no name has those; a code may have a slash."""
    if word in (".", "..") or "\\" in word or word.casefold().endswith(ENDING):
        return True
    return "/" in word and (_CODE.fullmatch(word) is None or os.path.exists(word))


def is_tag(word: str) -> bool:
    """A tag is one to four letters, perhaps a hyphen, one to six digits, perhaps one letter."""
    return _TAG.fullmatch(word) is not None


def book_beside_a_request(words: Sequence[str], named: Sequence[str]) -> tuple[list[str], list[str]]:
    """A request in words (`20 gal at 2.4 to 2.0 with citric acid crystals`) may have a path to pages before it or behind it; and the request without.

    A slash stands in amounts too, so a path counts only where pages are.
    """
    left = list(words)
    books = []
    for end in (-1, 0):
        if len(left) > 1 and is_path(left[end]) and leads_to_pages(left[end]):
            books.append(left.pop(end))
    return [*books, *named], left


def leads_to_pages(word: str) -> bool:
    """Whether a bare word is a folder with pages of a book in it, or a file with an ending, and no tag."""
    if is_tag(word):
        return False
    if not os.path.isdir(word):
        return "." in word.strip(".") and os.path.isfile(word)
    try:
        find_pages([word])
    except BookTrouble as trouble:
        return trouble.exit_code != 2  # pages are there, and cannot be read today
    return True


def _where_it_is_a_name(word: str) -> str | None:
    """The book in which the word is one of a customer's, a kind's, a supply's or a place's, if any: the one at hand, or the folder itself."""
    from hideledger.text.named import names_in

    home = os.environ.get("HIDELEDGER_BOOK") or ""
    for book in (home, "" if home else ".", word):
        if not book or (book == "." and not any(page.endswith(ENDING) for page in os.listdir("."))):
            continue
        try:
            texts = [read_page(page).text for page in find_pages([book])[0]]
        except BookTrouble:
            continue
        names = names_in(texts, "customer", "kind", "supply", "place")
        if any(word.casefold() in name.casefold().split() for name in names):
            return book
    return None


def _quoted(word: str) -> str:
    return f'"{word}"' if any(sign.isspace() for sign in word) else word
