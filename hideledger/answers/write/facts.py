"""Each fact of a line in plain words, for saying back what was understood of it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from hideledger.answers.amounts import reading_words
from hideledger.model.facts import (
    Added,
    Amount,
    Arrived,
    Bought,
    Code,
    Counted,
    Divided,
    Dumped,
    Expires,
    Fact,
    Flaw,
    Formerly,
    HandedOut,
    Hung,
    InCondition,
    KeepApart,
    Killed,
    LiftedOut,
    Lost,
    MeterSet,
    Mixed,
    Money,
    OfKind,
    OfSex,
    OnProcess,
    Opened,
    Party,
    Pressed,
    Price,
    Promised,
    Ran,
    Reading,
    Refused,
    Remark,
    Shrinks,
    Sized,
    Skipped,
    StandsIn,
    Stepped,
    Stirred,
    Tested,
    Took,
    ToppedUp,
    Turning,
    Used,
    Vented,
    Waived,
    Weighed,
)
from hideledger.model.facts_shelf import GIVEN_BACK
from hideledger.model.moments import Clock
from hideledger.model.units import plain_number
from hideledger.reading.words import plural
from hideledger.rules.words import clock_said, day_said

_MONEY = {
    "deposit": "deposit {}",
    "paid": "{} paid",
    GIVEN_BACK: "{} given back",
    "charge": "{} charged",
    "value": "valued at {}",
}


def facts_said(
    facts: Iterable[Fact], clock: Clock, at: int, *, but: tuple[type[Fact], ...] = (), several: bool = False
) -> list[str]:
    """The facts of a line one by one, as the bench says them, those of the sorts in `but` left out; `several` when it is about more than one hide, which then share an amount."""
    said: list[str] = []
    for fact in facts:
        if isinstance(fact, but):
            continue
        words = _fact_said(fact, clock, at)
        if words and isinstance(fact, Price) and said:
            said[-1] += f" {words}"
        elif words and isinstance(fact, Took) and said and said[-1] == "added":
            said[-1] = f"{words} added"
        elif words:
            said.append(f"{words} among them" if several and isinstance(fact, Took) else words)
    return said


def amount_said(amount: Amount) -> str:
    """`8 lb salt lot S-113`."""
    quantity = amount.quantity
    several = quantity.dimension == "measure" and quantity.value > 1
    measured = f"{plain_number(quantity.value)} {plural(quantity.unit)}" if several else f"{quantity}"
    return f"{measured} {amount.supply}{f' lot {amount.lot}' if amount.lot else ''}"


def _fact_said(fact: Fact, clock: Clock, at: int) -> str:
    match fact:
        case Reading():
            return reading_words(fact)
        case Took(amount=amount):
            return amount_said(amount)
        case Tested() | Flaw() | Weighed() | Sized() | Shrinks():
            return _found(fact)
        case Bought(amount=amount):
            return f"{amount_said(amount)} bought"
        case Counted(amount=amount):
            return f"{amount_said(amount)} counted"
        case Used(amount=amount):
            return f"{amount_said(amount)} used"
        case Price(money=money):
            return f"for {money}"
        case Expires(day=day):
            return f"good until {_day(day, clock, at)}"
        case Money(sort=sort, money=money, by=by):
            return _MONEY.get(sort, "{} " + sort).format(money) + (
                f" {'to' if sort == GIVEN_BACK else 'by'} {by}" if by else ""
            )
        case Remark(text=text):
            return f"remark {text}" if text else ""
        case MeterSet():
            return "meter set" + (f" at {' and '.join(f'{ph:f}' for ph in fact.at)}" if fact.at else "")
        case _:
            return _of_bath(fact) or _of_hide(fact, clock, at)


def _of_bath(fact: Fact) -> str:
    match fact:
        case Added():
            return "added"
        case ToppedUp(volume=volume):
            return f"filled up to {volume}"
        case Stirred():
            return "stirred"
        case Dumped(volume=volume, where=where):
            return " ".join(
                part
                for part in ("dumped", str(volume) if volume is not None else "", f"to {where}" if where else "")
                if part
            )
        case Turning(on=on):
            return "on" if on else "off"
        case Ran(start=start, end=end):
            return f"ran {clock_said(start)} to {clock_said(end)}"
        case Vented():
            return "vented"
        case Pressed(pressure=pressure):
            return f"pressed to {pressure}" if pressure is not None else "pressed"
        case Mixed(vessel=vessel, recipe=recipe):
            return f"mixed{f' in {vessel}' if vessel else ''}{f', {recipe}' if recipe else ''}"
        case _:
            return ""


def _of_hide(fact: Fact, clock: Clock, at: int) -> str:
    match fact:
        case OfKind(kind=kind):
            return kind
        case OfSex(sex=sex):
            return sex
        case InCondition(condition=condition):
            return condition
        case Formerly(other=other):
            return f"here before as {other}"
        case Killed(stamp=stamp, where=where):
            day = "" if stamp is None else f" {_day(stamp.day, clock, at)}"
            minute = "" if stamp is None or stamp.minute is None else f" {clock_said(stamp.minute)}"
            return f"killed{day}{minute}{f' at {where}' if where else ''}"
        case Hung(temperature=temperature):
            return f"hung at {temperature}"
        case Party(role=role, name=name):
            return f"{role} {name}"
        case Code(sort=sort, code=code):
            return f"{sort} {code}"
        case Promised(day=day):
            return f"promised {_day(day, clock, at)}"
        case OnProcess(process=process):
            return f"process {process} from here on"
        case KeepApart():
            return "to be kept apart while raw"
        case Skipped(step=step):
            return f"{step} left out on purpose"
        case Waived(finding=finding):
            return f"waived: {finding}"
        case _:
            return _goes(fact)


def _goes(fact: Fact) -> str:
    match fact:
        case Arrived():
            return "in"
        case Stepped(step=step, where=where, back=back):
            return " ".join(part for part in (step, "back" if back else "", f"in {where}" if where else "") if part)
        case HandedOut(to=to):
            return f"out to {to}"
        case Lost():
            return "given up"
        case Refused():
            return "not taken in"
        case LiftedOut(where=where):
            return f"out of {where}"
        case Divided(parts=parts):
            return "cut into " + ", ".join(f"{tag} {what}".strip() for tag, what in parts)
        case StandsIn(other=other):
            return f"takes over the job of {other}"
        case Opened(tags=tags):
            return f"opened, {len(tags)} in it" if tags else "opened"
        case _:
            return ""


def _found(fact: Tested | Flaw | Weighed | Sized | Shrinks) -> str:
    """What was measured or seen on a skin."""
    match fact:
        case Tested(test=test, passed=passed, where=where, on=on):
            place = f", {where}" if where else ""
            return f"{test} {'ok' if passed else 'fails'}{f' on {on}' if on else ''}{place}"
        case Flaw(defect=defect, where=where, size=size, degree=degree):
            return ", ".join(part for part in (defect, where, str(size) if size is not None else degree) if part)
        case Weighed(weight=weight, basis=basis, together=together):
            return f"{weight}{f' {basis}' if basis else ''}{' together' if together else ''}"
        case Sized(what=what, size=size):
            return f"{what} {size}"
        case Shrinks(temperature=temperature):
            return f"shrinks at {temperature}"


def _day(day: date, clock: Clock, at: int) -> str:
    return day_said(clock, day.toordinal(), at)
