"""What is not known of a hide that is being worked: the bath it lies in, or how it came."""

from __future__ import annotations

from collections.abc import Iterable

from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.spans import arrival_unread, current_spell
from hideledger.rules.telling import TAGS, of_hide, twice_told
from hideledger.rules.tubs import asks_for_bath, baths_for, free_tag, in_liquor, into_vessel
from hideledger.rules.words import in_order, when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife, Stay
from hideledger.text.place import Complaint


def without_its_bath(life: HideLife) -> Stay | None:
    """The stay of a hide here that goes by its bath, and no bath is written."""
    stay = life.stay
    if stay is None or stay.bath is not None or stay.line is None or life.resting is not None or life.ended is not None:
        return None
    return stay if asks_for_bath(stay.line) or in_liquor(stay.line) else None


def no_bath_written(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A skin in a bath is kept by what the bath reads: where the bath is not written, no reading speaks for the skin."""
    unknown = {oddity.tags[0] for oddity in floor.oddities if oddity.sort == "unknown tag"}
    for life in horizon.here:
        stay = without_its_bath(life)
        if stay is None or stay.line is None or stay.where in unknown:
            continue
        spell = current_spell(life)
        line = stay.line
        fitting = baths_for(line, horizon)
        tags = [bath.tag for bath in fitting]
        sort, letters = ("load", "L") if line.sort == "run" else ("bath", "P")
        if stay.where in floor.book.shop.vessels:
            made = free_tag(set(floor.baths) | set(floor.hides), letters)
            asked = f"in {stay.where}, where no {sort} stands"
            do = f"write how that {sort} was made, with its own date: `{made} mixed in {stay.where}`"
        elif tags:
            asked = f"and no {sort} is written" + (f": {' or '.join(in_order(tags))}?" if len(tags) > 1 else "")
            do = (
                f"write it with its {sort}, as of when it went in: `{TAGS} {line.name} in {tags[-1]}`"
                if len(tags) == 1
                else f"write it with the {sort} it lies in, as of when it went in, like this: `{TAGS} {line.name} in {tags[-1]}`"
            )
        else:
            made = free_tag(set(floor.baths) | set(floor.hides), letters)
            vessel = into_vessel(horizon, turns=line.sort == "run")
            asked = f"and no {sort} is written, nor does one stand for it"
            do = (
                f"write how the {sort} was made, with its own date, and that it went in: `{made} mixed{vessel}`, "
                f"and under that `{TAGS} {line.name} in {made}`"
            )
        yield of_hide(
            life,
            name="no bath written",
            when="now",
            message=f"in {line.title} since {when_said(horizon.clock, spell[0].start, horizon.at)}, {asked}",
            do=do,
            entry=stay.mark.entry,
            rule=line.place,
            since=stay.start.lo,
            more=twice_told(horizon.clock, horizon.at, spell[0].start),
            cause=f"line {stay.mark.entry.order}",
            begun=spell[0].start.lo,
        )


def arrival_not_read(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A skin that came in on a line nobody can read is in the tub all the same, and rots like any other."""
    for life in horizon.unread:
        mark = next((mark for mark in reversed(life.marks) if not mark.skipped and mark.name != "in"), None)
        if mark is None:
            continue
        stay = life.stay
        spell = current_spell(life)
        start = spell[0].start if spell else mark.when
        head = f"in {stay.name}" if stay is not None else mark.name
        yield of_hide(
            life,
            name="arrival not read",
            when="now",
            message=f"{head}{' since' if stay is not None else ''} {when_said(horizon.clock, start, horizon.at)}; "
            f"{arrival_said(life, floor)}, so its limits are not known for certain",
            do=f"right that line, or write how it came, with its own date: `{TAGS} in`",
            entry=mark.entry,
            since=mark.when.lo,
            cause=f"line {mark.entry.order}",
        )


def arrival_said(life: HideLife, floor: Floor) -> str:
    """Which line it is: `its arrival (line 2) could not be read`."""
    assert arrival_unread(life)
    named = [complaint for complaint in floor.book.unread if life.tag in complaint.tags]
    line = _coming(named)
    return f"its arrival{f' (line {line.place.line})' if line is not None else ''} could not be read"


def _coming(named: list[Complaint]) -> Complaint | None:
    """The line that says `in`, else the first that names it."""
    for complaint in named:
        if " in" in complaint.text and f"{complaint.text} ".replace(",", " ").split().count("in"):
            return complaint
    return named[0] if named else None
