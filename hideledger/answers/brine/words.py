"""Strengths and amounts of brine in words, the shop's own units first."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from math import ceil

from hideledger.answers.sheet import Row, Section
from hideledger.model.units import plain_number
from hideledger.trade import brine
from hideledger.trade.brine_density import SATURATED

_LITRES = {"US gal": brine.L_PER_US_GAL, "imperial gal": brine.L_PER_IMPERIAL_GAL}


@dataclass(frozen=True, slots=True, kw_only=True)
class Units:
    """Which units come first: `gallons` "US", "imperial" or "" where nobody said; `metric` for kilograms and litres first."""

    gallons: str = ""
    metric: bool = False

    def weight(self, kg: float) -> str:
        """`5.4 lb (5 lb 6 oz, 2.43 kg)`; below a pound ounces and grams."""
        pounds = kg / brine.KG_PER_LB
        metric = f"{figure(1000 * kg)} g" if kg < 1 else f"{figure(kg)} kg"
        if pounds < 1:
            shop, fine = f"{figure(16 * pounds)} oz", ""
        else:
            whole, ounces = divmod(round(16 * pounds), 16)
            shop = f"{figure(pounds)} lb"
            fine = f"{whole} lb {ounces} oz, " if ounces and pounds < 100 else ""
        return f"{metric} ({shop})" if self.metric else f"{shop} ({fine}{metric})"

    def volume(self, litres: float) -> str:
        """`20.2 gal (76.3 L)`, the gallon named where the shop has not said which."""
        metric = f"{figure(litres)} L"
        us, imperial = litres / brine.L_PER_US_GAL, litres / brine.L_PER_IMPERIAL_GAL
        if self.gallons and not self.metric:
            return f"{figure(us if self.gallons == 'US' else imperial)} {self.gallons} gal ({metric})"
        return f"{metric} ({figure(us)} US gal, {figure(imperial)} imperial gal)"

    def at_least(self, litres: float) -> str:
        """The next whole gallon or litre: `3 US gal`, `10 L`."""
        if self.gallons and not self.metric:
            return f"{ceil(litres / (_LITRES[f'{self.gallons} gal']))} {self.gallons} gal"
        return f"{ceil(litres)} L"

    def a_volume(self, kg_per_l: float) -> str:
        """Salt to a volume: `0.98 lb a US gal, 118 g a L`."""
        metric = f"{figure(1000 * kg_per_l)} g a litre"
        each = [
            f"{kg_per_l / brine.KG_PER_LB * litres:.2f} lb {'an' if name[0] == 'i' else 'a'} {name}"
            for name, litres in _LITRES.items()
            if not self.gallons or name.startswith(self.gallons)
        ]
        return ", ".join([metric, *each] if self.metric or not self.gallons else [*each, metric])


def figure(value: float) -> str:
    """Three figures or so: `0.46`, `2.43`, `20.2`, `118`."""
    size = abs(value)
    places = 2 if size < 10 else 1 if size < 100 else 0
    return plain_number(Decimal(f"{value:.{places}f}"))


def degrees_of(share: float) -> str:
    """`40.6 sal`."""
    return f"{plain_number(Decimal(f'{brine.salometer(share):.1f}'))} sal"


def percent_of(share: float) -> str:
    """`10.72 %`."""
    return f"{100 * share:.2f} %"


def scales(share: float, units: Units, hundred: float) -> Section:
    """The same strength on every scale, one line each."""
    gravity = brine.specific_gravity(share)
    rows = [
        ("salometer", degrees_of(share), "100 is saturated at 60 F"),
        ("salt by weight", percent_of(share), "of the whole brine"),
        ("specific gravity", f"{gravity:.4f}", "60/60 F"),
        ("Baumé", f"{brine.baume(gravity):.1f} Be", "heavier than water, modulus 145"),
        ("salt to the water", units.a_volume(brine.kg_per_l_water(share)), ""),
        ("salt in the brine", units.a_volume(brine.kg_per_l_brine(share)), ""),
    ]
    if hundred != SATURATED:
        own = f"{brine.salometer(share, hundred=hundred):.1f}"
        rows.insert(1, ("your salometer", f"{own} degrees", f"its 100 is {100 * hundred:g} %"))
    return Section(
        heading="The same strength",
        rows=tuple(
            Row(head=head, text=f"{text}, {note}" if note else text, plain=(head, text, note))
            for head, text, note in rows
        ),
    )


def scale_record(share: float) -> dict[str, object]:
    """The same for a program: the unit is in the key."""
    gravity = brine.specific_gravity(share)
    return {
        "sal": round(brine.salometer(share), 4),
        "percent": round(100 * share, 5),
        "sg_60_60f": round(gravity, 6),
        "baume_145": round(brine.baume(gravity), 4),
        "lb_per_us_gal_water": round(brine.lb_per_us_gal_water(share), 5),
        "lb_per_us_gal_brine": round(brine.lb_per_us_gal_brine(share), 5),
        "lb_per_imperial_gal_water": round(
            brine.lb_per_us_gal_water(share) * brine.L_PER_IMPERIAL_GAL / brine.L_PER_US_GAL, 5
        ),
        "g_per_l_water": round(1000 * brine.kg_per_l_water(share), 4),
        "g_per_l_brine": round(1000 * brine.kg_per_l_brine(share), 4),
    }
