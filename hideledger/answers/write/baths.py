"""What a line has made of a bath, a load or a place: what it holds now, who is in it, what it read before."""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.answers.amounts import reading_words, volume_words
from hideledger.answers.floor.rounds import rounds_today
from hideledger.answers.saying import counted, length_said, tags_said, when_words
from hideledger.answers.write.coming import Limits, read_it, soon
from hideledger.answers.write.facts import facts_said
from hideledger.model.entry import Entry
from hideledger.model.facts import Added, By, Dumped, Mixed, Ran, Reading, Remark, Stirred, ToppedUp, Turning
from hideledger.model.moments import HOUR, MINUTE, spoken
from hideledger.model.process import Range
from hideledger.rules.horizon import Horizon
from hideledger.rules.slipped import slipped_in
from hideledger.rules.words import in_order
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.lengths import between
from hideledger.shopfloor.life import BathLife, HideLife
from hideledger.shopfloor.noted import BathReading

_FILLS = (Mixed, Added, ToppedUp)
_DOUBT = 4 * HOUR


def bath_said(bath: BathLife, entry: Entry, floor: Floor, limits: Limits) -> str:
    """What one line says of one bath or load, without its tag."""
    if bath.made is entry:
        return _mixed(bath, entry, floor)
    clock, at = floor.book.clock, floor.at
    said = facts_said(entry.facts, clock, at, but=(By, Remark, Reading))
    readings = [fact for fact in entry.facts if isinstance(fact, Reading)]
    if any(isinstance(fact, Dumped) for fact in entry.facts):
        old = f"after {length_said(*between(bath.made_when, bath.ended_when))}" if bath.ended_when is not None else ""
        said = [" ".join(part for part in (said[0], old) if part), *said[1:]]
        return ", ".join([*said, *(reading_words(reading) for reading in readings)])
    if any(isinstance(fact, _FILLS) for fact in entry.facts):
        said += [f"holds {volume_words(bath.volume_l, floor.book.shop.shop)}"] if bath.volume_l else []
        said += _twice(bath, entry)
    said += [_reading(bath, reading, entry, floor) for reading in readings]
    if any(isinstance(fact, (Turning, Ran)) for fact in entry.facts):
        said.append(_turned(bath, floor))
    if not said and entry.remark:
        said.append("remark noted")
    if bath.ended is None and _works(entry):
        said.append(_inside(bath))
        said += [read_it(bath.tag, limits, floor)] if any(isinstance(fact, _FILLS) for fact in entry.facts) else []
        rounds = rounds_today(bath, floor)
        said += [f"still {rounds} today"] if rounds else []
    return "; ".join(part for part in said if part)


def place_said(entry: Entry, floor: Floor) -> str:
    """What a line says of a place: its reading, and its limit where the shop has one."""
    said = facts_said(entry.facts, floor.book.clock, floor.at, but=(By, Remark))
    spot = floor.book.shop.spots.get(entry.place.casefold())
    bounds = [] if spot is None else [("at least", spot.least), ("at most", spot.most)]
    limits = ", ".join(f"{word} {limit}" for word, limit in bounds if limit is not None)
    words = ", ".join(said) or ("remark noted" if entry.remark else "")
    return f"{words} ({limits})" if limits and words else words


def signs_said(bath: BathLife, going_in: Sequence[HideLife], floor: Floor, horizon: Horizon) -> str:
    """Who slipped in a bath that skins go into now, so that whoever writes it can still lay them elsewhere."""
    signs = [(life, defect) for life, defect in slipped_in(bath, horizon) if not any(life is one for one in going_in)]
    if not signs:
        return ""
    tags = tags_said(in_order(life.tag for life, _ in signs))
    last = when_words(signs[-1][1].when, floor.book.clock, floor.at)
    return f"{tags} slipped in it, the last {last}" if len(signs) > 1 else f"{tags} slipped in it, {last}"


def _works(entry: Entry) -> bool:
    return any(isinstance(fact, (*_FILLS, Reading, Stirred, Turning, Ran)) for fact in entry.facts)


def _mixed(bath: BathLife, entry: Entry, floor: Floor) -> str:
    vessel = bath.vessel if bath.vessel != bath.tag else ""
    parts = [f"mixed{f' in {vessel}' if vessel else ''}"]
    parts += [f"recipe {bath.recipe}"] if bath.recipe else []
    parts += [f"holds {volume_words(bath.volume_l, floor.book.shop.shop)}"] if bath.volume_l else []
    parts += [] if bath.amounts else ["no amounts are written"]
    parts += [reading_words(fact) for fact in entry.facts if isinstance(fact, Reading)]
    told = ", ".join(parts)
    return f"{told}; {_inside(bath)}" if bath.now_in else told


def _inside(bath: BathLife) -> str:
    tags = {member.hide.tag for member in bath.now_in}
    return f"{counted(len(tags), 'skin')} in it" if tags else "nobody in it"


def _twice(bath: BathLife, entry: Entry) -> list[str]:
    """The same amounts added again within hours are perhaps one dose written twice, perhaps twice the acid."""
    doses = [dose for dose in bath.doses if dose.amounts]
    mine = [dose for dose in doses if dose.entry is entry]
    said = []
    for dose in mine:
        for other in doses:
            gone = dose.when.lo - other.when.hi
            if other.entry is not entry and other.amounts == dose.amounts and 0 <= gone <= _DOUBT:
                said.append(f"as much went in {spoken(gone)} before: twice is twice the strength")
    return said[:1]


def _reading(bath: BathLife, reading: Reading, entry: Entry, floor: Floor) -> str:
    """The reading, the one before it, and what the step of those in it wants."""
    words = reading_words(reading)
    before: BathReading | None = None
    for other in bath.readings:
        if other.entry is entry:
            break
        if other.fact.what == reading.what:
            before = other
    aside = []
    if before is not None:
        when = when_words(before.when, floor.book.clock, floor.at)
        aside.append(f"before: {reading_words(before.fact)} {'at ' if ':' in when[:3] else ''}{when}")
    wanted = _wanted(bath, reading)
    aside += [f"wanted {wanted}"] if wanted else []
    return f"{words} ({', '.join(aside)})" if aside else words


def _wanted(bath: BathLife, reading: Reading) -> str:
    lines = [member.stay.line for member in bath.now_in if member.stay.line is not None]
    ranges = [line.ph if reading.what == "pH" else line.temperature for line in lines]
    said = {_range_said(one) for one in ranges if one is not None and reading.what in ("pH", "temperature")}
    return said.pop() if len(said) == 1 else ""


def _range_said(found: Range) -> str:
    least, most = found.least, found.most
    if least is not None and most is not None:
        return f"{least.value:f} to {str(most).removeprefix('pH ')}"
    return f"at least {least}" if least is not None else f"at most {most}"


def _turned(bath: BathLife, floor: Floor) -> str:
    clock, at, total = floor.book.clock, floor.at, 0
    for turn in bath.turns:
        end = floor.at if turn.end is None else turn.end.lo
        total += max(0, end - turn.start.lo)
    told = f"turned {spoken(total)} in all" if total >= MINUTE else ""
    vessel = floor.book.shop.vessels.get(bath.vessel)
    last = bath.turns[-1].end if bath.turns else None
    if vessel is None or vessel.stands is None or last is None or not bath.now_in:
        return told
    by = vessel.stands.after(last.hi, clock)
    return f"{told}, may stand until {soon(by, clock, at)}" if told and by > at else told
