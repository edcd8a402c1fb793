"""What can be asked at the front desk, and in which words."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from importlib import import_module
from typing import Protocol, cast

from hideledger import __version__
from hideledger.cli.parser import Parser, Shown, WrongUse
from hideledger.text.nearest import nearest

__all__ = [
    "BOOK",
    "COMMANDS",
    "Asked",
    "Parser",
    "Shown",
    "WrongUse",
    "add_book",
    "add_forms",
    "add_looks",
    "add_moment",
    "add_named_book",
    "asked",
    "parsed",
    "whole_parser",
]

# In the order of a day. Each has a file of its own under asked/.
COMMANDS = {
    "write": "a line into the book: stamped, read first, and what was understood of it",
    "check": "what needs a hand now and tonight, then what the book does not say as it should",
    "floor": "the evening and morning look: what to do, every tub, where every skin is",
    "clocks": "the clocks that end today, counting down on the screen, and a bell: for the steps shorter than an hour",
    "history": "all that happened to a hide, a bath, a vessel, a place, or a customer's hides, in order of time",
    "slip": "what the skins that slipped have in common; with a tag what happened to one hide, what it shared, who is next",
    "mix": "a recipe of the shop at the size wanted: what to measure out, what it will be, the line to write",
    "brine": "salt and water: a strength on every scale, what to weigh in, what it makes",
    "acid": "acids and sodas: the pH to expect of a bath, the dose that moves it, the base that answers an acid",
    "load": "what goes into the drum and the tubs next, so that promises are kept; with --with the earliest honest promise for one hide more",
    "stock": "the shelf: what lies there, how long it lasts, what it is worth, and where a supply or a lot went",
    "cost": "what a hide costs: materials, labour, lost hides, and against sending it out",
    "owed": "what customers owe: hides, extras, storage, deposits and payments, and the line to read out on the telephone",
    "custody": "the register of skins an officer may ask for, the boxes, a list to count against, and the sheet of a year",
    "export": "the whole book for other programs: JSON Lines, a folder of CSV files, or one SQLite file",
    "faircopy": "the book written out fair: every line its own date, every tag by name; shown, and with --replace done",
    "meaning": "a finding or a defect explained: what was seen, why it harms the hide, what to write",
    "start": "a starter book in a new folder: a shop page and a first page, to change",
    "complete": "what finishes your words while you type: a script for the shell, files for the editor",
}

_ABOUT = "Reads the plain-text book of a shop that tans capes and skins, and says which hide or bath needs a hand."
_CODES = (
    "Exit codes: 0 nothing rings; 1 something rings, or nothing of what was asked is found; 2 the request cannot be followed; "
    "3 part of the book could not be read; 70 a fault of the program; 74 the answer could not be written out, as on a full disk; 130 stopped; 141 the reader went away."
)
LONG_DASH = "—"
BOOK = "the book: a folder (every *.hides page in it) or pages; else the variable HIDELEDGER_BOOK, else this folder"


class Asked(Protocol):
    """What each file of asked/ has."""

    def arguments(self, parser: Parser) -> None:
        """Puts what may be said with this command into its parser."""

    def answer(self, wanted: argparse.Namespace) -> int:
        """Answers one request; the exit code."""


def asked(command: str) -> Asked:
    """The file that answers a command."""
    return cast(Asked, import_module(f"hideledger.cli.asked.{command}"))


def parsed(argv: Sequence[str]) -> argparse.Namespace:
    """The request, taken apart. Raises WrongUse, and Shown with the text of `--help` or `--version`."""
    argv = _command_first(argv)
    first = next((word for word in argv if not word.startswith("-")), None)
    if first is not None and first not in COMMANDS:
        close = nearest(first, COMMANDS)
        hint = f"did you mean {close}?" if close else "it is one of " + ", ".join(COMMANDS)
        raise WrongUse(f"'{first}' is nothing to ask for; {hint}")
    if first == "write":
        # Two dashes begin a remark there, and argparse would take them for an end of options and drop them.
        argv = [LONG_DASH if word == "--" else word for word in argv]
    if not argv:
        raise WrongUse("what is asked? one of " + ", ".join(COMMANDS) + "; see hideledger --help")
    parser = whole_parser([first] if first is not None else [])
    wanted, left = parser.parse_known_args(argv)
    if left:
        parser.take_left(left, wanted)
    return wanted


def _command_first(argv: Sequence[str]) -> Sequence[str]:
    """The request with its command in front, where somebody typed an option before it. Raises WrongUse where two words could be it."""
    at = next((place for place, word in enumerate(argv) if word in COMMANDS), 0)
    if at == 0:
        return argv
    before, behind = argv[:at], argv[at + 1 :]
    if not before[0].startswith("-") or before[0] in ("-h", "--help", "--version"):
        return argv
    if before[-1].startswith("-") and behind and behind[0] in COMMANDS:
        raise WrongUse(
            f"what is asked, {argv[at]} or {behind[0]}? say it first, as in: hideledger {' '.join([behind[0], *before, argv[at], *behind[1:]])}"
        )
    return [argv[at], *before, *behind]


def whole_parser(filled: Sequence[str] = tuple(COMMANDS)) -> Parser:
    """All commands; only those `filled` know their arguments, since each of them opens a file.

    Where several are filled, for the scripts of the shells, one whose file cannot be loaded goes without its options.
    """
    parser = Parser(prog="hideledger", description=_ABOUT, epilog=_CODES, allow_abbrev=False)
    parser.add_argument(
        "--version", action="version", version=f"hideledger {__version__}", help="which version this is"
    )
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND", parser_class=Parser)
    for name, about in COMMANDS.items():
        description = about[0].upper() + about[1:] + "."
        one = commands.add_parser(name, help=about, description=description, allow_abbrev=False)
        if name not in filled:
            continue
        try:
            asked(name).arguments(one)
        except Exception:
            if len(filled) == 1:
                raise
    return parser


def add_looks(parser: Parser) -> None:
    """The moment, and the form of the answer: what nearly every command takes."""
    add_moment(parser)
    add_forms(parser)


def add_forms(parser: Parser) -> None:
    """`--json` and `--plain`, for an answer that does not depend on the time."""
    looks = parser.add_mutually_exclusive_group()
    looks.add_argument("--json", action="store_true", help="one JSON object")
    looks.add_argument("--plain", action="store_true", help="one record a line, nothing broken or cut off")


def add_moment(parser: Parser) -> None:
    """`--at`, for whatever depends on the time."""
    parser.add_argument(
        "--at", metavar="WHEN", help='a date (its end) or a date and time, as in "2026-11-05 18:00"; else now'
    )


def add_book(parser: Parser) -> None:
    """The book as the words behind the command, or behind `--book` as everywhere."""
    parser.add_argument("book", nargs="*", metavar="BOOK", help=BOOK)
    add_named_book(parser)


def add_named_book(parser: Parser, about: str = BOOK) -> None:
    """`--book`, which every command that reads a book takes."""
    parser.add_argument("--book", action="append", default=[], metavar="BOOK", dest="named_book", help=about)
