"""Bald is not always slip: the knife, grease, wear, the season and cut hair afloat make bald places too, and only looking tells.

What the book excludes is not asked. Common practice, no source.
"""

from __future__ import annotations

from datetime import date

from hideledger.answers.sheet import Row, Section
from hideledger.answers.slip.causes import CAUSES
from hideledger.answers.slip.sign import Case, by_whom
from hideledger.rules.raw import last_pull
from hideledger.rules.words import listed
from hideledger.shopfloor.doings import DRIED, FLESHED, SHAVED, Done, steps_of

_SPRING = range(3, 7)  # March to June: the winter coat comes off by itself


def not_always_slip(case: Case) -> Section | None:
    """The questions that are left, and what needs not be asked; None for other failures, or where nothing came loose."""
    if case.defect not in ("slip", "bald spot") or case.sign is None:
        return None
    done = [one for one in steps_of(case.life) if not one.mark.skipped and case.before(one.mark.when)]
    knife = [one for one in done if one.sort in (FLESHED, SHAVED)]
    rows = [
        Row(head="smell", text="does it smell, and is there a black or grey film of skin at the roots? then it is slip")
    ]
    left_out: list[str] = []
    rows.append(Row(head="root cut", text=_root_cut(case, knife)))
    if any(one.sort == DRIED for one in done) or _warm_dried(case):
        rows.append(
            Row(
                head="grease burn",
                text="a hard yellow-brown patch that sheds water? then fat was left on and it met heat",
            )
        )
    else:
        left_out.append("grease burn (no drying is written before the sign)")
    tumbled = [one for one in done if "tumbl" in one.name or (one.stay is not None and one.stay.turned[1] > 0)]
    if tumbled:
        rows.append(
            Row(
                head="wear",
                text=f"thin all over and no roots lost? then it was worn: {listed([_when(case, one) for one in tumbled[:3]])}",
            )
        )
    else:
        left_out.append("wear (nothing turned or tumbled it before the sign)")
    month = _month_of_kill(case)
    if month is None or month in _SPRING:
        unknown = "" if month is not None else " (when it was killed is not written)"
        rows.append(
            Row(
                head="shed",
                text=f"thin overall, with whole hairs? it may have been shedding{unknown}; compare with what was noted at the door{_pulled(case)}",
            )
        )
    else:
        left_out.append("spring shed (it was not killed in spring)")
    if knife:
        rows.append(
            Row(
                head="cut hair afloat",
                text=f"hairs in the bath that end blunt were cut, at {listed([_when(case, one) for one in knife[-2:]])}",
            )
        )
    if case.at_door:
        rows.append(
            Row(
                head="at the door",
                text="a place that was noted at the door is no outcome of the shop; is it the same one?",
            )
        )
    if left_out:
        rows.append(Row(head="not asked", text="; ".join(left_out)))
    return Section(heading="Bald is not always slip: look at the roots on the flesh side", rows=tuple(rows))


def usually_from(case: Case) -> Section | None:
    """What the failure usually comes from; None where it was not seen, and for a shop's own defect. How to tell slip stands above."""
    cause = CAUSES.get(case.defect)
    if cause is None or case.sign is None:
        return None
    told = case.defect == "slip"
    rows = [] if told else [Row(head="looks like", text=cause.looks)]
    rows += [
        Row(head="comes from" if not number else "or from", text=text) for number, text in enumerate(cause.comes_from)
    ]
    rows += [] if told else [Row(head="to tell", text=cause.tell)]
    rows.append(Row(head="to be mended", text=cause.mend))
    return Section(heading=f"What {case.defect} usually comes from (common practice, no source)", rows=tuple(rows))


def _root_cut(case: Case, knife: list[Done]) -> str:
    ask = "are the roots bare on the flesh side, with no smell? then the knife went too deep"
    if not knife:
        return f"{ask}; no knife is written before the sign, which is no proof that there was none"
    return f"{ask}: {listed([_when(case, one) for one in knife[-3:]])}"


def _when(case: Case, done: Done) -> str:
    if done.mark.elsewhere:
        return f"{done.name} before it came"
    return f"{done.name} {case.said(done.mark.when)}{by_whom(done.mark.entry)}"


def _pulled(case: Case) -> str:
    test = last_pull(case.life, 0)
    earlier = [one for one in case.life.tests if one.own and "pull" in one.fact.test and case.before(one.when)]
    if test is None or not earlier:
        return ""
    first = earlier[0]
    return f" (pull test {'ok' if first.fact.passed else 'fails'} {case.said(first.when)})"


def _warm_dried(case: Case) -> bool:
    """Whether it came to the shop dried: where and how warm, nobody wrote."""
    return case.life.condition is not None and case.life.condition[0].condition in ("dried", "dry salted")


def _month_of_kill(case: Case) -> int | None:
    when = case.life.kill_when
    return date.fromordinal(when.day).month if when is not None and when.day else None
