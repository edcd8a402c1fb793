"""Words of the language that begin a piece: baths, drums, shelf, ends."""

from __future__ import annotations

from collections.abc import Callable

from hideledger.model.facts import (
    Added,
    Arrived,
    Bought,
    Counted,
    Dumped,
    Fact,
    KeepApart,
    Lost,
    MeterSet,
    Mixed,
    OnProcess,
    Opened,
    Pressed,
    Ran,
    Refused,
    Skipped,
    StandsIn,
    Stirred,
    Turning,
    Used,
    Vented,
    Waived,
)
from hideledger.reading.desk import Desk, canonical_tag
from hideledger.reading.loose import ByRecipe, InVessel
from hideledger.reading.say_amounts import NOTHING
from hideledger.reading.say_words import one_place
from hideledger.reading.tags import expand
from hideledger.reading.unknown_words import unknown
from hideledger.reading.values import clock_minute, number


def dosing(desk: Desk) -> None:
    """`mixed in V1, …`, the doing first in `mixed P1 in V1`, and `add …`."""
    phrase = desk.take()
    if phrase.word == "mixed":
        desk.say(Mixed())
        desk.mode = "mixing"
        if desk.next_is("tags") and not desk.who and desk.first and not desk.tags:
            desk.tags = expand(desk.take().tokens)
            if len(desk.tags) == 2 and desk.tags[1] in desk.shop.vessels:  # `mixed P1 V1`
                desk.say(InVessel(vessel=desk.tags[1]))
                desk.tags = desk.tags[:1]
        elif desk.next_is("tags"):
            desk.say(InVessel(vessel=one_place(desk)))
        return
    desk.say(Added())
    desk.mode = "dose"
    if desk.next_is("word") and desk.look("supply") is not None:
        supply = desk.look("supply")
        assert supply is not None
        raise desk.refuse("amount first", f"the amount stands before the supply: `add 8 oz {supply[1]}`")
    if desk.next_is("word"):
        raise desk.refuse(
            "number",
            f"`{desk.text[desk.phrases[desk.at].start :].strip()}`: a number is missing; `add 8 oz citric acid`",
        )


def topped(desk: Desk) -> None:
    """`topped up to 20 gal`."""
    phrase = desk.take()
    if not phrase.word.endswith(" to"):
        raise desk.refuse(
            "topped",
            "topped up to how much in all (`topped up to 20 gal`), or so much added (`add 2 gal water`)?",
            phrase,
        )
    desk.mode = "topping"


def turning(desk: Desk) -> None:
    """`on` and `off` of a drum; `runs` and `stops` are the same."""
    phrase = desk.take()
    desk.say(Turning(on=phrase.word in ("on", "runs", "running")))
    desk.mode = "turning"
    if desk.next_is("span"):
        after = desk.phrases[desk.at]
        raise desk.refuse(
            "gone or to come", f"a run written afterwards is `ran {after.tokens[0]} to {after.tokens[-1]}`", after
        )


def ran(desk: Desk) -> None:
    """`ran 8:25 to 9:10`."""
    phrase = desk.take()
    start, end = phrase.tokens[1], phrase.tokens[-1]
    desk.say(Ran(start=clock_minute(start, start.start_pos or 0), end=clock_minute(end, end.start_pos or 0)))
    desk.mode = "ran"


def skipped(desk: Desk) -> None:
    """`skipped salt -- why`."""
    phrase = desk.take()
    found = desk.name("step")
    if found is None:
        if desk.next_is("word"):
            raise unknown(desk, "step", what="step of this shop")
        raise desk.refuse("skipped", "skipped which step? `skipped salt -- why`", phrase)
    desk.skip_word("again")
    desk.say(Skipped(step=found[1]))
    desk.mode = "skipped"


def named(desk: Desk) -> None:
    """`process drum`, `recipe pickle`."""
    phrase = desk.take()
    sort = phrase.word
    found = desk.name(sort)
    if found is None:
        if not desk.next_is("word"):
            raise desk.refuse(sort, f"{phrase.word} which? {_some(desk, sort)}", phrase)
        if desk.words.whole:
            raise unknown(desk, sort, what=f"{sort} of this shop")
        name = desk.rest_of_words()
    else:
        name = found[1]
    if sort == "process":
        desk.say(OnProcess(process=name))
    else:
        desk.say(ByRecipe(recipe=name))


def waived(desk: Desk) -> None:
    """`waived came out early -- why`."""
    phrase = desk.take()
    written = " ".join(phrase.tokens[-1].casefold().replace("’", "'").split()) if len(phrase.tokens) > 1 else ""
    if not written:
        raise desk.refuse("waived", "waived which finding? `waived came out early -- why`", phrase)
    found = desk.words.names.get(written, {}).get("finding")
    if found is None:
        raise desk.refuse("finding", f"`{written}` is no finding{desk.nearest(written, ['finding'])}", phrase)
    desk.say(Waived(finding=found))
    desk.mode = "waived"


def _some(desk: Desk, sort: str) -> str:
    names = sorted(set(desk.words.of_sort(sort)))[:6]
    return "this shop has " + ", ".join(names) if names else f"no {sort} is defined yet"


def shelf(desk: Desk) -> None:
    """`bought 200 lb salt lot S-115`, `counted …`, `used …`."""
    phrase = desk.take()
    facts: dict[str, Callable[[], Fact]] = {
        "bought": lambda: Bought(amount=NOTHING),
        "counted": lambda: Counted(amount=NOTHING),
        "used": lambda: Used(amount=NOTHING),
    }
    desk.say(facts[phrase.word]())
    desk.mode = "shelf"
    if not desk.next_is("quantity", "count"):
        raise desk.refuse(
            "amount", f"{phrase.word} how much of what? `{phrase.word} 50 lb salt`", None if desk.peek() else phrase
        )


def done(desk: Desk) -> None:
    """Words that need nothing behind them: lost, refused, opened, vented, dumped, arrived, keep apart."""
    phrase = desk.take()
    word = phrase.word.replace("dumped", "dump")
    facts: dict[str, tuple[Fact, str]] = {
        "lost": (Lost(), "lost"),
        "refused": (Refused(), "refused"),
        "opened": (Opened(tags=()), "opened"),
        "vented": (Vented(), "reading"),
        "dump": (Dumped(), "dumped"),
        "arrived": (Arrived(), "arrival"),
        "keep apart": (KeepApart(), "facts"),
    }
    fact, mode = facts[word]
    desk.say(fact)
    desk.mode = mode


def pressed(desk: Desk) -> None:
    """`pressed to 9 psi`."""
    desk.take()
    desk.say(Pressed())
    desk.mode = "reading"


def stirred(desk: Desk) -> None:
    """`stirred`."""
    desk.take()
    desk.skip_word("well", "twice", "again", "good")
    desk.say(Stirred())
    desk.mode = desk.mode or "reading"


def meter_set(desk: Desk) -> None:
    """`meter set at 4 and 7`."""
    phrase = desk.take()
    desk.say(
        MeterSet(at=tuple(number(token, token.start_pos or 0) for token in phrase.tokens if token.type == "NUMBER"))
    )


def cut_into(desk: Desk) -> None:
    """`cut into H41a cape, H41b back skin`."""
    desk.take()
    desk.mode = "parts"


def replaces(desk: Desk) -> None:
    """`replaces H44`."""
    phrase = desk.take()
    desk.say(StandsIn(other=canonical_tag(phrase.tokens[1])))
    desk.mode = "facts"
