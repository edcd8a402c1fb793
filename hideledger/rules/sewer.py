"""A bath let go: what the sewer takes, what must not go anywhere else, and what the line that let it go does not say."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from decimal import Decimal

from hideledger.model.facts import Dumped, Reading
from hideledger.model.moments import DAY
from hideledger.model.units import Quantity, plain_number
from hideledger.rules.bath_put_in import sort_of
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.telling import bath_cause, dumped_line, of_bath
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife
from hideledger.text.place import Place
from hideledger.trade.chemicals import ACID, BASE

# Where the shop gives no limit of its own: 40 CFR 403.5 (b) (2), unless the works is built for it.
_NOTHING_BELOW = Decimal("5.0")
# 40 CFR 261.22 (a) (1), from memory: a liquid at this pH or above, or at 2 or below, is corrosive waste.
_CORROSIVE = Decimal("12.5")
# To ask an authority and to hear from it takes so long; after that it rings no more, and is told until it is answered (our own figure).
_RINGS_FOR = 30 * DAY
# What was not written is asked for so long, while somebody may know it (our own figure).
_ASKED_FOR = 7 * DAY
# More than this part over what went in is more than gallon marks, salt and dripping skins explain (our own figure).
_MORE_THAN_IT_HELD = 1.25
# Where no bath goes, whatever it reads: what runs off a yard runs to the next stream, and salt and acid kill what works in a septic tank.
_NEVER_THERE = re.compile(
    r"\b(?:storm|septic|cess ?pit|cesspool|leach|drain ?fields?|dry ?wells?|ditch(?:es)?|creeks?|streams?|brooks?|rivers?|lakes?|ponds?|swamps?|culverts?|gutters?|"
    r"streets?|roads?|alleys?|driveways?|ground|soil|dirt|gravel|yards?|lawns?|grass|gardens?|fields?|pastures?|woods|bush(?:es)?|snow|outside|outdoors|out back)\b"
)
_SOME_DRAIN = re.compile(r"\b(?:drains?|sinks?|toilets?)\b")


def dumped_below_the_sewer_limit(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Sour liquor eats the pipe and kills what cleans the water: the works that takes it says how sour it may be."""
    shop = floor.book.shop.shop
    for bath, where, ph in _let_go(horizon):
        known = shop.sewer_ph is not None
        least = _NOTHING_BELOW if shop.sewer_ph is None else shop.sewer_ph
        if ph is None or ph >= least or not _to_the_sewer(where):
            continue
        why = (
            f", {plain_number(least)} at least"
            if known
            else f"; the shop file {'has no sewer line' if shop.sewer_most is None else 'says no least pH'}, and 40 CFR 403.5 lets nothing below pH {_NOTHING_BELOW} into a public sewer that is not built for it"
        )
        line = "" if known else ", and write the least pH that it allows into the shop file"
        yield _told(
            bath,
            "dumped below the sewer limit",
            f"let go to the sewer at pH {plain_number(ph)}",
            why,
            line,
            horizon,
            rule=shop.sewer_place,
            known=known,
        )


def dumped_above_the_sewer_limit(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Lye and soda burn whoever stands in the pipe, as acid does: the works says how sharp liquor may be, and from 12.5 on it is corrosive waste."""
    shop = floor.book.shop.shop
    for bath, where, ph in _let_go(horizon):
        most = shop.sewer_most
        if ph is None or not _to_the_sewer(where) or not (ph >= _CORROSIVE or (most is not None and ph > most)):
            continue
        known = most is not None and ph > most
        why = f", {plain_number(most)} at most" if known and most is not None else ""
        if ph >= _CORROSIVE:
            why += f"; at pH {_CORROSIVE} and above it is corrosive waste by 40 CFR 261.22"
        yield _told(
            bath,
            "dumped above the sewer limit",
            f"let go to the sewer at pH {plain_number(ph)}",
            why,
            "",
            horizon,
            rule=shop.sewer_place if known else None,
            known=True,
        )


def dumped_outside_the_sewer(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A storm drain, a ditch and the ground lead to the next stream with nothing between, and a septic tank dies of salt and acid: no pH makes that right."""
    for bath, where, ph in _let_go(horizon):
        if where is None or not _NEVER_THERE.search(where.casefold()):
            continue
        said = f"let go to `{where}`{'' if ph is None else f' at pH {plain_number(ph)}'}"
        if "septic" in where.casefold():
            why = "; salt and acid harm a septic tank and the ground behind it, whatever the pH"
        else:
            why = "; what goes there meets no works that cleans it, whatever the pH"
        yield _told(bath, "dumped outside the sewer", said, why, "", horizon, rule=None, known=True)


def _told(
    bath: BathLife, name: str, said: str, why: str, line: str, horizon: Horizon, *, rule: Place | None, known: bool
) -> Finding:
    """Told until it is answered: an authority is not asked in one night. It rings while the answer may be on its way."""
    assert bath.ended is not None and bath.ended_when is not None
    whom = (
        "your sewer authority"
        if name.endswith("limit")
        else "your sewer authority, or the state's for water and waste,"
    )
    told = of_bath(
        bath,
        (),
        name=name,
        when="now" if known else "record",
        message=f"{said}{why}, {when_said(horizon.clock, bath.ended_when, horizon.at)}",
        do=f"ask {whom} what has to be told, and what is to be done{line}; then write what was said and done behind the dash: `{bath.tag} waived {name} -- why`; "
        f"if the line is wrong, strike it and write it again, with the pH that you measured behind it: `{dumped_line(bath)}`",
        entry=bath.ended,
        rule=rule,
        may=not known,
        since=bath.ended_when.lo,
        rings=not known or horizon.at - bath.ended_when.hi <= _RINGS_FOR,
        cause=f"{bath_cause(bath)} {name}",
    )
    return told if known else replace(told, ended=horizon.at - bath.ended_when.hi > _RINGS_FOR)


def not_said_how_it_went(floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """What went down the drain cannot be measured afterwards: its pH and where it went are written on that line, or nobody knows them."""
    shop = floor.book.shop.shop
    for bath, where, ph in _let_go(horizon):
        assert bath.ended is not None and bath.ended_when is not None
        before = [
            r
            for r in bath.readings
            if r.fact.what == "pH" and r.when.lo <= bath.ended_when.hi and r.entry is not bath.ended
        ]
        last = f"; it last read pH {plain_number(before[-1].fact.value.value)}" if before else ""
        gone = when_said(horizon.clock, bath.ended_when, horizon.at)
        read = ph if ph is not None else before[-1].fact.value.value if before else None
        if _to_the_sewer(where):
            if (shop.sewer_ph is None and shop.sewer_most is None) or ph is not None:
                continue
            missing, ask = (
                f"let go to the sewer {gone}, and its pH is not recorded{last}",
                "if it was read, strike that line",
            )
        elif _nobody_knows(where) and _matters(bath, read, floor):
            missing = f"let go {f'to `{where}` ' if where else ''}{gone}, and whether to the sewer is not recorded{'' if ph is None else f', at pH {plain_number(ph)}'}"
            ask = "a drain leads to a sewer, a septic tank or the next stream: strike that line"
        else:
            continue
        told = of_bath(
            bath,
            (),
            name="not recorded",
            when="record",
            message=missing,
            do=f"{ask} and write it again, with the pH that you measured behind it: `{dumped_line(bath)}`",
            entry=bath.ended,
            rule=shop.sewer_place,
            since=bath.ended_when.lo,
            cause=f"{bath_cause(bath)} sewer",
        )
        yield replace(told, ended=horizon.at - bath.ended_when.hi > _ASKED_FOR)


def _matters(bath: BathLife, ph: Decimal | None, floor: Floor) -> bool:
    """Whether it was sour or sharp by its reading, or for want of one by what went in."""
    shop = floor.book.shop
    least, most = shop.shop.sewer_ph or _NOTHING_BELOW, shop.shop.sewer_most or _CORROSIVE
    if ph is not None:
        return ph < least or ph > most
    amounts = [*bath.amounts, *(amount for dose in bath.doses for amount in dose.amounts)]
    return any(sort_of(amount.supply, shop) in (ACID, BASE) for amount in amounts)


def more_let_go_than_it_held(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """A tub gives no more than went into it: one figure of the two is wrong, and the year's sheet adds it up."""
    for bath, _, _ in _let_go(horizon):
        assert bath.ended is not None and bath.ended_when is not None
        dumped = next((fact for fact in bath.ended.facts if isinstance(fact, Dumped)), None)
        if dumped is None or dumped.volume is None or not bath.volume_l or len(bath.ended.tags) > 1:
            continue
        skins = bath.pounds_through * 0.45
        went, held = float(dumped.volume.to("L")), bath.volume_l
        if went <= held * _MORE_THAN_IT_HELD + skins or (bath.unweighed and went <= 2 * held):
            continue
        one = float(Quantity(value=Decimal(1), unit=dumped.volume.unit).to("L"))
        yield replace(
            of_bath(
                bath,
                (),
                name="more let go than it held",
                when="record",
                message=f"{dumped.volume} let go {when_said(horizon.clock, bath.ended_when, horizon.at)}, and by its lines about {held / one:.0f} {dumped.volume.unit} went into it",
                do=f"if the amount is wrong, strike that line and write it again; if more went in and nobody wrote it, write that line with its own day: `{bath.tag} topped up to {dumped.volume}`; "
                f"else say why: `{bath.tag} waived more let go than it held -- why`",
                entry=bath.ended,
                since=bath.ended_when.lo,
                more=(f"mixed at {bath.made.at.short}",),
                cause=f"{bath_cause(bath)} more",
            ),
            ended=horizon.at - bath.ended_when.hi > _ASKED_FOR,
        )


def _to_the_sewer(where: str | None) -> bool:
    return where is not None and "sewer" in where.casefold() and not _NEVER_THERE.search(where.casefold())


def _nobody_knows(where: str | None) -> bool:
    """Whether a line leaves it open where it ran to: it names no place, or some drain."""
    if not where:
        return True
    return bool(_SOME_DRAIN.search(where.casefold())) and not _NEVER_THERE.search(where.casefold())


def _let_go(horizon: Horizon) -> Iterator[tuple[BathLife, str | None, Decimal | None]]:
    """Baths let go by a line that says so: where to, as written (None: it does not say), and the pH on that line."""
    for bath in horizon.baths:
        dumped = (
            None if bath.ended is None else next((fact for fact in bath.ended.facts if isinstance(fact, Dumped)), None)
        )
        if bath.ended is None or bath.ended_when is None or dumped is None:
            continue
        read = [fact for fact in bath.ended.facts if isinstance(fact, Reading) and fact.what == "pH"]
        yield bath, dumped.where or None, read[0].value.value if read else None
