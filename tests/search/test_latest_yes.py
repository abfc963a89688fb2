"""Latest yes: exact to the minute as the queue stands, on hand-made queues and on random ones minute by minute."""

import random
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from scheduler import api
from scheduler.domain.plan import Plan
from scheduler.domain.week import NotPlanned, OrderDue, Week
from scheduler.papers.chase_list import waiting_orders
from scheduler.questions import latest_yes as asked
from scheduler.review.measures import late_orders
from scheduler.review.rules import check
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from scheduler.search.latest_yes import NOT_IN_TIME, TOO_LATE, StandingQueue, Waiting, latest_yes, released
from scheduler.workload.as_if import as_if_there, waiting_runs
from tests.builders import choice, frame_stock, order_due, run, screen_room, screen_set, stack, week
from tests.random_weeks import random_week

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
ORDERS = 50
STEP = 4
"""Of the minutes after the latest yes, one in so many is tried."""


def without(one: Week, order_id: str) -> Week:
    """The week that stands while an order waits."""
    gone = {each.run_id for each in one.runs if each.order_id == order_id}
    return replace(
        one,
        runs=tuple(
            replace(each, print_after=tuple(other for other in each.print_after if other not in gone))
            for each in one.runs
            if each.run_id not in gone
        ),
        orders=tuple(order for order in one.orders if order.order_id != order_id),
        fixings=tuple(fixing for fixing in one.fixings if fixing.run_id not in gone),
        announced=tuple(told for told in one.announced if told.run_id not in gone),
    )


def plan_of(one: Week) -> Plan:
    """The cheapest plan that a rule makes."""
    found = first_plan(one)
    assert isinstance(found, Decoded)
    return found.plan


def garments(order_id: str = "or1", *run_ids: str) -> Waiting:
    """An order whose runs wait for garments."""
    return Waiting(order_id=order_id, art=frozenset(), garments=frozenset(run_ids or ("r1",)))


def promised(run_id: str, tau: int) -> OrderDue:
    """An order of one run that must leave at a shop minute."""
    return order_due(f"o{run_id}", [run_id], pickups_tau=(tau, 2700), late_cents=100)


def test_alone_it_may_wait_until_its_print_just_fits() -> None:
    """An hour of printing, promised for minute 500: garments at 440 are in time, at 441 they are not."""
    one = week(orders=[promised("r1", 500)])
    found = latest_yes(one, Plan(runs=(), orders=()), garments())
    assert (found.latest_tau, found.promised_tau, found.why) == (440, 500, "")


def test_art_must_be_there_before_the_burn() -> None:
    """Half an hour to burn, an hour to dry, ten minutes to tape, an hour to print: art at 340 for minute 500."""
    offers = [choice(on=stack(("s1.1", "white"), set_id="s1"))]
    one = week(
        runs=[run(set_id="s1", choices=offers)],
        orders=[promised("r1", 500)],
        sets=[screen_set()],
        frames=[frame_stock()],
        screen_room=screen_room(),
    )
    waiting = Waiting(order_id="or1", art=frozenset({"r1"}), garments=frozenset())
    assert latest_yes(one, Plan(runs=(), orders=()), waiting).latest_tau == 340
    burned = replace(one, sets=(screen_set(is_burned_now=True),))
    assert latest_yes(burned, Plan(runs=(), orders=()), waiting).latest_tau == 440


def test_others_make_room_only_as_far_as_their_promises_reach() -> None:
    """r2 and r3 stand from 0 to 120. Promised for 180 and 540, r2 keeps its date behind r1, and r3 behind both."""
    runs = [run("r1"), run("r2"), run("r3")]
    roomy = week(runs=runs, orders=[promised("r1", 300), promised("r2", 180), promised("r3", 540)])
    assert latest_yes(roomy, plan_of(without(roomy, "or1")), garments()).latest_tau == 240
    tight = week(runs=runs, orders=[promised("r1", 90), promised("r2", 120), promised("r3", 180)])
    assert latest_yes(tight, plan_of(without(tight, "or1")), garments()).latest_tau == 0
    full = week(runs=runs, orders=[promised("r1", 90), promised("r2", 60), promised("r3", 120)])
    found = latest_yes(full, plan_of(without(full, "or1")), garments())
    assert (found.latest_tau, found.why) == (None, TOO_LATE)


def test_an_order_that_is_late_anyway_may_be_late_as_before() -> None:
    """r2 is late in the plan that stands; r1 may push it as long as it misses no further pick-up."""
    late = order_due("or2", ["r2"], pickups_tau=(30, 540, 2700), late_cents=100)
    one = week(runs=[run("r1"), run("r2")], orders=[promised("r1", 480), late])
    found = latest_yes(one, plan_of(without(one, "or1")), garments())
    assert found.latest_tau == 420
    assert latest_yes(one, plan_of(without(one, "or1")), garments()) == found


def test_an_order_that_cannot_be_planned_says_why() -> None:
    """Where the week does not have the order even with everything there, its own reasons are handed on."""
    one = week(not_planned=[NotPlanned(order_id="9", run_id=None, reasons=("needs 9 heads; Six has 6",))])
    assert latest_yes(one, Plan(runs=(), orders=()), garments("9")).why == "needs 9 heads; Six has 6"


def test_it_stops_when_asked() -> None:
    """Out of time there is no moment rather than a guess."""
    found = latest_yes(week(orders=[promised("r1", 500)]), Plan(runs=(), orders=()), garments(), lambda: True)
    assert (found.latest_tau, found.why) == (None, NOT_IN_TIME)


def drawn() -> list[tuple[Week, Plan, Waiting]]:
    """Fifty random orders that wait for art, for garments or for both, and the plan that stands without each."""
    found: list[tuple[Week, Plan, Waiting]] = []
    seed = 0
    while len(found) < ORDERS:
        seed += 1
        one, rng = random_week(seed, size="small"), random.Random(seed)
        order_id = rng.choice([order.order_id for order in one.orders])
        rest = without(one, order_id)
        runs = frozenset(each.run_id for each in one.runs if each.order_id == order_id)
        made = first_plan(rest) if rest.runs and not any(fixed.run_id in runs for fixed in one.fixings) else None
        if not isinstance(made, Decoded):
            continue
        kind = rng.randrange(3)
        waiting = Waiting(
            order_id=order_id, art=runs if kind else frozenset(), garments=runs if kind != 1 else frozenset()
        )
        if latest_yes(one, made.plan, waiting).latest_tau is not None:
            found.append((one, made.plan, waiting))
    return found


def test_fifty_orders_to_the_minute() -> None:
    """At the latest yes a plan without a broken rule keeps the order's date and everybody else's; one minute later the
    date is lost, and at every later moment tried as well.
    """
    for one, standing, waiting in drawn():
        found = latest_yes(one, standing, waiting)
        assert found.latest_tau is not None
        assert found.promised_tau is not None
        queue = StandingQueue(one, standing, waiting)
        kept = queue.kept(found.latest_tau)
        assert kept is not None
        then = released(one, waiting, found.latest_tau)
        made = kept.decoded.plan
        assert check(then, made) == ()
        assert made.order[waiting.order_id].packed_tau <= found.promised_tau
        was_late = {late.order_id: late.pickups_missed for late in late_orders(one, standing)}
        now_late = {late.order_id: late.pickups_missed for late in late_orders(then, made)}
        assert all(missed <= was_late.get(order_id, 0) for order_id, missed in now_late.items())
        assert queue.kept(found.latest_tau + 1) is None
        assert not any(queue.kept(tau) for tau in range(found.latest_tau + 2, found.promised_tau + 1, STEP))


@pytest.mark.parametrize("clock_time", ["2026-04-13 11:20", "2026-04-14 02:00", "2026-04-17 09:59"])
def test_a_week_released_later_is_the_week_built_for_that_moment(clock_time: str) -> None:
    """Moving the art's minute in a built week gives the very week built from the sheet with that moment typed in."""
    inputs = api.read_week(SCENARIOS / "midsize")
    moment = datetime.fromisoformat(clock_time).replace(tzinfo=inputs.shop.plan_from.tzinfo)
    soon = api.build_workload(as_if_there(inputs, "4126", inputs.shop.plan_from + timedelta(minutes=1))).week
    then = api.build_workload(as_if_there(inputs, "4126", moment)).week
    runs = waiting_runs(inputs, soon, "4126")
    waiting = Waiting(order_id="4126", art=runs.art, garments=runs.garments)
    assert waiting.art
    assert released(soon, waiting, then.clock.tau_of(moment)) == then


def test_the_waiting_order_of_the_mid_size_week() -> None:
    """The theatre's unsigned art may wait until a moment shortly before its pick-up."""
    inputs = api.read_week(SCENARIOS / "midsize")
    assert waiting_orders(inputs) == ("4126",)
    standing = plan_of(api.build_workload(inputs).week)
    found = asked(inputs, standing, "4126")
    assert found.latest_tau is not None
    assert found.promised_tau is not None
    assert 0 < found.latest_tau < found.promised_tau
