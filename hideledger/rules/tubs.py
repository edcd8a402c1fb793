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
        if not stood_at(bath, instant):
            continue
        been = {member.stay.name.casefold() for member in bath.members}
        if bath.recipe.casefold() in names or been & names:
            known.append(bath)
        elif been or (bath.vessel in horizon.drums) != (step.sort == "run"):
            continue
        elif not bath.recipe or bath.recipe.casefold() not in horizon.step_names:
            perhaps.append(bath)
    return known or perhaps


def stood_at(bath: BathLife, instant: int) -> bool:
    """Whether a bath was made by an instant (UTC seconds), and not let go."""
    return bath.made_when.lo <= instant and (bath.ended_when is None or bath.ended_when.lo > instant)


def step_line(step: Step, horizon: Horizon, at: int | None = None, own: BathLife | None = None) -> str:
    """A step as a line names it: `shaved`, or `pickle in P3` where it is one that goes by its bath and one stands.

    `own` the load a hide lies in now, in which a further run goes on where no other load fits.
    """
    return lines_for(step, horizon, at, own)[-1]


def lines_for(step: Step, horizon: Horizon, at: int | None = None, own: BathLife | None = None) -> tuple[str, ...]:
    """A step is written with these lines: its own stands last, without the tags at its head.

    Before it, where it cannot be done without a bath or load and none stands, how that is made (`L2 mixed in D1`).
    """
    if not asks_for_bath(step) and not in_liquor(step):
        return (step.name,)
    fitting = baths_for(step, horizon, at)
    if fitting:
        return (f"{step.name} in {fitting[-1].tag}",)
    if not in_liquor(step):
        return (step.name,)
    turns = step.sort == "run"
    if turns and own is not None and own.ended is None and own.vessel in horizon.drums:
        return (f"{step.name} in {own.tag}",)
    made = free_tag({bath.tag for bath in horizon.baths}, "L" if turns else "P")
    return f"{made} mixed{into_vessel(horizon, turns=turns)}", f"{step.name} in {made}"


def into_vessel(horizon: Horizon, *, turns: bool = False) -> str:
    """` in T2`: a vessel of the shop that is free, else the first of its sort; nothing where the shop has none, since no line may name one that is not there."""
    vessels = sorted(horizon.drums) if turns else horizon.tubs
    full = {bath.vessel for bath in horizon.standing}
    vessel = next((tag for tag in vessels if tag not in full), next(iter(vessels), ""))
    return f" in {vessel}" if vessel else ""


def asked(head: str, step: Step, horizon: Horizon, own: BathLife | None = None) -> str:
    """The step to do now, as lines to paste: mix the load first where none stands."""
    *making, line = lines_for(step, horizon, own=own)
    what = "load" if step.sort == "run" else "bath"
    return "".join(f"mix the {what} first, `{made}`, then " for made in making) + f"`{head} {line}`"


def in_liquor(step: Step) -> bool:
    """Whether a step is done in a bath or a load: it says so, or it is one that turns."""
    return step.in_bath or step.sort == "run"


def free_tag(tags: set[str], letters: str) -> str:
    """The next tag of a sort that nothing in the book bears: `P4`."""
    numbers = [int(tag[len(letters) :]) for tag in tags if tag.startswith(letters) and tag[len(letters) :].isdecimal()]
    return f"{letters}{max(numbers, default=0) + 1}"
