"""Two lines of a process that nobody can keep both: a step due before the stay it counts from may end."""

from __future__ import annotations

from hideledger.model.moments import Length
from hideledger.model.process import Limits, Within
from hideledger.reading.define_steps import NameRef, StepDraft
from hideledger.reading.define_values import refuse


def keeps_both(step: StepDraft, within: Within, ref: NameRef, counted: StepDraft) -> None:
    """`within` counts from the line of a step. A step behind it ends its stay or run, so the limit must be longer than that lasts at least.

    Raises Unreadable, with both lines.
    """
    shortest, kind = _shortest(counted)
    if shortest is None or within.length.about_seconds >= shortest.about_seconds:
        return
    verb = "runs" if counted.said.fields.get("sort") == "run" else "stays"
    long = f"{verb} at least {shortest}{f' for {kind}' if kind else ''} ({counted.line.place.short})"
    message = (
        f"`{step.title}` within {within.length} of `{counted.title}` cannot be kept: the time counts from the line that put it into `{counted.title}`, "
        f"where it {long}; give a limit longer than {shortest}, or count from a step that comes after `{counted.title}`"
    )
    raise refuse("together", message, ref.node)


def _shortest(counted: StepDraft) -> tuple[Length | None, str]:
    """The least time of a stay or run, and the one kind it holds for where it is not the step's own."""
    own: Limits | None = counted.said.fields.get("limits")
    if own is not None and own.least is not None:
        return own.least, ""
    by_kind: tuple[tuple[str, Limits], ...] = counted.said.fields.get("limits_by_kind", ())
    found = [(limits.least, kind) for kind, limits in by_kind if limits.least is not None]
    return max(found, key=lambda one: one[0].about_seconds, default=(None, ""))
