"""People, codes, and the ways out of the shop."""

from __future__ import annotations

from dataclasses import replace

from hideledger.model.brought import ANIMALS, one_of
from hideledger.model.facts import (
    By,
    Code,
    HandedOut,
    InCondition,
    LiftedOut,
    Money,
    Party,
    Remark,
)
from hideledger.model.facts_shelf import GIVEN_BACK, PAID_IN
from hideledger.reading.desk import Desk, Phrase, canonical_tag
from hideledger.reading.loose import BareOut, Skins
from hideledger.reading.tags import expand
from hideledger.reading.unknown_words import unknown

# What leather comes back for: nobody's name, and nothing that is done to a raw skin.
_REPAIRS = frozenset(
    {"repair", "repairs", "mending", "new backing", "a new backing", "backing", "retanning", "a retan"}
)


def is_repair(text: str) -> bool:
    """Whether these words say what leather comes back for."""
    return text.casefold() in _REPAIRS


def back_for(desk: Desk, said: str) -> None:
    """It comes as leather, where its line does not say how it comes; what for stays in the words it was said in."""
    if not any(isinstance(fact, InCondition) for fact in desk.facts):
        desk.say(InCondition(condition="tanned"))
    desk.say(Remark(text=said))


def name_of(desk: Desk, phrase: Phrase) -> str:
    """A name stands behind the first word of its phrase, to the last; quotation marks and double blanks are passed over."""
    first, last = phrase.tokens[1], phrase.tokens[-1]
    text = desk.text[first.start_pos : last.end_pos]
    # "T. Marlow": the full stop behind an initial is passed over by the grammar but belongs to the name.
    return " ".join(text.strip('"“”„ ').split())


def whom(desk: Desk) -> None:
    """`for Oren Vale`, `from …`, `hunter …`, `by JK`."""
    phrase = desk.take()
    name = name_of(desk, phrase)
    place = desk.words.names.get(name.casefold().removeprefix("the "), {}).get("place")
    if place is not None and phrase.word == "from":
        desk.say(LiftedOut(where=place))
        desk.mode = "lifted"
        return
    if place is not None:
        raise desk.refuse("place", f"{name} is a place of the shop, no person", phrase)
    last = desk.facts[-1] if desk.facts else None
    if phrase.word == "from" and isinstance(last, Money) and last.sort in PAID_IN and desk.mode == "money":
        desk.facts[-1] = replace(last, by=name)  # `paid $25 from Oren Vale`; on an arrival the skin is from him
        return
    if phrase.word == "by":
        if isinstance(last, Money) and last.sort != GIVEN_BACK:
            desk.facts[-1] = replace(last, by=name)
        elif desk.mode == "money" and any(name.casefold() == one.name.casefold() for one in desk.shop.customers):
            raise desk.refuse(
                "money", f"{name} paid? That stands behind the sum without a comma: `paid $50 by {name}`", phrase
            )
        else:
            desk.say(By(who=name))
        return
    article, _, animal = name.casefold().partition(" ")
    if phrase.word == "from" and article in ("a", "an") and all(one_of(word) in ANIMALS for word in animal.split()):
        message = f"`from {name}`: who brought it stands behind `from`; the kind is said in the shop's own words"
        raise desk.refuse("kind", message, phrase)
    if phrase.word == "for" and desk.mode == "arrival" and is_repair(name):
        back_for(desk, f"for {name}")
        return
    desk.say(Party(role=phrase.word, name=name))
    desk.mode = "arrival name" if desk.mode == "arrival" else desk.mode or "facts"


def out_to(desk: Desk) -> None:
    """`out to Oren Vale`, `picked up by …`, `sent to …`."""
    phrase = desk.take()
    name = name_of(desk, phrase)
    last = desk.facts[-1] if desk.facts else None
    if phrase.word == "to" and isinstance(last, Money) and last.sort == GIVEN_BACK:
        desk.facts[-1] = replace(last, by=name)
        return
    if phrase.word == "to" and desk.mode == "money":
        raise desk.refuse(
            "money", f"to {name}: what was paid back is `gave back $20 to {name}`, right behind the sum", phrase
        )
    if phrase.word == "to" and desk.mode != "out":
        raise desk.refuse("to", f"to {name}: handed back is `out to {name}`", phrase)
    desk.facts = [fact for fact in desk.facts if not isinstance(fact, BareOut)]
    desk.say(HandedOut(to=name))
    desk.mode = "handed"


def out(desk: Desk) -> None:
    """`out`: to whom stands behind it, or it cannot be read."""
    phrase = desk.take()
    if desk.next_is("tags"):
        tag = canonical_tag(desk.phrases[desk.at].tokens[0])
        raise desk.refuse(
            "bare out", f"out {tag}: lifted out (`out of {tag}`), or handed back (`out to WHOM`)?", phrase
        )
    desk.say(BareOut(start=phrase.start, end=phrase.end))
    desk.mode = "out"


def out_of(desk: Desk) -> None:
    """`out of P3`, `out of freezer`."""
    phrase = desk.take()
    if desk.next_is("tags"):
        named = expand(desk.take().tokens)
        desk.say(LiftedOut(where=named[0]))
    elif (place := desk.name("place")) is not None:
        desk.say(LiftedOut(where=place[1]))
    elif (step := desk.look("step")) is not None:
        message = f"`{step[1]}` is a step, and what ends it is the line of the next one (`pickle in P3`); out of a bath is `out of P3`, out of a place `out of freezer`"
        raise desk.refuse("step", message, phrase, desk.phrases[desk.at + step[2] - 1].end)
    elif desk.next_is("word"):
        raise unknown(desk, "place", what="bath or place of the shop; write its tag (`out of P3`)")
    else:
        raise desk.refuse("out of what", "out of what? `out of P3`", phrase)
    desk.mode = "lifted"


def coded(desk: Desk) -> None:
    """`tag 40718`, `licence …`, `seal …`; a lot stands behind its supply."""
    phrase = desk.take()
    sort = {"license": "licence", "permit": "licence", "lic": "licence", "lic.": "licence"}.get(
        phrase.word, phrase.word
    )
    code = str(phrase.tokens[-1]).lstrip("#")
    if sort == "lot":
        raise desk.refuse("lot", f"lot {code} of what? a lot stands behind its supply: `20 lb salt lot {code}`", phrase)
    desk.say(Code(sort=sort, code=code))
    desk.mode = desk.mode or "facts"


def theirs(desk: Desk) -> None:
    """`their tags R-101 thru R-114`."""
    phrase = desk.take()
    named = expand(phrase.tokens[1:])
    if desk.mode == "opened":
        desk.say(Skins(tags=named, theirs=True, start=phrase.start, end=phrase.end))
    elif len(named) == 1:
        desk.say(Code(sort="their tag", code=named[0]))
    else:
        raise desk.refuse(
            "their tags", "their tags stand on the line that opens a box, or one by one: `H60 their tag R-101`", phrase
        )
