"""The tag of the law: one skin, one tag, as the state gave it out."""

from __future__ import annotations

from collections.abc import Iterable

from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
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
        skins = _skins(floor, lives)
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


def _skins(floor: Floor, lives: list[HideLife]) -> list[list[HideLife]]:
    """The lives by the skin they are of; those left out whose licence differs from that of every other skin."""
    skins: list[tuple[set[str], list[HideLife]]] = []
    for life in lives:
        names = _same_skin(floor, life)
        known = next(((seen, skin) for seen, skin in skins if seen & names), None)
        if known is None:
            skins.append((names, [life]))
        else:
            known[0].update(names)
            known[1].append(life)
    row = [skin for _, skin in skins]
    return [skin for skin in row if any(other is not skin and not _two_hunters(skin[0], other[0]) for other in row)]


def _same_skin(floor: Floor, life: HideLife) -> set[str]:
    """Its tag, those of what it was cut from or stands in for, and of the box whose own tag it took over."""
    names, todo = set[str](), [life.tag, life.stands_in_for]
    while todo:
        name = todo.pop()
        if not name or name in names:
            continue
        names.add(name)
        todo += [one.parent for one in floor.hides.get(name, ())]
    if life.from_box and any(_code_line(box) == _code_line(life) for box in floor.hides.get(life.from_box, ())):
        names.add(life.from_box)
    return names


def _code_line(life: HideLife) -> int | None:
    return life.codes["tag"][1].order if "tag" in life.codes else None


def _two_hunters(one: HideLife, other: HideLife) -> bool:
    """Whether both have a licence written, and not the same: their states may give out the same figures."""
    if "licence" not in one.codes or "licence" not in other.codes:
        return False
    return one.codes["licence"][0].code.casefold() != other.codes["licence"][0].code.casefold()
