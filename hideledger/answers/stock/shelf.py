"""`stock`: what lies on the shelf, how long it lasts, what it is worth, and what of the book could not be reckoned."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from hideledger.answers.head import moment_said, record_of
from hideledger.answers.money import money_record, money_said
from hideledger.answers.saying import counted, today
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.model.units import plain_number
from hideledger.rules.finding import Finding
from hideledger.rules.onhand import Counted, Holding, currency_of, dated_lots, rate_of, whole_shelf
from hideledger.rules.stockroom import days_said, left_of
from hideledger.rules.words import day_said, in_order, listed
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.shelf import ShelfLines
from hideledger.trade.stock import Heap, Shelf

_NEAR_DAYS = 30
_SHELF_FINDINGS = ("stock short", "lot past its date")


def stock(floor: Floor, findings: Sequence[Finding]) -> Sheet:
    """The whole shelf. `findings` are what `check` says; those about the shelf stand first."""
    lines, held = whole_shelf(floor)
    sign = currency_of(floor)
    sections = (
        _wants_a_hand(findings),
        Section(heading="On the shelf", rows=tuple(_row(one, floor, sign) for one in _known(held)), spaced=True),
        Section(heading="Used, and never written as bought or counted", rows=tuple(_never(held, lines))),
        _dates(held, floor),
        _pieces(lines, floor),
        _left_out(lines),
        _worth(held, sign),
    )
    name = floor.book.shop.shop.name or "the shop"
    return Sheet(
        title=f"The shelf of {name}, {moment_said(floor)}",
        sections=tuple(section for section in sections if section.rows) or (_nothing(),),
        record=record_of(
            floor,
            {
                "currency": sign,
                "supplies": [_record(one, floor) for one in held.values()],
                "worth": money_record(_in_all(held)),
                "not_reckoned": [
                    {
                        "amount": str(odd.amount.quantity),
                        "supply": odd.amount.supply,
                        "why": odd.why,
                        **_place(odd.entry.at),
                    }
                    for odd in lines.not_reckoned
                ],
            },
        ),
    )


def _nothing() -> Section:
    text = "nothing is written of the shelf; what comes in is `bought 50 lb salt, $9.50`, what lies there `counted 140 lb salt`"
    return Section(heading="On the shelf", rows=(Row(text=text, plain=("nothing",)),))


def _known(held: dict[str, Holding]) -> list[Holding]:
    return [one for one in held.values() if one.written]


def _wants_a_hand(findings: Sequence[Finding]) -> Section:
    rows = [
        Row(
            head=finding.name,
            text=finding.message,
            under=(("do", finding.do), *(("", more) for more in finding.more)),
            plain=(finding.name, finding.message, finding.do),
        )
        for finding in findings
        if finding.name in _SHELF_FINDINGS and not finding.ended
    ]
    return Section(heading="Wants a hand", rows=tuple(rows))


def _row(held: Holding, floor: Floor, sign: str) -> Row:
    supply = held.supply
    text = str(held.shown(held.shelf.amount))
    if supply is not None and supply.keep is not None:
        text += f", keep {supply.keep}"
    text += f", {worth_said(held.shelf, held, sign)}"
    under = [("lasts", lasts_said(held, floor))]
    heaps = [heap for heap in held.shelf.heaps if held.is_some(heap.amount)]
    if any(heap.lot for heap in heaps):
        lots = (f"{heap.lot or 'without a lot'} {held.shown(heap.amount)}" for heap in heaps)
        under.append(("lots", ", ".join(lots)))
    under += [("", said) for said in told_of(held, floor)]
    return Row(head=held.name, text=text, under=tuple(under), plain=(held.name, text, under[0][1]))


def worth_said(heap: Shelf | Heap, held: Holding, sign: str) -> str:
    """`worth $39.32`, `no price known`; what of it has no price is said."""
    if not heap.unpriced:
        return f"worth {money_said(heap.cost, sign)}"
    if heap.unpriced == heap.amount:
        return "no price known"
    return f"worth {money_said(heap.cost, sign)} without {held.shown(heap.unpriced)} that has no price"


def lasts_said(held: Holding, floor: Floor) -> str:
    """`38 days at 4.6 lb a day over the 28 days since …`; or why nobody can say."""
    rate = rate_of(held, floor)
    if rate is None:
        return "not said: under a week is written of it"
    if not rate.daily:
        return f"none used over the {rate.days} days since {day_said(floor.book.clock, rate.since, floor.at)}"
    if not held.shelf.amount:
        return f"nothing left; {rate.said(held, floor)}"
    return f"{days_said(held.shelf.amount / rate.daily)} at {rate.said(held, floor)}"


def told_of(held: Holding, floor: Floor) -> list[str]:
    """What is odd about a shelf: what was gone or found at the last count, what was taken that never lay there, prices shared."""
    clock, at = floor.book.clock, floor.at
    said = []
    counts = [line for line in held.lines if line.move.sort == "counted"]
    if counts:
        said.append(f"counted {day_said(clock, counts[-1].move.when.day, at)}: {_settled(held, counts[-1])}")
    gone = sum((line.lost for line in counts), Fraction(0))
    if gone and (len(counts) > 1 and gone != counts[-1].lost):
        said.append(f"gone at all {len(counts)} counts together: {held.shown(gone)}")
    for line in held.missing[-3:]:
        of_lot = f" of lot {line.move.lot}" if line.move.lot else ""
        said.append(
            f"{held.shown(line.missing)} more{of_lot} was taken than had come in, {line.move.entry.at.short}: write what was bought, or count the shelf"
        )
    shared = [line.move.entry.at.short for line in held.lines if line.move.shared_price]
    if shared:
        said.append(
            f"one price stands behind several things bought, and counts for none of them: {listed(shared[-3:])}"
        )
    foreign = [
        line for line in held.lines if line.move.price is not None and line.move.price.unit != currency_of(floor)
    ]
    if foreign:
        said.append(
            f"paid in other money, and not reckoned: {foreign[-1].move.price} ({foreign[-1].move.entry.at.short})"
        )
    return said


def _settled(held: Holding, line: Counted) -> str:
    """What a count put right."""
    if line.lost:
        return f"{held.shown(line.lost)} gone that no line tells of"
    if not line.found:
        return "as written"
    first = line is held.lines[0]
    return f"{held.shown(line.found)} {'lay there' if first else 'more than was written'}"


def _never(held: dict[str, Holding], lines: ShelfLines) -> list[Row]:
    rows = []
    for one in held.values():
        if one.written:
            continue
        used = sum((line.move.amount for line in one.lines), Fraction(0))
        last = one.lines[-1].move.entry.at.short
        rows.append(
            Row(head=one.name, text=f"{one.shown(used)}, last at {last}", plain=(one.name, str(one.shown(used)), last))
        )
    if lines.no_amounts:
        tags = " ".join(in_order(bath.tag for bath in lines.no_amounts))
        text = f"{tags}: mixed by a recipe and no amounts written, so that nothing was taken from the shelf; `hideledger mix` prints the line to write"
        rows.append(Row(head="not said", text=text, plain=("not said", tags)))
    return rows


def _dates(held: dict[str, Holding], floor: Floor) -> Section:
    """Lots whose date falls within a month, and those past it of which some is left."""
    clock, now = floor.book.clock, today(floor.book.clock, floor.at)
    rows = []
    for one in held.values():
        for lot in dated_lots(one):
            left, day = left_of(lot), lot.day.toordinal()
            if not one.is_some(left) or day > now + _NEAR_DAYS:
                continue
            far = "past" if day < now else "today" if day == now else f"in {counted(day - now, 'day')}"
            named = f"{one.name} lot {lot.lot}" if lot.lot else one.name
            text = f"{day_said(clock, day, floor.at)}, {far}: {one.shown(left)} left"
            rows.append(Row(head=named, text=text, plain=(named, lot.day.isoformat(), far, str(one.shown(left)))))
    return Section(heading="Good until", rows=tuple(rows))


def _pieces(lines: ShelfLines, floor: Floor) -> Section:
    rows = [
        Row(
            head=f"{_count(piece.count)} {piece.name}",
            text=f"{piece.price if piece.price is not None else 'no price written'}, {day_said(floor.book.clock, piece.when.day, floor.at)}",
            plain=(piece.name, _count(piece.count), str(piece.price or ""), piece.entry.at.short),
        )
        for piece in lines.pieces
    ]
    return Section(heading="Bought by the piece, and not used up", rows=tuple(rows))


def _count(number: Fraction) -> str:
    return str(number.numerator) if number.denominator == 1 else f"{float(number):g}"


def _left_out(lines: ShelfLines) -> Section:
    rows = [
        Row(
            head=f"{odd.amount.quantity} {odd.amount.supply}",
            text=f"{odd.why} ({odd.entry.at.short})",
            plain=(str(odd.amount.quantity), odd.amount.supply, odd.why, odd.entry.at.short),
        )
        for odd in lines.not_reckoned
    ]
    return Section(heading="Not reckoned", rows=tuple(rows))


def _in_all(held: dict[str, Holding]) -> Fraction:
    return sum((one.shelf.cost for one in _known(held)), Fraction(0))


def _worth(held: dict[str, Holding], sign: str) -> Section:
    known = _known(held)
    if not known:
        return Section(heading="Worth", rows=())
    unpriced = [one.name for one in known if one.shelf.unpriced]
    without = f", without what has no price: {listed(unpriced)}" if unpriced else ""
    text = f"{money_said(_in_all(held), sign)}{without}"
    how = "a lot at what was paid for it, what has no lot at the average; where nothing was paid, at the shop's list price"
    return Section(heading="Worth", rows=(Row(head="in all", text=text, under=(("", how),), plain=("in all", text)),))


def _place(place: object) -> dict[str, object]:
    return {"file": getattr(place, "file", None), "line": getattr(place, "line", None)}


def _record(held: Holding, floor: Floor) -> dict[str, object]:
    rate = rate_of(held, floor)
    shelf = held.shelf
    days = int(shelf.amount / rate.daily) if rate is not None and rate.daily else None
    return {
        "supply": held.name,
        "unit": held.unit,
        "on_hand": _figure(held, shelf.amount) if held.written else None,
        "keep": str(held.supply.keep) if held.supply is not None and held.supply.keep is not None else None,
        "worth": money_record(shelf.cost),
        "without_price": _figure(held, shelf.unpriced),
        "a_day": None if rate is None else _figure(held, rate.daily),
        "over_days": None if rate is None else rate.days,
        "days_left": days,
        "lots": [
            {"lot": heap.lot, "amount": _figure(held, heap.amount), "worth": money_record(heap.cost)}
            for heap in shelf.heaps
            if heap.amount
        ],
        "taken_and_never_there": _figure(held, sum((line.missing for line in held.missing), Fraction(0))),
    }


def _figure(held: Holding, amount: Fraction) -> str:
    return plain_number(held.shown(amount).value)
