"""Makes the variables of runs and of the queues of the presses."""

from __future__ import annotations

from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.domain.week import PressChoice, Run
from scheduler.model.cells import OpenCells
from scheduler.model.make_screens import make_burn
from scheduler.model.maker import Maker
from scheduler.model.variables import Arc, Literal, Moment, MoveVars, RunOnPress, RunVars, Work


@dataclass(frozen=True, slots=True, kw_only=True)
class _Times:
    """A run's times, and the lengths between them."""

    set_up_start: cp_model.IntVar
    ready: cp_model.IntVar
    print_start: cp_model.IntVar
    print_end: cp_model.IntVar
    set_up: cp_model.IntVar
    printing: cp_model.IntVar
    on_press: cp_model.IntVar


def make_run(maker: Maker, run: Run) -> RunVars:
    """A run: times, presses, staging and burn."""
    run_id, model = run.run_id, maker.model
    choices = maker.scope.choices(run)
    warms_up = any(maker.week.press[choice.press_id].print_calendar is not None for choice in choices)
    print_start = maker.tau("print_start", run_id)
    times = _Times(
        set_up_start=maker.tau("set_up_start", run_id),
        ready=maker.tau("ready", run_id) if warms_up else print_start,
        print_start=print_start,
        print_end=maker.tau("print_end", run_id),
        set_up=maker.length("set_up", run_id),
        printing=maker.length("print", run_id),
        on_press=maker.length("on_press", run_id),
    )
    on = {
        choice.press_id: _make_on_press(
            maker,
            run,
            choice,
            maker.always if len(choices) == 1 else maker.literal(f"on[{run_id},{choice.press_id}]"),
            times,
        )
        for choice in choices
    }
    return RunVars(
        run=run,
        set_up_start=times.set_up_start,
        ready=times.ready,
        print_start=times.print_start,
        print_end=times.print_end,
        on=on,
        holds_lots=model.new_interval_var(
            times.print_start,
            maker.length("lots", run_id),
            times.print_end + run.cure_min + run.between_min,
            f"holds_lots[{run_id}]",
        ),
        stage=_make_stage(maker, run_id),
        burn=make_burn(maker, run),
    )


def _make_stage(maker: Maker, run_id: str) -> Work | None:
    staging = maker.week.staging
    if staging is None or not staging.minutes or maker.is_started(run_id):
        return None
    return maker.work("stage", run_id, maker.hours("staging", staging.calendar), staging.minutes, maker.always)


def _make_on_press(maker: Maker, run: Run, choice: PressChoice, is_here: Literal, times: _Times) -> RunOnPress:
    press, limit_min = maker.week.press[choice.press_id], run.idle_ok_min
    name = f"{run.run_id},{press.press_id}"

    def may_not_be(stop_min: int) -> bool:
        return limit_min is not None and stop_min > limit_min

    def costs(stop_min: int) -> bool:
        # Inks that dry are rinsed out within the window before a long stop, so every stop parts windows.
        return limit_min is not None or press.restart.after(stop_min) > 0

    set_up_hours = maker.hours(f"set-up {press.press_id}", press.calendar, may_not_be, key=limit_min)
    print_hours = maker.hours(f"print {press.press_id}", press.prints_in, costs, key=limit_min)

    def moment(kind: str, hours: OpenCells) -> Moment:
        span = maker.scope.span(kind, run.run_id)
        return maker.moment(f"{kind}[{name}]", hours, is_here, span, is_end=kind == "print_end")

    set_up, printing, end = (
        moment(kind, hours)
        for kind, hours in (("set_up_start", set_up_hours), ("print_start", print_hours), ("print_end", print_hours))
    )
    ready, ready_hours = printing, set_up_hours
    if press.print_calendar is not None:
        # Cut where printing may start: then each minute of a cell waits for the same opening, or for none.
        edges = frozenset(edge for cell in print_hours.cells for edge in (cell.start_tau, cell.end_tau))
        ready_hours = maker.hours(
            f"set-up {press.press_id}", press.calendar, may_not_be, key=(limit_min, edges), split_at=edges
        )
        ready = moment("ready", ready_hours)
    model, found = maker.model, maker.keepable.before(run.run_id, press.press_id)
    return RunOnPress(
        run_id=run.run_id,
        press=press,
        choice=choice,
        idle_ok_min=limit_min,
        is_here=is_here,
        set_up_min=model.new_int_var(*maker.scope.span("set_up_min", run.run_id), f"set_up_min[{name}]"),
        set_up_hours=set_up_hours,
        print_hours=print_hours,
        set_up=set_up,
        ready=ready,
        printing=printing,
        # A print of no minutes ends where it starts, and needs no open minute before its end.
        end=end if choice.work_min else printing,
        holds_press=model.new_optional_interval_var(
            times.set_up_start, times.on_press, times.print_end, is_here, f"holds_press[{name}]"
        ),
        sets_up=model.new_optional_interval_var(
            times.set_up_start, times.set_up, times.ready, is_here, f"sets_up[{name}]"
        ),
        prints=model.new_optional_interval_var(
            times.print_start, times.printing, times.print_end, is_here, f"prints[{name}]"
        ),
        kept=_make_kept(maker, run.run_id, press.press_id),
        found={ink: maker.literal(f"found[{name},{ink}]") for ink in found},
        ways=_make_ways(maker, run.run_id, choice, is_here),
    )


def _make_ways(maker: Maker, run_id: str, choice: PressChoice, is_here: Literal) -> dict[int, Literal]:
    """How a run may be printed on a press: one literal a way, the run's own where there is but one."""
    settled = maker.scope.way(run_id)
    ways = range(len(choice.other_ways) + 1) if settled is None else [settled]
    if len(ways) == 1:
        return {ways[0]: is_here}
    return {way: maker.literal(f"way[{run_id},{choice.press_id},{way}]") for way in ways}


def _make_kept(maker: Maker, run_id: str, press_id: str) -> dict[str, Literal]:
    """Whether each ink that may be kept beside a run is; where the set-up is settled, so are they."""
    settled = maker.scope.kept_inks(run_id)
    if settled is not None:
        return dict.fromkeys(settled, maker.always)
    return {ink: maker.literal(f"kept[{run_id},{press_id},{ink}]") for ink in maker.keepable.beside(run_id, press_id)}


def make_arcs(maker: Maker, press_id: str) -> tuple[Arc, ...]:
    """Every pair of runs that may stand one straight after the other on the press."""
    return tuple(
        Arc(
            press_id=press_id,
            before=before,
            after=after,
            literal=maker.literal(f"next[{press_id},{before or 'now'},{after or 'end'}]"),
        )
        for before, after in maker.scope.line_up(press_id).pairs()
    )


def make_moves(maker: Maker) -> dict[str, MoveVars]:
    """Whether announced runs are moved; those that are fixed are not asked."""
    found: dict[str, MoveVars] = {}
    for told in maker.week.announced:
        run_id = told.run_id
        if run_id in maker.week.run and run_id not in maker.week.fixing and run_id not in found:
            found[run_id] = MoveVars(
                run_id=run_id,
                told=told,
                moved=maker.literal(f"moved[{run_id}]"),
                too_early=maker.literal(f"too_early[{run_id}]"),
                too_late=maker.literal(f"too_late[{run_id}]"),
            )
    return found
