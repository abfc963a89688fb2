"""Pencilling in: orders that wait for something, each in the place it can keep behind the plan of the firm ones.

The firm plan stands: none of its minutes changes. In order of their dates each waiting order gets the latest place that
still keeps its date, beside those pencilled in before it (`model/pencil.py` seeks it under every rule). The moment at
which that place first needs the missing thing is its latest yes: a minute later the date is lost.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from time import monotonic

from scheduler.domain.latest_yes import LatestYes, Waiting
from scheduler.domain.plan import Pencilled, Plan
from scheduler.domain.week import Week
from scheduler.model.pencil import Place, Stop, latest_place

NOT_IN_TIME = "not worked out in the time there was"
NO_PLACE = "no place for it within the planned days"
OTHER_SCREENS = "needs more screens of a design than the firm orders that print from it"
AS_LATE = "pencilled in as late as keeps its date"
LATE_ANYWAY = "pencilled in where it is least late"


def joint_week(week: Week, full: Week, order_ids: Collection[str]) -> Week:
    """The week with these waiting orders in it, as if what they wait for were there.

    full: the week built as if nothing were missing. Firm orders, runs and screen sets are those of `week`.
    """
    own = [run for run in full.runs if run.order_id in order_ids and run.run_id not in week.run]
    known = {run.run_id for run in (*week.runs, *own)}
    mine = {order.order_id: order for order in full.orders if order.order_id in order_ids}
    sets = {run.set_id for run in own} - set(week.screen_set)
    fixed = {run.run_id for run in own}
    return replace(
        full,
        runs=(
            *week.runs,
            *(replace(run, print_after=tuple(one for one in run.print_after if one in known)) for run in own),
        ),
        orders=(*(mine.pop(order.order_id, order) for order in week.orders), *mine.values()),
        sets=(*week.sets, *(one for one in full.sets if one.set_id in sets)),
        fixings=(*week.fixings, *(one for one in full.fixings if one.run_id in fixed)),
        announced=(*week.announced, *(one for one in full.announced if one.run_id in fixed)),
        not_planned=tuple(one for one in week.not_planned if one.order_id not in order_ids),
    )


def pencil_in(
    week: Week,
    full: Week,
    plan: Plan,
    waiting: Sequence[Waiting],
    *,
    seconds: float | None = None,
    stop: Stop | None = None,
) -> Plan:
    """The plan with every waiting order that finds a place pencilled in, earliest date first.

    week: without the waiting orders; full: with all of them, as if what they wait for were there. seconds: for all of
    them together; None for however long it takes.
    """
    ends_at = None if seconds is None else monotonic() + seconds
    placed: list[tuple[Waiting, Place]] = []
    yes: list[LatestYes] = []
    for one in sorted(waiting, key=lambda one: _promised_tau(full, one.order_id) or full.horizon_tau):
        left_s = None if ends_at is None else ends_at - monotonic()
        why = _why_not(week, full, one)
        if not why and ((left_s is not None and left_s <= 0) or (stop is not None and stop())):
            why = NOT_IN_TIME
        place = None
        if not why:
            ids = [*(other.order_id for other, _ in placed), one.order_id]
            joint, standing = joint_week(week, full, ids), _with(plan, placed).with_pencilled
            try:
                place = latest_place(joint, standing, one, seconds=left_s, stop=stop)
                why = "" if place is not None else NO_PLACE
            except TimeoutError:
                why = NOT_IN_TIME
        yes.append(_answer(full, one, place, why))
        if place is not None:
            placed.append((one, place))
    return _with(plan, placed, yes)


def _with(plan: Plan, placed: Sequence[tuple[Waiting, Place]], yes: Sequence[LatestYes] = ()) -> Plan:
    runs = [replace(run, reason=LATE_ANYWAY if place.missed else AS_LATE) for _, place in placed for run in place.runs]
    pencilled = Pencilled(
        runs=tuple(runs),
        orders=tuple(place.order for _, place in placed),
        coat_batches=placed[-1][1].coat_batches if placed else (),
        yes=tuple(yes),
    )
    return replace(plan, pencilled=pencilled)


def _answer(full: Week, one: Waiting, place: Place | None, why: str) -> LatestYes:
    return LatestYes(
        order_id=one.order_id,
        latest_tau=None if place is None else place.latest_tau,
        promised_tau=_promised_tau(full, one.order_id),
        why=why,
        missed=0 if place is None else place.missed,
        is_proven=why != NOT_IN_TIME if place is None else place.is_proven,
    )


def _promised_tau(full: Week, order_id: str) -> int | None:
    order = full.order.get(order_id)
    return None if order is None else order.pickups_tau[order.must_leave]


def _why_not(week: Week, full: Week, one: Waiting) -> str:
    """Why an order cannot be pencilled in at all, in words; "" if it can be tried."""
    if one.order_id not in full.order:
        reasons = [reason for told in full.not_planned if told.order_id == one.order_id for reason in told.reasons]
        return "; ".join(reasons) or "it has no print to plan"
    for run in full.runs:
        if run.order_id == one.order_id and run.set_id is not None:
            known = week.screen_set.get(run.set_id)
            if known is not None and known.screen_ids != full.screen_set[run.set_id].screen_ids:
                return OTHER_SCREENS
    return ""
