"""What is brought to such a shop, and what people say of it at the door: words that name a skin, and words that only look at one.

Common practice, no source: the words are those of the trade and of its customers.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

_BROUGHT = """
antelope badger bear beaver bison blacktail boar bobcat buck buffalo calf caribou cat cougar cow coyote deer doe dog elk ermine ewe fawn ferret
fisher fox goat hare hog horse jackrabbit javelina lamb lion llama lynx marten mink moose mule muley muntjac muskrat nutria opossum otter pig polecat
porcupine possum pronghorn rabbit raccoon ram reindeer sable seal sheep sika skunk squirrel stag stoat wallaby weasel whitetail wildcat wolf
wolverine woodchuck yak zebra
"""
_LOOKED_AT_IT = """
a all and any at back bad bald belly big bit blood brought bullet burrs cold cut damaged damp dark dirt dry ear ears extra eye eyes face fat few
flat flesh fresh from full good grease hair hairs has head heavy hole holes horns hot in is it large late left legs light like lips little long
loose looks lots many more mount much mud neck new nice no nose not of off ok old on one only open paws pretty right rush salt scent short
shoulder side skull slick slight small smell smells soft some spots still stinks tail tear tears the thick thin ticks tight to too torn urgent
very warm wet whole with without wounds
"""
# What stands before a skin as people write it: how large, of what colour, whose, when, for what.
_SAID_BEFORE = """
an another antlered antlerless average beautiful black blonde bow brown clean cream customer decent deep donor early extra-large fall fawn fine
first fluffy gray great green grey grizzled half his huge jumbo king-size last lean life-size lifesize lot lovely mature medium mid-size mine my
near non-typical nontypical other our pale perfect poor point points pt pts prime queen rack raw red replacement rifle rough second shoulder-mount
silver single size spare spring standard summer tan their third this tiny trophy tube two typical wall white wide wild winter xl xxl yearling
young your youth
"""
ANIMALS, LOOKED_AT = frozenset(_BROUGHT.split()), frozenset(_LOOKED_AT_IT.split())
_BEFORE = frozenset(_SAID_BEFORE.split()) | LOOKED_AT
SKINS = frozenset(("cape", "hide", "skin", "pelt", "fur", "rug"))
AGES = frozenset(
    ("boar", "buck", "bull", "calf", "cow", "cub", "doe", "ewe", "fawn", "kid", "kit", "lamb", "pup", "ram", "stag")
)
_COLORS = frozenset(
    ["arctic", "black", "blue", "brown", "gray", "grey", "red", "silver", "snow", "white"]
)  # of a skin, or of its animal: `red deer`
LIKE_A_LOOK = re.compile(r".+(?:ed|ing|[^e]y|ish|less|['’]s)")


def one_of(word: str) -> str:
    """A word in small letters, one of several where it is a skin or an animal: `capes`, `foxes`."""
    small = word.casefold()
    for one in (small, small.removesuffix("s"), small.removesuffix("es")):
        if one in ANIMALS or one in SKINS:
            return one
    return small


def names_another(before: Sequence[str], kind: Sequence[str]) -> list[str]:
    """The words in front of a kind's name that make another skin of it: `mule deer` before `cape`; none of `big`, `my brother's`.

    A kind that says no animal (`cape`) is another by any word that is not said of how a skin looks; one that does (`elk cape`) only by an
    animal that is no age of it.
    """
    spoken = [one_of(word) for word in kind]
    if any(word in ANIMALS for word in spoken):
        others = [word for word in before if one_of(word) in ANIMALS - AGES - frozenset(spoken)]
        return list(before) if others else []
    if not spoken or spoken[-1] not in SKINS:
        return []
    found = [word for word in before if not _said_of_a_look(word)]
    if any(one_of(word) in ANIMALS for word in found):
        at = list(before).index(found[0])
        while at > 0 and before[at - 1].casefold() in _COLORS:
            at -= 1
            found.insert(0, before[at])
    return found


def animals_of(words: Sequence[str]) -> frozenset[str]:
    """The animals that words name, `deer` left out where it may be any."""
    return frozenset(map(one_of, words)) & (ANIMALS - {"deer"})


def _said_of_a_look(word: str) -> bool:
    small = word.casefold()
    return small in _BEFORE or (one_of(small) not in ANIMALS and LIKE_A_LOOK.fullmatch(small) is not None)
