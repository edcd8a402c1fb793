"""How sour a bath may read, with how far off that may be: by itself, and with wet skins in it that take acid out of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hideledger.trade import bath_ph, brine
from hideledger.trade.bath_ph import Liquor
from hideledger.trade.brine_making import Batch, of_skins, together
from hideledger.trade.skin_uptake import thinned, with_skin

# No pH reckoned for a pickle is worth more than this, either way; with skins in it, by a model, half as much again.
DOUBT, SKIN_DOUBT = 0.3, 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Sour:
    """A pH to expect and how far off it may be."""

    ph: float
    doubt: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SourWithSkins:
    """The pH when the skins go in, their water with them, and once they have taken their acid."""

    at_first: Sour
    settled: Sour

    @property
    def words(self) -> str:
        """Both in one sentence."""
        return f"about {self.at_first.ph:.1f} when they go in, and it climbs as they take acid, to about {self.settled.ph:.1f} in a day or more, give or take {self.settled.doubt:.1f} (a model)"


def airs(*, sour: bool, carbonic: bool) -> tuple[str, ...]:
    """What becomes of carbonic acid in a bath just made: what is sour foams it out, as far as anybody can say; what is not keeps it for days, and is not waited for."""
    if sour and carbonic:
        return (bath_ph.LEAVES, bath_ph.KEPT)
    return (bath_ph.LEAVES if sour else bath_ph.KEPT,)


def sour(liquors: Sequence[Liquor], salt_per_cent: float, doubt: float = DOUBT) -> Sour:
    """The middle of all that a meter may read, and how far that reaches."""
    spans = [bath_ph.reading_span(liquor, salt_per_cent) for liquor in liquors]
    low, high = min(span[0] for span in spans), max(span[1] for span in spans)
    middle = (low + high) / 2
    return Sour(ph=middle, doubt=max(doubt, high - middle + 0.15))


def sour_with_skins(
    liquors: Sequence[Liquor], batch: Batch, litres: float, *, skins_kg: float, raw_kg: float
) -> SourWithSkins:
    """The same with wet skins in `litres` of it; `raw_kg` of them bring their own water, `batch` is the water and salt of the bath."""
    water = of_skins(raw_kg).water_kg / brine.KG_WATER_PER_L
    by = (litres + water) / litres
    salted = 100 * together([batch, of_skins(raw_kg)]).dissolved_share
    wet = [thinned(liquor, by) for liquor in liquors]
    return SourWithSkins(
        at_first=sour(wet, salted),
        settled=sour([with_skin(liquor, skins_kg / (litres + water)) for liquor in wet], salted, SKIN_DOUBT),
    )
