"""Findings that tell of the book itself, and point at nothing that was done to a skin."""

from __future__ import annotations

# Findings about the page, the promise or the shelf, which no skin was ever the worse for.
ON_PAPER = frozenset(
    {
        "slip nearby",
        "hair comes loose",
        "no time written",
        "dated ahead",
        "dated back",
        "unknown tag",
        "after it was out",
        "twice the same",
        "one tag for two things",
        "one legal tag twice",
        "no reason given",
        "no zone",
        "unknown supply",
        "promise at risk",
        "promise missed",
        "gone quiet",
        "nobody wrote",
        "stock short",
        "count differs",
        "dumped below the sewer limit",
        "dumped above the sewer limit",
        "dumped outside the sewer",
        "more let go than it held",
        "before it was mixed",
        "nobody in it",
        "due",
        "bath worn out",  # looked at below, also of baths that were let go since
    }
)
