"""Each tub and each load: who is in it, its last readings, when it was moved, what it still wants today."""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.answers.amounts import pounds_a_bath_takes, reading_words, volume_words, weight_words
from hideledger.answers.floor.rounds import rounds_today
from hideledger.answers.saying import ago, counted, tags_said, when_words
from hideledger.answers.sheet import Row, Section
from hideledger.model.moments import DAY, When, spoken
from hideledger.rules.drift import drifts, middle_of, passing_said, slope_said
from hideledger.rules.words import tag_order
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, Turn
from hideledger.shopfloor.noted import BathReading

_ORDER = ("pH", "temperature", "salt", "pressure")
# Why no hour is told beforehand; a bath that stands still is told with the figure it stands at.
_NO_FORECAST = {
    "too few": "too few readings to say",
    "too short": "read over less than a day, too short to say",
    "steady": "holds steady at {}, within the instrument's doubt",
    "both ways": "the readings go both ways, nothing to say",
    "within doubt": "moves less than the instrument's doubt, nothing to say",
}


def bath_sections(floor: Floor) -> tuple[Section, Section]:
    """The open tubs, and the loads of the drums."""
    standing = floor.standing()
    tubs = tuple(_tub(bath, floor) for bath in standing if not _turns(bath, floor))
    turning = [bath for bath in standing if _turns(bath, floor)]
    left = [bath for bath in turning if _is_left(bath, floor)]
    loads = tuple(_load(bath, floor) for bath in turning if bath not in left) + _left(left)
    return (
        Section(heading="Tubs", rows=tubs or (Row(text="none made up"),)),
        Section(heading="Drum loads", rows=loads),
    )


def _is_left(bath: BathLife, floor: Floor) -> bool:
    """Whether everybody left a load a day ago or longer, it turns no more, and nothing is asked of it today: then only its tag is told."""
    if bath.now_in or not bath.members or (bath.turns and bath.turns[-1].end is None):
        return False
    last = max((member.leave.hi for member in bath.members if member.leave is not None), default=floor.at)
    return floor.at - last >= DAY and not rounds_today(bath, floor)


def _left(loads: Sequence[BathLife]) -> tuple[Row, ...]:
    if not loads:
        return ()
    tags = sorted((bath.tag for bath in loads), key=tag_order)
    return (Row(text=f"nobody is in {tags_said(tags)}; what was let go is written `{tags[0]} dumped`"),)


def _turns(bath: BathLife, floor: Floor) -> bool:
    vessel = floor.book.shop.vessels.get(bath.vessel)
    return bool(bath.turns) or (vessel is not None and vessel.is_drum)


def _tub(bath: BathLife, floor: Floor) -> Row:
    under = [("skins", _skins(bath, floor)), ("read", last_readings(bath, floor)), ("moved", _moved(bath, floor))]
    under.append(("through", _through(bath, floor)))
    under += [("drift", words) for words in drift_words(bath, floor)]
    under += _today(bath, floor)
    return Row(head=bath.tag, text=_what(bath, floor), under=tuple(under))


def _load(bath: BathLife, floor: Floor) -> Row:
    under = [("skins", _skins(bath, floor))]
    weights = [weight for weight in bath.load_weights if weight.weight.dimension == "weight"]
    if weights:
        under.append(("weight", f"{weights[-1].weight} {weights[-1].basis}".strip()))
    under.append(("turned", turned_words(bath, floor)))
    if bath.readings:
        under.append(("read", last_readings(bath, floor)))
    if bath.tests:
        test = bath.tests[-1]
        result = "ok" if test.fact.passed else "fails"
        on = f" on {test.fact.on}" if test.fact.on else ""
        under.append(("test", f"{test.fact.test} {result}{on}, {_when(test.when, floor)}"))
    under += _today(bath, floor)
    return Row(head=bath.tag, text=_what(bath, floor), under=tuple(under))


def _today(bath: BathLife, floor: Floor) -> list[tuple[str, str]]:
    rounds = rounds_today(bath, floor)
    return [("today", rounds)] if rounds else []


def _what(bath: BathLife, floor: Floor) -> str:
    parts = [f"in {bath.vessel}"] if bath.vessel and bath.vessel != bath.tag else []
    if bath.recipe:
        parts.append(bath.recipe)
    if bath.volume_l is not None:
        parts.append(volume_words(bath.volume_l, floor.book.shop.shop))
    made = bath.made_when
    if bath.declared and made.lo == made.hi:
        parts.append(f"{spoken(floor.at - made.lo)} old")
    elif bath.declared:
        parts.append(f"mixed {_when(made, floor)}")
    else:
        parts.append("never written as mixed")
    return ", ".join(parts)


def _skins(bath: BathLife, floor: Floor) -> str:
    inside = sorted({member.hide.tag for member in bath.now_in}, key=tag_order)
    if inside:
        return f"{len(inside)}: {' '.join(inside)}"
    left = [member.leave for member in bath.members if member.leave is not None]
    if not left:
        return "none yet"
    last = max(left, key=lambda when: when.hi)
    return f"none, nobody in since {_when(last, floor)}"


def last_readings(bath: BathLife, floor: Floor) -> str:
    """The last reading of each quantity with how and when it was taken, those of one moment together."""
    last: dict[str, BathReading] = {reading.fact.what: reading for reading in bath.readings}
    if not last:
        return "never"
    ordered = sorted(last.values(), key=lambda one: _ORDER.index(one.fact.what) if one.fact.what in _ORDER else 9)
    groups: dict[str, list[str]] = {}
    for reading in ordered:
        groups.setdefault(_when(reading.when, floor), []).append(reading_words(reading.fact))
    return "; ".join(f"{', '.join(words)} at {when}" for when, words in groups.items())


def drift_words(bath: BathLife, floor: Floor) -> list[str]:
    """Where the readings go, and when they leave the range of those in it; of the pH also why nothing can be said."""
    told: list[str] = []
    for drift in drifts(bath, floor):
        if drift.word == "passes":
            told.append(f"{slope_said(drift)}, {passing_said(drift, floor.book.clock, floor.at)}")
        elif drift.word in _NO_FORECAST and (drift.what == "pH" or drift.word in ("within doubt", "steady")):
            how = f" by {drift.how}" if drift.how else ""
            why = _NO_FORECAST[drift.word]
            if drift.word == "steady":
                value = middle_of(drift.readings).fact.value
                why = why.format(f"{value.value:f}" if drift.what == "pH" else value)
            told.append(
                f"{drift.what}{how}: {why} ({counted(len(drift.readings), 'reading')} since the last dose or skin)"
            )
    return told


def _moved(bath: BathLife, floor: Floor) -> str:
    """When the liquor was moved last: stirred, dosed, or by skins that went in or came out."""
    moved = [stir.when for stir in bath.stirs]
    moved += [member.enter for member in bath.members]
    moved += [member.leave for member in bath.members if member.leave is not None]
    last = max(moved, key=lambda when: (when.hi, when.lo), default=None)
    if last is None:
        return "never"
    return f"{_when(last, floor)}, {ago(last.hi, floor.at)}" if last.timed else _when(last, floor)


def _through(bath: BathLife, floor: Floor) -> str:
    shop = floor.book.shop
    words = weight_words(bath.pounds_through, shop.shop)
    most = pounds_a_bath_takes(shop.recipes.get(bath.recipe.casefold()), bath)
    if most is not None:
        words += f" of {weight_words(most, shop.shop)}"
    if bath.unweighed:
        words += f", and {counted(bath.unweighed, 'skin')} not weighed"
    return words


def turned_words(bath: BathLife, floor: Floor) -> str:
    """Every turn with its times, the sum, and how long the load has stood since."""
    if not bath.turns:
        return "not yet"
    clock = floor.book.clock
    turns, total = [], 0
    for turn in bath.turns:
        end = floor.at if turn.end is None else turn.end.lo
        total += max(0, end - turn.start.lo)
        until = "still on" if turn.end is None else f"to {when_words(turn.end, clock, floor.at)}"
        turns.append(f"{when_words(turn.start, clock, floor.at)} {until}{_guess(turn)}")
    last = bath.turns[-1]
    words = f"{'; '.join(turns)}; in all {spoken(total)}"
    return words if last.end is None else f"{words}, standing {spoken(floor.at - last.end.hi)}"


def _guess(turn: Turn) -> str:
    return " (no off written)" if turn.open_ended and turn.end is not None else ""


def _when(when: When, floor: Floor) -> str:
    return when_words(when, floor.book.clock, floor.at)
