"""What one cape went through, or one bath, or all that a customer brought: in order of time, line by line."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from hideledger.answers.head import moment_said, record_of
from hideledger.answers.history.at_work import is_about
from hideledger.answers.history.lines import Happening, of_bath, of_hide
from hideledger.answers.history.places import of_place, of_vessel, place_heading, vessel_heading
from hideledger.answers.saying import (
    counted,
    length_said,
    utc_stamp,
    written_stamp,
)
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.standing import state_of
from hideledger.answers.whose import NothingFound, lot_said, near_number
from hideledger.model.moments import Clock, spoken
from hideledger.rules.finding import Finding
from hideledger.rules.spans import arrival_unread
from hideledger.rules.words import listed, may_stand_in, tag_order
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife
from hideledger.text.nearest import nearest


def history(floor: Floor, findings: Sequence[Finding], about: Sequence[str]) -> Sheet:
    """All that happened to what `about` names: tags of hides, baths and vessels, places, or one customer's whole name.

    Raises NothingFound.
    """
    hides, baths, vessels, places = _wanted(floor, about)
    clock, at = floor.book.clock, floor.at
    cards = []
    for life in hides:
        told = of_hide(life, _of_this_life(life, floor, findings), floor)
        cards.append((_hide_heading(life, clock), told))
    for bath in baths:
        told = of_bath(bath, _of_this_life(bath, floor, findings), floor)
        cards.append((_bath_heading(bath, clock, at), told))
    cards += [(vessel_heading(tag, floor), of_vessel(tag, floor)) for tag in vessels]
    cards += [(place_heading(name, floor), of_place(name, floor)) for name in places]
    tags = {life.tag for life in hides} | {bath.tag for bath in baths} | set(vessels)
    whom = listed([*sorted(tags, key=tag_order), *places])
    return Sheet(
        title=f"History of {_asked_for(about, tags, places, whom)}, {moment_said(floor)}",
        sections=tuple(
            Section(heading=heading, rows=tuple(_row(one) for one in told), whole_lines=True) for heading, told in cards
        ),
        record=record_of(
            floor,
            {
                "cards": [
                    {"heading": heading, "lines": [_record(one, clock) for one in told]} for heading, told in cards
                ],
            },
        ),
    )


def _asked_for(about: Sequence[str], tags: Iterable[str], places: Sequence[str], whom: str) -> str:
    """The tags; behind the words that were asked with, where these were a customer's name or a code: `Oren Vale: H1 and H2`."""
    known = {name.casefold() for name in (*tags, *places)}
    name = " ".join(" ".join(about).split())
    asked = {word.casefold().rstrip(",") for word in about}
    return whom if name.casefold() in known or asked <= known else f"{name}: {whom}"


def _of_this_life(life: HideLife | BathLife, floor: Floor, findings: Sequence[Finding]) -> list[Finding]:
    """The findings that name the tag; where a tag began anew, those of this life of it."""
    if isinstance(life, HideLife):
        return [finding for finding in findings if is_about(finding, life, floor)]
    about = [finding for finding in findings if life.tag in finding.tags]
    if len(floor.baths.get(life.tag, ())) < 2:
        return about
    ends = life.ended.order if life.ended is not None else None
    return [
        finding
        for finding in about
        if finding.entry is None
        or (life.made.order <= finding.entry.order and (ends is None or finding.entry.order <= ends))
    ]


def _row(one: Happening) -> Row:
    place = f"{one.file}:{one.line}" if one.file else ""
    return Row(
        head=f"{one.stamp:<16}  {one.tag}",
        text=f"{one.text}  ({place})" if place else one.text,
        plain=(one.stamp, one.tag, one.sort, one.text, place),
    )


def _record(one: Happening, clock: Clock) -> dict[str, object]:
    return {
        "when": utc_stamp(one.instant, clock),
        "when_local": one.stamp,
        "tag": one.tag,
        "sort": one.sort,
        "text": one.text,
        "file": one.file or None,
        "line": one.line or None,
    }


def _wanted(floor: Floor, about: Sequence[str]) -> tuple[list[HideLife], list[BathLife], list[str], list[str]]:
    """Lives of hides and baths, tags of vessels, names of places."""
    vessels, places = floor.book.shop.vessels, _places(floor)
    known = {name.casefold(): name for name in [*places, *vessels, *floor.baths, *floor.hides]}
    name = " ".join(" ".join(about).split())
    words = [name] if name.casefold() in known else about
    named = [known.get(word.casefold().rstrip(",")) for word in words]
    if all(one is not None for one in named):
        found = [one for one in dict.fromkeys(named) if one is not None]
        hides = [life for tag in found for life in floor.hides.get(tag, ())]
        baths = [bath for tag in found for bath in floor.baths.get(tag, ())]
        return hides, baths, [one for one in found if one in vessels], [one for one in found if one in places]
    by_code = [life for life in floor.all_hides() if _has_code(life, name)]
    if by_code:
        return by_code, [], [], []
    unknown = [word for word, one in zip(words, named, strict=True) if one is None]
    return _hides_of(floor, name, unknown), [], [], []


def _places(floor: Floor) -> list[str]:
    """Names of places: those of the shop, and others that were read or lain in (the room has no line)."""
    return list(dict.fromkeys([*(spot.name for spot in floor.book.shop.spots.values()), *floor.place_readings]))


def _has_code(life: HideLife, code: str) -> bool:
    """Whether a legal tag, seal or another shop's tag on the hide is this code."""
    return any(fact.code.casefold() == code.casefold() for fact, _ in life.codes.values())


def _hides_of(floor: Floor, name: str, unknown: Sequence[str]) -> list[HideLife]:
    people: dict[str, list[HideLife]] = {}
    for life in floor.all_hides():
        for person in dict.fromkeys(party.name for party, _ in life.parties.values()):
            people.setdefault(person, []).append(life)
    exact = [person for person in people if person.casefold() == name.casefold()]
    words = set(name.casefold().split())
    whole = exact or [person for person in people if words <= set(person.casefold().split())]
    distinct = {person.casefold() for person in whole}
    if len(distinct) > 1:
        raise NothingFound(f"{name} could be {listed(sorted(whole)).replace(' and ', ' or ')}; give the whole name")
    if whole:
        found = {id(life): life for person in whole for life in people[person]}
        return list(found.values())
    raise NothingFound(_nothing(floor, people, name, unknown))


def _nothing(floor: Floor, people: Iterable[str], name: str, unknown: Sequence[str]) -> str:
    known = {person.name for person in floor.book.shop.customers} | set(people)
    if name.casefold() in {person.casefold() for person in known}:
        return f"{name} has brought nothing that is in the book"
    lot = lot_said(floor, name) or next((said for word in unknown if (said := lot_said(floor, word))), None)
    if lot is not None:
        return lot
    known |= set(_places(floor))
    tags = [*floor.hides, *floor.baths, *floor.book.shop.vessels]
    near = nearest(name, known, least=0.6) or next(
        (tag for word in unknown if (tag := nearest(word, tags, least=0.6) or near_number(word, tags))), None
    )
    missing = name if len(unknown) > 1 or near in known else unknown[0]
    hint = f"; {near} is" if near else ""
    return f"{missing} is not in the book{hint}{may_stand_in(floor.book, missing)}"


def _hide_heading(life: HideLife, clock: Clock) -> str:
    parts = [life.tag]
    if life.kind:
        parts.append(life.kind)
    if life.box:
        parts.append(f"box of {life.count}")
    if life.payer:
        parts.append(f"for {life.payer}")
    if life.process is not None:
        parts.append(f"process {life.process.name}")
    parts.append(f"in {written_stamp(life.arrived_when, clock)}" if life.declared else "never written as in")
    if life.ended_when is not None:
        to = f" to {life.handed_to}" if life.handed_to else ""
        parts.append(f"{life.ended_as}{to} {written_stamp(life.ended_when, clock)}")
    else:
        parts.append(state_of(life))
    raw = life.raw
    if raw is not None and raw.shop[1] and not arrival_unread(life):  # its hours are not known before its arrival is
        least, most = raw.shop
        hours = length_said(least, most)
        door = "" if raw.door is None else f", {spoken(raw.door[0])} before the door"
        parts.append(f"raw {hours} in the shop{door}")
    return ", ".join(parts)


def _bath_heading(bath: BathLife, clock: Clock, at: int) -> str:
    parts = [bath.tag]
    if bath.recipe:
        parts.append(bath.recipe)
    if bath.vessel and bath.vessel != bath.tag:
        parts.append(f"in {bath.vessel}")
    parts.append(f"mixed {written_stamp(bath.made_when, clock)}" if bath.declared else "never written as mixed")
    if bath.ended_when is not None:
        parts.append(f"{bath.ended_as} {written_stamp(bath.ended_when, clock)}")
    else:
        parts.append(f"{length_said(max(0, at - bath.made_when.hi), at - bath.made_when.lo)} old")
    parts.append(f"{counted(len({member.hide.tag for member in bath.members}), 'skin')} so far")
    return ", ".join(parts)
