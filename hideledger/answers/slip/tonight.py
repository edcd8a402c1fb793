"""What to do tonight with a skin that may be next: the look that all of them want, what its own place asks for, and the line to write."""

from __future__ import annotations

from hideledger.answers.saying import ago, point
from hideledger.answers.slip.causes import CAUSES
from hideledger.answers.slip.sign import Case
from hideledger.answers.slip.words import one_of
from hideledger.answers.standing import next_steps
from hideledger.rules.how_far import can_wait, is_tanned
from hideledger.rules.readings import reading_said
from hideledger.rules.spans import to_come
from hideledger.rules.telling import TAGS
from hideledger.shopfloor.doings import NEUTRALISED, PICKLE, sort_of
from hideledger.shopfloor.life import BathLife, HideLife


def the_look(defect: str) -> str:
    """How one looks for a failure: the gentle pull for slip, the cut for a raw streak, else what tells it."""
    if defect == "slip":
        return "pull gently at ears, brisket, belly and round every wound"
    if defect == "raw streak":
        return "cut at the thickest place and look"
    cause = CAUSES.get(defect)
    looking = "see whether it shrank" if defect == "shrunk" else f"look for {one_of(defect)}"
    return looking + (f": {cause.tell}" if cause is not None else "")


def found_nothing(defect: str) -> str:
    """What is written, behind the tags, of those that were looked at and are sound."""
    return {"slip": "pull test ok", "raw streak": "cut test ok"}.get(
        defect, f"remark looked at, {'not' if defect == 'shrunk' else 'no'} {defect}"
    )


def found_it(defect: str) -> str:
    """What is written, behind the tag, of one that is not."""
    return "slip, slight" if defect == "slip" else defect


def tonight(case: Case, life: HideLife) -> str:
    """All that is to be done with one of them, down to the line to write."""
    write = f"write `{TAGS} {found_nothing(case.defect)}`, or `{TAGS} {found_it(case.defect)}`"
    look = the_look(case.defect)
    if life.resting is not None:
        return f"leave it {life.resting.name}; when it is thawed, before anything else {look}, and {write}"
    if can_wait(life, case.clock, case.at):
        return f"before it goes {look}, and {write}"
    return f"{'; '.join(part for part in (look, own_part(case, life)) if part)}; {write}"


def own_part(case: Case, life: HideLife, *, read: bool = False, held: bool = False) -> str:
    """What its own place asks for beside the look: a reading (unless that was asked for: `read`), the cold, the next step.

    One whose hair `held` since is only kept cold where it must be; a tanned one is only looked at, and one that is ready before it goes.
    """
    if life.resting is not None:
        return f"leave it {life.resting.name}, and look when it is thawed, before anything else"
    if can_wait(life, case.clock, case.at):
        return "" if held else "look before it goes"
    parts = []
    stay = life.stay
    bath = stay.bath if stay is not None else None
    sort = sort_of(stay.mark, stay, life) if stay is not None else ""
    if bath is not None and not read and not held:
        parts.append(f"read {bath.tag} ({_last_read(case, bath)})")
    if is_tanned(life):
        pass  # neither cold nor acid is for it
    elif life.raw is not None and life.raw.running:
        parts.append(_off_the_clock(life))
    elif not held and (stay is None or sort in (PICKLE, NEUTRALISED)):
        parts.append(_go_on(case, life))
    return "; ".join(part for part in parts if part)


def _last_read(case: Case, bath: BathLife) -> str:
    ph = [one for one in bath.readings if one.fact.what == "pH"]
    if not ph:
        return "no pH of it is written"
    last = max(ph, key=lambda one: (one.when.hi, one.entry.order))
    return f"last {reading_said(last.fact)} {point(last.when.lo, case.clock, case.at)}, {ago(last.when.lo, case.at)}"


def _off_the_clock(life: HideLife) -> str:
    """It is raw: cold, or the first step of its own process that stops the raw clock."""
    step = next((one for one in to_come(life) if one.raw == "stops"), None)
    return "get it cold" + (f", or on to {step.title}: `{TAGS} {step.name}`" if step is not None else "")


def _go_on(case: Case, life: HideLife) -> str:
    steps = [step for step in next_steps(life) if step.name != "out"]
    sound = "if the hair holds" if case.defect == "slip" else "if it is sound"
    return f"{sound}, on by your process: {' or '.join(step.title for step in steps)}" if steps else ""
