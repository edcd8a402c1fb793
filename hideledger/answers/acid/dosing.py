"""How much it takes from what a bath reads to what it is to read: the likeliest figure, and how far either side it may lie.

A bath seldom reads what its make-up gives, and there are two reasons for it. The reading itself may be off (the meter, the strip, what salt does to
both): then it is off by as much at the goal, and the whole curve is moved. Or skins took acid: then less of it is left, and the bath holds its
salt. The two lead to different doses; both are reckoned, and the likelier one is said.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from hideledger.answers.acid.parts import Bath, Bottle
from hideledger.answers.acid.sour import DOUBT
from hideledger.trade import acid_dose, bath_ph
from hideledger.trade.acid_dose import OutOfReach, Shows
from hideledger.trade.bath_ph import DAVIES, IDEAL, LEAVES, Liquor
from hideledger.trade.chemicals import BASE, CHEMICALS

# So far a reading may be off by itself: 0.3 of the reckoning and as much of a strip, met half-way (our own figure).
READ_OFF = 0.5
# So far at most where skins took acid as well: the doubt that is said beside every pH that is reckoned.
_OFF_BESIDE = DOUBT
# A reading is written to a tenth.
_HALF_A_TENTH = 0.05
# A pickle of no written make-up may hold no salt, or as much as is usual: 10 % by weight, 0.5 to 1.5 lb a gallon round about (common practice, no source).
_USUAL_SALT = 10.0
OFF, TAKEN, NO_READING, NO_MAKE_UP = "off", "taken", "no reading", "no make-up"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dose:
    """Grams of the pure thing: `about` so much, between `least` and `most`.

    `by` says what was assumed (OFF, TAKEN, NO_READING, NO_MAKE_UP), `apart` how far the reading lies above what the make-up gives.
    """

    about: float
    least: float
    most: float
    by: str
    apart: float = 0.0

    @property
    def doubt(self) -> float:
        """How far from `about` it may be."""
        return max(self.about - self.least, self.most - self.about)


def dose_of(bath: Bath, bottle: Bottle, *, read: float | None, wanted: float) -> Dose:
    """The dose of what is in the bottle. Raises OutOfReach, ValueError for a reading that nothing explains."""
    if not bath.held:
        assert read is not None
        return _without_make_up(bath, bottle, read, wanted)
    liquor, salt = bath.liquor(LEAVES), bath.salt_per_cent

    def likeliest(held: Liquor) -> float:
        return bath_ph.middle(held, salt)

    if read is None:
        spans = (lambda held: bath_ph.reading_span(held, salt)[0], lambda held: bath_ph.reading_span(held, salt)[1])
        about = _grams(bath, bottle, liquor, wanted, likeliest)
        ends = [about, *(_at_most(bath, bottle, liquor, wanted, shows) for shows in spans)]
        return Dose(about=about, least=min(ends), most=max(ends), by=NO_READING)
    apart = read - likeliest(liquor)
    taken = (bool(bath.skins_kg) and apart > 0) or abs(apart) > READ_OFF
    off = max(-_OFF_BESIDE, min(_OFF_BESIDE, apart)) if taken else apart

    def needed(reading: float, moved: float, shows: Shows, grams: Callable[..., float]) -> float:
        """With the curve moved by so much, and the rest of the reading explained by acid that is gone."""
        there = acid_dose.as_read(liquor, read=reading - moved, shows=shows)
        return grams(bath, bottle, there, wanted - moved, shows)

    about = needed(read, 0.0 if taken else off, likeliest, _grams)
    ends = [about, needed(read, off if taken else 0.0, likeliest, _at_most)]
    for misread in (-_HALF_A_TENTH, _HALF_A_TENTH):
        ends.append(needed(read + misread, 0.0 if taken else off + misread, likeliest, _at_most))
    for model in (IDEAL, DAVIES):
        shows = acid_dose.by_model(model)
        moved = 0.0 if taken else read - shows(liquor)
        ends.append(needed(read, moved, shows, _at_most))
    return Dose(about=about, least=min(ends), most=max(ends), by=TAKEN if taken else OFF, apart=apart)


def _without_make_up(bath: Bath, bottle: Bottle, read: float, wanted: float) -> Dose:
    """Water and this acid alone, without salt and with: in salt a meter reads lower, so that less acid is in it and less is needed."""
    ends = []
    for per_cent in (0.0, _USUAL_SALT):
        grams_a_litre = 998 * per_cent / (100 - per_cent)

        def shows(held: Liquor, per_cent: float = per_cent) -> float:
            return bath_ph.middle(held, per_cent)

        salt = grams_a_litre / CHEMICALS["salt"].molar_mass
        liquor = acid_dose.plain_bath(read=read, acid=bottle.chemical, salt=salt, shows=shows)
        ends.append(_grams(bath, bottle, liquor, wanted, shows))
    return Dose(about=sum(ends) / 2, least=min(ends), most=max(ends), by=NO_MAKE_UP)


def _grams(bath: Bath, bottle: Bottle, liquor: Liquor, wanted: float, shows: Shows) -> float:
    chemical = bottle.chemical
    if chemical.sort == BASE:  # the gas that stays in is what stops baking soda short
        acid_dose.dose(replace(liquor, air=bath_ph.KEPT), wanted=wanted, chemical=chemical)
    moles = acid_dose.dose(liquor, wanted=wanted, chemical=chemical, shows=shows, swells=_swells(bottle))
    return moles * bath.litres * chemical.molar_mass


def _at_most(bath: Bath, bottle: Bottle, liquor: Liquor, wanted: float, shows: Shows) -> float:
    """The same for an end of the doubt: where that is out of reach, the most that anybody puts in."""
    try:
        return _grams(bath, bottle, liquor, wanted, shows)
    except OutOfReach:
        chemical = bottle.chemical
        return acid_dose.MOST_EQUIVALENTS / chemical.equivalents * bath.litres * chemical.molar_mass


def _swells(bottle: Bottle) -> float:
    """Litres that a mole adds to a bath, as it comes from the bottle; a powder adds none."""
    if not bottle.chemical.liquid:
        return 0.0
    return bottle.chemical.molar_mass / bottle.strength / 1000 / (bottle.kg_a_litre or 1.0)
