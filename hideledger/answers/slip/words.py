"""How a look at many skins is said: shares as counts first, figures after, and what can be looked at next."""

from __future__ import annotations

from decimal import Decimal
from math import isinf, isnan

from hideledger.answers.slip.compare import Compared, Exposure
from hideledger.trade.attack import Interval, Table, risk_difference

# What the reader can look at next, by what stands out. An association is a place to look, never a verdict.
NEXT = {
    "lot": "keep the rest of it apart and unused; read its label and the supplier's sheet, mix a little of it beside a little of a lot that "
    "did well, gloves and goggles on, and read the pH of both; then ask the supplier about that lot",
    "bath": "read what is left of it with another instrument (pH, salt, warmth), pull gently at every skin still in it, and see its whole way: `hideledger history TAG`",
    "load": "see its turns, liquor and warmth, `hideledger history TAG`, and pull gently at the skins that shared it",
    "box": "ask whoever packed it how long the skins lay before they were frozen, and pull at what is left of it as it thaws, before "
    "anything else",
    "raw": "see where the hours went on those skins, and whether cold, salt or acid could have come sooner",
    "before the door": "ask for the hours and the cold at the door and write them down (`killed`, `hung`), and pull before you take a skin in",
    "salt": "see whether those were salted and nobody wrote it, or went on without",
    "frost": "see how long those lay raw around each freezing, and how long they took to thaw",
    "worn bath": "see the readings of that bath in its last days, and how many pounds had gone through it",
    "finding": "see what the rule is for, `hideledger meaning NAME`, and whether the breach came before the skin was in trouble",
    "hand": "do the step together once, and see whose skins those were: the hardest ones often go to one hand",
    "condition": "see what those skins shared besides the way they came in",
    "kind": "see what skins of that kind shared besides: the bath, the lot, the hours raw",
    "process": "see what skins on that way shared besides: the bath, the lot, the hours raw",
    "owner": "an owner is seldom the cause: see what those skins shared, the way there, the bath, the lot",
    "day": "see what else happened that day: warmth, haste, the baths that were fresh or spent",
}


_NEXT_OF_GONE = "it was let go: see how it read and what went into it, `hideledger history TAG`, and pull gently at every skin that lay in it and is still here"
_FEWEST_FOR_HUNDRED = 10  # common practice, no source


def next_said(exposure: Exposure, *, gone: bool = False) -> str:
    """Where to look next, with what to ask of this book; `gone`: it is a bath that was let go."""
    _, _, name = exposure.name.partition(" ")
    words = _NEXT_OF_GONE if gone and exposure.sort == "bath" else NEXT[exposure.sort]
    return words.replace("TAG", name.split(" ")[0]).replace("NAME", name)


_SINGLE = frozenset(
    {"burn", "grease burn", "raw streak", "tear", "hole", "stain", "bald spot", "root cut", "green belly", "hard spot"}
)
_DID = {"slip": "slipped", "shrunk": "shrank"}


def verb(defect: str) -> str:
    """What one skin or many did: `slipped`, `had a burn`, `had mould`; a name of the shop's own as it is."""
    if defect in _DID:
        return _DID[defect]
    return f"had {one_of(defect)}"


def one_of(defect: str) -> str:
    """`a burn`, `mould`; a name of the shop's own as it is."""
    return f"a {defect}" if defect in _SINGLE else defect


def share_said(table: Table, those: str, defect: str) -> str:
    """`8 of 11 skins that met lot C-31 slipped, 2 of 69 others`."""
    return f"{of_many(table.hit, table.exposed)} skins {those} {verb(defect)}, {of_many(table.other_hit, table.others)} others"


def of_many(hit: int, count: int) -> str:
    """`8 of 11`, `none of 5`."""
    return f"{hit or 'none'} of {count}"


def times_said(risk: float) -> str:
    """How many times as often: `12.6 times as often`; where nobody else was hit no number can say it."""
    if isnan(risk):
        return "not to be compared"
    if not risk:
        return "not once, where others did"
    if isinf(risk):
        return "how many times as often cannot be reckoned, since none of the others did"
    return f"{number_said(risk)} times as often"


def number_said(value: float) -> str:
    """Two figures are enough: `12.6`, `1.5`, `0.3`, `53`."""
    if value >= 20:
        return f"{value:.0f}"
    return f"{value:.1f}" if value >= 0.1 or value == 0 else p_said(value)


def interval_said(interval: Interval | None) -> str:
    """` (95 %: 3.1 to 53)`; nothing where it cannot be reckoned."""
    return "" if interval is None else f" (95 %: {number_said(interval.low)} to {number_said(interval.high)})"


def p_said(p: float) -> str:
    """A chance in two figures, without powers of ten: `0.0044`; `under 0.000001`."""
    if p < 1e-6:
        return "under 0.000001"
    return f"{Decimal(f'{p:.2g}'):f}"


def percent(share: float) -> str:
    """`37 %`; a small one with a tenth."""
    value = 100 * share
    return f"{value:.1f} %" if 0 < value < 1 else f"{value:.0f} %"


def more_in_hundred(table: Table) -> str:
    """`, 34 more of every hundred`: the difference of the two shares; nothing where a side is so small that a hundred is out of reach."""
    if min(table.exposed, table.others) < _FEWEST_FOR_HUNDRED:
        return ""
    more = round(100 * risk_difference(table))
    return f", {abs(more)} {'more' if more > 0 else 'fewer'} of every hundred" if more else ""


def figures_said(one: Compared, looks: int) -> str:
    """`12.6 times as often (95 %: 3.1 to 53), 34 more of every hundred; p 0.000004 alone, 0.0004 after 109 looks`."""
    raised = "" if looks == 1 else f" alone, {p_said(one.adjusted)} after {looks} looks"
    return f"{times_said(one.risk)}{interval_said(one.interval)}{more_in_hundred(one.table)}; p {p_said(one.p)}{raised}"


def asking(tag: str, defect: str) -> str:
    """What is typed to ask about one hide: `hideledger slip H57 --defect "raw streak"`."""
    return f"hideledger slip {tag}" + ("" if defect == "slip" else f' --defect "{defect}"')
