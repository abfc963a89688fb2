"""The week as it stands now: done runs gone, started ones go on with what is left, the rest as announced."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import datetime, timedelta

from scheduler import api
from scheduler.domain.calendars import Restart
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.shop import Frames
from scheduler.domain.week import Week
from scheduler.record.events import (
    BROKEN,
    BURNED,
    HELD,
    RECLAIMED,
    Counted,
    Done,
    Event,
    FramesCoated,
    ScreenTicked,
    SetUpStarted,
    Spoiled,
    Stopped,
    StrikeOffRight,
    WentOn,
)
from scheduler.record.kept import kept
from scheduler.record.standing import StandsNow, stands_now
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from tests.outside.lived import small_week
from tests.record.noted import as_planned, local
from tests.what_if.small import plan_of, shop_inputs
from tests.workload import shops
from tests.workload.random_inputs import random_inputs

RANDOM_WEEKS = 20


def stands(inputs: WeekInputs, events: tuple[Event, ...], now: datetime) -> StandsNow:
    """The small shop as it stands, its plan being the first one."""
    return stands_now(inputs, api.build_workload(inputs).week, plan_of(inputs), events, now)


def started(run_id: str, clock_time: str = "09:00") -> SetUpStarted:
    """A run set up on Monday."""
    return SetUpStarted(at=local(shops.at(2, clock_time)), run_id=run_id, press_id="auto-1")


def planned(seed: int) -> tuple[WeekInputs, Week, Plan] | None:
    """A random typed week and its first plan; None where there is nothing to plan."""
    inputs = random_inputs(seed)
    week = api.build_workload(inputs).week
    decoded = first_plan(week) if week.runs else None
    return (inputs, week, decoded.plan) if isinstance(decoded, Decoded) else None


def test_a_week_that_goes_as_planned_stands_where_it_was_planned() -> None:
    """At any moment of a random week of which only starts and ends were noted, done runs are gone, started ones keep
    press and first place, and the announced order kept from there passes every rule and ends about where it was to.
    """
    tried = near = compared = 0
    for seed in range(RANDOM_WEEKS):
        found = planned(seed)
        if found is None:
            continue
        inputs, week, plan = found
        last = max(one.print_end_tau for one in plan.runs)
        now = week.clock.starts_at(random.Random(seed).randint(1, max(1, last - 1)))
        now_there = stands_now(inputs, week, plan, as_planned(week, plan, now), now)
        over = {one.run_id for one in plan.runs if week.clock.ends_at(one.print_end_tau) < now}
        assert not over & set(now_there.week.run)
        left = {run_id for run_id, run in now_there.runs.items() if run_id in plan.run and not run.is_done}
        assert left == set(now_there.week.run) & set(plan.run), f"week {seed}"
        held = kept(now_there.week, plan)
        if held is None:
            continue
        tried += 1
        assert api.check(now_there.week, held[1]) == (), f"week {seed}"
        for run_id in now_there.started:
            assert held[1].run[run_id].press_id == plan.run[run_id].press_id
            assert held[1].queue[plan.run[run_id].press_id][0].run_id == run_id
        for order in held[1].orders:
            if order.order_id in plan.order:
                was = week.clock.ends_at(plan.order[order.order_id].packed_tau)
                compared += 1
                near += abs(now_there.week.clock.ends_at(order.packed_tau) - was) <= timedelta(minutes=30)
    assert tried >= 0.9 * RANDOM_WEEKS
    assert near >= 0.9 * compared > 0


def test_only_start_and_done_are_needed() -> None:
    """Half an hour into an hour's print without a count, half of the pieces are left by the planned rate."""
    inputs = shop_inputs(2)
    plan = plan_of(inputs)
    first = plan.queue["auto-1"][0]
    week = api.build_workload(inputs).week
    begun = week.clock.starts_at(first.set_up_start_tau)
    now = week.clock.starts_at(first.print_start_tau) + timedelta(minutes=30)
    event = SetUpStarted(at=local(begun), run_id=first.run_id, press_id="auto-1")
    found = stands(inputs, (event,), now)
    assert found.runs[first.run_id].pieces_left == 200
    assert found.runs[first.run_id].is_by_time
    assert found.week.run[first.run_id].pieces == 200
    assert [one.code for one in found.workload.assumptions if one.code == "by_time"] == ["by_time"]
    done = Done(at=local(now), run_id=first.run_id, number=2)
    assert first.run_id not in stands(inputs, (event, done), now).week.run


def test_pieces_that_were_counted_win_over_the_clock() -> None:
    """A count says what is printed; spoiled pieces are used up; time goes on from the count at the planned rate."""
    inputs = shop_inputs()
    run_id = "1 front light"
    counted = Counted(at=local(shops.at(2, "10:00")), run_id=run_id, pieces=100, number=3)
    spoiled = Spoiled(at=local(shops.at(2, "09:55")), run_id=run_id, pieces=20, number=2)
    events = (started(run_id), spoiled, counted)
    assert stands(inputs, events, shops.at(2, "10:00")).runs[run_id].pieces_left == 280
    assert stands(inputs, events, shops.at(2, "10:15")).runs[run_id].pieces_left == 180


def test_a_run_that_should_be_over_is_not_taken_to_be() -> None:
    """Hours after its planned end a run that nobody called done still has a twentieth left."""
    inputs = shop_inputs()
    assert stands(inputs, (started("1 front light"),), shops.at(2, "16:00")).runs["1 front light"].pieces_left == 20


def test_while_a_run_stands_nothing_is_printed() -> None:
    """Minutes between stop and going on do not count; while it stands the reason is known."""
    inputs = shop_inputs()
    run_id = "1 front light"
    right = StrikeOffRight(at=local(shops.at(2, "09:00")), run_id=run_id, number=1)
    stop = Stopped(at=local(shops.at(2, "09:15")), run_id=run_id, reason="belt torn", number=2)
    on = WentOn(at=local(shops.at(2, "11:15")), run_id=run_id, number=3)
    standing = stands(inputs, (right, stop), shops.at(2, "11:00")).runs[run_id]
    assert (standing.pieces_left, standing.stopped_why) == (300, "belt torn")
    going = stands(inputs, (right, stop, on), shops.at(2, "11:30")).runs[run_id]
    assert (going.pieces_left, going.stopped_why) == (200, None)


def test_the_run_before_is_done_when_the_next_is_set_up() -> None:
    """Nobody said done, but another run has its press: it is over, and that is told as an assumption."""
    inputs = shop_inputs(2)
    found = stands(inputs, (started("1 front light"), started("2 front light", "11:00")), shops.at(2, "11:05"))
    assert found.runs["1 front light"].is_done
    assert found.started == ("2 front light",)
    assert any(one.code == "done_by_next" for one in found.workload.assumptions)


def test_events_from_after_now_are_not_looked_at() -> None:
    """What is noted for later has not happened yet; on the very minute it has."""
    inputs = shop_inputs()
    assert stands(inputs, (started("1 front light", "10:00"),), shops.at(2, "09:59")).started == ()
    assert stands(inputs, (started("1 front light", "10:00"),), shops.at(2, "10:00")).started == ("1 front light",)


def test_screens_are_taken_as_planned_until_somebody_ticks_them_off() -> None:
    """Without a tick the burns planned before now are done; with one, only what was ticked is."""
    inputs = shop_inputs(3)
    week, plan = api.build_workload(inputs).week, plan_of(inputs)
    now = shops.at(2, "16:30")
    as_said = stands(inputs, (), now)
    burned = {one.set_id for one in as_said.week.sets if one.is_burned_now}
    assert burned == {week.run[one.run_id].set_id for one in plan.runs if one.burn is not None}
    tick = ScreenTicked(at=local(shops.at(2, "10:00")), set_id="2 front", state=BURNED)
    ticked = stands(inputs, (tick,), now)
    assert {one.set_id for one in ticked.week.sets if one.is_burned_now} == {"2 front"}
    assert sum(one.coated_now for one in ticked.week.frames) == sum(one.coated_now for one in week.frames) - 1


def test_reclaimed_broken_and_coated_frames_are_known() -> None:
    """A reclaimed set gives its frames back clean, a broken one loses them, coated frames count as coated."""
    inputs = shop_inputs(3)
    room = api.build_workload(inputs).week.frames
    (class_id,) = {one.class_id for one in room if one.class_id.endswith("230")}

    def frames(*events: Event) -> tuple[int, int]:
        found = stands(inputs, events, shops.at(2, "16:30"))
        return next((one.coated_now, one.clean_now) for one in found.week.frames if one.class_id == class_id)

    burned = ScreenTicked(at=local(shops.at(2, "10:00")), set_id="2 front", state=BURNED, number=1)
    assert frames(burned) == (19, 10)
    gone = replace(burned, state=RECLAIMED, at=local(shops.at(2, "11:00")), number=2)
    assert frames(burned, gone) == (19, 11)
    broken = replace(burned, state=BROKEN, at=local(shops.at(2, "11:00")), number=2)
    assert frames(burned, broken) == (19, 10)
    assert frames(burned, FramesCoated(at=local(shops.at(2, "12:00")), class_id=class_id, frames=3)) == (22, 7)


def test_a_held_set_hangs_on_when_its_order_is_done() -> None:
    """Once all its orders are printed a set is to be reclaimed; ticked as held it is kept."""
    inputs = shop_inputs(2)
    done = Done(at=local(shops.at(2, "11:00")), run_id="1 front light", number=2)
    burned = ScreenTicked(at=local(shops.at(2, "09:00")), set_id="1 front", state=BURNED, number=1)
    held = replace(burned, state=HELD, at=local(shops.at(2, "11:30")), number=3)

    def hangs(*events: Event) -> bool:
        found = stands(inputs, events, shops.at(2, "12:00")).inputs.shop.burned
        return next(not one.to_reclaim for one in found if one.design_id == "1 front")

    assert not hangs(burned, done)
    assert hangs(burned, done, held)
    assert hangs(burned)


def test_what_stands_on_the_press_is_where_the_next_set_up_begins() -> None:
    """After a run is done its screens and inks are on the press: the same design again needs no set-up at all."""
    inputs = shop_inputs(2)
    same = replace(
        inputs, imprints=tuple(replace(one, design_id="crest") for one in inputs.imprints), digest="one design"
    )
    done = Done(at=local(shops.at(2, "11:00")), run_id="1 front light")
    found = stands(same, (done,), shops.at(2, "12:00"))
    held = kept(found.week, plan_of(same))
    assert held is not None
    assert held[1].run["2 front light"].set_up_min == 0


def test_planning_on_moves_nothing_started_and_costs_no_more_than_keeping() -> None:
    """A plan from now on through the front doors passes the check, leaves the started run where it is, and is never
    dearer than the announced order kept.
    """
    inputs = shop_inputs(4)
    week, plan = api.build_workload(inputs).week, plan_of(inputs)
    second = plan.queue["auto-1"][1]
    now = week.clock.starts_at(second.print_start_tau) + timedelta(minutes=20)
    there = api.stands_now(inputs, week, plan, as_planned(week, plan, now), now)
    assert there.started == (second.run_id,)
    held = kept(there.week, plan)
    assert held is not None
    result = api.plan_on(there, plan, SearchSettings(iterations=20, workers=1))
    assert result.plan is not None
    assert api.check(there.week, result.plan) == ()
    assert result.plan.run[second.run_id].set_up_start_tau == 0
    assert result.plan.queue["auto-1"][0].run_id == second.run_id
    assert result.cost_cents <= api.measure(there.week, held[1]).cost.total


def test_two_presses_set_up_for_the_same_garments_take_turns() -> None:
    """The front prints on one press and the back is set up on another: the back waits there until the front is
    through, and the week can still be planned with both where they are.
    """
    inputs = shop_inputs()
    second = shops.press("auto-2", set_up_crew=(("print", 1),), run_crew=(("print", 1),))
    back = replace(inputs.imprints[0], location="back", design_id="1 back")
    both = replace(
        inputs,
        shop=replace(inputs.shop, presses=(*inputs.shop.presses, second)),
        imprints=(*inputs.imprints, back),
    )
    events = (
        started("1 front light"),
        StrikeOffRight(at=local(shops.at(2, "09:20")), run_id="1 front light", number=2),
        SetUpStarted(at=local(shops.at(2, "09:30")), run_id="1 back light", press_id="auto-2", number=3),
        StrikeOffRight(at=local(shops.at(2, "09:40")), run_id="1 back light", number=4),
    )
    found = stands(both, events, shops.at(2, "09:50"))
    assert set(found.started) == {"1 front light", "1 back light"}
    assert found.week.not_planned == ()
    held = kept(found.week, plan_of(both))
    assert held is not None
    assert api.check(found.week, held[1]) == ()
    assert held[1].run["1 back light"].print_start_tau >= held[1].run["1 front light"].print_end_tau
    assert any(one.code == "waits_set_up" for one in found.workload.assumptions)


def test_garments_that_came_in_meanwhile_do_not_join_two_runs() -> None:
    """A location whose garments came on two days keeps its two runs under their names once both are in."""
    inputs = shop_inputs()
    late = shops.lot("late", order_id="1", pieces=100, shade="light", blanks_at=shops.at(3, "08:00"))
    (imprint,) = inputs.imprints
    both = replace(inputs, lots=(*inputs.lots, late), imprints=(replace(imprint, lot_ids=(*imprint.lot_ids, "late")),))
    done = Done(at=local(shops.at(2, "11:00")), run_id="1 front light")
    found = stands(both, (done,), shops.at(3, "09:00"))
    assert set(found.week.run) == {"1 front light 2"}
    assert found.week.run["1 front light 2"].pieces == 100


def test_an_event_about_no_run_is_told_and_left_out() -> None:
    """A run nobody ordered any more changes nothing, and is named among the assumptions."""
    found = stands(shop_inputs(), (started("gone front dark"),), shops.at(2, "10:00"))
    assert found.started == ()
    assert [one.where for one in found.workload.assumptions if one.code == "strange_event"] == [("gone front dark",)]


def test_frames_of_the_shop_never_grow() -> None:
    """More frames ticked as coated than there are do not appear from nowhere."""
    inputs = shop_inputs(frames=(Frames(size="23x31", mesh=230, count=4, coated=1),))
    event = FramesCoated(at=local(shops.at(2, "09:00")), class_id="23x31 230", frames=50)
    found = stands(inputs, (event,), shops.at(2, "10:00"))
    assert [(one.count, one.coated) for one in found.inputs.shop.frames] == [(4, 4)]


def test_inks_kept_beside_a_run_that_goes_on_stay_there() -> None:
    """A morning on which everything went as planned: the runs after the started one take the set-up minutes they had,
    although inks they need stand beside it, kept from runs that are done.
    """
    inputs = small_week(0, days=3)
    week = api.build_workload(inputs).week
    first = first_plan(week)
    assert isinstance(first, Decoded)
    plan = first.plan
    now = week.clock.now + timedelta(days=1) - timedelta(minutes=30)
    there = stands_now(inputs, week, plan, as_planned(week, plan, now, is_brief=False), now)
    going = [plan.run[run_id] for run_id in there.started]
    assert any(one.kept_inks for one in going)
    held = kept(there.week, plan)
    assert held is not None
    assert api.check(there.week, held[1]) == ()
    for run in held[1].runs:
        if run.run_id in there.started:
            assert set(run.kept_inks) == set(plan.run[run.run_id].kept_inks)
        else:
            assert run.set_up_min == plan.run[run.run_id].set_up_min
        was, is_now = (
            one.clock.ends_at(p.run[run.run_id].print_end_tau) for one, p in ((week, plan), (there.week, held[1]))
        )
        assert abs(is_now - was) <= timedelta(minutes=2)


def test_a_run_that_prints_on_after_the_night_gets_going_again_first() -> None:
    """Before the doors open a run that printed last night needs its restart minutes; a minute into the shift none, and
    neither does one of which the set-up had ended but nothing was printed when the doors closed.
    """
    inputs = shop_inputs()
    presses = tuple(replace(one, restart=Restart(break_min=2, night_min=8)) for one in inputs.shop.presses)
    inputs = replace(inputs, shop=replace(inputs.shop, presses=presses))
    run_id = "1 front light"
    opens = api.build_workload(inputs).week.clock.starts_at(0).replace(day=3)
    begun = SetUpStarted(at=local(shops.at(2, "16:00")), run_id=run_id, press_id="auto-1")
    right = StrikeOffRight(at=local(shops.at(2, "16:30")), run_id=run_id)
    assert stands(inputs, (begun, right), opens - timedelta(minutes=30)).runs[run_id].set_up_left_min == 8
    assert stands(inputs, (begun, right), opens + timedelta(minutes=1)).runs[run_id].set_up_left_min == 0
    closing = StrikeOffRight(at=local(shops.at(2, "17:00")), run_id=run_id)
    assert stands(inputs, (begun, closing), opens - timedelta(minutes=30)).runs[run_id].set_up_left_min == 0
