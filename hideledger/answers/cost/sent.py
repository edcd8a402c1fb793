"""Against sending out: what each hide would have cost elsewhere, what was saved, and at how many hides a machine is paid."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from hideledger.answers.cost.hides import Costs, HideCost
from hideledger.answers.cost.leather import leather_said
from hideledger.answers.money import NOTHING, money_said, summed
from hideledger.answers.owed.price_lines import per_unit
from hideledger.answers.saying import counted, skins_said
from hideledger.answers.sheet import Row
from hideledger.model.shop import Charge
from hideledger.rules.words import listed
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.trade.costing import NeverPaid, units_to_break_even

_NO_LINE = "without a line that says what sending out costs"


def sent_out_price(one: HideCost, floor: Floor, sign: str) -> Fraction | None:
    """What the shop's line says that sending this out costs, freight and all; None where it says nothing that can be reckoned.

    A part has its share of what the whole skin would have cost, unless a line is for that part; a box the price of every skin in it.
    """
    found = _sent_out(one, floor, sign)
    return None if isinstance(found, str) else found


def _sent_out(one: HideCost, floor: Floor, sign: str) -> Fraction | str:
    """The price, or why it cannot be reckoned."""
    own = one.life.parent and one.life.kind != one.whole.kind and _line_of(one.life, one.life.kind, floor) is not None
    life = one.life if own else one.whole
    line = _line_of(life, life.kind, floor) or _line_of(life, "", floor)
    if line is None:
        return _NO_LINE
    times = Fraction(1) if own else one.skins
    whole = NOTHING
    for money, what in line.money:
        if money.unit != sign:
            return f"at {money}, other money than the shop's {sign} ({line.place.short})"
        measure = per_unit(what) if what.startswith("per ") else None
        if measure is None:
            whole += Fraction(money.value) * times
            continue
        if not life.weights or measure.dimension != "weight":
            return f"at {money} {what}, and {'no weight is written' if measure.dimension == 'weight' else 'that is not reckoned'}"
        first = life.weights[0]
        pounds = Fraction(first.weight.to(measure.unit)) / first.shared_by / Fraction(measure.value)
        whole += Fraction(money.value) * pounds * (times if one.life.parent else 1)
    return whole


def _line_of(life: HideLife, kind: str, floor: Floor) -> Charge | None:
    """Of its kind, or of any (an empty name); the newest that held when it came in."""
    arrived = date.fromordinal(life.arrived_when.day)
    lines = [
        line
        for line in floor.book.shop.charges
        if line.sort == "sent out"
        and line.what.casefold() == kind.casefold()
        and (line.since is None or line.since <= arrived)
    ]
    return max(lines, key=lambda line: line.since or date.min) if lines else None


def against(hides: Sequence[HideCost], found: Costs, floor: Floor, *, whole: bool) -> list[Row]:
    """The rows: a hide here and elsewhere, saved so far, and when what was bought by the piece is paid."""
    through = [one for one in hides if one.came_through]
    pairs = [(one, price) for one in through if (price := sent_out_price(one, floor, found.sign)) is not None]
    aside: dict[str, Fraction] = {}
    for one in through:
        why = _sent_out(one, floor, found.sign)
        if isinstance(why, str):
            aside[why] = aside.get(why, NOTHING) + one.skins
    beside = [_row("left aside", f"{skins_said(number)} {why}") for why, number in aside.items()]
    if leather := [one for one in hides if one.leather]:
        beside.append(_row("leather", leather_said(leather, found.sign)))
    if not pairs:
        return [] if set(aside) <= {_NO_LINE} else beside
    sign, number = found.sign, summed(one.skins for one, _ in pairs)
    here = summed(one.total for one, _ in pairs)
    away = summed(price for _, price in pairs)
    saved = away - here
    unpriced = list(dict.fromkeys(name for one, _ in pairs for name in one.unpriced))
    least = (
        f" at the least, since {listed(unpriced)} {'has' if len(unpriced) == 1 else 'have'} no price"
        if unpriced
        else ""
    )
    most = " at the most, for the same reason" if unpriced else ""
    rows = [
        _row("a hide here", f"{money_said(here / number, sign)}{least}, over {skins_said(number)} that came through"),
        _row("sent out", f"{money_said(away / number, sign)} a hide, each sent by itself"),
        _row("saved a hide", f"{money_said(saved / number, sign)}{most}"),
        _row("saved so far", f"{money_said(saved, sign)}{most}"),
    ]
    rows += beside
    return rows + _paid(here, away, number, found, unpriced) if whole else rows


def _paid(here: Fraction, away: Fraction, number: Fraction, found: Costs, unpriced: Sequence[str]) -> list[Row]:
    bought = [piece for piece in found.lines.pieces if piece.price is not None and piece.price.unit == found.sign]
    sign = found.sign
    unknown = [piece for piece in found.lines.pieces if not any(piece is one for one in bought)]
    beside = [
        _row(
            "not in it",
            listed(
                [
                    f"{float(piece.count):g} {piece.name}, {piece.price or 'no price written'} ({piece.entry.at.short})"
                    for piece in unknown
                ]
            ),
        )
    ]
    if not bought:
        return beside if unknown else []
    laid_out = summed(Fraction(piece.price.value) for piece in bought if piece.price is not None)
    what = listed([f"{float(piece.count):g} {piece.name} {piece.price} ({piece.entry.at.short})" for piece in bought])
    rows = [_row("laid out", f"{what}: {money_said(laid_out, sign)}" if len(bought) > 1 else what)]
    rows += beside if unknown else []
    try:
        units = units_to_break_even(laid_out, away / number, here / number)
    except NeverPaid:
        return [*rows, _row("paid", "never, at that: a hide costs here as much as sent out, or more")]
    left = laid_out - (away - here)
    doubt = (
        f"; it may be later, since {listed(unpriced)} {'has' if len(unpriced) == 1 else 'have'} no price"
        if unpriced
        else ""
    )
    if left <= 0:
        state = f"it is: {skins_said(number)} came through"
    else:
        state = f"{skins_said(number)} came through, {money_said(left, sign)} still to be saved"
    return [*rows, _row("paid", f"at {counted(units, 'hide')}; {state}{doubt}")]


def _row(head: str, text: str) -> Row:
    return Row(head=head, text=text, plain=(head, text))
