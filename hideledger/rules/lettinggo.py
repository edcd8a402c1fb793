"""How a bath ends: worn out by skins and weeks, and let go down the drain."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import Decimal

from hideledger.model.facts import Dumped, Reading
from hideledger.model.units import Quantity, plain_number
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.telling import bath_cause, dumped_line, mixed_line, of_bath
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife

# Where the shop gives no limit of its own: 40 CFR 403.5 (b) (2), unless the works is built for it.
_NOTHING_BELOW = Decimal("5.0")


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


def dumped_below_the_sewer_limit(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Sour liquor eats the pipe and kills what cleans the water: the works that takes it says how sour it may be."""
    shop = floor.book.shop.shop
    for bath, read in _into_the_sewer(horizon):
        if not read or bath.ended is None or bath.ended_when is None:
            continue
        ph = read[-1].value.value
        known = shop.sewer_ph is not None
        least = _NOTHING_BELOW if shop.sewer_ph is None else shop.sewer_ph
        if ph >= least:
            continue
        said = f"let go to the sewer at pH {plain_number(ph)}"
        when = when_said(horizon.clock, bath.ended_when, horizon.at)
        told = of_bath(
            bath,
            (),
            name="dumped below the sewer limit",
            when="now" if known and horizon.fresh(bath.ended_when.hi) else "record",
            message=f"{said}, {plain_number(least)} at least, {when}"
            if known
            else f"{said}, {when}, and the shop file has no sewer line; 40 CFR 403.5 lets nothing below pH {_NOTHING_BELOW} into a public sewer that is not built for it",
            do=f"ask your sewer authority what has to be told{'' if known else ', and write the least pH that it allows into the shop file'}; if the figure is misread, strike the line and write it "
            "again, with the pH that you measured behind it: "
            f"`{dumped_line(bath)}`",
            entry=bath.ended,
            rule=shop.sewer_place,
            may=not known,
            since=bath.ended_when.lo,
            cause=f"{bath_cause(bath)} sewer",
        )
        # The bath is gone, and what is asked about it is read while it is fresh.
        yield told if known else replace(told, ended=not horizon.fresh(bath.ended_when.hi))


def no_ph_at_the_sewer(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """What went down the drain cannot be measured afterwards: its pH is written on that line, or nobody knows it."""
    shop = floor.book.shop.shop
    for bath, read in _into_the_sewer(horizon):
        if shop.sewer_ph is None or read or bath.ended is None or bath.ended_when is None:
            continue
        before = [r for r in bath.readings if r.fact.what == "pH" and r.when.lo <= bath.ended_when.hi]
        last = f"; it last read pH {plain_number(before[-1].fact.value.value)}" if before else ""
        yield of_bath(
            bath,
            (),
            name="not recorded",
            when="record",
            message=f"let go to the sewer {when_said(horizon.clock, bath.ended_when, horizon.at)}, and its pH is not "
            f"recorded{last}",
            do=f"if it was read, strike that line and write it again, with the pH that you measured behind it: `{dumped_line(bath)}`",
            entry=bath.ended,
            rule=shop.sewer_place,
            since=bath.ended_when.lo,
            cause=f"{bath_cause(bath)} sewer",
        )


def _into_the_sewer(horizon: Horizon) -> Iterator[tuple[BathLife, list[Reading]]]:
    """Baths let go to the sewer, and the pH written on that line."""
    for bath in horizon.baths:
        if bath.ended is None:
            continue
        dumped = next((fact for fact in bath.ended.facts if isinstance(fact, Dumped)), None)
        if dumped is not None and "sewer" in dumped.where.casefold():
            yield bath, [fact for fact in bath.ended.facts if isinstance(fact, Reading) and fact.what == "pH"]
