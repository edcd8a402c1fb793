"""The register of skins: who brought each, whose it is, when and where it was killed, its tags, and where it went."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from datetime import date

from hideledger.answers.custody.record import Recorded, wants_seal
from hideledger.answers.custody.table import SCHEMA, register_table
from hideledger.answers.head import record_of
from hideledger.answers.saying import counted, now_words, tags_said, unread_said
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.model.keeping import event_said
from hideledger.model.table import in_words
from hideledger.rules.alike import alike
from hideledger.rules.names import account, payers, said_apart
from hideledger.rules.words import in_order
from hideledger.shopfloor.floor import Floor

CAUTION = (
    "What a record must hold, and how long it is kept, differs by state and by animal. The state's wildlife agency decides; "
    "of migratory birds also the federal permit."
)
HOW_TO_WRITE = (
    "each on a line of its own: `H41 doe`, `H41 tag 40718`, `H41 licence 7712`, `H41 killed 2026-10-29 at Tarrow county`, `H41 for Oren Vale`; "
    "an address and a phone once, in the shop file: `customer Oren Vale, phone 555-0142, address 12 Mill Road, Tarrow`"
)
SEAL_CAUTION = "A seal stays on until tanning has begun, as 5 AAC 92.165 has it for a bear in Alaska; ask the agency whose seal it is."

# The furbearers of 50 CFR 23.69, by the word a shop would write: bobcat, river otter, Canada lynx, gray wolf, brown bear.
_CITES = frozenset({"bobcat", "otter", "lynx", "wolf", "brown", "grizzly"})
CITES_CAUTION = (
    "A bobcat, river otter, Canada lynx, gray wolf or brown bear leaves the country only with the tag of the state or tribe fixed to its skin, "
    "as 50 CFR 23.69 has it: ask the agency, keep it with the skin through the wet work, and write it, `H41 seal 4411`."
)


def register(
    floor: Floor, made: Sequence[Recorded], *, shown: Collection[str] | None = None, open_first: bool = False
) -> Sheet:
    """The register, or those records whose tag is among `shown`; `open_first` puts those still here before the others."""
    chosen = [one for one in made if shown is None or one.tag in shown]
    if open_first:
        here = [one for one in chosen if one.custody.here]
        gone = [one for one in chosen if not one.custody.here]
        parts = [("Here, in order of arrival", here), ("Gone, in order of arrival", gone)]
        chosen = [*here, *gone]
    else:
        parts = [("In order of arrival", chosen)]
    sections = [
        Section(heading=heading, rows=tuple(_row(one, floor) for one in some), spaced=True) for heading, some in parts
    ]
    if shown is None or len(chosen) == len(made):
        sections.append(_never_came(floor))
    sections += [_missing(chosen if len(chosen) > 1 else ()), _mind(floor, chosen, _other_names(floor, made, chosen))]
    return Sheet(
        title=title("Register of skins", floor, f"{counted(len(chosen), 'record')}, "),
        sections=unread_first(floor, sections),
        record={
            **head_record(floor),
            "skins": list(register_table(chosen).records()),
        },
    )


def title(what: str, floor: Floor, more: str = "", *, joint: str = "of") -> str:
    """The first line of every sheet about custody: what, of which shop, and when; short enough for paper."""
    name = floor.book.shop.shop.name
    return f"{what}{f' {joint} {name}' if name else ''}, {more}{now_words(floor.at, floor.book.clock)}"


def unread_first(floor: Floor, sections: Iterable[Section]) -> tuple[Section, ...]:
    """The sections that say something; before all others what part of the book could not be read."""
    text = f"{unread_said(floor.book)} of the book, counted nowhere here; hideledger check says which"
    rows = (Row(text=text, plain=("not understood", text)),) if floor.book.unread else ()
    return tuple(section for section in (Section(heading="Not understood", rows=rows), *sections) if section.rows)


def head_record(floor: Floor) -> dict[str, object]:
    """How every JSON object about custody begins."""
    return record_of(floor, {"shop": floor.book.shop.shop.name}, schema=SCHEMA)


def _row(one: Recorded, floor: Floor) -> Row:
    custody, life = one.custody, one.custody.life
    box = f"box of {life.count}" if life.box else ""
    what = [
        life.kind or "kind not written",
        life.what if life.what.casefold() != life.kind.casefold() else "",
        life.sex,
        box,
    ]
    text = ", ".join(part for part in what if part)
    came = f"received {one.received}" if one.received else "no line says that it came in"
    under = [(label, said) for label, said in _under(one, floor) if said]
    (values,) = register_table([one]).flat()
    return Row(
        head=f"{one.number}  {custody.life.tag}",
        text=f"{text}, {came}, {_state(one)}",
        under=tuple(under),
        plain=tuple(in_words(value) for value in values),
    )


def _state(one: Recorded) -> str:
    if one.how == "here":
        return "here"
    if one.how == "cut" or one.custody.parts:
        return f"{one.how} {one.out}{', not all of it gone' if one.custody.here else ''}"
    return f"{one.how}{f' to {one.to.name}' if one.to else ''} {one.out}"


def _under(one: Recorded, floor: Floor) -> list[tuple[str, str]]:
    custody = one.custody
    owner, brought = one.owner, one.brought_by
    hunter = one.hunter if one.hunter is not None and (owner is None or one.hunter.name != owner.name) else None
    killed = [one.killed, f"at {one.killed_where}" if one.killed_where else ""]
    job = one.job_for if one.job_for and (owner is None or one.job_for.casefold() != owner.name.casefold()) else ""
    other_hands = brought is not None and (owner is None or brought.name.casefold() != owner.name.casefold())
    to = one.to if one.to is not None and (owner is None or one.to.name.casefold() != owner.name.casefold()) else None
    return [
        ("whose", "" if owner is None else owner.said),
        ("from", brought.said if other_hands and brought is not None else ""),
        ("job for", job),
        ("hunter", "" if hunter is None else hunter.said),
        ("killed", " ".join(part for part in killed if part)),
        ("codes", _codes(one)),
        ("seal", _seal(one)),
        ("out of", _out_of(one)),
        ("before", _was(one)),
        ("again", _again(one)),
        (
            "into",
            ", ".join(f"{part.life.tag} {part.life.what}".strip() for part in custody.parts) if custody.parts else "",
        ),
        ("instead", _instead(one)),
        ("to", "" if to is None else to.said),
        ("why", one.why if one.how in ("lost", "refused") else ""),
        ("value", "" if custody.value is None else f"stated {custody.value[0]} ({custody.value[1].at.short})"),
        ("keep", _keep(one, floor)),
        ("missing", ", ".join(one.missing)),
        ("book", custody.life.arrived.at.short),
    ]


def _codes(one: Recorded) -> str:
    words = (("tag", one.custody.code("tag")), ("licence", one.licence), ("their tag", one.custody.code("their tag")))
    return ", ".join(f"{sort} {code}" for sort, code in words if code)


def _seal(one: Recorded) -> str:
    """`4411, may come off: tanning began 2026-11-09 08:20 (first turn)`."""
    custody = one.custody
    seal = custody.code("seal")
    if not seal and not wants_seal(custody):
        return ""
    said = seal or "no seal is written"
    if one.tanning_began:
        return f"{said}, {'may come off: ' if seal else ''}tanning began {one.tanning_began} ({one.tanning_step})"
    if custody.whole is None and one.how in ("out", "refused", "lost"):
        return f"{said}, tanning had not begun"
    why = "" if custody.tanning_known else "; no step of its process says `tanning begun`"
    return f"{said}, stays on until tanning has begun{why}" if seal else f"{said}, tanning has not begun{why}"


def _out_of(one: Recorded) -> str:
    whole = one.custody.whole
    if one.custody.box is not None:
        return f"box {one.custody.box.life.tag}"
    if whole is None:
        return ""
    ended = whole.life.ended
    place = f" ({ended.at.short})" if ended is not None else ""
    return f"box {whole.life.tag}{place}" if whole.life.box else f"cut from {whole.life.tag}{place}"


def _was(one: Recorded) -> str:
    """`was here as H1 from 2026-11-02 to 2026-11-09`: one skin, and a record for each time."""
    was = one.custody.was
    if was is None:
        return ""
    named = f" as {was.life.tag}" if was.life.tag != one.tag else ""
    until = f" to {date.fromordinal(was.life.ended_when.day)}" if was.life.ended_when is not None else ""
    return (
        f"here{named} from {date.fromordinal(was.life.arrived_when.day)}{until} ({was.life.arrived.at.short}): one skin"
    )


def _again(one: Recorded) -> str:
    """`came in again 2026-11-12 as H9`."""
    return ", ".join(
        f"came in {date.fromordinal(later.life.arrived_when.day)}{f' as {later.life.tag}' if later.life.tag != one.tag else ''} ({later.life.arrived.at.short})"
        for later in one.custody.again
    )


def _instead(one: Recorded) -> str:
    """A spare took over the job, and never whose skin it is."""
    custody = one.custody
    said = [f"took over the job of {custody.life.stands_in_for} ({entry.at.short})" for entry in custody.stands_in[-1:]]
    said += [f"{tag} took over its job ({entry.at.short})" for tag, entry in custody.replaced_by]
    return ", ".join(said)


def _keep(one: Recorded, floor: Floor) -> str:
    rules = floor.book.shop.shop.kept
    if not rules:
        return ""
    if one.kept is not None:
        line = one.kept.line
        return (
            f"through {one.kept.through.isoformat()}, {line.length} after {event_said(line.after)} ({line.place.short})"
        )
    lines = ", ".join(f"{line.length} after {event_said(line.after)}" for line in rules)
    return f"while it is here; then {lines}"


def _missing(made: Sequence[Recorded]) -> Section:
    """What the records lack, each with whose: the list to work through before an officer comes."""
    by_what: dict[str, list[str]] = {}
    for one in made:
        for what in one.missing:
            by_what.setdefault(what, []).append(one.tag)
    rows = tuple(
        Row(head=what, text=tags_said(in_order(tags)), plain=("missing", what, tags_said(in_order(tags))))
        for what, tags in sorted(by_what.items(), key=lambda both: (-len(both[1]), both[0]))
    )
    if rows:
        rows += (Row(head="to write", text=HOW_TO_WRITE, plain=("to write", HOW_TO_WRITE)),)
    return Section(heading="Missing for the record", rows=rows)


def _never_came(floor: Floor) -> Section:
    """Tags that lines name and nothing declares: a slip of the hand, or a skin without a record."""
    rows = tuple(
        Row(head=tag, text=f"named at {odd.entry.at.short}", plain=("no arrival", tag, odd.entry.at.short))
        for odd in floor.oddities
        if odd.sort == "unknown tag"
        for tag in odd.tags
    )
    return Section(heading="Named, and no line says that it came in", rows=rows)


def _other_names(floor: Floor, made: Sequence[Recorded], chosen: Sequence[Recorded]) -> list[str]:
    """Records that are not shown and stand under nearly the same name: whoever asks for one customer wants to know of them."""
    if len(chosen) == len(made):
        return []
    shown = {one.number for one in chosen}
    defined = {account(one.name) for one in floor.book.shop.customers}
    bills = payers(floor)
    names = {account(name): name for one in chosen for name in one.people}
    others: dict[str, list[Recorded]] = {}
    for one in made:
        for name in one.people if one.number not in shown else ():
            others.setdefault(name, []).append(one)
    said = []
    for name, some in sorted(others.items()):
        key = account(name)
        near = [
            mine
            for mine in names
            if mine != key
            and not {mine, key} <= defined
            and alike(mine, key)
            and not (mine in bills and key in bills and said_apart(bills[mine], bills[key]))
        ]
        if near and key not in names:
            tags = tags_said(in_order(one.tag for one in some))
            said.append(f"{tags} not shown: {name} is nearly {names[near[0]]}; one person, or two?")
    return said


def _mind(floor: Floor, made: Sequence[Recorded], more: Sequence[str] = ()) -> Section:
    said = [CAUTION, *more]
    if any(one.custody.code("seal") or wants_seal(one.custody) for one in made):
        said.append(SEAL_CAUTION)
    if any(_CITES & set(one.custody.life.kind.casefold().split()) for one in made):
        said.append(CITES_CAUTION)
    if not floor.book.shop.shop.kept:
        said.append(
            "No line of the shop says how long a record is kept; write what your state asks, such as `records kept 5 y after out`."
        )
    return Section(heading="Mind", rows=tuple(Row(text=text, plain=("mind", text)) for text in said))
