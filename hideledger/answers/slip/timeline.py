"""The lives of several hides on one axis, two lines each: where it lay, and below it the dates and the place where hair came loose.

Plain letters in columns of equal time; nothing hangs on colour.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise

from hideledger.answers.sheet import Row, Section
from hideledger.answers.slip.lives import name_of
from hideledger.answers.slip.sign import Case, first_sign, seen_words
from hideledger.answers.standing import state_of
from hideledger.model.moments import DAY, HOUR, spoken
from hideledger.rules.words import MONTHS
from hideledger.shopfloor.life import HideLife

WIDTH = 80
_INDENT = 2
_GAP = 2
_LEAST_COLUMNS = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A stretch of one life with its name: a bath's tag, a step, a rest."""

    start: int
    end: int
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """From one instant to another in so many columns."""

    start: int
    end: int
    columns: int

    def column(self, instant: int) -> int:
        """The column in which an instant lies, at the ends where it lies outside."""
        if instant <= self.start:
            return 0
        return min(self.columns - 1, (instant - self.start) * self.columns // (self.end - self.start))


def side_by_side(case: Case, lives: Sequence[HideLife], *, width: int = WIDTH) -> Section | None:
    """The hide asked about first, then the others, on the axis of its own life; None where its life has no length."""
    every = [case.life, *lives]
    whole = _axis(case, every)
    if whole is None:
        return None
    names = {life: name_of(case.floor, life) for life in every if life is case.life or _seen(case, life, whole)}
    head = max(len(name) for name in names.values())
    axis = replace(whole, columns=width - _INDENT - head - _GAP)
    if axis.columns < _LEAST_COLUMNS:
        return None
    rows = [Row(text=_days(case, axis), plain=("axis", str(axis.columns), spoken(axis.end - axis.start)))]
    for life, name in names.items():
        above, below = two_lines(case, life, axis)
        pieces = "; ".join(f"{piece.name} {_day(case, piece.start)}" for piece in pieces_of(life, case.at))
        rows.append(
            Row(
                head=name,
                text=above,
                under=(("", " " * (head + _GAP - 2) + below),) if below else (),
                plain=("timeline", name, pieces, _sign_said(case, life)),
            )
        )
    each = spoken(max(60, (axis.end - axis.start) // axis.columns))
    mark = "^ where hair first came loose" if case.defect == "slip" else f"^ where {case.defect} was first written"
    heading = f"Side by side: {each} a letter; a name stands where its bath or step begins, {mark}"
    return Section(heading=heading, rows=tuple(rows), whole_lines=True)


def _axis(case: Case, lives: Sequence[HideLife]) -> Axis | None:
    """From the coming of the hide asked about to the last first sign shown; what lies outside is cut off at the ends."""
    signs = [sign.when.hi for life in lives if (sign := first_sign(life, case.defect)) is not None]
    start = case.life.arrived_when.lo
    own_end = case.at if case.life.ended_when is None else case.life.ended_when.hi
    end = max(signs) if case.sign is not None and signs else own_end
    # a sister that slipped months later would press the rest into a few letters
    if case.sign is not None:
        end = min(end, case.until + 2 * max(DAY, case.until - start))
    end = min(case.at, max(end, start + HOUR))
    end += max(HOUR, (end - start) // 20)
    return Axis(start=start, end=end, columns=WIDTH) if case.at > start else None


def pieces_of(life: HideLife, at: int) -> list[Piece]:
    """A life cut into its baths, steps and rests; `in` up to the first of them. Stays in one bath are one piece."""
    found: list[Piece] = []
    for stay in life.stays:
        name = stay.bath.tag if stay.bath is not None else stay.line.title if stay.line is not None else stay.name
        _put(found, Piece(start=stay.start.lo, end=at if stay.end is None else stay.end.hi, name=name))
    for pause in life.pauses:
        _over(found, Piece(start=pause.start.lo, end=at if pause.end is None else pause.end.hi, name=pause.name))
    found.sort(key=lambda piece: (piece.start, piece.end))
    first = found[0].start if found else at if life.ended_when is None else life.ended_when.hi
    if life.arrived_when.lo < first:
        found.insert(0, Piece(start=life.arrived_when.lo, end=first, name="in"))
    return _in_a_row(found)


def _in_a_row(pieces: Sequence[Piece]) -> list[Piece]:
    """Each up to where the next begins: a step written with its length may have begun while the one before it went on."""
    cut = [
        Piece(start=piece.start, end=min(piece.end, following.start), name=piece.name)
        for piece, following in pairwise(pieces)
    ]
    return [*cut, *pieces[-1:]]


def _put(found: list[Piece], piece: Piece) -> None:
    if found and found[-1].name == piece.name and piece.start - found[-1].end < HOUR:
        piece = Piece(start=found.pop().start, end=piece.end, name=piece.name)
    found.append(piece)


def _over(found: list[Piece], rest: Piece) -> None:
    """A rest lies over the step that it stands still in: what is left of that on either side stays."""
    cut: list[Piece] = []
    for piece in found:
        if piece.end <= rest.start or piece.start >= rest.end:
            cut.append(piece)
            continue
        if piece.start < rest.start:
            cut.append(Piece(start=piece.start, end=rest.start, name=piece.name))
        if piece.end > rest.end:
            cut.append(Piece(start=rest.end, end=piece.end, name=piece.name))
    found[:] = [*cut, rest]


def _seen(case: Case, life: HideLife, axis: Axis) -> bool:
    """Whether any of its life falls on the axis."""
    return any(piece.end >= axis.start and piece.start <= axis.end for piece in pieces_of(life, case.at))


def two_lines(case: Case, life: HideLife, axis: Axis) -> tuple[str, str]:
    """Where it lay, and below it the mark and the dates."""
    pieces = [piece for piece in pieces_of(life, case.at) if piece.end >= axis.start and piece.start <= axis.end]
    return _lying(life, pieces, axis), _dates(case, life, pieces, axis)


def _lying(life: HideLife, pieces: Sequence[Piece], axis: Axis) -> str:
    letters = [" "] * axis.columns
    starts = [axis.column(piece.start) for piece in pieces]
    for number, piece in enumerate(pieces):
        first, last = starts[number], axis.column(piece.end)
        following = next((start for start in starts[number + 1 :] if start > first), axis.columns)
        if any(
            start == first and _length(pieces[other]) > _length(piece)
            for other, start in enumerate(starts)
            if other != number
        ):
            continue  # too short to be seen beside the one that begins in the same letter
        stop = min(max(last, first + 1), following)
        if stop == following and stop - first > 1:
            stop -= 1  # a blank before the next name
        name = f"<{piece.name}" if piece.start < axis.start else piece.name
        for column in range(first, stop):
            letters[column] = name[column - first] if column - first < len(name) else "."
    goes_on = life.ended_when is None or life.ended_when.hi > axis.end
    if goes_on and pieces and pieces[-1].end >= axis.end:
        letters[-1] = ">"
    return "".join(letters).rstrip()


def _length(piece: Piece) -> int:
    return piece.end - piece.start


def _dates(case: Case, life: HideLife, pieces: Sequence[Piece], axis: Axis) -> str:
    letters = [" "] * axis.columns
    sign = first_sign(life, case.defect)
    if sign is not None:
        said = _fitting(_sign_said(case, life), f"{case.defect} {_day(case, sign.when.lo)}", columns=axis.columns)
        if sign.when.lo > axis.end:
            _write(letters, axis.columns - len(said), said)
        else:
            column = axis.column(sign.when.lo)
            text = f"^ {said}"
            if column + len(text) > axis.columns:
                text = f"{said} ^"
                column -= len(text) - 1
            _write(letters, column, text)
    else:
        said = _fitting(_fate(case, life), f"no {case.defect}", columns=axis.columns)
        _write(letters, axis.columns - len(said), said)
    for piece in pieces:
        if piece.start >= axis.start:
            _write(letters, axis.column(piece.start), _day(case, piece.start))
    return "".join(letters).rstrip()


def _fitting(whole: str, short: str, *, columns: int) -> str:
    """The short words where the whole ones and a mark have no room on the axis: nothing is left out for want of it."""
    return whole if len(whole) + 2 <= columns else short


def _write(letters: list[str], column: int, text: str) -> None:
    """Puts a text where it stands free of others, whole or not at all."""
    column = max(0, column)
    end = column + len(text)
    around = letters[max(0, column - 1) : end + 1]
    if end <= len(letters) and all(letter == " " for letter in around):
        letters[column:end] = text


def _sign_said(case: Case, life: HideLife) -> str:
    sign = first_sign(life, case.defect)
    if sign is None:
        return ""
    words = seen_words(sign)
    if len(words) > 24:
        words = words[:22].rstrip(" ,") + ".."
    day = _day(case, sign.when.lo)
    return f"{case.defect} {words}, {day}" if words else f"{case.defect} {day}"


def _fate(case: Case, life: HideLife) -> str:
    none = f"no {case.defect}"
    if life.ended_when is not None:
        return f"{none}, {life.ended_as} {_day(case, life.ended_when.lo)}"
    return f"{none}, here: {state_of(life)}"


def _day(case: Case, instant: int) -> str:
    day = date.fromordinal(case.clock.day_of(instant))
    return f"{day.day} {MONTHS[day.month - 1]}"


def _days(case: Case, axis: Axis) -> str:
    """Dates over the columns in which their days begin, as many as stand free of each other."""
    letters = [" "] * axis.columns
    first = case.clock.day_of(axis.start)
    last = case.clock.day_of(axis.end)
    every = max(1, -(-(last - first + 1) * 9 // axis.columns))
    for day in range(first, last + 1, every):
        start = max(axis.start, case.clock.day_start(day))
        _write(letters, axis.column(start), _day(case, start))
    return "".join(letters).rstrip()
