"""What is shipped beside the program, to be used by other programs."""

from __future__ import annotations

from pathlib import Path


def editors_folder() -> Path:
    """The folder with the files for editors: `vim/`, to be copied as it is, and the TextMate grammar."""
    return Path(__file__).resolve().parents[1] / "editors"
