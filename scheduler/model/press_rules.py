"""Rules of the presses: one run at a time, staging, fit, minutes, stops, and the belt they share."""

from __future__ import annotations

from ortools.sat.python import cp_model

from scheduler.domain.week import PressChoice
from scheduler.model.calendar_rules import may_not_span, paused_min, work_takes_its_minutes
from scheduler.model.context import ModelContext
from scheduler.model.shared import Load, shared_by
from scheduler.model.variables import Expr, Literal, RunOnPress, RunVars, total

BELT_FULL_PERMILLE = 1000


def one_run_at_a_time(ctx: ModelContext) -> None:
    """A press holds one run at a time, from first mounting to last piece.

    Intervals [set_up_start, print_end) of the runs on one press do not overlap.
    """
    for press in ctx.week.presses:
        ctx.model.add_no_overlap(on.holds_press for on in ctx.vars.on_press(press.press_id))


def staged_before_set_up(ctx: ModelContext) -> None:
    """A cart is staged in its minutes, with the taped screens on it, before the run's set-up starts.

    stage_end <= set_up_start; stage_start >= tape_end of the run's own burn (0 without one).
    """
    for run in ctx.vars.runs.values():
        if run.stage is None:
            continue
        work_takes_its_minutes(ctx, run.stage)
        ctx.model.add(run.stage.end <= run.set_up_start)
        if run.burn is not None:
            ctx.model.add(run.stage.start >= run.burn.tape.end)


def fits_its_press(ctx: ModelContext) -> None:
    """A run goes on one press it fits, with a head for each of its own and for every ink kept live.

    sum of on[r, p] = 1; heads_needed + inks kept <= head_count on the press taken.
    """
    for run in ctx.vars.runs.values():
        ctx.model.add_exactly_one(on.is_here for on in run.on.values())
        for on in run.on.values():
            room = on.press.head_count - on.choice.heads_needed
            if room < 0:
                ctx.model.add(on.is_here == 0)
            elif on.kept:
                ctx.model.add(total(on.kept.values()) <= room * on.is_here)


def print_takes_its_time(ctx: ModelContext) -> None:
    """A print takes its minutes at the press, and for each stop the minutes to restart, to rinse and ink if it is long.

    print_end = print_start + sum over presses and ways of (work x [in that way] + closed, restart, rinsing, inking
    minutes between).
    """
    for run in ctx.vars.runs.values():
        for on in run.on.values():
            if len(on.ways) > 1:
                ctx.model.add(total(on.ways.values()) == on.is_here)
        minutes = [choice.work_min * literal for on in run.on.values() for choice, literal in on.in_ways()]
        pauses = [paused_min(ctx, on.print_hours, on.printing, on.end, on.after_stop_min) for on in run.on.values()]
        ctx.model.add(run.print_end == run.print_start + total(minutes) + total(pauses))
        ctx.model.add(run.print_end >= run.print_start + total(minutes))
        for on in run.on.values():
            _no_restart_without_work_left(ctx, on)


def _no_restart_without_work_left(ctx: ModelContext, on: RunOnPress) -> None:
    """A print that is done before a stop does not go on after it: more than the restart is printed after each stop.

    For each stop spanned: print_end > opening + restart, rinsing and inking.
    """
    if on.end is on.printing:
        return
    for stop in on.print_hours.stops:
        minutes = on.after_stop_min(stop.stop_min)
        if minutes:
            across = ctx.vars.spanned(stop, on.printing, on.end)
            ctx.model.add(ctx.vars.runs[on.run_id].print_end >= (stop.to_tau + minutes + 1) * across)


def print_follows_set_up(ctx: ModelContext) -> None:
    """Printing starts in the first open minute after set-up in which dryer and flashes are hot; set-up need not wait.

    ready = set_up_start + set_up_min + closed minutes between: no open minute is left over; print_start = ready, or
    where it is not hot then, the first minute after it in which it is.
    """
    for run in ctx.vars.runs.values():
        minutes = total(on.set_up_min for on in run.on.values())
        pauses = [paused_min(ctx, on.set_up_hours, on.set_up, on.ready) for on in run.on.values()]
        ctx.model.add(run.ready == run.set_up_start + minutes + total(pauses))
        ctx.model.add(run.ready >= run.set_up_start + minutes)
        if run.ready is not run.print_start:
            ctx.model.add(run.print_start >= run.ready)
            for on in run.on.values():
                _print_once_hot(ctx, run, on)


def _print_once_hot(ctx: ModelContext, run: RunVars, on: RunOnPress) -> None:
    """Set up in a cell in which it is hot, it prints then; else at the next opening for printing that is there.

    For each cell the set-up may be over in, and each opening after it: ready there, all openings before it not bought,
    itself bought => print_start = that opening.
    """
    if not on.warms_up:
        ctx.model.add(run.print_start == run.ready).only_enforce_if(on.is_here)
        return
    for spot in on.ready.spots:
        passed: list[Literal] = [spot.literal]
        for cell in on.print_hours.cells:
            if cell.end_tau <= spot.cell.start_tau:
                continue
            is_open = [ctx.vars.bought[cell.block_id]] if cell.block_id is not None else []
            is_hot = cell.start_tau <= spot.cell.start_tau
            starts: Expr = run.ready if is_hot else cell.start_tau
            ctx.model.add(run.print_start == starts).only_enforce_if([*passed, *is_open])
            if not is_open:
                break
            passed.append(~is_open[0])
        else:
            ctx.model.add_bool_or([~literal for literal in passed])


def ink_may_not_stand(ctx: ModelContext) -> None:
    """Inks that dry in the mesh stand no longer than they may between first mounting and the first piece.

    No stop longer than idle_ok_min in (set_up_start, print_start].
    """
    for run in ctx.vars.runs.values():
        if run.run.idle_ok_min is not None:
            for on in run.on.values():
                may_not_span(ctx, on.set_up_hours, on.set_up, on.printing, run.run.idle_ok_min)


def rinsed_before_long_stops(ctx: ModelContext) -> None:
    """Before a stop its inks may not stand, a print has the minutes to rinse them out.

    [stop spanned] => print_start <= stop - wash_up_min; and no stop shortly before it is spanned too.
    """
    horizon_tau = ctx.week.horizon_tau
    for run in ctx.vars.runs.values():
        for on in run.on.values():
            rinse_min = on.choice.wash_up_min
            for stop in on.long_stops if rinse_min else ():
                across = ctx.vars.spanned(stop, on.printing, on.end)
                latest_tau = stop.from_tau - rinse_min
                ctx.model.add(run.print_start <= horizon_tau - (horizon_tau - latest_tau) * across)
                for before in on.print_hours.stops:
                    if before.from_tau < stop.from_tau and latest_tau < before.to_tau <= stop.from_tau:
                        spanned = (ctx.vars.spanned(before, on.printing, on.end), across)
                        ctx.model.add(total(spanned) <= 1)


def flash_units_suffice(ctx: ModelContext) -> None:
    """Flashes on wheels are on one press at a time, from first mounting to last piece, pauses included.

    Per pool, at every minute: sum of flash_units over runs in [set_up_start, print_end) on its presses <= units.
    """
    for pool in ctx.week.flash_pools:
        sharing = [press.press_id for press in ctx.week.presses if press.flash_pool == pool.pool_id]
        takes = [on for press_id in sharing for on in ctx.vars.on_press(press_id) if on.choice.flash_units]
        for on in takes:
            if on.choice.flash_units > pool.units:
                ctx.model.add(on.is_here == 0)
        most = {on.press.press_id: 0 for on in takes}
        for on in takes:
            most[on.press.press_id] = max(most[on.press.press_id], on.choice.flash_units)
        # A press holds one run at a time: presses that together never ask for more need no rule.
        if sum(most.values()) > pool.units:
            ctx.model.add_cumulative(
                [on.holds_press for on in takes], [on.choice.flash_units for on in takes], pool.units
            )


def belt_is_shared(ctx: ModelContext) -> None:
    """Runs printing into one dryer at once fit on its belt.

    At every minute, over runs printing (not paused) on the dryer's presses: sum of belt_permille <= 1000.
    """
    dryers = sorted({press.dryer_id for press in ctx.week.presses if press.dryer_id is not None})
    for dryer_id in dryers:
        feeding = [press.press_id for press in ctx.week.presses if press.dryer_id == dryer_id]
        loads: list[Load] = []
        for press_id in feeding:
            for on in ctx.vars.on_press(press_id):
                for choice, literal in on.in_ways():
                    if choice.belt_permille > BELT_FULL_PERMILLE:
                        ctx.model.add(literal == 0)
                    elif choice.belt_permille:
                        loads.append(_belt_load(ctx, on, choice, literal))
        shared_by(ctx, f"belt {dryer_id}", loads, BELT_FULL_PERMILLE)


def _belt_load(ctx: ModelContext, on: RunOnPress, choice: PressChoice, in_way: Literal) -> Load:
    interval: cp_model.IntervalVar = on.prints
    if len(on.ways) > 1:
        run, name = ctx.vars.runs[on.run_id], f"belt[{on.run_id},{on.press.press_id},{choice.step_permille}]"
        length = ctx.vars.amount(f"{name}_length", 2 * ctx.week.horizon_tau)
        interval = ctx.model.new_optional_interval_var(run.print_start, length, run.print_end, in_way, name)
    return Load(
        owner=on.press.press_id,
        amount=choice.belt_permille,
        hours=on.print_hours,
        interval=interval,
        began=on.printing,
        ended=on.end,
        is_alone=True,
        only_if=in_way if len(on.ways) > 1 else None,
    )
