"""A hide arrives: kind, sex, condition, work done elsewhere, defects, and what it comes with."""

from __future__ import annotations

from dataclasses import replace

from hideledger.model.brought import names_another
from hideledger.model.facts import Arrived, Flaw, Formerly, InCondition, OfKind, OfSex, Remark, Stepped, Tested
from hideledger.reading.desk import Desk, Phrase, canonical_tag
from hideledger.reading.loose import CountOf, DatedTo, InVessel, KilledAt, KilledOn, Where
from hideledger.reading.say_people import back_for, is_repair, name_of
from hideledger.reading.say_words import defect, one_place, step, test
from hideledger.reading.tags import expand
from hideledger.reading.trouble import Unreadable
from hideledger.reading.unknown_words import AT_THE_DOOR, close_name, none_of_a_defect
from hideledger.reading.values import clock_minute, written_date

# Behind these `at` is where the animal fell; behind other free words it goes on with them.
_FELL = frozenset({"shot", "taken", "harvested", "hunted", "trapped", "found", "roadkill", "down"})

# That it comes back says nothing of what it is.
_BACK = frozenset({"back", "back again", "came back", "brought back", "returned"})


def arrival(desk: Desk) -> None:
    """`in` and what follows it: an arrival, unless a step or a place says otherwise."""
    phrase = desk.take()
    step_before = desk.facts[-1] if desk.facts else None
    if (desk.mode in ("defect", "test") or isinstance(step_before, Flaw | Tested | Where)) and desk.next_is("word"):
        start = desk.phrases[desk.at].start
        desk.say(Where(text=desk.rest_of_words(), start=start))  # `slip in left ear`
        return
    if isinstance(step_before, Stepped) and not step_before.where and desk.next_is("tags"):
        desk.facts[-1] = replace(step_before, where=one_place(desk))  # `first turn 40 min in L1`
        return
    if desk.mode in ("mixing", "dose") and desk.next_is("tags"):
        desk.say(InVessel(vessel=one_place(desk)))
        return
    desk.skip_word("the", "a")
    if not desk.first and desk.mode == "arrival" and (spot := desk.name("place")) is not None:
        desk.say(Stepped(step="frozen", where=spot[1]))  # `in, whitetail cape, frozen, in freezer`
        return
    if not desk.first:
        raise desk.refuse("in", "`in` says nothing here", phrase)
    if desk.next_is("tags"):
        tag = canonical_tag(desk.phrases[desk.at].tokens[0])
        raise desk.refuse(
            "which step",
            f"in {tag}: which step? `pickle in {tag}`; a hide that arrives is `in, …`",
            phrase,
            desk.phrases[desk.at].end,
        )
    door = desk.look("condition", "kind", "sex")
    route = desk.look("step", "rest")
    if route is not None and (door is None or route[2] > door[2]):
        desk.at += route[2]
        step(desk, route[1])
        return
    place = desk.look("place")
    if place is not None:
        raise desk.refuse(
            "which step",
            f"in {place[1]}: does it arrive (`in, frozen`), or `frozen in {place[1]}`?",
            phrase,
            desk.phrases[desk.at].end,
        )
    desk.say(Arrived())
    desk.mode = "arrival"


def at_the_door(desk: Desk) -> None:
    """Words of an arrival: kind, sex, condition, work done elsewhere, defects; anything else is kept as a remark unless it is nearly a name."""
    start = desk.phrases[desk.at]
    if desk.skip_word("and", "&"):
        return
    if start.word in ("was", "formerly") and (behind := desk.peek(1)) is not None and behind.kind == "tags":
        desk.at += 1
        _formerly(desk)
        return
    if (none := none_of_a_defect(desk)) is not None:
        raise none
    at, step_too = desk.at, desk.look("step")
    found = desk.name(*AT_THE_DOOR)
    if found is None:
        text, begin, end = desk.unknown_run(*AT_THE_DOOR)
        if text.casefold() in _BACK:
            desk.say(Remark(text=text))
            return
        if is_repair(text):
            back_for(desk, text)
            return
        close = close_name(desk, text.casefold(), ("kind", "condition", "sex", "step", "defect", "test"))
        if close:
            raise Unreadable(
                "name", f"`{text}` is no kind, condition or defect of this shop; did you mean `{close}`?", begin, end
            )
        if _another_skin(desk, text, begin):
            return
        if desk.after_name and text[:1].isupper() and len(text.split()) <= 2:
            message = f"`{text}`: a part of the name? a name has no comma in it; a remark goes behind `--`"
            raise Unreadable("name comma", message, begin, end)
        desk.say(Remark(text=text))
        return
    sort, name = found
    if sort == "kind":
        desk.say(OfKind(kind=name))
    elif sort == "sex":
        desk.say(OfSex(sex=name))
    elif sort in ("condition", "basis"):
        desk.say(InCondition(condition=name))
        # `tanned` may be a step of the shop as well: then it was done elsewhere.
        if name == "tanned" and step_too is not None and desk.at == at + step_too[2]:
            desk.say(Stepped(step=step_too[1]))
    elif sort == "step":
        desk.say(Stepped(step=name))
    elif sort == "test":
        test(desk, name, start)
        desk.mode = "arrival"
    else:
        defect(desk, name)


def _formerly(desk: Desk) -> None:
    """`was H41`: the tag that the skin had when it was here before."""
    phrase = desk.take()
    named = expand(phrase.tokens)
    if len(named) != 1:
        raise desk.refuse("was", "a skin was here under one tag: `in, whitetail cape, was H41`", phrase)
    desk.say(Formerly(other=named[0]))


def _another_skin(desk: Desk, text: str, begin: int) -> bool:
    """`mule deer cape` where `cape` alone is the whitetail's: the words in front make another skin of it, kept as they stand and asked about.

    Sex and condition may stand between them and the kind (`mule deer buck cape`).
    """
    at = desk.at
    between: list[tuple[str, str]] = []
    while (found := desk.look("kind", "sex", "condition")) is not None and found[0] != "kind":
        desk.at += found[2]
        between.append((found[0], found[1]))
    if found is None:
        desk.at = at
        return False
    kind = desk.word_run()[: found[2]]
    others = names_another(text.split(), kind)
    if not others:
        desk.at = at
        return False
    first = desk.phrases[desk.at]
    desk.at += found[2]
    named = " ".join([*others, desk.text[first.start : desk.phrases[desk.at - 1].end]])
    known = desk.words.names.get(" ".join(named.casefold().split()), {}).get("kind")
    meant = None if known else desk.words.hint(named.casefold(), "kind")
    if meant is not None:
        message = f"`{named}` is no kind, condition or defect of this shop; did you mean `{meant}`?"
        raise Unreadable("name", message, begin + text.rindex(others[0]), desk.phrases[desk.at - 1].end)
    look = [word for word in text.split() if word not in others]
    if look:
        desk.say(Remark(text=" ".join(look)))
    desk.say(OfKind(kind=known) if known else Remark(text=named))  # `whitetail shoulder cape`: the look stood between
    for sort, name in between:
        desk.say(OfSex(sex=name) if sort == "sex" else InCondition(condition=name))
    return True


def counted_skins(desk: Desk, count: int, phrase: Phrase) -> None:
    """`14 whitetail capes` on an arrival: a box of them."""
    kind = desk.name("kind")
    if kind is None:
        raise desk.refuse("unit", f"{phrase.tokens[0]}: a unit or a kind is missing", phrase)
    desk.say(CountOf(count=count))
    desk.say(OfKind(kind=kind[1]))


def killed(desk: Desk) -> None:
    """`killed 2026-10-29 16:00`; the place follows behind `at`."""
    phrase = desk.take()
    tokens = phrase.tokens[1:]
    if tokens:
        written = written_date(tokens[0], tokens[0].start_pos or 0, desk.shop.shop.dates)
        minute = None
        clock = [token for token in tokens if token.type in ("CLOCK", "FIGURES")]
        if clock and clock[0].casefold() not in ("morning", "afternoon", "evening", "overnight"):
            minute = clock_minute(clock[0], clock[0].start_pos or 0)
        desk.say(KilledOn(written=written, minute=minute, start=phrase.start, end=phrase.end))
    elif not desk.next_is("at"):
        if desk.next_is("word") and desk.word_run()[0] in ("yesterday", "today"):
            raise desk.refuse("hurried", f"`{desk.word_run()[0]}`: a book is read later; write the date")
        raise desk.refuse("killed", "killed when? `killed 2026-10-29 16:00 at Tarrow county`", phrase)
    if desk.next_is("at"):
        desk.say(KilledAt(where=name_of(desk, desk.take())))
    desk.mode = desk.mode or "facts"


def at(desk: Desk) -> None:
    """`at ears`, behind a test or a defect."""
    phrase = desk.take()
    name = name_of(desk, phrase)
    last = desk.facts[-1] if desk.facts else None
    if desk.mode in ("test", "defect") or isinstance(last, Flaw | Tested | Where):
        desk.say(Where(text=name, start=phrase.start))
    elif isinstance(last, Remark) and last.text.split()[-1].casefold() not in _FELL:
        desk.facts[-1] = replace(last, text=f"{last.text} at {name}")  # `hair tight at ears` is no place in a county
    elif desk.mode in ("arrival", "facts"):
        desk.say(KilledAt(where=name))
    else:
        raise desk.refuse("at", f"at {name}: what is there? a place stands behind `killed`, a test or a defect", phrase)


def dated(desk: Desk) -> None:
    """`promised 2026-12-15`, `expires …`."""
    phrase = desk.take()
    token = phrase.tokens[1]
    word = phrase.word.split()[0]
    desk.say(
        DatedTo(
            word=word,
            written=written_date(token, token.start_pos or 0, desk.shop.shop.dates),
            start=phrase.start,
            end=phrase.end,
        )
    )
    desk.mode = desk.mode or "facts"
