"""`cost`: what hides cost, one by one or together, against sending them out, and what the sum leaves out."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from hideledger.answers.cost.hides import Costs, HideCost, costs
from hideledger.answers.cost.sent import against, sent_out_price
from hideledger.answers.money import money_record, money_said
from hideledger.answers.saying import counted, local_stamp, now_words, tags_said, unread_said, utc_stamp
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.answers.standing import state_of
from hideledger.answers.whose import concerns, hides_meant, person_meant
from hideledger.model.moments import spoken
from hideledger.rules.words import MONTHS, in_order, listed, tag_order
from hideledger.shopfloor.floor import Floor

GROUPS = ("kind", "hide", "load", "customer", "month")
_NOTHING = Fraction(0)


def cost(floor: Floor, about: Sequence[str], by: str) -> Sheet:
    """The costs of the hides that `about` names (all of them when it is empty), grouped `by` kind, hide, load, customer or month.

    Raises NothingFound.
    """
    found = costs(floor)
    hides, whom = _wanted(found, floor, about)
    clock, at = floor.book.clock, floor.at
    unread = f", {unread_said(floor.book)} of the book not understood" if floor.book.unread else ""
    sections = [Section(heading=_HEADINGS[by], rows=tuple(_grouped(hides, found, by)))]
    if about and by == "hide":
        sections += [_detail(one, found) for one in hides if one.shares or one.seconds]
    sections += [
        Section(heading="Against sending out", rows=tuple(against(hides, found, floor, whole=not about))),
        Section(heading="In no hide", rows=() if about else tuple(_in_none(found))),
        Section(heading="Not in the sum", rows=tuple(_left_out(hides, found, floor, whole=not about))),
    ]
    return Sheet(
        title=f"What a hide costs{f', {whom}' if whom else ''}, {now_words(at, clock)}{unread}",
        sections=tuple(section for section in sections if section.rows),
        record={
            "schema": 1,
            "at": utc_stamp(at, clock),
            "at_local": local_stamp(at, clock),
            "currency": found.sign,
            "hides": [_record(one, found, floor) for one in hides],
            "in_no_hide": {
                "shop": money_record(found.own_use),
                "gone_at_counts": money_record(found.gone),
                "baths_nobody_was_in": money_record(sum((money for _, money in found.empty), _NOTHING)),
            },
            "unread": len(floor.book.unread),
        },
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
    words = [word.rstrip(",").casefold() for word in about]
    if all(word in baths for word in words):
        tags = [baths[word] for word in words]
        inside = {id(m.hide) for tag in tags for bath in floor.baths[tag] for m in bath.members}
        return [one for one in alive if id(one.life) in inside], listed(tags)
    lives = hides_meant(floor, about)
    if lives is not None:
        wanted = {id(life) for life in lives}
        return [one for one in found.hides if id(one.life) in wanted], listed(in_order(life.tag for life in lives))
    name = person_meant(floor, about)
    return [one for one in alive if concerns(one.life, name)], name


def _grouped(hides: list[HideCost], found: Costs, by: str) -> list[Row]:
    if by == "load":
        return _by_load(hides, found)
    if by == "hide":
        row = sorted(hides, key=lambda one: tag_order(one.life.tag))
        return [_hide_row(one, found) for one in row if one.total or one.unpriced or one.came_through]
    groups: dict[str, list[HideCost]] = {}
    for one in hides:
        groups.setdefault(_group_of(one, by), []).append(one)
    return [_group_row(name, groups[name], found, by) for name in sorted(groups)]


def _group_of(one: HideCost, by: str) -> str:
    life = one.life
    if by == "customer":
        return life.payer or "nobody named"
    if by == "month":
        return date.fromordinal(life.arrived_when.day).isoformat()[:7]
    return life.kind or "kind not written"


def _group_row(name: str, several: list[HideCost], found: Costs, by: str) -> Row:
    through = [one for one in several if one.came_through]
    lost = [one for one in several if one.life.ended_as == "lost"]
    rest = len(several) - len(through) - len(lost) - sum(1 for one in several if one.life.ended_as == "refused")
    under = []
    if through:
        whole = sum((one.total for one in through), _NOTHING)
        text = f"{counted(len(through), 'hide')} at {money_said(whole / len(through), found.sign)} each, {money_said(whole, found.sign)}{_at_least(through)}"
        under.append(("", _made_of(through, found.sign)))
    else:
        text = "none came through so far"
    if lost:
        spent = sum((one.materials + (one.work or _NOTHING) for one in lost), _NOTHING)
        under.append(("lost", f"{tags_said(in_order(one.life.tag for one in lost))}: {money_said(spent, found.sign)}"))
    if rest:
        spent = sum((one.total for one in several if one.life.here and not one.came_through), _NOTHING)
        under.append(("in work", f"{counted(rest, 'hide')}, {money_said(spent, found.sign)} so far"))
    head = name if by != "month" else f"{MONTHS[int(name[5:]) - 1]} {name[:4]}"
    return Row(head=head, text=text, under=tuple(under), plain=(name, text))


def _made_of(several: Sequence[HideCost], sign: str) -> str:
    """`materials $2.64, work $8.00, lost hides $0.40`, a hide."""
    number = len(several)
    parts = [f"materials {money_said(sum((one.materials for one in several), _NOTHING) / number, sign)}"]
    if any(one.work is not None for one in several):
        parts.append(f"work {money_said(sum((one.work or _NOTHING for one in several), _NOTHING) / number, sign)}")
    carried = sum((one.carried for one in several), _NOTHING) / number
    if carried:
        parts.append(f"its part of the lost ones {money_said(carried, sign)}")
    return f"a hide: {', '.join(parts)}" if number > 1 else ", ".join(parts)


def _at_least(several: Sequence[HideCost]) -> str:
    unpriced = dict.fromkeys(name for one in several for name in one.unpriced)
    return (
        f" at the least, since {listed(list(unpriced))} {'has' if len(unpriced) == 1 else 'have'} no price"
        if unpriced
        else ""
    )


def _hide_row(one: HideCost, found: Costs) -> Row:
    life = one.life
    state = life.ended_as if not life.here else "ready" if one.came_through else state_of(life)
    text = f"{money_said(one.total, found.sign)}{_at_least([one])}, {life.kind or 'kind not written'}, {state}"
    return Row(head=life.tag, text=text, under=(("", _made_of([one], found.sign)),), plain=(life.tag, text))


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
        skins = len({id(member.hide) for member in bath.members})
        each = f", {money_said(whole / skins, found.sign)} a skin, shared by {by}" if skins else ""
        text = f"{named + ': ' if named else ''}{money_said(whole, found.sign)}{least} for {counted(skins, 'skin')}{each}{standing}"
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
        whole = next((total for bath, total in found.baths if bath is share.bath), _NOTHING)
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


def _in_none(found: Costs) -> list[Row]:
    rows = []
    if found.own_use:
        rows.append(
            Row(head="shop", text=f"{money_said(found.own_use, found.sign)} used for what no bath and no hide tells")
        )
    for bath, money in found.empty:
        rows.append(Row(head=bath.tag, text=f"{money_said(money, found.sign)}, nobody was in it so far"))
    if found.gone:
        rows.append(Row(head="gone", text=f"{money_said(found.gone, found.sign)} by the counts, that no line tells of"))
    return rows


def _left_out(hides: Sequence[HideCost], found: Costs, floor: Floor, *, whole: bool) -> list[Row]:
    """What a reader would otherwise take to be in the figure."""
    said = []
    if not any(one.work is not None for one in found.hides):
        said.append(
            "work: the shop file states none; `labour $24 per h` under shop, and `takes 20 min` on each step that wants hands"
        )
    else:
        untimed = dict.fromkeys(name for one in hides for name in one.untimed)
        if untimed:
            said.append(f"work at {listed(list(untimed))}, which have no `takes` in the process; and work on a bath")
        else:
            said.append("work on a bath: mixing, reading, stirring, letting go")
    said.append("heat, water, waste, room, tools worn out")
    if found.lost and not any(one.carried for one in found.hides):
        said.append(
            f"{money_said(found.lost, found.sign)} for lost hides: nothing came through yet that could carry it"
        )
    elif not found.lost:
        said.append("lost hides: none so far that had cost anything")
    unpriced = dict.fromkeys(name for one in hides for name in one.unpriced)
    if unpriced:
        said.append(
            f"{listed(list(unpriced))}: no price is known; write it where it is bought, `bought 5 lb {next(iter(unpriced))}, $4.00`, or on its supply line"
        )
    by_counts = dict.fromkeys(tag for one in hides for tag in one.by_counts)
    if by_counts:
        said.append(
            f"weights: {listed(in_order(by_counts))} {'was' if len(by_counts) == 1 else 'were'} shared by counts, since a skin in it was never weighed"
        )
    if whole:
        said += [
            f"{odd.amount.quantity} {odd.amount.supply} ({odd.entry.at.short}): {odd.why}"
            for odd in found.lines.not_reckoned
        ]
    inside = {id(one.life) for one in hides}
    silent = [bath.tag for bath in found.lines.no_amounts if any(id(m.hide) in inside for m in bath.members)]
    if silent:
        said.append(f"{listed(in_order(silent))}: mixed by a recipe and no amounts written")
    if any(sent_out_price(one.life, floor, found.sign) is not None for one in hides if one.came_through):
        said.append(
            "of sending out: insurance, packing, the months of waiting, and hides lost there; several in one parcel share its freight"
        )
    return [Row(text=text, plain=("not in the sum", text)) for text in said]


def _record(one: HideCost, found: Costs, floor: Floor) -> dict[str, object]:
    away = sent_out_price(one.life, floor, found.sign)
    return {
        "tag": one.life.tag,
        "kind": one.life.kind,
        "for": one.life.payer,
        "came_through": one.came_through,
        "ended_as": one.life.ended_as or None,
        "materials": money_record(one.materials),
        "work": None if one.work is None else money_record(one.work),
        "lost_hides": money_record(one.carried),
        "total": money_record(one.total),
        "without_price": list(one.unpriced),
        "shared_by_counts": list(one.by_counts),
        "sent_out": None if away is None else money_record(away),
    }
