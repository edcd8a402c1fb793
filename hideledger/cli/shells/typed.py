"""What can be typed behind `hideledger`, taken from its parser: no list of its own that could fall behind."""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from enum import StrEnum

from hideledger.cli.arguments import whole_parser


class Takes(StrEnum):
    """What may stand at a place of the request, by which a shell knows what to offer."""

    ANYTHING = "anything"  # nothing can be offered
    PAGES = "pages"
    FOLDERS = "folders"
    FILES = "files"
    SHEETS = "sheets"  # what an answer can be left as: .html, .htm or .txt
    TAGS = "tags"
    WORDS = "words"
    FINDINGS = "findings"
    CHOICES = "choices"


# What the word that help shows for a place stands for. A word that is not here has nothing to offer.
BY_HELP_WORD = {
    "BOOK": Takes.PAGES,
    "PAGE": Takes.PAGES,
    "FOLDER": Takes.FOLDERS,
    "FILE": Takes.FILES,
    "SHEET": Takes.SHEETS,
    "TAG": Takes.TAGS,
    "FINDING": Takes.FINDINGS,
    "SUPPLY": Takes.WORDS,
    "WORDS": Takes.WORDS,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """One place of a request that wants a word, or `many` of them."""

    called: str
    takes: Takes
    choices: tuple[str, ...] = ()
    many: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """An option: its names, what it is about, what it takes (None: nothing), and those that cannot be said beside it."""

    names: tuple[str, ...]
    about: str
    spot: Spot | None = None
    again: bool = False
    ends_all: bool = False
    rivals: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """A command with its options and the places behind it, in order."""

    name: str
    about: str
    options: tuple[Option, ...] = ()
    spots: tuple[Spot, ...] = ()


def program() -> Command:
    """`hideledger` by itself: the options that need no command."""
    return _command("hideledger", "", whole_parser([]))


def commands() -> tuple[Command, ...]:
    """Every command, in the order of the help."""
    found = next(action for action in whole_parser()._actions if isinstance(action, argparse._SubParsersAction))
    abouts = {action.dest: action.help or "" for action in found._choices_actions}
    return tuple(_command(name, abouts[name], parser) for name, parser in found.choices.items())


def _command(name: str, about: str, parser: argparse.ArgumentParser) -> Command:
    options: list[Option] = []
    spots: list[Spot] = []
    for action in parser._actions:
        if action.help == argparse.SUPPRESS or isinstance(action, argparse._SubParsersAction):
            continue
        if action.option_strings:
            options.append(_option(action, parser))
        else:
            spots.append(_spot(action))
    return Command(name=name, about=about, options=tuple(options), spots=tuple(spots))


def _option(action: argparse.Action, parser: argparse.ArgumentParser) -> Option:
    rivals = [
        name
        for group in parser._mutually_exclusive_groups
        if action in group._group_actions
        for rival in group._group_actions
        if rival is not action
        for name in rival.option_strings
    ]
    return Option(
        names=tuple(action.option_strings),
        about=(action.help or "") % {"default": action.default, "prog": parser.prog},
        spot=None if action.nargs == 0 else _spot(action),
        again=isinstance(action, argparse._AppendAction),
        ends_all=isinstance(action, argparse._HelpAction | argparse._VersionAction),
        rivals=tuple(rivals),
    )


def _spot(action: argparse.Action) -> Spot:
    called = action.metavar if isinstance(action.metavar, str) else action.dest.upper()
    many = action.nargs in ("*", "+")
    if action.choices is not None:
        return Spot(called=called, takes=Takes.CHOICES, choices=tuple(str(one) for one in action.choices), many=many)
    return Spot(called=called, takes=BY_HELP_WORD.get(called, Takes.ANYTHING), many=many)


def following(names: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    """What may come next behind the words said so far of names of several words; behind nothing, their first words."""
    table: dict[str, dict[str, None]] = {}
    for name in names:
        words = name.split()
        for at, word in enumerate(words):
            table.setdefault(" ".join(words[:at]), {})[word] = None
    return {said: tuple(sorted(words)) for said, words in sorted(table.items())}
