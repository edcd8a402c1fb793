"""What is said behind a sum that holds supplies of no known price: it is so much at the least."""

from __future__ import annotations

from collections.abc import Iterable

from hideledger.answers.cost.hides import HideCost
from hideledger.rules.words import listed


def at_least(several: Iterable[HideCost]) -> str:
    """` at the least, since soda ash has no price`; nothing where all has one."""
    return without_price(name for one in several for name in one.unpriced)


def without_price(names: Iterable[str]) -> str:
    """` at the least, since soda ash has no price`; nothing where no supply is named."""
    once = list(dict.fromkeys(names))
    return f" at the least, since {listed(once)} {'has' if len(once) == 1 else 'have'} no price" if once else ""
