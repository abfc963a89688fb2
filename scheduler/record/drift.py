"""How far the floor is from the announced plan, at once: presses ahead or behind, and the orders that endangers.

The announced order is kept and everything moves right as far as it must (no search); what it comes to is read off.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.papers.text import Line, Section
from scheduler.papers.words import LATE_MARK, counted, day_and_time, minutes
from scheduler.record.kept import kept
from scheduler.record.standing import StandsNow
from scheduler.review.hours import open_min, open_windows

NOTICED_MIN = 5
"""Minutes ahead or behind that are told; less is as planned. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PressDrift:
    """A press and the run it has, or has next. behind_min: open minutes later than announced; below 0: ahead."""

    press_id: str
    name: str
    run_id: str
    is_going: bool
    announced_end: datetime
    end: datetime
    behind_min: int
    stopped_why: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderDrift:
    """An order that gets later than announced. is_late: misses the pick-up it was to keep."""

    order_id: str
    client: str
    announced: datetime
    ready: datetime
    must_leave: datetime
    is_late: bool
    is_close: bool

    @property
    def later_min(self) -> int:
        """Wall minutes later than announced."""
        return int((self.ready - self.announced) / timedelta(minutes=1))


@dataclass(frozen=True, kw_only=True)
class Drift:
    """Presses, and orders that are in danger through what happened. plan None: the announced order cannot be kept."""

    now: datetime
    presses: tuple[PressDrift, ...]
    orders: tuple[OrderDrift, ...]
    plan: Plan | None

    @property
    def endangered(self) -> tuple[OrderDrift, ...]:
        """Orders that would miss the pick-up they were to keep, most late first."""
        late = [one for one in self.orders if one.is_late]
        return tuple(sorted(late, key=lambda one: (one.must_leave - one.ready, one.order_id)))


def drift(stands: StandsNow, week: Week, plan: Plan) -> Drift:
    """What the week as it stands differs by from the announced plan of `week`."""
    held = kept(stands.week, plan)
    if held is None:
        return Drift(now=stands.now, presses=(), orders=(), plan=None)
    now_plan = held[1]
    presses = [_press_drift(stands, week, plan, now_plan, press.press_id) for press in stands.week.presses]
    orders = [_order_drift(stands, week, plan, now_plan, one.order_id) for one in stands.week.orders]
    return Drift(
        now=stands.now,
        presses=tuple(one for one in presses if one is not None),
        orders=tuple(one for one in orders if one is not None),
        plan=now_plan,
    )


def _press_drift(stands: StandsNow, week: Week, plan: Plan, now_plan: Plan, press_id: str) -> PressDrift | None:
    """The run a press has, else the next one it was to have."""
    one = next((one for one in now_plan.queue.get(press_id, ()) if one.run_id in plan.run), None)
    if one is None:
        return None
    run = stands.runs[one.run_id]
    was = plan.run[one.run_id]
    announced_end = week.clock.ends_at(was.print_end_tau)
    end = stands.week.clock.ends_at(one.print_end_tau)
    return PressDrift(
        press_id=press_id,
        name=stands.week.press[press_id].name,
        run_id=one.run_id,
        is_going=run.is_going,
        announced_end=announced_end,
        end=end,
        behind_min=_open_min_between(stands.week, now_plan, week, plan, press_id, announced_end, end),
        stopped_why=run.stopped_why,
    )


def _open_min_between(
    now_week: Week, now_plan: Plan, week: Week, plan: Plan, press_id: str, announced: datetime, end: datetime
) -> int:
    """Open press minutes from the announced end to the expected one, below 0 where it is sooner."""
    windows = open_windows(week.press[press_id].calendar, plan)
    sooner, later = sorted((week.clock.tau_of(announced), week.clock.tau_of(end)))
    found = open_min(windows, sooner, later)
    if not found and announced != end:  # over the end of the announced plan's days, or in hours bought since
        windows = open_windows(now_week.press[press_id].calendar, now_plan)
        found = open_min(windows, *sorted((now_week.clock.tau_of(announced), now_week.clock.tau_of(end))))
    return found if end >= announced else -found


def _order_drift(stands: StandsNow, week: Week, plan: Plan, now_plan: Plan, order_id: str) -> OrderDrift | None:
    """An order that is packed later than announced; None for the others."""
    if order_id not in plan.order or order_id not in now_plan.order or order_id not in week.order:
        return None
    due, was_due = stands.week.order[order_id], week.order[order_id]
    packed_tau = now_plan.order[order_id].packed_tau
    announced = week.clock.ends_at(plan.order[order_id].packed_tau)
    ready = stands.week.clock.ends_at(packed_tau)
    if ready <= announced:
        return None
    pickup_tau = next(
        (tau for tau in was_due.pickups_tau[was_due.must_leave :] if tau >= plan.order[order_id].packed_tau),
        was_due.pickups_tau[-1],
    )
    kept_pickup = week.clock.ends_at(pickup_tau)
    limit_tau = stands.week.clock.tau_of(kept_pickup)
    return OrderDrift(
        order_id=order_id,
        client=due.client,
        announced=announced,
        ready=ready,
        must_leave=kept_pickup,
        is_late=packed_tau > limit_tau,
        is_close=limit_tau - due.cushion_min < packed_tau <= limit_tau,
    )


def opening(found: Drift) -> str:
    """Where the floor stands, in one sentence."""
    if found.plan is None:
        return "The announced order cannot be kept any more: plan again."
    late = found.endangered
    behind = [one for one in found.presses if one.behind_min >= NOTICED_MIN]
    ahead = [one for one in found.presses if one.behind_min <= -NOTICED_MIN]
    if late:
        more = f" and {counted(len(late) - 1, 'more order')}" if len(late) > 1 else ""
        return (
            f"{LATE_MARK} {late[0].order_id}{more} would miss the pick-up that was announced: "
            f"ready {day_and_time(late[0].ready)}, pick-up {day_and_time(late[0].must_leave)}. Plan again."
        )
    if behind:
        worst = max(behind, key=lambda one: one.behind_min)
        return f"{worst.name} is {minutes(worst.behind_min)} behind; every announced pick-up is still kept."
    if ahead:
        best = min(ahead, key=lambda one: one.behind_min)
        return f"{best.name} is {minutes(-best.behind_min)} ahead; every announced pick-up is kept."
    return "The floor is where the plan said it would be."


def sections(found: Drift) -> tuple[Section, ...]:
    """Press by press, and the orders that got later."""
    if found.plan is None:
        return ()
    told = [
        Section(
            title="Presses against the announced plan",
            headings=("Press", "run", "was to end", "ends now", "is"),
            lines=tuple(_press_line(one) for one in found.presses),
        )
    ]
    later = sorted(found.orders, key=lambda one: (not one.is_late, not one.is_close, -one.later_min))
    shown = [one for one in later if one.is_late or one.is_close or one.later_min >= NOTICED_MIN]
    if shown:
        told.append(
            Section(
                title="Orders that get later",
                headings=("Order", "client", "announced", "ready now", "pick-up", ""),
                lines=tuple(_order_line(one) for one in shown),
            )
        )
    return tuple(told)


def press_words(one: PressDrift) -> str:
    """Ahead, behind, or as planned."""
    stands = f"stands: {one.stopped_why}" if one.stopped_why else ""
    if abs(one.behind_min) < NOTICED_MIN:
        return stands or "as planned"
    moved = f"{minutes(abs(one.behind_min))} {'behind' if one.behind_min > 0 else 'ahead'}"
    return f"{moved}; {stands}" if stands else moved


def order_words(one: OrderDrift) -> str:
    """What being later means for an order."""
    if one.is_late:
        return f"{LATE_MARK} late: misses its pick-up"
    return "little room left" if one.is_close else f"{minutes(one.later_min)} later, in time"


def _press_line(one: PressDrift) -> Line:
    return Line(cells=(one.name, one.run_id, day_and_time(one.announced_end), day_and_time(one.end), press_words(one)))


def _order_line(one: OrderDrift) -> Line:
    return Line(
        cells=(
            one.order_id,
            one.client,
            day_and_time(one.announced),
            day_and_time(one.ready),
            day_and_time(one.must_leave),
            order_words(one),
        )
    )
