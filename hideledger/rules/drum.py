"""The drum: how long it stands loaded, and when a run is over."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hideledger.model.entry import Entry
from hideledger.model.moments import When, spoken
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.spans import current_spell, next_step, turned
from hideledger.rules.telling import TAGS, bath_cause, of_bath, of_hide, stay_cause, twice_told
from hideledger.rules.words import stamp, when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife, HideLife, Turn


def drum_standing_loaded(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A drum that stands loaded leaves the skins in a heap: they warm, crease, and take the liquor unevenly."""
    clock, at = horizon.clock, horizon.at
    for bath in horizon.baths:
        vessel = floor.book.shop.vessels.get(bath.vessel)
        if vessel is None or vessel.stands is None:
            continue
        stands = vessel.stands
        for start, end, stopped, hides in _still(bath):
            fell_lo, fell_hi = stands.after(start.lo, clock), stands.after(start.hi, clock)
            since = when_said(clock, start, at)
            if end is not None:
                if end.lo > fell_hi:
                    late = {id(m.hide) for m in bath.members if m.leave is None or m.leave.lo > fell_hi}
                    yield of_bath(
                        bath,
                        [life for life in hides if id(life) in late],
                        name="drum standing loaded",
                        when="record",
                        message=f"stood loaded for {spoken(end.lo - start.hi)} from {since}, {stands} at most",
                        do=f"if it turned in that time, write it late, with its own date and time: `{bath.tag} on`, and `{bath.tag} off`",
                        entry=stopped,
                        rule=vessel.place,
                        since=fell_hi,
                        over_s=end.lo - fell_hi,
                        limit_s=stands.about_seconds,
                        cause=bath_cause(bath),
                        more=twice_told(clock, at, start, end),
                        begun=start.lo,
                        days=(start.day, end.day),
                    )
                continue
            by = horizon.hours.act_by(fell_lo)
            broken, may = at > fell_lo, fell_lo < at <= fell_hi
            if not broken and by > horizon.end:
                continue
            fell = fell_lo if may or not broken else fell_hi
            state = horizon.over(fell, may=may) if broken else horizon.time_is_up(fell)
            yield of_bath(
                bath,
                hides,
                name="drum standing loaded",
                when="now" if broken else "tonight",
                message=f"standing loaded since {since}, {stands} at most: {state}",
                held=f"standing loaded since {since}, {stands} at most",
                do=f"turn it or empty it, and write: `{bath.tag} on`, or `{TAGS} out of {bath.tag}`",
                entry=stopped,
                rule=vessel.place,
                may=may,
                since=fell,
                over_s=at - fell if broken else min(0, at - by),
                limit_s=stands.about_seconds,
                more=twice_told(clock, at, start),
                cause=bath_cause(bath),
                begun=start.lo,
            )


def _still(bath: BathLife) -> Iterator[tuple[When, When | None, Entry, list[HideLife]]]:
    """The stretches a load stood still with hides in it: from, to (None: it stands now), the line that
    stopped it or put the first one in, and the hides."""
    if not bath.members:
        return
    first = min(bath.members, key=lambda member: member.enter.lo)
    since, stopped = first.enter, first.stay.mark.entry
    for turn in bath.turns:
        if turn.start.lo > since.hi:
            still = {id(m.hide) for m in bath.inside(turn.start.lo)}
            inside = list({id(m.hide): m.hide for m in bath.inside(since.hi) if id(m.hide) in still}.values())
            if inside:
                yield since, turn.start, stopped, inside
        if turn.end is None:
            return
        if turn.end.lo > since.lo:
            since, stopped = turn.end, turn.end_entry or turn.entry
    if bath.now_in:
        yield since, None, stopped, [member.hide for member in bath.now_in]
        return
    last = max((member.leave for member in bath.members if member.leave is not None), key=lambda when: when.hi)
    inside = [member.hide for member in bath.inside(since.hi)]
    if inside and last.lo > since.hi:
        yield since, last, stopped, inside


def run_complete_no_cut(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """The cut ends a run, not the hour: only the color through the thickest place tells that the liquor has gone in."""
    for life in horizon.here:
        spell = current_spell(life)
        line = spell[-1].line if spell else None
        if line is None or line.sort != "run" or spell[-1].turning_now:
            continue
        limits, following = line.limits_for(life.kind), next_step(life)
        if limits is None or limits.least is None or following is None:
            continue
        wanted = [test for test in following.needs if "cut" in test]
        least = turned(spell)[0]
        if not wanted or least < limits.least.about_seconds:
            continue
        start = spell[0].start
        if any(test.fact.test in wanted and test.when.hi >= start.lo for test in life.tests):
            continue
        stay = spell[-1]
        yield of_hide(
            life,
            name="run complete without a cut",
            when="now",
            message=f"turned {spoken(least)} in {line.title}, {limits.least} at least, and no {wanted[0]} is written",
            do=f"vent it, cut the thickest one at the thickest place and write: `{TAGS} {wanted[0]} ok`, or `{TAGS} "
            f"{wanted[0]} fails`",
            entry=stay.mark.entry,
            bath=stay.bath,
            rule=following.place,
            since=None if stay.bath is None or not stay.bath.turns else _end(stay.bath.turns[-1]),
            rings=False,
            cause=stay_cause(stay),
            begun=start.lo,
        )


def _end(turn: Turn) -> int | None:
    return None if turn.end is None else turn.end.hi


def run_ends_after_closing(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A drum is not left turning with nobody by it: what cannot end before closing is begun in the morning."""
    if not horizon.hours.is_open(horizon.at):
        return
    closing = horizon.hours.closing(horizon.today)
    for life in horizon.here:
        spell = current_spell(life)
        line = spell[-1].line if spell else None
        limits = None if line is None else line.limits_for(life.kind)
        if line is None or line.sort != "run" or limits is None or limits.least is None or not spell[-1].where:
            continue  # in no load that is written: that is asked for, and nothing can be turned on before
        left = limits.least.about_seconds - turned(spell)[0]
        if left <= 0 or horizon.at + left <= closing:
            continue
        stay = spell[-1]
        yield of_hide(
            life,
            name="run ends after closing",
            when="tonight",
            message=(
                f"{line.title} has {spoken(left)} to turn yet, and closing is "
                f"{stamp(horizon.clock, closing, horizon.at)}: "
                + ("stop it in time" if stay.turning_now else "begin it tomorrow, or stay with it")
            ),
            do=f"write the stop: `{stay.where} off`"
            if stay.turning_now
            else f"start it when somebody stays: `{stay.where} on`",
            entry=stay.mark.entry,
            bath=stay.bath,
            rule=limits.place,
            since=closing,
            over_s=min(0, horizon.at - closing),
            limit_s=limits.least.about_seconds,
            cause=stay_cause(stay),
            begun=spell[0].start.lo,
        )


def no_off_written(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Only the time it turned counts in a drum, so a start without a stop leaves every skin in it without a time."""
    clock, at = horizon.clock, horizon.at
    for bath in horizon.baths:
        for turn in bath.turns:
            if not turn.open_ended:
                continue
            inside = [
                m.hide
                for m in bath.members
                if m.enter.lo <= turn.start.hi and (m.leave is None or m.leave.hi >= turn.start.lo)
            ]
            until = "" if turn.end is None else f"; the next line ends it {when_said(clock, turn.end, at)}"
            yield of_bath(
                bath,
                inside,
                name="no off written",
                when="record",
                message=f"on since {when_said(clock, turn.start, at)} and no off is written{until}",
                do=f"write when it stopped, with that date and time: `{bath.tag} off`",
                entry=turn.entry,
                may=True,
                since=turn.start.lo,
                more=twice_told(clock, at, turn.start),
                cause=f"{bath_cause(bath)} {turn.entry.order}",
                days=(turn.start.day, turn.start.day if turn.end is None else turn.end.day),
            )
