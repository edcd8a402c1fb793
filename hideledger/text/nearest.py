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


def slip_of(word: str, known: Iterable[str]) -> str | None:
    """The known word that `word` is a slip of the fingers from, or None.

    A slip is a letter left out, put in, changed or two changed places: one for a short word, more for a long one (a quarter of
    its letters). A first letter that differs is none, unless the first two changed places: `ears` is no slip of `tears`.
    """
    wanted = word.casefold()
    best, best_count = None, len(wanted)
    for candidate in sorted(set(known)):
        other = candidate.casefold()
        longest = max(len(wanted), len(other))
        most = 1 if longest <= 4 else longest // 4
        if len(wanted) < 2 or abs(len(wanted) - len(other)) > most:
            continue
        if wanted[:1] != other[:1] and wanted[:2] != other[1::-1]:
            continue
        count = slips_between(wanted, other)
        # Of two equally near, the longer: letters are left out more often than put in.
        if count <= most and (count, -len(other)) < (best_count, -len(best or "")):
            best, best_count = candidate, count
    return best


def slips_between(one: str, other: str) -> int:
    """How many slips turn one word into another (Damerau and Levenshtein's distance, neighbours changed once)."""
    above: list[int] = []
    row = list(range(len(other) + 1))
    for i, letter in enumerate(one, 1):
        above, before, row = row, above, [i]
        for j, like in enumerate(other, 1):
            cost = min(row[j - 1] + 1, above[j] + 1, above[j - 1] + (letter != like))
            if i > 1 and j > 1 and letter == other[j - 2] and one[i - 2] == like:
                cost = min(cost, before[j - 2] + 1)
            row.append(cost)
    return row[-1]
