"""What somebody asks of a brine, turned into weights and shares; whatever cannot be a brine is refused at its place."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from hideledger.answers.brine.strength import LIQUORS, MOST, Instrument, is_strength, said_of, share_of, temperature
from hideledger.reading.asked import Asked, Measured, Stuff
from hideledger.reading.asking import asked
from hideledger.reading.trouble import Unreadable
from hideledger.text.nearest import slip_of
from hideledger.trade import brine, brine_acid, brine_making
from hideledger.trade.brine_density import density

_SKINS = ("skin", "skins", "hide", "hides", "cape", "capes", "pelt", "pelts")
_RAW = ("wet", "green", "raw", "fleshed", "drained")


@dataclass(frozen=True, slots=True, kw_only=True)
class Acid:
    """Acid in the bath: a name of the table of its densities, and kilograms."""

    name: str
    kg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What was asked, understood. `share` is the strength of a single reading; otherwise `batch` is what is in the tub.

    `celsius` is the temperature it was read at, where one was said; `under_acid` how many degrees salometer the acid in it is reckoned to
    add to the reading.
    """

    share: float | None = None
    batch: brine_making.Batch | None = None
    skins_kg: float = 0.0
    acids: tuple[Acid, ...] = ()
    to: float | None = None
    to_written: str = ""
    reading: Measured | None = None
    celsius: float | None = None
    written_temperature: str = ""
    standing: bool = False  # there is brine in the tub already
    under_acid: float | None = None
    units: frozenset[str] = frozenset()  # as written, so that the answer may speak in them
    assumed: tuple[str, ...] = ()


def understood(text: str, instrument: Instrument, *, gallons: str = "", degrees: str = "") -> Found:
    """A request, understood. Raises Unreadable at its place."""
    request = asked(text, "brine", gallons=gallons, degrees=degrees)
    warm = [stuff for stuff in request.stuffs if stuff.measured.dimension == "temperature"]
    stuffs = [stuff for stuff in request.stuffs if stuff.measured.dimension != "temperature"]
    if not stuffs:
        raise Unreadable(
            "nothing", "how strong, or how much? as in `40 sal`, or `20 gal water, 20 lb salt`", 0, len(text)
        )
    first = stuffs[0]
    if is_strength(first.measured):
        found = _reading(request, stuffs, warm, text, instrument)
    else:
        found = _Gathering(text, instrument).all_of(request, stuffs, warm)
    return replace(found, units=_units_of(request.stuffs))


def _reading(request: Asked, stuffs: list[Stuff], warm: list[Stuff], text: str, instrument: Instrument) -> Found:
    """One strength alone, perhaps with the temperature it was read at."""
    only = stuffs[0]
    other = stuffs[1] if len(stuffs) > 1 else None
    if other is not None:
        right = f"the amount stands first: `20 gal at {said_of(only.measured, text)}`"
        raise Unreadable(
            "order", f"`{text[other.start : other.end]}` behind a strength; {right}", other.start, other.end
        )
    if request.to is not None:
        right = f"how much of it? `20 gal from {said_of(only.measured, text)} to {said_of(request.to, text)}`"
        raise Unreadable("how much", right, only.start, request.to.end)
    celsius, written = temperature([*only.held, *(stuff.measured for stuff in warm)], text)
    assumed: list[str] = []
    share = share_of(only.measured, text, instrument, celsius, assumed)
    return Found(
        share=share,
        reading=only.measured,
        celsius=celsius,
        written_temperature=written,
        assumed=tuple(assumed),
    )


class _Gathering:
    """What is in the tub, put together from what was named."""

    def __init__(self, text: str, instrument: Instrument) -> None:
        self.text = text
        self.instrument = instrument
        self.assumed: list[str] = []
        self.batches: list[brine_making.Batch] = []
        self.acids: list[Acid] = []
        self.acids_at: list[int] = []  # where they stand in the request
        self.lots_of_skins = 0
        self.skins_kg = 0.0
        self.standing: list[tuple[Stuff, float]] = []  # brine with a reading, and its litres or kilograms as asked
        self.celsius: float | None = None
        self.written_temperature = ""
        self.under_acid: float | None = None

    def all_of(self, request: Asked, stuffs: list[Stuff], warm: list[Stuff]) -> Found:
        """The whole request. Raises Unreadable."""
        self.celsius, self.written_temperature = temperature([stuff.measured for stuff in warm], self.text)
        liquors = [stuff for stuff in stuffs if self._take(stuff)]
        for stuff in liquors:
            # acid that stands before the liquor was in it when it was read; so was all of it where nothing else goes in but skins
            alone = len(stuffs) == 1 + len(self.acids) + self.lots_of_skins
            before = len(liquors) == 1 and all(start < stuff.start for start in self.acids_at)
            self.batches.append(self._liquor(stuff, acid_in_it=alone or before))
        batch = brine_making.together(self.batches)
        if batch.water_kg <= 0:
            message = "no water in it; as in `20 gal water, 20 lb salt`, or `20 gal from 36 sal to 46 sal`"
            raise Unreadable("no water", message, stuffs[0].start, stuffs[-1].end)
        to = None
        if request.to is not None:
            to = share_of(request.to, self.text, Instrument(hundred=self.instrument.hundred), None, self.assumed)
        elif not batch.salt_kg:
            message = (
                "to what strength, or with how much salt? as in `20 gal water to 40 sal`, or `20 gal water, 20 lb salt`"
            )
            raise Unreadable("no salt", message, stuffs[-1].start, stuffs[-1].end)
        return Found(
            batch=batch,
            skins_kg=self.skins_kg,
            acids=tuple(self.acids),
            to=to,
            to_written="" if request.to is None else said_of(request.to, self.text),
            celsius=self.celsius,
            written_temperature=self.written_temperature,
            standing=bool(liquors),
            under_acid=self.under_acid,
            assumed=tuple(dict.fromkeys(self.assumed)),
        )

    def _take(self, stuff: Stuff) -> bool:
        """Puts one thing into the tub; whether it is brine of a strength, which waits until the acids are known."""
        measured = stuff.measured
        said = self.text[stuff.start : stuff.end]
        if measured.dimension not in ("weight", "volume"):
            raise Unreadable("amount", f"`{said}`: a weight or a volume belongs here", stuff.start, stuff.end)
        if measured.value.value < 0:
            raise Unreadable("negative", f"`{said}`: an amount is no less than nothing", stuff.start, stuff.end)
        if measured.value.value == 0:
            raise Unreadable("nothing", f"`{said}`: an amount of nothing; leave it away", stuff.start, stuff.end)
        amount = float(measured.value.to("kg" if measured.dimension == "weight" else "L"))
        if amount > MOST:
            raise Unreadable(
                "absurd", f"`{said}`: no tub of a shop holds so much; is the unit right?", stuff.start, stuff.end
            )
        if stuff.held:
            self.standing.append((stuff, amount))
            return True
        name = self._known(stuff, said)
        if name == "water":
            self.batches.append(
                brine_making.of_water(amount)
                if measured.dimension == "volume"
                else brine_making.Batch(water_kg=amount, salt_kg=0)
            )
            return False
        if measured.dimension != "weight":
            message = (
                f"`{said}`: {name} is weighed; a measure of it holds more or less with its grain. Write lb, oz, kg or g"
            )
            raise Unreadable("by weight", message, stuff.start, stuff.end)
        if name == "salt":
            self.batches.append(brine_making.Batch(water_kg=0, salt_kg=amount))
        elif name == "skins":
            self.skins_kg += amount
            self.lots_of_skins += 1
        else:
            self.acids.append(Acid(name=name, kg=amount))
            self.acids_at.append(stuff.start)
        return False

    def _known(self, stuff: Stuff, said: str) -> str:
        """`water`, `salt`, `skins`, or the name of an acid. Raises Unreadable."""
        words = stuff.name.split()
        if not words:
            if stuff.measured.dimension == "volume":
                self.assumed.append(f"`{said}` is the water taken")
                return "water"
            raise Unreadable("of what", f"`{said}` of what? salt, or wet skins", stuff.start, stuff.end)
        while len(words) > 1 and words[0] in _RAW:
            words = words[1:]
        name = " ".join(words)
        if name in ("water", "salt"):
            return name
        if words[-1] in _SKINS:
            return "skins"
        acid = name if name in brine_acid.SOLUTIONS else name.replace("sulfuric", "sulphuric")
        acid = f"{acid} acid" if f"{acid} acid" in brine_acid.SOLUTIONS else acid
        crystals = acid.removesuffix(" crystals")
        if acid != crystals and f"{crystals}, crystals" in brine_acid.SOLUTIONS:
            return f"{crystals}, crystals"
        if acid in brine_acid.SOLUTIONS:
            return acid
        if words[-1] in LIQUORS:
            raise Unreadable(
                "how strong", f"`{said}`: how strong is it? as in `{said} at 36 sal`", stuff.start, stuff.end
            )
        known = ("water", "salt", "skins", "brine", *(acid for acid in brine_acid.SOLUTIONS if "," not in acid))
        close = slip_of(name, (*known, "from"))
        if "acid" in words and not close:
            raise Unreadable(
                "acid", f"`{name}`: how much it lifts a hydrometer is not known here", stuff.name_start, stuff.name_end
            )
        hint = (
            f"did you mean `{close}`?" if close else "known are water, salt, skins, brine, and " + ", ".join(known[4:])
        )
        raise Unreadable("name", f"`{name}`: {hint}", stuff.name_start, stuff.name_end)

    def _liquor(self, stuff: Stuff, *, acid_in_it: bool) -> brine_making.Batch:
        """Brine of a strength, or water that has been made into such brine."""
        measured = stuff.measured
        said = self.text[stuff.start : stuff.end]
        celsius, written = temperature(stuff.held[1:], self.text)
        strength = stuff.held[0]
        if strength.dimension == "temperature":
            raise Unreadable(
                "how strong", f"`{said}`: how strong is it? as in `20 gal at 36 sal at 72 F`", stuff.start, stuff.end
            )
        if celsius is not None and self.celsius is None:
            self.celsius, self.written_temperature = celsius, written
        words = stuff.name.split()
        if words and words[-1] not in ("water", *LIQUORS):
            raise Unreadable(
                "name", f"`{said}`: a strength is that of brine, not of {stuff.name}", stuff.start, stuff.end
            )
        share = share_of(
            strength, self.text, self.instrument, celsius if celsius is not None else self.celsius, self.assumed
        )
        as_water = bool(words) and words[-1] == "water"
        if not words:
            self.assumed.append(
                f"`{said_of(measured, self.text)}` is the brine as it stands in the tub (write `water` behind it for the water it was made from)"
            )
        batch = self._of(measured, share, as_water=as_water)
        if self.acids and acid_in_it and strength.value.unit in ("sal", "Be", "SG"):
            share = self._below_acid(batch, share)
            batch = self._of(measured, share, as_water=as_water)
        return batch

    def _of(self, measured: Measured, share: float, *, as_water: bool) -> brine_making.Batch:
        amount = float(measured.value.to("kg" if measured.dimension == "weight" else "L"))
        if as_water:
            water = amount if measured.dimension == "weight" else amount * brine.KG_WATER_PER_L
            return brine_making.Batch(water_kg=water, salt_kg=water * brine.salt_to_water(share))
        return (
            brine_making.of_weight(amount, share)
            if measured.dimension == "weight"
            else brine_making.of_brine(amount, share)
        )

    def _below_acid(self, batch: brine_making.Batch, share: float) -> float:
        """The salt in a bath that was read with its acid in it."""
        true = brine_acid.share_under_acid(density(share), by_weight(self.acids, batch))
        self.under_acid = brine.salometer(share) - brine.salometer(true)
        self.assumed.append("the reading was taken with the acid in the bath, and none of the acid has gone into skins")
        return true


def by_weight(acids: Iterable[Acid], batch: brine_making.Batch) -> dict[str, float]:
    """Each acid's weight to one of the brine it is in."""
    found: dict[str, float] = {}
    for acid in acids:
        found[acid.name] = found.get(acid.name, 0.0) + acid.kg / (batch.water_kg + batch.salt_kg)
    return found


def _units_of(stuffs: Iterable[Stuff]) -> frozenset[str]:
    said = [measured for stuff in stuffs for measured in (stuff.measured, *stuff.held)]
    each = [quantity for measured in said for quantity in (measured.value, measured.per) if quantity is not None]
    return frozenset(quantity.unit for quantity in each)
