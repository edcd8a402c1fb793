"""The timetable by its own rule: against every way tried one by one on tiny shops, and laws that hold whatever the shop."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from itertools import product

import pytest

from hideledger.trade.timetable import Layout, Skin, Spell, Tub, Visit, Work, Worth, faults_of, loads_of, worth_of
from hideledger.trade.timetable_alone import Alone
from hideledger.trade.timetable_best import best_layout
from hideledger.trade.timetable_floors import floors
from hideledger.trade.timetable_lists import LoadByLoad
from tests.outside.random_shops import small_shop

DRUM = Tub(name="D1", holds=5, whole=True)
VAT = Tub(name="V1", holds=12)


def a_way(skin: Skin, work: Work, stay: int, start: int, tub: int | None) -> Iterator[tuple[Visit, ...]]:
    """Every row of visits of one hide from a stay on."""
    spell = skin.spells[stay]
    for end in work.moments:
        if end - start < spell.least or (spell.most is not None and end - start > spell.most):
            continue
        visit = Visit(tub, start, end)
        if stay + 1 == len(skin.spells):
            yield (visit,)
            continue
        for following in skin.spells[stay + 1].tubs or (None,):
            for rest in a_way(skin, work, stay + 1, end, following):
                yield (visit, *rest)


def by_every_way(work: Work) -> Worth | None:
    """The best worth of all sound layouts there are."""
    rows = [list(a_way(skin, work, 0, skin.since, skin.tub)) for skin in work.skins]
    sound = (layout for layout in product(*rows) if not faults_of(work, layout))
    return min((worth_of(work, layout) for layout in sound), default=None)


def tiny_shop(seed: int) -> Work:
    """Two or three hides, one or two vessels, six moments."""
    made = random.Random(seed)
    moments = tuple(sorted(made.sample(range(1, 20), 6)))
    tubs = tuple(
        Tub(name=f"V{n}", holds=made.choice((1, 2, 3)), whole=made.random() < 0.5) for n in range(made.randint(1, 2))
    )
    skins = []
    for number in range(made.choice((2, 2, 3))):
        least = made.randint(1, 4)
        spell = Spell(
            mates=made.choice(("a", "a", "b")),
            tubs=tuple(range(made.randint(1, len(tubs)))),
            least=least,
            most=made.choice((None, least + 2, least + 5)),
        )
        rest = (Spell(least=made.randint(1, 4), most=made.choice((None, 6))),) if made.random() < 0.4 else ()
        skins.append(
            Skin(
                name=f"H{number}",
                counts=made.choice((1, 1, 2)),
                since=made.choice((0, 0, 5)),
                spells=(Spell(least=made.choice((0, 3))), spell, *rest),
                due=made.choice((None, 0, 1)),
            )
        )
    return Work(moments=moments, days=tuple(m // 7 for m in moments), tubs=tubs, skins=tuple(skins))


@pytest.mark.parametrize("score", range(4))
def test_no_way_that_can_be_tried_is_better(score: int) -> None:
    """And where none is sound, none is found."""
    for seed in range(score * 25, score * 25 + 25):
        work = tiny_shop(seed)
        found = best_layout(work)
        assert found.proved, seed
        assert found.worth == by_every_way(work), seed


@pytest.mark.parametrize("score", range(4))
def test_what_is_found_follows_the_rule_and_the_floors_lie_under_it(score: int) -> None:
    for seed in range(500 + score * 10, 510 + score * 10):
        work = small_shop(seed)
        found = best_layout(work, nodes=300_000)
        if found.layout is None or not found.proved:
            continue
        assert faults_of(work, found.layout) == [], seed
        under = floors(work, Alone(work))
        assert under is not None
        assert under <= worth_of(work, found.layout), seed
        members = [place for load in loads_of(found.layout).values() for place in load]
        stays = sum(bool(spell.tubs) for skin in work.skins for spell in skin.spells[1:])
        assert len(members) == stays, seed


@pytest.mark.parametrize("score", range(3))
def test_more_hours_or_one_vessel_more_never_make_it_worse(score: int) -> None:
    compared = 0
    for seed in range(700 + score * 8, 708 + score * 8):
        work = small_shop(seed)
        before = best_layout(work, nodes=40_000)
        if not before.proved or before.worth is None:
            continue
        last = work.moments[-1]
        longer = replace(work, moments=(*work.moments, last + 1), days=(*work.days, work.days[-1]))
        twin = len(work.tubs)
        more = replace(
            work,
            tubs=(*work.tubs, replace(work.tubs[0], name="another")),
            skins=tuple(
                replace(skin, spells=tuple(replace(s, tubs=(*s.tubs, twin)) if 0 in s.tubs else s for s in skin.spells))
                for skin in work.skins
            ),
        )
        for changed in (longer, more):
            after = best_layout(changed, nodes=80_000)
            if after.proved:
                compared += 1
                assert after.worth is not None, seed
                assert after.worth <= before.worth, seed
    assert compared >= 4


def shop_of(skins: tuple[Skin, ...], tubs: tuple[Tub, ...] = (DRUM,), days: int = 4) -> Work:
    """Hours from 8 to 17 on each day, in hours."""
    moments = tuple(day * 24 + hour for day in range(days) for hour in range(8, 18))
    return Work(moments=moments, days=tuple(m // 24 for m in moments), tubs=tubs, skins=skins)


def cape(name: str, *, due: int | None = None, since: int = 0, counts: int = 1, run: int = 3) -> Skin:
    """A cape that waits for a run in the drum of three hours to four."""
    return Skin(
        name=name,
        counts=counts,
        since=since,
        spells=(Spell(), Spell(mates="run", tubs=(0,), least=run, most=run + 1)),
        due=due,
    )


def test_eleven_capes_go_into_a_drum_of_five_in_three_loads() -> None:
    found = best_layout(shop_of(tuple(cape(f"H{n}") for n in range(11))))
    assert (found.worth, found.proved) == ((0, 0, 3), True)


def test_a_cape_that_comes_later_is_waited_for_when_no_promise_presses() -> None:
    """Four are here at eight, the fifth at ten of the next day: one load."""
    found = best_layout(shop_of((*(cape(f"H{n}") for n in range(4)), cape("H9", since=34))))
    assert found.worth == (0, 0, 1)


def test_it_is_not_waited_for_when_one_of_them_is_promised_for_today() -> None:
    found = best_layout(shop_of((*(cape(f"H{n}", due=0) for n in range(4)), cape("H9", since=34))))
    assert found.worth == (0, 0, 2)


def test_no_load_is_in_the_drum_when_everybody_goes_home() -> None:
    """A run of three to four hours begins at 13 or 14 at the latest; so three loads take a day and a bit."""
    found = best_layout(shop_of(tuple(cape(f"H{n}", due=0) for n in range(20))))
    assert found.layout is not None
    assert found.worth == (5, 5, 4)
    assert all(visit.end % 24 <= 17 for visits in found.layout for visit in visits)


def test_a_hide_to_be_kept_apart_goes_alone() -> None:
    alone = replace(cape("H9"), spells=(Spell(), Spell(mates="run, H9 apart", tubs=(0,), least=3, most=4)))
    found = best_layout(shop_of((cape("H1"), cape("H2"), alone)))
    assert found.worth == (0, 0, 2)


def test_a_vat_takes_hides_in_turn_but_a_drum_does_not() -> None:
    """Two of twelve places are taken till tomorrow: ten more go in beside them; a drum has to be emptied first."""
    lying = tuple(
        Skin(name=f"H{n}", since=0, tub=0, spells=(Spell(mates="pickle", least=30),), due=None) for n in range(2)
    )
    coming = tuple(
        Skin(name=f"H{n}", spells=(Spell(), Spell(mates="pickle", tubs=(0,), least=2)), due=0) for n in range(3, 13)
    )
    assert best_layout(shop_of((*lying, *coming), tubs=(VAT,))).worth == (0, 0, 1)
    assert best_layout(shop_of((*lying, *coming), tubs=(replace(VAT, whole=True),))).worth == (10, 10, 1)


def test_what_cannot_be_done_at_all_is_proved_to_have_no_timetable() -> None:
    found = best_layout(shop_of((cape("H1", run=11),)))
    assert (found.layout, found.proved) == (None, True)


def test_forty_hides_are_laid_out_within_few_loads_of_the_floor() -> None:
    """Three weeks of half days, four vessels: every promise kept, and what is not proved is said."""
    skins = []
    for number in range(40):
        way = (
            Spell(mates="pickle", tubs=(1, 2), least=72),
            Spell(mates="run", tubs=(0,), least=3, most=4),
            Spell(least=1, most=24),
        )
        first = Spell(least=24 * (number % 3))
        skins.append(Skin(name=f"H{number}", spells=(first, *way), due=None if number % 2 else 10 + number % 8))
    work = shop_of(tuple(skins), tubs=(DRUM, VAT, VAT), days=20)
    found = best_layout(work, nodes=2_000)
    assert found.layout is not None
    assert found.worth is not None
    assert faults_of(work, found.layout) == []
    assert found.worth[:2] == (0, 0)
    assert found.floor[2] == 12  # eight in the drum, and four in the vats, since each has to hold forty in twelves
    assert found.worth[2] <= 14


def a_layout(rows: list[list[Visit]]) -> Layout:
    """Rows as a layout."""
    return tuple(tuple(row) for row in rows)


def test_the_rule_itself_sees_every_fault() -> None:
    work = shop_of((cape("H1", counts=3), cape("H2", counts=3)))
    sound = a_layout([[Visit(None, 0, 8), Visit(0, 8, 11)], [Visit(None, 0, 11), Visit(0, 11, 14)]])
    assert faults_of(work, sound) == []
    over_full = a_layout([[Visit(None, 0, 8), Visit(0, 8, 11)], [Visit(None, 0, 8), Visit(0, 8, 11)]])
    assert faults_of(work, over_full) == ["D1 is over full by count at 8"]
    not_empty = a_layout([[Visit(None, 0, 8), Visit(0, 8, 11)], [Visit(None, 0, 9), Visit(0, 9, 12)]])
    assert "D1 is not empty at 9" in faults_of(work, not_empty)
    at_night = a_layout([[Visit(None, 0, 8), Visit(0, 8, 11)], [Visit(None, 0, 15), Visit(0, 15, 18)]])
    assert faults_of(work, at_night) == ["H2 ends stay 1 when nobody is there"]
    too_short = a_layout([[Visit(None, 0, 8), Visit(0, 8, 10)], [Visit(None, 0, 11), Visit(0, 11, 14)]])
    assert faults_of(work, too_short) == ["H1 is in stay 1 for too short or too long"]
    left_out = a_layout([[Visit(None, 0, 8)], [Visit(None, 0, 11), Visit(0, 11, 14)]])
    assert faults_of(work, left_out) == ["H1 does not begin where it is, or leaves out a stay"]


def test_the_rule_of_thumb_alone_is_sound() -> None:
    for seed in range(900, 960):
        work = small_shop(seed)
        mates = {spell.mates for skin in work.skins for spell in skin.spells}
        for patience in (0, 20, 1000):
            laid = LoadByLoad(
                work=work, alone=Alone(work), patience=dict.fromkeys(mates, patience), order=range(len(work.skins))
            ).lay_out()
            assert laid is None or faults_of(work, laid) == [], seed
