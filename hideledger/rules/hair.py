"""A pull test that failed, and that nothing has answered since."""

from __future__ import annotations

from collections.abc import Iterable

from hideledger.rules.finding import Finding
from hideledger.rules.horizon import Horizon
from hideledger.rules.how_far import stands
from hideledger.rules.raw import last_pull
from hideledger.rules.slip_nearby import before_the_pull
from hideledger.rules.telling import TAGS, of_hide
from hideledger.rules.words import when_said
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife
from hideledger.shopfloor.noted import Test

HAIR = "hair comes loose"


def hair_comes_loose(_floor: Floor, horizon: Horizon) -> Iterable[Finding]:
    """Hair that lets go in a light pull is the first sign of slip: what is cold, salted or sour now may keep the rest of it."""
    for life in horizon.here:
        test = hair_that_came(life)
        if test is None:
            continue
        where = f" at {test.fact.where}" if test.fact.where else ""
        when = when_said(horizon.clock, test.when, horizon.at)
        if _at_the_door(life):
            said = "and nothing was done to it here yet"
            do = (
                "is it refused, or taken in at the customer's risk? Ask now, keep it cold till then, and write which: "
                f"`{TAGS} refused -- hair comes at the door`, or `{TAGS} waived {HAIR} -- taken in at the customer's risk`"
            )
            stood = "door"
        else:
            said = "and neither a good one nor a slip is written since"
            stood = stands(life).value
            first = before_the_pull(stands(life), act=True, waits=False)
            do = (
                f"{first} again, gently, at ears, brisket, belly and round every wound, and write what lets go: `{TAGS} slip, ears, 1 in`, "
                f"or where it holds after all `{TAGS} pull test ok`"
            )
        yield of_hide(
            life,
            name=HAIR,
            when="now",
            message=f"the pull test failed{where}, {when}, {said}",
            do=do,
            entry=test.entry,
            since=test.when.lo,
            cause=f"line {test.entry.order} {stood}",
        )


def hair_that_came(life: HideLife) -> Test | None:
    """The last pull of this very hide, where the hair came and no slip is written of it since; the slip then speaks for it."""
    test = last_pull(life, life.arrived_when.lo)
    if test is None or test.fact.passed:
        return None
    slips = [defect for defect in life.defects if defect.fact.defect == "slip"]
    if any(defect.entry is test.entry or defect.when.hi > test.when.lo for defect in slips):
        return None
    return test


def _at_the_door(life: HideLife) -> bool:
    """Whether nothing was done to it here yet: it can still be refused."""
    return all(mark.skipped or mark.elsewhere or mark.name == "in" for mark in life.marks)
