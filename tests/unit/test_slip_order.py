"""The order in which what goes with the slip is told: what the shop can change before what came with the skin."""

from __future__ import annotations

import pytest

from hideledger.answers.slip.compare import Exposure, Outcomes, compare
from hideledger.answers.slip.strata import ordered, set_apart

SLIPPED = frozenset(range(6))
OUTCOMES = Outcomes(hit=SLIPPED, counted=frozenset(range(20)))


def thing(sort: str, name: str, *met: int) -> Exposure:
    return Exposure(sort=sort, name=name, those=f"with {name}", met=frozenset(met))


def names(*things: Exposure) -> list[str]:
    return [one.exposure.name for one in ordered(compare(OUTCOMES, things).found, OUTCOMES)]


@pytest.mark.parametrize("sort", ["owner", "kind", "day", "hand", "condition"])
def test_who_brought_a_skin_never_stands_above_a_bath_that_travels_with_it_and_explains_as_much(sort: str) -> None:
    given, bath = thing(sort, "given", 0, 1, 2, 3), thing("bath", "P2", *range(10))
    alone = compare(OUTCOMES, [given, bath]).found
    assert [one.exposure.name for one in alone] == ["given", "P2"]  # by p alone
    assert names(given, bath) == ["P2", "given"]


def test_an_owner_stays_above_a_bath_that_explains_fewer_of_those_that_slipped() -> None:
    assert names(thing("owner", "given", 0, 1, 2, 3, 4, 5), thing("bath", "P2", 0, 1, 2, 3)) == ["given", "P2"]


def test_an_owner_stays_above_a_bath_that_other_skins_lay_in() -> None:
    assert names(thing("owner", "given", 0, 1, 2, 3), thing("bath", "P2", 3, 4, 5, *range(12, 18)))[0] == "given"


def test_of_two_with_the_same_figures_the_one_that_the_shop_can_change_comes_first() -> None:
    given, bath = thing("owner", "Ida Crane", 0, 1, 2, 10), thing("bath", "P9", 3, 4, 5, 11)
    assert names(given, bath) == ["P9", "Ida Crane"]
    assert names(thing("kind", "elk cape", 0, 1, 2, 10), thing("process", "tub", 3, 4, 5, 11)) == ["tub", "elk cape"]


def test_where_an_owner_stands_out_a_bath_that_explains_as_much_leads() -> None:
    look = compare(OUTCOMES, [thing("owner", "Ida Crane", 0, 1, 2, 3), thing("bath", "P2", *range(10))])
    assert set_apart(look, OUTCOMES).leading[0].exposure.name == "P2"


def test_a_bath_leads_even_where_only_the_owner_stands_out_after_all_looks() -> None:
    others = [thing("lot", f"C-{number}", number % 6, 6 + number % 4, 10 + number) for number in range(9)]
    look = compare(OUTCOMES, [thing("owner", "Ida Crane", 0, 1, 2, 3), thing("bath", "P2", *range(10)), *others])
    owner, bath = (next(one for one in look.found if one.exposure.name == name) for name in ("Ida Crane", "P2"))
    assert owner.stands_out and not bath.stands_out
    standing = set_apart(look, OUTCOMES)
    assert standing.leading[0].exposure.name == "P2"
    assert [each.one.exposure.name for each in standing.along] == ["Ida Crane"]
