"""A request that names a bath of the book, `P1 to 46 sal`: what the book says of that bath is put in its place, and said beside the answer."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal

from hideledger.answers.acid.names import Meant, NotReckoned
from hideledger.answers.amounts import reading_words
from hideledger.answers.bath_asked import bath_in, nothing_loose_beside, put_into
from hideledger.answers.bath_forms import forms_taken, forms_written
from hideledger.answers.request_words import in_brine, lifts, part_in_words, pure_name, volume_in_words
from hideledger.answers.saying import when_words
from hideledger.answers.sheet import Row, Section, Sheet
from hideledger.model.shop import ShopLines
from hideledger.model.units import plain_number
from hideledger.reading.asking import only_bids
from hideledger.rules.bath_made import Tub, filled_when_made, what_it_holds
from hideledger.rules.bath_put_in import is_salt
from hideledger.rules.gas import is_to_be_left, never_in
from hideledger.rules.never import gas_that_kills
from hideledger.rules.words import in_order, listed
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import BathLife
from hideledger.shopfloor.loads import weight_at
from hideledger.shopfloor.noted import BathReading
from hideledger.trade import brine
from hideledger.trade.rounding import to_figures

# Behind the tag: what it reads is said there, and goes before what the book says.
_OWN_READING = re.compile(
    r"[ \t]*(?:(?:at|from|reads|reading)(?![A-Za-z])|@|[0-9]+(?:[.,][0-9]+)?[ \t]*(?:sal|be|sg|%|to(?![A-Za-z])))|[ \t,]*(?:ph|sg)[ \t:=]*[0-9]",
    re.IGNORECASE,
)
# `to 46` and no unit behind it, nor in what stands before.
_BARE_GOAL = re.compile(r"(?:^|[ \t,])to[ \t]+([0-9]+(?:[.,][0-9]+)?)(?=[ \t]*(?:$|,|and(?![A-Za-z])))", re.IGNORECASE)
_WITH_UNIT = re.compile(r"[0-9][ \t]*(?:sal|be|%|per)(?![A-Za-z])|sg|baum", re.IGNORECASE)
_GOAL = re.compile(r"(?:^|[ \t,])to(?![A-Za-z0-9])", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class InBook:
    """The request with the bath spelt out: `text` is asked in place of it, `said` is told beside the answer.

    `without_acid` is the same with none of its acid left, where skins may have carried it off; empty where none was in it.
    """

    tag: str
    text: str
    said: tuple[str, ...]
    without_acid: str = ""
    typed: tuple[int, int]  # where the tag stands in the request as it was typed
    spelt: int  # how long that is what stands for it in `text`
    forms: tuple[Meant, ...] = ()  # in which form its acids went in, as far as that is written

    def as_typed(self, start: int, end: int) -> tuple[int, int]:
        """A place in `text` as a place in the request that was typed: what the tag stands for is the tag."""
        begin, stop = self.typed
        longer = begin + self.spelt - stop

        def moved(at: int, inside: int) -> int:
            return at if at <= begin else at - longer if at >= begin + self.spelt else inside

        return (begin if begin < start < begin + self.spelt else moved(start, begin)), moved(end, stop)

    def beside(self, sheet: Sheet, without_acid: Sheet | None = None) -> Sheet:
        """The answer, with what the book says of the bath in front, and the other end of what it may be."""
        said = list(self.said)
        if without_acid is not None:
            said.append(f"skins that were in it took some of the acid; had they taken all of it: {without_acid.title}")
        told = Section(heading="By the book", rows=tuple(Row(text=text, plain=("by the book", text)) for text in said))
        record = None if sheet.record is None else {**sheet.record, "bath": self.tag, "by_the_book": said}
        return replace(sheet, title=f"{self.tag}: {sheet.title}", sections=(told, *sheet.sections), record=record)


def brine_of_book(text: str, floor: Floor) -> InBook | None:
    """A request of `brine` with its bath spelt out; None where it names none. Raises NotReckoned."""
    found = bath_in(text, floor)
    if found is None:
        return None
    bath, match = found
    if is_to_be_left(bath, floor):
        raise NotReckoned(f"{bath.tag} ({bath.made.at.short}): {gas_that_kills(never_in(bath, floor))}")
    ahead = text[: match.start()].strip()
    if ahead and not only_bids(ahead) and not any(sign.isdigit() for sign in ahead):
        raise NotReckoned(
            f"`{ahead}`: ask with the tag alone, `{bath.tag}`, or with what it is to become, `{bath.tag} to 46 sal`"
        )
    tub, shop, rest = _tub(bath, floor), floor.book.shop.shop, text[match.end() :]
    nothing_loose_beside(bath.tag, "", rest, f"`{bath.tag} to 46 sal`")
    said = [*_made_words(bath, tub, floor)]
    reading = _last(bath, "salt")
    rest = _with_unit(bath.tag, rest, reading, said)
    acids = [] if tub is None else [(name, kg) for name, kg in tub.likely.others if lifts(name)]
    parts = [part_in_words(kg, in_brine(name), shop) for name, kg in acids]
    if _OWN_READING.match(rest) is not None:
        parts.append(volume_in_words(_litres(bath, tub), shop))
    elif reading is not None and _still_so(reading, bath):
        warm = [other for other in bath.readings if other.entry is reading.entry and other.fact.what == "temperature"]
        words = " at ".join([_strength_words(reading), *(reading_words(other.fact) for other in warm[:1])])
        parts.append(f"{volume_in_words(_litres(bath, tub), shop)} at {words}")
        said.append(f"read {reading_words(reading.fact)} {_when(reading, floor)}")
    else:
        if tub is None or not tub.likely.water:
            raise NotReckoned(_nothing_known(bath, "`20 gal from 36 sal to 46 sal`"))
        if reading is not None:
            said.append(_too_old(reading, floor))
        if any(is_salt(name, floor.book.shop) for name in tub.unknown):
            raise NotReckoned(
                f"salt went into {bath.tag} by a measure, and how heavy that is depends on its grain; read it, and ask with what it reads, as in `{bath.tag} at 38 sal`"
            )
        share = plain_number(to_figures(Decimal(repr(100 * tub.likely.share)), 4))
        parts.append(f"{volume_in_words(tub.likely.litres, shop)} at {share} %")
        water = f"{volume_in_words(tub.likely.water / brine.KG_WATER_PER_L, shop)} water"
        said.append(f"by what was put in, {part_in_words(tub.likely.salt, 'salt', shop) or 'no salt'} in {water}")
    if tub is not None:
        others = [*(name for name, _ in tub.likely.others if not lifts(name)), *tub.unknown]
        said += [f"{listed(list(dict.fromkeys(others)))} in it is not reckoned with"] if others else []
    said += forms_taken(bath, floor)
    phrase, before = ", ".join(parts), text[: match.start()]
    said.insert(0, f"{bath.tag} stands for `{phrase}`")
    carried_off = acids and tub is not None and tub.been_in
    return InBook(
        tag=bath.tag,
        text=before + phrase + rest,
        said=tuple(said),
        typed=match.span(),
        spelt=len(phrase),
        without_acid=before + ", ".join(parts[len(acids) :]) + rest if carried_off else "",
    )


def _with_unit(tag: str, rest: str, reading: BathReading | None, said: list[str]) -> str:
    """`P1 to 46` in the unit that the bath is read in; where it was never read, only what no per cent can be is taken for degrees. Raises NotReckoned."""
    bare = _BARE_GOAL.search(rest)
    if bare is None or _WITH_UNIT.search(rest[: bare.start()]):
        return rest
    figure = bare.group(1)
    if reading is not None and reading.fact.value.unit != "SG":
        unit, why = reading.fact.value.unit, f"as {tag} is read ({reading.entry.at.short})"
    elif reading is None and Decimal(figure.replace(",", ".")) > Decimal(repr(100 * brine.share_of_salometer(100))):
        unit, why = "sal", "since no brine holds that much per cent"
    else:
        raise NotReckoned(f"`to {figure}`: degrees or per cent? write `{tag} to {figure} sal` or `{tag} to {figure} %`")
    said.append(f"`to {figure}` was taken for {figure} {unit}, {why}")
    return f"{rest[: bare.end(1)]} {unit}{rest[bare.end(1) :]}"


def acid_of_book(text: str, floor: Floor) -> InBook | None:
    """A request of `acid` with its bath spelt out; None where it names none. Raises NotReckoned."""
    found = bath_in(text, floor)
    if found is None:
        return None
    bath, match = found
    if never := never_in(bath, floor):
        raise NotReckoned(f"{bath.tag} ({bath.made.at.short}): {gas_that_kills(never)}")
    tub, shop, rest = _tub(bath, floor), floor.book.shop.shop, text[match.end() :]
    said = [*_made_words(bath, tub, floor)]
    if tub is None or not tub.likely.water:
        raise NotReckoned(_nothing_known(bath, "`20 gal at 2.4 to 2.0 with citric acid crystals`"))
    if tub.unknown:
        raise NotReckoned(
            f"{bath.tag} holds {listed(tub.unknown)} too, which cannot be reckoned with here; go by its reading alone, as in `20 gal at 2.4 to 2.0 with citric acid crystals`"
        )
    nothing_loose_beside(
        bath.tag,
        text[: match.start()],
        rest,
        f"`{bath.tag} to 2.0 with citric acid crystals`, `neutralise {bath.tag} with baking soda`",
    )
    contents = tub.likely
    parts = [
        f"{volume_in_words(contents.water / brine.KG_WATER_PER_L, shop)} water",
        part_in_words(contents.salt, "salt", shop),
    ]
    parts += [part_in_words(kg, pure_name(name), shop) for name, kg in contents.others]
    parts.append(_skins(bath, said, shop))
    said += forms_taken(bath, floor)
    if tub.been_in > len(bath.now_in):
        said.append(
            "skins that are out of it again took some of the acid with them: that is not in these figures, a reading has it"
        )
    phrase = ", ".join(part for part in parts if part)
    reading = _last(bath, "pH")
    if reading is not None and _OWN_READING.match(rest) is None:
        if not _still_so(reading, bath):
            said.append(_too_old(reading, floor))
        else:
            said.append(f"read {reading_words(reading.fact)} {_when(reading, floor)}")
            phrase += f" at {reading.fact.value.value:f}" if _GOAL.search(rest) else ""
    said.insert(0, f"{bath.tag} stands for `{phrase}`")
    ahead, typed = text[: match.start()], match.span()
    if more := put_into(ahead):  # `add 8 oz citric acid to P1`
        phrase, ahead, typed = f"{phrase}, {more}", "", (0, match.end())
    whole, forms = ahead + phrase + rest, forms_written(bath, floor)
    return InBook(tag=bath.tag, text=whole, said=tuple(said), typed=typed, spelt=len(phrase), forms=forms)


def _tub(bath: BathLife, floor: Floor) -> Tub | None:
    """What it holds after its last line; None where nothing it was made of is written."""
    row = what_it_holds(bath, floor)
    return row[-1] if row else None


def _nothing_known(bath: BathLife, example: str) -> str:
    return (
        f"what {bath.tag} was made of is not written ({bath.made.at.short}); ask with how much it is, as in {example}"
    )


def _made_words(bath: BathLife, tub: Tub | None, floor: Floor) -> list[str]:
    filled = len(bath.doses) - len(filled_when_made(bath))
    more = "" if not filled else f", and {'1 line' if filled == 1 else f'{filled} lines'} of what went in since"
    by = f", by recipe {bath.recipe} and the water that is written" if tub is not None and tub.by_recipe else ""
    words = [f"mixed {when_words(bath.made_when, floor.book.clock, floor.at)} ({bath.made.at.short}){by}{more}"]
    if tub is not None and tub.wet:
        words.append("with the water of the wet skins that went in (62 % of a green skin; the most they thin it)")
    return words


def _skins(bath: BathLife, said: list[str], shop: ShopLines) -> str:
    """What lies in it, as a part of the request: its own water is in the bath already."""
    weights = [(member.hide.tag, weight_at(member.hide, member)) for member in bath.now_in]
    pounds = sum(pound for _, pound in weights if pound is not None)
    unweighed = in_order(tag for tag, pound in weights if pound is None)
    if unweighed:
        said.append(f"no weight is written for {listed(unweighed)} in it: what acid they take is not in these figures")
    return part_in_words(pounds * brine.KG_PER_LB, "drained skins", shop)


def _last(bath: BathLife, what: str) -> BathReading | None:
    """The last reading of the liquor itself."""
    rows = [one for one in bath.readings if one.fact.how != "cut" and (one.fact.what == what)]
    return max(rows, key=lambda one: (one.when.lo, one.entry.order), default=None)


def _still_so(reading: BathReading, bath: BathLife) -> bool:
    """Whether nothing went in since: what was poured in, and skins that were put in."""
    last = [(dose.when.lo, dose.entry.order) for dose in bath.doses]
    last += [(member.enter.lo, member.stay.mark.entry.order) for member in bath.members]
    return (reading.when.lo, reading.entry.order) >= max(last, default=(0, 0))


def _too_old(reading: BathReading, floor: Floor) -> str:
    return f"read {reading_words(reading.fact)} {_when(reading, floor)}, before the last of what went in: not taken, so read it again"


def _when(reading: BathReading, floor: Floor) -> str:
    return f"{when_words(reading.when, floor.book.clock, floor.at)} ({reading.entry.at.short})"


def _strength_words(reading: BathReading) -> str:
    value = reading.fact.value
    return f"SG {value.value:f}" if value.unit == "SG" else reading_words(reading.fact)


def _litres(bath: BathLife, tub: Tub | None) -> float:
    litres = tub.likely.litres if tub is not None and tub.likely.water else bath.volume_l
    if not litres:
        raise NotReckoned(_nothing_known(bath, "`20 gal from 36 sal to 46 sal`"))
    return litres
