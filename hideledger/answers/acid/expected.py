"""The pH to be expected of a bath before it is read: what is in it, how it was reckoned, how it is made up."""

from __future__ import annotations

from decimal import Decimal

from hideledger.answers.acid import care
from hideledger.answers.acid.names import NotReckoned
from hideledger.answers.acid.parts import Bath, density_by_memory
from hideledger.answers.acid.sour import airs, sour, sour_with_skins
from hideledger.answers.acid.words import Measures
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.trade import bath_ph

# Above this, alkali loosens hair, and the loss shows two steps later (handbooks of the trade).
_HAIR = 7.0


def expected(bath: Bath, measures: Measures, sewer: Decimal | None) -> Sheet:
    """The pH of a bath that is made up so, with what skins in it do. Raises NotReckoned."""
    if not bath.litres:
        raise NotReckoned("in how much water? write it too, as in `20 gal water, 60 oz citric acid crystals`")
    if not [held for held in bath.held if held.chemical.protons or held.chemical.cations]:
        raise NotReckoned(
            "no acid and no base in it; write what goes in, as in `20 gal water, 60 oz citric acid crystals`"
        )
    carbonic = any(held.chemical.protons == "carbonic" for held in bath.held)
    open_to = airs(sour=bool(bath.acids), carbonic=carbonic)
    liquor = bath.liquor(open_to[0])
    ideal, company = bath_ph.ph(liquor), bath_ph.ph(liquor, model=bath_ph.DAVIES)
    liquors = [bath.liquor(air) for air in open_to]
    spans = [bath_ph.reading_span(each, bath.salt_per_cent) for each in liquors]
    low, high = min(span[0] for span in spans), max(span[1] for span in spans)
    reads = sour(liquors, bath.salt_per_cent)
    middle, doubt = reads.ph, reads.doubt
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
    in_it = None
    if bath.acids and bath.skins_kg:
        in_it = sour_with_skins(liquors, bath.batch, bath.litres, skins_kg=bath.skins_kg, raw_kg=bath.raw_kg)
        rows.append(Row(head="skins in", text=in_it.words, plain=("skins in", in_it.words)))
    elif bath.skins_kg:
        brings = "how much acid the skins still hold nobody can say: read it again with them in it"
        rows.append(Row(head="skins", text=brings, plain=("skins", brings)))
    elif bath.acids:
        climbs = "skins take some of the acid: the pH climbs from the first hour, so read again"
        rows.append(Row(head="skins", text=climbs, plain=("skins", climbs)))
    if bath.acids and not bath.salt_grams:
        swells = "no salt was written: acid without the salt of its recipe swells a skin; the salt goes in first"
        rows.append(Row(head="salt", text=swells, plain=("salt", swells)))
    if high > _HAIR:
        loosens = "alkali loosens hair: no longer in it than your process says, to the minute"
        rows.append(Row(head="hair", text=loosens, plain=("hair", loosens)))
    rows += [by_memory(held.doubtful, held.text) for held in bath.held if held.doubtful is not None]
    names = [held.chemical.name for held in bath.held]
    once = f", about {in_it.settled.ph:.1f} once they have taken their acid" if in_it is not None else ""
    title = f"pH about {middle:.1f}, give or take {doubt:.1f}, before any skin is in{once}; the meter or strip decides"
    return Sheet(
        title=title,
        title_in_plain=True,
        sections=(
            Section(heading="In the bath", rows=_made(bath, measures)),
            Section(heading="How it was reckoned", rows=tuple(rows)),
            care.making_up() if bath.acids else care.making_rinse(),
            care.care(names, drain=False, shop_least=sewer),
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
            "ph_with_skins": None if in_it is None else round(in_it.settled.ph, 2),
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


def by_memory(kg_a_litre: float, text: str) -> Row:
    """That a density was in no printed table."""
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
    if bath.skins_kg:
        dry = ", whose own water is not added" if not bath.raw_kg else ""
        words = f"{measures.skins(bath.skins_kg)} of skins{dry}"
        rows.append(Row(text=words, plain=("skins", f"{1000 * bath.skins_kg:.1f} g")))
    return tuple(rows)
