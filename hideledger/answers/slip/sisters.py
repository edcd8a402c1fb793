"""The sisters of a hide: every other one that shares something with it, how they fared, and what they have in common."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from hideledger.answers.slip.lives import by_tag, records_of
from hideledger.answers.slip.outcomes import NOT_YET, Fate, refused_at_the_door
from hideledger.answers.slip.shared import WEIGHTS, Key, Met, Shared, met_by, shared_by, up_to
from hideledger.answers.slip.sign import Case, first_sign
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

_GONE_ON = frozenset({"cut", "opened"})  # it goes on under other tags


@dataclass(frozen=True, slots=True, kw_only=True)
class Sister:
    """Another hide with what it shares with the one asked about, and how it fared."""

    life: HideLife
    shares: tuple[Shared, ...]
    slipped: bool

    @property
    def weight(self) -> float:
        """How much the two share."""
        return sum(shared.weight for shared in self.shares)


def sisters_of(case: Case) -> list[Sister]:
    """Every other hide that shares anything with the one asked about, the most shared first; of equals those that slipped."""
    own = met_by(case.life, case.floor)
    if case.sign is not None:
        own = up_to(own, case.until)
    found = []
    for life in case.floor.all_hides():
        if life is case.life or not can_be_a_sister(life):
            continue
        shares = shared_by(own, met_by(life, case.floor)) + _same_skin(case.life, life)
        if shares:
            found.append(Sister(life=life, shares=shares, slipped=first_sign(life, case.defect) is not None))
    order = {life: number for number, life in enumerate(by_tag(one.life for one in found))}
    found.sort(key=lambda one: (-round(one.weight, 6), not one.slipped, order[one.life]))
    return found


def can_be_a_sister(life: HideLife) -> bool:
    """Whether a skin is looked at under this tag: what was cut or opened goes on under others, what was refused at the door never was here."""
    return life.ended_as not in _GONE_ON and not refused_at_the_door(life) and life.before is None


def _same_skin(life: HideLife, other: HideLife) -> tuple[Shared, ...]:
    """A part and the skin it was cut from, or the box it lay in, where the other still stands under its own tag."""
    if other.parent == life.tag or other.from_box == life.tag:
        sort = "skin" if other.parent == life.tag else "box"
        return (
            Shared(
                met=Met(sort=sort, key=life.tag, name=f"{'cut from' if sort == 'skin' else 'box'} {life.tag}"),
                together=True,
            ),
        )
    return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Company:
    """Of one thing that the hide met with: who else did, and who of them slipped; `same` was met by the very same hides.

    `others` are those of known end that did not, `waiting` those whose end is not known yet, `uncounted` those that had none in
    this shop: what came in with it, was given up for another reason, or lies in a closed box.
    """

    met: Met
    same: tuple[Met, ...]
    slipped: tuple[HideLife, ...]
    others: tuple[HideLife, ...]
    waiting: tuple[HideLife, ...] = ()
    uncounted: tuple[HideLife, ...] = ()

    @property
    def spared(self) -> tuple[HideLife, ...]:
        """All that have not slipped so far, whether their end is known or not."""
        return by_tag((*self.others, *self.waiting, *self.uncounted))

    @property
    def known(self) -> int:
        """Of how many others the end is known."""
        return len(self.slipped) + len(self.others)

    @property
    def left_out(self) -> tuple[HideLife, ...]:
        """Those that no share counts."""
        return by_tag((*self.waiting, *self.uncounted))

    @property
    def weight(self) -> float:
        """Several that slipped count more, and more still where few of the company did not."""
        count = len(self.slipped) + len(self.spared)
        return WEIGHTS[self.met.sort] * len(self.slipped) ** 2 / count if count else 0.0

    def record(self, floor: Floor) -> dict[str, object]:
        """The same for a program."""
        return {
            "sort": self.met.sort,
            "name": self.met.name,
            "the_same_hides": [met.name for met in self.same],
            "failed": [life.tag for life in self.slipped],
            "others": [life.tag for life in self.spared],
            "failed_skins": records_of(floor, self.slipped),
            "other_skins": records_of(floor, self.spared),
            "not_known_yet": records_of(floor, self.waiting),
        }


def companies(case: Case, sisters: Iterable[Sister], fates: Iterable[Fate]) -> list[Company]:
    """Of each thing the hide met with up to its first sign, how many others did and how many of them slipped; the most telling first."""
    slipped: dict[Key, list[HideLife]] = {}
    spared: dict[Key, list[HideLife]] = {}
    for sister in sisters:
        for shared in sister.shares:
            key = (shared.met.sort, shared.met.key)
            (slipped if sister.slipped else spared).setdefault(key, []).append(sister.life)
    groups: dict[tuple[tuple[HideLife, ...], tuple[HideLife, ...]], list[Met]] = {}
    for met in _met_before(case):
        key = (met.sort, met.key)
        groups.setdefault((by_tag(slipped.get(key, ())), by_tag(spared.get(key, ()))), []).append(met)
    found = []
    ends = {fate.life: fate for fate in fates}
    counted = {life for life, fate in ends.items() if fate.counts}
    waiting = {life for life, fate in ends.items() if fate.end == NOT_YET}
    for (hit, others), several in groups.items():
        several.sort(key=lambda met: -WEIGHTS[met.sort])
        found.append(
            Company(
                met=several[0],
                same=tuple(several[1:]),
                slipped=hit,
                others=tuple(life for life in others if life in counted),
                waiting=tuple(life for life in others if life in waiting),
                uncounted=tuple(life for life in others if life not in counted and life not in waiting),
            )
        )
    found.sort(key=lambda one: (-one.weight, -WEIGHTS[one.met.sort]))
    return found


def _met_before(case: Case) -> Iterator[Met]:
    """What can have done it: what it met with up to the first sign; what came after cannot have."""
    for met in met_by(case.life, case.floor).values():
        if not met.spans or min(start for start, _ in met.spans) <= case.until:
            yield met
