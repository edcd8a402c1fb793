"""A bath's readings are its hides' readings: who went into which bath, and when each came out again."""

from __future__ import annotations

from hideledger.model.entry import Entry
from hideledger.model.moments import When
from hideledger.shopfloor.afoot import BathAfoot, HideAfoot, Walk, not_before
from hideledger.shopfloor.life import Member, Stay
from hideledger.shopfloor.settle import Routes


def go_in(walk: Walk, hide: HideAfoot, stay: Stay, bath: BathAfoot, when: When) -> None:
    """The hide goes into the bath; nobody can go into a bath before it was made."""
    when = not_before(when, bath.life.made_when)
    member = Member(hide=hide.life, stay=stay, enter=when)
    bath.life.members.append(member)
    bath.inside[hide] = None
    # A drum does not turn while it is loaded: what ran without an `off` is over for good now.
    bath.stopped = None
    hide.bath, hide.member = bath, member
    walk.stand(hide, bath.life.tag, when)


def come_out(hide: HideAfoot, when: When, entry: Entry) -> None:
    """The hide leaves the bath it is in. The last one out ends a turn that nobody wrote `off` for."""
    bath, member = hide.bath, hide.member
    if bath is None or member is None:
        return
    member.leave = not_before(when, member.enter)
    bath.inside.pop(hide, None)
    hide.bath = hide.member = None
    turn = bath.turn
    if turn is not None and not bath.inside:
        turn.end, turn.end_entry, turn.open_ended = not_before(when, turn.start), entry, True
        bath.turn, bath.stopped = None, turn


def await_bath(walk: Walk, hide: HideAfoot, where: str) -> None:
    """The hide was written into a bath that is mixed only further on."""
    walk.waiting.setdefault(where, {})[hide] = None
    hide.waits_for = where


def stop_waiting(walk: Walk, hide: HideAfoot) -> None:
    """Whatever was to be mixed, the hide is no longer for it."""
    if hide.waits_for:
        walk.waiting.get(hide.waits_for, {}).pop(hide, None)
        hide.waits_for = ""


def stays_where(walk: Walk, hide: HideAfoot, name: str) -> str:
    """A drum is not emptied between two turns: where the hide stays for a step that is done in a bath and names none.

    The place of its present stay, as written there. Empty: it is in no bath, or the step is not of that sort. An open
    tub does not turn: a run that follows a pickle there is one whose drum was not written.
    """
    if name not in walk.in_bath or hide.stay is None or not hide.stay.where:
        return ""
    where = hide.stay.where
    if hide.bath is None and (hide.stay.bath or hide.rested or walk.sorts.get(where) not in ("bath", "vessel")):
        return ""
    route = Routes(walk.shop).of(hide)
    lines = walk.in_bath[name] if route is None else tuple(line for line in route.steps if line.called(name))
    if not lines or not all(line.sort == "run" or line.in_bath for line in lines):
        return ""
    vessel = walk.shop.vessels.get(where if hide.bath is None else hide.bath.life.vessel or where)
    turns = vessel is None or vessel.is_drum or (hide.bath is not None and bool(hide.bath.life.turns))
    return where if turns or all(line.sort != "run" for line in lines) else ""


def went_in_by_then(walk: Walk, bath: BathAfoot) -> None:
    """`neutralised in N1 9:00 to 9:20`, written at 8:40, above the line that mixes N1 at 8:45: the bath is looked for at nine, and stood then."""
    life = bath.life
    for name in dict.fromkeys((life.tag, life.vessel)):
        left: list[tuple[HideAfoot, Stay, When]] = []
        for hide, stay, over in walk.told_ahead.pop(name, []):
            if stay.bath is not None or stay.start.lo < life.made_when.lo:
                left.append((hide, stay, over))
                continue
            stay.bath = life
            end = not_before(over, stay.start)
            life.members.append(Member(hide=hide.life, stay=stay, enter=stay.start, leave=end))
            if not life.lines or life.lines[-1] is not stay.mark.entry:
                life.lines.append(stay.mark.entry)
        if left:
            walk.told_ahead[name] = left
