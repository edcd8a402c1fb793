"""`stock`: what lies on the shelf, and where a supply or a lot went."""

from __future__ import annotations

from argparse import Namespace

from hideledger.cli.about import add_about, answer_about
from hideledger.cli.arguments import Parser


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_about(
        parser,
        "SUPPLY",
        "one supply, or one lot: every line of it, and which baths and hides it went into",
    )


def answer(wanted: Namespace) -> int:
    """Found, not found, or part of the book could not be read."""
    from hideledger.answers.stock.detail import stock_of
    from hideledger.answers.stock.shelf import stock
    from hideledger.rules.judge import judge

    return answer_about(wanted, lambda floor, about: stock_of(floor, about) if about else stock(floor, judge(floor)))
