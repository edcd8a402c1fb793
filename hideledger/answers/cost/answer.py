"""`cost`: what hides cost, one by one or together, against sending them out, and what the sum leaves out."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from hideledger.answers.cost.hides import Costs, HideCost, costs, sharers
from hideledger.answers.cost.leather import leather_of, leather_said
from hideledger.answers.cost.left_out import in_none, left_out
from hideledger.answers.cost.sent import against, sent_out_price
from hideledger.answers.cost.unpriced import at_least
from hideledger.answers.head import moment_said, record_of
from hideledger.answers.money import NOTHING, money_record, money_said, summed
from hideledger.answers.saying import skins_said, tags_said
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.standing import state_of
from hideledger.answers.whose import NOBODY, concerns, hides_meant, person_meant
from hideledger.model.moments import spoken
from hideledger.rules.words import MONTHS, in_order, listed, tag_order
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife


def cost(floor: Floor, about: Sequence[str], by: str) -> Sheet:
    """The costs of the hides that `about` names (all of them when it is empty), grouped `by` kind, hide, load, customer or month.

    Raises NothingFound.
    """
    found = costs(floor)
    hides, whom = _wanted(found, floor, about)
    sections = [Section(heading=_HEADINGS[by], rows=tuple(_grouped(hides, found, by, named=bool(about))))]
    if about and by == "hide":
        sections += [_detail(one, found) for one in hides if one.shares or one.seconds]
    sections += [
        Section(heading="Against sending out", rows=tuple(against(hides, found, floor, whole=not about))),
        Section(heading="In no hide", rows=() if about else tuple(in_none(found))),
        Section(heading="Not in the sum", rows=tuple(left_out(hides, found, floor, whole=not about))),
    ]
    return Sheet(
        title=f"What a hide costs{f', {whom}' if whom else ''}, {moment_said(floor)}",
        sections=tuple(section for section in sections if section.rows),
        record=record_of(
            floor,
            {
                "currency": found.sign,
                "hides": [_record(one, found, floor) for one in hides],
                "in_no_hide": {
                    "shop": money_record(found.own_use),
                    "gone_at_counts": money_record(found.gone),
                    "baths_nobody_was_in": money_record(summed(money for _, money in found.empty)),
                    "without_price": list(dict.fromkeys(name for names in found.unpriced.values() for name in names)),
                },
            },
        ),
    )


_HEADINGS = {
    "kind": "By kind, of those that came through",
    "hide": "Hide by hide",
    "load": "By bath and load",
    "customer": "By customer",
    "month": "By the month in which they came in",
}


def _wanted(found: Costs, floor: Floor, about: Sequence[str]) -> tuple[list[HideCost], str]:
    alive = [one for one in found.hides if one.life.ended_as not in ("cut", "opened")]
    if not about:
        return alive, ""
    baths = {tag.casefold(): tag for tag in floor.baths}
    tags = [baths[word] for word in dict.fromkeys(word.rstrip(",").casefold() for word in about) if word in baths]
    others = [word for word in about if word.rstrip(",").casefold() not in baths]
    meant = [member.hide for tag in tags for bath in floor.baths[tag] for member in bath.members]
    named = list(tags)
    if others:
        lives = hides_meant(floor, others)
        if lives is None:
            name = person_meant(floor, others)
            meant += [one.life for one in alive if concerns(one.life, name)]
            named.append(name)
        else:
            meant += lives
            named += in_order(life.tag for life in lives)
    wanted = {id(life) for whole in meant for life in (whole, *_out_of(whole, found))}
    return [one for one in alive if id(one.life) in wanted], listed(named)


def _out_of(whole: HideLife, found: Costs) -> list[HideLife]:
    """What a skin was cut into, and a box opened into, and what became of that."""
    heirs = found.jobs.heirs(whole)
    return [*heirs, *(life for heir in heirs for life in _out_of(heir, found))]


def _grouped(hides: list[HideCost], found: Costs, by: str, *, named: bool) -> list[Row]:
    if by == "load":
        return _by_load(hides, found)
    if by == "hide":
        row = sorted(hides, key=lambda one: tag_order(one.life.tag))
        return [_hide_row(one, found) for one in row if named or one.total or one.unpriced or one.came_through]
    groups: dict[str, list[HideCost]] = {}
    for one in hides:
        groups.setdefault(_group_of(one, by), []).append(one)
    return [_group_row(name, groups[name], found, by) for name in sorted(groups)]


def _group_of(one: HideCost, by: str) -> str:
    life = one.life
    if by == "customer":
        return life.payer or NOBODY
    if by == "month":
        return date.fromordinal(life.arrived_when.day).isoformat()[:7]
    return one.whole.kind or "kind not written"  # the parts of a skin together, since it is one


def _group_row(name: str, several: list[HideCost], found: Costs, by: str) -> Row:
    through = [one for one in several if one.came_through]
    leather = [one for one in several if one.leather]
    at_work = [one for one in several if not one.came_through and not one.for_nothing and not one.leather]
    under = []
    if through:
        whole, number = summed(one.total for one in through), _skins(through)
        text = f"{skins_said(number)} at {money_said(whole / number, found.sign)} each, {money_said(whole, found.sign)}{at_least(through)}"
        under.append(("", _made_of(through, found.sign)))
    else:
        text = "none came through so far" if len(leather) < len(several) else "none was tanned here"
    for why in ("lost", "refused", "handed back untanned"):
        gone = [one for one in several if one.for_nothing == why and not one.leather]
        if gone:
            spent = summed(one.spent for one in gone)
            tags = tags_said(in_order(one.life.tag for one in gone))
            under.append((why, f"{tags}: {money_said(spent, found.sign)}{at_least(gone)}"))
    if at_work:
        spent = summed(one.total for one in at_work)
        under.append(
            ("in work", f"{skins_said(_skins(at_work))}, {money_said(spent, found.sign)} so far{at_least(at_work)}")
        )
    if leather:
        under.append(("leather", leather_said(leather, found.sign)))
    head = name if by != "month" else f"{MONTHS[int(name[5:]) - 1]} {name[:4]}"
    return Row(head=head, text=text, under=tuple(under), plain=(name, text))


def _skins(several: Sequence[HideCost]) -> Fraction:
    return summed(one.skins for one in several)


def _made_of(several: Sequence[HideCost], sign: str) -> str:
    """`materials $2.64, work $8.00, its part of what was for nothing $0.40`, a hide."""
    number = _skins(several)
    parts = [f"materials {money_said(summed(one.materials for one in several) / number, sign)}"]
    if any(one.work is not None for one in several):
        parts.append(f"work {money_said(summed(one.work or NOTHING for one in several) / number, sign)}")
    carried = summed(one.carried for one in several) / number
    if carried:
        parts.append(f"its part of the lost ones {money_said(carried, sign)}")
    return f"a hide: {', '.join(parts)}" if number > 1 else ", ".join(parts)


def _hide_row(one: HideCost, found: Costs) -> Row:
    life = one.life
    state = one.for_nothing or (
        life.ended_as if not life.here else "ready" if found.jobs.came_through(life) else state_of(life)
    )
    state = f"{leather_of(one)}, {state}" if one.leather else state
    part = "" if one.skins == 1 else f", {skins_said(one.skins)}{f' of {one.whole.tag}' if life.parent else ''}"
    text = f"{money_said(one.total, found.sign)}{at_least([one])}, {life.kind or 'kind not written'}{part}, {state}"
    if not (one.total or one.unpriced or one.came_through):
        box = f"box of {life.count}, " if life.box else ""
        text = f"nothing: no supply and no work of known minutes is written on it, {box}{life.kind or 'kind not written'}, {state}"
        return Row(head=life.tag, text=text, plain=(life.tag, text))
    under = _made_of_one(one, found.sign)
    return Row(head=life.tag, text=text, under=(("", under),), plain=(life.tag, text))


def _made_of_one(one: HideCost, sign: str) -> str:
    """What the cost of one tag is made of; of a part, or a box, all that it took."""
    work = f", work {money_said(one.work, sign)}" if one.work is not None else ""
    carried = f", its part of the lost ones {money_said(one.carried, sign)}" if one.carried else ""
    return f"materials {money_said(one.materials, sign)}{work}{carried}"


def _by_load(hides: list[HideCost], found: Costs) -> list[Row]:
    wanted = {id(one.life) for one in hides}
    rows = []
    for bath, whole in found.baths:
        inside = [one for one in hides if any(share.bath is bath for share in one.shares)]
        if not inside and not any(id(member.hide) in wanted for member in bath.members):
            continue
        by = next((s.by for one in inside for s in one.shares if s.bath is bath), "weight")
        unpriced = dict.fromkeys(s.supply for one in inside for s in one.shares if s.bath is bath and not s.priced)
        least = f" at the least ({listed(list(unpriced))}: no price)" if unpriced else ""
        standing = "" if bath.ended is not None else "; it still stands, and who goes in later shares it too"
        named = ", ".join(
            part
            for part in (bath.recipe, f"in {bath.vessel}" if bath.vessel and bath.vessel != bath.tag else "")
            if part
        )
        skins = summed(found.jobs.skins(member.hide) for member in sharers(bath))
        each = f", {money_said(whole / skins, found.sign)} a skin, shared by {by}" if skins else ""
        text = f"{named + ': ' if named else ''}{money_said(whole, found.sign)}{least} for {skins_said(skins, 'skin')}{each}{standing}"
        rows.append(Row(head=bath.tag, text=text, plain=(bath.tag, text)))
    return rows


def _detail(one: HideCost, found: Costs) -> Section:
    """Line by line where the money of one hide went."""
    rows = []
    for share in one.shares:
        money = money_said(share.cost, found.sign) if share.priced else "no price"
        if share.bath is None:
            rows.append(Row(head=share.supply, text=f"{money}, used on it", plain=(one.life.tag, share.supply, money)))
            continue
        whole = next((total for bath, total in found.baths if bath is share.bath), NOTHING)
        so_far = " so far, it still stands" if share.bath.ended is None else ""
        how = f"its share of {share.bath.tag} by {share.by} (the whole bath {money_said(whole, found.sign)}{so_far})"
        rows.append(
            Row(head=share.supply, text=f"{money}, {how}", plain=(one.life.tag, share.supply, money, share.bath.tag))
        )
    if one.work is not None:
        rows.append(
            Row(
                head="work",
                text=f"{money_said(one.work, found.sign)}, {spoken(one.seconds)}",
                plain=(one.life.tag, "work", money_said(one.work, found.sign)),
            )
        )
    if one.carried:
        rows.append(
            Row(
                head="lost hides",
                text=f"{money_said(one.carried, found.sign)}, its part",
                plain=(one.life.tag, "lost hides", money_said(one.carried, found.sign)),
            )
        )
    return Section(heading=f"{one.life.tag} in full", rows=tuple(rows))


def _record(one: HideCost, found: Costs, floor: Floor) -> dict[str, object]:
    away = sent_out_price(one, floor, found.sign)
    return {
        "tag": one.life.tag,
        "kind": one.life.kind,
        "for": one.life.payer,
        "skins": str(one.skins),
        "part_of": one.whole.tag if one.life.parent else None,
        "came_through": one.came_through,
        "leather_when_it_came": one.leather,
        "for_nothing": one.for_nothing or None,
        "ended_as": one.life.ended_as or None,
        "materials": money_record(one.materials),
        "work": None if one.work is None else money_record(one.work),
        "lost_hides": money_record(one.carried),
        "total": money_record(one.total),
        "without_price": list(one.unpriced),
        "shared_by_counts": list(one.by_counts),
        "sent_out": None if away is None else money_record(away),
    }
