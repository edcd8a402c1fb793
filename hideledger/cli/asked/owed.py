"""`owed`: who owes what, and the whole bill of those that are asked for."""

from __future__ import annotations

from argparse import Namespace

from hideledger.cli.about import add_about, answer_about
from hideledger.cli.arguments import Parser


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_about(
        parser,
        "TAG",
        "a customer by all words of the name, or customers by the tags of their hides or by other shops' own tags",
    )


def answer(wanted: Namespace) -> int:
    """Found, not found, or part of the book could not be read."""
    from hideledger.answers.owed.bill import owed_by
    from hideledger.answers.owed.everybody import owed

    return answer_about(wanted, lambda floor, about: owed_by(floor, about) if about else owed(floor))
