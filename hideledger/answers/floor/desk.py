"""The counter's part of the evening: what to ask for, what was promised, what waits to be fetched and paid."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from hideledger.answers.money import money_said
from hideledger.answers.owed.account import Accounts, HideBill, accounts
from hideledger.answers.owed.calling import calls_first
from hideledger.answers.owed.words import LOOKED_AT, being_looked_at
from hideledger.answers.saying import counted, tags_said, today
from hideledger.answers.sheet import Row, Section
from hideledger.answers.standing import is_finished
from hideledger.answers.whose import NOBODY
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import look
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
    return not life.tanned_before and (life.condition is None or life.condition[0].condition == "green")


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
        about = tags_said(finding.tags)
        rows.append(Row(head=day_said(clock, day, floor.at), text=f"{finding.held}{': ' if about else ''}{about}"))
    return Section(heading="Times not written", rows=tuple(rows))


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
    """Finished hides by customer and how long they wait, and what is unpaid of them and of what went out in the last two months."""
    every = accounts(floor)
    now = today(floor.book.clock, floor.at)
    rows = []
    finished = _finished(every)
    looked_at = being_looked_at(floor, look(floor)) if finished else frozenset()
    for name, bills in finished:
        doubtful = in_order(bill.life.tag for bill in bills if bill.life.tag in looked_at)
        if doubtful:
            spoilt = calls_first(bill.life for bill in bills if bill.life.tag in looked_at)
            rows.append(Row(head=name, text=", ".join([f"{tags_said(doubtful)} {LOOKED_AT}", *spoilt])))
        ready = [bill for bill in bills if bill.life.tag not in looked_at]
        if not ready:
            continue
        waits = now - min(bill.ready for bill in ready if bill.ready is not None)
        waiting = f", waiting {counted(waits, 'day')}" if waits > 0 else ""
        fetch = f"to fetch: {' '.join(in_order(bill.life.tag for bill in ready))}{waiting}"
        rows.append(Row(head=name, text=", ".join([fetch, *calls_first(bill.life for bill in ready)])))
    for one in sorted(every.people.values(), key=lambda one: one.name):
        rows += [Row(head=one.name, text=text) for text in _unpaid(one.bills, one.pooled, one.sign, floor)]
    rows += [Row(head=NOBODY, text=text) for text in _unpaid(every.nobody, Fraction(0), every.sign, floor)]
    return Section(heading="Pick-up and unpaid", rows=tuple(rows))


def _finished(every: Accounts) -> list[tuple[str, list[HideBill]]]:
    several = [(one.name, one.bills) for one in sorted(every.people.values(), key=lambda one: one.name)]
    found = [
        (name, [bill for bill in bills if bill.life.here and bill.ready is not None and not bill.own])
        for name, bills in (*several, (NOBODY, every.nobody))
    ]
    return [(name, bills) for name, bills in found if bills]


def _unpaid(bills: Sequence[HideBill], pooled: Fraction, sign: str, floor: Floor) -> list[str]:
    """Hides finished or handed back in the last two months that are not all paid; together where several were paid at once."""
    all_due = [bill for bill in bills if bill.life.declared and _is_due(bill.life, floor)]
    due = [bill for bill in all_due if bill.left > 0 and not bill.unclear]
    due.sort(key=lambda bill: tag_order(bill.life.tag))
    unclear = in_order(bill.life.tag for bill in all_due if bill.unclear)
    no_sum = [f"no sum known yet: {tags_said(unclear)}, not reckoned"] if unclear else []
    return no_sum + _sums_unpaid(due, pooled, sign, floor)


def _sums_unpaid(due: Sequence[HideBill], pooled: Fraction, sign: str, floor: Floor) -> list[str]:
    if pooled and due:
        left = sum((bill.left for bill in due), Fraction(0)) - pooled
        tags = tags_said(bill.life.tag for bill in due)
        return [f"unpaid: {tags}, {money_said(left, sign)} together"] if left > 0 else []
    alike: dict[tuple[Fraction, Fraction, bool], list[HideLife]] = {}
    for bill in due:
        alike.setdefault((bill.left, bill.charged, bill.life.here), []).append(bill.life)
    return [
        f"unpaid: {tags_said(life.tag for life in several)}, {money_said(left, sign)} of {money_said(whole, sign)}{_state(several, floor)}"
        for (left, whole, _), several in alike.items()
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
