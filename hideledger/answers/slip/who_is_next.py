"""Who is next: skins still in the shop that share most with what the failed ones met, those with the strongest ties first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import log10, sqrt

from hideledger.answers.slip.exposures import Season, only_along
from hideledger.answers.slip.lives import by_tag
from hideledger.answers.slip.shared import APART, WEIGHTS, Key, Shared, met_by
from hideledger.answers.slip.sign import Case, first_sign
from hideledger.answers.slip.sisters import Company, Sister, can_be_a_sister
from hideledger.rules.how_far import can_wait
from hideledger.rules.raw import pulled_since
from hideledger.shopfloor.life import HideLife

_FEWEST_HERE = 10  # in a shop with fewer skins than that nothing is what most share
_HELD = 0.3  # a good pull since takes most of the weight off, not all of it: slip shows late
_LEAST_P = 1e-12
_WORTH_NAMING = 0.4  # of the strongest tie of a skin that another must have to be named beside it
_ALONE_NO_TIE = frozenset({"owner", "day", "place"})  # whoever shares only these met with nothing that harms
_PHYSICAL = frozenset({"bath", "load", "lot", "box", "place", "skin"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Next:
    """One skin still here, and how strongly what it shares tells against it (for the order alone).

    `shares` are its ties, the strongest first, and `foremost` those of them to be named; `held` whether its hair held in a
    pull since the last sign and since it met what it shares; `lain` is the part of `weight` that comes of baths, lots and the
    like, a pull left aside; `broke` names the limit that it broke as the hide asked about did; `common` says that it shares
    only what most skins here share.
    """

    sister: Sister
    shares: tuple[Shared, ...]
    foremost: tuple[Shared, ...]
    weight: float
    held: bool
    lain: float = 0.0
    broke: str = ""
    common: bool = False

    @property
    def life(self) -> HideLife:
        """The skin."""
        return self.sister.life

    @property
    def in_it_now(self) -> bool:
        """Whether it lies in the foremost thing at this moment."""
        return bool(self.foremost) and lies_in(self.life, self.foremost[0])


def lies_in(life: HideLife, shared: Shared) -> bool:
    """Whether a skin lies in a shared bath or load now."""
    bath = life.stay.bath if life.stay is not None and life.resting is None else None
    return bath is not None and shared.met.sort in ("bath", "load") and shared.met.key == str(bath.made.order)


def next_in_line(
    case: Case, sisters: Sequence[Sister], met: Sequence[Company], season: Season, broke: Mapping[HideLife, str]
) -> list[Next]:
    """The skins still here that did not fail stand in the order in which they are to be looked at.

    Those that broke the same limit first, then those that can still be saved, then those past their baths; among them those with the
    strongest ties. `broke` are those that broke the limit to which the sheet points first, each with its name. Of equal ties
    whoever lies in the thing now comes first, then who has been raw for longest.
    """
    against = _strengths(case, met, season)
    signs = [
        sign.when.lo for life in (case.life, *(one.life for one in sisters)) if (sign := first_sign(life, case.defect))
    ]
    if not signs:
        return []
    found = []
    common, leading = _shared_by_most(case, sisters, season), _leading(season)
    for sister in (*sisters, *_broke_it_alone(case, sisters, broke)):
        life = sister.life
        if sister.slipped or not life.here or life.box or not life.declared:
            continue
        ties = [one for one in sister.shares if against.get(_key(one), 0.0) > 0]
        limit = broke.get(life, "")
        lain = any(one.met.sort in _PHYSICAL for one in ties)
        if not limit and not lain and (len(ties) < 2 or case.defect != "slip"):
            continue  # one owner, or one day, is no tie by itself, and both together only of hair that came loose raw
        weights = {_key(one): against[_key(one)] * (1.0 if one.together else APART) for one in ties}
        ties.sort(key=lambda one: -weights[_key(one)])
        foremost = _foremost(ties, weights)
        if not limit and not worth_a_look(case, life, foremost, leading):
            continue
        since = max(*signs, _met_at(life, foremost, case))
        held = case.defect == "slip" and pulled_since(life, since)
        found.append(
            Next(
                sister=sister,
                shares=tuple(ties),
                foremost=foremost,
                lain=round(sum(weights[_key(one)] for one in ties if one.met.sort not in _ALONE_NO_TIE), 6),
                weight=sum(weights.values()) * (_HELD if held else 1.0),
                held=held,
                broke=limit,
                common=not limit and all(_key(one) in common for one in ties),
            )
        )
    order = {life: number for number, life in enumerate(by_tag(one.life for one in found))}
    found.sort(
        key=lambda one: (
            one.common,
            not one.broke or one.held,
            can_wait(one.life, case.clock, case.at),
            -round(one.weight, 6),
            not one.in_it_now,
            -_raw_hours(one.life),
            order[one.life],
        )
    )
    return found


def worth_a_look(case: Case, life: HideLife, ties: Sequence[Shared], leading: frozenset[str] = frozenset()) -> bool:
    """Whether what a skin shares is worth a pull: of one past its baths salt, an owner, a day or a place is not, unless the season points at it."""
    if not can_wait(life, case.clock, case.at):
        return True
    return any(
        one.met.counted_as in leading
        or (one.met.sort in _PHYSICAL - {"place"} and not (one.met.sort == "lot" and one.met.key.startswith("salt ")))
        for one in ties
    )


def _leading(season: Season) -> frozenset[str]:
    return frozenset(exposure.name for one in season.standing.leading for exposure in (one.exposure, *one.same))


def _met_at(life: HideLife, foremost: Sequence[Shared], case: Case) -> int:
    """When a skin met the last of what ties it most (UTC seconds): a pull at the door, before that, has proved nothing."""
    met = met_by(life, case.floor)
    own = [found.spans for one in foremost if (found := met.get(_key(one))) is not None and found.spans]
    return max((min(start for start, _ in spans) for spans in own), default=0)


def _key(shared: Shared) -> Key:
    return (shared.met.sort, shared.met.key)


def _broke_it_alone(case: Case, sisters: Sequence[Sister], broke: Mapping[HideLife, str]) -> list[Sister]:
    """Those that broke the same limit and share nothing else with the hide asked about."""
    known = {id(sister.life) for sister in sisters}
    return [
        Sister(life=life, shares=(), slipped=first_sign(life, case.defect) is not None)
        for life in case.floor.all_hides()
        if life in broke and life is not case.life and id(life) not in known
    ]


def _foremost(ties: Sequence[Shared], weights: Mapping[Key, float]) -> tuple[Shared, ...]:
    """The ties to be named: none far weaker than the first, and no lot that came only by way of a bath that is named."""
    least = _WORTH_NAMING * max(weights.values(), default=0.0)
    strong = [one for one in ties if weights[_key(one)] >= least]
    baths = {one.met.key for one in strong if one.met.sort in ("bath", "load")}
    return tuple(one for one in strong if one.met.sort != "lot" or not one.met.by_way_of <= baths)


def _shared_by_most(case: Case, sisters: Sequence[Sister], season: Season) -> frozenset[Key]:
    """Lots, places, owners and days that most skins here have met, unless the season points at them: they tell nobody apart."""
    here = [one for one in case.floor.all_hides() if one.here and one.declared and not one.box]
    if len(here) < _FEWEST_HERE:
        return frozenset()
    leading = _leading(season)
    met: dict[Key, int] = {}
    for sister in sisters:
        for shared in sister.shares if sister.life.here else ():
            if shared.met.sort in ("lot", "place", "owner", "day") and shared.met.counted_as not in leading:
                met[_key(shared)] = met.get(_key(shared), int(case.life.here)) + 1
    return frozenset(key for key, count in met.items() if 2 * count > len(here))


def _raw_hours(life: HideLife) -> int:
    return life.raw.shop[1] if life.raw is not None else 0


def _explained(case: Case, season: Season) -> frozenset[HideLife]:
    """Those that met what leads in the season where the hide asked about did not: their failing tells nothing of its company."""
    found: set[HideLife] = set()
    for one in season.standing.leading:
        met = [season.fates[index].life for index in one.exposure.met]
        if all(life is not case.life for life in met):
            found |= set(met)
    return frozenset(found)


def _beyond(hit: int, count: int, usual: float) -> float:
    """By how many standard deviations more failed than of so many others; nothing where no more did."""
    spread = sqrt(count * usual * (1 - usual))
    return max(0.0, hit - count * usual) / spread if spread else 0.0


def _strengths(case: Case, met: Sequence[Company], season: Season) -> dict[Key, float]:
    """How much each thing that the hide met tells against whoever met it too: how many more failed with it than of as many others.

    The hide itself is one of those that failed there. A lot of salt that nearly all have met has no more than its share of
    those that failed, however many that are; what only travels along with something that leads has nothing of its own; and
    those whose failing something else explains are left out.
    """
    left_out, compared = _explained(case, season), season.by_name
    every = [life for life in case.floor.all_hides() if can_be_a_sister(life) and life not in left_out]
    usual = sum(first_sign(life, case.defect) is not None for life in every) / max(1, len(every))
    own = [found for one in met if (found := compared.get(one.met.counted_as)) is not None]
    # without something that leads, a few skins would let everything travel along with everything
    leads = any(one is lead for one in own for lead in season.standing.leading)
    along = only_along(season, own) if leads else frozenset()
    strengths: dict[Key, float] = {}
    for company in met:
        hit = sum(life not in left_out for life in company.slipped) + (case.sign is not None)
        count = hit + sum(life not in left_out for life in company.spared)
        for thing in (company.met, *company.same):
            found = compared.get(thing.counted_as)
            more = found is not None and found.table.rate > found.table.other_rate
            seldom = 1.0 - log10(max(found.p, _LEAST_P)) if more and found is not None else 1.0
            beyond = 0.0 if thing.counted_as in along else _beyond(hit, count, usual) * seldom
            strengths[thing.sort, thing.key] = WEIGHTS[thing.sort] * (beyond + hit / count) if hit else 0.0
    return strengths
