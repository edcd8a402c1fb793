"""Which tub a step is done in: a line to write names the bath that stands for it, since nobody can guess it later."""

from __future__ import annotations

from hideledger.model.process import Step
from hideledger.rules.horizon import Horizon
from hideledger.shopfloor.life import BathLife


def asks_for_bath(step: Step) -> bool:
    """Whether a step is judged by its bath: one with a pH range, or read or stirred every so often."""
    return step.ph is not None or step.read_every is not None or step.stirred_every is not None


def baths_for(step: Step, horizon: Horizon, at: int | None = None) -> list[BathLife]:
    """The baths that stood at an instant (now where none is given) and fit a step, the oldest first.

    One made by a recipe of that name, or in which others were for that step, goes before those that nothing is known of; one that
    was used for something else does not fit.
    """
    instant = horizon.at if at is None else at
    known: list[BathLife] = []
    perhaps: list[BathLife] = []
    names = {name.casefold() for name in (step.name, step.title, *step.others)}
    for bath in horizon.baths:
        if bath.made_when.lo > instant or (bath.ended_when is not None and bath.ended_when.lo <= instant):
            continue
        been = {member.stay.name.casefold() for member in bath.members}
        if bath.recipe.casefold() in names or been & names:
            known.append(bath)
        elif been or (bath.vessel in horizon.drums) != (step.sort == "run"):
            continue
        elif not bath.recipe or bath.recipe.casefold() not in horizon.step_names:
            perhaps.append(bath)
    return known or perhaps


def step_line(step: Step, horizon: Horizon, at: int | None = None) -> str:
    """A step as a line names it: `shaved`, or `pickle in P3` where it is one that goes by its bath and one stands."""
    if not asks_for_bath(step) and not step.in_bath:
        return step.name
    fitting = baths_for(step, horizon, at)
    return f"{step.name} in {fitting[-1].tag}" if fitting else step.name


def free_tag(tags: set[str], letters: str) -> str:
    """The next tag of a sort that nothing in the book bears: `P4`."""
    numbers = [int(tag[len(letters) :]) for tag in tags if tag.startswith(letters) and tag[len(letters) :].isdecimal()]
    return f"{letters}{max(numbers, default=0) + 1}"
