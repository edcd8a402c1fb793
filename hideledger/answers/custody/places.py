"""A list to count against, place by place, and what became of the numbers that are not on it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from hideledger.answers.custody.record import Recorded
from hideledger.answers.custody.register import CAUTION, head_record, title, unread_first
from hideledger.answers.saying import counted, tags_said
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.standing import state_of
from hideledger.answers.whose import NOBODY
from hideledger.model.table import Column, Table
from hideledger.rules.words import in_order, tag_order
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.text.named import TAG_PARTS

NO_PLACE = "in the shop, place not written"
_STRUCK = re.compile(r"[ \t]*(?:struck\b|~ )", re.IGNORECASE)
_MOST_SKIPPED = 2000  # a slip of the hand (`H4100`) would make a list of thousands


def place_of(life: HideLife, floor: Floor) -> str:
    """Where to look for it: `V1, in P3`, `freezer`, or that no place is written."""
    where = ""
    if life.resting is not None:
        where = life.resting.place
    elif life.stay is not None:
        bath = life.stay.bath
        where = bath.tag if bath is not None else life.stay.where
    if not where and life.resting is None and life.places:
        where = life.places[-1][1]
    standing = [bath for bath in floor.baths.get(where, ()) if bath.ended is None]
    if standing and standing[-1].vessel and standing[-1].vessel != where:
        return f"{standing[-1].vessel}, in {where}"
    return where or NO_PLACE


def by_place(floor: Floor, made: Sequence[Recorded], *, whole: bool = True) -> Sheet:
    """Every skin that should be here, where; of the `whole` shop also the numbers in between that are not here, and why."""
    places = _by_place(floor, made)
    sections = [
        Section(
            heading=f"{place}: {counted(sum(one.custody.life.count for one in some), 'skin')}",
            rows=tuple(_row(one, place) for one in some),
        )
        for place, some in places
    ]
    skipped = tuple(_skipped(floor, made)) if whole else ()
    sections.append(
        Section(
            heading="Numbers in between that are not here",
            rows=tuple(Row(head=tags, text=why, plain=("not here", tags, why)) for tags, why in skipped),
        )
    )
    sections.append(Section(heading="Mind", rows=(Row(text=CAUTION, plain=("mind", CAUTION)),)))
    skins = sum(one.custody.life.count for _, some in places for one in some)
    return Sheet(
        title=title(
            "Skins to count", floor, f"{counted(skins, 'skin')} in {counted(len(places), 'place')}, ", joint="at"
        ),
        sections=unread_first(floor, sections),
        record={
            **head_record(floor),
            "skins": list(place_table(floor, made).records()),
            "not_here": [{"tags": tags, "why": why} for tags, why in skipped],
        },
    )


def place_table(floor: Floor, made: Sequence[Recorded]) -> Table:
    """The same list as rows."""
    return Table(
        name="by place",
        about="skins that should be here, by place",
        columns=(
            Column(name="place", sort="text", about="where it should be"),
            Column(name="tag", sort="code", about="the shop's own tag"),
            Column(name="kind", sort="text", about=""),
            Column(name="sex", sort="text", about=""),
            Column(name="skins", sort="integer", about="1; of a box how many are in it"),
            Column(name="state", sort="text", about="step or rest that it is in"),
            Column(name="legal_tag", sort="code", about=""),
            Column(name="seal", sort="code", about=""),
            Column(name="owner", sort="text", about=""),
        ),
        rows=tuple(
            (
                place_of(one.custody.life, floor),
                one.tag,
                one.custody.life.kind,
                one.custody.life.sex,
                one.custody.life.count,
                state_of(one.custody.life),
                one.custody.code("tag"),
                one.custody.code("seal"),
                "" if one.owner is None else one.owner.name,
            )
            for _, some in _by_place(floor, made)
            for one in some
        ),
    )


def _by_place(floor: Floor, made: Sequence[Recorded]) -> list[tuple[str, list[Recorded]]]:
    """What is here, place by place, by tag; last what has no place written."""
    places: dict[str, list[Recorded]] = {}
    for one in made:
        if one.custody.life.here:
            places.setdefault(place_of(one.custody.life, floor), []).append(one)
    for some in places.values():
        some.sort(key=lambda one: tag_order(one.tag))
    return sorted(places.items(), key=lambda both: (both[0] == NO_PLACE, tag_order(both[0])))


def _row(one: Recorded, place: str) -> Row:
    life = one.custody.life
    tag, seal = one.custody.code("tag"), one.custody.code("seal")
    codes = [f"tag {tag}" if tag else "no legal tag written", f"seal {seal}" if seal else ""]
    box = f"box of {life.count}" if life.box else ""
    owner = one.owner.name if one.owner is not None else NOBODY
    said = (life.kind, life.what if life.what != life.kind else "", life.sex, box, state_of(life), owner, *codes)
    return Row(
        head=one.tag,
        text=", ".join(part for part in said if part),
        plain=(place, one.tag, life.kind, life.sex, str(life.count), state_of(life), owner, tag, seal),
    )


def _skipped(floor: Floor, made: Sequence[Recorded]) -> Iterator[tuple[str, str]]:
    """Runs of numbers between the first and the last that the shop has used, which are not here, with the reason."""
    used: dict[str, list[Recorded]] = {}
    for one in made:
        used.setdefault(one.tag, []).append(one)
    here = {one.tag for one in made if one.custody.life.here}
    first_last: dict[str, tuple[int, int, int]] = {}
    for tag in used:
        found = TAG_PARTS.fullmatch(tag)
        if found is not None and not found[3]:
            number, width = int(found[2]), len(found[2]) if found[2].startswith("0") else 0
            low, high, wide = first_last.get(found[1], (number, number, width))
            first_last[found[1]] = (min(low, number), max(high, number), max(wide, width))
    whys: dict[str, list[str]] = {}
    for letters, (low, high, width) in sorted(first_last.items()):
        if high - low > max(_MOST_SKIPPED, 20 * len(used)):
            yield f"{letters}{low} to {letters}{high}", "too far apart to list; is one of them a slip of the hand?"
            continue
        for number in range(low, high + 1):
            tag = f"{letters}{number:0{width}d}" if width else f"{letters}{number}"
            if tag not in here:
                whys.setdefault(_why(tag, used.get(tag, []), floor), []).append(tag)
    for why, tags in sorted(whys.items(), key=lambda both: tag_order(both[1][0])):
        yield tags_said(in_order(tags)), why


def _why(tag: str, records: Sequence[Recorded], floor: Floor) -> str:
    if records:
        one = records[-1]
        if one.how in ("cut", "opened"):
            return (
                f"{one.how} into {tags_said(part.life.tag for part in one.custody.parts) or 'nothing named'}, {one.out}"
            )
        if one.how == "out":
            return "out"
        return f"{one.how} {one.out}: {one.why or 'no reason written'}"
    unread = [complaint for complaint in floor.book.unread if tag in complaint.tags]
    if unread:
        return f"named on a line that was not understood, {unread[0].place.short}"
    stray = next((odd for odd in floor.oddities if odd.sort == "unknown tag" and tag in odd.tags), None)
    if stray is not None:
        return f"named, and no line says that it came in, {stray.entry.at.short}"
    later = next((entry for entry in floor.book.entries if tag in entry.tags and entry.when.lo > floor.at), None)
    if later is not None:
        return "comes in on a later day"
    return _struck(tag, floor) or "never used: no line of the book names it"


def _struck(tag: str, floor: Floor) -> str:
    """Where only a struck line names it."""
    word = re.compile(rf"(?<![0-9A-Za-z-]){re.escape(tag)}(?![0-9A-Za-z])", re.IGNORECASE)
    for source in floor.book.sources:
        for found in word.finditer(source.text):
            place = source.place(found.start())
            if _STRUCK.match(source.line(place.line)):
                return f"named on a struck line only, {place.short}"
    return ""
