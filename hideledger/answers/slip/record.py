"""What `slip --json` prints for a season: the contract with programs, version 1.

One object, keys in this order:

- `schema` 1; it counts up when a key goes or changes its meaning. New keys may be added at the end of an object without that.
- `at`, `at_local`: the moment of the answer, as in `check`; `defect` what was looked for; `from`, `to` the days asked for, or null.
- `counts`: `slipped`, `came_through`, `not_yet`, `at_door`, `after_out`, `gone`, `held_so_far`, `refused_at_door`, `never_came_to_the_step` (of
  a failure that happens at a step, which `step` names); `tags` the same, each a list of tags, and `skins`
  each a list of skins with `tag`, `in` and `in_local`, the moment at which it came: a tag may have been given again.
- `looks` how many things were compared; `smallest_p` the least p that any of them could have given, or null.
- `found`, the most telling first; each has `sort` and `name`; `same`, `against` names of what the very same skins met, or the
  very others; `hit`, `met`, `other_hit`, `others` the four counts (slipped and all, among those that met it and the others);
  `unknown` skins left out; `risk` how many times as often, null where it cannot be reckoned or has no end; `low`, `high` its
  95 % interval, or null; `p` Fisher's exact test; `adjusted` the same raised for all looks; `stands_out`; `tags` who met it;
  `lines` where the book tells of it, `file` and `line`; `difference` the share of those that met it less that of the others; `skins` as `tags`, told apart.
- `within`: `name` looked at within `other`; `met`, `not_met` the four counts as a list among skins that met the other and that
  did not; `risk`, `low`, `high` pooled over both; `p`; `vanishes`.
- `months`: `month`, `hit`, `count`, `waiting`, `low`, `high`, `judged`. `change`: null or `month` the first after it, `before`,
  `after` (hit, count), `p`. `unread`: how many lines of the book could not be read.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from math import isfinite

from hideledger.answers.head import record_of
from hideledger.answers.slip.compare import Compared
from hideledger.answers.slip.exposures import Season
from hideledger.answers.slip.lives import records_of
from hideledger.answers.slip.months import Month
from hideledger.answers.slip.outcomes import (
    AFTER_OUT,
    AT_DOOR,
    GONE,
    HELD,
    NEVER_CAME,
    NOT_YET,
    REFUSED,
    SLIPPED,
    THROUGH,
)
from hideledger.answers.slip.strata import Within
from hideledger.shopfloor.floor import Floor
from hideledger.trade.attack import Interval, Table, risk_difference
from hideledger.trade.attack_change import Change

SCHEMA = 1
_ENDS = {
    "slipped": SLIPPED,
    "came_through": THROUGH,
    "not_yet": NOT_YET,
    "at_door": AT_DOOR,
    "after_out": AFTER_OUT,
    "gone": GONE,
    "held_so_far": HELD,
    "refused_at_door": REFUSED,
    "never_came_to_the_step": NEVER_CAME,
}


def season_record(
    found: Season,
    floor: Floor,
    row: Sequence[Month],
    change: tuple[Change, Month] | None,
    days: tuple[int | None, int | None],
) -> dict[str, object]:
    """The whole object; `days` are the first and last day asked for (ordinals)."""
    first, last = days
    parts = {
        "defect": found.defect,
        "from": None if first is None else date.fromordinal(first).isoformat(),
        "to": None if last is None else date.fromordinal(last).isoformat(),
        "counts": {key: len(found.those(end)) for key, end in _ENDS.items()},
        "tags": {key: [fate.life.tag for fate in found.those(end)] for key, end in _ENDS.items()},
        "skins": {key: records_of(floor, [fate.life for fate in found.those(end)]) for key, end in _ENDS.items()},
        "step": None if found.step is None else found.step.name,
        "looks": found.look.looks,
        "smallest_p": found.look.smallest,
        "found": [_compared(one, found) for one in found.look.found],
        "within": [_within(look) for look in found.within],
        "months": [_month(month) for month in row],
        "change": None
        if change is None
        else {
            "month": change[1].name,
            "before": list(change[0].before),
            "after": list(change[0].after),
            "p": change[0].p,
        },
    }
    return record_of(floor, parts, schema=SCHEMA)


def _compared(one: Compared, found: Season) -> dict[str, object]:
    return {
        "sort": one.exposure.sort,
        "name": one.exposure.name,
        "same": [same.name for same in one.same],
        "against": [other.name for other in one.against],
        "hit": one.table.hit,
        "met": one.table.exposed,
        "other_hit": one.table.other_hit,
        "others": one.table.others,
        "unknown": one.unknown,
        "risk": _finite(one.risk),
        **_ends(one.interval),
        "p": one.p,
        "adjusted": one.adjusted,
        "stands_out": one.stands_out,
        "tags": [found.fates[index].life.tag for index in sorted(one.exposure.met)],
        "lines": [{"file": line.at.file, "line": line.at.line} for line in one.exposure.lines],
        "difference": _finite(risk_difference(one.table)),
        "skins": records_of(found.floor, [found.fates[index].life for index in sorted(one.exposure.met)]),
    }


def _within(look: Within) -> dict[str, object]:
    pooled = look.pooled
    return {
        "name": look.one.exposure.name,
        "other": look.other.exposure.name,
        "met": _four(look.met),
        "not_met": _four(look.not_met),
        "risk": None if pooled is None else _finite(pooled.risk),
        **_ends(None if pooled is None else pooled.interval),
        "p": look.p,
        "vanishes": look.vanishes,
    }


def _month(month: Month) -> dict[str, object]:
    return {
        "month": month.name,
        "hit": month.hit,
        "count": month.count,
        "waiting": month.waiting,
        **_ends(month.interval),
        "judged": month.judged,
    }


def _four(table: Table) -> list[int]:
    return [table.hit, table.exposed, table.other_hit, table.others]


def _finite(value: float) -> float | None:
    return value if isfinite(value) else None


def _ends(interval: Interval | None) -> dict[str, float | None]:
    return {"low": None if interval is None else interval.low, "high": None if interval is None else interval.high}
