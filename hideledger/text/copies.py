"""Copies that sync programs, merges and file windows leave beside a page: named, never read as book.

The forms of the names are those that the makers of such programs describe, and what file windows call a second copy.
Where a true page could have such a name (`november 2.hides`, `2026-11.hides`), the lines in it decide.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection
from pathlib import Path

from hideledger.text.clean import clean
from hideledger.text.left import Left
from hideledger.text.newlines import BYTE_ORDER_MARK

# Nobody names a page like this.
_SURE = re.compile(
    r"\.sync-conflict-[0-9]"  # NAME.sync-conflict-20261103-081500-ABCDEF7.hides
    r"|[(_ .-]conflicted[ _-]copy"  # NAME (Ida's conflicted copy 2026-11-03).hides, NAME_conflicted_copy_….hides
    r"|\(case conflict"  # NAME (Case Conflict 1).hides
    r"|[_.-]conflict[_.-]?[0-9]{4}"  # NAME_conflict-20261103-081500.hides
    r"|\.conflict\.hides$"  # NAME.Conflict.hides
    r"|_[a-z]{3}-[0-9]{2}-[0-9]{4}-[0-9]{4}[_.]"  # NAME_DEVICE_Nov-03-0815-2026_Conflict.hides
    r"|\.orig$|\.bak$",  # what a merge or a careful hand leaves
    re.IGNORECASE,
)
# The state before somebody's last change, kept on purpose: what only stands there was mended since.
_EARLIER = re.compile(r"\.orig$|\.bak$", re.IGNORECASE)
# `october.hides.txt`, as an editor or a phone saves a text; `OCTOBER.HIDES`, as an old memory card has it.
_MISNAMED = re.compile(r"\.hides(?:\.(?:txt|text|md|markdown|rtf))?$", re.IGNORECASE)
_PAGE_LINE = re.compile(
    rb"[0-9]{4}-[0-9]{2}-[0-9]{2}\b|(?:shop|process|vessel|supply|recipe|kind|customer|charge|place) "
)
# What an editor keeps beside a page while it is open, and the state before the last time it was saved: there all the time, no copy of
# anybody's work, and nobody wants to hear of it at every look.
_OF_AN_EDITOR = re.compile(r"~$|^~\$|^#.*#$|^\.#|^\.~lock|\.sw[a-p]$", re.IGNORECASE)
# What may stand behind the name of a page in the name of its copy: ` 2`, ` (1)`, ` - Copy`, `-DEVICE`, `_DEVICE`.
_BREAK = re.compile(r"[ _.(-]")
_BEFORE = re.compile(r"^(?:copy (?:\([0-9]+\) )?of|copy)[ _-]+", re.IGNORECASE)
# A heading that two pages of the same days share: `2026-11-03`, `2026`, `3 Nov 2026`.
_DATE_ALONE = re.compile(rb"^[0-9./-]+$|^[0-9]{1,2}\.? [A-Za-z]{3,9}\.?(?: [0-9]{4})?$")
_LARGEST = 16 * 1024 * 1024  # bytes; no page comes near it, and such a file is not compared


def is_an_editors(name: str) -> bool:
    """Whether a file of this name is an editor's own: never read, and not spoken of."""
    return _OF_AN_EDITOR.search(name) is not None


def copy_left(page: Path, names: Collection[str], ending: str) -> Left | None:
    """What is to be said of a file that is a copy of a page beside it; None where it is a page of its own.

    `names` are the names of all files of its folder.
    """
    name = page.name
    if ending not in name:
        return None
    if _SURE.search(name):
        beside = next(iter(_pages_beside(name, names, ending)), "")
        return _copy(page, beside)
    if name.endswith(ending) and not name.startswith("."):
        for beside in _pages_beside(name, names, ending):
            if _mostly_alike(page, page.with_name(beside)):
                return _copy(page, beside)
    return None


def misnamed_left(page: Path, ending: str) -> Left | None:
    """What is to be said of a page that an editor or a phone saved under another ending; None where it is none."""
    found = _MISNAMED.search(page.name)
    if found is None or page.name.endswith(ending) or not any(_PAGE_LINE.match(line) for line in _lines(page)):
        return None
    right = clean(page.name[: found.start()] + ending)
    said = f"a page of the book, but its name ends in `{clean(found[0])}`; not read: name it `{right}`"
    return Left(path=str(page), said=said, lost=True)


def _pages_beside(name: str, names: Collection[str], ending: str) -> list[str]:
    """Pages whose name is the beginning of this one up to a blank, dot, bracket, hyphen or low line; the longest first."""
    whole = name[: name.rfind(ending)].lstrip(".#~")
    stems = [whole, *(whole[: cut.start()].rstrip(" _.(-") for cut in reversed(list(_BREAK.finditer(whole))))]
    stems.append(_BEFORE.sub("", whole))
    others = (stem + ending for stem in dict.fromkeys(stems) if stem)
    return [other for other in others if other in names and other != name]


def _mostly_alike(page: Path, other: Path) -> bool:
    """Whether half of the lines of one stand in the other: entries and the heads of definitions.

    What stands below a head is left out, since two versions of one process, each in its own file, share most of that.
    """
    here, there = _heads(_lines(page)), _heads(_lines(other))
    both = (here & there).total()
    return both > 0 and 2 * both >= min(here.total(), there.total())


def _heads(lines: Counter[bytes]) -> Counter[bytes]:
    heads: Counter[bytes] = Counter()
    for line, often in lines.items():
        said = line.strip()
        if (said == line or said[:1].isdigit()) and not _DATE_ALONE.search(said):
            heads[said] += often
    return heads


def _copy(page: Path, beside: str) -> Left:
    here = _lines(page)
    other = str(page.with_name(beside)) if beside else ""
    only_here = here - _lines(page.with_name(beside)) if beside else here
    lost = only_here.total()
    if not beside:
        said = "looks like a copy left beside the book; not read"
    elif not here:
        said = f"looks like a copy of {clean(beside)}; not read"
    elif not lost:
        said = f"looks like a copy of {clean(beside)}, where all of its lines stand too; not read"
    else:
        lines = "1 of its lines is" if lost == 1 else f"{lost} of its lines are"
        said = f"looks like a copy of {clean(beside)}; not read, and {lines} not in that page"
    if not lost or _EARLIER.search(page.name):
        return Left(path=str(page), said=said, copy_of=other)
    over = "bring what is missing over, then take the copy out of the folder"
    return Left(path=str(page), said=f"{said}: {over}", copy_of=other, lost=True)


def _lines(page: Path) -> Counter[bytes]:
    """The lines of a file that say something, each as often as it stands there; none of a file that cannot be read."""
    try:
        if not page.is_file() or page.stat().st_size > _LARGEST:
            return Counter()
        body = page.read_bytes()
    except OSError:
        return Counter()
    lines = (line.rstrip() for line in body.removeprefix(BYTE_ORDER_MARK).replace(b"\r", b"\n").split(b"\n"))
    return Counter(line for line in lines if line and not line.lstrip().startswith(b"#"))
