"""Two readings tell whether free strong acid is left in finished leather: the pH of its extract, and of that extract diluted tenfold.

ISO 4045:2018 (IULTCS/IUC 11): difference figure = pH of the tenfold dilution less pH of the extract. It is taken only where the extract
reads below 4.00 or above 10.00, and can never exceed 1; 0.70 to 1.00 shows free strong acid (or base).
"""

from __future__ import annotations

STRONG_FROM, NEVER_OVER = 0.70, 1.0
# Two readings of a meter differ by so much without anything being wrong (our own figure): below this a figure past 1 or below 0 is let pass.
_METER = 0.1


def difference_figure(*, extract: float, diluted: float) -> float:
    """The difference figure, positive for acid leather and for alkaline alike.

    Raises ValueError with a sentence where the standard takes none, or where the readings contradict each other.
    """
    if 4.0 <= extract <= 10.0:
        raise ValueError(f"pH {extract:.2f}: a difference figure is taken only below 4.00 or above 10.00")
    figure = diluted - extract if extract < 4.0 else extract - diluted
    if figure > NEVER_OVER + _METER:
        raise ValueError(f"{figure:.2f}: tenfold dilution can move a pH by 1.00 at most; read both again")
    if figure < -_METER:
        raise ValueError(f"{figure:.2f}: dilution moved the pH the wrong way; read both again")
    return figure


def shows_strong(figure: float) -> bool:
    """Whether a difference figure shows free strong acid or base. Oxalic acid reads as strong too; formic and citric do not."""
    return round(figure, 2) >= STRONG_FROM
