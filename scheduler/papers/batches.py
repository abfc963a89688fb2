"""When ink that goes off is mixed for a run: how many batches, and by when each is needed."""

from __future__ import annotations

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Week
from scheduler.papers.words import counted, day_and_time, listed, minutes
from scheduler.review.hours import long_stops, open_windows, pieces, stops_inside
from scheduler.trade.pot_life import batches


def batches_text(week: Week, plan: Plan, planned: PlannedRun) -> str:
    """The batches of a run and when each is needed: "2 batches of sand, each lasts 6 h: by Mon 08:13 and Mon 14:13"."""
    run = week.run[planned.run_id]
    choice = run.printed_on(planned.press_id, planned.way)
    if run.pot_life_min is None or choice is None:
        return ""
    on_heads = [week.ink[head.ink_id] for head in choice.stack.heads]
    inks = sorted({ink.name for ink in on_heads if ink.pot_life_min is not None})
    times = [day_and_time(week.clock.starts_at(tau)) for tau in needed_at(week, plan, planned)]
    lasts = f"{'each ' if len(times) > 1 else ''}lasts {minutes(run.pot_life_min)}"
    told = f"{counted(len(times), 'batch', 'batches')} of {listed(inks)}, {lasts}: by {listed(times)}"
    windows = open_windows(week.press[planned.press_id].prints_in, plan)
    stops = stops_inside(windows, planned.print_start_tau, planned.print_end_tau)
    if any(window.stop_before_min >= run.pot_life_min for window in stops):
        told += "; throw away what is left at night, and mix what the morning needs before it opens"
    return told


def needed_at(week: Week, plan: Plan, planned: PlannedRun) -> tuple[int, ...]:
    """Shop minutes at which each batch of a run is needed: the start, and whenever the batch before is used up.

    Only minutes of printing use up a batch: restarts, rinsing out, inking again and the mixing itself do not.
    """
    run, press = week.run[planned.run_id], week.press[planned.press_id]
    choice = run.printed_on(planned.press_id, planned.way)
    if run.pot_life_min is None or choice is None:
        return ()
    windows = open_windows(press.prints_in, plan)
    start, end = planned.print_start_tau, planned.print_end_tau
    stops = {one.start_tau: one.stop_before_min for one in stops_inside(windows, start, end)}
    long = {one.start_tau for one in long_stops(windows, run.idle_ok_min, start, end)}
    stretches = pieces(windows, start, end)
    found, lasts_min, lost_min = [start], run.pot_life_min, 0
    further = batches(choice.print_min, run.pot_life_min) - 1
    for number, (opens, closes) in enumerate(stretches):
        lost_min += press.restart.after(stops[opens]) if opens in stops else 0
        lost_min += choice.re_ink_min if opens in long else 0
        at = opens + lost_min
        is_rinsed = number + 1 < len(stretches) and stretches[number + 1][0] in long
        until = closes - choice.wash_up_min if is_rinsed else closes
        while len(found) <= further and lasts_min < until - at:
            found.append(at + lasts_min)
            at, lasts_min = found[-1] + run.remix_min, run.pot_life_min
        lasts_min -= max(0, until - at)
        lost_min = max(0, at - until)
    return tuple(found)
