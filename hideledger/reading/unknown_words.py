"""Words that say nothing where they stand: refused with the nearest thing that would."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from hideledger.reading.desk import Desk, Phrase
from hideledger.reading.hurried import HURRIED, LANGUAGE_WORDS
from hideledger.reading.trouble import Unreadable

AT_THE_DOOR = ("condition", "kind", "sex", "step", "defect", "test", "basis")
_BRACKETS = re.compile(r"\(([^()]*)\)")
DOINGS = ("step", "rest", "test", "defect")

# Words of the language that an arrival line has, each with something behind it.
_OF_AN_ARRIVAL = ("killed", "promised", "licence", "process", "deposit", "hunter", "owner")

# What says of a defect that it is not there: `slip none`, `no burn`, `not slipping`.
_NOT_THERE = ("no", "none", "not", "nil", "nothing", "nowhere", "without", "never")
_BETWEEN = ("any", "more", "sign", "signs", "of", "a", "the", "yet", "is", "was", "seen", "found")

# The test that says a skin has no such defect.
_SOUND_BY = {"slip": "pull test ok", "raw streak": "cut test ok"}

# What is done to a bath: the word stands right behind the bath's tag, and what the bath is of behind the word.
_OF_A_BATH = ("mixed", "dumped")


def close_name(desk: Desk, text: str, sorts: tuple[str, ...]) -> str | None:
    """The known name that these unknown words are nearly, or a part of."""
    hint = desk.words.hint(text, *sorts, also=_OF_AN_ARRIVAL)
    if hint is not None:  # `mule` is nearly `male`, but begins a kind of the shop to the letter
        begun = (name for name in desk.words.of_sort("kind") if " " in name and name.split()[0] == text)
        return next(begun, hint)
    for word in text.split():
        if len(word) >= 5 and (near := desk.words.hint(word, *sorts, also=_OF_AN_ARRIVAL)) is not None:
            return near
    for name in desk.words.of_sort("kind"):
        if text == name.split()[-1] and len(name.split()) > 1:
            return name
    return None


def bracket_inside(text: str, trouble: Unreadable, kinds: Iterable[str]) -> Unreadable | None:
    """A remark in brackets with words behind it: it closes well enough, and stands in the middle of a name or a doing; None for other troubles."""
    found = _BRACKETS.match(text, trouble.start)
    if trouble.code != "bracket" or found is None or not text[found.end() :].strip():
        return None
    before, after = text[: found.start()].strip(), text[found.end() :].strip()
    words = sorted(f"{before} {found[1]} {after}".casefold().split())
    kind = next((name for name in kinds if sorted(name.casefold().split()) == words), None)
    message = f"a remark in brackets stands behind what it is about: `{before} {after} {found[0]}`".replace("` ", "`")
    if kind is not None:
        message = f"a name has no brackets in it; did you mean `{kind}`?"
    return Unreadable(trouble.code, message, found.start(), found.end())


def _apart(desk: Desk, run: Sequence[str]) -> tuple[str, int] | None:
    """The name of several words that these are with a blank in the wrong place (`pullt est`), and how many of them it takes."""
    names = {name.replace(" ", ""): name for name in desk.words.of_sort(*DOINGS) if " " in name}
    for count in range(min(len(run), desk.words.longest), 0, -1):
        name = names.get("".join(run[:count]))
        if name is not None and name != " ".join(run[:count]):
            return name, count
    return None


def _names_a_skin(desk: Desk, word: Sequence[str]) -> bool:
    known = {part for name in desk.words.of_sort("kind") for part in name.split()}
    return any(each in known or each in ("hide", "skin", "pelt", "cape") for each in word)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Words:
    """Words that say nothing where they stand.

    `run` are they in small letters, `start` and `end` where they stand in the piece; `sorts` what alone could stand there (nothing: anything), `looked` all sorts of names that
    they may be nearly. `hint` is the name that the whole is nearly, `note` what is added where the shop's page was not read whole.
    """

    desk: Desk
    run: Sequence[str]
    sorts: tuple[str, ...]
    looked: tuple[str, ...]
    what: str
    hint: str | None
    note: str
    first: Phrase
    end: int

    @property
    def start(self) -> int:
        """Where they begin."""
        return self.first.start

    @property
    def whole(self) -> str:
        """All of them as written."""
        return self.desk.text[self.start : self.end]

    @property
    def written(self) -> str:
        """The first of them as written."""
        return self.desk.text[self.start : self.first.end]

    @property
    def no_such(self) -> str:
        """`"fleshd" is no step or word known here`."""
        return f"is no {self.what or 'step or word known here'}"

    def end_of(self, count: int) -> int:
        """Where the first `count` of them end."""
        return self.desk.phrases[self.desk.at + count - 1].end

    def refuse(self, code: str, message: str, end: int | None = None) -> Unreadable:
        """The refusal of all of them, or of those up to `end`."""
        return Unreadable(code, message, self.start, self.end if end is None else end)


def unknown(desk: Desk, *sorts: str, what: str = "") -> Unreadable:
    """The refusal of words that say nothing where they stand. `sorts`: what alone could stand there; `what`: how that is called."""
    run = desk.word_run()
    first, end = desk.phrases[desk.at], desk.phrases[desk.at + len(run) - 1].end
    looked = sorts or (*DOINGS, "place", *(("kind",) if desk.who and desk.mode in ("", "facts") else ()))
    words = _Words(
        desk=desk,
        run=run,
        sorts=sorts,
        looked=looked,
        what=what,
        hint=desk.words.meant(desk.text[first.start : end].casefold(), *looked, also=LANGUAGE_WORDS),
        note="" if desk.words.whole else " (a definition of the shop could not be read: mend that first)",
        first=first,
        end=end,
    )
    for guess in _ANYWHERE if sorts else (*_IN_AN_ENTRY, *_ANYWHERE):
        found = guess(words)
        if found is not None:
            return found
    return words.refuse(
        "word",
        f"`{words.whole}` {words.no_such}; a remark goes behind `--`, or begins with `remark`{words.note}",
    )


def nothing_there(desk: Desk, defect: str = "slip") -> Unreadable | None:
    """`slip none`: the refusal of a defect that is said not to be there, where nothing but that is said."""
    run = desk.word_run()
    if not run or run[0] not in _NOT_THERE or any(word not in (*_NOT_THERE, *_BETWEEN) for word in run):
        return None
    start, end = desk.phrases[desk.at].start, desk.phrases[desk.at + len(run) - 1].end
    return Unreadable("no defect", f"`{desk.text[start:end]}`: {_sound(defect)}", start, end)


def _sound(defect: str) -> str:
    test = _SOUND_BY.get(defect)
    right = (
        f"that none was found is `H41 {test}`"
        if test is not None
        else f"that none was found stands in a remark: `-- no {defect}`"
    )
    return f"a defect is written where there is one; {right}"


def none_of_a_defect(desk: Desk) -> Unreadable | None:
    """`no slip`, `not slipping`, `no sign of burn`: the refusal, where a defect stands behind such a word."""
    run = desk.word_run()
    if not run or run[0] not in _NOT_THERE:
        return None
    at = next((i for i in range(1, len(run)) if run[i] not in _BETWEEN), len(run))
    found = desk.words.match(run[at:], ("defect",))
    if found is None:
        return None
    start, end = desk.phrases[desk.at].start, desk.phrases[desk.at + at + found[2] - 1].end
    return Unreadable("no defect", f"`{desk.text[start:end]}`: {_sound(found[1])}", start, end)


def _none_of_a_defect(words: _Words) -> Unreadable | None:
    return none_of_a_defect(words.desk)


def _no_steps(words: _Words) -> Unreadable | None:
    if words.desk.words.of_sort("step"):
        return None
    message = f"`{words.whole}`: this book defines no process, so no step is known (`hideledger start FOLDER` writes one to change)"
    return words.refuse("no steps", message)


def _a_recipe(words: _Words) -> Unreadable | None:
    desk = words.desk
    bare = " ".join(desk.text.split())
    if desk.first or bare.casefold() not in desk.shop.recipes:
        return None
    message = f"`{bare}` is a recipe of the shop: write `recipe {bare}`"
    return Unreadable("word", message, desk.phrases[0].start, desk.phrases[-1].end)


def _before_what_is_done(words: _Words) -> Unreadable | None:
    """`P1 pickle mixed …`: the word that says what is done to the bath stands first."""
    desk, doing = words.desk, next((word for word in words.run if word in _OF_A_BATH), None)
    if doing is None or not desk.who:
        return None
    end = words.end_of(words.run.index(doing) + 1)
    said = desk.text[: end - len(doing)].strip()
    if " ".join(said.casefold().split()) in desk.shop.recipes and doing == "mixed":
        behind = f"`{said}` is its recipe: write `mixed, recipe {said}`"
    elif said:
        behind = f"`{said}` before it says nothing"
    else:
        return None
    return Unreadable("word", f"`{doing}` stands right behind the bath's tag; {behind}", desk.phrases[0].start, end)


def _a_place(words: _Words) -> Unreadable | None:
    place = words.desk.look("place")
    if place is None:
        return None
    message = f"`{words.whole}`: does it go there (`frozen in {place[1]}`), or come out of it (`out of {place[1]}`)?"
    return words.refuse("place", message)


def _a_price(words: _Words) -> Unreadable | None:
    price = words.desk.words.extras.get(" ".join(words.whole.casefold().split())) if words.desk.who else None
    if price is None:
        return None
    message = f"`{words.whole}` is a price of the shop and no step; on a line after the arrival it is `charged {price} {words.whole}`, or a remark: `-- {words.whole}`"
    return words.refuse("price", message)


def _out_to_whom(words: _Words) -> Unreadable | None:
    if words.desk.mode != "out":
        return None
    return words.refuse("bare out", f"`{words.whole}`: handed back is `out to {words.whole}`")


def _who_paid(words: _Words) -> Unreadable | None:
    """`Oren Vale paid $50`."""
    desk, run = words.desk, words.run
    if len(run) < 2 or run[-1].casefold() not in ("paid", "pays") or desk.mode not in ("", "money"):
        return None
    if not any(sign.isdigit() for sign in desk.text):
        return None
    name = desk.text[words.start : words.end_of(len(run) - 1)]
    return words.refuse("money", f"{name} paid: the sum stands first, and who paid behind it: `paid $50 by {name}`")


def _a_blank_astray(words: _Words) -> Unreadable | None:
    apart = _apart(words.desk, words.run)
    if apart is None:
        return None
    name, count = apart
    end = words.end_of(count)
    said = words.desk.text[words.start : end]
    return words.refuse("word", f"`{said}` is no step or word known here; did you mean `{name}`?{words.note}", end)


def _in_a_hurry(words: _Words) -> Unreadable | None:
    first = words.first
    if first.word == "new" and not words.desk.who and _names_a_skin(words.desk, words.run[1:2]):
        return words.refuse("hurried", f"`{words.written}`: a hide that arrives is `H41 in, …`", first.end)
    if first.word in HURRIED and words.hint is None:
        return words.refuse("hurried", f"`{words.written}`: {HURRIED[first.word]}", first.end)
    return None


def _nearly(words: _Words) -> Unreadable | None:
    known = words.desk.words
    hint = words.hint or known.hint(words.written.casefold(), *words.looked, also=LANGUAGE_WORDS)
    one = words.run[0]
    hint = hint or next((name for name in known.of_sort("step") if one != name and one in name.split()), None)
    if hint is None:
        return None
    return words.refuse("word", f"`{words.whole}` {words.no_such}; did you mean `{hint}`?{words.note}")


def _initials(words: _Words) -> Unreadable | None:
    said = words.written
    if not (words.desk.after_step and len(words.run) == 1 and said.isupper() and len(said) <= 3):
        return None
    return words.refuse("initials", f"`{said}`: who did it stands behind `by`; did you mean `by {said}`?")


def _behind_a_fact(words: _Words) -> Unreadable | None:
    if not words.desk.facts and words.desk.first:
        return None
    message = f"`{words.whole}` says nothing here; a remark goes behind `--` or in brackets{words.note}"
    return words.refuse("remark", message)


_Guess = Callable[[_Words], Unreadable | None]

# What words may have been meant as, the surest first: where anything may stand, and where only a name of some sort.
_IN_AN_ENTRY: tuple[_Guess, ...] = (
    _none_of_a_defect,
    _no_steps,
    _a_recipe,
    _before_what_is_done,
    _a_place,
    _a_price,
    _out_to_whom,
    _who_paid,
    _a_blank_astray,
    _in_a_hurry,
)
_ANYWHERE: tuple[_Guess, ...] = (_nearly, _initials, _behind_a_fact)
