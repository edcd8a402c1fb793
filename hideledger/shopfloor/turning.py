"""What a drum turned is counted once: `ran 8:25 to 9:10`, written afterwards, is the truth of the turn it tells of."""

from __future__ import annotations

from hideledger.model.moments import MINUTE
from hideledger.shopfloor.floor import Floor, Oddity
from hideledger.shopfloor.life import BathLife, Turn

# A start written from memory, and an end that an `off` tells of too, are so far off at most (common practice, no source).
_START_FROM_MEMORY, _SAME_END = 15 * MINUTE, 3 * MINUTE


def same_end(off: int, end: int) -> bool:
    """Whether an `off` (UTC seconds) tells of the end of a from-and-to once more."""
    return abs(off - end) <= _SAME_END


def settles(ran: Turn, turn: Turn) -> bool:
    """Whether a from-and-to tells of a turn that was begun with `on` above it, and so takes its place.

    Of a turn that nobody wrote `off` for only one that begins with it, or before it, is told: a later one shows that it had stopped.
    """
    if turn.told or not ran.told or ran.end is None or ran.entry.order < turn.entry.order:
        return False
    if turn.end is None or turn.open_ended:
        return turn.start.lo < ran.end.lo and ran.start.lo <= turn.start.hi + _START_FROM_MEMORY
    return turn.start.hi < ran.end.lo and ran.start.lo < turn.end.lo


def stopped_before(ran: Turn, turn: Turn) -> bool:
    """Whether a from-and-to begins while a turn runs that it does not tell of: that one had stopped by then, nobody wrote when."""
    if turn.told or settles(ran, turn) or ran.entry.order < turn.entry.order or turn.start.hi >= ran.start.lo:
        return False
    return turn.end is None or (turn.open_ended and turn.end.lo > ran.start.lo)


def stop_before(ran: Turn, turn: Turn) -> None:
    """Ends a turn without an `off` where the next one began: until then it may have turned."""
    turn.end, turn.end_entry, turn.open_ended = ran.start, ran.entry, True


def count_once(floor: Floor, bath: BathLife) -> None:
    """No minute of turning counts twice, however often it was written. `turns` then stand in time and touch at most."""
    told = [turn for turn in bath.turns if turn.told]
    if told:
        for turn in bath.turns:
            for ran in told:
                if stopped_before(ran, turn):
                    stop_before(ran, turn)
        bath.turns = [turn for turn in bath.turns if not _settled(floor, bath, turn, told)]
    bath.turns.sort(key=lambda turn: turn.start.lo)
    kept: list[Turn] = []
    for turn in bath.turns:
        last = kept[-1] if kept else None
        if last is not None and (last.end is None or turn.start.hi < last.end.lo):
            if last.end is None or (turn.end is not None and turn.end.hi <= last.end.lo):
                continue
            turn.start = last.end
        kept.append(turn)
    bath.turns = kept


def _settled(floor: Floor, bath: BathLife, turn: Turn, told: list[Turn]) -> bool:
    """Whether a from-and-to takes the place of a turn. An `off` at another time than its end is asked about."""
    ran = [one for one in told if settles(one, turn)]
    if not ran:
        return False
    off = turn.end
    ends = [one.end.lo for one in ran if one.end is not None]
    asked = off is not None and off.lo == off.hi and not turn.open_ended
    if asked and off is not None and turn.end_entry is not None and not any(same_end(off.lo, e) for e in ends):
        floor.oddities.append(
            Oddity(sort="twice", tags=(bath.tag,), entry=turn.end_entry, other=ran[-1].entry, note="off")
        )
    return True
