"""A good timetable by rule of thumb: load after load in an order that is given, each put where there is room. Sound, not always the best.

A load is laid out from its vessel to the next stay in which hides may wait as long as they like (or to the door) in one go, so that nobody is put
into a short step without a place to go after it. `patience` is how long a load that is not full waits for company: until so long before the
latest moment that keeps the promise of one of its hides.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from hideledger.trade.timetable import Layout, Spell, Visit, Work
from hideledger.trade.timetable_alone import NEVER, Alone
from hideledger.trade.timetable_bench import Bench
from hideledger.trade.timetable_room import Party, Room


@dataclass(slots=True, kw_only=True, eq=False)
class LoadByLoad:
    """One pass over the moments. `lay_out` is None where the pass got stuck."""

    work: Work
    alone: Alone
    patience: Mapping[str, int]  # by mates
    order: Sequence[int]  # the rank of each hide: the lower goes first
    fill: float = 1.0  # the share of what the largest vessel takes that makes a load worth going at once
    ahead: int = NEVER  # how long before a stay is too long the hide comes before all others
    held: Mapping[int, int] = field(
        default_factory=dict
    )  # the instant before which a hide is not to leave where it is now
    stuck: list[int] = field(default_factory=list)  # who was kept too long where the pass got stuck
    roomy: bool = True  # the vessel with the most room first, else the tightest that takes most
    _parties: list[Party] = field(default_factory=list)
    _visits: list[list[Visit]] = field(default_factory=list)
    _room: Room = field(init=False)
    _bench: Bench | None = None  # the free minutes of the one pair of hands, where a hide wants any
    _tried: bool = False  # a load that should go found no way just now, and may at the next moment

    def lay_out(self) -> Layout | None:
        """The timetable, hide by hide."""
        work = self.work
        self._visits = [[] for _ in work.skins]
        self._room = Room(work)
        self._bench = Bench(work.open) if work.has_bench else None
        whole: dict[int, Party] = {}
        for place, skin in enumerate(work.skins):
            spell = skin.spells[0]
            party = Party(
                skins=[place],
                spell=0,
                since=skin.since,
                tub=skin.tub,
                able=max(skin.since + spell.least, self.held.get(place, 0)),
                must=NEVER if spell.most is None else skin.since + spell.most,
            )
            if skin.tub is not None:
                party.held = self._room.take(skin.tub, skin.since, NEVER, [place], spell.mates)
                if work.tubs[skin.tub].whole and skin.tub in whole:
                    mate = whole[skin.tub]
                    if skin.spells[1:] != work.skins[mate.skins[0]].spells[1:]:
                        return None  # they come out together and then part: more than this rule of thumb knows
                    mate.skins.append(place)
                    mate.able, mate.must = max(mate.able, party.able), min(mate.must, party.must)
                    assert mate.held is not None
                    mate.held.counts, mate.held.weight = mate.held.counts + skin.counts, mate.held.weight + skin.weight
                    self._room.give_back(skin.tub, party.held)
                    continue
                if work.tubs[skin.tub].whole:
                    whole[skin.tub] = party
            self._parties.append(party)
        wake = 0
        for at, now in enumerate(work.moments):
            if now < wake:
                continue
            self._tried = False
            self.stuck = [skin for party in self._parties if party.must < now for skin in party.skins]
            if self.stuck:
                return None
            self._room.forget(now)
            while self._one_load(at, now, forced=False):
                pass
            wake = self._next_change(now)
            if wake == NEVER and self._one_load(at, now, forced=True):
                wake = now
            if not self._parties:
                return tuple(tuple(row) for row in self._visits)
        return None

    def _next_change(self, now: int) -> int:
        """From when on something could be done that could not be done now; `NEVER` where all wait for company that does not come."""
        if self._tried:
            return now
        after = [party.able for party in self._parties]
        after += self._room.ends()
        after += [self._slack_end(party) - self._patience(party) for party in self._parties]
        moments = self.work.moments
        after += [moments[bisect_right(moments, party.must) - 1] for party in self._parties if party.must < NEVER]
        return min((one for one in after if one > now), default=NEVER)

    def _patience(self, party: Party) -> int:
        spells = self.work.skins[party.skins[0]].spells
        return next((self.patience[one.mates] for one in spells[party.spell + 1 :] if one.tubs), 0)

    def _one_load(self, at: int, now: int, *, forced: bool) -> bool:
        """Sends one load or one party on at this moment; whether there was one to send."""
        waiting: dict[tuple[object, ...], list[Party]] = {}
        for party in self._parties:
            if party.able > now:
                continue
            spells = self.work.skins[party.skins[0]].spells
            meant = self._meant(spells, party.spell + 1)
            if meant is None:
                if self._send([party], None, at, now):
                    return True
                self._tried = True
                continue
            following = spells[party.spell + 1]
            may_part = following.tubs and following.most is None and party.spell + 2 < len(spells)
            may_part = may_part and not any(self.work.tubs[tub].whole for tub in following.tubs)
            rest = () if may_part else spells[party.spell + 1 :]
            waiting.setdefault((meant.mates, meant.tubs, rest), []).append(party)
        queues = sorted(waiting.values(), key=lambda queue: min(self._first(party, now) for party in queue))
        return any(self._load_from(queue, at, now, forced=forced) for queue in queues)

    @staticmethod
    def _meant(spells: tuple[Spell, ...], spell: int) -> Spell | None:
        """The stay for whose vessel a load is made up: the next, or one that has to follow it closely; None where there is none."""
        for here in spells[spell:]:
            if here.tubs:
                return here
            if here.most is None:
                return None
        return None

    def _first(self, party: Party, now: int) -> tuple[int, int]:
        """Who goes before whom: first those that may stay no longer, then as the order says."""
        urgent = self.ahead >= NEVER or party.must <= now + self.ahead
        return party.must if urgent else NEVER, min(self.order[skin] for skin in party.skins)

    def _slack_end(self, party: Party) -> int:
        """The instant by which a party must go on for all its promises that can still be kept."""
        if party.slack is not None:
            return party.slack
        ends = [NEVER]
        for skin in party.skins:
            if party.spell + 1 < len(self.work.skins[skin].spells):
                latest = self.alone.latest_start(skin, party.spell + 1)
                if latest is not None:
                    ends.append(self.work.moments[latest] if latest >= 0 else self.work.moments[0])
        party.slack = min(ends)
        return party.slack

    def _load_from(self, queue: list[Party], at: int, now: int, *, forced: bool) -> bool:
        queue = sorted(queue, key=lambda party: self._first(party, now))
        spells = self.work.skins[queue[0].skins[0]].spells
        following = spells[queue[0].spell + 1]
        meant = self._meant(spells, queue[0].spell + 1)
        assert meant is not None
        after = self.work.moments[at + 1] if at + 1 < len(self.work.moments) else NEVER
        patience = self.patience[meant.mates]
        pressing = forced or any(p.must < after or self._slack_end(p) - patience <= now for p in queue)
        for tub in sorted(
            following.tubs,
            key=lambda one: (-self._room.free(one, now) if self.roomy else self._room.free(one, now), one),
        ) or (None,):
            load: list[Party] = []
            hands = self._bench
            refused: list[tuple[int, int]] = []  # what is as large as one that found no room finds none beside more
            for party in queue:
                size = self._size(party)
                if any(size[0] >= counts and size[1] >= weight for counts, weight in refused):
                    continue
                skins = [skin for one in (*load, party) for skin in one.skins]
                then = None if hands is None else self._with_hands(hands, party, now)
                if hands is not None and then is None:
                    self._tried = True  # there will be hands later
                    continue
                if self._way(queue[0].spell + 1, spells, tub, at, skins, [*load, party], [], then):
                    load.append(party)
                    hands = then
                elif party.held is None:
                    refused.append(size)
            if not load:
                self._tried |= following.most is not None or queue[0].spell + 2 == len(spells)
                continue  # where time is not limited only room was wanting, and the next moment brings none
            if not pressing and sum(self._size(party)[0] for party in load) < self._enough(meant):
                continue
            return self._send(load, tub, at, now)
        return False

    def _size(self, party: Party) -> tuple[int, int]:
        if party.size is None:
            skins = [self.work.skins[place] for place in party.skins]
            party.size = sum(one.counts for one in skins), sum(one.weight for one in skins)
        return party.size

    def _enough(self, meant: Spell) -> float:
        """What makes a load worth going at once: a share of the largest vessel, or of all that have such a stay before them."""
        wanting = sum(
            self.work.skins[skin].counts
            for party in self._parties
            for skin in party.skins
            if any(spell.mates == meant.mates for spell in self.work.skins[skin].spells[party.spell + 1 :])
        )
        return self.fill * min(self._room.largest(meant), wanting)

    def _send(self, load: list[Party], tub: int | None, at: int, now: int) -> bool:
        """Lays a load out from here to where it may wait, or to the door; False where there is no such way."""
        skins = [skin for party in load for skin in party.skins]
        spells = self.work.skins[skins[0]].spells
        spell = load[0].spell + 1
        bench: Bench | None = self._bench
        for party in load if self._bench is not None else ():
            bench = None if bench is None else self._with_hands(bench, party, now)
        if self._bench is not None and bench is None:
            return False
        if spell == len(spells):
            self._bench = bench
            for party in load:
                self._leave(party, now)
            return True
        way: list[tuple[int | None, int, int]] = []
        if not self._way(spell, spells, tub, at, skins, load, way, bench):
            return False
        for limits, (_, start, end) in zip(spells[spell:], way, strict=False):
            if end < NEVER and bench is not None:
                bench = bench.after(start + limits.least, end, limits.work, len(skins))
        self._bench = bench
        for party in load:
            self._leave(party, now)
        arrived = Party(skins=skins, spell=spell, since=now, tub=tub)
        for place, (where, start, end) in enumerate(way):
            here = spells[spell + place]
            arrived.spell, arrived.since, arrived.tub = spell + place, start, where
            arrived.held = None if where is None else self._room.take(where, start, end, skins, here.mates)
            if end < NEVER:
                for skin in skins:
                    self._visits[skin].append(Visit(where, start, end))
        if way[-1][2] == NEVER:
            self._settle(arrived, load)
        return True

    def _settle(self, arrived: Party, load: list[Party]) -> None:
        """Where they may wait each goes on by itself, unless the vessel is emptied whole. A load may be of several ways."""
        least = self.work.skins[arrived.skins[0]].spells[arrived.spell].least
        if arrived.tub is not None and self.work.tubs[arrived.tub].whole:
            arrived.able = arrived.since + least
            self._parties.append(arrived)
            return
        if arrived.tub is not None and arrived.held is not None:
            self._room.give_back(arrived.tub, arrived.held)
        offset = {skin: party.spell - load[0].spell for party in load for skin in party.skins}
        for skin in arrived.skins:
            spell = arrived.spell + offset[skin]
            limits = self.work.skins[skin].spells[spell]
            one = Party(
                skins=[skin], spell=spell, since=arrived.since, tub=arrived.tub, able=arrived.since + limits.least
            )
            if arrived.tub is not None:
                one.held = self._room.take(arrived.tub, arrived.since, NEVER, [skin], limits.mates)
            self._parties.append(one)

    def _with_hands(self, bench: Bench, party: Party, now: int) -> Bench | None:
        """The bench when all of a party have had the work that they want before they go on; None where there are not hands enough."""
        after: Bench | None = bench
        for skin in party.skins:
            limits = self.work.skins[skin].spells[party.spell]
            since = party.since if party.spell else self.work.skins[skin].since
            after = None if after is None else after.after(since + limits.least, now, limits.work, 1)
        return after

    def _leave(self, party: Party, now: int) -> None:
        self._parties.remove(party)
        if party.held is not None:
            party.held.end = now
        for skin in party.skins:
            since = party.since if party.spell else self.work.skins[skin].since
            self._visits[skin].append(Visit(party.tub, since, now))

    def _way(
        self,
        spell: int,
        spells: tuple[Spell, ...],
        tub: int | None,
        at: int,
        skins: list[int],
        load: list[Party],
        way: list[tuple[int | None, int, int]],
        bench: Bench | None = None,
    ) -> bool:
        """Fills `way` with (vessel, in, out) from this stay on; the last may have no end yet."""
        here, start = spells[spell], self.work.moments[at]
        if here.most is None and spell + 1 < len(spells):
            if tub is not None and not self._room.fits(
                tub, start, NEVER, skins, here.mates, leaving=[party.held for party in load]
            ):
                return False
            way.append((tub, start, NEVER))
            return True
        for then in range(bisect_left(self.work.moments, start + here.least), len(self.work.moments)):
            end = self.work.moments[then]
            if here.most is not None and end > start + here.most:
                break
            if tub is not None and not self._room.fits(
                tub, start, end, skins, here.mates, leaving=[party.held for party in load]
            ):
                break
            after = None if bench is None else bench.after(start + here.least, end, here.work, len(skins))
            if bench is not None and after is None:
                continue
            way.append((tub, start, end))
            if spell + 1 == len(spells):
                return True
            for following in spells[spell + 1].tubs or (None,):
                if self._way(spell + 1, spells, following, then, skins, [], way, after):
                    return True
            way.pop()
        return False
