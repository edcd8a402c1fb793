"""Words that say nothing where they stand: refused with the nearest thing that would."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from hideledger.reading.desk import Desk
from hideledger.reading.trouble import Unreadable

AT_THE_DOOR = ("condition", "kind", "sex", "step", "defect", "test", "basis")
_BRACKETS = re.compile(r"\(([^()]*)\)")
DOINGS = ("step", "rest", "test", "defect")


LANGUAGE_WORDS = [
    "mixed",
    "add",
    "stirred",
    "dumped",
    "runs",
    "stops",
    "ran",
    "vented",
    "pressed",
    "skipped",
    "process",
    "recipe",
    "waived",
    "bought",
    "counted",
    "used",
    "lost",
    "refused",
    "opened",
    "replaces",
    "together",
    "remark",
    "killed",
    "promised",
    "expires",
    "arrived",
    "in",
]


# Words of the language that an arrival line has, each with something behind it.
_OF_AN_ARRIVAL = ("killed", "promised", "licence", "process", "deposit", "hunter", "owner")

# What people write in a hurry, and the one thing it could mean here.
HURRIED = {
    "today": "a book is read later; write the date",
    "yesterday": "a book is read later; write the date",
    "tomorrow": "a book is read later; write the date",
    "ditto": "write the word again",
    "same": "write the word again",
    "done": "done with what? name the step, or `out to WHOM`",
    "put": "name the step: `H41 pickle in P3`",
    "took": "to lift a hide out write `H41 out of P3`",
    "moved": "name the step it goes on to: `H41 pickle in P3`",
    "buy": "a line to remember begins with `remark`",
    "call": "a line to remember begins with `remark`",
    "weighs": "leave the word away: `H41 7.5 lb`",
    "weighed": "leave the word away: `H41 7.5 lb`",
    "no": "left out on purpose is `skipped STEP -- why`",
    "new": "a bath is made up with `mixed`: `P4 mixed in V1, 20 gal water, 20 lb salt`",
    "hide": "write its tag: `H41`",
    "all": "`all in P3` is whoever is in it; else name the hides",
    "received": "a hide that arrives is `H41 in, …`",
    "smells": "a remark goes behind `--` or in brackets",
    "finished": "finished with what? name the step, or `out to WHOM`",
    "moved out": "to lift a hide out write `H41 out of P3`",
    "taken": "to lift a hide out write `H41 out of P3`",
    "pulled": "a pull test is `pull test ok`; to lift a hide out write `H41 out of P3`",
    "came": "a hide that arrives is `H41 in, …`",
    "sal": "the number stands first: `40 sal`",
    "temp": "a number and a unit stand behind it: `64 F`",
    "due": "the promised day is `promised 2026-12-20`",
    "cut": "a cut test is `cut test ok` or `cut test fails`; a skin divided is `cut into`",
    "weight": "leave the word away: `H41 7.5 lb`",
    "returned": "a sum paid back is `gave back $40.00 to Oren Vale`; a hide fetched is `out to WHOM`",
    "gave": "a sum paid back is `gave back $40.00 to Oren Vale`; a hide fetched is `out to WHOM`",
    "deposit": "a sum stands behind it: `deposit $50`",
    "paid": "a sum stands behind it: `paid $40.00 by Oren Vale`",
    "seal": "its code stands behind it: `seal 4411`",
    "tag": "its code stands behind it: `tag 40718`",
    "licence": "its code stands behind it: `licence 7712`",
    "topped": "up to how much? `topped up to 20 gal`",
    "but": "a whole tag stands behind it: `but H41`",
    "thru": "up to which tag? `H41 thru H44`",
    "picked": "by whom? `picked up by WHOM`",
    "picked up": "by whom? `picked up by WHOM`",
    "neck": "a size stands behind it: `neck 19 in`",
    "ok": "what is? a reading, a test (`pull test ok`), or `remark ok`",
}


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


def unknown(desk: Desk, *sorts: str, what: str = "") -> Unreadable:
    """The refusal of words that say nothing where they stand."""
    run = desk.word_run()
    phrase = desk.phrases[desk.at]
    if not sorts and not desk.words.of_sort("step"):
        end = desk.phrases[desk.at + len(run) - 1].end
        message = f"`{desk.text[phrase.start : end]}`: this book defines no process, so no step is known (`hideledger start FOLDER` writes one to change)"
        return Unreadable("no steps", message, phrase.start, end)
    bare = " ".join(desk.text.split())
    if not desk.first and bare.casefold() in desk.shop.recipes:
        message = f"`{bare}` is a recipe of the shop: write `recipe {bare}`"
        return Unreadable("word", message, desk.phrases[0].start, desk.phrases[-1].end)
    written = desk.text[phrase.start : phrase.end]
    whole_end = desk.phrases[desk.at + len(run) - 1].end
    whole = desk.text[phrase.start : whole_end]
    looked = sorts or (*DOINGS, "place", *(("kind",) if desk.who and desk.mode in ("", "facts") else ()))
    if not desk.words.whole:
        note = " (a definition of the shop could not be read: mend that first)"
    else:
        note = ""
    hint = desk.words.meant(whole.casefold(), *looked, also=LANGUAGE_WORDS)
    place = desk.look("place") if not sorts else None
    if place is not None:
        message = f"`{whole}`: does it go there (`frozen in {place[1]}`), or come out of it (`out of {place[1]}`)?"
        return Unreadable("place", message, phrase.start, whole_end)
    price = desk.words.extras.get(" ".join(whole.casefold().split())) if not sorts and desk.who else None
    if price is not None:
        message = f"`{whole}` is a price of the shop and no step; on a line after the arrival it is `charged {price} {whole}`, or a remark: `-- {whole}`"
        return Unreadable("price", message, phrase.start, whole_end)
    if desk.mode == "out":
        return Unreadable("bare out", f"`{whole}`: handed back is `out to {whole}`", phrase.start, whole_end)
    if (
        len(run) > 1
        and run[-1].casefold() in ("paid", "pays")
        and desk.mode in ("", "money")
        and any(sign.isdigit() for sign in desk.text)
    ):
        name = desk.text[phrase.start : desk.phrases[desk.at + len(run) - 2].end]
        return Unreadable(
            "money",
            f"{name} paid: the sum stands first, and who paid behind it: `paid $50 by {name}`",
            phrase.start,
            whole_end,
        )
    apart = _apart(desk, run) if not sorts else None
    if apart is not None:
        name, count = apart
        end = desk.phrases[desk.at + count - 1].end
        said = desk.text[phrase.start : end]
        return Unreadable(
            "word", f"`{said}` is no step or word known here; did you mean `{name}`?{note}", phrase.start, end
        )
    if phrase.word == "new" and not sorts and not desk.who and _names_a_skin(desk, run[1:2]):
        return Unreadable("hurried", f"`{written}`: a hide that arrives is `H41 in, …`", phrase.start, phrase.end)
    if phrase.word in HURRIED and not sorts and hint is None:
        return Unreadable("hurried", f"`{written}`: {HURRIED[phrase.word]}", phrase.start, phrase.end)
    hint = hint or desk.words.hint(written.casefold(), *looked, also=LANGUAGE_WORDS)
    part = next((name for name in desk.words.of_sort("step") if run[0] != name and run[0] in name.split()), None)
    if hint or part:
        return Unreadable(
            "word",
            f"`{whole}` is no {what or 'step or word known here'}; did you mean `{hint or part}`?{note}",
            phrase.start,
            whole_end,
        )
    if desk.after_step and len(run) == 1 and written.isupper() and len(written) <= 3:
        return Unreadable(
            "initials",
            f"`{written}`: who did it stands behind `by`; did you mean `by {written}`?",
            phrase.start,
            phrase.end,
        )
    if desk.facts or not desk.first:
        return Unreadable(
            "remark",
            f"`{whole}` says nothing here; a remark goes behind `--` or in brackets{note}",
            phrase.start,
            whole_end,
        )
    return Unreadable(
        "word",
        f"`{whole}` is no {what or 'step or word known here'}; a remark goes behind `--`, or begins with `remark`{note}",
        phrase.start,
        whole_end,
    )
