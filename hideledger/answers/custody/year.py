"""The sheet of a year: skins that came and went, what is held of other people's, baths let go, money, and the shelf on the last day."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction

from hideledger.answers.custody.baths import CAUTION as DRAIN_CAUTION
from hideledger.answers.custody.baths import baths_record, baths_section, let_go
from hideledger.answers.custody.count import Flow, flow
from hideledger.answers.custody.held import held_record, held_sections
from hideledger.answers.custody.record import Recorded, recorded
from hideledger.answers.custody.register import CAUTION, head_record, title
from hideledger.answers.money import money_record, money_said, summed
from hideledger.answers.owed.account import Account, Accounts, accounts
from hideledger.answers.owed.words import owes_said, settle_rows, settling_record
from hideledger.answers.saying import now_words, tags_said, unread_said
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.stock.shelf import worth_said
from hideledger.model.book import Book
from hideledger.model.facts import Money, Price
from hideledger.model.units import CURRENCIES, Quantity
from hideledger.rules.onhand import Holding, currency_of, holdings, whole_shelf
from hideledger.rules.words import in_order, listed
from hideledger.shopfloor.custody import custody_of
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out

_SORTS = (
    ("paid", "paid by customers"),
    ("deposit", "deposits"),
    ("charge", "charged, as written on hides"),
    ("bought", "paid for supplies"),
    ("machines", "paid for machines"),
)


class NotBegun(ValueError):
    """The year has not begun at the moment asked for; the text says so."""


def year_sheet(book: Book, year: int, at: int) -> Sheet:
    """The sheet as it stood at the end of the year, or at `at` where the year is not over. Raises NotBegun."""
    clock = book.clock
    first, last = date(year, 1, 1).toordinal(), date(year, 12, 31).toordinal()
    if at <= clock.day_start(first):
        raise NotBegun(f"the year {year} has not begun at {now_words(at, clock)}")
    floor = lay_out(book, min(at, clock.day_end(last)))
    made = recorded(floor, custody_of(floor))
    found = flow([one.custody for one in made], first, last)
    baths = let_go(floor, first, last)
    every = accounts(floor)
    shelf = {name: held for name, held in holdings(floor).items() if held.written}
    sections = [
        _skins(found, year),
        _gone(made, first, last),
        *held_sections(floor, made, heading="Other people's skins, "),
        baths_section(baths, floor),
        _money(floor, first, last),
        _unpaid(every),
        _to_settle(every, floor),
        _shelf(shelf, floor),
        _mind(floor),
    ]
    return Sheet(
        title=title(f"The year {year}", floor),
        sections=tuple(section for section in sections if section.rows),
        record={
            **head_record(floor),
            "year": year,
            "skins": _flow_record(found),
            **held_record(floor, made),
            "baths_let_go": baths_record(baths),
            "money": {what: [str(one) for one in sums] for what, sums in _sums(floor, first, last).items()},
            "unpaid": [
                {
                    "customer": one.name,
                    "now": None if one.unclear_now else money_record(one.now),
                    "in_the_end": None if one.unclear else money_record(one.in_the_end),
                    "reckoned_now": money_record(one.now),
                    "reckoned_in_the_end": money_record(one.in_the_end),
                }
                for one in every.people.values()
                if _is_unpaid(one)
            ],
            "to_settle": settling_record(list(every.people.values()), every.nobody),
            "shelf_worth": money_record(_worth(shelf)),
            "currency": every.sign,
        },
    )


def _skins(found: Flow, year: int) -> Section:
    rows = [
        Row(head=f"here on 1 Jan {year}", text=str(found.at_start)),
        Row(head="came in", text=_with_tags(found.came, found.came_tags)),
    ]
    if found.by_cutting:
        what = "more by cutting" if found.by_cutting > 0 else "cut, and no new tag"
        rows.append(Row(head=what, text=str(abs(found.by_cutting))))
    if found.by_opening:
        what = "more in boxes than said" if found.by_opening > 0 else "fewer in boxes than said"
        rows.append(Row(head=what, text=str(abs(found.by_opening))))
    rows += [
        Row(head=how, text=_with_tags(number, found.gone_tags[how]))
        for how, number in (("out", found.out), ("lost", found.lost), ("refused", found.refused))
    ]
    rows.append(Row(head="here at the end", text=str(found.at_end)))
    return Section(heading="Skins", rows=tuple(rows))


def _with_tags(number: int, tags: Sequence[str]) -> str:
    return f"{number}: {tags_said(in_order(tags))}" if tags else "none"


def _flow_record(found: Flow) -> dict[str, object]:
    return {
        "at_start": found.at_start,
        "in": found.came,
        "by_cutting": found.by_cutting,
        "by_opening": found.by_opening,
        "out": found.out,
        "lost": found.lost,
        "refused": found.refused,
        "at_end": found.at_end,
    }


def _gone(made: Sequence[Recorded], first: int, last: int) -> Section:
    """Every skin lost or refused, with the reason."""
    rows = []
    for one in made:
        ended = one.custody.life.ended_when
        if one.how not in ("lost", "refused") or ended is None or not first <= ended.day <= last:
            continue
        whose = one.owner.name if one.owner is not None else "nobody named"
        place = one.custody.life.ended.at.short if one.custody.life.ended is not None else ""
        text = f"{one.how} {one.out}, {one.custody.life.kind or 'kind not written'}, {whose}: {one.why or 'no reason written'}"
        rows.append(
            Row(head=one.tag, text=f"{text} ({place})", plain=(one.tag, one.how, one.out, whose, one.why, place))
        )
    return Section(heading="Lost and refused", rows=tuple(rows))


def _sums(floor: Floor, first: int, last: int) -> dict[str, list[Quantity]]:
    """What was paid, put down, charged, paid for supplies and paid for machines, each in the money it was written in."""
    sums: dict[str, dict[str, Decimal]] = {}

    def add(what: str, money: Quantity) -> None:
        if money.unit in CURRENCIES:
            of = sums.setdefault(what, {})
            of[money.unit] = of.get(money.unit, Decimal(0)) + money.value

    for entry in floor.money:
        if first <= entry.when.day <= last:
            for fact in entry.facts:
                if isinstance(fact, Money) and fact.sort != "value":
                    add(fact.sort, fact.money)
    for entry in floor.shelf:
        if first <= entry.when.day <= last:
            for fact in entry.facts:
                if isinstance(fact, Price):
                    add("bought", fact.money)
    for piece in whole_shelf(floor)[0].pieces:  # a drum is used, and not used up: it is no supply
        if piece.price is not None and first <= piece.entry.when.day <= last:
            add("machines", piece.price)
            add("bought", Quantity(value=-piece.price.value, unit=piece.price.unit))
    for of in sums.values():
        for unit in [unit for unit, value in of.items() if not value]:
            del of[unit]
    sums = {what: of for what, of in sums.items() if of}
    return {what: [Quantity(value=value, unit=unit) for unit, value in of.items()] for what, of in sums.items()}


def _money(floor: Floor, first: int, last: int) -> Section:
    sums = _sums(floor, first, last)
    rows = [
        Row(head=words, text=" and ".join(str(one) for one in sums[sort])) for sort, words in _SORTS if sort in sums
    ]
    return Section(heading="Money of the year, as written", rows=tuple(rows))


def _is_unpaid(one: Account) -> bool:
    return one.now > 0 or one.in_the_end > 0 or bool(one.unclear)


def _unpaid(every: Accounts) -> Section:
    rows = [
        Row(head=one.name, text=owes_said(one))
        for one in sorted(every.people.values(), key=lambda one: one.name.casefold())
        if _is_unpaid(one)
    ]
    now = summed(one.now for one in every.people.values() if one.now > 0)
    unclear = in_order(bill.life.tag for one in every.people.values() for bill in one.unclear_now)
    beside = f", and {tags_said(unclear)} not reckoned" if unclear else ""
    if rows:
        rows.append(Row(head="in all", text=f"{money_said(now, every.sign)} for what is ready or fetched{beside}"))
    return Section(heading="Unpaid on the last day", rows=tuple(rows))


def _to_settle(every: Accounts, floor: Floor) -> Section:
    people = sorted(every.people.values(), key=lambda one: one.name.casefold())
    rows = [row for one in people for row in settle_rows(one.name, one.bills, floor)]
    return Section(heading="To settle by word", rows=(*rows, *settle_rows("nobody named", every.nobody, floor)))


def _worth(shelf: dict[str, Holding]) -> Fraction:
    return summed(one.shelf.cost for one in shelf.values())


def _shelf(shelf: dict[str, Holding], floor: Floor) -> Section:
    sign = currency_of(floor)
    rows = []
    for one in shelf.values():
        rows.append(Row(head=one.name, text=f"{one.shown(one.shelf.amount)}, {worth_said(one.shelf, one, sign)}"))
    if rows:
        unpriced = [one.name for one in shelf.values() if one.shelf.unpriced]
        without = f", without what has no price: {listed(unpriced)}" if unpriced else ""
        rows.append(Row(head="in all", text=f"worth {money_said(_worth(shelf), sign)}{without}"))
    return Section(heading="The shelf on the last day", rows=tuple(rows))


def _mind(floor: Floor) -> Section:
    said = [CAUTION, DRAIN_CAUTION]
    if floor.book.unread:
        said.append(f"{unread_said(floor.book)} not understood count nowhere here; hideledger check says which.")
    return Section(heading="Mind", rows=tuple(Row(text=text, plain=("mind", text)) for text in said))
