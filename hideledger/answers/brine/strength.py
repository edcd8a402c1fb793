"""What a strength says: a share of salt by weight, whichever scale it was read or written on, or why it can be none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from hideledger.model.units import plain_number
from hideledger.reading.asked import Measured
from hideledger.reading.asking import measured_of, request_tree
from hideledger.reading.trouble import Unreadable
from hideledger.trade import brine, brine_reading
from hideledger.trade.brine_density import COLDEST, SATURATED, SIXTY_F, WARMEST, density, saturated_share

# More than this is no bath of a shop: litres, or kilograms.
MOST = 20_000
LIQUORS = ("brine", "bath", "liquor", "pickle")
_HUNDREDS = (20, 27)  # per cent: whatever a salometer calls 100 lies between
# How far a reading may lie outside what brine can show before it is refused: two degrees salometer, the doubt of the instrument.
_DOUBT = 0.004


@dataclass(frozen=True, slots=True, kw_only=True)
class Instrument:
    """The hydrometer: the temperature it is made for, degrees C, and the share of salt that its salometer scale calls 100."""

    calibrated: float = SIXTY_F
    hundred: float = SATURATED
    written: str = "60 F"


def instrument_of(text: str, *, degrees: str = "") -> Instrument:
    """`60 F`, `20 C`, `60 F, 100 at 25 %`. Raises Unreadable."""
    try:
        tree = request_tree(text, "instrument")
    except Unreadable as trouble:
        if trouble.code not in ("unit", "expected", "too short"):
            raise
        message = f"`{text.strip()}`: the temperature that the hydrometer is made for belongs here, as in `60 F`, `20C`, or `60 F, 100 at 25 %`"
        raise Unreadable("instrument", message, trouble.start, trouble.end) from None
    parts = [measured_of(child, text, degrees=degrees) for child in tree.children if not isinstance(child, str)]
    hundred = SATURATED
    if len(parts) > 1:
        share = parts[1]
        if share.value.unit != "%" or not _HUNDREDS[0] <= share.value.value <= _HUNDREDS[1]:
            raise refused(
                share,
                "hundred",
                f"`{text[share.start : share.end]}`: a salometer's 100 is a share of salt, as 25 % or 26.395 %",
            )
        hundred = float(share.value.value) / 100
    return Instrument(calibrated=_celsius(parts[0], text), hundred=hundred, written=str(parts[0].value))


def share_of(measured: Measured, text: str, instrument: Instrument, celsius: float | None, assumed: list[str]) -> float:
    """The share of salt by weight that a strength says, at the temperature it was read at (None: the instrument's own).

    What warm brine holds beyond the saturation of 60 F is left out, and that is said in `assumed`. Raises Unreadable.
    """
    found = _share(measured, text, instrument, celsius, assumed)
    if found > saturated_share() + 1e-9:
        assumed.append(
            f"that is {100 * found:.2f} % salt; as it cools to 60 F some falls out, and {100 * saturated_share():.2f} % stays"
        )
    return min(found, saturated_share())


def _share(measured: Measured, text: str, instrument: Instrument, celsius: float | None, assumed: list[str]) -> float:
    value, unit = float(measured.value.value), measured.value.unit
    said = said_of(measured, text)
    if value < 0:
        raise refused(measured, "negative", f"`{said}`: a strength is no less than nothing")
    if unit == "pH":
        raise refused(
            measured,
            "pH",
            f"`{said}`: pH says nothing of salt; a strength is `40 sal`, `10 %`, `SG 1.08`, `1 lb per gal`",
        )
    if unit == "SG" and 900 < value < 1300:
        raise refused(measured, "point", f"`{said}`: did you mean SG {value / 1000:.3f}?")
    if measured.per is not None:
        return _of_ratio(measured, said, assumed)
    if unit == "%":
        if celsius is not None:
            assumed.append("a share by weight is the same at every temperature")
        if value / 100 > saturated_share(SIXTY_F if celsius is None else celsius) + 1e-9:
            raise past(measured, said, SIXTY_F if celsius is None else celsius)
        return value / 100
    if not is_strength(measured):
        raise refused(
            measured, "strength", f"`{said}` is no strength; as in `40 sal`, `10 %`, `SG 1.08`, `1 lb per gal`"
        )
    at = instrument.calibrated if celsius is None else celsius
    try:
        shown = _shown(value, unit, instrument)
    except ValueError:
        raise past(measured, said, at) from None
    least, most = (
        brine_reading.shown_density(density(share, at), at, calibrated=instrument.calibrated)
        for share in (0.0, saturated_share(at))
    )
    if shown < least * (1 - _DOUBT):
        raise refused(
            measured,
            "light",
            f"`{said}` is lighter than water at that temperature; read it again, the glass clean and afloat",
        )
    if shown > most * (1 + _DOUBT):
        raise past(measured, said, at)
    if shown < least:
        assumed.append(f"`{said}` is a little less than water itself shows there: taken for water without salt")
    if shown > most:
        assumed.append(
            f"`{said}` is a little past saturation there: taken for saturated, {100 * saturated_share(at):.1f} %"
        )
    return brine_reading.share_of_shown(min(max(shown, least), most), at, calibrated=instrument.calibrated)


def _shown(value: float, unit: str, instrument: Instrument) -> float:
    """The density in kg/m3 that a hydrometer shows. Raises ValueError past the scale."""
    if unit == "sal":
        share = brine.share_of_salometer(value, hundred=instrument.hundred)
        if value <= 100:  # made for the cold, its 100 is what water holds there, a little less
            share = min(share, saturated_share(instrument.calibrated))
        return density(share, instrument.calibrated)
    if unit == "Be" and not 0 <= value < brine.BAUME_MODULUS:
        raise ValueError("no such degree")
    gravity = value if unit == "SG" else brine.gravity_of_baume(value)
    return gravity * density(0, instrument.calibrated)


def _of_ratio(measured: Measured, said: str, assumed: list[str]) -> float:
    """`1 lb per gal`, `120 g per L brine`, `4 oz salt per lb water`."""
    per = measured.per
    assert per is not None
    amount = float(measured.value.value)
    if measured.value.dimension != "weight" or per.dimension not in ("volume", "weight") or per.value <= 0:
        raise refused(
            measured, "ratio", f"`{said}`: a strength is a weight of salt per amount of water, as in `1 lb per gal`"
        )
    if measured.stuff not in ("", "salt"):
        raise refused(measured, "ratio", f"`{said}`: salt is what makes a brine, not {measured.stuff}")
    if measured.of not in ("", "water", *LIQUORS):
        raise refused(measured, "ratio", f"`{said}`: per amount of water or of brine")
    salt = float(measured.value.to("kg"))
    of_brine = measured.of in LIQUORS
    if not measured.of:
        assumed.append(f"`{said}` is to the water taken, not to the finished brine (write `brine` behind it for that)")
    try:
        if amount > MOST:
            raise ValueError("far too much")
        if per.dimension == "weight":
            ratio = salt / float(per.to("kg"))
            share = ratio if of_brine else brine.share_of_salt_to_water(ratio)
        else:
            ratio = salt / float(per.to("L"))
            if of_brine:
                share = brine.share_of_kg_per_l_brine(ratio)
            else:
                share = brine.share_of_salt_to_water(ratio / brine.KG_WATER_PER_L)
    except ValueError:
        raise past(measured, said, SIXTY_F) from None
    if share > saturated_share() + 1e-9:
        raise past(measured, said, SIXTY_F)
    return share


def is_strength(measured: Measured) -> bool:
    """What was measured says how strong a bath is: salt on any scale, a share, a ratio, or a pH."""
    return measured.dimension in ("salt", "share", "ratio", "pH")


def temperature(held: Sequence[Measured], text: str) -> tuple[float | None, str]:
    """The one temperature among what was said, degrees C, and as written. Raises Unreadable."""
    if not held:
        return None, ""
    if len(held) > 1:
        raise refused(
            held[1], "twice", f"`{said_of(held[1], text)}`: one temperature, that of the liquor when it was read"
        )
    return _celsius(held[0], text), said_of(held[0], text)


def _celsius(measured: Measured, text: str) -> float:
    said = said_of(measured, text)
    if measured.dimension != "temperature":
        raise refused(measured, "temperature", f"`{said}`: a temperature belongs here, as in `72 F` or `20 C`")
    celsius = float(measured.value.to("C"))
    if not COLDEST <= celsius <= WARMEST:
        message = f"`{said}`: the density of brine is known here from 32 to 104 F (0 to 40 C); let it come nearer to 60 F and read again"
        raise refused(measured, "temperature", message)
    return celsius


def past(measured: Measured, said: str, celsius: float) -> Unreadable:
    """More salt was asked for than water can hold at that temperature (degrees C); the refusal says the most in every scale."""
    most = saturated_share(celsius)
    fahrenheit = plain_number(Decimal(f"{celsius * 1.8 + 32:.1f}"))
    shown = f"{100 * most:.1f} % salt, {brine.salometer(most):.1f} sal, {brine.lb_per_us_gal_water(most):.2f} lb to a US gal of water"
    message = f"`{said}` is past saturation: water of {fahrenheit} F holds {shown}; if a hydrometer showed it, something else is in the bath (acid, alum, dirt)"
    return refused(measured, "past saturation", message)


def said_of(measured: Measured, text: str) -> str:
    """What was measured, in the words of the request."""
    return text[measured.start : measured.end]


def refused(measured: Measured, code: str, message: str) -> Unreadable:
    """A refusal that points at what was measured; `code` is its short name in tests."""
    return Unreadable(code, message, measured.start, measured.end)
