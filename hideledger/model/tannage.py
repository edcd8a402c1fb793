"""What a process tans with, in the words of a book: it decides at which heat a strip may shrink."""

from __future__ import annotations

# Each word of a book, with the class of the table of shrinkage temperatures that it stands for.
TANNAGES: dict[str, str] = {
    "alum": "alum",
    "alum tawed": "alum",
    "oil": "oil",
    "formaldehyde": "formaldehyde",
    "aluminium": "aluminium",
    "aluminum": "aluminium",
    "hydrolysable vegetable": "vegetable, hydrolysable",
    "condensed vegetable": "vegetable, condensed",
    "glutaraldehyde": "glutaraldehyde",
    "synthetic aluminium": "synthetic and aluminium",
    "synthetic aluminum": "synthetic and aluminium",
    "chrome": "chrome",
}
