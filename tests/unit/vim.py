"""Runs a real vim without its user's own settings, with our files in front."""

import json
import shutil
import subprocess
from functools import lru_cache
from pathlib import Path
from typing import Any

EDITORS = Path(__file__).resolve().parents[2] / "hideledger" / "editors"
PLUGIN = EDITORS / "vim"


@lru_cache(maxsize=1)
def without_vim() -> str:
    """Why vim cannot be tried here; empty where it can."""
    vim = shutil.which("vim")
    if vim is None:
        return "vim is not installed here"
    version = subprocess.run([vim, "--version"], capture_output=True, check=False, encoding="utf-8", errors="replace")
    missing = [part for part in ("+syntax", "+eval", "+quickfix") if part not in version.stdout]
    return f"this vim comes without {', '.join(missing)}" if missing else ""


def answer_of(script: str, folder: Path, *, ours: bool = True, env: dict[str, str] | None = None) -> Any:
    """What a Vim script leaves in `g:answer`; raises AssertionError with what vim had to complain of.

    `ours` puts our files in front of vim's own.
    """
    answer, said, page = folder / "answer.json", folder / "said.txt", folder / "script.vim"
    front = f"let &runtimepath = {vim_string(str(PLUGIN))} . ',' . &runtimepath" if ours else ""
    page.write_text(
        f"set encoding=utf-8 noswapfile\n{front}\nfiletype plugin on\nsyntax on\nredir => g:said\n{script}\nredir END\n"
        f"call writefile([json_encode(g:answer)], {vim_string(str(answer))})\n"
        f"call writefile([json_encode([v:errmsg, g:said])], {vim_string(str(said))})\nqall!\n",
        encoding="utf-8",
    )
    done = subprocess.run(
        ["vim", "-es", "-u", "NONE", "-i", "NONE", "-N", "-S", str(page)],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        check=False,
        cwd=folder,
        env=env,
        timeout=60,
    )
    assert said.is_file(), done.stdout + done.stderr
    trouble, messages = json.loads(said.read_text(encoding="utf-8"))
    assert trouble == "", messages
    return json.loads(answer.read_text(encoding="utf-8"))


def vim_string(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def groups(text: str, folder: Path) -> list[list[str]]:
    """For each line the syntax group that vim gives to each letter, or nothing."""
    page = folder / "page.hides"
    page.write_text(text, encoding="utf-8")
    script = f"""
execute 'silent edit ' . fnameescape({vim_string(str(page))})
let g:answer = []
for s:line in range(1, line('$'))
  let s:row = []
  let s:at = 0
  while s:at < strlen(getline(s:line))
    let s:letter = matchstr(getline(s:line), '.', s:at)
    call add(s:row, synIDattr(synID(s:line, s:at + 1, 1), 'name'))
    " every byte is asked for: synID forgets a match that begins further on when it is asked to leap over one
    for s:byte in range(s:at + 2, s:at + strlen(s:letter))
      call synID(s:line, s:byte, 1)
    endfor
    let s:at += strlen(s:letter)
  endwhile
  call add(g:answer, s:row)
endfor
"""
    return answer_of(script, folder)  # type: ignore[no-any-return]
