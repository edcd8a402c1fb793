"""What two tests of leather say of a hide: the heat at which a strip of it shrinks, and the acid that is left in it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hideledger.model.facts import Reading, Shrinks
from hideledger.model.moments import DAY
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.telling import of_hide
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.shopfloor.noted import Taken
from hideledger.trade.extract import difference_figure, shows_strong
from hideledger.trade.shrinkage import TANNAGES, Shrunk, what_it_says

# The ranges are those of finished leather; a taxidermist's thin skins can sit a few degrees lower (our own figure).
_THIN_SKINS = 5.0
_LEAST = {tannage.name: tannage.least for tannage in TANNAGES}


@dataclass(frozen=True, slots=True, kw_only=True)
class Acid:
    """The difference figure of a hide by two readings of its extract, or the sentence that says why there is none."""

    figure: float | None
    said: str
    strong: bool = False


def is_tanned_by_then(life: HideLife, taken: Taken) -> bool:
    """Whether a hide had come to the step at which its tanning begins; a process that marks none leaves it open, and it counts."""
    process = life.process
    if process is None or not any(step.tanning for step in process.steps):
        return True
    return any(
        mark.line is not None and mark.line.tanning and not mark.skipped and mark.when.lo <= taken.when.hi
        for mark in life.marks
    )


def shrinkage(life: HideLife, taken: Taken) -> Shrunk | None:
    """What a strip that shrank says of the tannage of its process; None where no skin is tried at such a heat, or it is not tanned yet."""
    if not isinstance(taken.fact, Shrinks) or not is_tanned_by_then(life, taken):
        return None
    tannage = life.process.tannage if life.process is not None else ""
    try:
        return what_it_says(_celsius(taken.fact), tannage)
    except ValueError:
        return None


def _celsius(fact: Shrinks) -> float:
    return float(fact.temperature.to("C"))


def heat_said(fact: Shrinks) -> str:
    """The heat as it was written; in F with C behind it, since the ranges are known in C: `172 F (78 C)`."""
    return f"{fact.temperature}" if fact.temperature.unit == "C" else f"{fact.temperature} ({_celsius(fact):.0f} C)"


def shrinks_too_soon(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Tanning raises the heat at which a wet strip shrinks: one that shrinks like raw skin is not tanned, whatever its cut looks like."""
    for life in horizon.lives:
        tried = [taken for taken in life.taken if isinstance(taken.fact, Shrinks)]
        if not tried or life.process is None or not life.process.tannage:
            continue
        last = tried[-1]  # a later strip answers an earlier one
        found = shrinkage(life, last)
        if found is None or found.proves not in ("not tanned", "short of it") or not isinstance(last.fact, Shrinks):
            continue
        may = _celsius(last.fact) > _LEAST[life.process.tannage] - _THIN_SKINS
        yield of_hide(
            life,
            name="shrinks too soon",
            when="record",
            message=f"a strip shrank at {heat_said(last.fact)} {when_said(horizon.clock, last.when, horizon.at)}: {found.why}"
            + ("; thin skins can lie a few degrees lower" if may else ""),
            do="try a second strip; if it shrinks there too, back to the tan by your supplier's sheet, and write what it shrinks at then: "
            f"`{life.tag} shrinks at {_right(life)}`; else `{life.tag} waived shrinks too soon -- why`",
            entry=last.entry,
            rule=life.process.place,
            may=may,
            since=last.when.lo,
            days=(last.when.day, horizon.today),
        )


def _right(life: HideLife) -> str:
    assert life.process is not None
    return f"{_LEAST[life.process.tannage]:g} C"


def acid_left(life: HideLife, taken: Taken) -> Acid | None:
    """What a reading of the diluted extract says, with the last one of the extract itself within the day before it; None for any other."""
    fact = taken.fact
    if not isinstance(fact, Reading) or fact.what != "pH" or fact.how != "diluted":
        return None
    before = [
        other.fact
        for other in life.taken
        if other is not taken
        and isinstance(other.fact, Reading)
        and other.fact.what == "pH"
        and other.fact.how in ("extract", "meter", "strip", "")
        and other.when.lo <= taken.when.hi <= other.when.hi + DAY
    ]
    if not before:
        return Acid(figure=None, said=f"the extract itself is not written, like this: `{life.tag} pH 3.6 extract`")
    try:
        figure = difference_figure(extract=float(before[-1].value.value), diluted=float(fact.value.value))
    except ValueError as trouble:
        return Acid(figure=None, said=str(trouble))
    return Acid(figure=figure, said="", strong=shows_strong(figure))
