"""Weights, volumes, amounts of a supply, money."""

from __future__ import annotations

from decimal import Decimal

from hideledger.model.facts import (
    Added,
    Amount,
    Bought,
    Counted,
    Flaw,
    InCondition,
    Money,
    Pressed,
    Price,
    Remark,
    Took,
    ToppedUp,
    Used,
    Weighed,
)
from hideledger.model.facts_shelf import GIVEN_BACK
from hideledger.model.units import UNITS, Quantity
from hideledger.reading.desk import Desk, Phrase
from hideledger.reading.loose import BareWeight, Let
from hideledger.reading.say_arrival import counted_skins
from hideledger.reading.say_readings import as_quantity, length, pressure, reading, time_taken
from hideledger.reading.values import not_below_nothing, unit_name

NOTHING = Amount(quantity=Quantity(value=Decimal(0), unit="each"), supply="")


def quantity(desk: Desk) -> None:
    """A number with its unit, by what is measured."""
    phrase = desk.take()
    found = as_quantity(desk, phrase)
    dimension = UNITS[found.unit].dimension
    last = desk.facts[-1] if desk.facts else None
    if isinstance(last, Pressed) and last.pressure is None and dimension != "pressure":
        raise desk.refuse("unit kind", f"{found}: a pressure belongs here (psi, bar, kPa)", phrase)
    if isinstance(last, Added | Bought | Counted | Used) and dimension not in ("weight", "volume"):
        raise desk.refuse("unit kind", f"{found}: an amount belongs here (lb, oz, gal, floz, kg, L …)", phrase)
    if isinstance(last, Flaw) and dimension in ("weight", "volume"):
        raise desk.refuse("unit kind", f"{found}: a size belongs here (in, cm, mm)", phrase)
    if desk.mode == "topping" and dimension != "volume":
        raise desk.refuse("unit kind", f"{found}: a volume belongs here (gal, qt, L)", phrase)
    if dimension == "weight":
        _weight(desk, found, phrase)
    elif dimension == "volume":
        _volume(desk, found, phrase)
    elif dimension in ("time", "calendar"):
        time_taken(desk, found, phrase)
    elif dimension in ("length", "area"):
        length(desk, found, phrase)
    elif dimension == "pressure":
        pressure(desk, found)
    else:
        reading(desk, found, phrase)


def _weight(desk: Desk, found: Quantity, phrase: Phrase) -> None:
    nxt = desk.peek()
    if (
        found.unit == "lb"
        and nxt is not None
        and nxt.kind == "quantity"
        and unit_name(nxt.tokens[-1]) == "oz"
        and not desk.mode.startswith("dose")
    ):
        ounces = as_quantity(desk, desk.take())
        found = Quantity(value=found.value + ounces.to("lb"), unit="lb")
    if desk.mode in ("dose", "mixing", "topped", "shelf"):
        _amount(desk, found, phrase)
        return
    start = desk.at
    basis, each, together = weight_words(desk)
    supply = desk.look("supply") if not basis and not each and not together else None
    if supply is not None:
        if desk.mode in ("step", "step supply", "bath step", "timed step"):
            _amount(desk, found, phrase)
            return
        name = supply[1]
        desk.at = start + supply[2]
        raise desk.refuse(
            "add",
            f"{found} {name}: into a bath it is `add {found} {name}`; used on a hide it stands behind its step",
            phrase,
            desk.phrases[desk.at - 1].end,
        )
    if desk.mode == "step supply" and not basis:
        raise desk.refuse(
            "weighs or used",
            f"{found}: does the hide weigh that (`{found} salted`), or was it used (`{found} salt`)?",
            phrase,
        )
    if desk.mode == "arrival" and basis == "green":
        desk.say(InCondition(condition="green"))
    if together or desk.mode == "together":
        desk.say(Weighed(weight=found, basis=basis, together=True))
        return
    if each or desk.mode == "each":
        desk.say(Weighed(weight=found, basis=basis))
        return
    desk.say(BareWeight(weight=found, basis=basis, start=phrase.start, end=phrase.end))


def weight_words(desk: Desk) -> tuple[str, bool, bool]:
    """What stands behind a weight: its basis, whether each or together."""
    basis, each, together = "", False, False
    while True:
        found = desk.name("basis")
        if found is not None:
            basis = found[1]
        elif desk.skip_word("each", "apiece"):
            each = True
        elif desk.skip_word("together", "altogether"):
            together = True
        else:
            return basis, each, together


def _volume(desk: Desk, found: Quantity, phrase: Phrase) -> None:
    if desk.mode == "topping":
        desk.say(ToppedUp(volume=found))
        desk.mode = "topped"
        desk.skip_word("with")
        if desk.next_is("word"):
            supply = desk.name("supply")
            if supply is None or supply[1] != "water":
                raise desk.refuse(
                    "topped",
                    "topped up with what? after the volume a further amount stands behind a comma: `topped up to 20 gal, 2 lb salt`",
                )
        return
    if desk.mode == "arrival" and found.unit in ("pt", "imperial pt"):
        desk.say(Remark(text=f"{phrase.tokens[0]} points"))  # an eight-point buck, not a pint
        return
    if desk.mode == "dumped":
        desk.say(Let(volume=found, start=phrase.start))
        return
    if desk.mode in ("dose", "mixing", "topped", "shelf") or (desk.after_step and desk.look("supply")):
        _amount(desk, found, phrase)
        return
    behind = desk.look("supply")
    what = f"{found} {behind[1]}" if behind else f"{found} water"
    raise desk.refuse("add", f"{found}: into a bath it is `add {what}`, filled up is `topped up to {found}`", phrase)


def _amount(desk: Desk, found: Quantity, phrase: Phrase) -> None:
    """So much of a supply; the lot may stand behind it."""
    desk.skip_word("of")
    supply = desk.name("supply")
    known = supply is not None
    if supply is not None:
        name = supply[1]
    else:
        if not desk.next_is("word"):
            raise desk.refuse("of what", f"{found} of what? name the supply: `{found} salt`", phrase)
        begin = desk.phrases[desk.at]
        name = desk.rest_of_words()
        if name.casefold() == "soda":
            raise desk.refuse(
                "which soda",
                "`soda`: baking soda, soda ash or washing soda crystals? they differ 2.7-fold in strength; a supply line may give one of them that other name",
                begin,
            )
    if found.unit == "oz" and known and desk.words.supply_dimensions.get(name.casefold()) == "volume":
        raise desk.refuse(
            "ounces",
            f"{found} {name}: ounces by weight (`{found} by weight`), or fluid ounces (`floz`)? this shop keeps {name} by volume",
            phrase,
        )
    lot = ""
    if desk.next_is("coded") and desk.phrases[desk.at].word == "lot":
        lot = str(desk.take().tokens[-1]).lstrip("#")
    amount = Amount(quantity=found, supply=name, lot=lot, known=known)
    shelf = desk.facts[-1] if desk.mode == "shelf" and desk.facts else None
    if isinstance(shelf, Bought | Counted | Used) and shelf.amount is NOTHING:
        desk.facts[-1] = type(shelf)(amount=amount)
        return
    desk.say(Took(amount=amount))


def count(desk: Desk) -> None:
    """A number without a unit of the language: of a measure of the shop's own, of skins, of things bought; else the unit is missing."""
    phrase = desk.take()
    value = not_below_nothing(phrase.tokens[0], phrase.start)
    measure = desk.name("measure")
    if measure is not None:
        amount_in(desk, Quantity(value=value, unit=measure[1]), phrase)
        return
    if desk.mode == "arrival" and desk.skip_word("point", "points", "pointer", "pts"):
        desk.say(Remark(text=f"{phrase.tokens[0]} points"))
        return
    if desk.mode == "arrival" and value == int(value) and desk.next_is("word"):
        counted_skins(desk, int(value), phrase)
        return
    if desk.mode == "shelf" and desk.next_is("word"):
        _amount(desk, Quantity(value=value, unit="each"), phrase)
        return
    written = phrase.tokens[0]
    nearby = desk.word_run()[:1]
    ordinal = bool(nearby) and nearby[0] in ("st", "nd", "rd", "th")
    if nearby and not ordinal and desk.text[phrase.end : phrase.end + 1].isalpha():
        asked = f"a unit, or a tag? write the whole tag (`H{written}{nearby[0][:1]}`)"
        raise desk.refuse("tag letter", f"{written}{nearby[0]}: {asked}", phrase)
    if ordinal:
        raise desk.refuse("digit in name", "a name has no digit in it; write the word (`second turn`)", phrase)
    hint = desk.nearest(nearby[0], ["measure"]) if nearby else ""
    raise desk.refuse(
        "unit", f"{written}: a unit is missing (lb, oz, gal, F, sal, psi …, or `pH` in front){hint}", phrase
    )


def amount_in(desk: Desk, found: Quantity, phrase: Phrase) -> None:
    """A quantity with a name is an amount of a supply where the line doses, mixes or buys; elsewhere it is refused.

    Raises Unreadable, with the line that says it.
    """
    if desk.mode in ("dose", "mixing", "topped", "shelf", "step", "step supply", "bath step"):
        _amount(desk, found, phrase)
        return
    supply = desk.look("supply")
    raise desk.refuse("add", f"{found}: into a bath it is `add {found} {supply[1] if supply else 'oil'}`", phrase)


def price(desk: Desk) -> None:
    """Money behind what was bought."""
    phrase = desk.take()
    found = money_of(phrase)
    if desk.mode != "shelf":
        raise desk.refuse(
            "money", f"{found}: paid for what? `bought …, {found}`, `deposit {found}`, `paid {found} by WHOM`", phrase
        )
    desk.say(Price(money=found))


_SORT_OF_MONEY = {"charged": "charge", "valued": "value", "valued at": "value"} | dict.fromkeys(
    ("gave back", "paid back", "refund", "refunded"), GIVEN_BACK
)


def payment(desk: Desk) -> None:
    """`deposit $50`, `paid $40.00 by Oren Vale`, `gave back $40.00 to Oren Vale`."""
    phrase = desk.take()
    sort = _SORT_OF_MONEY.get(phrase.word, phrase.word)
    desk.say(Money(sort=sort, money=money_of(phrase)))
    if desk.mode != "arrival":
        desk.mode = "money"


def money_of(phrase: Phrase) -> Quantity:
    """The sum of a price phrase."""
    sign, figures = phrase.tokens[-2], phrase.tokens[-1]
    return Quantity(value=not_below_nothing(figures, figures.start_pos or 0), unit=sign[-1])


def together(desk: Desk) -> None:
    """`together 14 1/2 lb drained`, `each 5 lb`."""
    phrase = desk.take()
    if not desk.next_is("quantity"):
        raise desk.refuse("together", f"{phrase.word} how much? `{phrase.word} 14 1/2 lb drained`", phrase)
    before, desk.mode = desk.mode, phrase.word
    quantity(desk)
    desk.mode = before or "facts"
