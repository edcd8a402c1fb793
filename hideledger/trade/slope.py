"""The robust slope of a few readings: one misread among them does not bend it (Theil 1950; Sen, J. Am. Stat. Assoc. 63, 1968, 1379).

The median of the slopes between all pairs, with Sen's interval from Kendall's statistic, ties corrected as he has it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import isfinite, sqrt
from statistics import NormalDist, median

LEAST_READINGS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """A line from the last reading on meets a limit, in the unit of the times.

    From `soonest` to `latest` by the interval of the slope, from the line and from the last reading alike; from `first` to `last` with the doubt of
    the instrument besides. `met`: the line is at the limit already, and only the last reading is not. `latest` is never None: a slope that may be
    none has no crossing at all.
    """

    soonest: float
    likely: float
    latest: float
    first: float
    last: float
    met: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Slope:
    """Change for each unit of time: the median slope and the interval it lies in. The line has `level` at the last time, `last`."""

    slope: float
    least: float
    most: float
    last: float
    level: float

    @property
    def direction(self) -> int:
        """1 when it rises for certain (to the interval's confidence), -1 when it falls, 0 when it may be doing neither."""
        if self.least > 0:
            return 1
        return -1 if self.most < 0 else 0

    def passes(
        self, limit: float, *, read: float | None = None, off: float = 0.0, doubt: float = 0.0
    ) -> Crossing | None:
        """When the line comes to `limit`; None when it may be going nowhere, or goes away from it, or is there already.

        `read` is the last reading: while that is not past the limit, a line that is has met it about now. `off` widens the whole, and `doubt` what
        is said besides: what the instrument may be wrong by, in the unit of the values.
        """
        by_line = self.direction * (limit - self.level)
        by_read = by_line if read is None else self.direction * (limit - read)
        if not self.direction or by_read < 0 or (read is None and by_line <= 0):
            return None
        slow, fast = sorted((abs(self.least), abs(self.most)))
        near, far = min(by_line - off, by_read), max(by_line + off, by_read)
        likely = by_line if by_line > 0 else by_read
        return Crossing(
            soonest=self.last + max(near, 0.0) / fast,
            likely=self.last + likely / abs(self.slope),
            latest=self.last + far / slow,
            first=self.last + max(min(near, min(by_line, by_read) - doubt), 0.0) / fast,
            last=self.last + max(far, max(by_line, by_read) + doubt) / slow,
            met=by_line <= 0,
        )


def robust_slope(times: Sequence[float], values: Sequence[float], *, confidence: float = 0.95) -> Slope | None:
    """The slope of `values` over `times` (any units, in any order), with its interval at `confidence` (0 to 1).

    None with fewer than four readings, or when they stand at fewer than two times: then nothing useful can be said. Raises
    ValueError where the two differ in length or hold what is no number.
    """
    if len(times) != len(values):
        raise ValueError("each reading has one time")
    if not all(isfinite(figure) for figure in (*times, *values)):
        raise ValueError("a reading and its time are numbers")
    count = len(times)
    if count < LEAST_READINGS:
        return None
    slopes = sorted(
        (values[j] - values[i]) / (times[j] - times[i])
        for i in range(count)
        for j in range(count)
        if times[j] > times[i]
    )
    if not slopes or not isfinite(slopes[0]) or not isfinite(slopes[-1]):
        return None
    middle = median(slopes)
    least, most = _interval(slopes, times, values, confidence)
    last = max(times)
    level = median(values) + middle * (last - median(times))
    return Slope(slope=middle, least=least, most=most, last=last, level=level)


def _interval(
    slopes: Sequence[float], times: Sequence[float], values: Sequence[float], confidence: float
) -> tuple[float, float]:
    """The slopes at Sen's two ranks."""
    count = len(times)
    spread = (_sum_of([count]) - _sum_of(_ties(times)) - _sum_of(_ties(values))) / 18
    reach = NormalDist().inv_cdf((1 + confidence) / 2) * sqrt(max(spread, 0.0))
    low = max(round((len(slopes) - reach) / 2) - 1, 0)
    high = min(round((len(slopes) + reach) / 2), len(slopes) - 1)
    return slopes[low], slopes[high]


def _ties(figures: Sequence[float]) -> Iterable[int]:
    return [times for times in Counter(figures).values() if times > 1]


def _sum_of(counts: Iterable[int]) -> int:
    return sum(k * (k - 1) * (2 * k + 5) for k in counts)
