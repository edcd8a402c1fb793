"""Made-up seasons: a cause that was planted comes first, and where none was planted hardly ever anything stands out."""

from __future__ import annotations

import random
import sys
from pathlib import Path

import pytest

from hideledger.answers.slip.compare import Exposure, Look, Outcomes, compare
from hideledger.answers.slip.exposures import Season, season
from hideledger.answers.slip.few import most_telling
from hideledger.reading import read_book
from hideledger.shopfloor.layout import lay_out
from tests.property.slip_made import written_season

SEASONS = 50
SKINS = 60


def exposures(made: random.Random) -> list[Exposure]:
    """Six baths one after the other, acid that lasts for two of them, salt, owners, days, hands; some of it nobody wrote."""
    found: dict[tuple[str, str], set[int]] = {}
    unsure: set[int] = set()
    for skin in range(SKINS):
        bath = skin // 10
        met = [
            ("bath", f"bath P{bath}"),
            ("lot", f"lot C-{bath // 2}"),
            ("lot", f"lot S-{made.randint(0, 3)}"),
            ("owner", f"for owner {made.randint(0, 7)}"),
            ("day", f"day {skin // 4}"),
            ("hand", f"fleshed by {made.choice('ABC')}"),
            ("load", f"load L{skin // 5}"),
        ]
        for thing in met:
            found.setdefault(thing, set()).add(skin)
        if made.random() < 0.1:
            unsure.add(skin)
    return [
        Exposure(
            sort=sort,
            name=name,
            those=name,
            met=frozenset(skins - unsure if sort == "hand" else skins),
            unsure=frozenset(unsure if sort == "hand" else ()),
        )
        for (sort, name), skins in found.items()
    ]


def looked_at(seed: int, *, planted: bool) -> tuple[Look, str]:
    """A season without a page: what was planted, and how it looks. A tenth slip anyway; of the planted ones seven in ten."""
    made = random.Random(seed)
    things = exposures(made)
    wide = [one for one in things if len(one.met) >= 8]
    cause = made.choice(wide)
    shares = [0.7 if planted and skin in cause.met else 0.1 for skin in range(SKINS)]
    hit = frozenset(skin for skin in range(SKINS) if made.random() < shares[skin])
    return compare(Outcomes(hit=hit, counted=frozenset(range(SKINS))), things), cause.name


def names(look: Look) -> tuple[str, ...]:
    """What the first comparison stands for: all that was met by the very same skins."""
    first = look.found[0]
    return (first.exposure.name, *(same.name for same in first.same))


def test_a_planted_cause_comes_first_in_nine_of_ten_seasons() -> None:
    first = sum(cause in names(look) for look, cause in (looked_at(seed, planted=True) for seed in range(SEASONS)))
    sys.stdout.write(f"planted cause first in {first} of {SEASONS} seasons\n")
    assert first >= 45


def test_where_nothing_was_planted_hardly_ever_anything_stands_out() -> None:
    """By the promise of Benjamini and Hochberg (1995) at most one season in twenty, chance aside."""
    looks = [looked_at(seed, planted=False)[0] for seed in range(SEASONS)]
    flagged = sum(any(one.stands_out or one.spares for one in look.found) for look in looks)
    sys.stdout.write(f"something stands out in {flagged} of {SEASONS} seasons without a cause\n")
    assert flagged <= 5


def test_where_nothing_was_planted_a_reader_is_seldom_sent_to_look_anywhere() -> None:
    """Below what stands out the page names what tells most so far: by our own bar in one season of five at most."""
    sent = sum(most_telling(looked_at(seed, planted=False)[0]) is not None for seed in range(SEASONS))
    sys.stdout.write(f"sent to look in {sent} of {SEASONS} seasons without a cause\n")
    assert sent <= SEASONS // 5


def of_book(folder: Path, seed: int, cause: str) -> Season:
    """A season read from its page."""
    book = read_book([written_season(folder, seed, cause=cause)])
    assert not book.unread
    return season(lay_out(book, max(entry.when.hi for entry in book.entries)))


@pytest.mark.parametrize(
    ("seed", "cause"), [(1, "C-2"), (2, "C-1"), (3, "P4"), (4, "P2"), (5, "C-3"), (6, "Ida Crane")]
)
def test_a_cause_planted_in_a_whole_book_comes_first(tmp_path: Path, seed: int, cause: str) -> None:
    found = of_book(tmp_path, seed, cause)
    assert len(found.counted) == 60
    assert any(cause in name for name in names(found.look)), names(found.look)
    assert found.look.found[0].stands_out


def test_in_whole_books_without_a_cause_nothing_stands_out(tmp_path: Path) -> None:
    for seed in (11, 12, 13):
        found = of_book(tmp_path / str(seed), seed, "")
        assert len(found.counted) == 60
        assert found.look.looks > 20
        assert not any(one.stands_out for one in found.look.found)
