"""What one cape went through, or one bath, or all that a customer brought: in order of time, line by line."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from hideledger.answers.history_lines import Happening, of_bath, of_hide
from hideledger.answers.saying import counted, local_stamp, now_words, utc_stamp, written_stamp
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.standing import state_of
from hideledger.model.moments import Clock, spoken
from hideledger.rules.finding import Finding
from hideledger.rules.words import listed, tag_order
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife
from hideledger.text.nearest import nearest


class NothingFound(LookupError):
    """Neither a tag nor a customer of that name is in the book; the text says what is near."""


def history(floor: Floor, findings: Sequence[Finding], about: Sequence[str]) -> Sheet:
    """All that happened to the hides and baths named by `about`: tags, or all words of one customer's name.

    Raises NothingFound.
    """
    hides, baths = _wanted(floor, about)
    clock, at = floor.book.clock, floor.at
    cards = []
    for life in hides:
        told = of_hide(life, _of_this_life(life, floor, findings), clock, at)
        cards.append((_hide_heading(life, clock), told))
    for bath in baths:
        told = of_bath(bath, _of_this_life(bath, floor, findings), clock, at)
        cards.append((_bath_heading(bath, clock, at), told))
    whom = listed(sorted({life.tag for life in hides} | {bath.tag for bath in baths}, key=tag_order))
    unread = len(floor.book.unread)
    left_out = f", {counted(unread, 'line')} of the book not understood" if unread else ""
    return Sheet(
        title=f"History of {whom}, {now_words(at, clock)}{left_out}",
        sections=tuple(
            Section(heading=heading, rows=tuple(_row(one) for one in told), whole_lines=True)
            for heading, told in cards
        ),
        record={
            "schema": 1,
            "at": utc_stamp(at, clock),
            "at_local": local_stamp(at, clock),
            "cards": [
                {"heading": heading, "lines": [_record(one, clock) for one in told]} for heading, told in cards
            ],
            "unread": unread,
        },
    )


def _of_this_life(life: HideLife | BathLife, floor: Floor, findings: Sequence[Finding]) -> list[Finding]:
    """The findings that name the tag; where a tag began anew, those of this life of it."""
    about = [finding for finding in findings if life.tag in finding.tags]
    lives = [*floor.hides.get(life.tag, ()), *floor.baths.get(life.tag, ())]
    if len(lives) < 2:
        return about
    begins = life.made.order if isinstance(life, BathLife) else life.arrived.order
    ends = life.ended.order if life.ended is not None else None
    return [
        finding
        for finding in about
        if finding.entry is None
        or (begins <= finding.entry.order and (ends is None or finding.entry.order <= ends))
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


def _wanted(floor: Floor, about: Sequence[str]) -> tuple[list[HideLife], list[BathLife]]:
    tags = {tag.casefold(): tag for tag in [*floor.hides, *floor.baths]}
    named = [tags.get(word.casefold().rstrip(",")) for word in about]
    if all(tag is not None for tag in named):
        found = [tag for tag in dict.fromkeys(named) if tag is not None]
        hides = [life for tag in found for life in floor.hides.get(tag, ())]
        return hides, [bath for tag in found for bath in floor.baths.get(tag, ())]
    name = " ".join(" ".join(about).split())
    by_code = [life for life in floor.all_hides() if _has_code(life, name)]
    if by_code:
        return by_code, []
    return _hides_of(floor, name, [word for word, tag in zip(about, named, strict=True) if tag is None]), []


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
    near = nearest(name, known, least=0.6) or next(
        (tag for word in unknown if (tag := nearest(word, [*floor.hides, *floor.baths], least=0.6))), None
    )
    missing = name if len(unknown) > 1 or near in known else unknown[0]
    hint = f"; {near} is" if near else ""
    return f"{missing} is not in the book{hint}"


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
    if raw is not None:
        least, most = raw.shop
        hours = spoken(least) if most - least < 60 else f"{spoken(least)} to {spoken(most)}"
        door = "" if raw.door is None else f", {spoken(raw.door[0])} before the door"
        parts.append(f"raw {hours} in the shop{door}")
    return ", ".join(parts)


def _bath_heading(bath: BathLife, clock: Clock, at: int) -> str:
    parts = [bath.tag]
    if bath.recipe:
        parts.append(bath.recipe)
    if bath.vessel:
        parts.append(f"in {bath.vessel}")
    parts.append(f"mixed {written_stamp(bath.made_when, clock)}" if bath.declared else "never written as mixed")
    if bath.ended_when is not None:
        parts.append(f"{bath.ended_as} {written_stamp(bath.ended_when, clock)}")
    else:
        parts.append(f"{spoken(at - bath.made_when.lo)} old")
    parts.append(f"{counted(len({member.hide.tag for member in bath.members}), 'skin')} so far")
    return ", ".join(parts)
