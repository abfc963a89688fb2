"""Hold the model to a hand-made plan and expect it allowed, or refused by a named rule alone."""

from __future__ import annotations

from collections.abc import Callable

from ortools.sat.python import cp_model

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.model.build import CONSTRAINTS, TERMS, BuiltModel
from scheduler.model.context import ModelContext
from scheduler.model.make_variables import make_variables
from scheduler.model.pin import pin
from scheduler.model.scope import Scope
from scheduler.model.variables import total

Rule = Callable[[ModelContext], None]


def built_without(week: Week, *left_out: Rule) -> BuiltModel:
    """The whole week as a model, but for some rules."""
    model, scope = cp_model.CpModel(), Scope(week)
    ctx = ModelContext(model=model, week=week, scope=scope, vars=make_variables(model, week, scope))
    for constrain in CONSTRAINTS:
        if constrain not in left_out:
            constrain(ctx)
    terms = {term.__name__: term(ctx) for term in TERMS}
    model.minimize(total(terms.values()))
    return BuiltModel(ctx=ctx, terms=terms)


def terms_cents(week: Week, plan: Plan, *left_out: Rule) -> dict[str, int] | None:
    """The model's cost of a plan, term by term; None if the rules that are left refuse it."""
    built = built_without(week, *left_out)
    pin(built, plan)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    if solver.solve(built.ctx.model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    return {name: solver.value(term) for name, term in built.terms.items()}


def allowed(week: Week, plan: Plan) -> None:
    """Every rule of the model lets this plan through."""
    assert terms_cents(week, plan) is not None


def refused(by: Rule, week: Week, plan: Plan, *also: Rule) -> None:
    """The plan has no solution, and has one as soon as `by` (and what says the same, `also`) is left out."""
    assert terms_cents(week, plan, *also) is None
    assert terms_cents(week, plan, by, *also) is not None
