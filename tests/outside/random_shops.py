"""Made-up shops for the timetable: small ones (some hours on some days, up to three vessels, up to seven hides on their way), and busy ones."""

from __future__ import annotations

import random
from dataclasses import replace

from hideledger.trade.timetable import Skin, Spell, Tub, Work


def small_shop(seed: int) -> Work:
    """The same shop for the same number. Not every one of them has a timetable at all."""
    made = random.Random(seed)
    moments, days = _hours(made)
    count = made.randint(1, 3)
    tubs = tuple(
        Tub(
            name=f"V{place}",
            holds=made.choice((None, 2, 2, 3, 3, 4)),
            weighs=made.choice((None, None, 6, 9)),
            whole=made.random() < 0.4,
        )
        for place in range(count)
    )
    ways = [_way(made, number, count) for number in range(made.randint(1, 2))]
    skins: list[Skin] = []
    for number in range(made.randint(2, 5)):
        skin = _skin(made, number, made.choice(ways), days[-1])
        skins.append(skin)
        if made.random() < 0.4:
            skins.append(
                Skin(
                    name=f"{skin.name}b",
                    counts=skin.counts,
                    weight=skin.weight,
                    since=skin.since,
                    tub=skin.tub,
                    spells=skin.spells,
                    due=skin.due,
                )
            )
    return Work(moments=tuple(moments), days=tuple(days), tubs=tubs, skins=tuple(skins[:7]))


def bench_shop(seed: int) -> Work:
    """The same shop with work at the bench before some of its stays end: an hour or two, while somebody is there."""
    work, made = small_shop(seed), random.Random(-1 - seed)
    skins = tuple(
        replace(
            skin,
            spells=tuple(
                replace(spell, work=made.choice((0, 0, 0, 1, 1, 2)) if spell.most is None or place else 0)
                for place, spell in enumerate(skin.spells)
            ),
        )
        for skin in work.skins
    )
    by_day: dict[int, list[int]] = {}
    for moment, day in zip(work.moments, work.days, strict=True):
        by_day.setdefault(day, []).append(moment)
    stretches = tuple((row[0] - 3, row[-1]) for row in by_day.values())  # hides are moved from the fourth hour on
    return replace(work, skins=skins, open=stretches)


def changing_shop(seed: int) -> Work:
    """The same shop with vessels that hold more or less, or nothing, from a moment on."""
    work, made = small_shop(seed), random.Random(-1 - seed)
    tubs = []
    for tub in work.tubs:
        steps = [(0, tub.holds, tub.weighs)]
        for moment in sorted(made.sample(range(9, work.moments[-1]), made.choice((0, 1, 1, 2)))):
            steps.append((moment, made.choice((0, 1, 2, 3, None)), made.choice((tub.weighs, 3, None))))
        if len(steps) > 1 and made.random() < 0.3:
            steps[0] = (0, 0, steps[0][2])  # out of use today
        counts, weights = [step[1] for step in steps], [step[2] for step in steps]
        tubs.append(
            replace(
                tub,
                steps=tuple(steps) if len(steps) > 1 else (),
                holds=None if None in counts else max(one for one in counts if one is not None),
                weighs=None if None in weights else max(one for one in weights if one is not None),
            )
        )
    return replace(work, tubs=tuple(tubs))


def _hours(made: random.Random) -> tuple[list[int], list[int]]:
    """Up to sixteen moments: from 8 o'clock on, a few hours a day, a day off now and then."""
    wanted = made.randint(8, 16)
    moments: list[int] = []
    days: list[int] = []
    day = 0
    while len(moments) < wanted:
        hour = day * 24 + 8
        for _ in range(made.randint(1, 4)):
            moments.append(hour)
            days.append(day)
            hour += made.choice((1, 2, 3))
        day += made.choice((1, 1, 2))
    return moments, days


def _way(made: random.Random, number: int, count: int) -> tuple[Spell, ...]:
    row = []
    for place in range(made.randint(1, 3)):
        if made.random() < 0.25:
            row.append(Spell(least=made.choice((1, 2, 12, 20)), most=made.choice((None, None, None, 40))))
            continue
        least = made.choice((1, 2, 3, 3, 20, 24))
        row.append(
            Spell(
                mates=made.choice(("pickle", "tan", f"way {number} stay {place}")),
                tubs=tuple(sorted(made.sample(range(count), made.randint(1, count)))),
                least=least,
                most=made.choice((None, None, least + 3, least + 4, least + 24)),
            )
        )
    return tuple(row)


def _skin(made: random.Random, number: int, way: tuple[Spell, ...], last_day: int) -> Skin:
    first, tub, since = Spell(least=made.choice((0, 0, 0, 10, 24))), None, 0
    where = made.random()
    if where < 0.2 and len(way) > 1 and way[0].tubs:
        first = Spell(mates=way[0].mates, least=way[0].least, most=way[0].most if made.random() < 0.2 else None)
        tub, since, way = made.choice(way[0].tubs), made.choice((-5, -20, 0)), way[1:]
    elif where < 0.4:
        since = made.choice((8, 9, 30, 33))
    return Skin(
        name=f"H{number}",
        counts=made.choice((1, 1, 1, 2)),
        weight=made.choice((1, 2, 3)),
        since=since,
        tub=tub,
        spells=(first, *way),
        due=made.choice((None, None, 0, 1, 2, last_day)),
    )


def busy_shop(seed: int) -> Work:
    """Forty hides in salt, two vats for the pickle, a vat for the tan and a drum, three weeks, and many promised too soon. Minutes."""
    made = random.Random(seed)
    moments, days = [], []
    for day in range(21):
        if day % 7 < 6:  # nobody is there on Sundays, and on Saturdays till noon
            for moment in range(8 * 60, (17 if day % 7 < 5 else 12) * 60 + 1, 30):
                moments.append(day * 1440 + moment)
                days.append(day)
    tubs = (
        Tub(name="V1", holds=12),
        Tub(name="V2", holds=12),
        Tub(name="V3", holds=10),
        Tub(name="D1", holds=5, weighs=30, whole=True),
    )
    pickle = Spell(mates="pickle", tubs=(0, 1), least=3 * 1440)
    drained = Spell(least=30, most=1440)
    drum = (pickle, Spell(mates="drum", tubs=(3,), least=120, most=180), drained)
    tan = Spell(mates="tan", tubs=(2,), least=2 * 1440, most=5 * 1440)
    bath = (pickle, Spell(least=10, most=30), tan, drained)
    skins = []
    for number in range(40):
        counts = 3 if made.random() < 0.1 else 1
        skins.append(
            Skin(
                name=f"H{number}",
                counts=counts,
                weight=made.randint(4, 8) + 5 * (counts - 1) // 2,
                since=-made.randint(0, 9 * 1440),
                spells=(Spell(least=1440, most=14 * 1440), *(bath if made.random() < 0.2 else drum)),
                due=None if made.random() < 0.3 else made.randint(2, 12),
            )
        )
    return Work(moments=tuple(moments), days=tuple(days), tubs=tubs, skins=tuple(skins))
