"""All rules, in the order in which findings of equal weight are told. A new one is put in here."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

from hideledger.rules.bath_thin import left_out_of_the_recipe, too_little_salt
from hideledger.rules.bathempty import wrong_before_the_next_skins
from hideledger.rules.bathnow import out_of_range_now
from hideledger.rules.bathrecord import reading_missed, reading_out_of_range, stir_missed
from hideledger.rules.bathwatch import reading_due, stir_due
from hideledger.rules.capacity import vessel_over_full
from hideledger.rules.company import kept_together
from hideledger.rules.drift import bath_leaves_its_range
from hideledger.rules.drum import drum_standing_loaded, no_off_written, run_complete_no_cut, run_ends_after_closing
from hideledger.rules.finding import Finding
from hideledger.rules.gas import gas_that_kills
from hideledger.rules.gauge import no_vent_written, pressure_falling, pressure_over_the_limit
from hideledger.rules.hair import hair_comes_loose
from hideledger.rules.horizon import Horizon
from hideledger.rules.kinds import unknown_kind
from hideledger.rules.late import started_late
from hideledger.rules.legaltag import one_legal_tag_twice
from hideledger.rules.lettinggo import bath_worn_out
from hideledger.rules.lines import (
    after_it_was_out,
    before_it_was_mixed,
    count_differs,
    dated_ahead,
    dated_back,
    nobody_in_it,
    unknown_tag,
)
from hideledger.rules.missing import not_recorded
from hideledger.rules.names import two_names_alike
from hideledger.rules.onetag import one_tag_two_things
from hideledger.rules.order import out_of_order, wet_salted_into_the_freezer
from hideledger.rules.overdue import due, overdue
from hideledger.rules.promise import promise_at_risk, promise_missed
from hideledger.rules.quiet import gone_quiet, nobody_wrote
from hideledger.rules.raw import raw_clock_due, raw_too_long
from hideledger.rules.sewer import (
    dumped_above_the_sewer_limit,
    dumped_below_the_sewer_limit,
    dumped_outside_the_sewer,
    more_let_go_than_it_held,
    not_said_how_it_went,
)
from hideledger.rules.shrunk import shrinks_too_soon
from hideledger.rules.slip_nearby import slip_nearby
from hideledger.rules.stockroom import lot_past_its_date, stock_short
from hideledger.rules.times import came_out_early, stayed_too_long
from hideledger.rules.twice import in_it_still, twice_the_same
from hideledger.rules.unexplained import reading_not_explained
from hideledger.rules.unsaid import no_process, no_reason_given, no_time_written, no_zone, unknown_supply
from hideledger.rules.unwritten import arrival_not_read, no_bath_written
from hideledger.rules.vessels import in_two_places, two_baths_in_one_vessel
from hideledger.shopfloor.floor import Floor


class Rule(NamedTuple):
    """One rule: the plain words of its findings, and what looks for them; its docstring begins with a fact."""

    name: str
    judge: Callable[[Floor, Horizon], Iterable[Finding]]


ALL_RULES: tuple[Rule, ...] = (
    # What runs now
    Rule("gas that kills", gas_that_kills),
    Rule("too little salt", too_little_salt),
    Rule("pressure over the vessel's limit", pressure_over_the_limit),
    Rule("pressure falling", pressure_falling),
    Rule("overdue", overdue),
    Rule("no bath written", no_bath_written),
    Rule("arrival not read", arrival_not_read),
    Rule("raw too long", raw_too_long),
    Rule("drum standing loaded", drum_standing_loaded),
    Rule("stayed too long", stayed_too_long),
    Rule("out of range now", out_of_range_now),
    Rule("hair comes loose", hair_comes_loose),
    Rule("slip nearby", slip_nearby),
    Rule("kept together", kept_together),
    Rule("wet salted into the freezer", wet_salted_into_the_freezer),
    Rule("reading due", reading_due),
    Rule("stir due", stir_due),
    Rule("due", due),
    Rule("due", raw_clock_due),
    Rule("due", bath_leaves_its_range),
    Rule("due", wrong_before_the_next_skins),
    Rule("run ends after closing", run_ends_after_closing),
    Rule("run complete without a cut", run_complete_no_cut),
    Rule("nobody wrote", nobody_wrote),
    Rule("gone quiet", gone_quiet),
    Rule("promise missed", promise_missed),
    Rule("promise at risk", promise_at_risk),
    Rule("stock short", stock_short),
    # The page
    Rule("unknown tag", unknown_tag),
    Rule("after it was out", after_it_was_out),
    Rule("dated ahead", dated_ahead),
    Rule("dated back", dated_back),
    Rule("dumped outside the sewer", dumped_outside_the_sewer),
    Rule("dumped below the sewer limit", dumped_below_the_sewer_limit),
    Rule("dumped above the sewer limit", dumped_above_the_sewer_limit),
    # The record
    Rule("vessel over full", vessel_over_full),
    Rule("out of order", out_of_order),
    Rule("not recorded", not_recorded),
    Rule("not recorded", not_said_how_it_went),
    Rule("more let go than it held", more_let_go_than_it_held),
    Rule("not recorded", in_it_still),
    Rule("came out early", came_out_early),
    Rule("started late", started_late),
    Rule("reading out of range", reading_out_of_range),
    Rule("left out of the recipe", left_out_of_the_recipe),
    Rule("reading not explained", reading_not_explained),
    Rule("shrinks too soon", shrinks_too_soon),
    Rule("reading missed", reading_missed),
    Rule("stir missed", stir_missed),
    Rule("in two places", in_two_places),
    Rule("two baths in one vessel", two_baths_in_one_vessel),
    Rule("bath worn out", bath_worn_out),
    Rule("lot past its date", lot_past_its_date),
    Rule("no off written", no_off_written),
    Rule("no vent written", no_vent_written),
    Rule("twice the same", twice_the_same),
    Rule("one tag for two things", one_tag_two_things),
    Rule("one legal tag twice", one_legal_tag_twice),
    Rule("nobody in it", nobody_in_it),
    Rule("before it was mixed", before_it_was_mixed),
    Rule("count differs", count_differs),
    Rule("two names alike", two_names_alike),
    Rule("unknown kind", unknown_kind),
    Rule("no process", no_process),
    Rule("no zone", no_zone),
    Rule("unknown supply", unknown_supply),
    Rule("no time written", no_time_written),
    Rule("no reason given", no_reason_given),
)
