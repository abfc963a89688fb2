"""Two plans side by side in the figures a planner asks for, and what moves between them."""

from __future__ import annotations

from dashboard.parts.words import counted, moment, money
from dashboard.state import Current
from scheduler import api
from scheduler.domain.plan import PlannedRun
from scheduler.domain.week import Week

TERMS = {
    "late": "late days",
    "cushion": "packed close to the pick-up",
    "overtime": "overtime",
    "set_up": "set-up and ink clean-up",
    "printing": "printing where it takes more hands or hours",
    "burns": "screens burned",
    "ahead": "screens not ready ahead",
    "moves": "announced runs moved",
}

Row = dict[str, str]


def opening(old: Current, new: Current) -> str:
    """What changes, in one sentence."""
    beside = _beside(old, new)
    change = beside.b.cost.total - beside.a.cost.total
    currency = new.inputs.shop.money.currency
    cost = f"costs {money(abs(change), currency)} {'less' if change < 0 else 'more'}" if change else "costs the same"
    late = len(beside.b.late_orders) - len(beside.a.late_orders)
    who = f"{counted(abs(late), 'order')} {'fewer' if late < 0 else 'more'} late" if late else "as many orders late"
    moved = [one for one in beside.moved_runs if one.a is not None and one.b is not None]
    return f"The new plan {cost}, with {who}; {counted(len(moved), 'run')} {'moves' if len(moved) == 1 else 'move'}."


def figures(old: Current | None, new: Current) -> list[Row]:
    """The rows of the table: what, in use now, new."""
    told = []
    for label, of_old, of_new in zip(LABELS, _figures(old), _figures(new), strict=True):
        told.append({"": label, **({"in use now": of_old} if old is not None else {}), "new": of_new})
    return told


LABELS = (
    "Orders that miss their date",
    "Worst miss, in pick-ups",
    "Runs planned",
    "Orders not planned",
    "Last press stops",
    "Set-ups",
    "Screens burned",
    "Overtime",
    *(f"Money: {name}" for name in TERMS.values()),
    "Money: together",
)


def _figures(seen: Current | None) -> list[str]:
    if seen is None or seen.plan is None or seen.measures is None:
        return [""] * len(LABELS)
    found, week, currency = seen.measures, seen.week, seen.inputs.shop.money.currency
    last = max((planned.print_end_tau for planned in seen.plan.runs), default=None)
    terms = found.cost.terms
    return [
        str(len(found.late_orders)),
        str(max((one.pickups_missed for one in found.late_orders), default=0)),
        str(len(seen.plan.runs)),
        str(len({one.order_id for one in week.not_planned})),
        "none" if last is None else moment(week.clock.ends_at(last)),
        str(found.set_ups),
        str(found.screens_burned),
        counted(found.overtime_min, "minute"),
        *(money(terms.get(name, 0), currency) for name in TERMS),
        money(found.cost.total, currency),
    ]


def late_rows(old: Current, new: Current) -> list[Row]:
    """Orders late in either plan."""
    clients = {**old.clients, **new.clients}

    def told(missed: int | None) -> str:
        if missed is None:
            return "not in it"
        return f"▲ LATE, {counted(missed, 'pick-up')} missed" if missed else "on time"

    return [
        {
            "order": one.order_id,
            "client": clients.get(one.order_id, ""),
            "in use now": told(one.a_missed),
            "new": told(one.b_missed),
        }
        for one in _beside(old, new).late_orders
    ]


def moved_rows(old: Current, new: Current) -> list[Row]:
    """Runs on another press or at another time, or in one plan only."""
    return [
        {"run": one.run_id, "in use now": _where(old.week, one.a), "new": _where(new.week, one.b)}
        for one in _beside(old, new).moved_runs
    ]


def _where(week: Week, planned: PlannedRun | None) -> str:
    if planned is None:
        return "not in it"
    press = week.press.get(planned.press_id)
    return f"{press.name if press else planned.press_id}, {moment(week.clock.starts_at(planned.set_up_start_tau))}"


def _beside(old: Current, new: Current) -> api.Comparison:
    assert old.plan is not None
    assert new.plan is not None
    return api.compare(old.week, old.plan, new.plan, new_week=new.week)
