"""What a plan costs and how it stands, recomputed from the plan alone."""

from __future__ import annotations

from dataclasses import dataclass, fields

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import OrderDue, PressLine, Week
from scheduler.review.hours import long_stops, open_min, open_windows, stops_inside
from scheduler.review.set_up_rules import replayed
from scheduler.review.uses import Use, all_uses


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """A plan's cost in integer cents, term by term."""

    late: int
    cushion: int
    overtime: int
    set_up: int
    printing: int
    burns: int
    ahead: int
    moves: int

    @property
    def total(self) -> int:
        """All terms together."""
        return sum(self.terms.values())

    @property
    def terms(self) -> dict[str, int]:
        """Cents by term, in reading order."""
        return {field.name: getattr(self, field.name) for field in fields(self)}


@dataclass(frozen=True, slots=True, kw_only=True)
class LateOrder:
    """An order that misses the pick-up it must leave by, and how many pick-up days it misses."""

    order_id: str
    packed_tau: int
    must_leave_tau: int
    pickups_missed: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PressUse:
    """Minutes of one press: worked in set-ups, worked printing (rinsing out and restarts included), and standing closed
    with a run on it (wall minutes, nights included). finish_tau: end of its last print, 0 without any.
    """

    press_id: str
    set_up_min: int
    print_min: int
    paused_min: int
    finish_tau: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """A plan in figures.

    ink_loads: heads filled with an ink. set_ups: runs whose set-up takes time. reburns: sets burned again after a
    reclaim. overtime_min: minutes of bought blocks. finish_tau: the last print or packing ends.
    """

    cost: Cost
    late_orders: tuple[LateOrder, ...]
    ink_loads: int
    set_ups: int
    screens_burned: int
    reburns: int
    overtime_min: int
    presses: tuple[PressUse, ...]
    finish_tau: int


def measure(week: Week, plan: Plan) -> Measures:
    """Every figure of a plan; what it names that the week does not know counts nothing."""
    burned = [use for use in all_uses(week, plan) if use.planned.burn is not None]
    ends = [planned.print_end_tau for planned in plan.runs] + [packed.packed_tau for packed in plan.orders]
    return Measures(
        cost=cost(week, plan),
        late_orders=late_orders(week, plan),
        ink_loads=sum(seen.loads for seen in replayed(week, plan)),
        set_ups=sum(planned.set_up_min > 0 for planned in plan.runs),
        screens_burned=_screens_in(burned),
        reburns=sum(not use.is_first for use in burned),
        overtime_min=sum(block.end_tau - block.start_tau for block in week.overtime if block.block_id in plan.overtime),
        presses=tuple(_press_use(press, plan) for press in week.presses),
        finish_tau=max(ends, default=0),
    )


def late_orders(week: Week, plan: Plan) -> tuple[LateOrder, ...]:
    """Orders packed after the pick-up they must leave by, in the week's order."""
    found = []
    for order in week.orders:
        packed = plan.order.get(order.order_id)
        missed = pickups_missed(order, packed.packed_tau) if packed else 0
        if packed is not None and missed:
            found.append(
                LateOrder(
                    order_id=order.order_id,
                    packed_tau=packed.packed_tau,
                    must_leave_tau=order.pickups_tau[order.must_leave],
                    pickups_missed=missed,
                )
            )
    return tuple(found)


def pickups_missed(order: OrderDue, packed_tau: int) -> int:
    """Pick-ups from the promised one on that leave before the order is packed."""
    return sum(pickup < packed_tau for pickup in order.pickups_tau[order.must_leave :])


def cost(week: Week, plan: Plan) -> Cost:
    """What the plan costs the shop, in integer cents."""
    packed = [(week.order[one.order_id], one.packed_tau) for one in plan.order.values() if one.order_id in week.order]
    burned = [use for use in all_uses(week, plan) if use.planned.burn is not None]
    return Cost(
        late=sum(order.late_cents * pickups_missed(order, tau) for order, tau in packed),
        cushion=sum(
            order.cushion_cents
            for order, tau in packed
            if tau > order.pickups_tau[order.must_leave] - order.cushion_min
        ),
        overtime=sum(block.price_cents for block in week.overtime if block.block_id in plan.overtime),
        set_up=sum(_set_up_cents(week, plan, planned) for planned in plan.runs),
        printing=sum(_print_cents(week, planned) for planned in plan.runs),
        burns=_screens_in(burned) * (week.screen_room.burn_cents_per_screen if week.screen_room else 0),
        ahead=sum(_not_ahead_cents(week, use.planned) for use in burned),
        moves=week.prices.move_cents * sum(is_moved(week, run_id, plan) for run_id in plan.run),
    )


def _screens_in(uses: list[Use]) -> int:
    """Screens of these uses' sets together."""
    return sum(use.screens.screen_count for use in uses)


def _not_ahead_cents(week: Week, planned: PlannedRun) -> int:
    """Minutes by which a burned set stands ready later than the shop wants it before its set-up, in money."""
    if week.screen_room is None or planned.burn is None:
        return 0
    stands_min = planned.set_up_start_tau - planned.burn.tape_end_tau
    return max(0, week.screen_room.ahead_min - stands_min) * week.screen_room.not_ahead_cents_per_min


def _set_up_cents(week: Week, plan: Plan, planned: PlannedRun) -> int:
    """Set-up and rinsing out, rinsing and inking for long stops included, in money."""
    run, press = week.run.get(planned.run_id), week.press.get(planned.press_id)
    choice = run.on_press.get(planned.press_id) if run else None
    if press is None or choice is None:
        return 0
    windows, limit_min = open_windows(press.prints_in, plan), week.run[planned.run_id].idle_ok_min
    stops = len(long_stops(windows, limit_min, planned.print_start_tau, planned.print_end_tau))
    return (planned.set_up_min + choice.wash_up_min + stops * choice.long_stop_min) * press.set_up_cents_per_min


def _print_cents(week: Week, planned: PlannedRun) -> int:
    """What the print crew costs beyond its cost on the run's cheapest press, as the run is printed."""
    run = week.run.get(planned.run_id)
    choice = run.on_press.get(planned.press_id) if run else None
    in_way = choice.in_way(planned.way) if choice else None
    return in_way.print_cents if in_way else 0


def is_moved(week: Week, run_id: str, plan: Plan) -> bool:
    """True for an announced run, not fixed, on another press or further from its time than is free."""
    told = next((one for one in week.announced if one.run_id == run_id), None)
    planned = plan.run.get(run_id)
    if told is None or planned is None or run_id in week.fixing:
        return False
    shift = abs(planned.set_up_start_tau - told.set_up_start_tau)
    return planned.press_id != told.press_id or shift > week.prices.move_free_min


def _press_use(press: PressLine, plan: Plan) -> PressUse:
    queue, windows = plan.queue.get(press.press_id, ()), open_windows(press.calendar, plan)
    prints = open_windows(press.prints_in, plan)
    return PressUse(
        press_id=press.press_id,
        set_up_min=sum(planned.set_up_min for planned in queue),
        print_min=sum(open_min(prints, planned.print_start_tau, planned.print_end_tau) for planned in queue),
        paused_min=sum(
            window.stop_before_min
            for planned in queue
            for window in stops_inside(windows, planned.set_up_start_tau, planned.print_end_tau)
        ),
        finish_tau=max((planned.print_end_tau for planned in queue), default=0),
    )
