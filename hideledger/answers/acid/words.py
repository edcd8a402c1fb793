"""Amounts of acid and base in the weights and measures that were asked in."""

from __future__ import annotations

from dataclasses import dataclass

from hideledger.answers.acid.parts import Bottle

US, IMPERIAL, METRIC = "US", "imperial", "metric"
_OZ, _LB = 28.349523125, 453.59237
_GALLON = {US: 3.785411784, IMPERIAL: 4.54609}
_FLOZ = {US: 0.0295735295625, IMPERIAL: 0.0284130625}


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """Which weights and measures an answer speaks in: US, imperial or metric."""

    kind: str

    def weight(self, least: float, most: float | None = None) -> str:
        """Grams, or a range of them: `67 oz (4 lb 3 oz, 1.9 kg)`, `67 to 72 oz`."""
        most = least if most is None else most
        if self.kind == METRIC:
            return _grams(least, most)
        words = f"{_range(least / _OZ, most / _OZ)} oz"
        pounds = _pounds(most) if _rounded(least / _OZ) == _rounded(most / _OZ) and most >= 2 * _LB else ""
        return f"{words} ({', '.join(part for part in (pounds, _grams(least, most)) if part)})"

    def skins(self, kg: float) -> str:
        """`30 lb`, `13.6 kg`."""
        return f"{_rounded(kg)} kg" if self.kind == METRIC else f"{_rounded(1000 * kg / _LB)} lb"

    def fluid(self, litres_least: float, litres_most: float | None = None) -> str:
        """Litres, or a range of them: `5.8 fl oz (172 ml)`."""
        most = litres_least if litres_most is None else litres_most
        millilitres = f"{_range(litres_least * 1000, most * 1000)} ml"
        if self.kind == METRIC:
            return millilitres
        size = _FLOZ[self.kind]
        return f"{_range(litres_least / size, most / size)} fl oz ({millilitres})"

    def bath(self, litres: float) -> str:
        """`20 US gal`, `75 L`."""
        if self.kind == METRIC:
            return f"{_rounded(litres)} L"
        return f"{_rounded(litres / _GALLON[self.kind])} {self.kind} gal"

    def each(self, grams_a_litre: float) -> str:
        """`3 oz a gallon (22 g a litre)`."""
        metric = f"{_rounded(grams_a_litre)} g a litre"
        if self.kind == METRIC:
            return metric
        return f"{_rounded(grams_a_litre * _GALLON[self.kind] / _OZ)} oz a gallon ({metric})"

    def taken(self, bottle: Bottle, least: float, most: float | None = None) -> str:
        """So many grams of the pure thing as it is taken from a bottle: by weight, and by volume where its density is known."""
        most = least if most is None else most
        low, high = least / bottle.strength, most / bottle.strength
        words = self.weight(low, high)
        if not bottle.chemical.liquid:
            return f"{words} of {bottle.name}"
        words = f"{words} by weight of {bottle.name}"
        if bottle.kg_a_litre is None:
            return words
        litres = 1000 * bottle.kg_a_litre
        return f"{words}, which is {self.fluid(low / litres, high / litres)}"


def _grams(least: float, most: float) -> str:
    if most >= 1000:
        return f"{_range(least / 1000, most / 1000)} kg"
    return f"{_range(least, most)} g"


def _pounds(grams: float) -> str:
    pounds, ounces = divmod(round(grams / _OZ), 16)
    return f"{pounds} lb {ounces} oz" if ounces else f"{pounds} lb"


def _range(least: float, most: float) -> str:
    places = _places(most)
    low, high = (f"{round(value, places):.{max(places, 0)}f}" for value in (least, most))
    return _rounded(most, places) if low == high else f"{low} to {high}"


def _rounded(value: float, places: int | None = None) -> str:
    """Two or three figures, no more than the reckoning is worth."""
    places = _places(value) if places is None else places
    text = f"{round(value, places):.{max(places, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _places(value: float) -> int:
    """How many figures behind the point are worth saying; below nought for thousands."""
    return 3 if value < 0.1 else 2 if value < 2 else 1 if value < 20 else 0 if value < 1000 else -1
