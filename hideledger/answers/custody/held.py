"""Other people's skins that are in the shop, owner by owner, with what they were said to be worth: the list an insurer asks for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal

from hideledger.answers.custody.record import Recorded
from hideledger.answers.custody.register import head_record, title, unread_first
from hideledger.answers.saying import counted, tags_said
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.standing import state_of
from hideledger.answers.whose import NOBODY
from hideledger.model.table import Column, Table, in_words
from hideledger.model.units import Quantity
from hideledger.rules.names import account
from hideledger.rules.words import in_order
from hideledger.shopfloor.custody import Custody
from hideledger.shopfloor.floor import Floor

HOW_TO_STATE = "a value is stated on the arrival line or later: `H41 valued at $400`"


def held(floor: Floor, made: Sequence[Recorded]) -> Sheet:
    """The list, at the moment of the floor."""
    return Sheet(
        title=title("Other people's skins", floor, f"{counted(_skins(others(floor, made)), 'skin')}, ", joint="at"),
        sections=unread_first(floor, held_sections(floor, made)),
        record={**head_record(floor), **held_record(floor, made)},
    )


def others(floor: Floor, made: Sequence[Recorded]) -> list[Recorded]:
    """Those that are here and are not the shop's own by its name; where nobody is named the skin may be anybody's."""
    own = account(floor.book.shop.shop.name)
    return [
        one
        for one in made
        if one.custody.life.here and (one.owner is None or not own or account(one.owner.name) != own)
    ]


def held_sections(floor: Floor, made: Sequence[Recorded], *, heading: str = "") -> tuple[Section, ...]:
    """By owner, each with its sum; then what has no value. `heading` stands before each owner's name."""
    found = others(floor, made)
    by_owner: dict[str, list[Recorded]] = {}
    spelt: dict[str, str] = {}
    for one in found:
        name = NOBODY if one.owner is None else one.owner.name
        name = spelt.setdefault(account(name), name)  # one customer, however the name was hurried
        by_owner.setdefault(name, []).append(one)
    sections = []
    for name, several in sorted(by_owner.items(), key=lambda both: (both[0] == NOBODY, both[0].casefold())):
        values = _sums(several)
        whose = f"{heading}{name}: {counted(_skins(several), 'skin')}{f', stated {values}' if values else ''}"
        sections.append(Section(heading=whose, rows=tuple(_row(one) for one in several)))
    without = [one.tag for one in found if _value(one) is None]
    rows = []
    if found:
        rows.append(Row(head="stated in all", text=_sums(found) or "nothing", plain=("stated in all", _sums(found))))
    if shares := _of_wholes(found):
        rows.append(Row(head="of it", text=shares, plain=("of it", shares)))
    if without:
        tags = tags_said(in_order(without))
        rows.append(Row(head="no value", text=f"{tags}; {HOW_TO_STATE}", plain=("no value", tags)))
    if not found:
        rows.append(Row(text="none", plain=("none",)))
    last = f"{heading}in all"
    return (*sections, Section(heading=last[0].upper() + last[1:], rows=tuple(rows)))


def held_record(floor: Floor, made: Sequence[Recorded]) -> dict[str, object]:
    """The same for a program."""
    return {"held": list(held_table(others(floor, made)).records())}


def held_table(made: Sequence[Recorded]) -> Table:
    """One row a skin that is here, with its owner and the stated value."""
    return Table(
        name="held",
        about="other people's skins in the shop",
        columns=(
            Column(name="owner", sort="text", about=""),
            Column(name="owner_address", sort="text", about=""),
            Column(name="owner_phone", sort="code", about=""),
            Column(name="tag", sort="code", about="the shop's own tag"),
            Column(name="kind", sort="text", about=""),
            Column(name="skins", sort="integer", about="1; of a box how many are in it"),
            Column(name="received", sort="text", about=""),
            Column(name="state", sort="text", about="step or rest that it is in"),
            Column(name="value", sort="number", about="stated value; empty where none is written"),
            Column(name="value_unit", sort="text", about="the sign of the money"),
            Column(
                name="whole",
                sort="code",
                about="tag of the box or skin it came out of, where the value stated is that of the whole",
            ),
            Column(name="whole_value", sort="number", about=""),
            Column(name="whole_value_unit", sort="text", about=""),
            Column(
                name="whole_value_left",
                sort="number",
                about="what is left of it for those with no value of their own, all of them together",
            ),
        ),
        rows=tuple(_cells(one) for one in made if one.custody.life.here),
    )


def _cells(one: Recorded) -> tuple[object, ...]:
    life, value = one.custody.life, _value(one)
    who, wholes = one.owner, _wholes([one])
    whole = wholes[0] if wholes else None
    of_whole = whole.value[0] if whole is not None and whole.value is not None else Quantity(value=Decimal(0), unit="")
    left = None if whole is None else _left_of(whole)
    return (
        "" if who is None else who.name,
        "" if who is None else who.address,
        "" if who is None else who.phone,
        life.tag,
        life.kind,
        life.count,
        one.received,
        state_of(life),
        None if value is None else float(value.value),
        "" if value is None else value.unit,
        *(("", None, "") if whole is None else (whole.life.tag, float(of_whole.value), of_whole.unit)),
        None if left is None else float(left.value),
    )


def _value(one: Recorded) -> Quantity | None:
    """What is stated for it; of a box that skins were taken out of, what is left."""
    if one.custody.taken:
        return _left_of(one.custody)
    return None if one.custody.value is None else one.custody.value[0]


def _row(one: Recorded) -> Row:
    life, value, whole = one.custody.life, _value(one), one.custody.whole or one.custody.box
    said = f"stated {value}" if value is not None else "no value stated"
    if value is None and whole is not None and whole.value is not None:
        kind = "box" if whole.life.box else "skin"
        said = f"a share of the {whole.value[0]} stated for the whole {kind}, {whole.life.tag}"
        if _stated_apart(whole):
            said = f"a share of the {_left_of(whole)} left of what is stated for the whole {kind}, {whole.life.tag}"
    (cells,) = held_table([one]).flat()
    parts = (
        life.kind or "kind not written",
        life.what if life.what != life.kind else "",
        f"box of {life.count}" if life.box else "",
    )
    return Row(
        head=one.tag,
        text=", ".join(
            [
                *(part for part in parts if part),
                f"since {one.received}" if one.received else "arrival not written",
                state_of(life),
                said,
            ]
        ),
        plain=tuple(in_words(cell) for cell in cells),
    )


def _skins(made: Iterable[Recorded]) -> int:
    return sum(one.custody.life.count for one in made)


def _sums(made: Sequence[Recorded]) -> str:
    """The stated values together, money by money: each skin once. Of a box or a cut skin counts what is left of the value of the whole."""
    sums: dict[str, Decimal] = {}
    values = [value for one in made if (value := _value(one)) is not None]
    for value in (*values, *(left for whole in _wholes(made) if (left := _left_of(whole)) is not None)):
        sums[value.unit] = sums.get(value.unit, Decimal(0)) + value.value
    return " and ".join(str(Quantity(value=amount, unit=unit)) for unit, amount in sums.items())


def _wholes(made: Iterable[Recorded]) -> list[Custody]:
    """The boxes and cut skins with a value, of which something without a value of its own is among these."""
    found: dict[int, Custody] = {}
    for one in made:
        whole = one.custody.whole or one.custody.box
        if _value(one) is None and whole is not None and whole.value is not None and not whole.life.here:
            found[id(whole)] = whole
    return list(found.values())


def _stated_apart(whole: Custody) -> dict[str, Quantity]:
    """What was stated for parts of it by themselves, by tag; a part of a part too."""
    found: dict[str, Quantity] = {}
    for part in (*whole.parts, *whole.taken):
        if part.value is not None:
            found[part.life.tag] = part.value[0]
        else:
            found |= _stated_apart(part)
    return found


def _left_of(whole: Custody) -> Quantity | None:
    """What is left of its value for the parts that have none of their own; None where it has no value."""
    if whole.value is None:
        return None
    stated, unit = whole.value[0].value, whole.value[0].unit
    apart = sum((one.value for one in _stated_apart(whole).values() if one.unit == unit), Decimal(0))
    return Quantity(value=max(Decimal(0), stated - apart), unit=unit)


def _of_wholes(made: Sequence[Recorded]) -> str:
    """`$1000.00 for all of box B7, 3 of its 4 skins still here`: nobody stated what a share of it is worth."""
    said = []
    for whole in _wholes(made):
        assert whole.value is not None
        all_parts = (*whole.parts, *whole.taken)
        here = sum(1 for part in all_parts if part.here)
        what, parts = ("box ", "skins") if whole.life.box else ("", "parts")
        left = whole.value[0]
        apart = tags_said(in_order(_stated_apart(whole)))
        if apart:
            left = _left_of(whole) or left
            apart = f" ({whole.value[0]} less what is stated for {apart})"
        said.append(
            f"{left}{apart} for all of {what}{whole.life.tag}, {here} of its {len(all_parts)} {parts} still here"
        )
    return "; ".join(said)
