"""Takes a request apart with argparse, and says in words of our own what argparse would say in its own."""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterable, Sequence
from typing import IO, NoReturn

from hideledger.text.nearest import nearest


class WrongUse(Exception):
    """The request cannot be followed; the text is one sentence."""


class Shown(Exception):
    """Help or the version is the whole answer."""


# The sentences of argparse, which are the same from Python 3.11 to 3.14, and ours. `{0}` and on are its groups.
_SENTENCES: tuple[tuple[str, str], ...] = (
    (
        r"argument (.+?): expected (?:one|at least one|[0-9]+) arguments?$",
        "something belongs behind {0}, and nothing stands there",
    ),
    (r"argument (.+?): expected at most one argument$", "one thing at most belongs behind {0}"),
    (r"argument (.+?): not allowed with argument (.+)$", "{0} and {1} are two ways; say one of them"),
    (r"argument (.+?): ignored explicit argument '?(.*?)'?$", "nothing belongs behind {0}; `{1}` stands there"),
    (r"argument (.+?): invalid .*? value: '?(.*?)'?$", "`{1}` is nothing for {0}"),
    (r"the following arguments are required: (.+)$", "{0} is missing"),
    (r"one of the arguments (.+) is required$", "one of these is missing: {0}"),
)
_CHOICE = re.compile(
    r"argument (?P<spot>.+?): invalid choice: (?P<said>'.*?'|\".*?\"|\S+) \(choose from (?P<choices>.*?)\)$"
)


class _Form(argparse.HelpFormatter):
    """The layout of the help: that of argparse, under a heading of our own."""

    def add_usage(
        self,
        usage: str | None,
        actions: Iterable[argparse.Action],
        groups: Iterable[argparse._MutuallyExclusiveGroup],
        prefix: str | None = None,
    ) -> None:
        """The help begins with a heading of our own, `type:`."""
        super().add_usage(usage, actions, groups, "type: " if prefix is None else prefix)


class Parser(argparse.ArgumentParser):
    """Takes a request apart; what it has to say it raises, so that one place speaks."""

    def __init__(
        self,
        *,
        prog: str | None = None,
        description: str | None = None,
        epilog: str | None = None,
        allow_abbrev: bool = False,
    ) -> None:
        super().__init__(
            prog=prog,
            description=description,
            epilog=epilog,
            allow_abbrev=allow_abbrev,
            formatter_class=_Form,
            add_help=False,
        )
        # Python 3.14 would colour the help by itself.
        self.color = False
        self._positionals.title = "behind it"
        self._optionals.title = "with it"
        self.add_argument("-h", "--help", action="help", default=argparse.SUPPRESS, help="this text")

    def error(self, message: str) -> NoReturn:
        """A request that cannot be taken apart is refused in our words. Raises WrongUse."""
        raise WrongUse(f"{_ours(message)}; see {self.prog} --help")

    def exit(self, status: int = 0, message: str | None = None) -> NoReturn:
        """The library would end the program here; one place of ours does that. Raises Shown, or WrongUse where it failed."""
        if status:
            raise WrongUse((message or "").strip())
        raise Shown(message or "")

    def _print_message(self, message: str, file: IO[str] | None = None) -> None:  # type: ignore[override]
        del file
        raise Shown(message)

    def take_left(self, left: Sequence[str], wanted: argparse.Namespace) -> None:
        """Gives the words that stand behind an option to the place that takes many of them; a library's parser ends that place at the first option.

        Raises WrongUse for what no place of the command takes, with the option that is most like it.
        """
        subs = next(action for action in self._actions if isinstance(action, argparse._SubParsersAction))
        command: str = wanted.command
        parser = subs.choices[command]
        words: list[str] = []
        options_end = False
        for said in left:
            if said == "--" and not options_end:
                options_end = True
            elif options_end or parser._parse_optional(said) is None:
                words.append(said)
            else:
                _refuse_option(parser, said.split("=", 1)[0], command)
        takes_many = [action.dest for action in parser._get_positional_actions() if action.nargs in ("*", "+")]
        if words and not takes_many:
            raise WrongUse(
                f"nothing more belongs behind {command}; `{words[0]}` stands there; see {parser.prog} --help"
            )
        if words:
            setattr(wanted, takes_many[-1], [*getattr(wanted, takes_many[-1]), *words])


def _refuse_option(parser: argparse.ArgumentParser, said: str, command: str) -> NoReturn:
    known = [name for action in parser._actions for name in action.option_strings]
    near = nearest(said, known)
    hint = f"; did you mean {near}?" if near else ""
    raise WrongUse(f"`{said}` is nothing to say with {command}{hint}; see {parser.prog} --help")


def _ours(message: str) -> str:
    """A sentence of argparse, said in ours; as it is where it is none of those known."""
    chosen = _CHOICE.match(message)
    if chosen is not None:
        said = chosen["said"].strip("'\"")
        choices = re.findall(r"[^\s,'\"]+", chosen["choices"])
        near = nearest(said, choices)
        hint = f"did you mean {near}?" if near else f"it is one of {', '.join(choices)}"
        return f"`{said}` is nothing for {chosen['spot']}; {hint}"
    for pattern, ours in _SENTENCES:
        found = re.match(pattern, message)
        if found is not None:
            return ours.format(*found.groups())
    return message
