"""How the sisters fared, in words: of each thing shared who failed and who did not, then each sister, the most shared first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from hideledger.answers.saying import counted
from hideledger.answers.sheet import Row, Section
from hideledger.answers.slip.compare import Compared
from hideledger.answers.slip.lives import by_tag, lives_said, name_of, records_of
from hideledger.answers.slip.shared import said_of
from hideledger.answers.slip.sign import Case, first_sign, seen_words
from hideledger.answers.slip.sisters import Company, Sister
from hideledger.answers.slip.words import of_many, verb
from hideledger.answers.standing import state_of
from hideledger.rules.words import listed
from hideledger.shopfloor.life import HideLife

MOST = 12
_MOST_COMPANIES = 8
_MOST_GROUPS = 5


def in_company(case: Case, company: Sequence[Company], compared: Mapping[str, Compared]) -> list[Section]:
    """Of each thing the hide met with up to its first sign: how many others did, and how many of them failed."""
    told = [_met(case, one, compared) for one in company if one.slipped or one.spared]
    if not told:
        return []
    return [
        Section(
            heading="What it met with, and how the others fared",
            rows=tuple(told[:_MOST_COMPANIES]),
            in_plain=tuple(told),
        )
    ]


def _met(case: Case, one: Company, compared: Mapping[str, Compared]) -> Row:
    count = one.known
    if not count:
        text = "no other whose end is known"
    elif not one.slipped:
        text = f"{counted(count, 'other')}, and {'none of them' if count > 1 else 'it never'} {verb(case.defect)}"
    else:
        of = "the other one" if count == 1 else f"{len(one.slipped)} of {count} others"
        text = (
            f"{of} {verb(case.defect)}{' too' if case.sign is not None else ''}: {lives_said(case.floor, one.slipped)}"
        )
    found = compared.get(one.met.counted_as)
    if found is not None:
        text += f"; of the skins that never met it {of_many(found.table.other_hit, found.table.others)}"
    text += left_out_said(case, one)
    under = (("the same hides", listed([met.name for met in one.same])),) if one.same else ()
    return Row(head=one.met.name, text=text, under=under)


def left_out_said(case: Case, *met: Company) -> str:
    """`; H28 not known yet`, `; not counted: H2`: those that met it too and stand in no share; nothing where there are none."""
    waiting = by_tag(life for one in met for life in one.waiting)
    uncounted = by_tag(life for one in met for life in one.uncounted)
    said = f"; {_few(case, waiting)} not known yet" if waiting else ""
    return said + (f"; not counted: {_few(case, uncounted)}" if uncounted else "")


def _few(case: Case, lives: Sequence[HideLife]) -> str:
    return lives_said(case.floor, lives) if len(lives) <= MOST else counted(len(lives), "skin")


def side_by_side_with(case: Case, sisters: Sequence[Sister], *, whole: bool) -> list[Sister]:
    """Whose lives are laid beside it, the most shared first; not `whole`: those that failed, and the nearest of those that did not."""
    told = [one for one in sisters if one.slipped or case.sign is not None]
    if not whole:
        sound = next((one for one in told if not one.slipped), None)
        told = [one for one in told if one.slipped or one is sound]
    return told[:MOST]


def _grouped(case: Case, told: Sequence[Sister]) -> list[Row]:
    """Those that failed each by itself; of those that fared well, those that share the same, counted."""
    rows = [
        Row(head=name_of(case.floor, one.life), text=f"{fate(case, one)}; shares {said_of(one.shares)}")
        for one in told
        if one.slipped
    ]
    sound: dict[str, list[HideLife]] = {}
    for one in told:
        if not one.slipped:
            sound.setdefault(said_of(one.shares), []).append(one.life)
    none = f"no {case.defect} written"
    groups = list(sound.items())
    rest = [life for _, lives in groups[_MOST_GROUPS:] for life in lives]
    for shared, lives in [*groups[:_MOST_GROUPS], *([("other things", rest)] if rest else [])]:
        text = f"{none}, {'share' if len(lives) > 1 else 'shares'} {shared}: {lives_said(case.floor, lives)}"
        rows.append(Row(head=str(len(lives)), text=text))
    return rows


def _one_by_one(case: Case, told: Sequence[Sister]) -> list[Row]:
    """The nearest with what each shares, those that fared and share alike in one row; of the others how many fared how."""
    alike: dict[str, list[HideLife]] = {}
    for one in told[:MOST]:
        alike.setdefault(f"{fate(case, one)}; shares {said_of(one.shares)}", []).append(one.life)
    rows = [Row(head=lives_said(case.floor, lives), text=text) for text, lives in alike.items()]
    rest = told[MOST:]
    if rest:
        rows.append(Row(head=f"and {len(rest)} more", text=_the_rest(case, rest)))
    return rows


def sister_rows(case: Case, sisters: Sequence[Sister], *, whole: bool = True) -> list[Section]:
    """Each sister with how it fared and what it shares; for a hide without the failure only those that had it.

    Not `whole`: those that fared well stand together by what they share.
    """
    told = [one for one in sisters if case.sign is not None or one.slipped]
    if not told:
        return []
    rows = _one_by_one(case, told) if whole else _grouped(case, told)
    which = (
        "Its sisters, the most shared first"
        if case.sign is not None
        else "Those it shares something with, the most shared first"
    )
    every = (Row(head=name_of(case.floor, one.life), text=f"{fate(case, one)}; shares {_all(one)}") for one in told)
    return [Section(heading=which, rows=tuple(rows), in_plain=tuple(every))]


def _all(one: Sister) -> str:
    return listed([shared.said for shared in one.shares])


def _the_rest(case: Case, rest: Sequence[Sister]) -> str:
    """Those that failed among the rest are not lost in it."""
    failed = lives_said(case.floor, (one.life for one in rest if one.slipped))
    sound = lives_said(case.floor, (one.life for one in rest if not one.slipped))
    return "; ".join(part for part in (f"{verb(case.defect)}: {failed}" if failed else "", sound) if part)


def fate(case: Case, sister: Sister) -> str:
    """`slipped: left ear base, slight, Thu 12 Nov 08:27`; else that nothing is written, and where it is."""
    life = sister.life
    sign = first_sign(life, case.defect)
    if sign is not None:
        words = seen_words(sign)
        gone = f", {life.ended_as}" if life.ended_as else ""
        return f"{verb(case.defect)}{f': {words}' if words else ''}, {case.said(sign.when)}{gone}"
    door = any(one.fact.defect == case.defect for one in life.defects)
    none = f"{case.defect} at the door, no outcome of the shop" if door else f"no {case.defect} written"
    if life.ended_when is not None:
        return f"{none}, {life.ended_as} {case.said(life.ended_when)}"
    return f"{none}, still here: {state_of(life)}"


def sisters_records(case: Case, sisters: Sequence[Sister]) -> Iterator[dict[str, object]]:
    """The same for a program, every sister."""
    for one in sisters:
        yield {
            "tag": one.life.tag,
            "failed": one.slipped,
            "fate": fate(case, one),
            "here": one.life.here,
            "state": state_of(one.life) if one.life.here else one.life.ended_as,
            "shares": [
                {"sort": shared.met.sort, "name": shared.met.name, "together": shared.together} for shared in one.shares
            ],
            **records_of(case.floor, [one.life])[0],
        }
