"""The hide that is asked about: said as people say it, and read as a line of the book would be."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date

from hideledger.answers.saying import today
from hideledger.model.moments import Clock
from hideledger.reading import read_sources
from hideledger.reading.stamping import Moment, composed
from hideledger.reading.trouble import Unreadable
from hideledger.rules.hours import ShopHours
from hideledger.rules.kinds import seems_a_kind
from hideledger.rules.words import WEEKDAYS, listed
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.layout import lay_out
from hideledger.shopfloor.life import HideLife
from hideledger.text.nearest import nearest
from hideledger.text.source import Source

SHAPE = 'a hide that comes is asked about as in "H60 in tomorrow, whitetail cape, promised 2026-12-20"'
_PAGE = "the question"
_FULL = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_MONTH = r"(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*"
_DAY = (
    r"(?:(?P<word>today|tomorrow|now|next\s+week)|(?:on\s+|next\s+|this\s+|coming\s+)*(?P<weekday>mon|tues?|wed|thu(?:rs?)?|fri|sat|sun|"
    + "|".join(_FULL)
    + r")|in\s+(?P<many>an?|[0-9]{1,3})\s+(?P<unit>days?|weeks?|d|wk)"
    r"|(?:on\s+)?(?P<full>[0-9]{4}[-/][0-9]{1,2}[-/][0-9]{1,2})"
    rf"|(?:on\s+)?(?P<near>[0-9]{{1,2}}/[0-9]{{1,2}}(?:/[0-9]{{2,4}})?|[0-9]{{1,2}}\.[0-9]{{1,2}}\.(?:[0-9]{{4}})?|[0-9]{{1,2}}\s+{_MONTH}(?:\s+[0-9]{{4}})?|{_MONTH}\s+[0-9]{{1,2}}(?:,?\s+[0-9]{{4}})?))"
)
_TIME = r"(?:,?\s+(?:at\s+|in\s+the\s+)?(?P<time>[0-9]{1,2}[:.][0-9]{2}(?:\s*[ap]m?)?|[0-9]{1,2}\s*[ap]m?|noon|morning|afternoon|evening)|\s+at\s+(?P<hour>[0-9]{1,2}))?"
_COMES = r"(?:(?:comes?|coming|arrives?|arriving|arrived)(?:\s+in)?|in)"
_WHEN = re.compile(rf"(?:{_COMES}\s+)?" + _DAY + _TIME + r"(?![A-Za-z0-9/.:-])", re.IGNORECASE)
_BOUND = re.compile(r"(?:^|(?<=[\s,]))(?=[A-Za-z0-9])")
_TAG = re.compile(r"[A-Za-z]{1,4}-?[0-9]{1,6}[A-Za-z]?(?![A-Za-z0-9-])")
_VERB = re.compile(_COMES + r"(?![A-Za-z])", re.IGNORECASE)
_ARTICLE = re.compile(r"(?:an?|the|one)\s+", re.IGNORECASE)
_LATER = re.compile(r"(?:^|,)\s*(?:promised|killed|for|from|hunter|owner|expires)\b", re.IGNORECASE)
_BLANKS = re.compile(r"[\s,]*")
_LONG_WORD = re.compile(r"(?<![A-Za-z])[A-Za-z]{5,}(?![A-Za-z])")
_PROMISED = re.compile(
    r"(?:^|(?<=[\s,]))promised\s+(?P<day>(?:(?:for|by)\s+)?" + _DAY + r")(?![A-Za-z0-9/.:-])", re.IGNORECASE
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Newcomer:
    """The hide, when it comes (UTC seconds), and what was said of it, to be written when it is there."""

    life: HideLife
    comes: int
    said: str


def newcomer(floor: Floor, text: str) -> Newcomer:
    """What was asked, as a hide that comes. Raises Unreadable, with the place in the text."""
    clock = floor.book.clock
    limit = _LATER.search(text)
    whole, when = _without_when(text, len(text) if limit is None else limit.start())
    at = _past_blanks(whole, 0)
    tag = _TAG.match(whole, at)
    name = tag[0] if tag else _free_tag(floor)
    at = _past_blanks(whole, tag.end()) if tag else at
    verb = _VERB.match(whole, at)
    at = verb.end() if verb else at
    if when is None:
        _no_near_day(floor, text if limit is None else text[: limit.start()])
    at = _past_blanks(whole, at)
    article = _ARTICLE.match(whole, at)
    at = article.end() if article else at
    if not (verb or tag or when) and not _names_a_kind(floor, whole[at:]):
        raise Unreadable("asked", SHAPE, 0, len(text))
    known = next((lives for known, lives in floor.hides.items() if known.casefold() == name.casefold()), [])
    if tag and any(life.here for life in known):
        raise Unreadable("asked", f"{name} is in the shop already: ask with a tag that is free", *tag.span())
    return _read(floor, name, _stamp(floor, clock, when), whole, at, tag.span() if tag else (0, len(text)))


def _without_when(text: str, limit: int) -> tuple[str, re.Match[str] | None]:
    """The text with the phrase that says when it comes blanked out, and that phrase."""
    for bound in _BOUND.finditer(text, 0, limit):
        found = _WHEN.match(text, bound.start())
        if found:
            start, end = found.span()
            return text[:start] + " " * (end - start) + text[end:], found
    return text, None


def _past_blanks(text: str, at: int) -> int:
    found = _BLANKS.match(text, at)
    return at if found is None else found.end()


def _names_a_kind(floor: Floor, text: str) -> bool:
    """Whether a text begins with a kind of the shop, or nearly."""
    names = [name for kind in floor.book.shop.kinds.values() for name in (kind.name, *kind.others)]
    said = " ".join(text.split(",", maxsplit=1)[0].casefold().split())
    return any(said.startswith(name.casefold()) for name in names) or bool(said and nearest(said, tuple(names)))


def _free_tag(floor: Floor) -> str:
    """The next number of the row in which the last hide came in."""
    lives = [life for life in floor.all_hides() if life.declared]
    last = max(lives, key=lambda life: life.arrived_when.lo, default=None)
    letters = "H" if last is None else re.match(r"[A-Za-z]+-?", last.tag)[0]  # type: ignore[index]
    taken = [re.fullmatch(re.escape(letters) + r"([0-9]+)[A-Za-z]?", life.tag, re.IGNORECASE) for life in lives]
    return f"{letters}{max((int(one[1]) for one in taken if one), default=0) + 1}"


def _no_near_day(floor: Floor, text: str) -> None:
    """A slip in `tomorrow` or in the name of a day must not become a hide that comes now. Raises Unreadable."""
    kinds = {
        word for kind in floor.book.shop.kinds.values() for name in (kind.name, *kind.others) for word in name.split()
    }
    for found in _LONG_WORD.finditer(text):
        close = None if found[0].casefold() in kinds else nearest(found[0].casefold(), ("today", "tomorrow", *_FULL))
        if close:
            said = close.capitalize() if close in _FULL else close
            raise Unreadable("asked", f"`{found[0]}` is no day; did you mean `{said}`?", *found.span())


def _stamp(floor: Floor, clock: Clock, when: re.Match[str] | None) -> str:
    """The date and time at the head of a line: where no time is said, the next opening from then on. Raises Unreadable."""
    day = today(clock, floor.at) if when is None else _day(floor, clock, when)
    time = None if when is None else (when["time"] or (f"{when['hour']}:00" if when["hour"] else None))
    if time is None:
        hours = ShopHours(floor.book.shop.shop, clock)
        opening = hours.next_opening(max(floor.at, clock.day_start(day)))
        time, day = f"{clock.local(opening):%H:%M}", clock.day_of(opening)
    return f"{date.fromordinal(day).isoformat()} {time.replace('.', ':')}"


def _day(floor: Floor, clock: Clock, when: re.Match[str]) -> int:
    now = today(clock, floor.at)
    if when["word"]:
        return now + {"tomorrow": 1, "today": 0, "now": 0}.get(when["word"].casefold(), 7)
    if when["weekday"]:
        weekday = next(i for i, short in enumerate(WEEKDAYS) if when["weekday"].casefold().startswith(short.casefold()))
        ahead = (weekday - date.fromordinal(now).weekday()) % 7
        return now + (7 if not ahead and "next" in when[0].casefold() else ahead)
    if when["many"]:
        many = int(when["many"]) if when["many"].isdecimal() else 1
        return now + many * (7 if when["unit"][0].casefold() == "w" else 1)
    if when["full"]:
        year, month, day = (int(one) for one in re.split("[-/]", when["full"]))
        try:
            return date(year, month, day).toordinal()
        except ValueError:
            raise Unreadable("asked", f"there is no day {when['full']}", *when.span("full")) from None
    moment = Moment(at=floor.at, day=now)
    days = composed(f"{when['near']} remark a hide comes", moment, floor.book.shop, clock).days
    if not days:
        message = f"which day is `{when['near']}`? Write it as in {date.fromordinal(now).isoformat()}"
        raise Unreadable("asked", message, *when.span("near"))
    return days[0]


def _read(floor: Floor, name: str, stamp: str, text: str, at: int, shown: tuple[int, int]) -> Newcomer:
    """The line as the book would have it, read in the book."""
    rest, promise = text[at:].rstrip(" ,.?"), _PROMISED.search(text, at)
    longer = 0
    if promise is not None:
        day = date.fromordinal(_day(floor, floor.book.clock, promise)).isoformat()
        longer = len(day) - len(promise["day"])
        rest = (text[at : promise.start("day")] + day + text[promise.end("day") :]).rstrip(" ,.?")
    head = f"{stamp} {name} in, " if rest else f"{stamp} {name} in"
    book = read_sources([*floor.book.sources, Source(name=_PAGE, text=f"{head}{rest}\n")])
    for complaint in book.unread:
        if complaint.place.file == _PAGE:
            start = max(at, at + complaint.place.column - 1 - len(head))
            start -= longer if promise is not None and start > promise.start("day") else 0
            raise Unreadable(complaint.code, complaint.message, start, start + max(1, complaint.place.width))
    entry = next(entry for entry in book.entries if entry.at.file == _PAGE)
    alone = replace(book, entries=(entry,))  # what the book says of later days has not happened yet
    life = lay_out(alone, max(floor.at, entry.when.hi)).hides[entry.tags[0]][-1]
    _kind_of_the_shop(floor, life, text, at)
    if life.process is None:
        kinds = [kind.name for kind in floor.book.shop.kinds.values() if kind.process]
        asked = (
            f"name its kind, as in {kinds[0]}, or its process" if kinds else "write `process` and its name behind it"
        )
        if not floor.book.shop.processes:
            asked = "the shop has written down none (`process NAME` and its steps, in shop.hides)"
        raise Unreadable("asked", f"no process is known for {name}: {asked}", *shown)
    said = ", ".join(piece for piece in (" ".join(one.split()) for one in rest.split(",")) if not _is_promise(piece))
    return Newcomer(life=life, comes=max(floor.at, entry.when.lo), said=f"{name} in, {said}".rstrip(", "))


def _kind_of_the_shop(floor: Floor, life: HideLife, text: str, at: int) -> None:
    """What is said where a kind stands has to be one: how long it takes and what it counts hang on it. Raises Unreadable."""
    kinds = [kind.name for kind in floor.book.shop.kinds.values()]
    said = seems_a_kind(life, sorted(floor.book.shop.kinds_by_name()))
    if not said or not kinds:
        return
    start = max(at, text.casefold().find(said.casefold(), at))
    message = f"`{said}` is no kind of the shop ({listed(kinds, 'or')}); a new one is written into the shop file first: `kind {said.casefold()}`"
    raise Unreadable("asked", message, start, start + len(said))


def _is_promise(piece: str) -> bool:
    return not piece or piece.casefold().startswith("promised")
