"""The first screen of the sheet of one hide: where to look first, and how long it had been raw; a place to look, no verdict."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hideledger.answers.saying import length_said
from hideledger.answers.sheet import Row, Section
from hideledger.answers.slip.at_step import step_before
from hideledger.answers.slip.causes import place_suggests
from hideledger.answers.slip.exposures import Season
from hideledger.answers.slip.lives import name_of
from hideledger.answers.slip.raw_said import weighed
from hideledger.answers.slip.shared import said_of
from hideledger.answers.slip.sign import Case, by_whom, seen_words
from hideledger.answers.slip.sisters import Sister
from hideledger.answers.slip.told import beside_said
from hideledger.answers.slip.tonight import tonight
from hideledger.answers.slip.weak_point import Weak, first_weak, likeliest, said_at
from hideledger.answers.slip.who_is_next import worth_a_look
from hideledger.answers.slip.words import asking, of_many, verb
from hideledger.rules.spans import arrival_unread
from hideledger.rules.telling import TAGS
from hideledger.rules.words import at_where, listed
from hideledger.shopfloor.doings import FLESHED, SHAVED, TURNED, steps_of


def in_short(
    case: Case,
    before: Sequence[Weak],
    sisters: Sequence[Sister],
    season: Season,
    *,
    nobody: str,
    missing: bool,
) -> Section:
    """The answer first. `nobody`: what is said where nobody is named as next below it; `missing`: whether something was not recorded."""
    if case.sign is None:
        return Section(heading="In short", rows=tuple(_unharmed(case, sisters)))
    rows = [*_cut_at_the_roots(case), *_where_to_look(case, before, season, missing=missing)]
    if case.defect != "slip" and (last := step_before(case)) is not None:
        first = likeliest(before, case.defect)
        if first is None or first.place != last[1].mark.entry.at:
            rows.append(Row(head="step before", text=last[0]))
    hint = place_suggests(case.sign.fact.where, case.sign.fact.degree, case.defect)
    if hint:
        rows.append(Row(head="the place", text=f"{hint}{_turned_all_the_same(case, hint)}"))
    if case.sign.entry.remark:
        rows.append(Row(head="remark", text=case.sign.entry.remark))
    if case.defect == "slip":
        rows.append(Row(head="raw clock then", text=_raw_then(case)))
    if nobody:
        rows.append(Row(head="next", text=nobody))
    return Section(heading="In short: where to look first, no verdict", rows=tuple(rows))


_HAIR_GONE = frozenset({"slip", "bald spot"})


def _cut_at_the_roots(case: Case) -> Iterator[Row]:
    """Bald is not always slip: where the book itself says root cut, the knife comes before every bath."""
    cut = next((one for one in case.life.defects if one.fact.defect == "root cut" and not one.at_door), None)
    if cut is None or case.defect not in _HAIR_GONE:
        return
    knives = [
        f"{done.name} {case.said(done.mark.when)}{by_whom(done.mark.entry)}"
        for done in steps_of(case.life)
        if done.sort in (FLESHED, SHAVED) and not done.mark.skipped and not done.mark.elsewhere
    ]
    where = at_where(cut.fact.where)
    after = f": {listed(knives)}" if knives else ""
    yield Row(
        head="root cut",
        text=f"written of it{where}, {case.said(cut.when)}: hair that the knife cut off at the roots is no slip; look there before any bath{after}",
        under=(("from", cut.entry.at.short),),
    )


def _where_to_look(case: Case, before: Sequence[Weak], season: Season, *, missing: bool) -> Iterator[Row]:
    likely, earliest = likeliest(before, case.defect), first_weak(before, case.defect)
    if likely is None:
        unsaid = "; see what is not recorded" if missing else ""
        if earliest is not None and earliest.name == "before the door":
            unsaid = f": {earliest.text}"
        yield Row(head="look first at", text=f"nothing stands out, by what is written{unsaid}")
        return
    text = f"{said_at(case, likely)}: {likely.text}"
    yield Row(head="look first at", text=text, under=tuple(_in_season(case, likely, season)))
    if earliest is not None and earliest is not likely and not earliest.at_step:
        yield Row(head="earliest", text=said_at(case, earliest))


def _turned_all_the_same(case: Case, hint: str) -> str:
    """Where the place speaks of ears and lips that were never turned, and the book says that they were."""
    turned = [
        done.mark
        for done in steps_of(case.life)
        if done.sort == TURNED and not done.mark.skipped and case.before(done.mark.when)
    ]
    if "not turned" not in hint or not turned:
        return ""
    return (
        f"; but {turned[0].name} {'before it came' if turned[0].elsewhere else case.said(turned[0].when)}, by the book"
    )


def _in_season(case: Case, likely: Weak, season: Season) -> Iterator[tuple[str, str]]:
    """The counts of the whole season for the thing that tells most."""
    compared = season.by_name
    found = next((one for name in likely.counted_as if (one := compared.get(name)) is not None), None)
    if found is None:
        return
    table = found.table
    yield (
        "",
        f"of all whose end is known {of_many(table.hit, table.exposed)} with {found.exposure.name} {verb(case.defect)}, {of_many(table.other_hit, table.others)} without",
    )
    beside = beside_said(found, season)
    if beside:
        yield "", f"in the whole season not to be told apart from {beside}"


def _raw_then(case: Case) -> str:
    raw = case.raw
    if raw is None or arrival_unread(case.life):
        return "not known before its arrival is in the book"
    if case.life.tanned_before:
        return "leather when it came: its raw hours were elsewhere"
    said = f"{length_said(*raw.shop)} in the shop{weighed(case, raw)}"
    if raw.door is None:
        return f"{said}; before the door nobody knows"
    return f"{said}, {length_said(*raw.door)} before the door"


def _unharmed(case: Case, sisters: Sequence[Sister]) -> Iterator[Row]:
    """Of a hide without the failure: with whom that had it it shares most, and what to do with it tonight."""
    others = list(dict.fromkeys(one.fact.defect for one in case.life.defects if not one.at_door))
    for other in others:
        words = seen_words(next(one for one in case.life.defects if one.fact.defect == other and not one.at_door))
        ask = asking(case.life.tag, other)
        yield Row(head="written", text=f"{other}{f' {words}' if words else ''}: `{ask}` asks about it")
    hit = [one for one in sisters if one.slipped]
    if not hit:
        yield Row(head="shared", text=f"none of those it shares anything with {verb(case.defect)}")
        return
    near = hit[0]
    yield Row(
        head="shared",
        text=f"it shares {said_of(near.shares, 3)} with {name_of(case.floor, near.life)}, which {verb(case.defect)}; {len(hit)} in all",
    )
    if (
        case.life.here
        and not case.life.box
        and not worth_a_look(case, case.life, [share for one in hit for share in one.shares])
    ):
        things = listed(list(dict.fromkeys(share.said for one in hit for share in one.shares))[:3])
        yield Row(
            head="tonight",
            text=f"nothing: it is past its baths, and shares no more than {things} with those that {verb(case.defect)}",
        )
    elif case.life.here and not case.life.box:
        yield Row(head="tonight", text=tonight(case, case.life).replace(TAGS, case.life.tag))
