"""The mates of a skin that slipped, and those that went into its bath after it: told once a bath, a box or a place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.how_far import Stands, can_wait, stands
from hideledger.rules.slipped import SLIP_NEARBY, Beside, Company, companies
from hideledger.rules.telling import TAGS, bath_cause, of_hide
from hideledger.rules.words import at_where, in_order, listed, when_said
from hideledger.shopfloor.floor import Floor

_MOST_NAMED = 4  # of those that slipped too; the others are counted


def slip_nearby(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Slip is seen late and caused early: what did it to one skin of a bath was at work on all that lay with it, and is on those that go in after it."""
    alike: dict[tuple[str, str, bool, bool], list[Company]] = {}
    for one in companies(horizon):
        if one.beside:
            waits = can_wait(one.life, horizon.clock, horizon.at)
            alike.setdefault((_shared(one), stands(one.life).value, waits, _certain(one)), []).append(one)
    for (shared, stood, waits, certain), those in alike.items():
        yield from _told(
            those, f"slip {shared} {stood}{' waits' if waits else ''}", horizon, waits=waits, certain=certain
        )


def _shared(one: Company) -> str:
    if one.bath is not None:
        return bath_cause(one.bath)
    return f"box {one.box}" if one.box else f"place {one.place.casefold()}"


def _certain(one: Company) -> bool:
    return any(beside.certain for beside in one.beside)


def _told(those: Sequence[Company], cause: str, horizon: Horizon, *, waits: bool, certain: bool) -> Iterable[Finding]:
    """One sentence for all of one company: who slipped is named once, the first with which any of them lay for certain before the others."""
    signs = {
        id(one.defect): one
        for company in reversed(those)
        for one in sorted(company.beside, key=_speaks_first, reverse=True)
    }
    ordered = sorted(signs.values(), key=_speaks_first)
    first = min((one for company in those for one in company.beside), key=_speaks_first)
    others = [one for one in ordered if one.other is not first.other]
    stood = stands(those[0].life)
    act = bool(others) or first.defect.fact.degree in ("bad", "total")
    bath = those[0].bath
    later = [company for company in those if any(one.after is not None for one in company.beside)]
    do = (
        f"{before_the_pull(stood, act=act, waits=waits)} gently at ears, brisket, belly and round every wound, and write: "
        f"`{TAGS} pull test ok`, or `{TAGS} slip, slight`"
    )
    if later and not waits and bath is not None and bath.ended is None:
        do += f"; no more skins into {bath.tag} until it is set right; then write: `{bath.tag} waived {SLIP_NEARBY} -- dosed, and read again`"
    for company in those:
        mine = any(one.after is not None for one in company.beside)
        yield of_hide(
            company.life,
            bath=bath if mine else None,
            name=SLIP_NEARBY,
            when="record" if waits else "now",
            message=f"{_together(those, first)}, and {first.other.tag} slipped{_how(first)}, {when_said(horizon.clock, first.defect.when, horizon.at)}",
            do=do,
            entry=first.defect.entry,
            may=not certain,
            since=_since(company, first),
            more=(*_so_did(others, horizon), *_its_own(company, first, horizon)),
            cause=cause,
            begun=max(one.defect.when.lo for one in company.beside),
        )


def _since(company: Company, first: Beside) -> int:
    """From the sign on; of one that only went in later, from then on."""
    starts = [one.after.start.lo for one in company.beside if one.after is not None]
    later = min(starts) if len(starts) == len(company.beside) else first.defect.when.lo
    return max(first.defect.when.lo, later)


def _speaks_first(one: Beside) -> tuple[bool, bool, int, int]:
    return (one.after is not None, not one.certain, one.defect.when.lo, one.defect.entry.order)


def _together(those: Sequence[Company], first: Beside) -> str:
    """What all of them shared with the first that slipped: each is told it of itself too."""
    company, who = those[0], first.other.tag
    if company.bath is not None:
        if all(_has(one, first, later=False) for one in those):
            return f"lay with {who} in {company.bath.tag}"
        if all(_has(one, first, later=True) for one in those):
            return f"went into {company.bath.tag} after {who}"
        return f"lay in {company.bath.tag}, as {who} did"
    if company.box:
        return f"came in box {company.box} with {first.other.tag}"
    return f"lay raw with {first.other.tag} in {company.place}"


def _has(company: Company, first: Beside, *, later: bool) -> bool:
    """Whether one lay beside the first that slipped, or went in `later`."""
    return any(one.other is first.other and (one.after is not None) is later for one in company.beside)


def _how(one: Beside) -> str:
    fact = one.defect.fact
    size = f", {fact.size}" if fact.size is not None else (f", {fact.degree}" if fact.degree else "")
    return f"{at_where(fact.where)}{size}"


def _so_did(others: Sequence[Beside], horizon: Horizon) -> tuple[str, ...]:
    """`so did H12, Wed 11 Nov 09:00 (november.hides:72)`: each with its own line, so that nobody takes one that lay beside for one that slipped."""
    if not others:
        return ()
    said = [
        f"{one.other.tag}, {when_said(horizon.clock, one.defect.when, horizon.at)} ({one.defect.entry.at.short})"
        for one in sorted(others, key=lambda one: (one.defect.when.lo, one.defect.entry.order))
    ]
    if len(said) > _MOST_NAMED:
        said = [*said[: _MOST_NAMED - 1], f"{len(said) - _MOST_NAMED + 1} more"]
    return (f"so did {listed(said)}",)


def _its_own(company: Company, first: Beside, horizon: Horizon) -> tuple[str, ...]:
    """What is not true of all in a bath: when one went in after them, or with whom it lay, where that is not the one that is named first."""
    if company.bath is None or _has(company, first, later=False):
        return ()
    with_whom = in_order(one.other.tag for one in company.beside if one.after is None)
    if with_whom:
        return (f"{company.life.tag} lay with {listed(with_whom)}",)
    return tuple(
        f"{company.life.tag} went in {when_said(horizon.clock, one.after.start, horizon.at)} ({one.after.mark.entry.at.short})"
        for one in company.beside[:1]
        if one.after is not None
    )


# What stops the harm at once, by where the skin stands; acid and cold only where they do no harm of their own (common practice, no source).
_AT_ONCE = {
    Stands.GREEN: "get them cold now, or on to your salt or your pickle, and pull",
    Stands.SALTED: "leave them salted or dry as they are, and get them cold now; where the skin is soft, pull",
    Stands.PICKLED: "get them cold or into fresh acid now, then pull",
    Stands.NEUTRALISED: "get them cold now, no acid any more, and pull",
}


def before_the_pull(stood: Stands, *, act: bool, waits: bool) -> str:
    """What comes before the look. Cold and acid are for raw skins: of a tanned one nothing but the pull is asked, and a ready one takes no harm from another day."""
    if stood is Stands.FROZEN:
        return "leave it frozen, mark it, and when it is thawed look at it before anything else: pull"
    if stood is Stands.TANNING:
        return "when it comes out of the tan, pull"
    if waits:
        return "look at it before it goes: pull"
    return _AT_ONCE.get(stood, "pull") if act else "pull"
