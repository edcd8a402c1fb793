"""What is said of a request that cannot be followed, and the words of the help: ours, in the same voice as the rest."""

import argparse
import re

import pytest

from hideledger.cli import main
from hideledger.cli.arguments import COMMANDS
from hideledger.cli.parser import Parser, WrongUse

Captured = pytest.CaptureFixture[str]

# Words of the library that takes a request apart, which tell a taxidermist nothing.
_FOREIGN = re.compile(
    r"argument|positional|usage:|optional|unrecognized|invalid|choose from|required|show this help|show program's|expected one|not allowed"
)


@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_the_help_has_no_stock_phrase(command: str, capsys: Captured) -> None:
    assert main([*([command] if command else []), "--help"]) == 0
    out, _ = capsys.readouterr()
    stock = re.compile(
        r"usage:|positional|^options|show this help|show program's|argument", re.MULTILINE | re.IGNORECASE
    )
    assert stock.findall(out) == []
    assert out.startswith("type: hideledger")


@pytest.mark.parametrize(
    ("argv", "said"),
    [
        ([], "what is asked? one of write, check,"),
        (["chck"], "did you mean check?"),
        (["check", "--ahed", "4h"], "`--ahed` is nothing to say with check; did you mean --ahead?"),
        (["check", "--ahed=4h"], "`--ahed` is nothing to say with check; did you mean --ahead?"),
        (["meaning", "--at", "rubbish"], "`--at` is nothing to say with meaning"),
        (["check", "--at"], "something belongs behind --at, and nothing stands there"),
        (["check", "--json", "--plain"], "--plain and --json are two ways; say one of them"),
        (["check", "--json=3"], "nothing belongs behind --json; `3` stands there"),
        (["start", "a", "b"], "nothing more belongs behind start; `b` stands there"),
        (["start"], "FOLDER is missing; see hideledger start --help"),
        (["--json"], "COMMAND is missing"),
        (["complete", "ksh"], "`ksh` is nothing for WHAT; it is one of bash, zsh, fish, editors, tags, words"),
        (["complete", "bahs"], "`bahs` is nothing for WHAT; did you mean bash?"),
        (["brine", "--gallons", "imperal", "1 gal"], "`imperal` is nothing for --gallons; did you mean imperial?"),
    ],
)
def test_what_cannot_be_followed_is_said_in_words_of_the_shop(argv: list[str], said: str, capsys: Captured) -> None:
    assert main(argv) == 2
    out, err = capsys.readouterr()
    assert out == "" and said in err
    assert _FOREIGN.findall(err) == []
    assert err.count("\n") == 1


# The forms in which the releases of Python from 3.11 to 3.14 give one sentence; from memory, the first seen here.
@pytest.mark.parametrize(
    "message",
    [
        "argument WHAT: invalid choice: 'ksh' (choose from 'bash', 'zsh', 'fish')",
        "argument WHAT: invalid choice: 'ksh' (choose from bash, zsh, fish)",
        "argument WHAT: invalid choice: ksh (choose from bash, zsh, fish)",
    ],
)
def test_every_form_of_the_same_sentence_is_said_in_ours(message: str) -> None:
    with pytest.raises(WrongUse, match="`ksh` is nothing for WHAT; it is one of bash, zsh, fish; see x --help"):
        Parser(prog="x").error(message)


def test_what_is_not_known_is_handed_on_rather_than_swallowed() -> None:
    with pytest.raises(WrongUse, match="something new; see x --help"):
        Parser(prog="x").error("something new")


def test_a_number_that_is_none_is_said_plainly() -> None:
    parser = Parser(prog="x")
    parser.add_argument("--days", type=int, metavar="DAYS")
    assert isinstance(parser, argparse.ArgumentParser)
    with pytest.raises(WrongUse, match="`soon` is nothing for --days"):
        parser.parse_args(["--days", "soon"])
