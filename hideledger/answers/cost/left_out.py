"""What stands beside the cost of the hides: money in none of them, and all that a reader would otherwise take to be in the figure."""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.answers.cost.hides import Costs, HideCost
from hideledger.answers.cost.sent import sent_out_price
from hideledger.answers.cost.unpriced import without_price
from hideledger.answers.cost.work import work_left_out
from hideledger.answers.money import money_said
from hideledger.answers.sheet import Row
from hideledger.rules.words import in_order, listed
from hideledger.shopfloor.floor import Floor

_OWN = {"shop": "used for what no bath and no hide tells", "gone": "by the counts, that no line tells of"}


def in_none(found: Costs) -> list[Row]:
    """What the shop used for itself, baths that nobody was in, and what was gone at the counts."""
    rows = []
    for head, money in (("shop", found.own_use), ("gone", found.gone)):
        unpriced = without_price(found.unpriced.get(head, ()))
        if money or unpriced:
            rows.append(
                Row(head=head, text=f"{money_said(money, found.sign)} {_OWN[head]}{unpriced.replace(' at', ', at', 1)}")
            )
        if head == "shop":
            rows += [
                Row(
                    head=bath.tag,
                    text=f"{money_said(cost, found.sign)}{without_price(found.unpriced.get(bath.tag, ()))}, nobody was in it so far",
                )
                for bath, cost in found.empty
            ]
    return rows


def left_out(hides: Sequence[HideCost], found: Costs, floor: Floor, *, whole: bool) -> list[Row]:
    """What a reader would otherwise take to be in the figure."""
    said = [work_left_out(hides, floor.book.shop, found.sign), "heat, water, waste, room, tools worn out"]
    if found.lost and not any(one.carried for one in found.hides):
        said.append(
            f"{money_said(found.lost, found.sign)} for lost hides: nothing came through yet that could carry it"
        )
    elif not found.lost:
        said.append("lost hides: none so far that had cost anything")
    names = [name for one in hides for name in one.unpriced]
    if whole:
        names += [name for several in found.unpriced.values() for name in several]
    unpriced = list(dict.fromkeys(names))
    if unpriced:
        said.append(
            f"{listed(unpriced)}: no price is known; write it where it is bought, `bought 5 lb {unpriced[0]}, {found.sign}4.00`, or on its supply line"
        )
    foreign = [
        f"{line.move.price} for {held.name} ({line.move.entry.at.short})"
        for held in found.held.values()
        for line in held.lines
        if line.move.price is not None and line.move.price.unit != found.sign
    ]
    if whole and foreign:
        said.append(f"paid in other money than the shop's {found.sign}, and not reckoned: {listed(foreign)}")
    by_counts = dict.fromkeys(tag for one in hides for tag in one.by_counts)
    if by_counts:
        said.append(
            f"weights: {listed(in_order(by_counts))} {'was' if len(by_counts) == 1 else 'were each'} shared by counts, since a skin in it was never weighed"
        )
    if whole:
        said += [
            f"{odd.amount.quantity} {odd.amount.supply} ({odd.entry.at.short}): {odd.why}"
            for odd in found.lines.not_reckoned
        ]
    inside = {id(one.life) for one in hides}
    silent = [bath.tag for bath in found.lines.no_amounts if any(id(m.hide) in inside for m in bath.members)]
    if silent:
        said.append(f"{listed(in_order(silent))}: mixed by a recipe and no amounts written")
    if any(sent_out_price(one, floor, found.sign) is not None for one in hides if one.came_through):
        said.append(
            "of sending out: insurance, packing, the months of waiting, and hides lost there; several in one parcel share its freight"
        )
    return [Row(text=text, plain=("not in the sum", text)) for text in said]
