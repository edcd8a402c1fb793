"""Two names that may well be one person's: as they sound, as fingers slip, with accents or without."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from functools import lru_cache

from hideledger.text.nearest import slips_between

_MOST_SLIPS = 2
_LONG = 7  # letters from which on two slips are still one word
# Letters that are no letter with a mark on it, and are written so where the keyboard has none of them.
_PLAIN = str.maketrans(
    {"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i", "’": "'", "ʼ": "'", "`": "'"}
)
_BETWEEN = re.compile(r"[\s,/\-‐‑–—]+")
_IN_WORDS = re.compile("['.\"“”„()]")
_AND = frozenset({"and", "&", "+"})
# What a business has behind its name on paper, and nobody says.
_FORMS = frozenset({"inc", "co", "ltd", "llc", "corp", "company", "limited"})
_DOUBLED = re.compile(r"(.)\1+")
_SPOKEN = (
    (re.compile("eigh$"), "e"),
    (re.compile("(?:ie|ey|y)$"), "i"),
    (re.compile("(?<=.)h"), ""),
    (re.compile("(?<=..)e$"), ""),
)
_VOWELS = frozenset("aeiouy")
_ROWS = ("qwertyuiop", "asdfghjkl", "zxcvbnm")


def alike(one: str, other: str) -> bool:
    """Two names may well be one person's, whichever stands first.

    A slip or two in a word, a letter doubled or not heard, an accent, an initial, `&` for `and`, a blank, or the words in another order.
    """
    return any(_as_written(mine, theirs) for mine in _forms(one) for theirs in _forms(other))


def alike_pairs(names: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Every pair of these names that is alike, each once, in order. Some thousands of names take some tenths of a second."""
    row = sorted(set(names))
    forms = {name: _forms(name) for name in row}
    same: dict[str, set[str]] = {}
    bearing: dict[tuple[int, int, str], set[str]] = {}
    for name, written in forms.items():
        for words in written:
            for key in _whole_keys(words):
                same.setdefault(key, set()).add(name)
            for place, word in enumerate(words):
                bearing.setdefault((len(words), place, word), set()).add(name)
    near = _near_words({word for _, _, word in bearing})
    for name in row:
        candidates: set[str] = set()
        for words in forms[name]:
            for key in _whole_keys(words):
                candidates |= same[key]
            # Every word must be like that in its place: whom the rarest of them may mean is enough to look at.
            rows = [
                [bearing.get((len(words), place, like), set()) for like in near[word]]
                for place, word in enumerate(words)
            ]
            if rows:
                candidates |= set().union(*min(rows, key=lambda sets: sum(map(len, sets))))
        for other in sorted(candidates):
            if name < other and alike(name, other):
                yield name, other


def _as_written(first: tuple[str, ...], second: tuple[str, ...]) -> bool:
    if not first or not second:
        return False
    if set(_whole_keys(first)) & set(_whole_keys(second)):
        return True
    if len(first) != len(second):
        return False
    slips, meant = 0, 0
    for word, like in zip(first, second, strict=True):
        count = word_slips(word, like)
        if count is None:
            return False
        slips += count
        meant += len(word) > 1 and len(like) > 1
    return slips <= _MOST_SLIPS and meant > 0  # two initials are nobody's name


def _whole_keys(words: tuple[str, ...]) -> tuple[str, str]:
    """What is the same where only blanks, or only the order of the words, differ."""
    return "".join(words), " ".join(sorted(words))


@lru_cache(maxsize=65536)
def _forms(name: str) -> tuple[tuple[str, ...], ...]:
    """The words of a name in plain small letters; a second time without the initials inside it."""
    plain = unicodedata.normalize("NFKD", name.casefold().translate(_PLAIN))
    plain = (
        "".join(letter for letter in plain if not unicodedata.combining(letter)).replace("&", " & ").replace("+", " + ")
    )
    cut = [_IN_WORDS.sub("", word) for word in _BETWEEN.split(plain)]
    words = [word for word in cut if word and word not in _AND]
    while len(words) > 1 and words[-1] in _FORMS:
        words.pop()
    whole = tuple(words)
    short = (*whole[:1], *(word for word in whole[1:-1] if len(word) > 1), *whole[-1:]) if len(whole) > 2 else whole
    return (whole,) if short == whole else (whole, short)


@lru_cache(maxsize=65536)
def word_slips(one: str, other: str) -> int | None:
    """How many slips of the fingers lie between two words in plain small letters; None where they are two words."""
    if one == other:
        return 0
    short, long = sorted((one, other), key=len)
    if len(short) == 1:
        return 0 if long.startswith(short) else None  # an initial
    if _heard(one) == _heard(other):
        return 0
    if (
        len(short) < 4
        or long in (short + "a", short + "o")
        or (short[:-1] == long[:-1] and {short[-1], long[-1]} == {"a", "o"})
    ):
        return None  # `Ida` and `Ada`, `Paul` and `Paula`, `Mario` and `Maria`
    if len(short) >= _LONG or _sound(one) == _sound(other):
        count = slips_between(one, other)
        return count if count <= _MOST_SLIPS else None
    return 1 if _likely_slip(short, long) else None


def _likely_slip(short: str, long: str) -> bool:
    """Whether they are one slip apart, and one that fingers make: `Mark` and `Marr` are two men, `Vale` and `Bale` lie side by side on the keys."""
    at = next((i for i, (letter, like) in enumerate(zip(short, long, strict=False)) if letter != like), len(short))
    if len(short) != len(long):
        return short[at:] == long[at + 1 :]  # one left out
    letter, like = short[at], long[at]
    if short[at + 1 :] != long[at + 1 :]:
        return (letter, short[at + 1 : at + 2]) == (long[at + 1 : at + 2], like) and short[at + 2 :] == long[at + 2 :]
    if letter in _VOWELS and like in _VOWELS:
        return at > 0
    return _side_by_side(letter, like)


@lru_cache(maxsize=1024)
def _side_by_side(letter: str, like: str) -> bool:
    """Whether two keys touch, on the keyboards that most people have."""
    places = {key: (y, x + y * 0.5) for y, keys in enumerate(_ROWS) for x, key in enumerate(keys)}
    if letter not in places or like not in places:
        return False
    (y, x), (other_y, other_x) = places[letter], places[like]
    return abs(y - other_y) <= 1 and abs(x - other_x) <= 1


@lru_cache(maxsize=65536)
def _heard(word: str) -> str:
    """A word without what is written and not heard: `Marr` is `Mar`, `Joe` is `Jo`, `John` is `Jon`, `Johnnie` is `Jonny`."""
    heard = _DOUBLED.sub(r"\1", word)
    for pattern, said in _SPOKEN:
        heard = pattern.sub(said, heard)
    return _DOUBLED.sub(r"\1", heard)


@lru_cache(maxsize=65536)
def _sound(word: str) -> str:
    """The first letter, and the consonants behind it, doubled ones once."""
    heard = word[:1]
    for letter in word[1:]:
        if letter not in "aeiouyh" and letter != heard[-1]:
            heard += letter
    return heard


def _near_words(words: Iterable[str]) -> dict[str, list[str]]:
    """Each word with those that it may be a slip of, itself among them.

    Two words one slip apart become the same where at most one letter of each is left out; two slips are only forgiven to long words, where
    it is two letters, and to those that sound the same.
    """
    by_less: dict[str, list[str]] = {}
    known = sorted(set(words))
    for word in known:
        for less in _less(word):
            by_less.setdefault(less, []).append(word)
    starting: dict[str, list[str]] = {}
    for word in known:
        starting.setdefault(word[0], []).append(word)
    near: dict[str, set[str]] = {word: set() for word in known}
    for word in known:
        if len(word) == 1:
            near[word] |= set(starting[word])
            continue
        may = {other for less in _less(word) for other in by_less[less]}
        for other in may:
            if word < other and word_slips(word, other) is not None:
                near[word].add(other)
                near[other].add(word)
        near[word] |= {word, *(other for other in starting[word[0]] if len(other) == 1)}
    return {word: sorted(some) for word, some in near.items()}


def _less(word: str) -> set[str]:
    """The word, what is heard of it, how it sounds, and what is left of it without one letter; of a long one also without two."""
    once = {word[:i] + word[i + 1 :] for i in range(len(word))} if len(word) > 3 else set()
    twice = {less[:i] + less[i + 1 :] for less in once for i in range(len(less))} if len(word) >= _LONG else set()
    return {word, f"/{_heard(word)}", f"~{_sound(word)}", *once, *twice}
