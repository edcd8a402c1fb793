"""How long a skin lay raw, in words: weighed by its warmth, and the stretches it is made of."""

from __future__ import annotations

from hideledger.answers.saying import length_said
from hideledger.answers.slip.question import NOT_RECORDED
from hideledger.answers.slip.sign import Case
from hideledger.model.moments import MINUTE, When, spoken
from hideledger.model.units import D, fahrenheit, plain_number
from hideledger.shopfloor.life import RawClock


def weighed(case: Case, raw: RawClock) -> str:
    """`, which counts as 5 h at 66 F`; nothing where hours are hours, or no temperature is known."""
    if raw.weighted is None or raw.reference_c is None or raw.weighted == raw.shop:
        return ""
    return f", which counts as {length_said(*raw.weighted)} at {degrees_said(case, raw.reference_c)}"


def longest_said(case: Case, raw: RawClock) -> str:
    """`; 3 h at 66 F from …`; of several stretches the longest, said to be that."""
    spans = spans_of(raw)
    if not spans:
        return f"; how warm it lay: {NOT_RECORDED}" if raw.spans else ""
    start, end, celsius = max(spans, key=lambda span: span[1] - span[0])
    said = f"{spoken(end - start)} at {degrees_said(case, celsius)} from {case.said(instant_as_when(start))}"
    known = sum(warm is not None and b - a >= MINUTE for a, b, warm in raw.spans)
    return f"; {said}" if known == 1 else f"; the longest of {known} stretches {said}"


def spans_of(raw: RawClock) -> list[tuple[int, int, float]]:
    """The stretches at a known warmth, the longest four in order of time."""
    known = [
        (start, end, celsius) for start, end, celsius in raw.spans if celsius is not None and end - start >= MINUTE
    ]
    longest = sorted(known, key=lambda span: span[0] - span[1])[:4]
    return sorted(longest)


def degrees_said(case: Case, celsius: float) -> str:
    """`66 F`, or in C where the shop reads its degrees so."""
    if case.floor.book.shop.shop.degrees == "C":
        return f"{plain_number(round(D(celsius), 1))} C"
    return f"{plain_number(round(fahrenheit(D(celsius)), 0))} F"


def instant_as_when(instant: int) -> When:
    """An instant (UTC seconds) as a moment that is known to the second."""
    return When(instant, instant, 0, True)
