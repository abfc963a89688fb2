"""Pencilling in on random weeks: no place needs the missing thing later, and nothing firm moves."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from itertools import combinations

import pytest

from scheduler.domain.calendars import Restart
from scheduler.domain.latest_yes import Waiting
from scheduler.domain.plan import Plan, PlannedOrder, PlannedRun
from scheduler.domain.week import Fixing, OrderDue, PressChoice, PressLine, Week
from scheduler.review.hours import Windows, can_start_at, first_open, open_windows
from scheduler.review.rules import check
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded, decode
from scheduler.search.genome import Genome
from scheduler.search.pencilling import NO_PLACE, joint_week, pencil_in
from scheduler.trade.set_up import implied_set_up_min, may_keep
from tests.random_weeks import random_week
from tests.search.waiting import garments, the_yes, without

ORDERS = 50
Inks = tuple[str, ...]


def _plain(seed: int) -> tuple[Week, Plan, Waiting] | None:
    """A random week whose screens come ready from outside, planned without one order of a single run, which waits."""
    drawn_week = random_week(seed, size="small")
    one = replace(
        drawn_week,
        runs=tuple(replace(run, set_id=None, print_after=()) for run in drawn_week.runs),
        sets=(),
        staging=None,
        orders=tuple(replace(order, stations=()) for order in drawn_week.orders),
        stations=(),
        early_reclaims=(),
    )
    rng = random.Random(seed)
    single = [each.order_id for each in one.orders if len(each.run_ids) == 1 and each.run_ids[0] not in one.fixing]
    if not single:
        return None
    order_id = rng.choice(single)
    made = first_plan(without(one, order_id))
    return (one, made.plan, garments(one, order_id)) if isinstance(made, Decoded) else None


def _worked(windows: Windows, start_tau: int, minutes: int, restart: Restart | None = None) -> int | None:
    """When work that starts at an open minute ends; None if the hours run out."""
    end_tau, left = start_tau, minutes
    for window in windows:
        if window.end_tau <= start_tau or not left:
            continue
        if restart is not None and start_tau < window.start_tau:
            left += restart.after(window.stop_before_min)
        begin_tau = max(start_tau, window.start_tau)
        done = min(left, window.end_tau - begin_tau)
        left, end_tau = left - done, begin_tau + done
    return None if left else end_tau


def _set_ups(one: Week, plan: Plan, press: PressLine, new: PressChoice, start_tau: int) -> Iterator[tuple[int, Inks]]:
    """Set-up minutes, and inks kept beside the run, for every choice of kept inks."""
    queue = [each for each in plan.queue.get(press.press_id, ()) if each.set_up_start_tau < start_tau]
    old = one.run[queue[-1].run_id].on_press[press.press_id].stack if queue else press.now_on
    before = queue[-1].kept_inks if queue else ()
    keepable = sorted(may_keep(old, new.stack, before, one.ink))
    for count in range(len(keepable) + 1):
        for kept in combinations(keepable, count):
            yield implied_set_up_min(new, old, press.set_up, one.ink, before, kept), kept


def _later(from_tau: int, to_tau: int) -> list[int]:
    """The first minutes from one on, each, and some of those after them, spread evenly."""
    step = max(1, (to_tau - from_tau) // 8)
    return sorted({*range(from_tau, min(from_tau + 5, to_tau)), *range(from_tau, to_tau, step)})


def _places(one: Week, plan: Plan, order: OrderDue, starts: Sequence[int]) -> Iterator[Plan]:
    """The plan with the order at every place where its set-up starts in these minutes and it is packed in time."""
    (run_id,) = order.run_ids
    promise_tau, run = order.pickups_tau[order.must_leave], one.run[run_id]
    finishing = open_windows(one.finishing.calendar, plan) if one.finishing else ()
    for press_id, choice in run.on_press.items():
        press = one.press[press_id]
        opened, hot = open_windows(press.calendar, plan), open_windows(press.print_calendar or press.calendar, plan)
        for at in starts:
            if not can_start_at(opened, at):
                continue
            for minutes, kept in _set_ups(one, plan, press, choice, at):
                ready = _worked(opened, at, minutes)
                begin = None if ready is None else first_open(hot, ready)
                end = None if begin is None else _worked(hot, begin, choice.work_min, press.restart)
                if ready is None or begin is None or end is None or end + run.cure_min > promise_tau:
                    continue
                here = PlannedRun(
                    run_id=run_id,
                    press_id=press_id,
                    stage_start_tau=at,
                    stage_end_tau=at,
                    set_up_start_tau=at,
                    set_up_end_tau=ready,
                    set_up_min=minutes,
                    print_start_tau=begin,
                    print_end_tau=end,
                    kept_inks=kept,
                )
                packings = list(_packings(finishing, order, begin, end + run.cure_min + order.last_box_min))
                for done in packings[:: max(1, len(packings) // 4)]:
                    yield replace(plan, runs=(*plan.runs, here), orders=(*plan.orders, done))


def _packings(windows: Windows, order: OrderDue, begin_tau: int, boxed_tau: int) -> Iterator[PlannedOrder]:
    promise_tau = order.pickups_tau[order.must_leave]
    if not order.finish_min and boxed_tau <= promise_tau:
        yield PlannedOrder(order_id=order.order_id, finish_start_tau=boxed_tau, packed_tau=boxed_tau)
    for at in range(begin_tau + order.finish_lag_min, promise_tau) if order.finish_min else ():
        packed = _worked(windows, at, order.finish_min) if can_start_at(windows, at) else None
        if packed is not None and boxed_tau <= packed <= promise_tau:
            yield PlannedOrder(order_id=order.order_id, finish_start_tau=at, packed_tau=packed)


def test_exact_on_fifty_orders() -> None:
    """One minute after the latest yes the date is lost: no set-up start from then on, on any press, with any inks kept,
    keeps every rule. Where no date is kept, none does from the first minute on.
    """
    tried = orders = late = 0
    for seed in range(400):
        found = _plain(seed)
        if found is None:
            continue
        full, plan, waiting = found
        (yes,) = the_yes(full, plan, waiting)
        assert yes.is_proven, f"week {seed}"
        if yes.latest_tau is None:
            continue
        orders += 1
        late += yes.missed > 0
        order = full.order[waiting.order_id]
        promise_tau = order.pickups_tau[order.must_leave]
        from_tau = 0 if yes.missed else yes.latest_tau + 1
        for place in _places(full, plan, order, _later(from_tau, promise_tau)):
            tried += 1
            assert check(full, place), f"week {seed}: {place.runs[-1]}"
        if orders == ORDERS:
            break
    print(f"{orders} orders, {late} of them late anyway, {tried} later places refused")
    assert orders == ORDERS
    assert late < ORDERS // 2


@cache
def drawn() -> tuple[tuple[int, Week, Plan, Waiting], ...]:
    """Fifty random orders that wait for art, for garments or for both, and the plan that stands without each."""
    found: list[tuple[int, Week, Plan, Waiting]] = []
    seed = 0
    while len(found) < ORDERS:
        seed += 1
        one, rng = random_week(seed, size="small"), random.Random(seed)
        order_id = rng.choice([order.order_id for order in one.orders])
        runs = frozenset(one.order[order_id].run_ids)
        rest = without(one, order_id)
        made = first_plan(rest) if rest.runs and not runs & set(one.fixing) else None
        if isinstance(made, Decoded):
            kind = rng.randrange(3)
            waiting = Waiting(
                order_id=order_id, art=runs if kind else frozenset(), garments=runs if kind != 1 else frozenset()
            )
            found.append((seed, one, made.plan, waiting))
    return tuple(found)


@pytest.mark.parametrize("first", range(0, ORDERS, 10))
def test_fifty_orders_in_weeks_with_everything(first: int) -> None:
    """With the missing thing at the latest yes every rule is kept and so is the date; nothing firm has moved.

    The decoder, with every firm run held where it stands, never makes the date with the thing a minute later.
    """
    for seed, full, plan, waiting in drawn()[first : first + 10]:
        week = without(full, waiting.order_id)
        found = pencil_in(week, full, plan, [waiting])
        (yes,) = found.pencilled.yes
        assert yes.is_proven, f"week {seed}"
        if yes.latest_tau is None:
            assert yes.why == NO_PLACE
            continue
        joint = joint_week(week, full, [waiting.order_id])
        then = _released(joint, waiting, yes.latest_tau)
        assert check(then, found.with_pencilled) == (), f"week {seed}"
        order = joint.order[waiting.order_id]
        packed_tau = found.with_pencilled.order[waiting.order_id].packed_tau
        missed = sum(tau < packed_tau for tau in order.pickups_tau[order.must_leave :])
        assert missed == yes.missed, f"week {seed}"
        if not missed:
            after = _released(joint, waiting, yes.latest_tau + 1)
            assert not _decoder_keeps_the_date(after, plan, order, waiting), f"week {seed}"


def _released(one: Week, waiting: Waiting, tau: int) -> Week:
    """The week in which what the order waits for comes at a shop minute."""
    return replace(
        one,
        runs=tuple(
            replace(
                run,
                art_tau=tau if run.run_id in waiting.art else run.art_tau,
                blanks_tau=tau if run.run_id in waiting.garments else run.blanks_tau,
            )
            for run in one.runs
        ),
    )


def _decoder_keeps_the_date(one: Week, plan: Plan, order: OrderDue, waiting: Waiting) -> bool:
    """True if the decoder finds the order a place in time with every firm run held to its press and its start.

    Nothing is set up before its art is there, although screens that hang burned would allow it.
    """
    held = tuple(
        Fixing(run_id=run.run_id, kind="locked", press_id=run.press_id, set_up_start_tau=run.set_up_start_tau)
        for run in plan.runs
        if run.run_id not in one.fixing
    )
    made = decode(
        replace(one, fixings=(*one.fixings, *held)),
        Genome(order=tuple(one.run), overtime=frozenset(plan.overtime)),
    )
    if not isinstance(made, Decoded):
        return False
    if any(made.plan.run[run_id].set_up_start_tau < one.run[run_id].art_tau for run_id in waiting.art):
        return False
    moved = any(replace(made.plan.run[run.run_id], reason=run.reason) != run for run in plan.runs)
    coated = {(batch.window_id, batch.class_id): batch.count for batch in made.plan.coat_batches}
    moved = moved or any(coated.get((batch.window_id, batch.class_id), 0) < batch.count for batch in plan.coat_batches)
    moved = moved or any(made.plan.order[firm.order_id] != firm for firm in plan.orders)
    return not moved and made.plan.order[order.order_id].packed_tau <= order.pickups_tau[order.must_leave]
