"""The nearest thing that would have been right."""

from __future__ import annotations

from collections.abc import Iterable


def nearest(word: str, known: Iterable[str], *, least: float = 0.7) -> str | None:
    """The known word most like `word`, or None when none is at least `least` alike (0 to 1, difflib's ratio)."""
    from difflib import SequenceMatcher  # only a book with something wrong in it needs this

    wanted = word.casefold()
    best, best_score = None, least
    matcher = SequenceMatcher(autojunk=False)
    matcher.set_seq2(wanted)
    for candidate in sorted(set(known)):
        matcher.set_seq1(candidate.casefold())
        if len(wanted) > 2 and sorted(wanted) == sorted(candidate.casefold()):
            return candidate  # the same letters in another order: a slip of two fingers
        if matcher.real_quick_ratio() < best_score or matcher.quick_ratio() < best_score:
            continue
        score = matcher.ratio()
        if score > best_score or (score == best_score and best is None):
            best, best_score = candidate, score
    return best
