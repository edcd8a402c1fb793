"""The script for zsh; it leaves the cutting of words and options to zsh's own `_arguments`."""

from __future__ import annotations

import re
from collections.abc import Iterator

from hideledger.cli.shells.typed import Command, Option, Spot, Takes, following

_SCRIPT = r"""#compdef hideledger
# Finishes what is typed behind hideledger, in zsh. Put this line into ~/.zshrc, below compinit:
#   eval "$(hideledger complete zsh)"
# or keep it as a file _hideledger in a folder of $fpath.

_hideledger_commands() {
    local -a commands
    commands=(
%COMMANDS%
    )
    _describe -t commands command commands
}

_hideledger_pages() {
    _alternative 'pages:page:_path_files -g "*.hides(-.)"' 'folders:folder:_path_files -/'
}

_hideledger_sheets() {
    _alternative 'sheets:page to leave:_path_files -g "*.(html|htm|txt)(-.)"' 'folders:folder:_path_files -/'
}

# tags or words: what the program itself finds in the book
_hideledger_named() {
    local -a found books
    local at
    books=()
    for ((at = 2; at < CURRENT; at++)); do
        case ${words[at]} in
        --book) books+=("--book=${(Q)~words[at + 1]}") ;;
        --book=*) books+=("--book=${(Q)~${words[at]#--book=}}") ;;
        esac
    done
    found=("${(@f)$(_call_program named ${(q)program} complete ${(q)books} $1 -- ${(q)said} ${(q)${(Q)PREFIX}} 2>/dev/null)}")
    if [[ -n ${found[1]} ]]; then
        # -U: the program has chosen already, and capitals do not matter to it
        compadd -U -V named -- "${found[@]}"
    else
        _hideledger_pages
    fi
}

_hideledger_findings() {
    local -a found
    case "${(j: :)said}" in
%FINDINGS%
    esac
    compadd -M 'm:{[:upper:]}={[:lower:]}' -- "${found[@]}"
}

# what was said behind the command, options and what they take left out
_hideledger_said() {
    local at word skip=''
    said=()
    for ((at = 2; at < CURRENT; at++)); do
        word=${(Q)words[at]}
        if [[ -n $skip ]]; then
            skip=''
        elif [[ " $1 " == *" $word "* ]]; then
            skip=yes
        elif [[ $word != -* ]]; then
            said+=("$word")
        fi
    done
}

_hideledger() {
    local curcontext="$curcontext" context state line program=${(Q)~words[1]}
    typeset -A opt_args
    local -a said
    _arguments -C \
%OPTIONS%
        '1:command:_hideledger_commands' \
        '*:::argument:->argument' && return 0
    [[ $state == argument ]] || return 1
    # the command itself stands where _arguments looks for the name of a program
    words=("${line[1]}" "${words[@]}")
    ((CURRENT += 1))
    case ${line[1]} in
%CASES%
    esac
}

if [[ "${funcstack[1]}" == _hideledger ]]; then
    _hideledger "$@"
else
    compdef _hideledger hideledger
fi
"""


def script(program: Command, commands: tuple[Command, ...], findings: tuple[str, ...]) -> str:
    """The whole script."""
    parts = {
        "%COMMANDS%": "\n".join(f"        {_quoted(f'{one.name}:{one.about}')}" for one in commands),
        "%FINDINGS%": "\n".join(_findings(findings)),
        "%OPTIONS%": "\n".join(f"        {spec} \\" for option in program.options for spec in _option(option)),
        "%CASES%": "\n".join(_case(command) for command in commands),
    }
    text = _SCRIPT
    for mark, part in parts.items():
        text = text.replace(mark, part)
    return text


def _case(command: Command) -> str:
    takers = " ".join(name for option in command.options if option.spot for name in option.names)
    specs = [spec for option in command.options for spec in _option(option)]
    specs += [_quoted(("*" if spot.many else "") + ":" + _offer(spot)) for spot in command.spots]
    lines = " \\\n            ".join(specs)
    return f"    {command.name})\n        _hideledger_said {_quoted(takers)}\n        _arguments \\\n            {lines}\n        ;;"


def _option(option: Option) -> Iterator[str]:
    """One word for `_arguments` for each name of an option."""
    for name in option.names:
        if option.ends_all:
            apart = "(- *)"
        else:
            others = [*option.rivals, *(other for other in option.names if other != name)]
            apart = f"({' '.join(others)})" if others else ""
        takes = "=" if option.spot is not None and name.startswith("--") else ""
        about = re.sub(r"([\[\]:\\])", r"\\\1", option.about)
        offer = f":{_offer(option.spot)}" if option.spot is not None else ""
        yield _quoted(f"{'*' * option.again}{apart}{name}{takes}[{about}]{offer}")


def _offer(spot: Spot) -> str:
    """What stands there, and where zsh finds it."""
    called = spot.called.casefold().replace(":", " ")
    match spot.takes:
        case Takes.ANYTHING:
            return f"{called}: "
        case Takes.CHOICES:
            return f"{called}:({' '.join(spot.choices)})"
        case Takes.FOLDERS:
            return f"{called}:_files -/"
        case Takes.FILES:
            return f"{called}:_files"
        case Takes.PAGES:
            return f"{called}:_hideledger_pages"
        case Takes.SHEETS:
            return f"{called}:_hideledger_sheets"
        case Takes.FINDINGS:
            return f"{called}:_hideledger_findings"
        case Takes.TAGS | Takes.WORDS:
            return f"{called}:{{_hideledger_named {spot.takes}}}"


def _findings(findings: tuple[str, ...]) -> Iterator[str]:
    for said, words in following(findings).items():
        yield f"    {_quoted(said)}) found=({' '.join(_quoted(word) for word in words)}) ;;"


def _quoted(text: str) -> str:
    return "'" + text.replace("'", "'\\''") + "'"
