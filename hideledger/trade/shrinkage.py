"""The heat at which a wet strip shrinks tells how it was tanned, or that it tells nothing: alum and oil do not raise it above raw skin's.

Ranges in C for finished leather, by ISO 3380 or ASTM D6076 (water up to 98 C, glycerine and water above). Source: the table of shrinkage
temperatures in Conservation Science (RSC 2006), chapter on leather; a taxidermist's thin skins can sit a few degrees lower, and duplicates
agree within 2 C.
"""

from __future__ import annotations

from dataclasses import dataclass

ANOTHER = "misread, or another tan"
DUPLICATES = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tannage:
    """Where a tannage shrinks, and whether it is named by the source above or from memory."""

    name: str
    least: float
    most: float
    source: str = "Conservation Science (RSC 2006), leather"


TANNAGES: tuple[Tannage, ...] = (
    Tannage(name="raw skin", least=58, most=64),
    Tannage(name="oil", least=53, most=56),
    Tannage(name="alum", least=55, most=60),
    Tannage(name="formaldehyde", least=65, most=70),
    Tannage(name="aluminium", least=70, most=80),
    Tannage(name="vegetable, hydrolysable", least=75, most=80),
    Tannage(name="vegetable, condensed", least=80, most=85),
    Tannage(name="glutaraldehyde", least=80, most=85, source="from memory"),
    Tannage(name="synthetic and aluminium", least=75, most=95, source="from memory"),
    Tannage(name="chrome", least=100, most=120),
)
_BY_NAME = {tannage.name: tannage for tannage in TANNAGES}
RAW_MOST = _BY_NAME["raw skin"].most


@dataclass(frozen=True, slots=True, kw_only=True)
class Shrunk:
    """What a reading says: `proves` is `tanned`, `not tanned`, `short of it`, `nothing` or ANOTHER; `fits` the tannages whose range holds it."""

    proves: str
    why: str
    fits: tuple[str, ...]


def fitting(celsius: float) -> tuple[str, ...]:
    """The tannages whose range holds a reading, give or take what duplicates differ by."""
    return tuple(
        tannage.name for tannage in TANNAGES if tannage.least - DUPLICATES <= celsius <= tannage.most + DUPLICATES
    )


def what_it_says(celsius: float, tanned_with: str = "") -> Shrunk:
    """What a strip that shrank at so many C proves of the tannage it was given (a name of TANNAGES; empty: not said).

    Raises KeyError for a tannage not in the table, ValueError for a reading outside 0 to 150 C.
    """
    if not 0 < celsius < 150:
        raise ValueError(f"{celsius:g} C: no skin is tried at that heat")
    fits = fitting(celsius)
    given = _BY_NAME[tanned_with] if tanned_with else None
    if given is not None and given.least <= RAW_MOST + DUPLICATES and given.name != "raw skin":
        if celsius > RAW_MOST + DUPLICATES:
            others = [name for name in fits if name != given.name]
            there = f"; what shrinks there is {' or '.join(others)}" if others else ""
            why = f"higher than {given.name} ({given.least:g} to {given.most:g} C) or a raw skin ({RAW_MOST:g} C at most) gives{there}"
            return Shrunk(proves=ANOTHER, why=why, fits=fits)
        lower = celsius < given.least - DUPLICATES
        why = f"{given.name} does not raise the shrinkage temperature above a raw skin's, so this reading neither proves nor disproves it"
        if lower:
            why += "; lower than a raw skin's, it can be a skin that acid, heat or rot has harmed"
        return Shrunk(proves="nothing", why=why, fits=fits)
    if given is not None and celsius < given.least - DUPLICATES:
        if celsius <= RAW_MOST:
            return Shrunk(
                proves="not tanned",
                why=f"it shrank like a raw skin; {given.name} gives {given.least:g} C or more",
                fits=fits,
            )
        return Shrunk(
            proves="short of it",
            why=f"above a raw skin's but below the {given.least:g} C that {given.name} gives",
            fits=fits,
        )
    if celsius > RAW_MOST + DUPLICATES:
        return Shrunk(proves="tanned", why=f"a raw skin shrinks by {RAW_MOST:g} C", fits=fits)
    why = "a raw skin, an alum and an oil tannage all shrink here; which it is, the figure does not say"
    return Shrunk(proves="nothing", why=why, fits=fits)
