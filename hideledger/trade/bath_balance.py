"""What a tub holds follows from what went in and out: salt, acid and water are each conserved, whatever the volume does.

Weights in kilograms, volumes in litres at 60 F. Nothing here knows how surely an amount is known: who reckons with doubt keeps several
of these side by side.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from hideledger.trade import bath_ph, brine, brine_acid
from hideledger.trade.bath_ph import KEPT, LEAVES, Liquor
from hideledger.trade.brine_making import Batch
from hideledger.trade.chemicals import ACID, BASE, CHEMICALS, PROTONS
from hideledger.trade.skin_uptake import BINDS_MOL_PER_KG


def first_proton(protons: str, moles: float) -> float:
    """Hydrogen ions, mol a litre, that so much of an acid alone gives by its first proton."""
    constant = math.pow(10.0, -PROTONS[protons].pkas[0])
    if constant > 1:
        return moles
    return (-constant + math.sqrt(constant * constant + 4 * constant * moles)) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Contents:
    """Water, salt and the pure `others` (names of CHEMICALS) in a tub, in kilograms; `taken` mol of acid that skins have bound."""

    water: float = 0.0
    salt: float = 0.0
    others: tuple[tuple[str, float], ...] = ()
    taken: float = 0.0

    @property
    def batch(self) -> Batch:
        """Its water and salt alone."""
        return Batch(water_kg=self.water, salt_kg=self.salt)

    @property
    def litres(self) -> float:
        """Litres of the liquor, its acid left out."""
        return self.batch.litres if self.water > 0 else 0.0

    @property
    def share(self) -> float:
        """Share of salt by weight, of salt and water; past saturation what dissolves of it; 0 where there is nothing."""
        return self.batch.dissolved_share if self.water > 0 else 0.0

    @property
    def degrees(self) -> float:
        """Degrees salometer of the salt alone."""
        return brine.salometer(self.share)

    @property
    def has_base(self) -> bool:
        """Whether soda, borax or lye went in."""
        return any(CHEMICALS[name].sort == BASE for name, _ in self.others)

    @property
    def has_acid(self) -> bool:
        """Whether acid went in."""
        return any(CHEMICALS[name].sort == ACID for name, _ in self.others)

    def with_more(
        self, *, water: float = 0.0, salt: float = 0.0, others: Mapping[str, float] | None = None
    ) -> Contents:
        """With so much more of each. Raises ValueError below nothing, KeyError for a chemical not in the table."""
        held = dict(self.others)
        for name, kg in (others or {}).items():
            CHEMICALS[name]
            held[name] = held.get(name, 0.0) + kg
        if min(water, salt, *held.values(), 0.0) < 0:
            raise ValueError("an amount put in is no less than nothing")
        return replace(self, water=self.water + water, salt=self.salt + salt, others=tuple(sorted(held.items())))

    def without(self, kg: float) -> Contents:
        """With so much of the liquor gone, as it was: never more than all of it. What lies undissolved counts as liquor."""
        whole = self.water + self.salt
        left = max(0.0, 1 - kg / whole) if whole > 0 else 0.0
        return Contents(
            water=self.water * left,
            salt=self.salt * left,
            others=tuple((name, have * left) for name, have in self.others),
            taken=self.taken * left,
        )

    def dried_up(self, share: float) -> Contents:
        """With this share (0 to 1) of its water gone into the air; all else stays."""
        return self._of(self.water * (1 - share), self.taken)

    def filled_to(self, litres: float) -> Contents:
        """With water up to a volume; one that holds more than that already is taken to have dried up to it."""
        low, high = 0.0, self.water + litres * brine.KG_WATER_PER_L
        for _ in range(50):
            middle = (low + high) / 2
            if replace(self, water=middle).litres < litres:
                low = middle
            else:
                high = middle
        return replace(self, water=(low + high) / 2)

    def with_skins(self, kg: float, *, water: float = brine.WATER_IN_GREEN_SKIN, binds: float = 1.0) -> Contents:
        """With the water of skins of this weight in it, and as much of their acid bound as `binds` (0 to 1) says."""
        return self._of(self.water + kg * water, self.taken + kg * BINDS_MOL_PER_KG * binds)

    def _of(self, water: float, taken: float) -> Contents:
        """The same with other water; thousands of skins are reckoned this way, so it goes the short one."""
        return Contents(water=water, salt=self.salt, others=self.others, taken=taken)

    def shown(self) -> float:
        """About what a hydrometer shows, degrees salometer at 60 F: the salt, and what the acids add to it."""
        whole = self.water + self.salt
        acids = {name: kg / whole for name, kg in self.others if name in brine_acid.SOLUTIONS and whole > 0}
        return self.degrees + (brine_acid.lift(self.share, acids) if acids else 0.0)

    def liquor(self, *, air: str = LEAVES, hardness: float = 0.0) -> Liquor:
        """The same in mol a litre, for its pH. `hardness` mol a litre of bases that the water brought."""
        litres = self.litres or 1.0
        parts = [(CHEMICALS[name], 1000 * kg / CHEMICALS[name].molar_mass / litres) for name, kg in self.others]
        salt = (CHEMICALS["salt"], 1000 * min(self.salt, self.water) / CHEMICALS["salt"].molar_mass / litres)
        liquor = bath_ph.made_of([*parts, salt], air=air)
        return replace(liquor, cations=liquor.cations + self.taken / litres + hardness)

    def sour_guess(self) -> float:
        """A pH no lower than its acids alone give, by the first proton of the strongest of them: quick, and not for a bath with bases.

        Raises ValueError where no acid is in it.
        """
        litres = self.litres or 1.0
        found = [
            first_proton(CHEMICALS[name].protons, 1000 * kg / CHEMICALS[name].molar_mass / litres)
            for name, kg in self.others
            if CHEMICALS[name].sort == ACID
        ]
        return -math.log10(max(found))

    def ph_span(self, *, hardness: float = 0.0) -> tuple[float, float]:
        """Between which pH a meter may be expected to read. Raises ValueError where no pH balances the charges."""
        spans = [
            bath_ph.reading_span(self.liquor(air=air, hardness=hardness), 100 * self.share)
            for air in ((LEAVES, KEPT) if self.has_base else (LEAVES,))
        ]
        return min(low for low, _ in spans), max(high for _, high in spans)
