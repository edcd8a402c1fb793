"""Words of a piece: steps, tests, defects, places, and what only goes on with the pieces before."""

from __future__ import annotations

from hideledger.model.facts import Flaw, OfKind, OfSex, Remark, Stepped, Stirred, Tested, Turning, Vented
from hideledger.reading.desk import Desk, Phrase, canonical_tag
from hideledger.reading.hurried import HURRIED, LANGUAGE_WORDS
from hideledger.reading.loose import Degree, OnHide, Part, Skins, Where
from hideledger.reading.tags import expand
from hideledger.reading.unknown_words import AT_THE_DOOR, DOINGS, close_name, nothing_there, unknown
from hideledger.text.nearest import nearest

# Words of the language that may stand without a comma behind a reading.
_DOINGS_BETWEEN = {
    "stirred": Stirred(),
    "stir": Stirred(),
    "vented": Vented(),
    "on": Turning(on=True),
    "off": Turning(on=False),
}
# Said of a reading, and of no weight: `temp 64 F`.
_TOLD_BY_THE_UNIT = ("temp", "temperature", "salinity", "pressure")


def words(desk: Desk) -> None:
    """The words that stand next, by what the line is so far."""
    if desk.mode == "parts":
        raise desk.refuse("part", "a part begins with its new tag: `H41a cape`")
    if desk.first and not desk.who and _place_of_the_shop(desk):
        return
    if desk.look(*DOINGS) is None and _goes_on(desk):
        return
    found = desk.look(*DOINGS)
    if found is None and _told_later(desk):
        return
    if found is None:
        if not desk.words.whole and desk.who and _may_be_a_step(desk):
            return
        raise unknown(desk)
    sort, name, count = found
    start = desk.phrases[desk.at]
    desk.at += count
    if sort in ("step", "rest"):
        step(desk, name)
    elif sort == "test":
        test(desk, name, start)
    else:
        defect(desk, name)


def _told_later(desk: Desk) -> bool:
    """`H41 whitetail cape, doe`: kind and sex, which the arrival line had not."""
    found = desk.look("kind", "sex") if desk.who and desk.mode in ("", "facts") else None
    if found is None:
        return False
    desk.at += found[2]
    desk.say(OfKind(kind=found[1]) if found[0] == "kind" else OfSex(sex=found[1]))
    desk.mode = "facts"
    return True


def _place_of_the_shop(desk: Desk) -> bool:
    """`room 66 F`, `freezer -4 F`: a reading of a place."""
    found = desk.look("place")
    if found is None:
        return False
    behind = desk.peek(found[2])
    if behind is not None and behind.kind == "count":
        figures = behind.tokens[0]
        raise desk.refuse(
            "degrees",
            f"{figures}: F or C? write `{found[1]} {figures} F`, or `{figures}°` where the shop says `degrees`",
            behind,
        )
    if behind is None or behind.kind != "quantity":
        return False
    desk.at += found[2]
    desk.place = found[1]
    return True


def _may_be_a_step(desk: Desk) -> bool:
    """While a definition cannot be read, words near to nothing known may be a step it defined: they count as one."""
    run = desk.word_run()
    whole = " ".join(run)
    if len(run) > 4 or run[0] in HURRIED or desk.words.hint(whole, *DOINGS, "place", also=LANGUAGE_WORDS) is not None:
        return False
    desk.at += len(run)
    step(desk, whole)
    return True


def _goes_on(desk: Desk) -> bool:
    """Words that only go on with what the pieces before began."""
    phrase = desk.phrases[desk.at]
    behind = desk.peek(1)
    if phrase.word in (*_TOLD_BY_THE_UNIT, "took") and behind is not None and behind.kind == "quantity":
        desk.take()
        return True
    if desk.mode == "money":
        written = desk.rest_of_words()
        known = nearest(" ".join(written.split()), [customer.name for customer in desk.shop.customers])
        if known is not None:
            raise desk.refuse(
                "money",
                f"{written}: whoever paid stands behind the sum and `by`, without a comma: `paid $50 by {known}`",
                phrase,
                phrase.start + len(written),
            )
        desk.say(Remark(text=written))  # `paid $100 cash`
        return True
    doing = _DOINGS_BETWEEN.get(phrase.word)
    if doing is not None and desk.facts:
        desk.take()
        desk.say(doing)
        return True
    if desk.skip_word("and", "&", "again") or (desk.mode == "step" and desk.skip_word("then")):
        return True
    bare_back = phrase.word == "back" and not desk.phrases[desk.at + 1 : desk.at + 2]
    if bare_back and desk.mode not in ("defect", "test"):  # behind those it is a place on the skin
        raise desk.refuse("back", "back in which bath? `back in P3 -- why`")
    if phrase.word == "back" and desk.at + 1 < len(desk.phrases) and desk.phrases[desk.at + 1].kind == "in":
        desk.take()
        desk.take()
        if not desk.next_is("tags"):
            raise desk.refuse(
                "back", "back in which bath? `back in P3 -- why`, or name the step: `pickle in P3`", phrase
            )
        tags = expand(desk.take().tokens)
        desk.say(Stepped(step="", where=tags[0], back=True))
        desk.mode = "bath step"
        return True
    degree = desk.look("degree") if desk.mode == "defect" else None
    if degree is not None:
        desk.at += degree[2]
        desk.say(Degree(degree=degree[1]))
        return True
    if desk.mode == "defect" and (nothing := nothing_there(desk)) is not None:
        raise nothing
    if desk.mode in ("defect", "dumped"):
        start = phrase.start
        desk.say(Where(text=desk.rest_of_words(), start=start))
        return True
    if desk.mode == "test":
        if close_name(desk, " ".join(desk.word_run()), DOINGS):
            return False
        desk.say(Remark(text=desk.rest_of_words()))
        return True
    return False


def step(desk: Desk, name: str) -> None:
    """A step, with the bath or place it goes to."""
    back = desk.skip_word("back")
    desk.skip_word("again")
    where, bath = "", False
    if not desk.who and desk.first and not desk.tags and desk.next_is("tags"):
        desk.tags = expand(desk.take().tokens)
    if desk.next_is("in"):
        into = desk.take()
        desk.skip_word("the", "a")
        if desk.next_is("tags"):
            where, bath = one_place(desk), True
        elif (place := desk.name("place")) is not None:
            where = place[1]
        elif desk.next_is("word"):
            raise unknown(desk, "place", what="bath or place of the shop")
        else:
            raise desk.refuse("in what", f"in which bath or place? `{name} in P3`", into)
    elif desk.next_is("tags") and not _words_behind(desk):
        where, bath = one_place(desk), True
    desk.say(Stepped(step=name, where=where, back=back))
    supply = desk.words.names.get(name.casefold(), {}).get("supply")
    desk.mode = "bath step" if bath else ("step supply" if supply else "step")


def _words_behind(desk: Desk) -> bool:
    """Whether words follow the tag that stands next: then it begins something of its own."""
    behind = desk.peek(1)
    return behind is not None and behind.kind == "word"


def one_place(desk: Desk) -> str:
    """One tag says where something lies; a run of them is refused: one of them. Raises Unreadable."""
    phrase = desk.take()
    tags = expand(phrase.tokens)
    if len(tags) > 1:
        raise desk.refuse("two baths", f"one of them: {tags[0]} or {tags[1]}?", phrase)
    return tags[0]


def test(desk: Desk, name: str, start: Phrase) -> None:
    """A test and how it went."""
    desk.skip_word("was", "is")
    result = desk.name("result")
    if result is None:
        written = " ".join(desk.word_run()[:1])
        raise desk.refuse(
            "test result",
            f"{name}: ok or fails?" + desk.nearest(written, ["result"]),
            None if desk.next_is("word") else start,
        )
    desk.say(Tested(test=name, passed=result[1] == "ok"))
    desk.mode = "test"
    if desk.next_is("word") and desk.look(*DOINGS) is None and desk.phrases[desk.at].word not in ("and", "&"):
        desk.say(Where(text=desk.rest_of_words()))


def defect(desk: Desk, name: str) -> None:
    """A defect, where on the skin and how bad."""
    desk.say(Flaw(defect=name))
    if desk.mode != "arrival":
        desk.mode = "defect"
    if (nothing := nothing_there(desk, name)) is not None:
        raise nothing
    while desk.next_is("word") and desk.phrases[desk.at].word not in ("and", "&"):
        degree = desk.name("degree")
        if degree is not None:
            desk.say(Degree(degree=degree[1]))
            continue
        if desk.mode == "arrival" and desk.look(*AT_THE_DOOR) is not None:
            return
        text, start, _ = desk.unknown_run("degree", *(() if desk.mode != "arrival" else AT_THE_DOOR))
        desk.say(Where(text=text, start=start))


def tags(desk: Desk) -> None:
    """Tags inside a piece: the hide a test was made on, the parts a skin was cut into, further hides behind a step that stood first."""
    phrase = desk.take()
    named = expand(phrase.tokens)
    if desk.mode == "parts":
        what = desk.rest_of_words()
        for tag in named:
            desk.say(Part(tag=tag, what=what, start=phrase.start, end=phrase.end))
        return
    if desk.mode == "opened":
        desk.say(Skins(tags=named, start=phrase.start, end=phrase.end))
        return
    if desk.mode == "test":
        if len(named) > 1:
            raise desk.refuse("test on", "a test is made on one hide; one line each", phrase)
        desk.say(OnHide(tag=named[0]))
        if desk.next_is("word"):
            desk.say(Where(text=desk.rest_of_words()))
        return
    if not desk.who and not desk.tags and (desk.first or desk.mode in ("step", "step supply")):
        desk.tags = named  # the doing stood first: `stir P1`, `fleshed H41, H42`
        return
    if desk.mode == "arrival" and desk.first:
        raise desk.refuse(
            "which step", f"in {named[0]}: which step? `pickle in {named[0]}`; a hide that arrives is `in, …`", phrase
        )
    raise desk.refuse(
        "tag",
        f"{canonical_tag(phrase.tokens[0])} says nothing here; those it is about stand right behind the time",
        phrase,
    )
