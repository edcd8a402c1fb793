"""Against sending out: what each hide would have cost elsewhere, what was saved, and at how many hides a machine is paid."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from hideledger.answers.cost.hides import Costs, HideCost
from hideledger.answers.money import money_said
from hideledger.answers.owed.price_lines import per_unit
from hideledger.answers.saying import counted
from hideledger.answers.sheet import Row
from hideledger.model.shop import Charge
from hideledger.rules.words import listed
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.trade.costing import NeverPaid, units_to_break_even

_NOTHING = Fraction(0)


def sent_out_price(life: HideLife, floor: Floor, sign: str) -> Fraction | None:
    """What the shop's line says that sending this hide out costs, freight and all; None where it says nothing that can be reckoned."""
    line = _line_for(life, floor)
    if line is None:
        return None
    whole = _NOTHING
    for money, what in line.money:
        if money.unit != sign:
            return None
        times = Fraction(1)
        measure = per_unit(what) if what.startswith("per ") else None
        if measure is not None:
            if not life.weights or measure.dimension != "weight":
                return None
            first = life.weights[0]
            times = Fraction(first.weight.to(measure.unit)) / first.shared_by / Fraction(measure.value)
        whole += Fraction(money.value) * times
    return whole


def _line_for(life: HideLife, floor: Floor) -> Charge | None:
    """Of its kind, else of any; the newest that held when it came in."""
    arrived = date.fromordinal(life.arrived_when.day)
    lines = [
        line
        for line in floor.book.shop.charges
        if line.sort == "sent out" and (line.since is None or line.since <= arrived)
    ]
    for what in (life.kind.casefold(), ""):
        fitting = [line for line in lines if line.what.casefold() == what]
        if fitting:
            return max(fitting, key=lambda line: line.since or date.min)
    return None


def against(hides: Sequence[HideCost], found: Costs, floor: Floor, *, whole: bool) -> list[Row]:
    """The rows: a hide here and elsewhere, saved so far, and when what was bought by the piece is paid."""
    through = [one for one in hides if one.came_through]
    pairs = [(one, price) for one in through if (price := sent_out_price(one.life, floor, found.sign)) is not None]
    if not pairs:
        return []
    sign, number = found.sign, len(pairs)
    here = sum((one.total for one, _ in pairs), _NOTHING)
    away = sum((price for _, price in pairs), _NOTHING)
    saved = away - here
    unpriced = list(dict.fromkeys(name for one, _ in pairs for name in one.unpriced))
    least = (
        f" at the least, since {listed(unpriced)} {'has' if len(unpriced) == 1 else 'have'} no price"
        if unpriced
        else ""
    )
    rows = [
        _row(
            "a hide here", f"{money_said(here / number, sign)}{least}, over {counted(number, 'hide')} that came through"
        ),
        _row("sent out", f"{money_said(away / number, sign)} a hide, each sent by itself"),
        _row("saved a hide", money_said(saved / number, sign)),
        _row("saved so far", money_said(saved, sign)),
    ]
    if number < len(through):
        rows.append(_row("left aside", f"{counted(len(through) - number, 'hide')} without a price for sending out"))
    return rows + _paid(here, away, number, found) if whole else rows


def _paid(here: Fraction, away: Fraction, number: int, found: Costs) -> list[Row]:
    bought = [piece for piece in found.lines.pieces if piece.price is not None and piece.price.unit == found.sign]
    if not bought:
        return []
    sign = found.sign
    laid_out = sum((Fraction(piece.price.value) for piece in bought if piece.price is not None), _NOTHING)
    what = listed([f"{float(piece.count):g} {piece.name} {piece.price} ({piece.entry.at.short})" for piece in bought])
    rows = [_row("laid out", f"{what}: {money_said(laid_out, sign)}" if len(bought) > 1 else what)]
    try:
        units = units_to_break_even(laid_out, away / number, here / number)
    except NeverPaid:
        return [*rows, _row("paid", "never, at that: a hide costs here as much as sent out, or more")]
    left = laid_out - (away - here)
    if left <= 0:
        state = f"it is: {counted(number, 'hide')} came through"
    else:
        state = f"{number} came through, {money_said(left, sign)} still to be saved"
    return [*rows, _row("paid", f"at {counted(units, 'hide')}; {state}")]


def _row(head: str, text: str) -> Row:
    return Row(head=head, text=text, plain=(head, text))
