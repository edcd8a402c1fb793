"""The answer about a brine: its strength on every scale, what to weigh in, what it makes, and what was taken for granted."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from hideledger.answers.brine.asked import Found, by_weight, understood
from hideledger.answers.brine.strength import MOST, Instrument
from hideledger.answers.brine.words import Units, degrees_of, percent_of, scale_record, scales
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.trade import brine, brine_acid, brine_reading
from hideledger.trade.brine_density import SIXTY_F, saturated_share
from hideledger.trade.brine_making import Batch, of_skins, of_water, salt_to_reach, together, water_to_reach

# Less salt than this, or water, is below what a salometer shows: a fifth of a degree.
_A_TRIFLE = 0.2
_SALT_ONLY = (
    "a hydrometer shows whatever is dissolved: acid lifts it too (60 oz of citric acid in 20 US gal by about 4 sal), and alum, and dirt; "
    "with acid in the bath its reading is neither a misread nor all of it salt"
)
_TWO_GALLONS = "an imperial gallon is a fifth more than a US one: see which of them a printed table means before taking a figure from it"
_SEE = "the reading, and the salt, are those of your recipe and your supplier's sheet; skins in acid swell where the salt is too low"


def brine_sheet(text: str, instrument: Instrument, units: Units, *, degrees: str = "") -> Sheet:
    """The answer to one request. Raises Unreadable at its place."""
    found = understood(text, instrument, gallons=units.gallons, degrees=degrees)
    units = _spoken(units, found.units)
    if found.share is not None:
        return _one_strength(text, found, found.share, instrument, units)
    assert found.batch is not None
    return _Tub(text=text, found=found, batch=found.batch, instrument=instrument, units=units).sheet()


def _spoken(units: Units, written: frozenset[str]) -> Units:
    """Where neither shop nor command says which units come first: those of the request."""
    if units.gallons or units.metric:
        return units
    imperial = any(unit.startswith("imperial ") for unit in written)
    us = bool(written & {"gal", "qt", "pt", "floz"})
    if imperial != us:
        return Units(gallons="imperial" if imperial else "US")
    return Units(metric=bool(written & {"L", "ml", "kg", "g"}) and not imperial)


def _one_strength(text: str, found: Found, share: float, instrument: Instrument, units: Units) -> Sheet:
    reading = found.reading
    read_warm = found.celsius is not None and reading is not None and reading.dimension == "salt"
    said = "" if reading is None or reading.per is not None else reading.value.unit
    same = [degrees_of(share)] if said != "sal" or read_warm else []
    same += [f"{percent_of(share)} salt by weight"] if said != "%" else []
    title = f"{' '.join(text.split())}: {', '.join(same)}"
    rows: list[Row] = []
    if read_warm and found.celsius is not None and reading is not None:
        fahrenheit = found.celsius * 1.8 + 32
        rows.append(Row(head="read", text=text[reading.start : reading.end] + f" at {found.written_temperature}"))
        rows.append(
            Row(head="true", text=f"{degrees_of(share)}, corrected to {instrument.written} by the densities of brine")
        )
        if reading.value.unit == "sal" and abs(instrument.calibrated - SIXTY_F) < 0.01:
            thumb = brine_reading.by_rule_of_thumb(float(reading.value.value), fahrenheit)
            rows.append(Row(head="by rule of thumb", text=f"{thumb:.1f} sal, one degree for 10 F"))
    if found.celsius is not None:
        most = saturated_share(found.celsius)
        rows.append(
            Row(head="the most it holds", text=f"{percent_of(most)} at {found.written_temperature}, {degrees_of(most)}")
        )
    sections = [Section(heading="Reading", rows=tuple(rows))] if rows else []
    sections.append(scales(share, units, instrument.hundred))
    assumed = list(found.assumed)
    if reading is not None and reading.dimension == "salt":
        assumed.append(f"a hydrometer made for {instrument.written} (say `--instrument 20C` for another)")
        if found.celsius is None:
            assumed.append(f"the brine was at {instrument.written} too (say `at 72 F` for another)")
    sections += _closing(assumed, [_SALT_ONLY, *_of_gallons(units)])
    record = {"schema": 1, "asked": text, "strength": scale_record(share), "assumed": assumed}
    return Sheet(title=title, sections=tuple(sections), title_in_plain=True, record=record)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tub:
    """A bath of which one knows, or wants, the strength."""

    text: str
    found: Found
    batch: Batch
    instrument: Instrument
    units: Units

    def sheet(self) -> Sheet:
        """The whole answer."""
        found, batch = self.found, self.batch
        with_skins = together([batch, of_skins(found.skins_kg)])
        record: dict[str, object] = {"schema": 1, "asked": self.text}
        if found.to is None:
            after, sections = batch, list[Section]()
            title = f"{' '.join(self.text.split())}: {degrees_of(batch.dissolved_share)}, {percent_of(batch.dissolved_share)} salt by weight"
        else:
            after, title, sections, record["add"] = self._brought(together([batch, of_skins(found.skins_kg)]), found.to)
            with_skins, after = (
                after,
                Batch(water_kg=after.water_kg - (of_skins(found.skins_kg).water_kg), salt_kg=after.salt_kg),
            )
        sections.append(self._makes(after, with_skins, record))
        if found.to is None and not found.standing:
            sections.append(self._order_when_new())
        share = after.dissolved_share
        sections.append(scales(share, self.units, self.instrument.hundred))
        assumed = [
            *found.assumed,
            "weighed as on a shop's scale, water at 60 F: 8.33 lb a US gal, 10.0 lb an imperial gal, 0.998 kg a litre",
        ]
        if found.acids:
            assumed.append(
                "volumes are those of the brine without its acid; what acid adds to a reading is an estimate"
            )
        if found.skins_kg:
            assumed.append(
                "green skins are 62 % water, and all of it joins the bath: after a day or more, so it is the most they thin it"
            )
        sections += _closing(
            assumed, [_SALT_ONLY, *_of_gallons(self.units), *([_SEE] if found.standing or found.skins_kg else [])]
        )
        record |= {"strength": scale_record(share), "assumed": assumed}
        return Sheet(title=title, sections=tuple(sections), title_in_plain=True, record=record)

    def _brought(self, now: Batch, to: float) -> tuple[Batch, str, list[Section], dict[str, float]]:
        """Salt or water to add: the bath afterwards (with the skins' water in it), the first line, what to do."""
        wanted = f"to reach {self.found.to_written}"
        salt = salt_to_reach(now, to)
        if abs(brine.salometer(now.share) - brine.salometer(to)) < _A_TRIFLE:
            return (
                now,
                f"nothing to add {wanted}: it stands at {degrees_of(now.share)}",
                [],
                {"salt_kg": 0.0, "water_l": 0.0},
            )
        if salt > 0:
            after = Batch(water_kg=now.water_kg, salt_kg=now.salt_kg + salt)
            title = f"{self.units.weight(salt)} salt {wanted}"
            head = Row(head="salt", text=f"{self.units.weight(salt)}, into what stands at {degrees_of(now.share)}")
            steps = self._order_when_stronger(now, salt) if self.found.standing else self._order_when_new()
            section = Section(heading="Weigh in", rows=(head,))
            return after, title, [section, steps], {"salt_kg": round(salt, 5), "water_l": 0.0}
        litres = water_to_reach(now, to) / brine.KG_WATER_PER_L if to > 0 else inf
        if litres > MOST:
            title = f"no amount of water that a tub holds brings {degrees_of(now.share)} down to {self.found.to_written}; make a new bath"
            return now, title, [], {"salt_kg": 0.0, "water_l": 0.0}
        after = Batch(water_kg=now.water_kg + litres * brine.KG_WATER_PER_L, salt_kg=now.salt_kg)
        title = f"{self.units.volume(litres)} water {wanted}"
        head = Row(head="water", text=f"{self.units.volume(litres)}, into what stands at {degrees_of(now.share)}")
        return (
            after,
            title,
            [Section(heading="Pour in", rows=(head,)), _order_when_weaker()],
            {"salt_kg": 0.0, "water_l": round(litres, 5)},
        )

    def _makes(self, after: Batch, with_skins: Batch, record: dict[str, object]) -> Section:
        """What stands in the tub then."""
        found, units = self.found, self.units
        rows = [
            Row(
                head="brine",
                text=f"{units.volume(after.litres)}, {units.weight(after.salt_kg - after.undissolved_kg)} of salt in it",
            )
        ]
        made: dict[str, object] = {"litres": round(after.litres, 4), "salt_kg": round(after.salt_kg, 5)}
        if after.undissolved_kg > 1e-3:
            rows.append(
                Row(
                    head="past saturation",
                    text=f"{units.weight(after.undissolved_kg)} of the salt stays on the bottom: {percent_of(saturated_share())} is all that water holds at 60 F",
                )
            )
            made["undissolved_kg"] = round(after.undissolved_kg, 5)
        if found.skins_kg:
            rows.append(
                Row(
                    head="before the skins",
                    text=f"{degrees_of(after.dissolved_share)}, {percent_of(after.dissolved_share)}",
                )
            )
            rows.append(
                Row(
                    head="with the skins in",
                    text=f"{degrees_of(with_skins.dissolved_share)}, {percent_of(with_skins.dissolved_share)}, {units.volume(of_water_litres(with_skins))} of water",
                )
            )
            made["with_skins_sal"] = round(brine.salometer(with_skins.dissolved_share), 4)
        rows += self._shown(after, made)
        record["makes"] = made
        return Section(
            heading="Makes" if found.to is not None or not found.standing else "In the tub", rows=tuple(rows)
        )

    def _shown(self, after: Batch, made: dict[str, object]) -> list[Row]:
        """What a hydrometer will show in it."""
        found, share = self.found, after.dissolved_share
        rows: list[Row] = []
        if found.under_acid is not None:
            rows.append(
                Row(head="of the reading", text=f"about {found.under_acid:.0f} sal is the acid's, the rest salt")
            )
            made["read_for_acid_sal"] = round(found.under_acid, 2)
        if found.acids:
            lift = brine_acid.lift(share, by_weight(found.acids, after))
            names = " and ".join(acid.name for acid in found.acids)
            own = brine.salometer(share)
            text = f"about {own + lift:.0f} sal: {own:.0f} of salt, about {lift:.0f} of the {names}"
            if own + lift > 100:
                text = f"past the end of its scale: {own:.0f} of salt, and the {names}"
            rows.append(Row(head="a hydrometer shows", text=text))
            made["acid_lift_sal"] = round(lift, 2)
        elif found.celsius is not None and share > 0:
            shown = _shown_at(share, found.celsius, self.instrument)
            if shown is not None:
                rows.append(
                    Row(
                        head="a hydrometer shows",
                        text=f"{shown:.1f} degrees salometer at {found.written_temperature}, made for {self.instrument.written}",
                    )
                )
        return rows

    def _order_when_new(self) -> Section:
        return _in_order(
            "the water first, at about 60 F; salt dissolves slowly in cold water",
            "the salt into it, a part at a time, stirred until none lies on the bottom",
            "let it stand until clear and read it; it should agree within 2 sal",
            "acid, if your recipe has any, comes last: gloves and goggles, slowly into the cool brine, never brine onto acid; then the skins",
        )

    def _order_when_stronger(self, now: Batch, salt: float) -> Section:
        room = brine.salt_to_water(saturated_share()) * now.water_kg - now.salt_kg
        part = min(1.0, salt / room) if room > 0 else 1.0
        return _in_order(
            f"dissolve the salt in liquor drawn off from the bath, {self.units.at_least(part * now.litres)} or more; fresh water would thin it",
            "pour it back slowly, clear of the skins, and stir the whole tub; no dry salt on skins in acid",
            "read it again in an hour, and write both down: the salt added, and the reading",
        )


def _order_when_weaker() -> Section:
    return _in_order(
        "see that the tub has room for it; else draw liquor off first, and ask again for what is left",
        "pour the water in slowly, clear of the skins, and stir the whole tub",
        "read it again in an hour; water thins the acid too: read the pH",
    )


def _in_order(*steps: str) -> Section:
    """The order of the work: common practice, no source, but for salt before acid (a handbook of taxidermy of 1916, chapter III)."""
    return Section(
        heading="In this order", rows=tuple(Row(head=str(number), text=step) for number, step in enumerate(steps, 1))
    )


def _of_gallons(units: Units) -> list[str]:
    return [] if units.gallons == "US" or units.metric else [_TWO_GALLONS]


def _closing(assumed: list[str], mind: list[str]) -> list[Section]:
    parts = (("Taken for granted", assumed), ("Mind", mind))
    return [Section(heading=heading, rows=tuple(Row(text=line) for line in lines)) for heading, lines in parts if lines]


def _shown_at(share: float, celsius: float, instrument: Instrument) -> float | None:
    try:
        return brine_reading.shown_degrees(share, celsius, calibrated=instrument.calibrated, hundred=instrument.hundred)
    except ValueError:
        return None


def of_water_litres(batch: Batch) -> float:
    """Litres of the water in a batch at 60 F."""
    return batch.water_kg / (of_water(1).water_kg)
