"""What can be asked at the front desk, and in which words."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import IO, NoReturn

from hideledger import __version__
from hideledger.text.nearest import nearest

COMMANDS = {
    "check": "what needs a hand now and tonight, then what the book does not say as it should",
    "floor": "the evening and morning look: what to do, every tub, where every skin is",
    "history": "all that happened to a hide, a bath, a vessel, a place, or a customer's hides, in order of time",
    "meaning": "a finding explained: what was seen, why it harms the hide, what to write",
    "start": "a starter book in a new folder: a shop page and a first page, to change",
}

_ABOUT = "Reads the plain-text book of a shop that tans capes and skins, and says which hide or bath needs a hand."
_CODES = (
    "Exit codes: 0 nothing rings; 1 something rings (history: nothing found); 2 the request cannot be followed; "
    "3 part of the book could not be read; 70 a fault of the program; 130 stopped; 141 the reader went away."
)
_BOOK = "the book: a folder (every *.hides page in it) or pages; else the variable HIDELEDGER_BOOK, else this folder"


class WrongUse(Exception):
    """The request cannot be followed; the text is one sentence."""


class Shown(Exception):
    """Help or the version is the whole answer."""


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        raise WrongUse(f"{message}; see {self.prog} --help")

    def exit(self, status: int = 0, message: str | None = None) -> NoReturn:
        if status:
            raise WrongUse((message or "").strip())
        raise Shown(message or "")

    def _print_message(self, message: str, file: IO[str] | None = None) -> None:  # type: ignore[override]
        del file
        raise Shown(message)


def parsed(argv: Sequence[str]) -> argparse.Namespace:
    """The request, taken apart. Raises WrongUse, and Shown with the text of `--help` or `--version`."""
    first = next((word for word in argv if not word.startswith("-")), None)
    if first is not None and first not in COMMANDS:
        close = nearest(first, COMMANDS)
        hint = f"did you mean {close}?" if close else "it is one of " + ", ".join(COMMANDS)
        raise WrongUse(f"'{first}' is nothing to ask for; {hint}")
    return _parser().parse_args(argv)


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="hideledger", description=_ABOUT, epilog=_CODES, allow_abbrev=False)
    parser.add_argument("--version", action="version", version=f"hideledger {__version__}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND", parser_class=_Parser)
    check = _command(commands, "check")
    check.add_argument("book", nargs="*", metavar="BOOK", help=_BOOK)
    check.add_argument("--ahead", metavar="LENGTH", help="how far ahead a limit is told as due, as in 14h")
    check.add_argument("--all", action="store_true", help="the record of hides that are gone, too")
    check.add_argument("--quiet", action="store_true", help="print nothing when nothing rings and every line was read")
    floor = _command(commands, "floor")
    floor.add_argument("book", nargs="*", metavar="BOOK", help=_BOOK)
    history = _command(commands, "history")
    history.add_argument(
        "about",
        nargs="+",
        metavar="TAG",
        help="tags of hides, baths or vessels, names of places, or all words of a customer's name; a page or a folder "
        "with a slash is the book",
    )
    history.add_argument("--book", action="append", default=[], metavar="BOOK", dest="more_book", help=_BOOK)
    meaning = _command(commands, "meaning")
    meaning.add_argument("finding", nargs="*", metavar="FINDING", help="its name, as in: came out early; none: a list")
    start = _command(commands, "start")
    start.add_argument("folder", metavar="FOLDER", help="a new folder, or one that holds no *.hides page yet")
    return parser


def _command(commands: argparse._SubParsersAction[_Parser], name: str) -> argparse.ArgumentParser:
    about = COMMANDS[name]
    parser = commands.add_parser(name, help=about, description=about[0].upper() + about[1:] + ".", allow_abbrev=False)
    parser.add_argument(
        "--at", metavar="WHEN", help='a date (its end) or a date and time, as in "2026-11-05 18:00"; else now'
    )
    looks = parser.add_mutually_exclusive_group()
    looks.add_argument("--json", action="store_true", help="one JSON object")
    looks.add_argument("--plain", action="store_true", help="one record a line, nothing broken or cut off")
    return parser
