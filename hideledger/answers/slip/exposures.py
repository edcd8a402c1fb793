"""What the skins of a season met with, from the book alone, and which of it goes with the slip."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from hideledger.answers.slip.compare import Compared, Exposure, Look, Outcomes, compare
from hideledger.answers.slip.held import held_so_far
from hideledger.answers.slip.met_baths import baths_and_lots
from hideledger.answers.slip.met_care import kept, rules_broken
from hideledger.answers.slip.met_hide import brought_in, hands, raw_hours
from hideledger.answers.slip.of_step import OfStep, among_those_that_came_to, step_of
from hideledger.answers.slip.outcomes import NOT_YET, Fate, fates
from hideledger.answers.slip.strata import Standing, Within, leading_among, ordered, set_apart, within, within_others
from hideledger.answers.slip.tally import Tally
from hideledger.shopfloor.floor import Floor
from hideledger.shopfloor.life import HideLife


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """Every skin of a stretch of time with what became of it, what it met, and how the two go together.

    An exposure names skins by their place in `fates`; `look` ranks the exposures, and `within` sets like beside like, and `standing` says what of
    that leads.
    """

    floor: Floor  # as it stood
    defect: str
    step: OfStep | None
    fates: tuple[Fate, ...]
    exposures: tuple[Exposure, ...]
    look: Look
    within: tuple[Within, ...]
    standing: Standing

    def those(self, end: str) -> tuple[Fate, ...]:
        """The skins that ended so: one of the words of `outcomes` (SLIPPED, THROUGH …)."""
        return tuple(fate for fate in self.fates if fate.end == end)

    @property
    def by_name(self) -> dict[str, Compared]:
        """Each comparison by the names of what was met."""
        return {exposure.name: one for one in self.look.found for exposure in (one.exposure, *one.same)}

    @property
    def counted(self) -> tuple[Fate, ...]:
        """Those whose outcome is known."""
        return tuple(fate for fate in self.fates if fate.counts)

    def waiting(self, one: Compared) -> tuple[HideLife, ...]:
        """Who met it and has no outcome yet."""
        met = (self.fates[index] for index in sorted(one.exposure.met))
        return tuple(fate.life for fate in met if fate.end == NOT_YET)


def season(floor: Floor, defect: str = "slip", *, first: int | None = None, last: int | None = None) -> Season:
    """The look at a stretch of time: skins that came in from day `first` to day `last` (ordinals; None: no end)."""
    ends = fates(floor, defect, first=first, last=last)
    step = step_of(defect, ends)
    ends = held_so_far(floor, ends) if step is None else among_those_that_came_to(floor, step, ends)
    exposures = exposures_of(floor, ends)
    outcomes = outcomes_of(ends)
    look = compare(outcomes, exposures)
    look = replace(look, found=ordered(look.found, outcomes))
    return Season(
        floor=floor,
        defect=defect,
        step=step,
        fates=ends,
        exposures=tuple(exposures),
        look=look,
        within=within_others(look, outcomes),
        standing=set_apart(look, outcomes),
    )


def only_along(season: Season, met: Sequence[Compared]) -> frozenset[str]:
    """Of what one skin met: the names of what only travels along, set apart as the season does it.

    What leads in the season leads here; what cannot be told apart from it stays beside it. Where the skin met nothing that
    leads, what it met is set apart among itself.
    """
    outcomes = outcomes_of(season.fates)
    own = [one for one in season.standing.leading if any(one is met_one for met_one in met)]
    standing = season.standing if own else leading_among(met, outcomes)
    kept = [*standing.leading, *(look.one for look in standing.tied)]
    gone = [look.one for look in standing.along]
    gone += [one for one in met if any(within(one, leader, outcomes).vanishes for leader in own)]
    return frozenset(
        exposure.name
        for one in gone
        if not any(one is other for other in kept)
        for exposure in (one.exposure, *one.same)
    )


def outcomes_of(ends: tuple[Fate, ...]) -> Outcomes:
    """Who slipped, and of whom it is known and the shop's."""
    return Outcomes(
        hit=frozenset(index for index, fate in enumerate(ends) if fate.hit),
        counted=frozenset(index for index, fate in enumerate(ends) if fate.counts),
    )


def exposures_of(floor: Floor, ends: tuple[Fate, ...]) -> list[Exposure]:
    """Everything that these skins met with, as far as the book tells, each before the first sign on the skin."""
    tally = Tally(ends)
    baths_and_lots(floor, tally)
    brought_in(tally)
    raw_hours(tally)
    hands(tally)
    kept(floor, tally)
    rules_broken(floor, tally)
    return tally.exposures()
