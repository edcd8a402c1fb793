"""What brings a bath from the pH it reads to the one that is wanted, reckoned both ways; the truth is seldom outside the two by much."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from hideledger.answers.acid import care
from hideledger.answers.acid.dosing import NO_READING, OFF, READ_OFF, TAKEN, Dose, dose_of
from hideledger.answers.acid.names import NotReckoned
from hideledger.answers.acid.parts import Bath, Bottle
from hideledger.answers.acid.words import METRIC, Measures
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.reading.asking_acid import AcidAsked
from hideledger.trade import acid_dose, bath_ph
from hideledger.trade.acid_dose import OutOfReach
from hideledger.trade.bath_ph import DAVIES, IDEAL, Liquor
from hideledger.trade.chemicals import BASE, CHEMICALS, Chemical

# The acids that a tub is soured with, and one of each form: only the protons count for what answers them.
_USUAL = (
    "citric acid, crystals",
    "oxalic acid, crystals",
    "formic acid",
    "acetic acid",
    "lactic acid",
    "sulphuric acid",
)
_FIRST = 0.5
# Where reading and make-up lie further apart than this, less of it goes in first (our own figures).
_FAR_APART, _FIRST_FAR = 0.3, 1 / 3
# A dose of more than this share of all the acid it was made with is said to be much (our own figure).
_MUCH = 0.5
# Acids that give little of their first proton in a pickle: by halves, pH = (pKa - log c) / 2.
_WEAK = frozenset(["citric", "formic", "acetic", "lactic"])
# Above this, alkali loosens hair (handbooks of the trade: over-neutralised, the hair goes, and shows it two steps later).
_HAIR = Decimal(7)


def brought(asked: AcidAsked, bath: Bath, bottle: Bottle, measures: Measures, sewer: Decimal | None) -> Sheet:
    """The dose for a bath whose make-up is known, or which holds the acid that goes in and nothing else. Raises NotReckoned."""
    assert asked.wanted is not None
    wanted, chemical = float(asked.wanted), bottle.chemical
    _can_be(asked, bath)
    try:
        dose = dose_of(bath, bottle, read=None if asked.read is None else float(asked.read), wanted=wanted)
    except OutOfReach as short:
        raise NotReckoned(_short(asked, chemical, short, measures)) from None
    except ValueError:
        raise NotReckoned(
            f"pH {asked.read} cannot be of what is written; read it again, or write all that was put in; nothing was reckoned"
        ) from None
    if dose.about == 0:
        now = bath_ph.middle(bath.liquor(bath_ph.LEAVES), bath.salt_per_cent)
        raise NotReckoned(
            f"by its make-up the bath is at about pH {now:.1f}, past {asked.wanted} already: nothing to add; write what it reads, as in `at 2.4 to …`"
        )
    about, least, most = dose.about, dose.least, dose.most
    share = _FIRST if abs(dose.apart) <= _FAR_APART else _FIRST_FAR
    first = share * (least or about)
    part = "half" if share == _FIRST else "a third"
    taken = measures.taken(bottle, about)
    doubt, whole = measures.weight(dose.doubt / bottle.strength), measures.weight(most / bottle.strength)
    # so much doubt that the word would promise less than nothing: the ends are said
    even = dose.doubt < about
    give = f"give or take {doubt}" if even else f"but it may be {'nothing' if least == 0 else 'less'}, or up to {whole}"
    spread = f"{doubt}: " if even else ""
    start = f"from pH {asked.read}" if asked.read is not None else "from its make-up"
    rows = [
        Row(
            head="in all",
            text=f"about {taken}",
            plain=("in all", f"{least / bottle.strength:.1f} g", f"{most / bottle.strength:.1f} g"),
        ),
        Row(
            head="give or take",
            text=f"{spread}from {measures.weight(least / bottle.strength, most / bottle.strength)}",
            plain=("about", f"{about / bottle.strength:.1f} g", f"{dose.doubt / bottle.strength:.1f} g"),
        ),
        Row(
            head="first",
            text=f"{measures.taken(bottle, first)}, {part} of the least that it may take; stir, wait, read, then on by the reading",
            plain=("first", f"{first / bottle.strength:.1f} g"),
        ),
        *_beside_the_make_up(bath, chemical, about),
    ]
    return Sheet(
        title=f"{measures.bath(bath.litres)} {start} to {asked.wanted}: about {taken}, {give}; put in {measures.weight(first / bottle.strength)} of it first, stir, wait and read",
        title_in_plain=True,
        sections=(
            Section(heading="Dose", rows=tuple(rows)),
            Section(
                heading="What was taken for granted",
                rows=_granted(asked, bath, bottle, dose, metric=measures.kind == METRIC),
            ),
            care.adding_base() if chemical.sort == BASE else care.adding_acid(liquid=chemical.liquid),
            care.care(
                [*(held.chemical.name for held in bath.held), chemical.name],
                drain=chemical.sort == BASE,
                shop_least=sewer,
            ),
        ),
        record={
            "schema": 1,
            "asked": "dose",
            "with": chemical.name,
            "strength_per_cent": round(100 * bottle.strength, 3),
            "from_ph": float(asked.read) if asked.read is not None else None,
            "to_ph": wanted,
            "litres": round(bath.litres, 3),
            "about_g": round(about / bottle.strength, 1),
            "give_or_take_g": round(dose.doubt / bottle.strength, 1),
            "least_g": round(least / bottle.strength, 1),
            "most_g": round(most / bottle.strength, 1),
            "first_g": round(first / bottle.strength, 1),
            "make_up_known": bool(bath.held),
            "read_above_make_up": round(dose.apart, 2) if bath.held and asked.read is not None else None,
        },
    )


def _can_be(asked: AcidAsked, bath: Bath) -> None:
    """Refuses a reading that the make-up cannot have: skins take acid or base out of a bath, and never bring any. Raises NotReckoned."""
    if asked.read is None or not bath.held:
        return
    bases = [held for held in bath.held if held.chemical.sort == BASE]
    airs = (bath_ph.LEAVES, bath_ph.KEPT)
    spans = [bath_ph.reading_span(bath.liquor(air), bath.salt_per_cent) for air in airs]
    low, high = min(span[0] for span in spans), max(span[1] for span in spans)
    read = float(asked.read)
    if bath.acids and read < low - READ_OFF:
        raise NotReckoned(
            f"pH {asked.read} cannot be: what is written makes about pH {low:.1f}, and skins raise that, they never lower it; read it again, or write all that was put in; nothing was reckoned"
        )
    if bases and not bath.acids and read > high + READ_OFF:
        raise NotReckoned(
            f"pH {asked.read} cannot be: what is written makes about pH {high:.1f}, and skins lower that, they never raise it; read it again, or write all that was put in; nothing was reckoned"
        )


def by_acid(asked: AcidAsked, bath: Bath, bottle: Bottle, measures: Measures, sewer: Decimal | None) -> Sheet:
    """The base for a bath of which only the pH is known: one row for each acid that could have made it. Raises NotReckoned."""
    assert asked.wanted is not None and asked.read is not None
    chemical = bottle.chemical
    found: list[tuple[Chemical, float, float]] = []
    reach: OutOfReach | None = None
    for acid in (CHEMICALS[name] for name in _USUAL):
        sides = []
        for model in (IDEAL, DAVIES):
            try:
                liquor = _plain(asked, acid, model)
            except OutOfReach:
                break  # so sour a bath that acid does not make
            try:
                acid_dose.dose(replace(liquor, air=bath_ph.KEPT), wanted=float(asked.wanted), chemical=chemical)
                shows = acid_dose.by_model(model)
                moles = acid_dose.dose(liquor, wanted=float(asked.wanted), chemical=chemical, shows=shows)
            except OutOfReach as short:
                reach = short
                break
            sides.append(moles * bath.litres * chemical.molar_mass)
        if len(sides) == 2:
            found.append((acid, min(sides), max(sides)))
    if not found:
        if reach is not None:
            raise NotReckoned(_short(asked, chemical, reach, measures))
        raise NotReckoned(f"no acid of a tub gives pH {asked.read} by itself; read it again, or write what was put in")
    first = min(least for _, least, _ in found)
    rows = tuple(
        Row(
            head=acid.protons,
            text=measures.weight(least, most),
            plain=(acid.protons, f"{least:.1f} g", f"{most:.1f} g"),
        )
        for acid, least, most in found
    )
    begin = (
        Row(
            text=f"not known which: begin with {measures.weight(_FIRST * first)}, half of the least of these, stir, wait and read",
            plain=("first", f"{_FIRST * first:.1f} g"),
        ),
        Row(text=f"known what was put in: ask again with it, as in `{_written(asked)}`", plain=("ask",)),
        *_granted(asked, bath, bottle, None, metric=measures.kind == METRIC),
    )
    return Sheet(
        title=f"{chemical.name} for {measures.bath(bath.litres)} from pH {asked.read} to {asked.wanted}: how much hangs on the acid in it",
        title_in_plain=True,
        sections=(
            Section(heading=f"{chemical.name.capitalize()}, if the acid in it is", rows=rows),
            Section(heading="How to go on", rows=begin),
            care.adding_base(),
            care.care([chemical.name], drain=True, shop_least=sewer),
        ),
        record={
            "schema": 1,
            "asked": "dose by acid",
            "with": chemical.name,
            "from_ph": float(asked.read),
            "to_ph": float(asked.wanted),
            "litres": round(bath.litres, 3),
            "first_g": round(_FIRST * first, 1),
            "acids": [
                {"name": acid.protons, "least_g": round(least, 1), "most_g": round(most, 1)}
                for acid, least, most in found
            ],
        },
    )


def _plain(asked: AcidAsked, acid: Chemical, model: str) -> Liquor:
    """Water and that acid; salt is not written, so one way of reckoning has none and the other as much as it can take in."""
    salt = bath_ph.DAVIES_LIMIT if model == DAVIES else 0.0
    return acid_dose.plain_bath(read=float(asked.read or 7), acid=acid, salt=salt, shows=acid_dose.by_model(model))


def _short(asked: AcidAsked, chemical: Chemical, short: OutOfReach, measures: Measures) -> str:
    most = acid_dose.MOST_EQUIVALENTS / chemical.equivalents * chemical.molar_mass
    return f"{chemical.name} does not bring this bath to pH {asked.wanted}: even {measures.each(most)} leaves it at about {short.at_most:.1f}"


def _granted(asked: AcidAsked, bath: Bath, bottle: Bottle, dose: Dose | None, *, metric: bool) -> tuple[Row, ...]:
    chemical = bottle.chemical
    texts: list[str] = []
    if dose is not None and bath.held:
        texts += _explained(dose, bath)
    elif chemical.sort == BASE:
        texts.append("one acid alone in water; a bath that skins were in holds that acid's salts too, and takes more")
    else:
        texts.append(
            "what is in it is not written: water and this acid alone, with 10 % salt (the least) and with none (the most); a bath that skins were in, or one soured with another acid, holds salts of it and takes more"
        )
        made = "75 L water, 9 kg salt, 1.7 kg" if metric else "20 gal water, 20 lb salt, 60 oz"
        texts.append(f"write what it was made of, as in `{made} citric acid crystals at …`")
    texts.append(
        "two ways of reckoning (ideal, and with the ions' pull on each other), a reading to the nearest tenth; salt moves a reading by up to 0.3 besides, and a strip is read to 0.3"
    )
    if bottle.form_by and asked.agent is not None:
        texts.append(
            f"`{asked.agent.name}` is {chemical.name} by {bottle.form_by}; of another packet it takes another weight: see its label"
        )
    if bottle.doubtful and bottle.kg_a_litre is not None:
        texts.append(
            f"{bottle.kg_a_litre:.3f} kg a litre of {bottle.name}, a figure from memory; its sheet has the right one"
        )
    if bath.skins_kg:
        texts.append(
            "what the skins took so far is in the reading; they go on taking acid for a day or more, so read again"
        )
    texts.append("skins that go in afterwards take acid, and the pH climbs again")
    if chemical.sort == BASE and asked.wanted is not None and asked.wanted > _HAIR:
        texts.append("above pH 7 alkali loosens hair: no skin in it")
    return tuple(Row(text=text, plain=("taken for granted", text)) for text in texts)


def _explained(dose: Dose, bath: Bath) -> list[str]:
    """What the reading was taken to mean beside the make-up as it was written."""
    if dose.by == NO_READING:
        return [
            "the make-up as you wrote it, and no skin in it yet; write what it reads too, as in `at 2.4 to …`, once skins were in"
        ]
    apart = f"{abs(dose.apart):.1f} {'above' if dose.apart > 0 else 'below'}"
    said = [
        f"it reads {apart} what its make-up gives" if abs(dose.apart) >= 0.05 else "it reads what its make-up gives"
    ]
    if dose.by == TAKEN and dose.apart > 0:
        why = "skins lie in it" if bath.skins_kg else f"more than a meter or strip is off by ({READ_OFF})"
        said.append(f"{why}: skins (or something else) took acid out of it, and the salt of that acid is left in it")
        said.append("were it the meter or strip instead, the other end of the doubt holds")
    elif dose.by == OFF and abs(dose.apart) >= 0.05:
        said.append(
            "that is taken for the meter's, strip's or salt's doing, and the same at the pH that is wanted; had skins taken acid instead, the doubt has that dose too"
        )
    return said


def _beside_the_make_up(bath: Bath, chemical: Chemical, grams: float) -> list[Row]:
    """A dose of acid that is no small thing beside what the bath was made with: said in words."""
    made = sum(held.moles * held.chemical.equivalents for held in bath.acids)
    times = grams / chemical.molar_mass * chemical.equivalents / made if made else 0.0
    if chemical.sort == BASE or times <= _MUCH:
        return []
    much = f"{times:.1f} times" if times >= 1 else f"{100 * times:.0f} % of"
    weak = (
        "; a weak acid takes about four times as much of it in all for 0.3 lower" if chemical.protons in _WEAK else ""
    )
    text = f"that is {much} all the acid it was made with{weak}: before more than the first part goes in, read again with another meter or strip, and look for a line that is missing"
    return [Row(head="much", text=text, plain=("much", f"{times:.2f}"))]


def _written(asked: AcidAsked) -> str:
    base = asked.agent.name if asked.agent is not None else "baking soda"
    return f"{asked.parts[0].text}, 60 oz citric acid crystals at {asked.read} to {asked.wanted} with {base}"
