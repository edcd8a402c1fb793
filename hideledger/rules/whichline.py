"""Which line of the shop's processes a hide in a tub goes by, where nobody can read how it came in."""

from __future__ import annotations

from hideledger.model.process import Step
from hideledger.rules.spans import arrival_unread
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import Member
from hideledger.text.place import Place


def lines_of(member: Member, floor: Floor) -> tuple[Step, ...]:
    """The line of its process; of one whose arrival could not be read, every line of that name that the shop has."""
    line = member.stay.line
    if line is not None:
        return (line,)
    if not arrival_unread(member.hide):
        return ()
    return lines_named(member.stay.name, floor)


def lines_named(name: str, floor: Floor) -> tuple[Step, ...]:
    """Every line by the name of a step that the shop's processes have today."""
    return tuple(
        step
        for versions in floor.book.shop.processes.values()
        for step in (versions[-1].steps if versions else ())
        if name.casefold() in (known.casefold() for known in (step.name, *step.others))
    )


def by_line(members: list[Member], floor: Floor) -> list[tuple[Step, list[Member]]]:
    """The lines that hold in a tub, and whose they are."""
    lines: dict[Place, tuple[Step, list[Member]]] = {}
    for member in members:
        for line in lines_of(member, floor):
            lines.setdefault(line.place, (line, []))[1].append(member)
    return list(lines.values())


def known_first(members: list[Member]) -> tuple[tuple[list[Member], bool], ...]:
    """Those whose line is known, and after them those of whom it only may be said: pairs of members and whether in doubt."""
    known = [member for member in members if member.stay.line is not None]
    unread = [member for member in members if member.stay.line is None and arrival_unread(member.hide)]
    return (known, False), (unread, True)
