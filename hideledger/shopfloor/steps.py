"""Any step ends the stay before it; a rest only holds the clock; tests, weights and readings end nothing."""

from __future__ import annotations

from hideledger.model.entry import Entry
from hideledger.model.facts import Fact, LiftedOut, Skipped, Stepped
from hideledger.model.moments import Clock, When
from hideledger.shopfloor.afoot import BathAfoot, HideAfoot, Walk, not_before
from hideledger.shopfloor.lengths import Apart
from hideledger.shopfloor.life import BathLife, HideLife, Pause, Stay, StepMark
from hideledger.shopfloor.members import await_bath, come_out, go_in, stays_where, stop_waiting

Told = tuple[When, When | None]  # when a step began, and when it was over where the line says so


def told_times(facts: tuple[Fact, ...], when: When, clock: Clock) -> dict[int, Told] | None:
    """A step of a line may have its own times: `neutralised 20 min` was written when it was over.

    Keyed by the fact's place in the line. Steps stand in written order, so each ends when the next one began. None: no
    step has its own times.
    """
    if not any(isinstance(fact, Stepped) and fact.span is not None for fact in facts):
        return None
    times: dict[int, Told] = {}
    now = _late_enough(facts, when)
    for i in range(len(facts) - 1, -1, -1):
        fact = facts[i]
        if not isinstance(fact, Stepped):
            continue
        span = fact.span
        if span is None:
            times[i] = (now, None)
        elif span.length is not None:
            began = Apart(now, -span.length.about_seconds)
            times[i] = (began, now)
            now = began
        elif span.start is not None:
            start = clock.opening(when.day, span.start)
            over: When | None = None
            if span.end is not None:
                end = clock.opening(when.day + (span.end < span.start), span.end)
                over = When(end, end, when.day, True)
            now = When(start, start, when.day, True)
            times[i] = (now, over)
        else:
            times[i] = (now, None)
    return times


def _late_enough(facts: tuple[Fact, ...], when: When) -> When:
    """Where a line without a time says how long its steps took, it lies that much behind the line above it."""
    if when.timed:
        return when
    spans = [fact.span for fact in facts if isinstance(fact, Stepped) and fact.span is not None]
    return when.within(when.lo + sum(s.length.about_seconds for s in spans if s.length is not None), when.hi)


def take_step(
    walk: Walk, hide: HideAfoot, entry: Entry, when: When, fact: Stepped, *, over: When | None, door: bool
) -> None:
    """The hide goes on to a step, or to a rest, or is thawed. `door`: told on its arrival line."""
    name = fact.step
    if name == "thawed":
        end_rest(walk, hide, when, entry)
        return
    if name in walk.rests:
        begin_rest(walk, hide, entry, when, name, fact.where)
        return
    bath = walk.bath_at(fact.where, entry, when) if fact.where else None
    if not name and fact.back:
        name = _last_step_in(hide, fact.where, bath)
    where = fact.where
    if not where and not door and (where := stays_where(walk, hide, name)):
        bath = hide.bath or walk.bath_at(where, entry, when)
    life, stay = hide.life, hide.stay
    for last in reversed(life.marks):
        if last.when.lo != when.lo or not (when.timed and last.when.timed) or last.entry is entry:
            break
        same_place = last.where == where or (bath is not None and hide.bath is bath)
        if last.name == name and same_place:
            walk.oddity("twice", (life.tag,), entry, last.entry, "" if last.where == where else "step")
            return
        if last.where and where and not same_place:
            walk.oddity("in two places", (life.tag,), entry, last.entry)
            break

    elsewhere = door and bath is None
    if hide.pause is not None and not elsewhere:
        _thaw_unseen(walk, hide, entry, when)
    moved = stay is not None and stay.name == name and not fact.back and _moves(hide, stay, where, bath)
    mark = StepMark(
        entry=entry,
        when=when,
        name=name,
        where=where,
        on_purpose=fact.back or hide.failed,
        elsewhere=elsewhere,
        moved=moved,
    )
    life.marks.append(mark)
    hide.course.append((when, "step", entry, mark))
    hide.failed = False
    if stay is not None:
        turn = bath.turn if bath is not None and hide.bath is bath and not fact.where else None
        if turn is not None and bath is not None:  # it does not come out, so what turns goes on turning
            bath.turn = None
        end_stay(walk, hide, when, entry)
        if turn is not None and bath is not None:
            bath.turn = turn
    elif over is not None:
        _out_before_it_was_dumped(walk, life, entry, when)
    if elsewhere:
        return
    into_bath = bath is not None or walk.sorts.get(where) in ("bath", "vessel")
    if into_bath or over is not None or moved or fact.back or name in walk.holding:
        begun = (stay.begun or stay.start) if moved and stay is not None else when
        _begin_stay(walk, hide, mark, bath, begun, over)
    else:
        walk.stand(hide, where, when)


def _out_before_it_was_dumped(walk: Walk, life: HideLife, entry: Entry, when: When) -> None:
    """A step written afterwards began before the bath that the hide had been in was let go: it was not in it any more."""
    stay = life.stays[-1] if life.stays else None
    if stay is None or stay.end is None or stay.bath is None or stay.end_entry is None:
        return
    if stay.end_entry is not stay.bath.ended or not stay.start.lo <= when.lo < stay.end.lo:
        return
    for oddity in walk.floor.oddities:
        if oddity.sort == "dumped with hides in" and oddity.entry is stay.end_entry:
            oddity.tags = tuple(tag for tag in oddity.tags if tag != life.tag)
    walk.floor.oddities[:] = [
        oddity
        for oddity in walk.floor.oddities
        if oddity.sort != "dumped with hides in" or oddity.tags != (stay.bath.tag,)
    ]
    stay.end, stay.end_entry = when, entry
    for member in stay.bath.members:
        if member.hide is life and member.stay is stay:
            member.leave = not_before(when, member.enter)


def _moves(hide: HideAfoot, stay: Stay, where: str, bath: BathAfoot | None) -> bool:
    """Whether the same step written again only moves the hide, or takes it up again after a rest."""
    if hide.rested:
        return True
    if bath is not None:
        return stay.bath is not bath.life
    return bool(where) and where != stay.where


def _last_step_in(hide: HideAfoot, where: str, bath: BathAfoot | None) -> str:
    """`back in P3` names no step: it is the one that the hide was in P3 for, else the one others were last in P3 for and this
    hide has been through, else the last it was in any bath for.
    """
    tags = {where} if bath is None else {where, bath.life.tag}
    for stay in reversed(hide.life.stays):
        if stay.where in tags or (stay.bath is not None and stay.bath.tag in tags):
            return stay.name
    been = {stay.name for stay in hide.life.stays}
    if bath is not None:
        for member in reversed(bath.life.members):
            if member.stay.name in been:
                return member.stay.name
    return next((stay.name for stay in reversed(hide.life.stays) if stay.bath is not None), "")


def _begin_stay(
    walk: Walk, hide: HideAfoot, mark: StepMark, bath: BathAfoot | None, begun: When, over: When | None
) -> None:
    stay = Stay(
        mark=mark,
        start=mark.when,
        where=mark.where,
        bath=None if bath is None else bath.life,
        goes_on=mark.moved,
        begun=begun,
        told=over is not None,
    )
    hide.life.stays.append(stay)
    hide.stay, hide.rested = stay, False
    if bath is not None:
        go_in(walk, hide, stay, bath, mark.when)
    else:
        walk.stand(hide, mark.where, mark.when)
        if walk.sorts.get(mark.where) in ("bath", "vessel"):
            await_bath(walk, hide, mark.where)
            if over is not None:
                walk.told_ahead.setdefault(mark.where, []).append((hide, stay, over))
    if over is not None:
        end_stay(walk, hide, over, mark.entry)


def end_stay(walk: Walk, hide: HideAfoot, when: When, entry: Entry | None) -> None:
    """The stay the hide is in is over, and it is in no bath and no place until the next line says so."""
    stay = hide.stay
    if stay is None:
        return
    stay.end, stay.end_entry = not_before(when, stay.start), entry
    if hide.bath is not None and entry is not None:
        come_out(hide, when, entry)
    stop_waiting(walk, hide)
    hide.stay = None
    walk.stand(hide, "", stay.end)


def go_on_in(walk: Walk, hide: HideAfoot, bath: BathLife, entry: Entry, when: When) -> None:
    """The bath around the hide is made anew: the same stay goes on in the new one."""
    stay = hide.stay
    if stay is None:
        return
    end_stay(walk, hide, when, entry)
    start = stay.end or when
    begun = stay.begun or stay.start
    hide.stay = Stay(mark=stay.mark, start=start, where=stay.where, bath=bath, goes_on=True, begun=begun)
    hide.life.stays.append(hide.stay)


def lift_out(walk: Walk, hide: HideAfoot, entry: Entry, when: When, fact: LiftedOut) -> None:
    """Taken out of a bath, vessel or place: the stay there ends and none begins. Out of the freezer, it thaws."""
    where, stay = fact.where, hide.stay
    bath = walk.bath(where)
    if hide.pause is not None and bath is None:
        end_rest(walk, hide, when, entry)
        return
    if stay is None:
        walk.stand(hide, "", when)
        return
    if hide.bath is not None and bath is not hide.bath and hide.bath.life.vessel != where:
        walk.oddity("in two places", (hide.life.tag,), entry, stay.mark.entry, hide.bath.life.tag)
        return
    end_stay(walk, hide, when, entry)


def skip(hide: HideAfoot, entry: Entry, when: When, fact: Skipped) -> None:
    """A step left out on purpose: written, so not missing, and no end of the stay."""
    hide.life.marks.append(StepMark(entry=entry, when=when, name=fact.step, skipped=True))


# --- rests
# --------------------------------------------------------------------------------------------------------------


def begin_rest(
    walk: Walk, hide: HideAfoot, entry: Entry, when: When, name: str, where: str, *, from_door: bool = False
) -> None:
    """A rest begins. What came in frozen and is then put into the freezer rests on."""
    pause = hide.pause
    if not where and name == "frozen" and "freezer" in walk.shop.spots:
        where = "freezer"
    if pause is not None and pause.name == name:
        if where:
            pause.place = where
            walk.stand(hide, where, when)
        return
    if pause is not None:
        end_rest(walk, hide, when, entry)
    after = next((mark for mark in reversed(hide.life.marks) if not mark.skipped), None)
    pause = Pause(name=name, start=when, entry=entry, place=where, from_door=from_door, after=after)
    hide.life.pauses.append(pause)
    hide.course.append((when, "rest", entry, name))
    hide.pause, hide.rested = pause, True
    bath = walk.bath(where) if where else None
    if hide.bath is not None and bath is not hide.bath and (where or name == "frozen"):
        come_out(hide, when, entry)
    if where or hide.bath is None:
        walk.stand(hide, where, when)


def end_rest(walk: Walk, hide: HideAfoot, when: When, entry: Entry) -> None:
    """Thawed: the clocks run on where they stood."""
    pause = hide.pause
    if pause is None:
        return
    pause.end, pause.end_entry = not_before(when, pause.start), entry
    hide.course.append((pause.end, "thaw", entry, pause.name))
    hide.pause = None
    if hide.bath is None:
        walk.stand(hide, "", pause.end)


def _thaw_unseen(walk: Walk, hide: HideAfoot, entry: Entry, when: When) -> None:
    """A step straight after a rest: it was thawed at some time between, and nobody wrote when."""
    pause = hide.pause
    if pause is None:
        return
    pause.end = When(pause.start.lo, max(pause.start.lo, when.hi), when.day, False)
    hide.course.append((pause.end, "thaw", entry, pause.name))
    hide.pause = None
    walk.oddity("late thaw", (hide.life.tag,), entry, pause.entry, pause.name)
    if hide.bath is None:
        walk.stand(hide, "", pause.end)
