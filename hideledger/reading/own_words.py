"""The words that every book may use, whatever its shop is called: those of the language, and the trade's for what is seen and tried."""

from __future__ import annotations

import re
from collections.abc import Sequence

# Words of the language: no name of the shop's own may contain one.
RESERVED: frozenset[str] = frozenset(
    [
        "in",
        "into",
        "out",
        "of",
        "to",
        "for",
        "from",
        "by",
        "at",
        "tag",
        "lot",
        "licence",
        "license",
        "seal",
        "permit",
        "killed",
        "promised",
        "expires",
        "hung",
        "all",
        "but",
        "except",
        "thru",
        "through",
        "and",
        "or",
        "mixed",
        "add",
        "added",
        "topped",
        "stirred",
        "stir",
        "ran",
        "runs",
        "stops",
        "skipped",
        "skip",
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
        "note",
        "struck",
        "since",
    ]
)

LONGEST_NAME = 4

TESTS = {"pull test": "pull", "cut test": "cut", "boil test": "boil", "bend test": "bend", "crease test": "crease"}
DEFECTS = {
    "slip": ("slipped", "slipping", "slips", "hair slip", "slippage"),
    "burn": ("burned", "burnt", "acid burn"),
    "grease burn": (),
    "raw streak": ("raw streaks", "raw line", "raw lines"),
    "grease": ("greasy",),
    "tear": ("tears", "torn"),
    "hole": ("holes",),
    "mould": ("mold", "mouldy", "moldy"),
    "stain": ("stained", "stains"),
    "bald spot": ("bald", "bald spots"),
    "root cut": ("root cuts",),
    "green belly": (),
    "acid swell": ("acid swelling", "swollen"),
    "hard spot": ("hard spots",),
    "shrunk": ("shrunken",),
    "salt bloom": (),
}
SEXES = [
    "buck",
    "doe",
    "bull",
    "cow",
    "boar",
    "sow",
    "male",
    "female",
    "ram",
    "ewe",
    "stag",
    "hind",
    "billy",
    "nanny",
    "tom",
    "hen",
    "cock",
    "drake",
    "fawn",
    "calf",
    "lamb",
    "kid",
]
CONDITIONS = {
    "green": ("fresh", "raw"),
    "frozen": ("frozen green",),
    "wet salted": ("salted",),
    "dry salted": ("salt dried",),
    "dried": ("dry", "air dried"),
    "tanned": ("leather",),
}
BASES = {"green": (), "salted": (), "drained": (), "shaved": ()}
DEGREES = {"slight": ("slightly", "small"), "bad": ("badly",), "total": ("all over",)}
HOW = {
    "strip": ("strips", "paper", "by strip", "by paper"),
    "meter": ("by meter", "metre"),
    "cut": ("of cut", "on the cut"),
    "extract": (),
    "diluted": (),
}
RESULTS = {
    "ok": ("okay", "good", "fine", "passes", "passed", "pass", "clean", "tight", "holds"),
    "fails": ("failed", "fail", "bad", "not ok", "loose"),
}
FINDINGS = (
    "overdue",
    "due",
    "reading due",
    "stir due",
    "out of range now",
    "raw too long",
    "drum standing loaded",
    "promise at risk",
    "promise missed",
    "gone quiet",
    "hair comes loose",
    "slip nearby",
    "kept together",
    "nobody wrote",
    "not recorded",
    "out of order",
    "came out early",
    "stayed too long",
    "started late",
    "reading missed",
    "stir missed",
    "reading out of range",
    "reading not explained",
    "shrinks too soon",
    "in two places",
    "vessel over full",
    "pressure over the vessel's limit",
    "two baths in one vessel",
    "bath worn out",
    "dumped below the sewer limit",
    "unknown tag",
    "after it was out",
    "dated ahead",
    "dated back",
    "twice the same",
    "wet salted into the freezer",
    "no process",
    "unknown kind",
    "unknown supply",
    "no time written",
    "no zone",
    "no reason given",
    "no off written",
    "no vent written",
    "run ends after closing",
    "run complete without a cut",
    "pressure falling",
    "count differs",
    "one tag for two things",
    "one legal tag twice",
    "before it was mixed",
    "nobody in it",
    "stock short",
    "lot past its date",
    "two names alike",
    "no bath written",
    "arrival not read",
    "gas that kills",
    "too little salt",
    "dumped outside the sewer",
    "dumped above the sewer limit",
    "more let go than it held",
    "left out of the recipe",
)

# Where on a skin something may be, and what such a word stands with (`base of the left ear`).
_PLACE_ON_SKIN = re.compile(
    "head|face|nose|muzzle|lips?|chin|jaw|cheeks?|ears?|eyes?|brow|neck|throat|nape|mane|shoulders?|brisket|chest|armpits?|legs?|foot|feet|paws?|hocks?|knees?"
    "|belly|flanks?|sides?|ribs?|back|spine|saddle|rump|haunch|haunches|tail|groin|crotch"
)
_WITH_A_PLACE = re.compile(
    "left|right|both|front|hind|fore|rear|upper|lower|inner|outer|bases?|tips?|butt|edges?|seam|inside|outside|of|the|at|on|in|along|near|and|under|behind"
)


def is_place_on_skin(words: Sequence[str]) -> bool:
    """Whether words, in small letters, are a place on a skin and nothing else."""
    return any(_PLACE_ON_SKIN.fullmatch(word) for word in words) and all(
        _PLACE_ON_SKIN.fullmatch(word) or _WITH_A_PLACE.fullmatch(word) for word in words
    )
