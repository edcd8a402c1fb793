"""`stock salt`, `stock S-114`: every line of a supply or of one lot, and which baths and hides it went into."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from hideledger.answers.head import moment_said, record_of
from hideledger.answers.saying import tags_said, written_stamp
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.stock.shelf import lasts_said, told_of, worth_said
from hideledger.answers.whose import NothingFound
from hideledger.answers.wording import words_of
from hideledger.model.units import plain_number
from hideledger.rules.onhand import Counted, Holding, currency_of, dated_lots, holdings
from hideledger.rules.words import day_said, in_order, listed
from hideledger.shopfloor.floor import Floor
from hideledger.text.nearest import nearest

_SAYS = {"bought": "came in", "counted": "counted", "used": "used", "nobody": "used", "bath": "into", "hide": "onto"}


_USED = ("used", "nobody", "bath", "hide")


def stock_of(floor: Floor, about: Sequence[str]) -> Sheet:
    """One supply by its name (or another name of it), or one lot. Raises NothingFound."""
    held, lot = _wanted(holdings(floor), floor, " ".join(" ".join(about).split()))
    lines = [line for line in held.lines if not lot or _is_of(line, lot)]
    named = f"{held.name} lot {lot}" if lot else held.name
    return Sheet(
        title=f"{named[0].upper()}{named[1:]}, {moment_said(floor)}",
        sections=(
            Section(heading="On the shelf", rows=tuple(_on_shelf(held, lot, floor))),
            *_went_into(lines, held, floor),
            Section(
                heading="Line by line", rows=tuple(_row(line, held, lot, floor) for line in lines), whole_lines=True
            ),
        ),
        record=record_of(
            floor,
            {
                "supply": held.name,
                "lot": lot or None,
                "unit": held.unit,
                "lines": [_record(line, held, floor) for line in lines],
            },
        ),
    )


def _wanted(held: dict[str, Holding], floor: Floor, name: str) -> tuple[Holding, str]:
    wanted = name.casefold()
    for one in held.values():
        others = () if one.supply is None else one.supply.others
        if wanted in (one.name.casefold(), *others):
            return one, ""
    lots = {
        line.move.lot.casefold(): (one, line.move.lot) for one in held.values() for line in one.lines if line.move.lot
    }
    bare = wanted.removeprefix("lot ")
    if bare in lots:
        several = [one for one in held.values() if any(line.move.lot.casefold() == bare for line in one.lines)]
        if len(several) > 1:
            raise NothingFound(
                f"lot {lots[bare][1]} is one of {listed([one.name for one in several])}; ask for the supply"
            )
        return lots[bare]
    for one in held.values():  # `salt lot S-114`
        front = f"{one.name.casefold()} lot "
        if wanted.startswith(front) and any(line.move.lot.casefold() == wanted[len(front) :] for line in one.lines):
            return one, lots[wanted[len(front) :]][1]
    defined = floor.book.shop.supplies.get(wanted)
    if defined is not None:
        raise NothingFound(
            f"nothing is written of {defined.name} yet: `bought 50 lb {defined.name}`, or `counted 50 lb {defined.name}`"
        )
    near = nearest(name, [*(one.name for one in held.values()), *(lot for _, lot in lots.values())], least=0.6)
    raise NothingFound(f"{name} is no supply and no lot of the book{f'; {near} is' if near else ''}")


def _is_of(line: Counted, lot: str) -> bool:
    wanted = lot.casefold()
    return line.move.lot.casefold() == wanted or wanted in {name.casefold() for name in line.lots}


def _on_shelf(held: Holding, lot: str, floor: Floor) -> Iterable[Row]:
    sign = currency_of(floor)
    if not lot:
        if not held.written:
            yield Row(text="never written as bought or counted, so that nobody knows what lies there")
            return
        yield Row(head="in all", text=f"{held.shown(held.shelf.amount)}, {worth_said(held.shelf, held, sign)}")
        yield Row(head="lasts", text=lasts_said(held, floor))
    dates = {dated.lot.casefold(): dated.day.toordinal() for dated in dated_lots(held)}
    for heap in held.shelf.heaps:
        if (lot and heap.lot.casefold() != lot.casefold()) or (not lot and not held.is_some(heap.amount)):
            continue
        until = dates.get(heap.lot.casefold())
        good = f", good until {day_said(floor.book.clock, until, floor.at)}" if until is not None else ""
        head = f"lot {heap.lot}" if heap.lot else "without a lot"
        yield Row(head=head, text=f"{held.shown(heap.amount)}, {worth_said(heap, held, sign)}{good}")
    if not lot:
        yield from (Row(text=said) for said in told_of(held, floor))
        return
    came = sum(
        (line.move.amount for line in held.lines if line.move.sort == "bought" and _is_of(line, lot)), Fraction(0)
    )
    used = sum((line.move.amount for line in held.lines if line.move.sort in _USED and _named(line, lot)), Fraction(0))
    if used > came:
        more = held.shown(used - came)
        yield Row(
            text=f"{more} more was used under this lot than came in with it; it is taken from what has no lot, as far as that goes"
        )


def _named(line: Counted, lot: str) -> bool:
    return line.move.lot.casefold() == lot.casefold()


def _went_into(lines: Sequence[Counted], held: Holding, floor: Floor) -> Iterable[Section]:
    """Each bath with what it took, and the hides that lay in it; each hide with what was used on it."""
    baths: dict[int, list[Counted]] = {}
    hides: dict[str, Fraction] = {}
    for line in lines:
        if line.move.bath is not None:
            baths.setdefault(id(line.move.bath), []).append(line)
        elif line.move.hide is not None:
            hides[line.move.hide.tag] = hides.get(line.move.hide.tag, Fraction(0)) + line.move.amount
    rows = []
    for several in baths.values():
        bath = several[0].move.bath
        assert bath is not None
        amount = sum((line.move.amount for line in several), Fraction(0))
        inside = in_order(member.hide.tag for member in bath.members)
        skins = f"skins {tags_said(inside)}" if inside else "no skins so far"
        state = (
            f", {bath.ended_as} {written_stamp(bath.ended_when, floor.book.clock)}"
            if bath.ended_when is not None
            else ""
        )
        text = f"{held.shown(amount)}, mixed {written_stamp(bath.made_when, floor.book.clock)}{state}; {skins}"
        rows.append(Row(head=bath.tag, text=text, plain=(bath.tag, str(held.shown(amount)), " ".join(inside))))
    if rows:
        yield Section(heading="Went into baths", rows=tuple(rows))
    if hides:
        on = tuple(
            Row(head=tag, text=str(held.shown(hides[tag])), plain=(tag, str(held.shown(hides[tag]))))
            for tag in in_order(hides)
        )
        yield Section(heading="Used on hides", rows=on)


def _row(line: Counted, held: Holding, lot: str, floor: Floor) -> Row:
    move = line.move
    stamp = written_stamp(move.when, floor.book.clock)
    left = f"left {held.shown(line.left)}" if not lot else ""
    place = move.entry.at.short
    what = f"{_said(line, held)}, {left}" if left else _said(line, held)
    return Row(
        head=f"{stamp:<16}",
        text=f"{what}: {words_of(move.entry)}  ({place})",
        plain=(stamp, _said(line, held), left, words_of(move.entry), place),
    )


def _said(line: Counted, held: Holding) -> str:
    move = line.move
    whom = move.bath.tag if move.bath is not None else move.hide.tag if move.hide is not None else ""
    said = f"{_SAYS[move.sort]} {whom} {held.shown(move.amount)}".replace("  ", " ")
    if line.lost:
        said += f", {held.shown(line.lost)} gone"
    if line.found:
        said += f", {held.shown(line.found)} more than was written"
    if line.missing:
        said += f", {held.shown(line.missing)} of it never came in"
    if move.sort == "nobody":
        said += ", for a tag that is no bath and no hide of the book"
    return said


def _record(line: Counted, held: Holding, floor: Floor) -> dict[str, object]:
    move = line.move
    return {
        "when_local": written_stamp(move.when, floor.book.clock),
        "sort": "used" if move.sort == "nobody" else move.sort,
        "amount": plain_number(held.shown(move.amount).value),
        "lots": [lot for lot in line.lots if lot],
        "bath": None if move.bath is None else move.bath.tag,
        "hide": None if move.hide is None else move.hide.tag,
        "gone": plain_number(held.shown(line.lost).value),
        "found": plain_number(held.shown(line.found).value),
        "never_there": plain_number(held.shown(line.missing).value),
        "left": plain_number(held.shown(line.left).value),
        "file": move.entry.at.file,
        "line": move.entry.at.line,
    }
