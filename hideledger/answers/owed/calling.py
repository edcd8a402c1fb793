"""What is said of a skin to its owner who calls: where it is, when it is ready, and what was written of it that he is to hear before he drives out."""

from __future__ import annotations

from collections.abc import Iterable

from hideledger.answers.owed.account import HideBill
from hideledger.answers.owed.words import LOOKED_AT, where_is
from hideledger.answers.saying import tags_said, today
from hideledger.rules.horizon import Horizon
from hideledger.rules.promise import least_time_left
from hideledger.rules.words import day_said, in_order, listed
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife


def where_said(bill: HideBill, floor: Floor, horizon: Horizon, looked_at: frozenset[str]) -> str:
    """Where a hide is and when it is ready, one of those `looked_at` for nobody yet; what its owner is to hear comes last."""
    return ", ".join(part for part in (_state_said(bill, floor, horizon, looked_at), call_first(bill.life)) if part)


def _state_said(bill: HideBill, floor: Floor, horizon: Horizon, looked_at: frozenset[str]) -> str:
    if bill.ready is not None and bill.life.tag in looked_at:
        return LOOKED_AT
    if bill.ready is not None:
        return f"ready since {day_said(floor.book.clock, bill.ready, floor.at)}"
    return f"{where_is(bill.life)}, {_ready_when(bill.life, floor, horizon)}"


def _ready_when(life: HideLife, floor: Floor, horizon: Horizon) -> str:
    clock, at = floor.book.clock, floor.at
    parts = []
    if life.promised is not None:
        parts.append(f"promised {day_said(clock, life.promised[0].day.toordinal(), at)}")
    if life.process is not None and not life.box and life.resting is None:
        earliest = clock.day_of(at + least_time_left(life, horizon))
        if earliest > today(clock, at):
            earliest = earliest if horizon.hours.open_day(earliest) else horizon.hours.next_open_day(earliest)
            parts.append(f"not before {day_said(clock, earliest, at)}")
    return ", ".join(parts) or "no day said"


def call_first(life: HideLife) -> str:
    """`slip and bald spot written: call first`; nothing where no defect was seen on it since it came in. What it had at the door its owner knows."""
    seen = dict.fromkeys(defect.fact.defect for defect in life.defects if not defect.at_door)
    return f"{listed(list(seen))} written: call first" if seen else ""


def calls_first(lives: Iterable[HideLife]) -> tuple[str, ...]:
    """The same of several, each with its tag, those alike together: `H2 tear written: call first`."""
    alike: dict[str, list[HideLife]] = {}
    for life in lives:
        alike.setdefault(call_first(life), []).append(life)
    return tuple(
        f"{tags_said(in_order(life.tag for life in those))} {words}" for words, those in alike.items() if words
    )
