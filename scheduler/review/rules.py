"""The table of every rule a plan must keep, in reading order, and the check of a plan against all of them."""

from __future__ import annotations

from collections.abc import Callable

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.review.dryer_rules import dryer_setting_is_shared, setting_settles
from scheduler.review.frame_rules import (
    clean_frames_last,
    coated_screens_last,
    coating_has_places,
    reclaim_after_counted,
)
from scheduler.review.order_rules import (
    blanks_are_there,
    every_run_once,
    finishing_ends_last,
    leaves_by_a_pick_up,
    lot_is_in_one_place,
    print_after_is_kept,
    what_is_fixed_stays,
)
from scheduler.review.people_rules import inside_open_hours, overtime_is_nested, people_suffice
from scheduler.review.press_rules import (
    belt_is_shared,
    fits_its_press,
    flash_units_suffice,
    ink_may_not_stand,
    one_run_at_a_time,
    print_follows_set_up,
    print_takes_its_time,
    rinsed_before_long_stops,
    staged_before_set_up,
)
from scheduler.review.screen_rules import (
    exposure_units_suffice,
    rack_has_room,
    screens_stand_ready,
    set_is_in_one_place,
)
from scheduler.review.set_up_rules import set_up_follows_the_run_before
from scheduler.review.station_rules import station_after_print, station_before_print, station_has_room
from scheduler.review.violation import Violation

Rule = Callable[[Week, Plan], list[Violation]]

RULES: tuple[Rule, ...] = (
    # Presses
    one_run_at_a_time,
    staged_before_set_up,
    fits_its_press,
    print_takes_its_time,
    set_up_follows_the_run_before,
    print_follows_set_up,
    ink_may_not_stand,
    rinsed_before_long_stops,
    flash_units_suffice,
    # Cure
    belt_is_shared,
    dryer_setting_is_shared,
    setting_settles,
    # Screen room
    screens_stand_ready,
    exposure_units_suffice,
    rack_has_room,
    coating_has_places,
    coated_screens_last,
    clean_frames_last,
    reclaim_after_counted,
    set_is_in_one_place,
    # People and hours
    people_suffice,
    inside_open_hours,
    overtime_is_nested,
    # Orders
    lot_is_in_one_place,
    print_after_is_kept,
    blanks_are_there,
    station_before_print,
    station_after_print,
    station_has_room,
    finishing_ends_last,
    leaves_by_a_pick_up,
    what_is_fixed_stays,
    # Nothing left out
    every_run_once,
)
"""Every rule, in the order in which a plan is read. Each tells all its violations and survives any plan."""


def check(week: Week, plan: Plan) -> tuple[Violation, ...]:
    """Every violation of every rule; empty for a plan that can be kept."""
    return tuple(violation for rule in RULES for violation in rule(week, plan))
