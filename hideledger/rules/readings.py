"""A reading against a range: how far it lies outside, and how much of that is the instrument's own doubt."""

from __future__ import annotations

from decimal import Decimal

from hideledger.model.facts import Reading
from hideledger.model.process import Range, Step
from hideledger.model.shop import Spot
from hideledger.model.units import Quantity, plain_number

# What an instrument may be wrong by: paper 0.3, meter 0.1, salometer 2 degrees, thermometer 2 F. Common practice, no
# source.
_DOUBT_PH = {"meter": Decimal("0.1"), "cut": Decimal("0.3"), "strip": Decimal("0.3"), "": Decimal("0.3")}
_DOUBT_SALT, _DOUBT_F = Decimal(2), Decimal(2)


def counted_quantities(line: Step) -> tuple[str, ...]:
    """The quantities whose readings count for a step: those it gives a range for, pH if it gives none."""
    found = tuple(
        what
        for what, limits in (("pH", line.ph), ("temperature", line.temperature), ("salt", line.salt))
        if limits is not None
    )
    return found or ("pH",)


def ranges_of(line: Step, what: str) -> tuple[Range, ...]:
    """The range of one quantity in a step: one, or none."""
    limits = {"pH": line.ph, "temperature": line.temperature, "salt": line.salt}[what]
    return () if limits is None else (limits,)


def beyond(reading: Reading, limits: Range | Spot) -> float | None:
    """How far a reading lies outside (pH, degrees F or salometer); None inside, or where the two cannot be compared."""
    below = _over(limits.least, reading.value)
    above = _over(reading.value, limits.most)
    out = max((over for over in (below, above) if over is not None), default=None)
    return float(out) if out is not None and out > 0 else None


def _over(big: Quantity | None, small: Quantity | None) -> Decimal | None:
    """How much `big` is over `small`, in F for temperatures."""
    if big is None or small is None:
        return None
    if big.dimension == "temperature" or small.dimension == "temperature":
        try:
            return big.to("F") - small.to("F")
        except ValueError:
            return None
    if big.unit != small.unit and "pH" not in (big.unit, small.unit):
        return None  # Baumé against salometer: not the same scale
    return big.value - small.value


def doubt(reading: Reading) -> float:
    """What the instrument may be wrong by, in the units of `beyond`."""
    if reading.what == "pH":
        return float(_DOUBT_PH.get(reading.how, _DOUBT_PH[""]))
    return float(_DOUBT_F if reading.what == "temperature" else _DOUBT_SALT)


def is_over(reading: Reading, limits: Range | Spot) -> bool:
    """Whether a reading lies above the range, and not under it."""
    above = _over(reading.value, limits.most)
    return above is not None and above > 0


def limit_said(reading: Reading, limits: Range | Spot) -> str:
    """Which side of the range it lies on: `over 2.2`, `under 50 F`."""
    if is_over(reading, limits) and limits.most is not None:
        return f"over {_bare(limits.most)}"
    return f"under {_bare(limits.least)}" if limits.least is not None else "out of range"


def _bare(quantity: Quantity) -> str:
    return plain_number(quantity.value) if quantity.unit == "pH" else str(quantity)


def reading_said(reading: Reading) -> str:
    """A reading as it is written: `pH 2.3 strip`, `62 F`, `38 sal`."""
    how = f" {reading.how}" if reading.how else ""
    if reading.what == "pH":
        return f"pH {reading.value.value:f}{how}"
    return f"{reading.value}{how}"


def common_reading(what: str, degrees: str) -> Reading:
    """A reading as it is mostly written, for an example where a bath has none of its own yet. `degrees` as the shop reads them."""
    warm = Quantity(value=Decimal(18), unit="C") if degrees == "C" else Quantity(value=Decimal(64), unit="F")
    value = {
        "temperature": warm,
        "salt": Quantity(value=Decimal(40), unit="sal"),
        "pressure": Quantity(value=Decimal(8), unit="psi"),
    }.get(what, Quantity(value=Decimal("2.0"), unit="pH"))
    return Reading(what=what, value=value, how="strip" if what == "pH" else "")
