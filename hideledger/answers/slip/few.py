"""Where nothing stands out: what is most telling so far, and what all that slipped share and nothing can be compared with."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from hideledger.answers.saying import counted
from hideledger.answers.sheet import Row, Section
from hideledger.answers.slip.compare import FEWEST, LEVEL, PEOPLE, Compared, Exposure, Look
from hideledger.answers.slip.exposures import Season
from hideledger.answers.slip.lives import name_of
from hideledger.answers.slip.outcomes import SLIPPED
from hideledger.answers.slip.told import NEAREST, row_of
from hideledger.answers.slip.words import p_said, share_said, verb
from hideledger.rules.words import listed

# Raised for all looks, a chance of one in five is worth a look at a bath; nobody is to believe it (a judgement, no source).
_WORTH_A_LOOK = 0.2
# What is looked at in the shop comes first of what the very same skins met: a bath can be read, a lot is behind it.
_LOOKED_AT = ("bath", "load", "box", "lot")
_LAY_IN = frozenset({"bath", "load", "lot", "box", "finding", "worn bath", "frost", "raw", "before the door"})
_MOST_SHARED = 6


def most_telling(look: Look) -> Compared | None:
    """Where nothing stands out, one thing tells most all the same.

    It would be seldom by chance if it alone had been looked at, and either is not often by chance after all looks or was met by every skin
    that slipped. People and days tell too little by themselves.
    """
    if any(one.stands_out for one in look.found):
        return None
    for one in look.found:
        seldom = one.p <= LEVEL and one.table.rate > one.table.other_rate
        if seldom and one.exposure.sort not in PEOPLE and (one.adjusted <= _WORTH_A_LOOK or not one.table.other_hit):
            return one
    return None


def names_of(one: Compared) -> str:
    """`bath P2 and lot C-2 (citric acid)`: of what the very same skins met the first two that can be looked at."""
    return listed([exposure.name for exposure in _looked_at_first(one)])


def _looked_at_first(one: Compared) -> list[Exposure]:
    several = [one.exposure, *one.same]
    physical = [exposure for sort in _LOOKED_AT for exposure in several if exposure.sort == sort]
    return physical[:2] or several[:1]


def nearest_to_it(found: Season) -> Section:
    """Where nothing stands out: what tells most so far, said as such, and what all share."""
    if any(one.stands_out for one in found.look.found) or not found.those(SLIPPED):
        return Section(heading="", rows=())
    telling = most_telling(found.look)
    rows = _none_said(found) if telling is None else [_leading_row(telling, found)]
    rows += [Row(text=said) for said in shared_by_all(found)]
    near = [one for one in found.look.found[:NEAREST] if one.table.rate > one.table.other_rate and one is not telling]
    rows += [
        row_of(one, found, in_full=telling is None and not number and one.p <= LEVEL) for number, one in enumerate(near)
    ]
    heading = "Nothing stands out; nearest to it" if telling is None else "Nothing is sure yet; most telling so far"
    return Section(heading=heading if rows else "", rows=tuple(rows), spaced=True)


def _leading_row(one: Compared, found: Season) -> Row:
    """What tells most so far, with where to look next."""
    first, looks = _looked_at_first(one)[0], found.look.looks
    raised = f" alone, {p_said(one.adjusted)} after {counted(looks, 'look')}" if looks > 1 else ""
    said = (
        f"too few skins to be sure; the most telling so far: {share_said(one.table, first.those, found.defect)} "
        f"(p {p_said(one.p)}{raised}): look there first"
    )
    return replace(row_of(one, found, in_full=True, named=first), text=said)


def _none_said(found: Season) -> list[Row]:
    looks = found.look.looks
    if not looks and not (all_of_them(found) and len(found.counted) >= FEWEST):
        return []
    if all_of_them(found):
        text = f"every skin whose end is known {verb(found.defect)}: there is no sound one to compare with, so nothing can be told apart and nothing is cleared"
    elif too_few(found):
        text = f"too few skins to tell: of {counted(looks, 'thing')} looked at none could have stood out, so nothing is cleared by that"
    else:
        text = f"of {counted(looks, 'thing')} looked at none goes with it beyond chance; that clears none of them"
    return [Row(text=text)]


def all_of_them(found: Season) -> bool:
    """Whether every skin whose end is known is one of those that slipped."""
    return all(fate.hit for fate in found.counted)


def too_few(found: Season) -> bool:
    """Whether not even the clearest that these numbers could show would stand out after all looks."""
    smallest = found.look.smallest
    return smallest is None or smallest * found.look.looks > LEVEL


def shared_by_all(found: Season) -> Iterator[str]:
    """What every skin with a known outcome met, or all that slipped and all but one of the others: no other side to compare with."""
    known = frozenset(index for index, fate in enumerate(found.fates) if fate.counts)
    hits = frozenset(index for index, fate in enumerate(found.fates) if fate.hit)
    if len(known) < FEWEST or not hits:
        return
    every: list[Exposure] = []
    but_one: dict[int, list[Exposure]] = {}
    for exposure in sorted(found.exposures, key=lambda one: _rank(one.sort)):
        spared = known - exposure.met
        if exposure.sort not in _LAY_IN or exposure.unsure & known:
            continue
        if not spared:
            every.append(exposure)
        elif len(spared) < FEWEST and not spared & hits and len(hits) >= FEWEST:
            but_one.setdefault(min(spared), []).append(exposure)
    if every:
        yield f"{_all(len(known))} {_met_said(every)}: nothing to compare with"
    for index, several in but_one.items():
        tag = name_of(found.floor, found.fates[index].life)
        yield f"{_all(len(hits))} that {verb(found.defect)} {_met_said(several)}, and of the others only {tag} did not: too few to compare with"


def _all(count: int) -> str:
    return "both" if count == 2 else f"all {count}"


def _rank(sort: str) -> int:
    return _LOOKED_AT.index(sort) if sort in _LOOKED_AT else len(_LOOKED_AT)


def _met_said(several: Sequence[Exposure]) -> str:
    """`lay in P2 and met lot C-2 (citric acid)`."""
    said = [_did(exposure) for exposure in several]
    left = len(said) - _MOST_SHARED
    return listed([*said[:_MOST_SHARED], *([f"{left} more things of this sort"] if left > 0 else [])])


def _did(exposure: Exposure) -> str:
    those = exposure.those
    if those.startswith("with the "):
        return f"had the {those.removeprefix('with the ')}"
    return f"were {those}" if exposure.sort == "load" else those.removeprefix("that ")
