"""Who is next, in words: for the first screen a line or two each, the look and the line to write once for all of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hideledger.answers.sheet import Row, Section
from hideledger.answers.slip.lives import lives_said, name_of, records_of
from hideledger.answers.slip.shared import Shared
from hideledger.answers.slip.sign import Case
from hideledger.answers.slip.tonight import found_it, found_nothing, own_part, the_look, tonight
from hideledger.answers.slip.who_is_next import Next, lies_in
from hideledger.answers.slip.words import verb
from hideledger.answers.standing import state_of
from hideledger.rules.how_far import can_wait
from hideledger.rules.telling import TAGS
from hideledger.rules.words import in_order, listed, who
from hideledger.shopfloor.life import HideLife

MOST = 6
_MOST_NAMED = 2  # ties named on the first screen; the sisters' list has all of them
_LEAST = 0.2  # of the weight of the foremost that one must have to be told apart from the rest, where there are many


def next_section(case: Case, found: Sequence[Next]) -> Section | None:
    """The skins that are next, those of one state and one company in one row, at most six rows; the others by their tags."""
    if not found:
        return None
    groups = _groups(case, found)
    # nothing can be done with a frozen one
    told = sorted(groups[:MOST], key=lambda several: several[0].life.resting is not None)
    awake = [several for several in told if several[0].life.resting is None]
    fresh = [several for several in awake if not several[0].held]
    rows = []
    if fresh:
        ahead = _ahead(fresh)
        first = lives_said(case.floor, _lives(ahead))
        waits = all(can_wait(several[0].life, case.clock, case.at) for several in fresh)
        rows.append(
            Row(
                head="before it goes" if waits else "tonight",
                text=f"{first}{' first' if len(ahead) < len(fresh) else ''}: {the_look(case.defect)}",
            )
        )
    elif awake:
        rows.append(
            Row(
                head="tonight",
                text="nobody of these: whoever is not frozen was pulled at since the last sign and since it met what it shares, and the hair held",
            )
        )
    read: set[str] = set()
    rows += [_row(case, several, read) for several in told]
    rows += _the_rest(case, found, _lives(told))
    if fresh:
        tags = in_order(life.tag for life in _lives(fresh))
        sound = f"`{who(tags)} {found_nothing(case.defect)}`"
        rows.append(Row(head="write", text=f"{sound}, or of one that is not sound `{tags[0]} {found_it(case.defect)}`"))
    return Section(
        heading=f"Who is next: still here, and tied most strongly to those that {verb(case.defect)}",
        rows=tuple(rows),
        in_plain=tuple(_in_full(case, one) for one in found),
    )


def _groups(case: Case, found: Sequence[Next]) -> list[list[Next]]:
    least = _LEAST * max(one.weight for one in found) if len(found) > MOST else 0.0
    groups: dict[tuple[object, ...], list[Next]] = {}
    for one in found:
        if one.broke or (one.weight >= least and not one.common):
            key = (_state(one), why_said(one), one.held, own_part(case, one.life, held=one.held), one.broke)
            groups.setdefault(key, []).append(one)
    return list(groups.values())


def _ahead(fresh: Sequence[Sequence[Next]]) -> list[Sequence[Next]]:
    """Who is looked at first: the first group, and whoever stands behind it for no more than an owner, a day or a place."""
    first = fresh[0][0]
    level = [
        several
        for several in fresh[1:]
        if several[0].broke == first.broke and several[0].lain >= first.lain and several[0].weight < first.weight
    ]
    return [fresh[0], *level]


def _lives(groups: Sequence[Sequence[Next]]) -> list[HideLife]:
    return [one.life for several in groups for one in several]


def why_said(one: Next) -> str:
    """`in P4 now`, `lay in P4`, `met citric acid lot C-33`: the strongest ties, the nearest first."""
    ties = one.foremost[:_MOST_NAMED]
    return listed([_tie_said(one.life, tie) for tie in ties])


def _tie_said(life: HideLife, tie: Shared) -> str:
    met = tie.met
    if met.sort in ("bath", "load", "place"):
        return f"in {met.name} now" if lies_in(life, tie) else f"lay in {met.name}"
    if met.sort == "lot":
        return f"met {met.name}"
    return {
        "box": f"out of {met.name}",
        "owner": f"for {met.name.removeprefix('owner ')}",
        "day": "came in that day",
    }.get(met.sort, met.name)


def _state(one: Next) -> str:
    """What it is at, and where; of one whose hair held since only where, since nothing is to be done with it."""
    life = one.life
    bath = life.stay.bath if life.stay is not None and life.resting is None else None
    if one.held and bath is not None:
        return "" if one.in_it_now else f"now in {bath.tag}"
    where = life.stay.where if life.stay is not None else ""
    if life.resting is not None:
        where = life.resting.place
    return state_of(life) + (f" in {where}" if where and not one.in_it_now else "")


def _row(case: Case, several: Sequence[Next], read: set[str]) -> Row:
    """One group. `read` are the baths whose reading was asked for in a row above: once is enough, and this one's is added."""
    first = several[0]
    tags = in_order(one.life.tag for one in several)
    broke = f"broke the same limit: {first.broke}" if first.broke else ""
    held = f"{'its' if len(tags) == 1 else 'their'} hair held since" if first.held else ""
    said = "; ".join(part for part in (broke, why_said(first), held, _state(first)) if part)
    bath = first.life.stay.bath if first.life.stay is not None and first.life.resting is None else None
    own = own_part(case, first.life, read=bath is not None and bath.tag in read, held=first.held)
    if bath is not None and not first.held:
        read.add(bath.tag)
    return Row(
        head=lives_said(case.floor, (one.life for one in several)),
        text=said + (f": {own.replace(TAGS, who(tags))}" if own else ""),
    )


def _the_rest(case: Case, found: Sequence[Next], named: Sequence[HideLife]) -> Iterator[Row]:
    rest = [one.life for one in found if one.life not in named and not one.common]
    most = [one for one in found if one.common]
    if rest:
        yield Row(head=f"and {len(rest)} more", text=f"tied less strongly: {lives_said(case.floor, rest)}")
    if most:
        things = list(dict.fromkeys(shared.said for one in most for shared in one.shares))
        tags = lives_said(case.floor, (one.life for one in most))
        yield Row(head=f"and {len(most)} more", text=f"share only what most skins here share, {listed(things)}: {tags}")


def _in_full(case: Case, one: Next) -> Row:
    """Everything of one skin in one row, for a search: what it shares, all that is to be done, and whom to tell."""
    life = one.life
    broke = f"broke the same limit: {one.broke}" if one.broke else ""
    shares = f"shares {listed([shared.said for shared in one.shares])}" if one.shares else ""
    held = "its hair held since" if one.held else ""
    common = "shares only what most skins here share" if one.common else ""
    where = life.stay.where if life.stay is not None else ""
    state = state_of(life) + (f" in {where}" if where else "")
    return Row(
        head=name_of(case.floor, life),
        text="; ".join(part for part in (state, broke, shares, common, held) if part),
        under=(("do", tonight(case, life).replace(TAGS, life.tag)), *(("for", owner) for owner, _ in _owners([one]))),
    )


def whom_to_tell(case: Case, found: Sequence[Next]) -> Section | None:
    """One fault of a bath touches every owner in it: whom to tell, of which of the foremost skins, and what was promised."""
    told = [one for several in _groups(case, found)[:MOST] for one in several] if found else []
    rows = tuple(Row(head=lives_said(case.floor, those), text=owner) for owner, those in _owners(told))
    return Section(heading="Whose they are, and for when", rows=rows, in_plain=()) if rows else None


def _owners(several: Sequence[Next]) -> Iterator[tuple[str, list[HideLife]]]:
    told: dict[str, list[HideLife]] = {}
    for one in several:
        promised = f", promised {one.life.promised[0].day.isoformat()}" if one.life.promised is not None else ""
        if one.life.payer:
            told.setdefault(f"{one.life.payer}{promised}", []).append(one.life)
    yield from told.items()


def next_records(case: Case, found: Sequence[Next]) -> Iterator[dict[str, object]]:
    """The same for a program."""
    for one in found:
        yield {
            "tag": one.life.tag,
            "state": state_of(one.life),
            "shares": [shared.said for shared in one.shares],
            "held_since": one.held,
            "do": tonight(case, one.life).replace(TAGS, one.life.tag),
            "broke": one.broke or None,
            "common": one.common,
            "foremost": [shared.said for shared in one.foremost],
            **records_of(case.floor, [one.life])[0],
        }
