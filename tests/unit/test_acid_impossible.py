"""`acid` doses nothing on a reading that cannot be, and does not send anybody to pour soda onto strong acid.

A bath takes no acid back from skins: what they bind, they keep (Bowes and Kenten, Biochem. J. 43 (1948) 358, from memory). Acid into water, never
water into acid: any school book of chemistry.
"""

import re

import pytest

from hideledger.cli import main

Captured = pytest.CaptureFixture[str]
BATH = "20 gal, 60 oz citric acid crystals"


def asked(capsys: Captured, words: str) -> tuple[int, str]:
    """The exit code and all that is said, its folded lines made one."""
    code = main(["acid", "--gallons", "US", words])
    heard = capsys.readouterr()
    return code, " ".join((heard.out + heard.err).split())


@pytest.mark.parametrize("read", ["1.2", "1.5"])
def test_a_reading_sourer_than_the_make_up_is_read_again(capsys: Captured, read: str) -> None:
    code, text = asked(capsys, f"{BATH} at {read} to 5 with soda ash")
    assert code == 2
    makes = re.search(f"pH {read} cannot be: what is written makes about pH ([0-9.]+), and skins raise that", text)
    assert makes is not None
    # 0.074 mol a litre of citric acid alone in water, pKa 3.13: pH = (3.13 - log c) / 2 and no more than the doubt of 0.3 below it
    assert 2.13 - 0.3 <= float(makes.group(1)) <= 2.13
    assert "read it again" in text
    assert "nothing was reckoned" in text


@pytest.mark.parametrize("read", ["1.9", "2.4", "3.4"])
def test_a_reading_within_the_doubt_or_raised_by_skins_is_dosed(capsys: Captured, read: str) -> None:
    code, text = asked(capsys, f"{BATH} at {read} to 5 with soda ash")
    assert code == 0
    assert "in all" in text


def test_a_rinse_of_soda_that_reads_past_its_make_up_is_read_again(capsys: Captured) -> None:
    code, text = asked(capsys, "20 gal, 4 oz soda ash at 13.5 to 5 with citric acid crystals")
    assert code == 2
    assert "pH 13.5 cannot be" in text


def test_strong_acid_is_thinned_before_any_soda(capsys: Captured) -> None:
    code, text = asked(capsys, "neutralise 1 gal 35% sulphuric acid with baking soda")
    assert code == 0
    order = text[text.index("Order of work") :]
    assert order.index("the acid into the water, slowly") < order.index("a little at a time")
    assert "it heats, boils and spatters acid" in order
    assert "wait until it is cold again" in order


def test_acid_that_lies_in_its_bath_already_needs_no_thinning(capsys: Captured) -> None:
    _, text = asked(capsys, "neutralise 20 gal water, 1 pt 35% sulphuric acid with baking soda")
    assert "spatters" not in text
