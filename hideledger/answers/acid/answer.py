"""What `acid` answers: the pH to be expected of a bath, the dose that brings it to another, the base that answers an acid in full."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from hideledger.answers.acid import care
from hideledger.answers.acid.bring import brought, by_acid
from hideledger.answers.acid.expected import by_memory, expected
from hideledger.answers.acid.names import Meant, NotReckoned, is_water, meant_by, supply_of
from hideledger.answers.acid.parts import Bath, Bottle, bath_of, bottle_of
from hideledger.answers.acid.words import IMPERIAL, METRIC, US, Measures
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.model.shop import ShopBook
from hideledger.reading.asking_acid import AcidAsked
from hideledger.reading.asking_part import Part
from hideledger.rules.never import gas_that_kills, never_among
from hideledger.trade import acids
from hideledger.trade.chemicals import ACID, BASE


@dataclass(frozen=True, slots=True, kw_only=True)
class Shopside:
    """What a book adds to a request: its supplies, its gallons, the day whose supplies hold, the forms that a bath of it is made with. All may be missing."""

    book: ShopBook | None = None
    gallons: str = US
    day: date | None = None
    in_bath: tuple[Meant, ...] | None = None

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
    _goal_missing(asked, side.book)
    in_bath = _forms_in(asked.parts, side)
    bath = bath_of(asked.parts, side.book, side.day, in_bath)
    measures = Measures(kind=_kind(asked.parts, side))
    bottle = bottle_of(asked.agent, side.book, side.day, in_bath) if asked.agent is not None else None
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
        if asked.read is None and bath.skins_kg:
            raise NotReckoned(
                "with skins in it a make-up alone does not say how sour it is: write what it reads too, as in `at 2.4 to 2.0 …`"
            )
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
    return expected(bath, measures, side.sewer)


def _forms_in(parts: Sequence[Part], side: Shopside) -> tuple[Meant, ...]:
    """The forms that a bath is made with, as far as they are written: in the book, or in the request itself."""
    if side.in_bath is not None:
        return side.in_bath
    found: list[Meant] = []
    for part in parts:
        try:
            meant = meant_by(part.name, side.book)
        except NotReckoned:
            continue
        found.append(meant if meant.by else replace(meant, by=f"your `{part.text}`"))
    return tuple(found)


def _goal_missing(asked: AcidAsked, book: ShopBook | None) -> None:
    """`baking soda for 20 gal at 2.4`: what is to bring it somewhere is named, and not whither. Raises NotReckoned."""
    loose = [
        part for part in asked.parts if part.name and part.amount is None and part.per is None and part.strength is None
    ]
    if asked.wanted is not None or asked.neutralise or len(loose) != 1 or len(asked.parts) == 1:
        return
    name = loose[0].name
    try:
        sort = meant_by(name, book).chemical.sort
    except NotReckoned:
        return
    if sort == BASE:
        raise NotReckoned(
            f"{name}, and to which pH? write it behind, as in `to 5.0 with {name}`; or `neutralise … with {name}` for all of it"
        )
    if sort == ACID:
        raise NotReckoned(f"{name}, and how much? as in `60 oz {name}`; or to which pH? as in `to 2.0 with {name}`")


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
    doubtful = [by_memory(held.doubtful, held.text) for held in bath.held if held.doubtful is not None]
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
