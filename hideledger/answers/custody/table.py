"""The register as a table: one row a skin, for a spreadsheet or a program. Version 1 of its columns."""

from __future__ import annotations

from collections.abc import Sequence

from hideledger.answers.custody.record import Person, Recorded
from hideledger.model.table import Column, Table

SCHEMA = 1


def _column(name: str, sort: str, about: str) -> Column:
    return Column(name=name, sort=sort, about=about)


COLUMNS = (
    _column(
        "number",
        "integer",
        "running number in the whole register, by arrival; a line written late moves it, and never the tag",
    ),
    _column("tag", "code", "the shop's own tag"),
    _column("kind", "text", "kind of skin"),
    _column("part", "text", "which part of a cut skin"),
    _column("sex", "text", "as written"),
    _column("skins", "integer", "1; of a box how many are in it"),
    _column("box", "yes or no", "whether it is a box of another shop"),
    _column("condition", "text", "how it came: green, frozen, wet salted, dry salted, dried"),
    _column("received", "text", "day, and time where written, on the shop's clock"),
    _column("received_from", "text", "who brought it; where that is not written, whom it was brought for"),
    _column("received_from_address", "text", ""),
    _column("owner", "text", "whose skin it is; where that is not written, whom it was brought for"),
    _column("owner_address", "text", ""),
    _column("owner_phone", "code", ""),
    _column("job_for", "text", "who gets the bill, also of a spare that took over a job"),
    _column("killed", "text", "day, and time where written"),
    _column("killed_where", "text", "as told"),
    _column("hunter", "text", "who killed it, where that is somebody else"),
    _column("hunter_address", "text", ""),
    _column("licence", "code", "licence on the skin, else of the hunter or owner"),
    _column("legal_tag", "code", ""),
    _column("their_tag", "code", "tag of another shop"),
    _column("seal", "code", ""),
    _column("tanning_began", "text", "from then on a seal may come off, where the rules say so"),
    _column("state", "text", "here, out, lost, refused, cut or opened"),
    _column("left", "text", "day, and time where written, on which it went out, was lost, refused, cut or opened"),
    _column("left_to", "text", "to whom it went out"),
    _column("left_to_address", "text", ""),
    _column("why", "text", "of a skin lost or refused"),
    _column("out_of", "code", "tag of the box it was in, or of the skin it was cut from"),
    _column("into", "tags", "tags of the skins a box was opened into, or of the parts of a cut skin"),
    _column("stands_in_for", "code", "tag of the skin whose job it took over"),
    _column("replaced_by", "tags", "tags that took over its job"),
    _column("value", "number", "stated value"),
    _column("value_unit", "text", "the sign of the money"),
    _column(
        "keep_through", "text", "last day on which its record is kept, by the shop's lines; empty while it is here"
    ),
    _column("missing", "list", "what the record lacks"),
    _column("file", "text", "page of the book with the line of its arrival"),
    _column("line", "integer", ""),
    _column(
        "was", "code", "tag that the same skin had when it was here before; what is not written anew is as it was then"
    ),
)


def register_table(made: Sequence[Recorded]) -> Table:
    """These records as rows."""
    return Table(name="register", about="the register of skins", columns=COLUMNS, rows=tuple(_row(one) for one in made))


def _row(one: Recorded) -> tuple[object, ...]:
    custody, life = one.custody, one.custody.life
    value = custody.value
    place = life.arrived.at
    return (
        one.number,
        life.tag,
        life.kind,
        life.what,
        life.sex,
        life.count,
        life.box,
        "" if life.condition is None else life.condition[0].condition,
        one.received,
        *_named(one.brought_by),
        *_named(one.owner),
        "" if one.owner is None else one.owner.phone,
        one.job_for,
        one.killed,
        one.killed_where,
        *_named(one.hunter),
        one.licence,
        custody.code("tag"),
        custody.code("their tag"),
        custody.code("seal"),
        one.tanning_began,
        one.how,
        one.out,
        *_named(one.to),
        one.why if one.how in ("lost", "refused") else "",
        "" if (out_of := custody.whole or custody.box) is None else out_of.life.tag,
        tuple(part.life.tag for part in custody.parts),
        life.stands_in_for,
        tuple(tag for tag, _ in custody.replaced_by),
        None if value is None else float(value[0].value),
        "" if value is None else value[0].unit,
        "" if one.kept is None else one.kept.through.isoformat(),
        one.missing,
        place.file,
        place.line,
        "" if custody.was is None else custody.was.life.tag,
    )


def _named(who: Person | None) -> tuple[str, str]:
    return ("", "") if who is None else (who.name, who.address)
