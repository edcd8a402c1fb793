"""What a bath that stands wants before a load goes into it: a reading out of its range is put right first."""

from __future__ import annotations

from collections.abc import Iterable

from hideledger.model.entry import Entry
from hideledger.model.facts import Took
from hideledger.model.process import Step
from hideledger.rules.bathempty import Wrong, wrong_for
from hideledger.rules.horizon import Horizon
from hideledger.rules.never import is_sour
from hideledger.rules.readings import is_over
from hideledger.rules.righting import inside
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife

_NEUTRAL = 7


def before_they_go_in(floor: Floor, horizon: Horizon, bath: BathLife, steps: Iterable[Step]) -> list[tuple[str, str]]:
    """What is said beside a load: how its bath reads wrong for these steps, what to do about it, and the line to write. Nothing where all is right."""
    said = []
    for wrong in wrong_for(bath, list(dict.fromkeys(steps)), floor, horizon):
        said.append(("mind", f"{bath.tag} read {wrong.said}: to be seen to before they go in"))
        reckoned = _reckoned(bath, wrong)
        said.append(("do", f"{wrong.right}{f'; {reckoned} reckons the dose' if reckoned else ''}"))
    return said


def _reckoned(bath: BathLife, wrong: Wrong) -> str:
    """The request by which the dose is reckoned, where one brings the bath in: with the acid it was made with, or with salt."""
    over = is_over(wrong.last.fact, wrong.limits)
    goal = inside(wrong.last.fact, wrong.limits).split()
    if not wrong.sure:
        return ""
    if wrong.what == "salt":
        return f"`brine {bath.tag} to {' '.join(goal)}`"
    acid = next((name for entry in bath.lines for name in _acids(entry)), "")
    alkaline = wrong.limits.least is not None and wrong.limits.least.value >= _NEUTRAL
    if wrong.what != "pH" or not over or alkaline or not acid:
        return ""
    return f"`acid {bath.tag} to pH {goal[1]} with {acid}`"


def _acids(entry: Entry) -> list[str]:
    return [fact.amount.supply for fact in entry.facts if isinstance(fact, Took) and is_sour((fact.amount.supply,))]
