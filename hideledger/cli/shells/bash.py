"""The script for bash (3.2, which comes with some computers, or later)."""

from __future__ import annotations

import shlex
from collections.abc import Iterator

from hideledger.cli.shells.typed import Command, Option, Spot, Takes, following

_SCRIPT = r"""# Finishes what is typed behind hideledger, in bash. Put this line into ~/.bashrc:
#   eval "$(hideledger complete bash)"

# COMMAND: sets its options, what those that take something take, and what stands behind it
_hideledger_command() {
    case $1 in
%COMMANDS%
    *) return 1 ;;
    esac
}

# WORD ...: what may come next in the name of a finding, a word a line
_hideledger_findings() {
    case "$*" in
%FINDINGS%
    esac
}

# WORD: of the paths that come in, a line each, those that are not hidden; all of them where WORD begins with a dot
_hideledger_seen() {
    local one
    while IFS= read -r one; do
        [[ ${one##*/} == .* && ${1##*/} != .* ]] || printf '%s\n' "$one"
    done
}

# QUOTE WORDS: as they stand behind an open quote, else with backslashes where the shell wants them
_hideledger_as_typed() {
    if [[ -n $1 ]]; then printf '%s\n' "$2"; else printf '%q\n' "$2"; fi
}

_hideledger_pages() {
    { compgen -d -- "$1"; compgen -f -X '!*.hides' -- "$1"; } | _hideledger_seen "$1"
}

_hideledger_sheets() {
    { compgen -d -- "$1"; for one in html htm txt; do compgen -f -X "!*.$one" -- "$1"; done; } | _hideledger_seen "$1"
}

_hideledger() {
    local IFS=$' \t\n' options='%OPTIONS%' valued='' spots='' program=${1/#\~\//$HOME/}
    local command='' option='' kind='' word='' one='' rest=$COMP_LINE glued='' i=0 only_words=''
    local -a words said books quoted
    words=() said=() books=() quoted=()
    COMPREPLY=()

    # bash cuts words at = and : too; what was written in one goes together again
    for ((i = 0; i <= COMP_CWORD; i++)); do
        one=${rest#"${rest%%[![:space:]]*}"}
        if [[ $i -gt 0 && $one == "$rest" && -n ${COMP_WORDS[i]} ]]; then
            glued=${words[${#words[@]} - 1]}
            words[${#words[@]} - 1]=$glued${COMP_WORDS[i]}
        else
            glued=''
            words+=("${COMP_WORDS[i]}")
        fi
        rest=${one#"${COMP_WORDS[i]}"}
    done
    word=${words[${#words[@]} - 1]}
    [[ ${COMP_WORDS[COMP_CWORD]} == [=:] ]] && glued=$word

    for ((i = 1; i < ${#words[@]} - 1; i++)); do
        # as it was meant: without the quotes, or without the backslashes
        one=${words[i]}
        if [[ $one == *\\* ]]; then one=${one//\\/}; else one=${one//[\"\']/}; fi
        one=${one/#\~\//$HOME/}
        if [[ -n $option ]]; then
            [[ $option == --book ]] && books+=("--book=$one")
            option=''
        elif [[ -z $only_words && $one == -- ]]; then
            only_words=yes
        elif [[ -z $only_words && $one == --book=* ]]; then
            books+=("--book=${one#--book=}")
        elif [[ -z $only_words && $one == -* ]]; then
            [[ $valued == *" $one:"* ]] && option=$one
        elif [[ -z $command ]]; then
            command=$one
            _hideledger_command "$command" || return 0
        else
            said+=("$one")
        fi
    done

    if [[ -z $option && -z $only_words && $word == --*=* && $valued == *" ${word%%=*}:"* ]]; then
        option=${word%%=*}
        word=${word#*=}
        glued=${glued#"$option="}
    fi
    if [[ -n $option ]]; then
        kind=${valued#*" $option:"}
        kind=${kind%% *}
    elif [[ -z $only_words && $word == -* ]]; then
        kind="=${options// /,}"
    elif [[ -z $command ]]; then
        kind='=%NAMES%'
    else
        i=${#said[@]}
        for one in $spots; do
            kind=$one
            [[ $i -eq 0 || $one == *+ ]] && break
            kind=''
            i=$((i - 1))
        done
        kind=${kind%+}
    fi

    # inside quotes several words are one to the shell: those before the last are said already, and every answer begins with them
    local quote='' before=''
    if [[ $word == [\'\"]* ]]; then
        quote=${word:0:1}
        word=${word#?}
        case $kind in tags | words | findings)
            if [[ $word == *' '* ]]; then
                before="${word% *} "
                word=${word##* }
                read -r -a quoted <<<"$before"
                said+=("${quoted[@]}")
            fi
            ;;
        esac
    fi

    local IFS=$'\n'
    case $kind in
    =*) COMPREPLY=($(IFS=,; set -f; for one in ${kind#=}; do [[ $one == "$word"* ]] && printf '%s\n' "$one"; done)) ;;
    pages) COMPREPLY=($(set -f; _hideledger_pages "$word")) ;;
    folders) COMPREPLY=($(set -f; compgen -d -- "$word" | _hideledger_seen "$word")) ;;
    sheets) COMPREPLY=($(set -f; _hideledger_sheets "$word")) ;;
    files) COMPREPLY=($(set -f; compgen -f -- "$word" | _hideledger_seen "$word")) ;;
    tags | words)
        COMPREPLY=($(set -f; "$program" complete "${books[@]}" "$kind" -- "${said[@]}" "$word" 2>/dev/null |
            while IFS= read -r one; do _hideledger_as_typed "$quote" "$before$one"; done))
        type compopt >/dev/null 2>&1 && compopt -o nosort 2>/dev/null
        # pages may be named there as well
        [[ ${#COMPREPLY[@]} -eq 0 && $word == */* ]] && kind=pages COMPREPLY=($(set -f; _hideledger_pages "$before$word"))
        ;;
    findings)
        COMPREPLY=($(set -f; _hideledger_findings "$(IFS=' '; printf '%s' "${said[*]}")" |
            while IFS= read -r one; do [[ $one == "$word"* ]] && _hideledger_as_typed "$quote" "$before$one"; done))
        ;;
    esac
    # readline closes the quotes behind a single answer, and the line goes on: of two it adds what both begin with
    case $kind in tags | words | findings) [[ -n $quote && ${#COMPREPLY[@]} -eq 1 ]] && COMPREPLY+=("${COMPREPLY[0]} ") ;; esac
    case $kind in pages | folders | files | sheets) type compopt >/dev/null 2>&1 && compopt -o filenames 2>/dev/null ;; esac
    # readline goes on behind the last = or :, so what stands before it is not said again
    if [[ -n $glued ]]; then
        [[ ${COMP_WORDS[COMP_CWORD]} == [=:] ]] && glued=$word
        for ((i = 0; i < ${#COMPREPLY[@]}; i++)); do
            COMPREPLY[i]=${COMPREPLY[i]#"$glued"}
        done
    fi
    return 0
}

complete -F _hideledger hideledger
"""


def script(program: Command, commands: tuple[Command, ...], findings: tuple[str, ...]) -> str:
    """The whole script."""
    parts = {
        "%COMMANDS%": "\n".join(_arm(command) for command in commands),
        "%FINDINGS%": "\n".join(_findings(findings)),
        "%OPTIONS%": " ".join(_names(program.options)),
        "%NAMES%": ",".join(command.name for command in commands),
    }
    text = _SCRIPT
    for mark, part in parts.items():
        text = text.replace(mark, part)
    return text


def _names(options: tuple[Option, ...]) -> Iterator[str]:
    for option in options:
        yield from option.names


def _arm(command: Command) -> str:
    valued = [f"{name}:{_kind(option.spot)}" for option in command.options if option.spot for name in option.names]
    takes = f" {' '.join(valued)} "
    spots = [_kind(spot) + "+" * spot.many for spot in command.spots]
    return (
        f"    {command.name})\n        options={shlex.quote(' '.join(_names(command.options)))}\n"
        f"        valued={shlex.quote(takes)}\n        spots={shlex.quote(' '.join(spots))}\n        ;;"
    )


def _kind(spot: Spot) -> str:
    return f"={','.join(spot.choices)}" if spot.takes is Takes.CHOICES else spot.takes


def _findings(findings: tuple[str, ...]) -> Iterator[str]:
    for said, words in following(findings).items():
        yield f"    {shlex.quote(said)}) printf '%s\\n' {' '.join(shlex.quote(word) for word in words)} ;;"
