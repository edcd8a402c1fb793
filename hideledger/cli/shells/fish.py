"""The script for fish: one `complete` line an option, each with the command behind which it holds."""

from __future__ import annotations

from collections.abc import Iterator

from hideledger.cli.shells.typed import Command, Option, Spot, Takes, following

_SCRIPT = r"""# Finishes what is typed behind hideledger, in fish. Put this line into ~/.config/fish/config.fish:
#   hideledger complete fish | source

# The command said so far, then what was said behind it, a word a line; options and what they take are left out.
function __hideledger_said
    set -l skip ''
    for word in (commandline -opc)[2..-1]
        if test -n "$skip"
            set skip ''
        else if contains -- $word %TAKERS%
            set skip yes
        else if not string match -q -- '-*' $word
            echo -- $word
        end
    end
end

function __hideledger_no_command
    test (count (__hideledger_said)) -eq 0
end

# COMMAND [NUMBER]: whether it was said; and whether so many words stand behind it
function __hideledger_after
    set -l said (__hideledger_said)
    test (count $said) -gt 0; and test "$said[1]" = "$argv[1]"; or return 1
    test (count $argv) -eq 1; or test (count $said) -eq (math $argv[2] + 1)
end

# pages of a book, and folders to look for one in
function __hideledger_pages
    complete -C "__fish_command_without_completions "(commandline -ct) | string replace -r '\t.*' '' | string match -r -- '^.*(?:/|\.hides)$'
end

# what an answer can be left as, and folders to leave it in
function __hideledger_sheets
    complete -C "__fish_command_without_completions "(commandline -ct) | string replace -r '\t.*' '' | string match -r -- '^.*(?:/|\.html?|\.txt)$'
end

# tags or words: what the program itself finds in the book
function __hideledger_named
    set -l tokens (commandline -opc)
    set -l books
    set -l next ''
    for word in $tokens[2..-1]
        if test -n "$next"
            set -a books --book=$word
            set next ''
        else if test "$word" = --book
            set next yes
        else if string match -q -- '--book=*' $word
            set -a books $word
        end
    end
    set -l said (__hideledger_said)
    $tokens[1] complete $books $argv[1] -- $said[2..-1] (commandline -ct) 2>/dev/null
    if string match -q -- '*/*' (commandline -ct)
        __hideledger_pages
    end
end

# what may come next in the name of a finding
function __hideledger_findings
    set -l said (__hideledger_said)
    switch "$said[2..-1]"
%FINDINGS%
    end
end

complete -c hideledger -e
complete -c hideledger -f
%LINES%
"""


def script(program: Command, commands: tuple[Command, ...], findings: tuple[str, ...]) -> str:
    """The whole script."""
    takers = {name: None for command in commands for option in command.options if option.spot for name in option.names}
    parts = {
        "%TAKERS%": " ".join(takers),
        "%FINDINGS%": "\n".join(_findings(findings)),
        "%LINES%": "\n".join(_lines(program, commands)),
    }
    text = _SCRIPT
    for mark, part in parts.items():
        text = text.replace(mark, part)
    return text


def _lines(program: Command, commands: tuple[Command, ...]) -> Iterator[str]:
    for option in program.options:
        yield _option(option, "__hideledger_no_command")
    for command in commands:
        yield f"complete -c hideledger -n __hideledger_no_command -a {command.name} -d {_quoted(command.about)}"
    for command in commands:
        for option in command.options:
            yield _option(option, f"__hideledger_after {command.name}")
        for number, spot in enumerate(command.spots):
            when = f"__hideledger_after {command.name}" + ("" if spot.many else f" {number}")
            if offered := _offer(spot):
                keep = "-k " if spot.takes in (Takes.TAGS, Takes.WORDS) else ""
                yield f"complete -c hideledger -n {_quoted(when)} {keep}{offered}"


def _option(option: Option, when: str) -> str:
    names = " ".join(f"-l {name[2:]}" if name.startswith("--") else f"-s {name[1:]}" for name in option.names)
    takes = ""
    if option.spot is not None:
        takes = f" -r {_offer(option.spot)}".rstrip() if _offer(option.spot) else " -x"
    return f"complete -c hideledger -n {_quoted(when)} {names}{takes} -d {_quoted(option.about)}"


def _offer(spot: Spot) -> str:
    """What is offered at that spot; nothing where nothing can be."""
    match spot.takes:
        case Takes.ANYTHING:
            return ""
        case Takes.CHOICES:
            return f"-f -a {_quoted(' '.join(spot.choices))}"
        case Takes.FOLDERS:
            return "-f -a '(__fish_complete_directories (commandline -ct))'"
        case Takes.FILES:
            return "-F"
        case Takes.PAGES:
            return "-f -a '(__hideledger_pages)'"
        case Takes.SHEETS:
            return "-f -a '(__hideledger_sheets)'"
        case Takes.FINDINGS:
            return "-f -a '(__hideledger_findings)'"
        case Takes.TAGS | Takes.WORDS:
            return f"-f -a '(__hideledger_named {spot.takes})'"


def _findings(findings: tuple[str, ...]) -> Iterator[str]:
    for said, words in following(findings).items():
        yield f"        case {_quoted(said)}\n            printf '%s\\n' {' '.join(_quoted(word) for word in words)}"


def _quoted(text: str) -> str:
    """In single quotes, in which fish takes a backslash before a quote or a backslash."""
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"
