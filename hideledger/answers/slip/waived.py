"""Rules that were broken on a hide and answered with a reason: that quiets a finding, and heals no skin."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hideledger.rules.all_rules import ALL_RULES
from hideledger.rules.answering import Waiver, answered, reason_of, waivers
from hideledger.rules.finding import Finding
from hideledger.rules.horizon import look
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife


def waived_on(floor: Floor, life: HideLife) -> Iterator[Finding]:
    """What `check` no longer says of this hide since it was waived, on the hide or on a bath it lay in; with the reason."""
    baths = [stay.bath for stay in life.stays if stay.bath is not None]
    if not life.waived and not any(bath.waived for bath in baths):
        return
    known = waivers(floor)
    horizon = look(floor)
    for rule in ALL_RULES:
        for finding in rule.judge(floor, horizon):
            if life.tag not in finding.tags:
                continue
            left = answered(finding, known, floor)
            if left is None or life.tag not in left.tags:
                reason = _reason(finding, known)
                yield replace(finding, message=f"{finding.message}; waived: {reason}" if reason else finding.message)


def _reason(finding: Finding, known: dict[str, list[Waiver]]) -> str:
    reasons = [
        reason_of(waiver.entry)
        for tag in finding.tags
        for waiver in known.get(tag, ())
        if finding.name in waiver.names and reason_of(waiver.entry)
    ]
    return reasons[-1] if reasons else ""
