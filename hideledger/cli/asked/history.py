"""`history`: all that happened to one hide, bath, vessel, place or customer."""

from __future__ import annotations

from argparse import Namespace

from hideledger.cli.about import add_about, answer_about
from hideledger.cli.arguments import Parser, WrongUse
from hideledger.cli.book_named import books_and_words


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_about(
        parser,
        "TAG",
        "tags of hides, baths or vessels, names of places, or all words of a customer's name",
        needed=True,
    )


def answer(wanted: Namespace) -> int:
    """Found, not found, or part of the book could not be read."""
    from hideledger.answers.history.answer import history
    from hideledger.rules.judge import judge

    if not books_and_words(wanted.about, wanted.named_book, wanted.command)[1]:
        raise WrongUse("history of what? give a tag or a customer's name; see hideledger history --help")
    return answer_about(wanted, lambda floor, about: history(floor, judge(floor), about))
