"""The model's table of contents: every rule and every cost term, in reading order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.model import objective
from scheduler.model.calendar_rules import inside_open_hours, overtime_is_nested
from scheduler.model.context import ModelContext
from scheduler.model.dryer_rules import dryer_setting_is_shared, setting_settles
from scheduler.model.make_variables import make_variables
from scheduler.model.order_rules import (
    blanks_are_there,
    finishing_ends_last,
    leaves_by_a_pick_up,
    lot_is_in_one_place,
    print_after_is_kept,
    what_is_fixed_stays,
)
from scheduler.model.people_rules import people_suffice
from scheduler.model.press_rules import (
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
from scheduler.model.scope import Scope, scope_of
from scheduler.model.screen_rules import (
    clean_frames_last,
    coated_screens_last,
    coating_has_places,
    exposure_units_suffice,
    rack_has_room,
    reclaim_after_counted,
    screens_stand_ready,
    set_is_in_one_place,
)
from scheduler.model.set_up_rules import set_up_follows_the_run_before
from scheduler.model.station_rules import station_after_print, station_before_print, station_has_room
from scheduler.model.strengthen import CUTS
from scheduler.model.variables import Expr, total

CONSTRAINTS: tuple[Callable[[ModelContext], None], ...] = (
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
)
"""Every rule, in the order in which a plan is read. That every run is planned once is how the variables are made."""

TERMS: tuple[Callable[[ModelContext], Expr], ...] = (
    objective.late,
    objective.cushion,
    objective.overtime,
    objective.set_up,
    objective.printing,
    objective.burns,
    objective.ahead,
    objective.moves,
)
"""Every term of the cost, in integer cents."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltModel:
    """A model ready to be solved, with each cost term by name."""

    ctx: ModelContext
    terms: dict[str, Expr]


def ruled(week: Week, scope: Scope) -> ModelContext:
    """The week as far as the scope leaves it open, with every rule and nothing to aim at."""
    model = cp_model.CpModel()
    ctx = ModelContext(model=model, week=week, scope=scope, vars=make_variables(model, week, scope))
    for constrain in (*CONSTRAINTS, *CUTS):
        constrain(ctx)
    return ctx


def build_model(week: Week, free: frozenset[str] | None = None, incumbent: Plan | None = None) -> BuiltModel:
    """The week as a model: its solutions are the plans that keep every rule, its objective their cost.

    free None: everything is open. Else only these runs, and what hangs on them, may leave their place in `incumbent`;
    see `scope.LocalScope`. Raises ValueError for `free` without `incumbent`.
    """
    ctx = ruled(week, scope_of(week, free, incumbent))
    model = ctx.model
    terms = {term.__name__: term(ctx) for term in TERMS}
    model.minimize(total(terms.values()))
    return BuiltModel(ctx=ctx, terms=terms)
