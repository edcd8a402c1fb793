"""Two tests of finished leather, by their standards.

- Difference figure: ISO 4045:2018 (IULTCS/IUC 11). The two pH of each pure acid are reckoned here (ideal, 25 C); which figure they must give was worked
  out beforehand with SciPy.
- Shrinkage temperatures: Conservation Science (RSC 2006), chapter on leather, its table; parchment in Heritage Science 2019, Table 3. Which standard:
  ASTM D6076 (water up to 98 C), ISO 3380. Rows marked in the code "from memory" are not tested as facts.
"""

from __future__ import annotations

import pytest

from hideledger.trade.bath_ph import made_of, ph
from hideledger.trade.chemicals import CHEMICALS
from hideledger.trade.extract import difference_figure, shows_strong
from hideledger.trade.shrinkage import TANNAGES, fitting, what_it_says

# acid, mol a litre, difference figure, free strong acid
FIGURES = [
    ("hydrochloric acid", 0.01, 1.000, True),
    ("sulphuric acid", 0.02, 0.867, True),
    ("sulphuric acid", 0.002, 0.949, True),
    ("oxalic acid, anhydrous", 0.1, 0.776, True),  # the caveat: oxalic reads as strong too
    ("phosphoric acid", 0.05, 0.662, False),
    ("citric acid, anhydrous", 0.05, 0.553, False),
    ("formic acid", 0.1, 0.520, False),
    ("lactic acid", 0.1, 0.517, False),
    ("acetic acid", 0.1, 0.506, False),
]


@pytest.mark.parametrize(("acid", "moles", "figure", "strong"), FIGURES)
def test_the_difference_figure_of_an_acid_alone(acid: str, moles: float, figure: float, strong: bool) -> None:
    extract, diluted = (ph(made_of([(CHEMICALS[acid], each)])) for each in (moles, moles / 10))
    found = difference_figure(extract=extract, diluted=diluted)
    assert found == pytest.approx(figure, abs=0.005)
    assert shows_strong(found) is strong


def test_it_is_taken_only_below_four_or_above_ten() -> None:
    for reading in (4.0, 5.2, 10.0):
        with pytest.raises(ValueError, match=r"below 4\.00 or above 10\.00"):
            difference_figure(extract=reading, diluted=reading + 0.5)
    assert difference_figure(extract=3.99, diluted=4.61) == pytest.approx(0.62)
    assert difference_figure(extract=10.8, diluted=9.9) == pytest.approx(0.9)


def test_it_never_exceeds_one() -> None:
    assert shows_strong(difference_figure(extract=2.0, diluted=3.0))
    with pytest.raises(ValueError, match="read both again"):
        difference_figure(extract=2.0, diluted=3.4)
    with pytest.raises(ValueError, match="wrong way"):
        difference_figure(extract=3.5, diluted=3.1)


def test_the_line_lies_at_seventy_hundredths() -> None:
    assert shows_strong(0.70) and not shows_strong(0.69)


@pytest.mark.parametrize(
    ("name", "least", "most"),
    [
        ("raw skin", 58, 64),
        ("oil", 53, 56),
        ("alum", 55, 60),
        ("formaldehyde", 65, 70),
        ("aluminium", 70, 80),
        ("vegetable, hydrolysable", 75, 80),
        ("vegetable, condensed", 80, 85),
        ("chrome", 100, 120),
    ],
)
def test_the_printed_ranges(name: str, least: float, most: float) -> None:
    (tannage,) = [tannage for tannage in TANNAGES if tannage.name == name]
    assert (tannage.least, tannage.most) == (least, most)
    assert "memory" not in tannage.source


def test_chrome_needs_glycerine() -> None:
    """ASTM D6076: above 98 C water no longer does."""
    (chrome,) = [tannage for tannage in TANNAGES if tannage.name == "chrome"]
    assert chrome.least > 98.0


@pytest.mark.parametrize("celsius", [40, 50, 57, 60, 64])
def test_a_reading_of_an_alum_skin_proves_nothing(celsius: float) -> None:
    said = what_it_says(celsius, "alum")
    assert said.proves == "nothing"
    assert "does not raise" in said.why


@pytest.mark.parametrize(
    ("celsius", "tannage", "proves"),
    [
        (60.7, "", "nothing"),  # calf parchment, Heritage Science 2019: untanned
        (58.0, "chrome", "not tanned"),
        (62.0, "vegetable, condensed", "not tanned"),
        (72.0, "vegetable, condensed", "short of it"),
        (105.0, "chrome", "tanned"),
        (83.0, "", "tanned"),
        (79.0, "vegetable, hydrolysable", "tanned"),
        (55.0, "oil", "nothing"),
        # Conservation Science (RSC 2006): alum 55 to 60, oil 53 to 56, raw skin 58 to 64; condensed vegetable 80 to 85.
        (85.0, "alum", "misread, or another tan"),
        (72.0, "oil", "misread, or another tan"),
    ],
)
def test_what_a_reading_proves(celsius: float, tannage: str, proves: str) -> None:
    assert what_it_says(celsius, tannage).proves == proves


def test_several_tannages_fit_one_reading() -> None:
    assert {"raw skin", "alum"} <= set(fitting(59))
    assert fitting(110) == ("chrome",)
    assert "vegetable, condensed" in fitting(82)


def test_no_skin_is_tried_outside_its_heat() -> None:
    with pytest.raises(ValueError, match="no skin"):
        what_it_says(180)
