"""The answer to `mix`: what to measure out, from what it was scaled, what it will be, whether the vessel holds it, and the line to write."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from hideledger.answers.acid.parts import density_by_memory
from hideledger.answers.mix.asked import Wanted, wanted
from hideledger.answers.mix.expected import expected
from hideledger.answers.mix.floors import held_to
from hideledger.answers.mix.limits import bears
from hideledger.answers.mix.line import line_of
from hideledger.answers.mix.never import never_together
from hideledger.answers.mix.scale import Scaled, Taken, scaled
from hideledger.answers.mix.shelf import cost_of, on_shelf, shelf_words
from hideledger.answers.mix.strength import Strength, strength_of
from hideledger.answers.mix.supplies import WATER
from hideledger.answers.mix.unread import unread_words
from hideledger.answers.mix.vessel import Room, fits, vessel_of
from hideledger.answers.mix.words import about, amount_words, bare, figure_words
from hideledger.answers.mix.work import cautions, order_of_work
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.model.units import Quantity, plain_number
from hideledger.reading.asking_mix import MixAsked
from hideledger.rules.onhand import on_hand
from hideledger.rules.words import listed
from hideledger.shopfloor.floor import Floor

_CENT = Decimal("0.01")
# An amount off by more than this share is not the recipe any more (our own figure).
_COARSE = Decimal("0.05")
# Less than this is not worth saying.
_TRIFLE = Decimal("0.0005")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Told:
    """One amount with what it costs and what lies on the shelf of it."""

    taken: Taken
    cost: Quantity | None
    shelf: Quantity | None


def mix(asked: MixAsked, floor: Floor, day: date) -> Sheet:
    """The recipe at the size asked for, by the supplies and prices of that day. Raises Unreadable at a place of the request, and NotReckoned."""
    wants = wanted(asked, floor, day)
    vessel = vessel_of(wants, day)
    never_together(wants, day)
    mixed = scaled(wants, day)
    skins_kg, unweighed = wants.wet_kg()
    strength = strength_of(mixed, skins_kg, wants.raw_kg(), perhaps_salted=wants.perhaps_salted)
    floors = (*held_to(wants, mixed, strength), *bears(wants, mixed, strength))
    room = fits(wants, vessel, strength) if vessel is not None else Room()
    hand = on_hand(floor)
    each = [_told(one, hand) for one in mixed.taken]
    line = line_of(wants, mixed, vessel)
    trouble = [*(kept.text for kept in floors if kept.trouble), *room.trouble, *_short(each)]
    kept = [kept for kept in floors if not kept.trouble]
    what = ", ".join(f"{amount_words(one.quantity)} {one.stuff.name}" for one in mixed.taken)
    filled = f", water to {amount_words(mixed.filled_to)} in all" if mixed.filled_to is not None else ""
    tag = line.split(" ", 1)[0]
    assumed = [
        *mixed.assumed,
        *_from_memory(mixed),
        f"{tag} is the next free tag, and another will do; a lot stands behind its supply, as in `lot S-114`",
        *_rounding_said(mixed),
        *unread_words(floor.book),
    ]
    if vessel is None and any(one.stuff.sort == WATER for one in mixed.taken):
        assumed.append(f"no vessel was named, so nobody looked whether it holds it (`mix {wants.recipe.name} … in V1`)")
    if wants.weight is not None and not wants.weight_basis():
        assumed.append(
            f"`{wants.weight.text}` is taken for green skin, which brings its own water (`{wants.weight.text} salted` does not)"
        )
    if unweighed:
        assumed.append(f"no weight is written for {', '.join(unweighed)}: their water is not in these figures")
    sections = [
        Section(heading="Measure out", rows=tuple(_row(told, each) for told in each) + _to_the_mark(mixed)),
        Section(heading="Trouble", rows=tuple(Row(text=text, plain=("trouble", text)) for text in trouble)),
        Section(heading="Write", rows=(Row(text=line, plain=("write", line)),), whole_lines=True),
        Section(heading="Scaled from", rows=tuple(_base_row(base) for base in mixed.bases)),
        expected(wants, mixed, strength, kept),
        Section(heading="Vessel", rows=tuple(Row(text=text, plain=("vessel", text)) for text in room.said)),
        _money(each),
        *order_of_work(mixed, stands=room.stands),
        cautions(mixed, floor),
        Section(
            heading="Taken for granted",
            rows=tuple(Row(text=text, plain=("taken for granted", text)) for text in assumed),
        ),
    ]
    return Sheet(
        title=f"{wants.recipe.name}: {what}{filled}",
        title_in_plain=True,
        sections=tuple(section for section in sections if section.rows),
        record=_record(
            wants, mixed, strength, each, line, (*trouble, *(one.text for one in kept), *room.said), assumed
        ),
    )


def _told(one: Taken, hand: Mapping[str, Quantity]) -> _Told:
    if one.stuff.sort == WATER:
        return _Told(taken=one, cost=None, shelf=None)
    return _Told(taken=one, cost=cost_of(one.stuff, one.quantity), shelf=on_shelf(hand, one.stuff, one.quantity.unit))


def _row(told: _Told, all_of_them: Sequence[_Told]) -> Row:
    one = told.taken
    words = amount_words(one.quantity)
    times = "" if one.as_asked or one.factor == 1 else f", times {_times(one.factor)}"
    under = [("recipe", f"{one.base}{times}")] if not one.as_asked else [("", "as asked")]
    if one.amount.too_fine:
        step = amount_words(Quantity(value=one.amount.step, unit=one.quantity.unit))
        under.append(
            ("too little", f"less than half of the {step} that it is measured to: take a finer scale, or mix more")
        )
    elif abs(one.amount.off_by) >= _TRIFLE:
        side = "more" if one.amount.off_by > 0 else "less"
        exact = f"{about(one.amount.exact.value)} {bare(one.quantity.unit)}"
        coarse = abs(one.amount.off_by) > _COARSE
        told_so = ": take a finer scale, or mix more" if coarse else ""
        words_of_it = f"reckoned {exact}, {abs(100 * one.amount.off_by):.1f} % {side}{told_so}"
        under.append(("too coarse" if coarse else "rounded", words_of_it))
    under += _in_all(one, [each.taken for each in all_of_them])
    if told.cost is not None:
        under.append(("costs", _sum(told.cost)))
    under += _shelf_words(told, all_of_them)
    return Row(
        head=one.stuff.name,
        text=words,
        under=tuple(under),
        plain=(one.stuff.name, words, *(f"{label} {text}".strip() for label, text in under)),
    )


def _in_all(one: Taken, all_of_them: Sequence[Taken]) -> list[tuple[str, str]]:
    """Of a supply that stands more than once in a recipe, at its last: what is measured out of it together."""
    same = [each for each in all_of_them if each.stuff.name == one.stuff.name]
    if len(same) < 2 or same[-1] is not one:
        return []
    sums = [one.stuff.to(each.quantity, one.quantity.unit) for each in same]
    whole = sum((each.value for each in sums if each is not None), Decimal(0))
    if None in sums:
        return []
    return [("in all", f"{amount_words(Quantity(value=whole, unit=one.quantity.unit))}, of {len(same)} amounts")]


def _shelf_words(told: _Told, all_of_them: Sequence[_Told]) -> list[tuple[str, str]]:
    """What is left; the same supply may stand twice in a recipe, and the shelf is one."""
    if told.shelf is None:
        return []
    same = [each.taken.quantity for each in all_of_them if each.taken.stuff.name == told.taken.stuff.name]
    return [("shelf", shelf_words(told.shelf, told.taken.stuff, same))]


def _short(each: Sequence[_Told]) -> list[str]:
    """What is not on the shelf."""
    return list(
        dict.fromkeys(
            f"{told.taken.stuff.name}: {words}"
            for told in each
            for _, words in _shelf_words(told, each)
            if words.endswith(" short")
        )
    )


def _to_the_mark(mixed: Scaled) -> tuple[Row, ...]:
    if mixed.filled_to is None:
        return ()
    words = f"as much as fills it to {amount_words(mixed.filled_to)}"
    if any(one.stuff.is_acid for one in mixed.taken):
        words += ": to a hand's breadth below that first, then the salt, then the acid into it; the last of the water makes up the mark"
    return (Row(head="water", text=words, plain=("water", words)),)


def _base_row(base: tuple[str, Decimal, str]) -> Row:
    title, factor, words = base
    return Row(head=title, text=f"times {_times(factor)}: {words}", plain=(title, _times(factor), words))


def _times(factor: Decimal) -> str:
    """A factor as it is said: four figures behind the point at most."""
    return plain_number(round(factor, 4))


def _money(each: Sequence[_Told]) -> Section:
    bought = [told for told in each if told.taken.stuff.sort != WATER]
    priced = [told.cost for told in bought if told.cost is not None]
    units = {cost.unit for cost in priced}
    if not priced or len(units) > 1:
        return Section(heading="Costs", rows=())
    whole = Quantity(value=sum((cost.value for cost in priced), Decimal(0)), unit=units.pop())
    unpriced = [told.taken.stuff.name for told in bought if told.cost is None]
    words = _sum(whole)
    if unpriced:
        words = f"{words} and more: no price is known for {', '.join(dict.fromkeys(unpriced))}"
    return Section(heading="Costs", rows=(Row(text=words, plain=("costs", words)),))


def _sum(money: Quantity) -> str:
    return str(Quantity(value=money.value.quantize(_CENT, rounding=ROUND_HALF_UP), unit=money.unit))


def _from_memory(mixed: Scaled) -> list[str]:
    """The densities that no printed table gave, of what is poured."""
    found = dict[str, None]()
    for one in mixed.taken:
        known = one.stuff.density_from_memory
        if known is not None and one.stuff.plain(one.quantity).unit == "L":
            found[density_by_memory(f"{amount_words(one.quantity)} {one.stuff.name}", known)] = None
    return list(found)


def _rounding_said(mixed: Scaled) -> list[str]:
    """Which amounts were rounded by nobody's word, and to what."""
    loose = {
        one.stuff.name: one
        for one in reversed(mixed.taken)
        if not (one.said or one.as_asked or one.stuff.sort == WATER) and abs(one.amount.off_by) >= _TRIFLE
    }
    if not loose:
        return []
    steps = [
        (name, f"{figure_words(one.amount.step, one.quantity.unit)} {bare(one.quantity.unit)}", one.quantity.dimension)
        for name, one in reversed(loose.items())
    ]
    (first, step, dimension), *others = steps
    rounded = ", ".join([f"{first} was rounded to {step}", *(f"{name} to {other}" for name, other, _ in others)])
    verb = "weighed" if dimension == "weight" else "measured"
    be = "is" if not others else "are"
    return [
        f"how fine {listed([name for name, _, _ in steps])} {be} measured is not written; {rounded} (`supply {first}, {verb} to {step}`)"
    ]


def _record(
    wants: Wanted,
    mixed: Scaled,
    strength: Strength,
    each: Sequence[_Told],
    line: str,
    said: Sequence[str],
    assumed: Sequence[str],
) -> dict[str, object]:
    """The same for a program: every amount by itself, unrounded and as measured."""
    found: dict[str, object] = {
        "schema": 1,
        "asked": wants.asked.text,
        "recipe": wants.recipe.name,
        "amounts": [
            {
                "supply": told.taken.stuff.name,
                "amount": plain_number(told.taken.quantity.value),
                "reckoned": plain_number(round(told.taken.amount.exact.value, 6)),
                "unit": told.taken.quantity.unit,
                "step": plain_number(told.taken.amount.step),
                "base": told.taken.base,
                "factor": plain_number(round(told.taken.factor, 6)),
                "cost": None if told.cost is None else _sum(told.cost),
                "on_shelf": None if told.shelf is None else str(told.shelf),
            }
            for told in each
        ],
        "filled_to": None if mixed.filled_to is None else str(mixed.filled_to),
        "litres": round(strength.litres, 3),
        "salt_percent": round(100 * strength.weak.dissolved_share, 3),
        "salt_percent_most": round(100 * strength.strong.dissolved_share, 3),
        "ph": None if strength.sour is None else round(strength.sour.ph, 2),
        "ph_give_or_take": None if strength.sour is None else round(strength.sour.doubt, 2),
        "write": line,
        "said": list(said),
        "assumed": list(assumed),
    }
    if strength.skins_kg:
        found |= {
            "skins_kg": round(strength.skins_kg, 3),
            "salt_percent_with_skins": round(100 * strength.with_skins(strength.weak).dissolved_share, 3),
            "ph_with_skins": None if strength.with_skins_in is None else round(strength.with_skins_in.settled.ph, 2),
        }
    return found
