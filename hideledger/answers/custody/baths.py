"""Every bath that was let go between two days: how much, at what pH, what was in it and where it went, for the sewer authority."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from hideledger.answers.amounts import reading_words, volume_words
from hideledger.answers.saying import written_stamp
from hideledger.answers.sheet import Row, Section
from hideledger.model.facts import Amount, Dumped, Reading
from hideledger.model.moments import Clock
from hideledger.model.shop import ShopLines
from hideledger.model.units import Quantity
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife

CAUTION = (
    "40 CFR 403.5 bars what is below pH 5.0 from a public sewer, unless the works is built for it; local limits are often "
    "stricter, and a drain that is no sewer has its own. Ask the authority before you let a bath go."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class LetGo:
    """One bath on the day it was let go. `litres` None where nobody wrote how much and it cannot be reckoned."""

    bath: BathLife
    stamp: str
    litres: float | None
    volume: str
    ph: str
    below: bool
    above: bool
    where: str
    contents: str
    anew: bool  # mixed anew, and no line says where the old one went


def let_go(floor: Floor, first: int, last: int) -> tuple[LetGo, ...]:
    """The baths that ended from day `first` to day `last` (ordinals of the shop's calendar), in order of time."""
    ended = [
        bath
        for bath in floor.all_baths()
        if bath.ended is not None and bath.ended_when is not None and first <= bath.ended_when.day <= last
    ]
    ended.sort(key=lambda bath: (bath.ended_when.lo if bath.ended_when else 0, bath.ended.order if bath.ended else 0))
    return tuple(_of(bath, floor) for bath in ended)


def _of(bath: BathLife, floor: Floor) -> LetGo:
    shop, clock = floor.book.shop.shop, floor.book.clock
    assert bath.ended is not None and bath.ended_when is not None
    dumped = next((fact for fact in bath.ended.facts if isinstance(fact, Dumped)), None)
    anew = bath.ended_as != "dumped"
    litres, volume = None, "how much is not written"
    others = [tag for tag in bath.ended.tags if tag != bath.tag]
    if dumped is not None and dumped.volume is not None:
        litres = float(dumped.volume.to("L")) / (1 + len(others))
        volume = str(dumped.volume) + (f" together with {', '.join(others)}" if others else "")
    elif bath.volume_l:
        litres, volume = bath.volume_l, f"{_volume(bath.volume_l, shop)} by what went in"
    last = _last_ph(bath, clock)
    return LetGo(
        bath=bath,
        stamp=written_stamp(bath.ended.when if bath.ended.when.timed else bath.ended_when, clock),
        litres=litres,
        volume=volume,
        ph=last[0],
        below=not anew and shop.sewer_ph is not None and last[1] is not None and last[1] < shop.sewer_ph,
        above=not anew and shop.sewer_most is not None and last[1] is not None and last[1] > shop.sewer_most,
        where="" if dumped is None else dumped.where,
        contents=contents(bath),
        anew=anew,
    )


def _volume(litres: float, shop: ShopLines) -> str:
    """In the shop's gallons; in litres where it says nothing of gallons, since none can then be written."""
    return volume_words(litres, shop) if shop.gallons else f"{litres:.1f}".rstrip("0").rstrip(".") + " L"


def _last_ph(bath: BathLife, clock: Clock) -> tuple[str, Decimal | None]:
    """The pH on the line that let it go, else the last one read, and when."""
    facts = () if bath.ended is None else bath.ended.facts
    on_line = next((fact for fact in facts if isinstance(fact, Reading) and fact.what == "pH"), None)
    if on_line is not None:
        return reading_words(on_line), on_line.value.value
    read = [one for one in bath.readings if one.fact.what == "pH"]
    if not read:
        return "pH not written", None
    return f"pH not written then; {reading_words(read[-1].fact)} on {written_stamp(read[-1].when, clock)}", None


def contents(bath: BathLife) -> str:
    """The recipe, and all that ever went in, each supply in the units it was written in."""
    sums: dict[tuple[str, str], Decimal] = {}
    amounts: list[Amount] = [*bath.amounts, *(amount for dose in bath.doses for amount in dose.amounts)]
    for amount in amounts:
        key = (amount.supply, amount.quantity.unit)
        sums[key] = sums.get(key, Decimal(0)) + amount.quantity.value
    said = [f"{Quantity(value=value, unit=unit)} {supply}" for (supply, unit), value in sums.items()]
    topped = [f"topped up to {dose.topped}" for dose in bath.doses if dose.topped is not None]
    recipe = [f"recipe {bath.recipe}"] if bath.recipe else []
    return ", ".join([*recipe, *said, *topped]) or "nothing written of what was in it"


def baths_section(found: Sequence[LetGo], floor: Floor) -> Section:
    """One row a bath, then the sums by where they went."""
    shop = floor.book.shop.shop
    rows = [_row(one, floor) for one in found]
    sums: dict[str, float] = {}
    unknown: list[str] = []
    for one in found:
        if one.anew:
            continue
        if one.litres is None:
            unknown.append(one.bath.tag)
        else:
            sums[one.where] = sums.get(one.where, 0.0) + one.litres
    for where, litres in sorted(sums.items()):
        to = f"to {where}" if where else "where to not written"
        rows.append(
            Row(
                head="in all",
                text=f"{_volume(litres, shop)} {to}",
                plain=("in all", where, _volume(litres, shop)),
            )
        )
    if unknown:
        rows.append(Row(head="no amount", text=" ".join(unknown), plain=("no amount", *unknown)))
    return Section(heading="Baths let go", rows=tuple(rows))


def _row(one: LetGo, floor: Floor) -> Row:
    shop = floor.book.shop.shop
    assert one.bath.ended is not None
    place = one.bath.ended.at.short
    if one.anew:
        text = f"{one.stamp}, mixed anew; no line says where the old bath went"
    else:
        low = f", below the shop's limit of pH {shop.sewer_ph}" if one.below else ""
        low = f", above the shop's limit of pH {shop.sewer_most}" if one.above else low
        where = one.where or "where to not written"
        text = f"{one.stamp}, {one.volume}, {one.ph}{low}, {where}"
    return Row(
        head=one.bath.tag,
        text=text,
        under=(("", one.contents), ("", place)),
        plain=(one.bath.tag, one.stamp, one.volume, one.ph, one.where, one.contents, place),
    )


def baths_record(found: Sequence[LetGo]) -> list[dict[str, object]]:
    """The same for a program; `litres` is a number."""
    return [
        {
            "tag": one.bath.tag,
            "when_local": one.stamp,
            "mixed_anew": one.anew,
            "litres": None if one.litres is None else round(one.litres, 3),
            "volume": one.volume,
            "ph": one.ph,
            "below_limit": one.below,
            "above_limit": one.above,
            "where": one.where or None,
            "contents": one.contents,
            "file": None if one.bath.ended is None else one.bath.ended.at.file,
            "line": None if one.bath.ended is None else one.bath.ended.at.line,
        }
        for one in found
    ]
