"""What a place on the skin suggests, and what each sort of failure usually comes from.

Common practice, no source, unless one is named. A cause named here is a place to look first, never a finding.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

# Ears, then eyes and lips, are where slip shows first; a fold when salted slips along the spine (practitioners' accounts).
_PLACES: tuple[tuple[re.Pattern[str], str], ...] = (
    (
        re.compile(r"\b(?:ears?|eyes?|eyelids?|lips?|muzzle|nose|nostrils?|face)\b"),
        "ears, eyes and lips: not turned or split, so neither salt nor acid came through",
    ),
    (
        re.compile(r"\b(?:spine|back ?line|mid ?back|along the back|ridge|backbone)\b"),
        "a line along the back: a fold, where salt or acid never came",
    ),
    (re.compile(r"\b(?:belly|gut|paunch|stomach)\b"), "belly: what ran from the gut, or heat under the skin"),
    (re.compile(r"\b(?:wound|bullet|arrow|shot|hole|blood|entry|exit)\b"), "round a wound: blood left in it"),
    (
        re.compile(r"\b(?:neck|throat|shoulders?)\b"),
        "neck: the thickest place, the last that salt, acid and cold come through",
    ),
    (re.compile(r"\b(?:flanks?|rump|ham|hips?|ribs?)\b"), "flank: fat left on, with raw skin under it"),
    (
        re.compile(r"\b(?:armpits?|groin|crotch|leg ?pits?)\b"),
        "armpit and groin: closed in, slow to cool and seldom reached by salt",
    ),
    (re.compile(r"\b(?:brisket|chest)\b"), "brisket: thick, lies on the ground, dries last"),
    (re.compile(r"\b(?:paws?|toes?|tail|feet|foot)\b"), "paws and tail: not opened up"),
    (
        re.compile(r"\b(?:all over|everywhere|whole|throughout)\b"),
        "all over: look at the bath, and if it was neutralised at the alkali and its minutes",
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """What a failure looks like, what it usually comes from, how to tell, and whether it can be mended."""

    looks: str
    comes_from: tuple[str, ...]
    tell: str
    mend: str


CAUSES: dict[str, Cause] = {
    "slip": Cause(
        looks="hair and outer skin come off in patches, slimy, with a smell",
        comes_from=(
            "raw hours and warmth, wet, dirt, a place where the cure never came",
            "loose all over after an alkali: neutralised too long or too strong, or soap left in it",
        ),
        tell="pull gently; look for a black or grey film of skin at the roots; after an alkali look at its pH and minutes",
        mend="where the roots are gone, no; early, cold and straight to acid",
    ),
    "burn": Cause(
        looks="it tears like wet paper",
        comes_from=("a hot or strong pickle", "dried with the acid in it", "not neutralised"),
        tell="pull at an edge; pH of the cut",
        mend="no",
    ),
    "grease burn": Cause(
        looks="a hard yellow-brown patch, and the hair falls there",
        comes_from=("fat left on", "heat in drying"),
        tell="the patch sheds water",
        mend="no",
    ),
    "raw streak": Cause(
        looks="a blue-grey or glassy line in the cut; it dries like parchment",
        comes_from=("too short in the pickle", "too thick, or not shaved", "fat left on"),
        tell="cut at the thickest place, drop of indicator on the cut; a boil test says nothing of alum- or oil-tanned skins",
        mend="yes: back to pickle or tan",
    ),
    "grease": Cause(
        looks="oily hair, a smell, stains",
        comes_from=("not degreased", "too much oil"),
        tell="a warm blotter on the flesh side",
        mend="degrease",
    ),
    "tear": Cause(
        looks="it gives way in the hand or on the form",
        comes_from=(
            "a hot or strong pickle, or acid left in it",
            "shaved too thin",
            "a knife or a wound that was there",
        ),
        tell="pull at an edge beside it; pH of the cut; compare with what was noted at the door",
        mend="sewn, where the skin beside it holds",
    ),
    "root cut": Cause(
        looks="bald streaks after the tan, no smell",
        comes_from=("fleshed or shaved too deep",),
        tell="bare roots on the flesh side",
        mend="no",
    ),
    "acid swell": Cause(
        looks="rubbery, translucent, thick, like cold jelly",
        comes_from=("acid with too little salt", "warm water on a skin not neutralised"),
        tell="salt of the bath; how it feels",
        mend="often: into salt brine, then neutralise slowly, by the supplier's sheet",
    ),
    "mould": Cause(
        looks="black or green spots",
        comes_from=("a still bath", "pH that crept up", "warmth"),
        tell="look and smell",
        mend="early: pickle again, and wash",
    ),
    "stain": Cause(
        looks="green, blue or black spots",
        comes_from=("a metal vessel or tool in the bath",),
        tell="where it touched metal",
        mend="no",
    ),
    "shrunk": Cause(
        looks="edges draw, size is lost",
        comes_from=("heat above the point at which it shrinks",),
        tell="measure nose to eye, and neck, against the sizes taken green",
        mend="no",
    ),
    "hard spot": Cause(
        looks="boardy, cracks when bent",
        comes_from=("not tanned through", "no oil", "dried without being worked", "heat"),
        tell="bend it, damp it again",
        mend="damp it again, oil it, work it",
    ),
    "salt bloom": Cause(
        looks="a white crust, damp when the air is",
        comes_from=("not rinsed",),
        tell="wipe with a damp dark cloth",
        mend="rinse",
    ),
}


def place_suggests(where: str, degree: str, defect: str) -> str:
    """What a place on the skin suggests of hair that came loose there; nothing for other failures and places."""
    if defect != "slip":
        return ""
    if degree == "total":
        return "all over: look at the bath, and if it was neutralised at the alkali and its minutes"
    return next((hint for pattern, hint in _PLACES if pattern.search(where.casefold())), "")
