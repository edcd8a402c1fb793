"""Leather that came in, for a repair or a new backing: money was spent on it, and no hide more was tanned."""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.answers.cost.hides import HideCost
from hideledger.answers.cost.unpriced import at_least
from hideledger.answers.money import money_said, summed
from hideledger.answers.saying import tags_said
from hideledger.rules.words import in_order


def leather_said(several: Sequence[HideCost], sign: str) -> str:
    """`H2 H9 came in tanned: $4.00 spent on them, in no figure of a hide`."""
    tags = in_order(dict.fromkeys(one.life.tag for one in several))
    spent = money_said(summed(one.spent for one in several), sign)
    whom = "it" if len(tags) == 1 else "them"
    return f"{tags_said(tags)} came in tanned: {spent}{at_least(several)} spent on {whom}, in no figure of a hide"


def leather_of(one: HideCost) -> str:
    """`was H1, tanned here before`, or that it came in as leather."""
    before = one.life.before
    if before is None:
        return "leather when it came in"
    return f"was {before.tag}, tanned here before" if before.tag != one.life.tag else "tanned here before"
