"""The days of a made-up busy shop: what comes in, what is read, shaved and turned, and who fetches what.

About a thousand hides a year and 13,900 entries. Skins go through an open pickle and then the drum, in the order and
within the limits of the shop page below; every hundredth line or so was forgotten, as in a real book. Not a sample to
learn from: nobody works this evenly, and the amounts are common practice, no source.
"""

import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

FIRST_YEAR = 1996
SEED = 20261031
HIDES_A_DAY = (1, 2, 2, 3, 3, 3, 4, 4, 5, 6)
# the letters that begin the tags of a year's hides; D, L, P, V are left to the shop's drums, loads, pickles and vats
YEAR_LETTERS = "ABCEFGHIJKMNOQRSTUWXYZ"
OWNERS = (
    "Oren Vale",
    "Ida Marsh",
    "Wes Tolliver",
    "Ruth Okafor",
    "Pell Brothers",
    "Hanne Lund",
    "Cal Whitcomb",
    "Dora Ames",
)
KINDS = ("whitetail cape", "whitetail cape", "whitetail cape", "mule deer cape", "elk cape")
FORGOTTEN = 0.01
# A bath or a hide that nobody wrote in or out is found out within days, and written late.
SOON_MISSED = ("in, ", "out to ", "mixed ", "dumped ")

SHOP = """\
shop Quarry Bend Skins
  zone America/Chicago
  hours 7:00 to 18:00, Mon to Sat
  gallons US
  degrees F
  room 66 F
  sewer pH at least 5.5
  quiet after 60 d
vessel D1, drum, 19 gal, holds 5, at most 10 psi, stands at most 14 h
vessel D2, drum, 19 gal, holds 5, at most 10 psi, stands at most 14 h
vessel D3, drum, 19 gal, holds 5, at most 10 psi, stands at most 14 h
vessel V1, vat, 160 gal, holds 60
vessel V2, vat, 160 gal, holds 60
vessel V3, vat, 160 gal, holds 60
vessel V4, vat, 160 gal, holds 60
place freezer, at most 5 F
kind whitetail cape, counts 1, process both
kind mule deer cape, counts 1, process both
kind elk cape, counts 1, process both
supply salt, $0.19 per lb
supply citric acid, $3.40 per lb
supply alum tan, $4.10 per lb
supply soda ash, $2.10 per lb

process both
  in              needs pull test
  fleshed         within 12 h of in
  salt            stays 24 h to 14 d, raw clock stops
  pickle          stays at least 3 d, pH 0.8 to 2.4, 45 to 80 F, read every day, raw clock stops
  shaved          weighs shaved
  pickle again    stays at least 12 h, within 4 h of shaved, pH 0.8 to 2.4, read every day
  first turn      runs 30 min to 50 min, in a bath
  second turn     runs 90 min to 2 h 30 min, in a bath
  drained         stays 30 min to 24 h, needs cut test, weighs drained
  oiled           within 24 h of drained
  out
  raw at most 12 h at 66 F
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One doing at the bench, in pieces, so that the same record can be written as a book, as JSON and as TOML."""

    at: datetime
    who: str
    what: str
    remark: str = ""

    def text(self) -> str:
        """What follows the stamp in the book."""
        words = f"{self.who} {self.what}".strip()
        return f"{words} -- {self.remark}" if self.remark else words


@dataclass(slots=True, kw_only=True)
class Vat:
    """A pickle in its vat: who is in it, and what it last read."""

    tag: str
    vessel: str
    mixed: date
    inside: list[str] = field(default_factory=list)
    ph: float = 1.6


@dataclass(slots=True, kw_only=True)
class Days:
    """The shop from one day to the next: which hides wait for what, from when."""

    dice: random.Random
    pickles: int = 0
    loads: int = 0
    hides: int = 0
    legal: int = 40000
    salted: list[tuple[date, str]] = field(default_factory=list)
    pickled: list[tuple[date, str]] = field(default_factory=list)
    shaved: list[tuple[date, str]] = field(default_factory=list)
    oiled: list[tuple[date, str]] = field(default_factory=list)
    owner: dict[str, str] = field(default_factory=dict)
    vats: list[Vat] = field(default_factory=list)


def letters(year: int) -> str:
    """`A` for the first year, `B` for the next, `AA` after the last letter."""
    place = year - FIRST_YEAR
    round_, within = divmod(place, len(YEAR_LETTERS))
    return (YEAR_LETTERS[round_ - 1] if round_ else "") + YEAR_LETTERS[within]


def together(tags: list[str]) -> str:
    """Tags as people write them: three or more that follow each other become a run."""
    pieces: list[str] = []
    start = 0
    ordered = sorted(tags)
    for place in range(1, len(ordered) + 1):
        if place < len(ordered) and follows(ordered[place - 1], ordered[place]):
            continue
        run = ordered[start:place]
        pieces += [f"{run[0]} thru {run[-1]}"] if len(run) > 2 else run
        start = place
    return " ".join(pieces)


def follows(one: str, other: str) -> bool:
    """Whether the second tag is the next after the first, under the same letters."""
    bare = one.rstrip("0123456789")
    return (
        other.startswith(bare) and other[len(bare) :].isdigit() and int(one[len(bare) :]) + 1 == int(other[len(bare) :])
    )


def clock(day: date, minutes: int) -> datetime:
    """So many minutes after midnight of that day, on the shop's wall."""
    return datetime(day.year, day.month, day.day, minutes // 60, minutes % 60)


def arrivals(days: Days, day: date) -> Iterator[Line]:
    """Green capes over the counter in the morning: in, tested, fleshed, salted before dinner."""
    dice = days.dice
    for place in range(dice.choice(HIDES_A_DAY)):
        days.hides += 1
        days.legal += 1
        tag = f"{letters(day.year)}{days.hides:04d}"
        owner = days.owner[tag] = dice.choice(OWNERS)
        start = 8 * 60 + 40 + 25 * place + dice.randrange(20)
        pounds = f"{dice.randrange(50, 95) / 10:.1f}"
        promised = day + timedelta(days=dice.randrange(60, 120))
        details = (
            f"in, {dice.choice(KINDS)}, {dice.choice(('buck', 'doe'))}, {pounds} lb, green, "
            f"killed {day} {dice.randrange(5, 8)}:{dice.randrange(60):02d} at Tarrow county, hung 45 F, "
            f"for {owner}, tag {days.legal}, promised {promised}"
        )
        yield Line(at=clock(day, start), who=tag, what=details)
        yield Line(at=clock(day, start + 5), who=tag, what="pull test ok")
        note = "thin line at the neck" if dice.random() < 0.05 else ""
        yield Line(
            at=clock(day, start + 45), who=tag, what=f"fleshed, by {dice.choice(('JK', 'AM', 'TS'))}", remark=note
        )
        lot = f"S-{100 + day.toordinal() // 30 % 900}"
        yield Line(at=clock(day, start + 70), who=tag, what=f"salt, {dice.randrange(6, 10)} lb salt lot {lot}")
        days.salted.append((day, tag))


def fresh_vats(days: Days, day: date) -> Iterator[Line]:
    """Four pickles stand at a time; one over four weeks old takes no more skins and goes once it is empty."""
    for vat in [vat for vat in days.vats if not vat.inside and (day - vat.mixed).days > 28]:
        days.vats.remove(vat)
        yield Line(at=clock(day, 450), who=vat.tag, what="dumped 100 gal, pH 6.8, sewer")
    taken = {vat.vessel for vat in days.vats}
    for vessel in ("V1", "V2", "V3", "V4"):
        if vessel not in taken:
            days.pickles += 1
            vat = Vat(tag=f"PB{days.pickles:04d}", vessel=vessel, mixed=day)
            days.vats.append(vat)
            amounts = "100 gal water, 100 lb salt lot S-114, 300 oz citric acid lot C-31"
            yield Line(at=clock(day, 455), who=vat.tag, what=f"mixed in {vessel}, {amounts}")


def read_vats(days: Days, day: date) -> Iterator[Line]:
    """Each pickle read and stirred in the morning and stirred at night; acid when the pH has crept up."""
    dice = days.dice
    for place, vat in enumerate(days.vats):
        minutes = 8 * 60 + 4 * place
        vat.ph += dice.choice((0.0, 0.05, 0.1))
        what = f"pH {vat.ph:.1f} meter, {dice.randrange(58, 70)} F, {dice.randrange(38, 48)} sal"
        yield Line(at=clock(day, minutes), who=vat.tag, what=what)
        if vat.ph > 2.1:
            vat.ph = 1.6
            yield Line(at=clock(day, minutes + 2), who=vat.tag, what="add 40 oz citric acid lot C-31")
        yield Line(at=clock(day, 17 * 60 + 30 + place), who=vat.tag, what=f"pH {vat.ph:.1f} strip, stirred")


def into_pickle(days: Days, day: date) -> Iterator[Line]:
    """Mondays and Thursdays: everything that lay two days in salt goes into the youngest pickle with room."""
    waiting = [tag for since, tag in days.salted if (day - since).days >= 2]
    young = [vat for vat in days.vats if (day - vat.mixed).days <= 28 and len(vat.inside) + len(waiting) <= 60]
    if day.weekday() in {0, 3} and waiting and young:
        days.salted = [(since, tag) for since, tag in days.salted if tag not in waiting]
        vat = days.dice.choice(young)
        vat.inside += waiting
        days.pickled += [(day, tag) for tag in waiting]
        yield Line(at=clock(day, 8 * 60 + 30), who=together(waiting), what=f"pickle in {vat.tag}")


def shave(days: Days, day: date) -> Iterator[Line]:
    """After four days in the pickle each is shaved and weighed, and all go back before dinner."""
    ready = [tag for since, tag in days.pickled if (day - since).days >= 4]
    days.pickled = [(since, tag) for since, tag in days.pickled if tag not in ready]
    days.shaved += [(day, tag) for tag in ready]
    for place, tag in enumerate(ready):
        pounds = f"{days.dice.randrange(30, 60) / 10:.1f}"
        yield Line(at=clock(day, 9 * 60 + 6 * place), who=tag, what=f"shaved, {pounds} lb")
    for vat in days.vats:
        back = [tag for tag in vat.inside if tag in ready]
        if back:
            yield Line(at=clock(day, 12 * 60 + 15), who=together(back), what=f"pickle in {vat.tag}")


def drum(days: Days, day: date) -> Iterator[Line]:
    """The day after shaving, up to four skins a load and three drums at once: two turns, drained, oiled."""
    for place, vessel in enumerate(("D1", "D2", "D3")):
        skins = [tag for since, tag in days.shaved if since < day][:4]
        if not skins:
            return
        days.shaved = [(since, tag) for since, tag in days.shaved if tag not in skins]
        for vat in days.vats:
            vat.inside = [tag for tag in vat.inside if tag not in skins]
        days.oiled += [(day, tag) for tag in skins]
        days.loads += 1
        load = f"DL{days.loads:05d}"
        start = 7 * 60 + 35 + 5 * place
        who = together(skins)
        pounds = f"{4.2 * len(skins):.1f}"
        weighed = f"together {pounds} lb drained" if len(skins) > 1 else f"{pounds} lb drained"
        for after, tags, what in (
            (0, load, f"mixed in {vessel}, 9 qt water, 2 lb alum tan lot K-7"),
            (10, who, f"first turn in {load}, {weighed}"),
            (12, load, "on, 8 psi"),
            (52, load, "off"),
            (60, load, "add 3 oz soda ash"),
            (65, who, f"second turn in {load}"),
            (66, load, "on, 8 psi"),
            (186, load, "off"),
            (190, load, f"cut test ok, {skins[0]} neck"),
            (195, who, "drained"),
            (210, load, "dumped 2 gal, pH 6.2, sewer"),
            (300, who, "oiled"),
        ):
            yield Line(at=clock(day, start + after), who=tags, what=what)


def hand_over(days: Days, day: date) -> Iterator[Line]:
    """A week or more after the oil the owner comes."""
    ready = [tag for since, tag in days.oiled if (day - since).days >= 8 and days.dice.random() < 0.3]
    days.oiled = [(since, tag) for since, tag in days.oiled if tag not in ready]
    for place, tag in enumerate(ready):
        yield Line(at=clock(day, 15 * 60 + 3 * place), who=tag, what=f"out to {days.owner.pop(tag)}")


def shelf(days: Days, day: date) -> Iterator[Line]:
    """Room and freezer twice a day; salt and acid bought and counted on Mondays."""
    dice = days.dice
    for minutes in (7 * 60 + 20, 13 * 60):
        yield Line(at=clock(day, minutes), who="", what=f"room {dice.randrange(62, 70)} F")
        yield Line(at=clock(day, minutes + 2), who="", what=f"freezer {dice.randrange(-6, 3)} F")
    if day.weekday() == 0:
        yield Line(
            at=clock(day, 13 * 60 + 30), who="", what=f"bought 200 lb salt lot S-{dice.randrange(100, 999)}, $38.00"
        )
        yield Line(at=clock(day, 13 * 60 + 35), who="", what=f"counted {dice.randrange(100, 400)} lb salt")


def lines_of(years: int, seed: int = SEED) -> Iterator[tuple[int, list[Line]]]:
    """Each year with its lines in order of time. Numbers of hides begin anew with the letter of the year."""
    days = Days(dice=random.Random(seed))
    for year in range(FIRST_YEAR, FIRST_YEAR + years):
        days.hides = 0
        lines: list[Line] = []
        day = date(year, 1, 1)
        while day.year == year:
            if day.weekday() != 6:
                today = [
                    line
                    for part in (shelf, fresh_vats, drum, read_vats, arrivals, into_pickle, shave, hand_over)
                    for line in part(days, day)
                    if days.dice.random() >= FORGOTTEN or line.what.startswith(SOON_MISSED)
                ]
                lines += sorted(today, key=lambda line: line.at)
            day += timedelta(days=1)
        yield year, lines
