"""How much pure acid is in so much acid from the bottle: by weight it is the strength alone, by volume its density too.

Densities in g/cm3 (kg a litre) at 20 C by per cent of weight, from the CRC Handbook ("Concentrative Properties of Aqueous Solutions"), rows
picked so that a straight line between two of them stays within 0.15 %. Rows marked (memory) were not read in print for this table.
"""

from __future__ import annotations

from itertools import pairwise

_Rows = tuple[tuple[float, float], ...]
_DENSITIES: dict[str, _Rows] = {
    "formic": (
        (0, 0.9982),
        (10, 1.0224),
        (36, 1.0839),
        (48, 1.1097),
        (60, 1.1364),
        (70, 1.1586),
        (85, 1.195),  # (memory), and 100: the Merck Index's d20 of the pure acid
        (100, 1.220),
    ),
    "acetic": (
        (0, 0.9982),
        (5, 1.0052),
        (10, 1.0121),
        (20, 1.0250),
        (30, 1.0369),
        (40, 1.0474),
        (50, 1.0562),
        (60, 1.0629),
        (70, 1.0673),
        (78, 1.0681),
        (84, 1.0673),
        (90, 1.0644),
        (94, 1.0606),
        (98, 1.0538),
        (100, 1.0477),
    ),
    "lactic": (
        (0, 0.9982),
        (10, 1.0199),
        (20, 1.0439),
        (40, 1.0915),
        (60, 1.1392),
        (80, 1.1848),
        (88, 1.202),
    ),  # 88: drawn on
    "sulphuric": (
        (0, 0.9982),
        (2, 1.0116),
        (10, 1.0661),
        (15, 1.1020),
        (20, 1.1398),
        (30, 1.2191),
        (36, 1.2685),
        (40, 1.3028),
        (46, 1.3570),
        (50, 1.3952),
        (56, 1.4558),
        (60, 1.4987),
        (70, 1.6105),
        (78, 1.7043),
        (82, 1.7491),
        (86, 1.7872),
        (88, 1.8022),
        (90, 1.8144),
        (92, 1.8240),
        (94, 1.8312),
        (96, 1.8355),
        (98, 1.8361),
        (100, 1.8305),
    ),
    "hydrochloric": ((0, 0.9982), (5, 1.0228), (10, 1.0476), (20, 1.0980), (30, 1.1492), (36, 1.1791), (40, 1.1977)),
    "phosphoric": ((0, 0.9982), (10, 1.0531), (40, 1.2536), (75, 1.579), (85, 1.689)),  # above 40 (memory)
    # dissolved beforehand, the acid without its water of crystals
    "citric": ((0, 0.9982), (10, 1.0402), (30, 1.1346)),
    "oxalic": ((0, 0.9982), (5, 1.0220)),
}
# Above these strengths the rows are from memory or drawn on, not the handbook's.
READ_UP_TO = {"formic": 70.0, "lactic": 80.0, "phosphoric": 40.0}


def density(acid: str, per_cent: float) -> float:
    """Kilograms a litre at 20 C of an acid (`formic`, `sulphuric` …) of a strength by weight; straight lines between the rows.

    Raises ValueError where no row reaches, KeyError for an acid without rows.
    """
    rows = _DENSITIES[acid]
    for (low, at_low), (high, at_high) in pairwise(rows):
        if low <= per_cent <= high:
            return at_low + (at_high - at_low) * (per_cent - low) / (high - low)
    raise ValueError(f"no density is known here for {acid} acid of {per_cent:g} %")


def from_memory(acid: str, per_cent: float) -> bool:
    """Whether the density of an acid of that strength was never read in a printed table."""
    return per_cent > READ_UP_TO.get(acid, 100.0)
