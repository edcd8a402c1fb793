"""`cost`: what hides cost, and what sending them out would have."""

from __future__ import annotations

from argparse import Namespace

from hideledger.cli.about import add_about, answer_about
from hideledger.cli.arguments import Parser

_GROUPS = ("kind", "hide", "load", "customer", "month")


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_about(parser, "TAG", "tags of hides, baths or loads, a legal tag or another shop's own, or a customer's name")
    parser.add_argument(
        "--by",
        choices=_GROUPS,
        help="what goes together in one row; else by kind, and of a hide that is named each by itself",
    )


def answer(wanted: Namespace) -> int:
    """Found, not found, or part of the book could not be read."""
    from hideledger.answers.cost.answer import cost

    return answer_about(wanted, lambda floor, about: cost(floor, about, wanted.by or ("hide" if about else "kind")))
