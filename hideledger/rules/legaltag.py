"""The tag of the law: one skin, one tag, as the state gave it out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.names import account
from hideledger.rules.telling import of_line
from hideledger.rules.words import in_order, listed, when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife


def one_legal_tag_twice(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A legal tag is given out for one animal: where two skins bear it, one of the lines names another man's tag."""
    bearing: dict[str, list[HideLife]] = {}
    for life in horizon.lives:
        if "tag" in life.codes:
            bearing.setdefault(life.codes["tag"][0].code.casefold(), []).append(life)
    for lives in bearing.values():
        if len(lives) < 2:
            continue
        skins = skins_of(floor, lives, "tag")
        if len(skins) < 2:
            continue
        tags = in_order(life.tag for skin in skins for life in skin)
        firsts = sorted((skin[0] for skin in skins), key=lambda life: life.codes["tag"][1].order)
        code, entry = firsts[-1].codes["tag"]
        yield of_line(
            floor,
            tags,
            entry,
            name="one legal tag twice",
            when="record",
            message=f"tag {code.code} stands at {listed([life.tag for life in firsts])}, {when_said(horizon.clock, entry.when, horizon.at)}, and one tag is given out for one animal"
            + (
                "" if any("licence" in life.codes for life in firsts) else "; whose licence it goes with is not written"
            ),
            do=f"look at the tags themselves, and write what the wrong one reads, like this: `{firsts[-1].tag} tag 40719`; are they of two states or two hunters, write the licence of each, like this: {listed([f'`{life.tag} licence {7712 + i}`' for i, life in enumerate(firsts[:2])])}",
            more=tuple(dict.fromkeys(f"also {life.codes['tag'][1].at.short}" for life in firsts[:-1])),
            cause=f"legal tag {code.code}",
        )


def skins_of(floor: Floor, lives: Sequence[HideLife], sort: str) -> list[list[HideLife]]:
    """The lives that bear one code of a `sort` (`tag`, `seal`), by the skin they are of; left out those whose licence differs from that of every other.

    One skin are the parts of one that was cut, what stands in for it, a box and what has its code from the box, and one that was handed back
    and comes in again.
    """
    skins: list[tuple[set[str], list[HideLife]]] = []
    for life in lives:
        names = _same_skin(floor, life, sort)
        known = next(
            ((seen, skin) for seen, skin in skins if seen & names or any(_came_back(one, life) for one in skin)), None
        )
        if known is None:
            skins.append((names, [life]))
        else:
            known[0].update(names)
            known[1].append(life)
    row = [skin for _, skin in skins]
    return [skin for skin in row if any(other is not skin and not _two_hunters(skin[0], other[0]) for other in row)]


def _same_skin(floor: Floor, life: HideLife, sort: str) -> set[str]:
    """Its tag, those of what it was cut from or stands in for, and of the box whose own code it took over."""
    names, todo = set[str](), [life.tag, life.stands_in_for]
    while todo:
        name = todo.pop()
        if not name or name in names:
            continue
        names.add(name)
        todo += [one.parent for one in floor.hides.get(name, ())]
        todo += [one.was.tag for one in floor.hides.get(name, ()) if one.was is not None]
    boxes = floor.hides.get(life.from_box, ()) if life.from_box else ()
    if any(_code_line(box, sort) == _code_line(life, sort) for box in boxes):
        names.add(life.from_box)
    return names


def _code_line(life: HideLife, sort: str) -> int | None:
    return life.codes[sort][1].order if sort in life.codes else None


def _came_back(earlier: HideLife, later: HideLife) -> bool:
    """Whether the later may be the earlier one again under a new tag: handed back before, for the same person, and nothing says otherwise."""
    gone = earlier.ended_when
    if earlier.ended_as != "out" or gone is None or gone.lo > later.arrived_when.hi:
        return False
    people = {
        account(one.parties[role][0].name)
        for one in (earlier, later)
        for role in ("owner", "for")
        if role in one.parties
    }
    if len(people) != 1 or not all("owner" in one.parties or "for" in one.parties for one in (earlier, later)):
        return False
    days = {
        one.killed[0].stamp.day
        for one in (earlier, later)
        if one.killed is not None and one.killed[0].stamp is not None
    }
    return len(days) < 2 and (not earlier.kind or not later.kind or earlier.kind == later.kind)


def _two_hunters(one: HideLife, other: HideLife) -> bool:
    """Whether both have a licence written, and not the same: their states may give out the same figures."""
    if "licence" not in one.codes or "licence" not in other.codes:
        return False
    return one.codes["licence"][0].code.casefold() != other.codes["licence"][0].code.casefold()
