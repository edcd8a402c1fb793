"""The kind of a skin: a word at the door that seems to be one, and that the shop file does not name."""

from __future__ import annotations

import re
from collections.abc import Iterable

from hideledger.model.facts import Arrived, OfKind, Remark
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.spans import arrival_unread
from hideledger.rules.telling import TAGS, of_hide
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.text.nearest import nearest, slip_of

# Common practice, no source: what is brought to such a shop, and what of it.
_BROUGHT = """
antelope badger bear beaver bison blacktail boar bobcat buck buffalo calf caribou cat cougar cow coyote deer doe dog elk ermine ewe fawn ferret
fisher fox goat hare hog horse jackrabbit javelina lamb lion llama lynx marten mink moose mule muntjac muskrat nutria opossum otter pig polecat
porcupine possum pronghorn rabbit raccoon ram reindeer sable seal sheep sika skunk squirrel stag stoat wallaby weasel whitetail wildcat wolf
wolverine woodchuck yak zebra
"""
# Words of somebody who looks at a skin, and does not name it.
_LOOKED_AT_IT = """
a all and any at back bad bald belly big bit blood brought bullet burrs cold cut damaged damp dark dirt dry ear ears extra eye eyes face fat few
flat flesh fresh from full good grease hair hairs has head heavy hole holes horns hot in is it large late left legs light like lips little long
loose looks lots many more mount much mud neck new nice no nose not of off ok old on one only open paws pretty right rush salt scent short
shoulder side skull slick slight small smell smells soft some spots still stinks tail tear tears the thick thin ticks tight to too torn urgent
very warm wet whole with without wounds
"""
_ANIMALS, _LOOKED_AT = frozenset(_BROUGHT.split()), frozenset(_LOOKED_AT_IT.split())
_SKINS = frozenset(("cape", "hide", "skin", "pelt", "fur", "rug"))
_LIKE_A_LOOK = re.compile(r".+(?:ed|ing|[^e]y|ish|less)")
_MOST_WORDS = 3
_LONG = 5  # letters from which on a slip may be told: `pit` is no pig


def unknown_kind(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """The kind says what way a skin goes, what it costs, and what an officer counts: a word that names none is lost for all three."""
    shop = floor.book.shop
    kinds = sorted({name for kind in shop.kinds.values() for name in (kind.name, *kind.others)})
    for life in horizon.lives:
        text = _seems_a_kind(life, named=bool(kinds))
        if not text:
            continue
        meant = _righted(text)
        near = nearest(meant, kinds)
        hint = near or (meant if meant != text.casefold() else "")
        again = f"write what it is: `{TAGS} {near}`; else "
        yield of_hide(
            life,
            name="unknown kind",
            when="record",
            message=f"`{text}` is no kind of the shop, and no other is written of it{f'; did you mean {hint}?' if hint else ''}, "
            f"{when_said(horizon.clock, life.arrived_when, horizon.at)}",
            do=(again if near else "if it is a kind, ")
            + f"write it into the shop file at the margin: `kind {meant}`"
            + ("" if meant == text.casefold() else f", and then of {TAGS} that it is one")
            + "; what is only a remark goes behind a dash",
            entry=life.arrived,
            may=not shop.whole,
            since=life.arrived_when.lo,
            ended=not any(one is life or life.tag in (one.from_box, one.parent) for one in horizon.here),
            cause=f"kind {text.casefold()}",
        )


def _seems_a_kind(life: HideLife, *, named: bool) -> str:
    """The words on its own arrival line that stand where a kind would; nothing where one is known, or they are a look at it."""
    if life.kind or life.parent or life.from_box or arrival_unread(life):
        return ""
    entry = life.arrived
    if life.tag not in entry.tags or any(isinstance(fact, OfKind) for fact in entry.facts):
        return ""
    facts = [fact for fact in entry.facts if not isinstance(fact, Arrived)]
    for number, fact in enumerate(facts):
        if not isinstance(fact, Remark) or fact.text == entry.remark:
            continue
        words = fact.text.casefold().split()
        if len(words) > _MOST_WORDS or not all(word.replace("-", "").isalpha() for word in words):
            continue
        if any(word in _LOOKED_AT for word in words):
            continue
        last = words[-1].removesuffix("s") if words[-1] not in _ANIMALS else words[-1]
        names_one = last in _ANIMALS or last in _SKINS or (len(last) >= _LONG and slip_of(last, _ANIMALS) is not None)
        # A word nobody knows, in the very place of the kind, of a shop that names its kinds.
        in_its_place = named and number == 0 and len(words) <= 2 and not any(map(_LIKE_A_LOOK.fullmatch, words))
        if names_one or in_its_place:
            return fact.text
    return ""


def _righted(text: str) -> str:
    """The words with slips of the fingers put right, as far as they are words of the trade."""
    known = _ANIMALS | _SKINS
    return " ".join(
        word if word in known else slip_of(word, known if len(word) >= _LONG else ()) or word
        for word in text.casefold().split()
    )
