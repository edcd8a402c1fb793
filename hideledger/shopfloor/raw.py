"""The raw clock: all the time a skin was raw and unprotected since the kill, heavier where it was warm.

Decay of fresh tissue goes with the square of the distance from about -10 C: r(T) = ((T + 10) / 10)^2 against 0 C, the
square-root model of Ratkowsky and Olley with Tmin = -10 C (as worked in the relative-rate pages of the Technical
University of Denmark's seafood spoilage predictor). Effects of successive temperatures add. It is a yardstick for
comparing hours, not a measured limit.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable

from hideledger.model.entry import Entry
from hideledger.model.moments import When
from hideledger.model.process import Process
from hideledger.model.units import Quantity
from hideledger.shopfloor.afoot import HideAfoot
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.lengths import between
from hideledger.shopfloor.life import HideLife, RawClock, StepMark
from hideledger.shopfloor.noted import BathReading

Stretch = tuple[int, int]  # from, to (UTC seconds)
Span = tuple[int, int, float | None]  # from, to (UTC seconds), degrees C or None where nobody read any

SALTED_OR_DRIED = frozenset({"wet salted", "dry salted", "dried"})


def rate(celsius: float) -> float:
    """How much faster a raw skin spoils at this temperature (degrees C) than at 0 C; nothing at -10 C and below."""
    return ((celsius + 10.0) / 10.0) ** 2 if celsius > -10.0 else 0.0


def came_cured(life: HideLife) -> bool:
    """A hide that came in salted or dried is not raw."""
    return life.condition is not None and life.condition[0].condition in SALTED_OR_DRIED


def weighted_seconds(spans: Iterable[Span], reference: float) -> float:
    """Spans of time count as so many seconds at the `reference` temperature (degrees C, above -10).

    Where none was read a second weighs a second.
    """
    scale = rate(reference)
    return sum((end - start) * (1.0 if celsius is None else rate(celsius) / scale) for start, end, celsius in spans)


class Warmth:
    """The temperature of a place is what was read there last, else in the room, else the shop's own line."""

    __slots__ = ("_read", "_room")

    def __init__(self, floor: Floor) -> None:
        room = floor.book.shop.shop.room
        self._room = None if room is None else _celsius(room)
        self._read: dict[str, tuple[list[int], list[float]]] = {}
        for place, readings in floor.place_readings.items():
            self._take(place.casefold(), readings)
        for tag, lives in floor.baths.items():
            self._take(tag.casefold(), [reading for life in lives for reading in life.readings])

    def _take(self, place: str, readings: list[BathReading]) -> None:
        found = sorted(
            (reading.when.hi, _celsius(reading.fact.value))
            for reading in readings
            if reading.fact.what == "temperature"
        )
        if found:
            self._read[place] = ([instant for instant, _ in found], [celsius for _, celsius in found])

    def spans(self, start: int, end: int, places: list[tuple[When, str]]) -> list[Span]:
        """The time from `start` to `end` is cut wherever the hide moved or a thermometer was read.

        `places`: each from a later moment than the one before.
        """
        found: list[Span] = []
        for i, (since, place) in enumerate(places):
            first = start if i == 0 else max(start, since.lo)
            last = min(end, places[i + 1][0].lo) if i + 1 < len(places) else end
            if first < last:
                self._cut(found, first, last, place.casefold())
        if not places and start < end:
            self._cut(found, start, end, "")
        return found

    def _cut(self, found: list[Span], start: int, end: int, place: str) -> None:
        times, values = self._read.get(place, ([], []))
        at = bisect_right(times, start)
        if not at:
            first = min(end, times[0]) if times else end
            if place != "room":
                self._cut(found, start, first, "room")
            else:
                _add(found, start, first, self._room)
            start = first
            at = bisect_right(times, start)
        while start < end:
            until = min(end, times[at]) if at < len(times) else end
            _add(found, start, until, values[at - 1])
            start, at = until, at + 1


def _in_time(places: list[tuple[When, str]]) -> list[tuple[When, str]]:
    """Where it lay, each place from a later moment than the one before: what begins no later than an earlier line did takes its place.

    A thaw that nobody wrote begins when the rest did, at the earliest: it may stand behind the opening of a box and reach back before it.
    Then the later line holds, and no hour counts for two places.
    """
    row: list[tuple[When, str]] = []
    for one in places:
        while row and row[-1][0].lo >= one[0].lo:
            row.pop()
        row.append(one)
    return row


def _joined(stretches: Iterable[Stretch]) -> list[Stretch]:
    """The stretches in order of time, those that lie over each other as one: an hour counts once, whichever of two lines it may belong to."""
    row: list[Stretch] = []
    for start, end in sorted(stretches):
        if row and start <= row[-1][1]:
            row[-1] = (row[-1][0], max(end, row[-1][1]))
        else:
            row.append((start, end))
    return row


def _add(found: list[Span], start: int, end: int, celsius: float | None) -> None:
    if start >= end:
        return
    if found and found[-1][1] == start and found[-1][2] == celsius:
        start = found.pop()[0]
    found.append((start, end, celsius))


def _celsius(quantity: Quantity) -> float:
    return float(quantity.to("C"))


def raw_clock(floor: Floor, hide: HideAfoot, warmth: Warmth) -> RawClock:
    """The raw clock of one hide at the floor's moment."""
    life = hide.life
    runs, running, since, stopped_by = _running(floor, hide)
    freezing = _freezing(floor, hide, runs)
    lengths = [between(start, end) for start, end in runs]
    places = _in_time(life.places)
    stretches = _joined([(start.lo, end.hi) for start, end in runs] + freezing)
    most = sum(longest for _, longest in lengths) + sum(end - start for start, end in freezing)
    shop = (sum(least for least, _ in lengths), min(most, sum(end - start for start, end in stretches)))
    spans = [span for start, end in stretches for span in warmth.spans(start, end, places)]
    reference = _reference(floor, life.process)
    unknown = any(celsius is None for _, _, celsius in spans)
    weighted: tuple[int, int] | None = None
    limit = None if life.process is None else life.process.raw_limit
    if limit is not None and limit.at is None:
        weighted, unknown = shop, False  # hours are hours, whatever the warmth
    elif reference is not None and not (spans and all(celsius is None for _, _, celsius in spans)):
        most = round(weighted_seconds(spans, reference))
        least = most
        if shop[0] != shop[1]:
            sure = (span for start, end in runs for span in warmth.spans(start.hi, end.lo, places))
            least = round(weighted_seconds(sure, reference))
        weighted = (least, most)
    door, door_sure = _door(life)
    door_weighted: tuple[int, int] | None = None
    if door is not None and life.hung is not None and reference is not None:
        times = rate(_celsius(life.hung[0].temperature)) / rate(reference)
        door_weighted = (round(door[0] * times), round(door[1] * times))
    return RawClock(
        door=door,
        shop=shop,
        weighted=weighted,
        running=running,
        since=since,
        stopped_by=stopped_by,
        sure=door_sure and not unknown,
        spans=tuple(spans),
        reference_c=reference,
        door_weighted=door_weighted,
    )


def _reference(floor: Floor, process: Process | None) -> float | None:
    """The temperature at which an hour weighs an hour: the limit's own, else the shop's room."""
    limit = None if process is None else process.raw_limit
    quantity = limit.at if limit is not None else floor.book.shop.shop.room
    if quantity is None:
        return None
    celsius = _celsius(quantity)
    return celsius if rate(celsius) > 0 else None


def _door(life: HideLife) -> tuple[tuple[int, int] | None, bool]:
    """Seconds raw before the door, least and most, and whether that is known. Cured or frozen elsewhere: since when,
    nobody knows.
    """
    kill, came = life.kill_when, life.arrived_when
    if kill is None or life.tanned_before:
        return None, False
    most = max(0, came.hi - kill.lo)
    condition = life.condition[0].condition if life.condition is not None else ""
    if condition == "frozen" or condition in SALTED_OR_DRIED:
        return (0, most), False
    return (max(0, came.lo - kill.hi), most), True


def _freezing(floor: Floor, hide: HideAfoot, runs: list[tuple[When, When]]) -> list[Stretch]:
    """A balled cape is not frozen within the hour: the time for which it may still have been raw in each rest.

    From the latest moment at which the rest began, for the rest's own `freezes in` at most, and no longer than it
    lasted. Only where the clock had run up to the rest: what came in frozen freezes no more.
    """
    life = hide.life
    if life.process is None:
        return []
    stopped = {id(end) for _, end in runs}
    found: list[Stretch] = []
    for number, (when, sort, _, name) in enumerate(hide.course):
        rest = life.process.rest(str(name)) if sort == "rest" and id(when) in stopped else None
        if rest is None or rest.freezes_in is None:
            continue
        last = next((after.lo for after, *_ in hide.course[number + 1 :]), floor.at)
        end = min(rest.freezes_in.after(when.hi, floor.book.clock), last, floor.at)
        if end > when.hi:
            found.append((when.hi, end))
    return found


def _unwritten(life: HideLife) -> dict[int, str]:
    """What steps without a line did to the clock, by the mark before which they are missing: a skin that was shaved had its pickle."""
    turned: dict[int, str] = {}
    for missing in life.missing:
        if missing.before is not None and (missing.line.raw or missing.line.tanning):
            turned[id(missing.before)] = missing.line.raw or "stops"
    return turned


def _running(floor: Floor, hide: HideAfoot) -> tuple[list[tuple[When, When]], bool, int, Entry | None]:
    """The stretches in the shop while the clock ran, whether it runs now, since when it does so or stands, and what
    stopped it.
    """
    life = hide.life
    condition = life.condition[0].condition if life.condition is not None else ""
    runs: list[tuple[When, When]] = []
    came_raw = condition not in SALTED_OR_DRIED and not life.tanned_before
    start: When | None = life.arrived_when if came_raw else None
    stopped_by: Entry | None = life.arrived if start is None else None
    since = life.arrived_when.lo
    before_rest: list[bool] = []
    unwritten = {} if life.tanned_before else _unwritten(life)
    earlier = life.arrived_when
    for when, sort, entry, what in hide.course:
        runs_on = start is not None
        ends = when
        match sort:
            case "step":
                line = what.line if isinstance(what, StepMark) else None
                turned = unwritten.get(id(what))
                if turned is not None:
                    runs_on = turned == "runs"
                    # It was some time between the line before and this one.
                    ends = When(min(earlier.lo, when.lo), when.hi, when.day, False)
                # What has been through the tan is not raw.
                if line is not None and not life.tanned_before and (line.raw or line.tanning):
                    runs_on = line.raw == "runs"
            case "rest":
                before_rest.append(start is not None)
                rest = life.process.rest(str(what)) if life.process is not None else None
                runs_on = runs_on and rest is not None and rest.raw != "stops"
            case "thaw":
                runs_on = before_rest.pop() if before_rest else runs_on
            case _:
                runs_on = False
        if runs_on and start is None:
            start, since = when, when.lo
        elif not runs_on and start is not None:
            if between(start, ends)[1]:  # came in frozen: it did not run between its coming and its own rest
                runs.append((start, ends))
            start, stopped_by, since = None, entry, when.lo
        earlier = when
    if start is not None:
        now = When(floor.at, floor.at, start.day, True)
        runs.append((start, now))
    return runs, start is not None, since, stopped_by
