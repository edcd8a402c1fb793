"""What is apt for a failure other than slip: at which step it happens, which readings and which faults can have led to it.

From the sheets of causes that tanners' handbooks give; where no source is named it is common practice, no source. A place to
look first, never a finding. A failure that is not listed (the shop's own) takes everything.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from hideledger.shopfloor.doings import AFTER, DRIED, FLESHED, NEUTRALISED, PICKLE, SHAVED, TAN, WASHED


@dataclass(frozen=True, slots=True, kw_only=True)
class Apt:
    """`steps` are the sorts of step at which it happens, none where it comes of a bath; `also` sorts that can have led to it.

    `says` tells what to look at in each. `sides` are the readings that point at it (`pH under`), `findings` the rules that do,
    behind some the sort of step that must be meant. `care` is what keeps the next one from it.
    """

    steps: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    says: Mapping[str, str] = field(default_factory=dict)
    sides: frozenset[str] = frozenset()
    findings: frozenset[str] = frozenset()
    care: str = ""


_KNIFE = {SHAVED: "whether the knife caught, or it was shaved too thin", FLESHED: "whether the knife caught"}
_ROOTS = {SHAVED: "whether the knife went through the roots", FLESHED: "whether the knife went through the roots"}
_STRONG = frozenset({"pH under", "temperature over"})
_ACID_LEFT = frozenset({f"came out early {NEUTRALISED}", f"not recorded {NEUTRALISED}"})
_BLADE = "look for cuts and thin places first, and at the edge of the knife"

APT: dict[str, Apt] = {
    "burn": Apt(
        steps=(DRIED,),
        also=(NEUTRALISED, PICKLE),
        says={
            DRIED: "heat, or acid that was left in it when it dried",
            NEUTRALISED: "whether the acid came out",
            PICKLE: "whether the pickle was hot or strong",
        },
        sides=_STRONG,
        findings=_ACID_LEFT,
        care="see that the acid is out of it first (pH of the cut), and keep it from the heat",
    ),
    "tear": Apt(
        steps=(SHAVED, FLESHED),
        also=(NEUTRALISED, PICKLE),
        says={**_KNIFE, NEUTRALISED: "whether acid was left in it", PICKLE: "whether the pickle was hot or strong"},
        sides=_STRONG,
        findings=_ACID_LEFT,
        care=_BLADE,
    ),
    "hole": Apt(steps=(SHAVED, FLESHED), says=_KNIFE, care=_BLADE),
    "grease burn": Apt(
        steps=(DRIED,),
        also=(WASHED, FLESHED),
        says={
            DRIED: "heat on fat that was left on",
            WASHED: "what the degreasing left on",
            FLESHED: "fat that was left on the flesh side",
        },
        care="see that the fat is off first (a warm blotter on the flesh side), and keep it from the heat",
    ),
    "bald spot": Apt(
        steps=(SHAVED, FLESHED), says=_ROOTS, care="stop short of the roots, and look at the flesh side in good light"
    ),
    "root cut": Apt(
        steps=(SHAVED, FLESHED), says=_ROOTS, care="stop short of the roots, and look at the flesh side in good light"
    ),
    "shrunk": Apt(
        steps=(DRIED,),
        also=(TAN,),
        says={DRIED: "heat above the point at which it shrinks", TAN: "how warm the tan was"},
        sides=frozenset({"temperature over"}),
        care="measure it first, and keep it from the heat",
    ),
    "raw streak": Apt(
        also=(TAN, PICKLE, SHAVED),
        says={
            TAN: "whether the tan came through",
            PICKLE: "whether the acid came through",
            SHAVED: "whether it was thin enough",
        },
        sides=frozenset({"pH over", "salt under", "salt over", "temperature under"}),
        findings=frozenset({"came out early", "bath worn out", "stir missed", "drum standing loaded", "out of order"}),
    ),
    "grease": Apt(also=(WASHED, AFTER), says={WASHED: "what the degreasing left", AFTER: "how much oil it was given"}),
    "acid swell": Apt(
        also=(PICKLE, WASHED),
        says={PICKLE: "acid with too little salt", WASHED: "warm water on a skin that was not neutralised"},
        sides=frozenset({"salt under", "pH under", "temperature over"}),
    ),
    "mould": Apt(
        also=(PICKLE, AFTER),
        says={PICKLE: "a still bath, or pH that crept up", AFTER: "how long it lay wet, and how warm"},
        sides=frozenset({"pH over", "temperature over"}),
        findings=frozenset({"stir missed", "stayed too long", "bath worn out"}),
    ),
    "stain": Apt(also=(PICKLE, TAN), says={PICKLE: "metal in the bath", TAN: "metal in the bath"}),
    "hard spot": Apt(
        also=(DRIED, AFTER, TAN),
        says={
            DRIED: "dried without being worked, or by heat",
            AFTER: "whether it was oiled and worked",
            TAN: "whether the tan came through",
        },
        findings=frozenset({f"came out early {TAN}", f"started late {AFTER}"}),
    ),
    "salt bloom": Apt(also=(WASHED, AFTER), says={WASHED: "whether it was rinsed", AFTER: "whether it was rinsed"}),
}
