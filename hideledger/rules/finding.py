"""A finding: what is not as the shop's own lines want it, and what to do."""

from __future__ import annotations

from dataclasses import dataclass

from hideledger.model.entry import Entry
from hideledger.text.place import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One cause, the hides behind it.

    `name` is the plain words (`came out early`); `when` is `now`, `tonight` or `record`; only the first two ring.
    `may`: holds only for some reading of times or facts not written. `tags` hides first, then the bath. `place` of the
    entry it comes from; `rule` the line it breaks. `since` UTC seconds at which the fault began or the limit falls;
    `over_s` seconds past it (negative: still to come; None: not a matter of time); `limit_s` length of the broken
    limit, for the order (shortest first). `message` one sentence without tags' list; `do` the act, down to the line to
    write. `more` further places, each a sentence of its own (`put in at page.hides:14`). `rings` False for a `now`
    matter that is told but wakes nobody.
    """

    name: str
    when: str
    message: str
    do: str
    tags: tuple[str, ...]
    entry: Entry | None = None
    place: Place | None = None
    rule: Place | None = None
    may: bool = False
    since: int | None = None
    over_s: int | None = None
    limit_s: int | None = None
    more: tuple[str, ...] = ()
    held: str = ""  # what the message says before it comes to the hour: `in pickle since Mon 2 Nov 08:00, 14 d at most`
    rings: bool = True
    hurts: bool = False  # a person stands by it who may be hurt: told before all else that is for now
    ended: bool = False  # about hides no longer here or baths let go: told only with --all
    cause: str = ""  # findings of one name with the same cause are told as one; empty: told alone
    begun: int | None = None  # when the stay or the fault began, for a waiver; None: as `since`
    days: tuple[int, int] | None = (
        None  # first and last day (ordinals) on which a line could answer it; None: that of `since`
    )
