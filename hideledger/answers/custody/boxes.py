"""Boxes from other shops: what came, what was opened, which tags of theirs are whose here, and what does not agree."""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.answers.custody.record import Recorded
from hideledger.answers.custody.register import head_record, title, unread_first
from hideledger.answers.saying import counted, tags_said
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.whose import NOBODY
from hideledger.model.facts import Arrived
from hideledger.model.table import Column, Table
from hideledger.rules.words import in_order
from hideledger.shopfloor.custody import Custody
from hideledger.shopfloor.floor import Floor


def boxes(floor: Floor, made: Sequence[Recorded]) -> Sheet:
    """Every box among these records: unopened ones first."""
    found = [one for one in made if one.custody.life.box]
    closed = [one for one in found if one.how == "here"]
    rest = [one for one in found if one.how != "here"]
    sections = [
        Section(heading=heading, rows=tuple(_row(one) for one in some), spaced=True)
        for heading, some in (("Not opened", closed), ("Opened, or gone as they came", rest))
        if some
    ]
    if not sections:
        text = "no box is in the book; one is written `B7 in, 14 whitetail capes, frozen, for Harrow Tannery`"
        sections = [Section(heading="Boxes", rows=(Row(text=text, plain=("no box",)),))]
    return Sheet(
        title=title("Boxes", floor, f"{counted(len(found), 'box', 'boxes')}, "),
        sections=unread_first(floor, sections),
        record={**head_record(floor), "boxes": [_record(one) for one in found]},
    )


def box_table(made: Sequence[Recorded]) -> Table:
    """One row a skin that came in a box; a box that is not opened, or whose skins have no tags, is a row by itself."""
    rows: list[tuple[object, ...]] = []
    for one in made:
        if not one.custody.life.box:
            continue
        head = (one.tag, one.received, "" if one.owner is None else one.owner.name, _said_count(one.custody))
        opened = one.out if one.how == "opened" else ""
        rows += [
            (*head, opened, part.life.tag, part.code("their tag"), part.life.kind, part.life.ended_as or "here")
            for part in _skins(one.custody)
        ] or [(*head, opened, "", "", one.custody.life.kind, one.how)]
    return Table(
        name="boxes",
        about="boxes from other shops and the skins in them",
        columns=(
            Column(name="box", sort="code", about="the shop's tag of the box"),
            Column(name="received", sort="text", about=""),
            Column(name="owner", sort="text", about="whose box it is"),
            Column(name="said_to_hold", sort="integer", about="skins in it, as its arrival says"),
            Column(name="opened", sort="text", about=""),
            Column(name="tag", sort="code", about="the shop's tag of one skin of it"),
            Column(name="their_tag", sort="code", about=""),
            Column(name="kind", sort="text", about=""),
            Column(name="state", sort="text", about=""),
        ),
        rows=tuple(rows),
    )


def _skins(box: Custody) -> tuple[Custody, ...]:
    """What came out of it, by its opening or one by one."""
    return (*box.parts, *box.taken)


def _said_count(box: Custody) -> int | None:
    """How many skins its arrival said; None where it said nothing."""
    return next((fact.count for fact in box.life.arrived.facts if isinstance(fact, Arrived) and fact.count), None)


def _row(one: Recorded) -> Row:
    box, life = one.custody, one.custody.life
    said = _said_count(box)
    what = f"{counted(said, 'skin')}" if said else "number not written"
    owner = one.owner.said if one.owner is not None else NOBODY
    under = [("whose", owner)]
    if one.brought_by is not None and one.owner is not None and one.brought_by.name != one.owner.name:
        under.append(("from", one.brought_by.said))
    if one.how == "here":
        under.append(("state", f"not opened{', frozen' if life.resting is not None else ''}"))
        if box.taken:
            under.append(
                ("out of it", f"{tags_said(in_order(part.life.tag for part in box.taken))}, {life.count} left in it")
            )
    elif one.how == "opened":
        under.append(("opened", f"{one.out}: {tags_said(in_order(part.life.tag for part in _skins(box)))}"))
        under += [("tags", _their_tags(box)), ("skins", _states(box))]
    else:
        under.append((one.how, f"{one.out}{f' to {one.to.said}' if one.to else ''}"))
    under.append(("missing", ", ".join([*_differs(one), *one.missing])))
    under.append(("book", life.arrived.at.short))
    return Row(
        head=one.tag,
        text=f"{life.kind or 'kind not written'}, {what}, received {one.received or 'on no written day'}",
        under=tuple(both for both in under if both[1]),
        plain=(
            one.tag,
            one.received,
            one.owner.name if one.owner else "",
            str(said or ""),
            one.how,
            one.out,
            " ".join(part.life.tag for part in _skins(box)),
            "; ".join([*_differs(one), *one.missing]),
        ),
    )


def _their_tags(box: Custody) -> str:
    """`H60 R-101, H61 R-102`."""
    return ", ".join(f"{part.life.tag} {part.code('their tag')}" for part in _skins(box) if part.code("their tag"))


def _states(box: Custody) -> str:
    """`12 here, 1 out, 1 lost`."""
    counts: dict[str, int] = {}
    for part in _skins(box):
        state = "here" if part.here else part.life.ended_as
        counts[state] = counts.get(state, 0) + 1
    return ", ".join(f"{number} {state}" for state, number in counts.items())


def _differs(one: Recorded) -> list[str]:
    """What does not agree between what came and what was opened."""
    box = one.custody
    said = _said_count(box)
    lacks = [] if said else ["how many came"]
    if one.how != "opened":
        return lacks
    opened = len(_skins(box))
    if said and opened < said:
        lacks.append(f"{counted(said - opened, 'skin')} of {said}")
    elif said and opened > said:
        lacks.append(f"{counted(opened - said, 'skin')} more than the {said} that came")
    without = [part.life.tag for part in _skins(box) if not part.code("their tag")]
    if without and len(without) < opened:
        lacks.append(f"their tags of {tags_said(in_order(without))}")
    elif without:
        lacks.append("their tags")
    return lacks


def _record(one: Recorded) -> dict[str, object]:
    box = one.custody
    return {
        "tag": one.tag,
        "kind": box.life.kind,
        "received": one.received,
        "owner": None if one.owner is None else one.owner.name,
        "said_to_hold": _said_count(box),
        "state": one.how,
        "ended": one.out or None,
        "skins": [
            {"tag": part.life.tag, "their_tag": part.code("their tag") or None, "state": part.life.ended_as or "here"}
            for part in _skins(box)
        ],
        "missing": [*_differs(one), *one.missing],
        "file": box.life.arrived.at.file,
        "line": box.life.arrived.at.line,
    }
