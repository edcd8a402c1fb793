"""The sheet of a season: which of all that the skins met goes with the slip, in plain words, the figures after."""

from __future__ import annotations

from datetime import date

from hideledger.answers.saying import counted, now_words, unread_said
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.slip.compare import LEVEL
from hideledger.answers.slip.exposures import Season, season
from hideledger.answers.slip.few import all_of_them, most_telling, names_of, nearest_to_it, too_few
from hideledger.answers.slip.lives import lives_said
from hideledger.answers.slip.months import Month, change_in, months
from hideledger.answers.slip.outcomes import (
    AFTER_OUT,
    AT_DOOR,
    GONE,
    HELD,
    NEVER_CAME,
    NOT_YET,
    REFUSED,
    SLIPPED,
    THROUGH,
    Fate,
)
from hideledger.answers.slip.record import season_record
from hideledger.answers.slip.told import beside_said, going_along, going_with_fewer, not_told_apart, standing_out
from hideledger.answers.slip.words import of_many, p_said, percent, verb
from hideledger.rules.words import listed
from hideledger.shopfloor.floor import Floor
from hideledger.trade.attack_change import Change

_MOST_MONTHS = 24


def slip_season(floor: Floor, defect: str = "slip", *, first: int | None = None, last: int | None = None) -> Sheet:
    """The whole answer for skins that came in from day `first` to day `last` (ordinals; None: no end)."""
    found = season(floor, defect, first=first, last=last)
    row = months(found.fates)
    change = change_in(row)
    sections = [
        standing_out(found),
        not_told_apart(found),
        going_along(found),
        nearest_to_it(found),
        going_with_fewer(found),
        _by_month(found, row, change),
        _what_counts(found, floor),
        _how_much(found),
    ]
    return Sheet(
        title=_title(found, floor, first, last),
        sections=tuple(section for section in sections if section.rows),
        title_in_plain=True,
        record=season_record(found, floor, row, change, (first, last)),
    )


def _title(found: Season, floor: Floor, first: int | None, last: int | None) -> str:
    name = floor.book.shop.shop.name or "the book"
    stretch = ""
    if first is not None or last is not None:
        stretch = ", in" + (f" from {date.fromordinal(first).isoformat()}" if first is not None else "")
        stretch += f" to {date.fromordinal(last).isoformat()}" if last is not None else ""
    hits, all_known = len(found.those(SLIPPED)), len(found.counted)
    told = (
        f"{of_many(hits, all_known)} skin{'s' if all_known > 1 else ''}{f' that came to `{found.step.name}`' if found.step is not None else ''} {verb(found.defect)}"
        if all_known
        else "no skin has an outcome yet"
    )
    held, waiting = len(found.those(HELD)), len(found.those(NOT_YET))
    told += f", {held} of the others only held so far" if held else ""
    told += f", {waiting} not known yet" if waiting and all_known else ""
    leading = found.standing.leading
    if leading:
        beside = beside_said(leading[0], found)
        told += f", most telling: {leading[0].exposure.name}"
        told += f", not to be told apart from {beside}" if beside else ""
    elif hits:
        telling = most_telling(found.look)
        if telling is not None:
            told += f", too few to be sure, most telling so far: {names_of(telling)}"
        elif all_of_them(found):
            told += ", all of them: none to compare with"
        else:
            told += ", too few to tell by" if too_few(found) else ", nothing stands out"
    return f"{name}, {found.defect}{stretch}: {told} (looked at {now_words(floor.at, floor.book.clock)})"


def _by_month(found: Season, row: tuple[Month, ...], change: tuple[Change, Month] | None) -> Section:
    rows = []
    older = row[:-_MOST_MONTHS]
    if older:
        hit, count = sum(month.hit for month in older), sum(month.count for month in older)
        rows.append(Row(head="before", text=f"{of_many(hit, count)} {verb(found.defect)}"))
    for month in row[-_MOST_MONTHS:]:
        told = "no outcome yet" if month.interval is None else f"{of_many(month.hit, month.count)} {verb(found.defect)}"
        if month.interval is not None:
            told += f", {percent(month.hit / month.count)} (95 %: {percent(month.interval.low)} to {percent(month.interval.high)})"
        if month.held:
            told += f"; {_held_said(month)}"
        if month.waiting:
            told += f"; {month.waiting} {'more ' if month.interval is not None else ''}not known yet"
        rows.append(Row(head=month.name, text=told))
    if not rows:
        return Section(heading="", rows=())
    if found.those(SLIPPED):
        rows.append(Row(text=_change_said(row, change, found.defect)))
    return Section(heading="By the month they came in", rows=tuple(rows))


def _held_said(month: Month) -> str:
    """`2 of the other 5 only held so far`: of those that did not."""
    others = month.count - month.hit
    if month.held == others:
        return "the other one only held so far" if others == 1 else f"the other {others} only held so far"
    return f"{month.held} of the other {others} only held so far"


def _change_said(row: tuple[Month, ...], change: tuple[Change, Month] | None, defect: str) -> str:
    left = [month.name for month in row if not month.judged]
    without = (
        f"; left out, since those that {'slip' if defect == 'slip' else verb(defect)} are known first: {listed(left)}"
        if left
        else ""
    )
    if change is None:
        return f"whether the rate has changed cannot be told yet{without}"
    what, since = change
    if what.p > LEVEL:
        return f"no change from one month to another beyond chance (p {p_said(what.p)}){without}"
    return (
        f"the rate has changed: {of_many(*what.before)} before {since.name}, {of_many(*what.after)} from then on "
        f"(p {p_said(what.p)}, for a change at any month){without}"
    )


def _explained(found: Season) -> list[Row]:
    """In plain words what the figures mean, for whoever has never met them."""
    looks = found.look.looks
    if not looks:
        return []
    after = (
        "p is how often chance alone would give so uneven a share, or one more uneven: 0.01 is once in a hundred"
        + (
            f"; after {counted(looks, 'look')} it is raised, for who looks at many things finds something by chance"
            if looks > 1
            else ""
        )
    )
    rows = [Row(text=after)]
    if found.within:
        rows.append(
            Row(
                text="like beside like: two things that mostly come together are looked at apart: those that met the one, with and without the other, then those that did not",
            )
        )
    return rows


def _what_counts(found: Season, floor: Floor) -> Section:
    rows = [
        _ends(floor, found.those(SLIPPED), verb(found.defect)),
        _ends(floor, found.those(THROUGH), _through_said(found), named=False),
        _ends(
            floor,
            found.those(HELD),
            f"held so far: past the stage at which those beside them {'slipped' if found.defect == 'slip' else 'showed it'}, counted as sound; that can still change",
        ),
        _ends(
            floor,
            found.those(NOT_YET),
            f"not come to `{found.step.name}` yet, not counted"
            if found.step is not None
            else "no outcome yet, not counted",
        ),
        _ends(floor, found.those(AT_DOOR), f"came in with {found.defect}, no outcome of this shop, not counted"),
        _ends(
            floor,
            found.those(AFTER_OUT),
            "told of after it was out, not counted: did it come back, or is the tag another's",
        ),
        _ends(floor, found.those(GONE), "given up for another reason, not counted"),
        _ends(floor, found.those(REFUSED), "refused at the door, not counted"),
        _ends(
            floor,
            found.those(NEVER_CAME),
            f"gone on without `{found.step.name}`, not counted" if found.step is not None else "",
        ),
    ]
    if floor.book.unread:
        rows.append(
            Row(
                text=f"not read: {unread_said(floor.book)} of the book, shown by `hideledger check`; what stands there is not counted"
            )
        )
    return Section(heading="What was counted", rows=tuple(row for row in rows if row is not None))


def _through_said(found: Season) -> str:
    if found.step is None:
        return "came through: out, or past the last bath"
    return f"came through: came to `{found.step.name}`, and no {found.defect} is written"


def _ends(floor: Floor, those: tuple[Fate, ...], told: str, *, named: bool = True) -> Row | None:
    if not those:
        return None
    tags = f": {lives_said(floor, (fate.life for fate in those))}" if named else ""
    return Row(head=str(len(those)), text=f"{told}{tags}")


def _how_much(found: Season) -> Section:
    hits, known, looks = len(found.those(SLIPPED)), len(found.counted), found.look.looks
    if not hits:
        return Section(heading="", rows=())
    rows = []
    if looks == 1:
        rows.append(
            Row(
                text=f"one thing that skins met was looked at; what stands out has {LEVEL} or less (Fisher's exact test)"
            )
        )
    elif looks:
        rows.append(
            Row(
                text=f"{counted(looks, 'thing')} that skins met were looked at, so each p is raised: after so many looks something is found by chance (by the way of Benjamini and Hochberg 1995); "
                f"what stands out has {LEVEL} or less"
            )
        )
    if all_of_them(found):
        rows.append(Row(text="where all of them did, no comparison can be made, however many they are"))
    elif looks and found.look.smallest is not None:
        least = min(1.0, found.look.smallest * looks)
        rows.append(
            Row(
                text=f"with {hits} of {known} the clearest that any of these could show is p {p_said(found.look.smallest)}"
                + (f" alone, {p_said(least)} after {counted(looks, 'look')}" if looks > 1 else "")
                + (": these are too few to point at anything yet" if least > LEVEL else "")
            )
        )
    elif not looks:
        rows.append(Row(text="nothing could be looked at: two skins at least must have met a thing, and two not"))
    rows += _explained(found)
    rows.append(
        Row(
            text="what goes with it need not have done it: it is where to look next; and what nobody wrote was not looked at"
        )
    )
    return Section(heading="How much these numbers can tell", rows=tuple(rows))
