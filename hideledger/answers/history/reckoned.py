"""What follows from the lines of a bath or a hide by arithmetic, said behind the line it follows from: never as a thing that was read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import groupby

from hideledger.answers.amounts import reading_words, volume_words, weight_words
from hideledger.answers.saying import counted
from hideledger.model.facts import Shrinks
from hideledger.model.units import Quantity
from hideledger.rules import bath_explained as explained
from hideledger.rules.bath_made import Tub, filled_when_made, what_it_holds
from hideledger.rules.bath_put_in import is_salt
from hideledger.rules.shrunk import acid_left, heat_said, shrinkage
from hideledger.rules.unexplained import limit_said, misfit_of, value_of
from hideledger.rules.words import listed
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife
from hideledger.shopfloor.loads import weight_at
from hideledger.shopfloor.noted import BathReading, Noted
from hideledger.trade.brine import KG_WATER_PER_L

# The reckoned strength is good to one part in twenty and a degree: gallon marks and damp salt (our own figure).
_PART, _DEGREE = 0.05, 1.0
# Past this the skins have bound more acid than is worth a figure.
_NO_FIGURE = 5.0
# Pounds that are none.
_TRIFLE = 0.01

Reckoned = tuple[Noted, str]


def of_a_hide(life: HideLife) -> Iterator[Reckoned]:
    """What the strips that shrank prove, and what two readings of an extract say of the acid left."""
    for taken in life.taken:
        shrunk = shrinkage(life, taken)
        if shrunk is not None and isinstance(taken.fact, Shrinks):
            proves = "proves nothing" if shrunk.proves == "nothing" else shrunk.proves
            yield taken, f"shrunk at {heat_said(taken.fact)}, {proves}: {shrunk.why}"
        acid = acid_left(life, taken)
        if acid is None:
            continue
        if acid.figure is None:
            yield taken, f"no difference figure: {acid.said}"
        else:
            said = (
                "free strong acid is left (oxalic acid shows so too): neutralise it by your supplier's sheet"
                if acid.strong
                else "no free strong acid shows"
            )
            yield taken, f"difference figure {acid.figure:.2f} (ISO 4045, strong from 0.70): {said}"


def of_a_bath(bath: BathLife, floor: Floor) -> Iterator[Reckoned]:
    """What it holds after it was mixed, after each dose, with skins in, and beside each reading what was to be expected."""
    row = what_it_holds(bath, floor)
    if not row or not (row[-1].salted or row[-1].likely.has_acid or row[-1].likely.has_base):
        return
    yield Noted(entry=row[0].entry, when=row[0].when), _made(row[0], bath, floor)
    silent = _no_ph_since(row[0])
    for (_, what), group in groupby(row[1:], key=lambda tub: (tub.entry.order, tub.what)):
        last = list(group)[-1]
        if what == "skin out":
            continue
        text = f"{_with_skins(last, bath, floor)}{_strength(last)}" if what == "skin in" else f"holds {_strength(last)}"
        why = _no_ph_since(last)
        yield Noted(entry=last.entry, when=last.when), _joined(text, _ph_after(last) or ("" if silent else why))
        silent = why
    for _, several in groupby(bath.readings, key=lambda reading: reading.entry.order):
        readings = list(several)
        said = [words for reading in readings if (words := _beside(row, bath, reading))]
        if said:
            yield readings[0], "; ".join(said)


def _made(tub: Tub, bath: BathLife, floor: Floor) -> str:
    shop = floor.book.shop.shop
    water = volume_words(tub.likely.water / KG_WATER_PER_L, shop)
    salt = _salt_words(bath, floor)
    if filled_when_made(bath):
        made_of = f"{salt} in {volume_words(tub.likely.litres, shop)} of liquor make"
    else:
        made_of = f"{water} water and {salt} make"
    parts = [f"{made_of} {_strength(tub)}" if tub.salted and not tub.by_recipe else ""]
    if tub.by_recipe:
        parts = [f"{water} water by its recipe make {_strength(tub)}"]
    lift = tub.likely.shown() - tub.likely.degrees
    if tub.salted and lift >= 0.5:
        parts.append(f"its acid lifts a hydrometer by about {lift:.0f}")
    if tub.unknown:
        parts.append(f"{listed(tub.unknown)} cannot be reckoned with")
    return _joined(*parts, _ph_after(tub))


def _salt_words(bath: BathLife, floor: Floor) -> str:
    """All the salt that its line names, each unit by itself: `7 1/4 lb salt`."""
    sums: dict[str, Decimal] = {}
    for amount in (*bath.amounts, *(amount for dose in filled_when_made(bath) for amount in dose.amounts)):
        if is_salt(amount.supply, floor.book.shop):
            sums[amount.quantity.unit] = sums.get(amount.quantity.unit, Decimal(0)) + amount.quantity.value
    return (
        f"{listed([str(Quantity(value=value, unit=unit)) for unit, value in sums.items()])} salt"
        if sums
        else "the salt"
    )


def _joined(*parts: str) -> str:
    return "; ".join(part for part in parts if part)


def _strength(tub: Tub) -> str:
    if not tub.salted:
        return "no salt by the book"
    return f"{tub.likely.degrees:.1f} sal of salt ({100 * tub.likely.share:.1f} %)"


def _with_skins(tub: Tub, bath: BathLife, floor: Floor) -> str:
    """Who is in it now, and how much went through; their water stays in the bath when they leave."""
    shop = floor.book.shop.shop
    now = sum(
        weight_at(member.hide, member) or 0.0
        for member in bath.members
        if member.enter.lo <= tub.when.lo and (member.leave is None or member.leave.lo > tub.when.lo)
    )
    weighed = f"with {weight_words(now, shop)} of skin in" if now else "with skins in"
    told = [f"{weight_words(tub.skins, shop)} went through so far"] if tub.skins - now > _TRIFLE else []
    if tub.skins - tub.wet > _TRIFLE:
        salted = f"{weight_words(tub.skins - tub.wet, shop)} of it" if tub.wet else "they"
        told.append(f"{salted} had met salt, and bring no plain water")
    if tub.unweighed:
        told.append(f"{counted(tub.unweighed, 'skin')} not weighed may thin it more than is said here")
    aside = "; ".join(told)
    return f"{weighed}{f' ({aside})' if told else ''}, "


def _no_ph_since(tub: Tub) -> str:
    """Why there is no pH to be said any more; empty where there is one, or never was."""
    if tub.unknown:
        return f"no pH is reckoned from here on: {listed(tub.unknown)} cannot be reckoned with"
    if tub.been_in and tub.likely.has_base:
        return "no pH is reckoned from here on: a base went in, and nobody can say how much of it meets the acid that the skins have bound; read it"
    return ""


def _ph_after(tub: Tub) -> str:
    """`pH 1.8 to 2.1, give or take 0.3`; nothing where form or strength of what went in is not known."""
    span = _ph_span(tub)
    if span is None:
        return ""
    why = ", as skins bind acid" if tub.been_in else ""
    return f"pH {_from_to(*span)}{why}, give or take {explained.PH_DOUBT}"


def _from_to(low: float, high: float | None) -> str:
    if high is None:
        return f"{low:.1f} and up"
    return f"{low:.1f}" if f"{low:.1f}" == f"{high:.1f}" else f"{low:.1f} to {high:.1f}"


def _ph_span(tub: Tub) -> tuple[float, float | None] | None:
    """Between which pH it is to be expected; the higher end None where nobody can say how much acid the skins have bound."""
    if tub.unknown or not (tub.likely.has_acid or tub.likely.has_base):
        return None
    try:
        low, high = tub.likely.ph_span()
        if not tub.been_in:
            return low, high
        if tub.likely.has_base:
            return None
        most = max(explained.bound_side(one) for one in tub.weak)
    except ValueError:
        return None
    return low, None if tub.unweighed or most > _NO_FIGURE else most


def _beside(row: Sequence[Tub], bath: BathLife, reading: BathReading) -> str:
    """`41 sal read, about 41 expected (36.9 of salt)`; nothing for what is not reckoned."""
    value = value_of(reading)
    if value is None:
        return ""
    now = explained.states_at(row, reading, 0)[-1]
    said = _salt_beside(row, now, bath, reading, value) if reading.fact.what == "salt" else _ph_beside(now, reading)
    misfit = misfit_of(row, bath, reading)
    if misfit is not None and said:
        return f"{said}; what was put in could read {limit_said(misfit)}: misread, or a line is wrong or missing"
    return said


def _salt_beside(row: Sequence[Tub], tub: Tub, bath: BathLife, reading: BathReading, shown: float) -> str:
    if not tub.salted:
        return ""
    celsius = explained.warmth_at(bath, reading)
    true = explained.true_degrees(shown, celsius)
    value = shown if true is None else true
    expected, salt = tub.likely.shown(), tub.likely.degrees
    written = reading_words(reading.fact)
    if abs(value - shown) >= 0.3 and celsius is not None:
        written += f" at {_warmth(bath, reading)} (true {value:.1f} sal)"
    of_salt = f" ({salt:.1f} of salt)" if expected - salt >= 0.5 else ""
    off = explained.salt_doubt(reading.fact) + _DEGREE + _PART * expected
    about = f"{written} read, about {expected:.0f} sal expected{of_salt}"
    if tub.unknown:
        return f"{about}, and {listed(tub.unknown)} besides"
    if value < salt:
        about += _could_show(row, bath, reading)
    if tub.unweighed and value < salt:
        return about
    if salt - off <= value <= expected + off:
        return about
    if value < salt:
        return (
            f"{about}; {salt - value:.0f} under the {salt:.1f} of salt: read it again, and salt no tub for one reading"
        )
    return f"{about}; {value - expected:.0f} over the {expected:.0f}: read it again"


def _could_show(row: Sequence[Tub], bath: BathLife, reading: BathReading) -> str:
    """How far a hydrometer may stand off by nobody's fault: gallon marks, damp salt, dripping skins, warmth and the instrument."""
    span = explained.salt_range(row, bath, reading)
    if span is None or span.high is None:
        return ""
    if span.low is None:
        return f", up to {span.high:.0f} with every doubt of gallon marks, skins and instrument added up; how low cannot be said"
    return (
        f", {max(0.0, span.low):.0f} to {span.high:.0f} with every doubt of gallon marks, skins and instrument added up"
    )


def _warmth(bath: BathLife, reading: BathReading) -> Quantity:
    near = [one for one in bath.readings if one.fact.what == "temperature"]
    return min(near, key=lambda one: (one.entry is not reading.entry, abs(one.when.lo - reading.when.lo))).fact.value


def _ph_beside(tub: Tub, reading: BathReading) -> str:
    span = _ph_span(tub)
    if span is None:
        return ""
    return f"{reading_words(reading.fact)} read, {_from_to(*span)} expected"
