"""A bath worn out by skins and weeks."""

from __future__ import annotations

from collections.abc import Iterable

from hideledger.model.units import Quantity
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.telling import bath_cause, dumped_line, mixed_line, of_bath
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife


def bath_worn_out(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A bath is used up by skins and by weeks: it reads well enough, and no longer does what it did."""
    clock, at = horizon.clock, horizon.at
    for bath in horizon.standing:
        recipe = floor.book.shop.recipe_named(bath.recipe)
        if recipe is None or not bath.now_in:
            continue
        inside = [m.hide for m in bath.now_in]
        rule = recipe.lasts_place or recipe.place
        if recipe.lasts is not None:
            ends_lo, ends_hi = (
                recipe.lasts.after(bath.made_when.lo, clock),
                recipe.lasts.after(bath.made_when.hi, clock),
            )
            if at > ends_lo:
                yield of_bath(
                    bath,
                    inside,
                    name="bath worn out",
                    when="record",
                    message=f"mixed {when_said(clock, bath.made_when, at)}, and {recipe.name} lasts {recipe.lasts}",
                    do=f"mix a new one, and write: `{mixed_line(floor, bath)}`, and of the old one, with the pH that "
                    f"you measured behind it: `{dumped_line(bath)}`",
                    entry=bath.made,
                    rule=rule,
                    may=at <= ends_hi,
                    since=ends_hi if at > ends_hi else ends_lo,
                    over_s=at - (ends_hi if at > ends_hi else ends_lo),
                    limit_s=recipe.lasts.about_seconds,
                    cause=bath_cause(bath),
                )
                continue
        most = _pounds_it_lasts(recipe.lasts_weight, recipe.lasts_weight_per, bath)
        if most is not None and bath.pounds_through > most * (1 + 1e-9):
            entry = bath.members[-1].stay.mark.entry
            yield of_bath(
                bath,
                inside,
                name="bath worn out",
                when="record",
                message=f"{bath.pounds_through:.1f} lb of skin have gone through it, and it lasts {most:.0f} lb"
                + (f"; {bath.unweighed} more were not weighed" if bath.unweighed else ""),
                do=f"strengthen it by your supplier's sheet or mix a new one, and write: `{mixed_line(floor, bath)}`",
                entry=entry,
                rule=rule,
                since=bath.members[-1].enter.lo,
                cause=bath_cause(bath),
            )


def _pounds_it_lasts(total: Quantity | None, per: Quantity | None, bath: BathLife) -> float | None:
    if total is None:
        return None
    pounds = float(total.to("lb"))
    if per is None:
        return pounds
    if bath.volume_l is None:
        return None
    return pounds * bath.volume_l / float(per.to("L"))
