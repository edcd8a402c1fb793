"""Many exposures weighed at once: what is looked at, what is one look, what comes first, and what is left within strata."""

from __future__ import annotations

from hideledger.answers.slip.compare import Compared, Exposure, Outcomes, compare
from hideledger.answers.slip.strata import travels, within, within_others


def thing(name: str, *met: int, sort: str = "bath", unsure: tuple[int, ...] = ()) -> Exposure:
    """An exposure that the skins at these places met."""
    return Exposure(sort=sort, name=name, those=f"in {name}", met=frozenset(met), unsure=frozenset(unsure))


def outcomes(count: int, *hit: int) -> Outcomes:
    """So many skins with an outcome; those at these places slipped."""
    return Outcomes(hit=frozenset(hit), counted=frozenset(range(count)))


def four(one: Compared) -> tuple[int, int, int, int]:
    """Slipped and all, with it and without."""
    return (one.table.hit, one.table.exposed, one.table.other_hit, one.table.others)


def test_what_one_skin_met_or_all_but_one_is_not_looked_at() -> None:
    look = compare(outcomes(6, 0, 1), [thing("P1", 0), thing("P2", 0, 1, 2, 3, 4), thing("P3", *range(6)), thing("P4")])
    assert look.found == ()
    assert look.smallest is None


def test_what_the_very_same_skins_met_is_one_look_named_by_what_can_be_changed() -> None:
    things = [thing("for Ida Crane", 0, 1, sort="owner"), thing("P1", 0, 1), thing("C-1", 0, 1, sort="lot")]
    (one,) = compare(outcomes(6, 0, 1), things).found
    assert one.exposure.name == "C-1"
    assert [same.name for same in one.same] == ["P1", "for Ida Crane"]
    assert one.adjusted == one.p


def test_what_the_very_others_met_is_the_same_look_from_the_other_side() -> None:
    (one,) = compare(outcomes(6, 0, 1), [thing("P1", 2, 3, 4, 5), thing("P2", 0, 1)]).found
    assert one.exposure.name == "P2"
    assert [other.name for other in one.against] == ["P1"]
    assert four(one) == (2, 2, 0, 4)


def test_a_skin_of_which_nobody_can_tell_is_left_out_of_that_table_only() -> None:
    first, second = compare(outcomes(8, 0, 1), [thing("P1", 0, 1, unsure=(2, 3)), thing("P2", 0, 4)]).found
    assert (first.exposure.name, four(first), first.unknown) == ("P1", (2, 2, 0, 4), 2)
    assert (second.exposure.name, four(second), second.unknown) == ("P2", (1, 2, 1, 6), 0)


def test_the_same_skins_with_other_unknowns_are_another_look() -> None:
    assert compare(outcomes(8, 0, 1), [thing("P1", 0, 1, unsure=(2,)), thing("P2", 0, 1)]).looks == 2


def test_a_skin_without_an_outcome_counts_nowhere() -> None:
    some = Outcomes(hit=frozenset({0, 1}), counted=frozenset(range(5)))
    (one,) = compare(some, [thing("P1", 0, 1, 5, 6)]).found
    assert four(one) == (2, 2, 0, 3)


def test_what_goes_with_more_comes_before_what_goes_with_fewer_and_then_the_least_p() -> None:
    hit = (0, 1, 2, 3, 4)
    things = [thing("spared", *range(8, 20)), thing("weak", 0, 1, 8, 9), thing("strong", 0, 1, 2, 3, 4, 5)]
    assert [one.exposure.name for one in compare(outcomes(20, *hit), things).found] == ["strong", "weak", "spared"]


def test_each_p_is_raised_for_all_the_looks() -> None:
    """Benjamini and Hochberg: the least of three is three times as great, unless the next holds it down."""
    things = [thing("P1", 0, 1, 2, 3), thing("P2", 0, 10, 11), thing("P3", 1, 12, 13)]
    first, *_ = compare(outcomes(30, 0, 1, 2, 3), things).found
    assert first.exposure.name == "P1"
    assert abs(first.adjusted - 3 * first.p) < 1e-12
    assert first.stands_out


def test_what_only_travels_with_the_cause_is_left_with_nothing_within_it() -> None:
    """40 skins: of 10 in the lot 8 slipped; an owner brought 7 of those and one more."""
    lot = thing("C-1", *range(10), sort="lot")
    owner = thing("for Ida Crane", *range(1, 8), 20, sort="owner")
    found = outcomes(40, *range(8))
    look = compare(found, [lot, owner])
    first, second = look.found
    assert first.exposure is lot and second.exposure is owner
    assert first.stands_out and second.stands_out
    by_name = {one.one.exposure.name: one for one in within_others(look, found)}
    assert by_name["for Ida Crane"].other.exposure is lot
    assert by_name["for Ida Crane"].vanishes
    assert not by_name["C-1"].vanishes
    apart = by_name["for Ida Crane"]
    assert (apart.met.hit, apart.met.exposed, apart.not_met.hit, apart.not_met.exposed) == (7, 7, 0, 1)


def test_two_things_that_nobody_met_apart_cannot_be_told_apart() -> None:
    one, two = thing("P1", 0, 1, 2, 3), thing("P2", 0, 1, 2, 3, unsure=(9,))
    found = outcomes(20, 0, 1, 2, 3)
    first, second = compare(found, [one, two]).found
    look = within(first, second, found)
    assert look.pooled is None
    assert look.untold and look.vanishes


def test_things_met_by_other_skins_do_not_travel_together() -> None:
    found = outcomes(20, 0, 1, 2, 10, 11)
    first, second = compare(found, [thing("P1", 0, 1, 2, 3), thing("P2", 10, 11, 12, 13)]).found
    assert not travels(first, second, found)
    assert travels(first, first, found)
