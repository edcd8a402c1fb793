"""Who is next of a failure that happens at a step: those that have it before them, and what keeps them from it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hideledger.answers.sheet import Row, Section
from hideledger.answers.slip.lives import by_tag, lives_said, name_of, records_of
from hideledger.answers.slip.of_step import still_to_come_to
from hideledger.answers.slip.sign import Case, first_sign
from hideledger.answers.standing import state_of
from hideledger.shopfloor.life import HideLife


@dataclass(frozen=True, slots=True, kw_only=True)
class AtStep:
    """The step at which the failure happens, as the shop calls it, what keeps a skin from it there, and who is still to come to it."""

    name: str
    care: str
    lives: tuple[HideLife, ...]


def still_to_come(case: Case, sort: str, name: str, care: str) -> AtStep:
    """The skins here that have not come to the step and are not finished."""
    return AtStep(
        name=name,
        care=care,
        lives=by_tag(
            life
            for life in case.floor.all_hides()
            if life is not case.life
            and life.declared
            and not life.box
            and still_to_come_to(case.floor, life, sort)
            and first_sign(life, case.defect) is None
        ),
    )


def at_step_section(case: Case, found: AtStep) -> Section | None:
    """One row for all of them; None where there are none."""
    if not found.lives:
        return None
    text = f"before they come to `{found.name}`: {found.care}"
    every = tuple(Row(head=name_of(case.floor, life), text=f"{state_of(life)}; {text}") for life in found.lives)
    return Section(
        heading=f"Who is next: still to come to `{found.name}`",
        rows=(
            Row(
                head=f"{len(found.lives)} skin{'s' if len(found.lives) > 1 else ''}",
                text=f"{lives_said(case.floor, found.lives)}: {text}",
            ),
        ),
        in_plain=every,
    )


def nobody_said(found: AtStep) -> str:
    """Where nobody has the step before him."""
    return f"nobody who is here is still to come to `{found.name}`"


def at_step_records(case: Case, found: AtStep) -> Iterator[dict[str, object]]:
    """The same for a program, with the keys that whoever is next always has."""
    nothing: Sequence[str] = []
    for life, record in zip(found.lives, records_of(case.floor, found.lives), strict=True):
        yield {
            "tag": life.tag,
            "state": state_of(life),
            "shares": nothing,
            "held_since": False,
            "do": f"before it comes to `{found.name}`: {found.care}",
            "broke": None,
            "common": False,
            "foremost": nothing,
            **record,
        }
