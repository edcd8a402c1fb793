"""The counter's part of the evening: what to ask for, what was promised, what waits to be fetched and paid."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from decimal import Decimal

from hideledger.answers.saying import counted, tags_said, today
from hideledger.answers.sheet import Row, Section
from hideledger.answers.standing import is_finished
from hideledger.model.entry import Entry
from hideledger.model.facts import By, Money
from hideledger.model.units import CURRENCIES, Quantity
from hideledger.rules.finding import Finding
from hideledger.rules.words import day_said, in_order, tag_order
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife

PROMISED_DAYS = 14
_RECENT_DAYS = 7
_AT_RISK = ("promise at risk", "promise missed")
_SEALED_KINDS = ("bear",)


def ask(floor: Floor) -> Section:
    """What the intake record wants and the book does not have: payer, legal tag, kill time, seal, phone."""
    lives = [life for life in floor.here() if _has_a_record(life)]
    rows = [
        Row(head=what, text=" ".join(in_order(life.tag for life in missing)))
        for what, lacks in _WANTED
        if (missing := [life for life in lives if lacks(life)])
    ]
    without = sorted({life.payer for life in lives if life.payer and not _has_phone(life.payer, floor)})
    if without:
        rows.append(Row(head="phone", text=", ".join(without)))
    return Section(heading="Ask", rows=tuple(rows))


def still_missing(life: HideLife, floor: Floor) -> tuple[str, ...]:
    """What the intake record of one hide wants and the book does not have, as `ask` heads it."""
    if not _has_a_record(life):
        return ()
    wanting = [what for what, lacks in _WANTED if lacks(life)]
    if life.payer and not _has_phone(life.payer, floor):
        wanting.append("phone")
    return tuple(wanting)


def _has_a_record(life: HideLife) -> bool:
    return life.here and life.declared and not life.box and not life.parent


def _has_phone(payer: str, floor: Floor) -> bool:
    known = [dict(one.lines) for one in floor.book.shop.customers if one.name.casefold() == payer.casefold()]
    return bool(known and known[-1].get("phone"))


def _wants_seal(life: HideLife) -> bool:
    return any(word in life.kind.casefold().split() for word in _SEALED_KINDS)


def _came_green(life: HideLife) -> bool:
    return life.condition is None or life.condition[0].condition == "green"


_WANTED: tuple[tuple[str, Callable[[HideLife], bool]], ...] = (
    ("for whom", lambda life: not life.payer),
    ("legal tag", lambda life: "tag" not in life.codes),
    ("seal", lambda life: _wants_seal(life) and "seal" not in life.codes),
    ("when killed", lambda life: life.killed is None and _came_green(life)),
)


def times_not_written(floor: Floor, findings: Sequence[Finding]) -> Section:
    """The last week's lines that want a time and have none, as `check` counts them, one row a day and person."""
    clock = floor.book.clock
    first = today(clock, floor.at) - _RECENT_DAYS + 1
    found = [
        (finding.entry.when.day, finding)
        for finding in findings
        if finding.name == "no time written" and finding.entry is not None and not finding.ended
    ]
    rows = []
    for day, finding in sorted((one for one in found if one[0] >= first), key=lambda one: one[0]):
        counted_by = finding.message.rpartition(" of ")[0]  # `3 lines by JK`: the day stands at the head
        about = tags_said(finding.tags)
        rows.append(Row(head=day_said(clock, day, floor.at), text=f"{counted_by}{': ' if about else ''}{about}"))
    return Section(heading="Times not written", rows=tuple(rows))


def signed(entry: Entry) -> str:
    """Who wrote or did it, as far as the line says."""
    return next((fact.who for fact in entry.facts if isinstance(fact, By)), "")


def promised(floor: Floor, findings: Sequence[Finding]) -> Section:
    """Promises of the next fortnight and those that are past, by day, and what will not make it."""
    clock = floor.book.clock
    now = today(clock, floor.at)
    late = {tag: finding for finding in findings if finding.name in _AT_RISK for tag in finding.tags}
    rows = []
    for life in sorted(floor.here(), key=lambda life: (_day(life) or 0, life.tag)):
        day = _day(life)
        if day is None or (day > now + PROMISED_DAYS and life.tag not in late):
            continue
        far = "today" if day == now else f"in {counted(day - now, 'day')}" if day > now else "past"
        whom = f" for {life.payer}" if life.payer else ""
        under = [("", late[life.tag].message)] if life.tag in late else []
        head = f"{day_said(clock, day, floor.at)}, {far}"
        rows.append(Row(head=head, text=f"{life.tag}{whom}", under=tuple(under)))
    return Section(heading="Promised", rows=tuple(rows))


def _day(life: HideLife) -> int | None:
    return None if life.promised is None else life.promised[0].day.toordinal()


def pick_up(floor: Floor) -> Section:
    """Finished hides by customer, and what was charged but is not written as paid."""
    finished: dict[str, list[str]] = {}
    for life in floor.here():
        if is_finished(life, floor.book.clock, floor.at):
            finished.setdefault(life.payer or "nobody named", []).append(life.tag)
    rows = [Row(head=name, text=f"to fetch: {' '.join(in_order(tags))}") for name, tags in sorted(finished.items())]
    rows += [Row(head=head, text=text) for head, text in _unpaid(floor)]
    return Section(heading="Pick-up and unpaid", rows=tuple(rows))


def _unpaid(floor: Floor) -> list[tuple[str, str]]:
    """Hides finished or handed back in the last two months whose price, by the shop's own list, is not all paid."""
    lives = [life for life in floor.all_hides() if life.declared and not life.box and _is_due(life, floor)]
    alike: dict[tuple[str, str, str, bool], list[HideLife]] = {}
    for life in sorted(lives, key=lambda life: (life.payer, tag_order(life.tag))):
        paid, charged = _money(life, floor)
        price = charged or _list_price(life, floor)
        if price is None or paid is None or paid >= price.value:
            continue
        left = Quantity(value=price.value - paid, unit=price.unit)
        alike.setdefault((life.payer, str(left), str(price), life.here), []).append(life)
    return [
        (
            payer or "nobody named",
            f"unpaid: {tags_said(life.tag for life in several)}, {left} of {price}{_state(several, floor)}",
        )
        for (payer, left, price, _), several in alike.items()
    ]


def _state(lives: Sequence[HideLife], floor: Floor) -> str:
    """`, finished`, or since when handed back: of several hides at one price the first and the last day."""
    each = " each" if len(lives) > 1 else ""
    if lives[0].here:
        return f"{each}, finished"
    days = sorted({_out_day(life) for life in lives})
    said = [day_said(floor.book.clock, day, floor.at) for day in dict.fromkeys((days[0], days[-1]))]
    return f"{each}, out {' to '.join(said)}"


def _is_due(life: HideLife, floor: Floor) -> bool:
    if life.here:
        return is_finished(life, floor.book.clock, floor.at)
    return life.ended_as == "out" and _out_day(life) >= today(floor.book.clock, floor.at) - 61


def _out_day(life: HideLife) -> int:
    return life.ended_when.day if life.ended_when is not None else 0


def _money(life: HideLife, floor: Floor) -> tuple[Decimal | None, Quantity | None]:
    """What was paid, deposits too, and what was charged on its own lines; no sum where hides were paid together."""
    paid: Decimal | None = Decimal(0)
    charged: Quantity | None = None
    for entry in floor.money:
        if life.tag not in entry.tags or entry.order < life.arrived.order:
            continue
        for fact in entry.facts:
            if not isinstance(fact, Money) or fact.money.unit not in CURRENCIES:
                continue
            if fact.sort == "charge":
                charged = fact.money
            elif fact.sort in ("paid", "deposit"):
                paid = None if len(entry.tags) > 1 or paid is None else paid + fact.money.value
    return paid, charged


def _list_price(life: HideLife, floor: Floor) -> Quantity | None:
    arrived = date.fromordinal(life.arrived_when.day)
    prices = [
        charge
        for charge in floor.book.shop.charges
        if charge.sort == "charge"
        and charge.what.casefold() == life.kind.casefold()
        and charge.money
        and (charge.since is None or charge.since <= arrived)
    ]
    newest = max(prices, key=lambda charge: charge.since or date.min, default=None)
    return None if newest is None else newest.money[0][0]
