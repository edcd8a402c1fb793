"""What `acid` answers: the pH to be expected of a bath, the dose that brings it to another, the base that answers an acid in full."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from hideledger.answers.acid import care
from hideledger.answers.acid.bring import brought, by_acid
from hideledger.answers.acid.names import NotReckoned, is_water, supply_of
from hideledger.answers.acid.never import gas_that_kills, never_among
from hideledger.answers.acid.parts import Bath, Bottle, bath_of, bottle_of, density_by_memory
from hideledger.answers.acid.words import IMPERIAL, METRIC, US, Measures
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.model.shop import ShopBook
from hideledger.reading.asking_acid import AcidAsked, Part
from hideledger.trade import acids, bath_ph
from hideledger.trade.chemicals import ACID, BASE

# What is said to be the doubt of any pH reckoned for a pickle, at the least.
_DOUBT = 0.3
# Above this, alkali loosens hair, and the loss shows two steps later (handbooks of the trade).
_HAIR = 7.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Shopside:
    """What a book adds to a request: its supplies, its gallons, the day whose supplies hold. All may be missing."""

    book: ShopBook | None = None
    gallons: str = US
    day: date | None = None

    @property
    def sewer(self) -> Decimal | None:
        """The shop's line `sewer pH at least`."""
        return self.book.shop.sewer_ph if self.book is not None else None


def acid(asked: AcidAsked, side: Shopside) -> Sheet:
    """The answer to a request. Raises NotReckoned with one sentence."""
    _never(asked, side.book)
    if (
        asked.agent is not None
        and asked.agent.amount is not None
        and asked.read is asked.wanted is None
        and not asked.neutralise
    ):
        # `20 gal with 60 oz citric acid crystals`: one part more
        asked = replace(asked, parts=(*asked.parts, asked.agent), agent=None)
    bath = bath_of(asked.parts, side.book, side.day)
    measures = Measures(kind=_kind(asked.parts, side))
    bottle = bottle_of(asked.agent, side.book, side.day) if asked.agent is not None else None
    if asked.agent is not None and asked.agent.amount is not None:
        raise NotReckoned(
            f"`{asked.agent.text}`: its amount is what is reckoned; write its name alone, or put it among the parts"
        )
    if bottle is not None and bottle.chemical.name == "lye":
        raise NotReckoned(
            "no dose of lye is reckoned: a slip with it burns skins and hands; baking soda, soda ash, washing soda crystals or borax do it"
        )
    if asked.neutralise and asked.wanted is None:
        return _in_full(bath, bottle, measures, side)
    if asked.wanted is not None:
        if bottle is None:
            raise NotReckoned(
                f"to pH {asked.wanted} with what? write it behind, as in `with citric acid crystals` or `with baking soda`"
            )
        if not bath.litres:
            raise NotReckoned("how much bath? write it first, as in `20 gal at 2.4 to 2.0 with citric acid crystals`")
        _can_go(asked, bottle)
        if asked.read is None and not bath.held:
            raise NotReckoned(
                "what does the bath read, or what is in it? as in `20 gal at 2.4 to 2.0 …` or `20 gal water, 60 oz citric acid crystals to 2.0 …`"
            )
        if not bath.held and bottle.chemical.sort == BASE:
            return by_acid(asked, bath, bottle, measures, side.sewer)
        return brought(asked, bath, bottle, measures, side.sewer)
    if asked.read is not None:
        raise NotReckoned(
            f"at {asked.read}, and to which pH? write it behind, as in `at {asked.read} to 2.0 with citric acid crystals`"
        )
    if asked.agent is not None:
        raise NotReckoned(
            "to which pH? write it in front, as in `to 5.0 with baking soda`; or `neutralise …` for all of it"
        )
    return _expected(bath, measures, side)


def _never(asked: AcidAsked, book: ShopBook | None) -> None:
    """Refuses what must not meet an acid, before anything else is asked about: by its name, or by a name of the shop's supply."""
    for part in (*asked.parts, *((asked.agent,) if asked.agent is not None else ())):
        supply = supply_of(part.name, book)
        names = (part.name,) if supply is None else (part.name, supply.name, *supply.others)
        if never_among(names):
            raise NotReckoned(gas_that_kills(part.name))


def _can_go(asked: AcidAsked, bottle: Bottle) -> None:
    """Refuses what goes the wrong way or is neither acid nor base. Raises NotReckoned."""
    name, sort = bottle.chemical.name, bottle.chemical.sort
    if sort not in (ACID, BASE):
        raise NotReckoned(f"{name} brings no bath to another pH; it takes an acid or a base")
    if asked.read is None or asked.wanted is None:
        return
    if asked.read == asked.wanted:
        raise NotReckoned(f"the bath reads pH {asked.read} already: nothing to add")
    if (asked.wanted < asked.read) != (sort == ACID):
        way = "lowers" if sort == ACID else "raises"
        needed = "an acid" if asked.wanted < asked.read else "a base"
        raise NotReckoned(f"{name} {way} the pH; from {asked.read} to {asked.wanted} takes {needed}")


def _expected(bath: Bath, measures: Measures, side: Shopside) -> Sheet:
    if not bath.litres:
        raise NotReckoned("in how much water? write it too, as in `20 gal water, 60 oz citric acid crystals`")
    if not [held for held in bath.held if held.chemical.protons or held.chemical.cations]:
        raise NotReckoned(
            "no acid and no base in it; write what goes in, as in `20 gal water, 60 oz citric acid crystals`"
        )
    # Gas leaves what is sour as foam, and what is not sour so slowly that it is not waited for.
    carbonic = any(held.chemical.protons == "carbonic" for held in bath.held)
    airs = (
        (bath_ph.LEAVES, bath_ph.KEPT) if bath.acids and carbonic else (bath_ph.LEAVES if bath.acids else bath_ph.KEPT,)
    )
    liquor = bath.liquor(airs[0])
    ideal, company = bath_ph.ph(liquor), bath_ph.ph(liquor, model=bath_ph.DAVIES)
    spans = [bath_ph.reading_span(bath.liquor(air), bath.salt_per_cent) for air in airs]
    low, high = min(span[0] for span in spans), max(span[1] for span in spans)
    middle = (low + high) / 2
    doubt = max(_DOUBT, high - middle + 0.15)
    rows = [
        Row(
            head="ideal",
            text=f"pH {ideal:.2f}, each ion taken as if it were alone, 77 F (25 C)",
            plain=("ideal", f"{ideal:.2f}"),
        ),
        Row(
            head="in company",
            text=f"pH {company:.2f}, the ions' pull on each other taken in (Davies)",
            plain=("in company", f"{company:.2f}"),
        ),
    ]
    if bath.salt_per_cent:
        rows.append(
            Row(
                head="in the salt",
                text=f"{bath.salt_per_cent:.1f} % salt before skins; it lowers what a meter shows, to between {low:.1f} and {high:.1f}",
                plain=("in the salt", f"{low:.2f}", f"{high:.2f}"),
            )
        )
    if bath.acids:
        climbs = "skins take some of the acid: the pH climbs from the first hour, so read again"
        rows.append(Row(head="skins", text=climbs, plain=("skins", climbs)))
    if bath.acids and not bath.salt_grams:
        swells = "no salt was written: acid without the salt of its recipe swells a skin; the salt goes in first"
        rows.append(Row(head="salt", text=swells, plain=("salt", swells)))
    if high > _HAIR:
        loosens = "alkali loosens hair: no longer in it than your process says, to the minute"
        rows.append(Row(head="hair", text=loosens, plain=("hair", loosens)))
    rows += [_by_memory(held.doubtful, held.text) for held in bath.held if held.doubtful is not None]
    names = [held.chemical.name for held in bath.held]
    title = f"pH about {middle:.1f}, give or take {doubt:.1f}, before any skin is in; the meter or strip decides"
    return Sheet(
        title=title,
        title_in_plain=True,
        sections=(
            Section(heading="In the bath", rows=_made(bath, measures)),
            Section(heading="How it was reckoned", rows=tuple(rows)),
            care.making_up() if bath.acids else care.making_rinse(),
            care.care(names, drain=False, shop_least=side.sewer),
        ),
        record={
            "schema": 1,
            "asked": "expected",
            "ph": round(middle, 2),
            "give_or_take": round(doubt, 2),
            "ph_ideal": round(ideal, 3),
            "ph_davies": round(company, 3),
            "reading_low": round(low, 2),
            "reading_high": round(high, 2),
            "litres": round(bath.litres, 3),
            "salt_per_cent": round(bath.salt_per_cent, 2),
            "parts": [
                {
                    "name": held.chemical.name,
                    "pure_g": round(held.grams, 1),
                    "mol_per_l": round(held.moles / bath.litres, 5),
                }
                for held in bath.held
            ],
        },
    )


def _by_memory(kg_a_litre: float, text: str) -> Row:
    words = density_by_memory(text, kg_a_litre)
    return Row(head="density", text=words, plain=("density", words))


def _made(bath: Bath, measures: Measures) -> tuple[Row, ...]:
    rows = [Row(text=f"{measures.bath(bath.water_litres)} of water", plain=("water", f"{bath.water_litres:.2f} L"))]
    for held in bath.held:
        each = measures.each(held.grams / bath.litres)
        name = held.chemical.name
        what = (
            f" of pure {name}"
            if held.chemical.liquid
            else ""
            if name.replace(",", "") in held.text.casefold()
            else f" of {name}"
        )
        words = f"{held.text}: {each}{what}"
        rows.append(Row(text=words, plain=(held.chemical.name, f"{held.grams:.1f} g")))
    return tuple(rows)


def _in_full(bath: Bath, bottle: Bottle | None, measures: Measures, side: Shopside) -> Sheet:
    if bottle is None:
        raise NotReckoned(
            "neutralise with what? write it behind: `with baking soda`, `soda ash`, `washing soda crystals` or `borax`"
        )
    if bottle.chemical.sort != BASE:
        raise NotReckoned(
            f"acid is neutralised with a base; {bottle.chemical.name} is none: `with baking soda`, `soda ash`, `washing soda crystals` or `borax`"
        )
    if not bath.acids:
        raise NotReckoned(
            "how much acid is in it? a pH alone does not say; write what was put in, or ask for a pH: `20 gal at 1.8 to 5.0 with baking soda`"
        )
    others = [held.text for held in bath.held if held.chemical.sort == BASE]
    if others:
        raise NotReckoned(
            f"`{others[0]}` is a base: leave it away, or ask for a pH, as in `… to 7 with {bottle.chemical.name}`"
        )
    doubtful = [_by_memory(held.doubtful, held.text) for held in bath.held if held.doubtful is not None]
    grams = sum(
        acids.full_dose(acid=held.chemical.name, base=bottle.chemical.name, weight=held.grams) for held in bath.acids
    )
    what = " and ".join(held.text for held in bath.acids)
    rows = [
        Row(
            text=f"all of the acid is met by {measures.taken(bottle, grams)}",
            under=(
                (
                    "",
                    "an upper bound: skins that were in the bath have taken some of the acid, and long before the last of it the bath is no longer sour",
                ),
            ),
            plain=("in full", f"{grams / bottle.strength:.1f} g"),
        )
    ]
    if bath.litres:
        rows.append(
            Row(
                text=f"less of it goes a long way; ask for a pH: `… to 5.0 with {bottle.chemical.name}`", plain=("ask",)
            )
        )
    rows += doubtful
    return Sheet(
        title=f"{measures.taken(bottle, grams)} at most, for {what}",
        title_in_plain=True,
        sections=(
            Section(heading="In full", rows=tuple(rows)),
            care.adding_base(undiluted=not bath.litres and any(held.chemical.liquid for held in bath.acids)),
            care.care(
                [*(held.chemical.name for held in bath.held), bottle.chemical.name], drain=True, shop_least=side.sewer
            ),
        ),
        record={
            "schema": 1,
            "asked": "in full",
            "base": bottle.chemical.name,
            "base_g": round(grams / bottle.strength, 1),
            "acids": [{"name": held.chemical.name, "pure_g": round(held.grams, 1)} for held in bath.acids],
        },
    )


def _kind(parts: Sequence[Part], side: Shopside) -> str:
    """In which measures to answer: those of the water, else those of everything that was asked."""
    amounts = [(part, part.amount.unit) for part in parts if part.amount is not None]
    units = [unit for part, unit in amounts if is_water(part.name)] or [unit for _, unit in amounts]
    if all(unit in ("L", "ml", "g", "kg") for unit in units):
        return METRIC
    return IMPERIAL if side.gallons == IMPERIAL or any(unit.startswith(IMPERIAL) for unit in units) else US
