"""`meaning`: a finding or a defect explained."""

from __future__ import annotations

from argparse import Namespace

from hideledger.cli.arguments import Parser, WrongUse, add_forms
from hideledger.cli.giving import QUIET, give


def arguments(parser: Parser) -> None:
    """What may be said with it."""
    add_forms(parser)
    parser.add_argument(
        "finding",
        nargs="*",
        metavar="FINDING",
        help="its name, as in: came out early; a defect too, as in: slip; none: a list",
    )


def answer(wanted: Namespace) -> int:
    """The page of one finding or defect, or the list of all."""
    from hideledger.answers.meaning import NoSuchFinding, meaning

    try:
        give(meaning(" ".join(wanted.finding)), wanted)
    except NoSuchFinding as nothing:
        raise WrongUse(str(nothing)) from nothing
    return QUIET
