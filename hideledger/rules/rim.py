"""What stands in a vessel by volume: more liquor than it takes, and liquor that the skins lift over its rim."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

from hideledger.model.shop import ShopBook, Vessel
from hideledger.model.units import Quantity
from hideledger.rules.bath_put_in import put_in
from hideledger.rules.finding import Finding
from hideledger.rules.telling import bath_cause, of_bath
from hideledger.shopfloor.life import BathLife, Member
from hideledger.shopfloor.loads import weight_at
from hideledger.trade.brine import KG_PER_LB

# A kilogram of wet skin takes about a litre, and a kilogram of salt so much when it is dissolved (common practice, no source).
_SKIN, _SALT = 1.0, 0.4
# How far that may be off: gallon marks, and what a skin holds of the liquor itself (our own figures).
_LIQUOR_OFF, _SKIN_OFF = 0.05, 0.25


def by_volume(vessel: Vessel, limit: Quantity, baths: list[BathLife], shop: ShopBook) -> Iterator[Finding]:
    """Of the baths that stand in a vessel: more liquor written than it takes; else liquor and skins that come over its rim."""
    for bath in baths:
        if bath.ended is not None or bath.volume_l is None:
            continue
        if bath.ran_over is not None:
            yield _too_much(vessel, limit, bath)
        elif bath.now_in:
            yield from _over_the_rim(vessel, limit, bath, shop)


def _too_much(vessel: Vessel, limit: Quantity, bath: BathLife) -> Finding:
    assert bath.ran_over is not None
    entry, litres = bath.ran_over
    return of_bath(
        bath,
        [member.hide for member in bath.now_in],
        name="vessel over full",
        when="now" if vessel.is_drum and bath.now_in else "record",
        message=f"{vessel.tag} takes {limit}, and more liquor than that is written into it: {litres / _one(limit):.1f} {limit.unit}; reckoned with as {limit}, the rest run over",
        do=f"right the amount, or write what was let off: `{bath.tag} topped up to {limit}`",
        entry=entry,
        rule=vessel.place,
        since=entry.when.lo,
        cause=f"liquor {bath_cause(bath)}",
    )


def _over_the_rim(vessel: Vessel, limit: Quantity, bath: BathLife, shop: ShopBook) -> Iterator[Finding]:
    assert bath.volume_l is not None
    filled = [dose for dose in bath.doses if dose.topped is not None]
    since = filled[-1].when.hi if filled else None
    # The mark that a bath was filled up to holds the skins that lay in it then.
    came = [member for member in bath.now_in if since is None or member.enter.lo > since]
    left = [
        member
        for member in bath.members
        if since is not None and member.enter.lo <= since and member.leave is not None and member.leave.lo > since
    ]
    kilos = _kilos(came) - _kilos(left)
    liquor = bath.volume_l + _salt_litres(bath, shop, since)
    off = _LIQUOR_OFF * liquor + _SKIN_OFF * abs(kilos)
    whole = liquor + _SKIN * kilos
    if not came or whole - off <= float(limit.to("L")):
        return
    one, last = _one(limit), max(came, key=lambda member: member.enter.lo)
    unweighed = sum(1 for member in came if weight_at(member.hide, member) is None)
    yield of_bath(
        bath,
        [member.hide for member in bath.now_in],
        name="vessel over full",
        when="record",
        message=f"{vessel.tag} takes {limit}, and {liquor / one:.0f} {limit.unit} of liquor with {kilos / KG_PER_LB:.0f} lb of wet skin come to about {whole / one:.0f} {limit.unit}, "
        f"give or take {off / one:.0f} (a litre for a kilogram of skin){f'; {unweighed} more not weighed' if unweighed else ''}",
        do=f"if it stands to the rim, take some out, and write: `{last.hide.tag} out of {bath.tag}`; if less liquor is in it than is written, strike that line and write it again; "
        f"else say why: `{bath.tag} waived vessel over full -- why`",
        entry=last.stay.mark.entry,
        rule=vessel.place,
        may=True,
        since=last.enter.lo,
        cause=f"rim {bath_cause(bath)}",
    )


def _kilos(members: list[Member]) -> float:
    return KG_PER_LB * sum(weight_at(member.hide, member) or 0.0 for member in members)


def _salt_litres(bath: BathLife, shop: ShopBook, since: int | None) -> float:
    """What the salt adds that went in since the bath was filled to a mark."""
    amounts = [(amount, bath.made_when.day) for amount in bath.amounts if since is None]
    amounts += [
        (a, dose.when.day) for dose in bath.doses if since is None or dose.when.lo > since for a in dose.amounts
    ]
    return _SALT * sum(put_in(amount, shop, date.fromordinal(day)).salt for amount, day in amounts)


def _one(quantity: Quantity) -> float:
    return float(Quantity(value=Decimal(1), unit=quantity.unit).to("L"))
