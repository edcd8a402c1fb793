"""Who is next: skins still in the shop that share most with what the failed ones met, and what to do with each tonight."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import log10

from hideledger.answers.saying import ago, point, tags_said
from hideledger.answers.sheet import Row, Section
from hideledger.answers.slip.exposures import Season
from hideledger.answers.slip.shared import APART, WEIGHTS, Met, Shared, said_of
from hideledger.answers.slip.sign import Case, first_sign
from hideledger.answers.slip.sisters import Company, Sister
from hideledger.answers.slip.steps import NEUTRALISED, PICKLE, TAN, sort_of, steps_of
from hideledger.answers.standing import next_steps, state_of
from hideledger.rules.raw import pulled_since
from hideledger.rules.spans import to_come
from hideledger.rules.telling import TAGS
from hideledger.rules.words import in_order, listed, who
from hideledger.shopfloor.life import BathLife, HideLife

MOST = 6
_FOREMOST = 3  # to be named at the head of the sheet
_FEWEST_HERE = 10  # in a shop with fewer skins than that nothing is what most share
_LEAST = 0.2  # of the weight of the foremost that one must have to be told apart from the rest
_HELD = 0.3  # a good pull since takes most of the weight off, not all of it: slip shows late
_PHYSICAL = frozenset({"bath", "load", "lot", "box", "place", "skin"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Next:
    """One skin still here: what it shares that tells against it, how strongly (for the order alone), whether its hair held since the
    first sign, and what to do.

    `broke` names the limit that it broke as the hide asked about did; `common` says that it shares only what most skins here share.
    """

    sister: Sister
    shares: tuple[Shared, ...]
    weight: float
    held: bool
    do: str
    broke: str = ""
    common: bool = False


def next_in_line(
    case: Case, sisters: Sequence[Sister], met: Sequence[Company], season: Season, broke: Mapping[str, str]
) -> list[Next]:
    """The skins still here that did not fail: those that broke the same limit first, then those with the strongest ties.

    `broke` are the tags of those that broke the limit which the sheet names as the first weak point, each with its name.
    """
    against = {
        (thing.sort, thing.key): _strength(case, one, thing, season) for one in met for thing in (one.met, *one.same)
    }
    signs = [
        sign.when.lo for life in (case.life, *(one.life for one in sisters)) if (sign := first_sign(life, case.defect))
    ]
    if not signs:
        return []
    found = []
    common = _shared_by_most(case, sisters, season)
    known = {id(sister.life) for sister in sisters}
    alone = [
        Sister(life=life, shares=(), slipped=first_sign(life, case.defect) is not None)
        for life in case.floor.all_hides()
        if life.tag in broke and life is not case.life and id(life) not in known
    ]
    for sister in (*sisters, *alone):
        life = sister.life
        if sister.slipped or not life.here or life.box or not life.declared:
            continue
        ties = [one for one in sister.shares if against.get((one.met.sort, one.met.key), 0.0) > 0]
        limit = broke.get(life.tag, "")
        if not limit and not any(one.met.sort in _PHYSICAL for one in ties) and len(ties) < 2:
            continue  # one owner, or one day, is no tie by itself
        weight = sum(against[one.met.sort, one.met.key] * (1.0 if one.together else APART) for one in ties)
        held = case.defect == "slip" and pulled_since(life, max(signs))
        if held:
            weight *= _HELD
        found.append(
            Next(
                sister=sister,
                shares=tuple(ties),
                weight=weight,
                held=held,
                do=tonight(case, life),
                broke=limit,
                common=not limit and all((one.met.sort, one.met.key) in common for one in ties),
            )
        )
    order = {tag: number for number, tag in enumerate(in_order(one.sister.life.tag for one in found))}
    found.sort(
        key=lambda one: (
            one.common,
            not one.broke or one.held,
            -round(one.weight, 6),
            -_raw_hours(one.sister.life),
            order[one.sister.life.tag],
        )
    )
    return found


def _shared_by_most(case: Case, sisters: Sequence[Sister], season: Season) -> frozenset[tuple[str, str]]:
    """Lots, places, owners and days that most skins here have met, unless the season points at them: they tell nobody apart."""
    here = [one for one in case.floor.all_hides() if one.here and one.declared and not one.box]
    if len(here) < _FEWEST_HERE:
        return frozenset()
    leading = {exposure.name for one in season.standing.leading for exposure in (one.exposure, *one.same)}
    met: dict[tuple[str, str], int] = {}
    for sister in sisters:
        for shared in sister.shares if sister.life.here else ():
            if shared.met.sort in ("lot", "place", "owner", "day") and shared.met.counted_as not in leading:
                key = (shared.met.sort, shared.met.key)
                met[key] = met.get(key, int(case.life.here)) + 1
    return frozenset(key for key, count in met.items() if 2 * count > len(here))


def _raw_hours(life: HideLife) -> int:
    return life.raw.shop[1] if life.raw is not None else 0


def _strength(case: Case, company: Company, met: Met, season: Season) -> float:
    """How much a shared thing tells against whoever met it: the hide itself is one of those that failed there."""
    hit = len(company.slipped) + (case.sign is not None)
    if not hit:
        return 0.0
    count = hit + len(company.others)
    counted = season.by_name.get(met.counted_as)
    more = counted is not None and counted.table.rate > counted.table.other_rate
    return (
        WEIGHTS[met.sort]
        * hit
        * hit
        / count
        * (1.0 - log10(max(counted.p, 1e-12)) if more and counted is not None else 1.0)
    )


def tonight(case: Case, life: HideLife) -> str:
    """What to do with one of them tonight, down to the line to write."""
    tag = TAGS
    write = f"write `{tag} pull test ok`, or `{tag} {case.defect}, slight`"
    pull = (
        "pull gently at ears, brisket, belly and round every wound"
        if case.defect == "slip"
        else "cut at the thickest place and look"
    )
    if case.defect != "slip":
        write = f"write `{tag} cut test ok`, or `{tag} {case.defect}`"
    if life.resting is not None:
        return f"leave it {life.resting.name}; when it is thawed, before anything else {pull}, and {write}"
    parts = [pull]
    stay = life.stay
    bath = stay.bath if stay is not None else None
    sort = sort_of(stay.mark, stay, life) if stay is not None else ""
    if bath is not None:
        parts.append(f"read {bath.tag} ({_last_read(case, bath)})")
    if life.raw is not None and life.raw.running:
        parts.append(_off_the_clock(life))
    elif sort in (PICKLE, NEUTRALISED):
        parts.append(_go_on(life, "if the hair holds"))
    elif sort == TAN or any(done.sort == TAN for done in steps_of(life)):
        parts.append("keep it cold where it is wet")
    elif stay is None:
        parts.append(_go_on(life, "if the hair holds"))
    return f"{'; '.join(part for part in parts if part)}; {write}"


def _last_read(case: Case, bath: BathLife) -> str:
    ph = [one for one in bath.readings if one.fact.what == "pH"]
    if not ph:
        return "no pH of it is written"
    last = max(ph, key=lambda one: (one.when.hi, one.entry.order))
    how = f" {last.fact.how}" if last.fact.how else ""
    return f"last {last.fact.value}{how} {point(last.when.lo, case.clock, case.at)}, {ago(last.when.lo, case.at)}"


def _off_the_clock(life: HideLife) -> str:
    """It is raw: cold, or the first step of its own process that stops the raw clock."""
    step = next((one for one in to_come(life) if one.raw == "stops"), None)
    return "get it cold" + (f", or on to {step.title}: `{TAGS} {step.name}`" if step is not None else "")


def _go_on(life: HideLife, when: str) -> str:
    steps = [step for step in next_steps(life) if step.name != "out"]
    return f"{when}, on by your process: {' or '.join(step.title for step in steps)}" if steps else ""


def next_section(case: Case, found: Sequence[Next]) -> Section | None:
    """The skins that are next, those of one state and one company in one row, at most twelve rows; the others by their tags."""
    if not found:
        return None
    least = _LEAST * max(one.weight for one in found)
    groups: dict[tuple[str, str, bool, str, str], list[Next]] = {}
    for one in found:
        if one.broke or (one.weight >= least and not one.common):
            key = (_state(one.sister.life), said_of(one.shares), one.held, one.do, one.broke)
            groups.setdefault(key, []).append(one)
    told = list(groups.values())[:MOST]
    rows = [_row(several) for several in told]
    named = {one.sister.life.tag for several in told for one in several}
    rest = in_order(one.sister.life.tag for one in found if one.sister.life.tag not in named and not one.common)
    most = [one for one in found if one.common]
    if rest:
        rows.append(Row(head=f"and {len(rest)} more", text=f"tied less strongly: {tags_said(rest)}"))
    if most:
        things = list(dict.fromkeys(shared.said for one in most for shared in one.shares))
        text = f"share only what most skins here share, {listed(things)}: {tags_said(in_order(one.sister.life.tag for one in most))}"
        rows.append(Row(head=f"and {len(most)} more", text=text))
    failed = "slipped" if case.defect == "slip" else f"had {case.defect}"
    return Section(heading=f"Who is next: still here, and tied most strongly to those that {failed}", rows=tuple(rows))


def _state(life: HideLife) -> str:
    where = life.stay.where if life.stay is not None else life.resting.place if life.resting is not None else ""
    return state_of(life) + (f" in {where}" if where else "")


def _row(several: Sequence[Next]) -> Row:
    first = several[0]
    tags = in_order(one.sister.life.tag for one in several)
    held = "; the hair held since" if first.held else ""
    do = first.do.replace(TAGS, who(tags))
    return Row(
        head=tags_said(tags),
        text=f"{_state(first.sister.life)}{_why(first)}{held}",
        under=(("do", do), *_owners(several)),
    )


def _why(one: Next) -> str:
    broke = f"; broke the same limit: {one.broke}" if one.broke else ""
    return broke + (f"; shares {said_of(one.shares)}" if one.shares else "")


def foremost(found: Sequence[Next]) -> tuple[Row, ...]:
    """One line for the head of the sheet: the two or three to pull at tonight, each with why; a frozen one cannot be pulled."""
    told = [one for one in found if one.sister.life.resting is None and not one.held and not one.common][:_FOREMOST]
    said = [f"{one.sister.life.tag} ({one.broke or said_of(one.shares, 2)})" for one in told]
    return (Row(text=f"pull at {listed(said)}; more below, under who is next"),) if said else ()


def _owners(several: Sequence[Next]) -> tuple[tuple[str, str], ...]:
    """One fault of a bath touches every owner in it: whom to tell, and what was promised."""
    told: dict[str, list[str]] = {}
    for one in several:
        life = one.sister.life
        promised = f", promised {life.promised[0].day.isoformat()}" if life.promised is not None else ""
        if life.payer:
            told.setdefault(f"{life.payer}{promised}", []).append(life.tag)
    alone = len(several) == 1
    return tuple(("for", owner if alone else f"{owner}: {tags_said(in_order(tags))}") for owner, tags in told.items())


def next_records(found: Sequence[Next]) -> Iterator[dict[str, object]]:
    """The same for a program."""
    for one in found:
        yield {
            "tag": one.sister.life.tag,
            "state": state_of(one.sister.life),
            "shares": [shared.said for shared in one.shares],
            "held_since": one.held,
            "do": one.do.replace(TAGS, one.sister.life.tag),
            "broke": one.broke or None,
            "common": one.common,
        }
