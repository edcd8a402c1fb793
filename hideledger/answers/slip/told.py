"""What goes with the slip, told: what stands out, what only travels with it, and what comes nearest where nothing does."""

from __future__ import annotations

from collections.abc import Iterator

from hideledger.answers.saying import counted
from hideledger.answers.sheet import Row, Section
from hideledger.answers.slip.compare import LEVEL, SORTS, Compared, Exposure
from hideledger.answers.slip.exposures import Season, outcomes_of
from hideledger.answers.slip.lives import lives_said
from hideledger.answers.slip.strata import Within, within
from hideledger.answers.slip.words import (
    figures_said,
    interval_said,
    next_said,
    of_many,
    p_said,
    share_said,
    times_said,
)
from hideledger.rules.words import listed
from hideledger.trade.attack import Table

NEAREST = 3
_MOST_ALONG = 8
_MOST_LINES = 4
_MOST_NEXT = 3
_MOST_READ = 2
_MOST_BESIDE = 2


def standing_out(found: Season) -> Section:
    """What stands out by itself."""
    alone = found.standing.leading
    return Section(
        heading="What stands out", rows=tuple(row_of(one, found, in_full=True) for one in alone), spaced=True
    )


def going_along(found: Season) -> Section:
    """What stands out only since it travels with something that does so more."""
    along = [look for look in _along(found) if look not in _not_to_be_told_apart(found)]
    rows = [row_of(look.one, found, look=look) for look in along[:_MOST_ALONG]]
    if len(along) > _MOST_ALONG:
        rows.append(Row(text=f"and {len(along) - _MOST_ALONG} more of this sort"))
    return Section(heading="What goes along with it, and little is left of it alone", rows=tuple(rows), spaced=True)


def not_told_apart(found: Season) -> Section:
    """What so nearly the very same skins met that the book cannot say which of the two it was."""
    rows = [row_of(look.one, found, look=look) for look in _not_to_be_told_apart(found)[:_MOST_ALONG]]
    return Section(heading="What cannot be told apart from it yet", rows=tuple(rows), spaced=True)


def _not_to_be_told_apart(found: Season) -> list[Within]:
    return [look for one in found.standing.leading for look in found.standing.beside(one)]


def beside_said(one: Compared, found: Season) -> str:
    """`fleshed by Sal`: the names of what cannot be told apart from one that leads; nothing where there is none."""
    names = [look.one.exposure.name for look in found.standing.beside(one)]
    return listed(
        [*names[:_MOST_BESIDE], *([f"{len(names) - _MOST_BESIDE} more"] if len(names) > _MOST_BESIDE else [])]
    )


def _along(found: Season) -> list[Within]:
    """What is within chance once it is looked at within what leads.

    An owner who comes near to standing out is looked at in the same way: his skins mostly shared more than him.
    """
    along = list(found.standing.along)
    if found.standing.leading:
        along += [look for look in _owners_near(found, found.standing.leading[0]) if look.vanishes]
    return along


def _owners_near(found: Season, strongest: Compared) -> Iterator[Within]:
    outcomes = outcomes_of(found.fates)
    for one in found.look.found:
        if one.exposure.sort == "owner" and not one.stands_out and one.p <= LEVEL and one.risk > 1:
            yield within(one, strongest, outcomes)


def _deciding(one: Compared, found: Season) -> Within | None:
    """Of what leads: the look within the strongest other thing that travels with it, unless that one only goes along."""
    return next((look for look in found.within if look.one is one and not look.vanishes), None)


def row_of(
    one: Compared,
    found: Season,
    *,
    look: Within | None = None,
    in_full: bool = False,
    named: Exposure | None = None,
) -> Row:
    """The counts, the figures beneath; `in_full` also all that helps to look further.

    `named`: which of what the very same skins met is told of; None: the first.
    """
    named = named or one.exposure
    told = share_said(one.table, named.those, found.defect)
    beside = beside_said(one, found)
    if beside:
        told += f"; not to be told apart from {beside}"
    under = [("", figures_said(one, found.look.looks))]
    if one.same:
        others = [same.name for same in (one.exposure, *one.same) if same is not named]
        under.append(("same", f"the very same skins: {listed(others)}"))
    if in_full:
        under += [("read", said) for exposure in (one.exposure, *one.same) for said in exposure.said[:_MOST_READ]]
    if one.against:
        under.append(("others", f"the others are: {listed([other.name for other in one.against])}"))
    if one.unknown:
        under.append(("unsaid", f"{counted(one.unknown, 'skin')} left out, since nobody wrote it of them"))
    waiting = found.waiting(one)
    if waiting:
        tags = lives_said(found.floor, waiting)
        under.append(("still", f"no outcome yet, {one.exposure.name} too: {tags}"))
    tied = found.standing.tied_to(one)
    look = look or (None if tied else _deciding(one, found))
    if look is not None:
        under.append(("apart", _apart_said(look)))
    if tied:
        names = listed([other.one.exposure.name for other in tied])
        under.append(
            (
                "apart",
                f"each explains {names}, below, as {names} {'explains' if len(tied) == 1 else 'explain'} it; things lead before people, then what explains more",
            )
        )
    if in_full:
        sorts = {exposure.sort: exposure for exposure in reversed((one.exposure, *one.same))}
        nexts = [_next(sorts[sort], found) for sort in SORTS if sort in sorts]
        under += [("next" if number == 0 else "or", said) for number, said in enumerate(nexts[:_MOST_NEXT])]
    if one.exposure.lines:
        under.append(("from", _lines_said(one)))
    plain = (one.exposure.sort, one.exposure.name, *_counts(one.table), p_said(one.p), p_said(one.adjusted), told)
    return Row(text=told, under=tuple(under), plain=plain)


def _next(exposure: Exposure, found: Season) -> str:
    """Where to look next; of a bath that was let go nothing is left to read."""
    lives = (found.fates[index].life for index in sorted(exposure.met))
    baths = [stay.bath for life in lives for stay in life.stays if stay.bath is not None]
    gone = any(bath.ended is not None and any(line is bath.made for line in exposure.lines) for bath in baths)
    return next_said(exposure, gone=gone)


def _counts(table: Table) -> tuple[str, str, str, str]:
    return (str(table.hit), str(table.exposed), str(table.other_hit), str(table.others))


def _lines_said(one: Compared) -> str:
    """Where the book tells of it; of many lines the first."""
    places = list(dict.fromkeys(line.at.short for line in one.exposure.lines))
    shown = places[:_MOST_LINES] if len(places) > _MOST_LINES + 1 else places
    return (
        listed(shown) if len(shown) == len(places) else f"{', '.join(shown)} and {len(places) - len(shown)} more lines"
    )


def _apart_said(look: Within) -> str:
    """Like beside like, in counts first."""
    heads = (f"among skins {look.other.exposure.those}", "among the others")
    told = [
        f"{head} {_both(table)}" for head, table in zip(heads, (look.met, look.not_met), strict=True) if table.count
    ]
    if look.untold:
        return f"{'; '.join(told)}: the two cannot be told apart yet in this book"
    risk = ""
    if look.pooled is not None and look.pooled.interval is not None:
        risk = (
            f"{times_said(look.pooled.risk)}{interval_said(look.pooled.interval)}, "
            if look.narrow
            else "how many times as often cannot be told yet, "
        )
    left = "what is left is within chance" if look.vanishes else "that much is left of it"
    if look.turned:
        left = "among those alike it goes with fewer, not with more"
    return f"{'; '.join(told)}. Like beside like: {risk}p {p_said(look.p)}, {left}"


def _both(table: Table) -> str:
    """`7 of 12 with it and 8 of 29 without`."""
    if not table.exposed:
        return f"nobody with it and {of_many(table.other_hit, table.others)} without"
    if not table.others:
        return f"{of_many(table.hit, table.exposed)} with it and nobody without"
    return f"{of_many(table.hit, table.exposed)} with it and {of_many(table.other_hit, table.others)} without"


def going_with_fewer(found: Season) -> Section:
    """What goes with fewer; a breach of a late step is not said to, since those that slipped never came so far."""
    rows = [_brief(one, found) for one in found.look.found if one.spares and one.exposure.sort != "finding"]
    return Section(heading="What goes with fewer", rows=tuple(rows))


def _brief(one: Compared, found: Season) -> Row:
    told = share_said(one.table, one.exposure.those, found.defect)
    plain = (one.exposure.sort, one.exposure.name, *_counts(one.table), p_said(one.p), p_said(one.adjusted), told)
    return Row(text=told, under=(("", figures_said(one, found.look.looks)),), plain=plain)
