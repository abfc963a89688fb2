"""Rules of the presses: one run at a time, staging, fit, minutes, set-up, stops, and the belt they share."""

from __future__ import annotations

from itertools import combinations

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import PressChoice, PressLine, Run, Week
from scheduler.review.hours import first_open, long_stops, open_min, open_windows, pieces, restart_min
from scheduler.review.violation import Violation
from scheduler.review.words import end_text, press_text, run_text, start_text

BELT_FULL_PERMILLE = 1000


def is_started(week: Week, run_id: str) -> bool:
    """True for a run that was on its press when the plan was made."""
    fixing = week.fixing.get(run_id)
    return fixing is not None and fixing.kind == "started"


def staging_min(week: Week, run_id: str) -> int:
    """Minutes of staging this run needs: none where the shop does not stage, none for a run that has started."""
    return 0 if week.staging is None or is_started(week, run_id) else week.staging.minutes


def on_a_press(week: Week, plan: Plan) -> list[tuple[PlannedRun, PressLine, PressChoice]]:
    """Planned runs on a press they fit, in their way, with that press; others are reported by `fits_its_press`."""
    found = []
    for planned in plan.runs:
        run, press = week.run.get(planned.run_id), week.press.get(planned.press_id)
        choice = run.printed_on(planned.press_id, planned.way) if run else None
        if press is not None and choice is not None:
            found.append((planned, press, choice))
    return found


def one_run_at_a_time(week: Week, plan: Plan) -> list[Violation]:
    """A press holds one run at a time, from first mounting to last piece.

    For a, b on one press: print_end[a] <= set_up_start[b] or print_end[b] <= set_up_start[a].
    """
    found = []
    for press_id, queue in plan.queue.items():
        for one, other in combinations(queue, 2):
            if one.print_end_tau > other.set_up_start_tau and other.print_end_tau > one.set_up_start_tau:
                found.append(
                    Violation(
                        rule="one_run_at_a_time",
                        run_id=other.run_id,
                        press_id=press_id,
                        at_tau=other.set_up_start_tau,
                        message=f"{press_text(week, press_id)} holds {run_text(week, one.run_id)} until "
                        f"{end_text(week, one.print_end_tau)}, but {run_text(week, other.run_id)} is set up from "
                        f"{start_text(week, other.set_up_start_tau)}",
                    )
                )
    return found


def staged_before_set_up(week: Week, plan: Plan) -> list[Violation]:
    """A cart is staged in its minutes, with the taped screens on it, before the run's set-up starts.

    open minutes of staging hours in [stage_start, stage_end) = staging.minutes; stage_end <= set_up_start;
    stage_start >= tape_end of the run's own burn. No staging: stage_start = stage_end = set_up_start.
    That the garments are there is `blanks_are_there`.
    """
    found = []

    def tell(planned: PlannedRun, what: str) -> None:
        found.append(
            Violation(
                rule="staged_before_set_up",
                run_id=planned.run_id,
                press_id=planned.press_id,
                at_tau=planned.stage_start_tau,
                message=f"staging of {run_text(week, planned.run_id)} {what}",
            )
        )

    for planned in plan.runs:
        minutes = staging_min(week, planned.run_id)
        if not minutes or week.staging is None:
            if not planned.stage_start_tau == planned.stage_end_tau == planned.set_up_start_tau:
                tell(planned, "is planned where none is needed")
            continue
        windows = open_windows(week.staging.calendar, plan)
        worked = open_min(windows, planned.stage_start_tau, planned.stage_end_tau)
        if worked != minutes:
            tell(planned, f"has {worked} open minutes, it takes {minutes}")
        if planned.stage_end_tau > planned.set_up_start_tau:
            tell(
                planned,
                f"ends {end_text(week, planned.stage_end_tau)}, set-up starts "
                f"{start_text(week, planned.set_up_start_tau)} before it",
            )
        if planned.burn is not None and planned.stage_start_tau < planned.burn.tape_end_tau:
            tell(
                planned,
                f"starts {start_text(week, planned.stage_start_tau)}, its screens are taped by "
                f"{end_text(week, planned.burn.tape_end_tau)}",
            )
    return found


def fits_its_press(week: Week, plan: Plan) -> list[Violation]:
    """A run goes on a press it fits, with a head for each of its own and for every ink kept live.

    press in choices[run]; heads_needed + inks kept <= head_count.
    """
    found = []

    def tell(planned: PlannedRun, message: str) -> None:
        found.append(
            Violation(
                rule="fits_its_press",
                run_id=planned.run_id,
                press_id=planned.press_id,
                at_tau=planned.set_up_start_tau,
                message=message,
            )
        )

    for planned in plan.runs:
        run, press = week.run.get(planned.run_id), week.press.get(planned.press_id)
        if run is None:
            continue  # every_run_once
        choice = run.on_press.get(planned.press_id)
        name = run_text(week, planned.run_id)
        if press is None or choice is None:
            tell(planned, f"{name} does not fit {press_text(week, planned.press_id)}")
            continue
        if choice.in_way(planned.way) is None:
            tell(planned, f"{name} cannot be printed on {press.name} in way {planned.way}")
            continue
        heads = choice.heads_needed + len(planned.kept_inks)
        if heads > press.head_count:
            tell(
                planned,
                f"{name} with {len(planned.kept_inks)} inks kept needs {heads} heads, {press.name} has "
                f"{press.head_count}",
            )
    return found


def print_takes_its_time(week: Week, plan: Plan) -> list[Violation]:
    """A print takes its minutes at the press, further batches of ink that goes off and, for each stop, to restart,
    to rinse and ink if it is long.

    open press minutes in [print_start, print_end) = print_min + (ceil(print_min / pot_life_min) - 1) x remix_min
    + wash_up_min + sum of restart minutes
    + (wash_up_min + re_ink_min) x stops longer than idle_ok_min; minutes in which its dryer and flashes warm up are no
    open ones.
    """
    found = []
    for planned, press, choice in on_a_press(week, plan):
        windows = open_windows(press.prints_in, plan)
        start, end = planned.print_start_tau, planned.print_end_tau
        run = week.run[planned.run_id]
        limit_min = run.idle_ok_min
        needed = choice.print_min + choice.wash_up_min + further_batches(run, choice.print_min) * run.remix_min
        needed += restart_min(windows, press.restart, start, end)
        needed += choice.long_stop_min * len(long_stops(windows, limit_min, start, end))
        worked = open_min(windows, start, end)
        if worked != needed or end < start:
            found.append(
                Violation(
                    rule="print_takes_its_time",
                    run_id=planned.run_id,
                    press_id=planned.press_id,
                    at_tau=start,
                    message=f"{run_text(week, planned.run_id)} prints on {press.name} for {worked} open minutes from "
                    f"{start_text(week, start)} to {end_text(week, end)}; it takes {needed}, restarts included",
                )
            )
    return found


def further_batches(run: Run, print_min: int) -> int:
    """How often its ink is mixed again: counted off batch by batch, none where it does not go off."""
    if run.pot_life_min is None:
        return 0
    return sum(1 for _ in range(run.pot_life_min, print_min, run.pot_life_min))


def print_follows_set_up(week: Week, plan: Plan) -> list[Violation]:
    """Printing starts in the first minute after set-up in which the press is open, its dryer and flashes hot.

    print_start = min { t >= set_up_end : t open for printing on the press }.
    """
    found = []
    for planned, press, _ in on_a_press(week, plan):
        first = first_open(open_windows(press.prints_in, plan), planned.set_up_end_tau)
        if planned.print_start_tau != first:
            told = "there is no open minute after it" if first is None else f"it can at {start_text(week, first)}"
            found.append(
                Violation(
                    rule="print_follows_set_up",
                    run_id=planned.run_id,
                    press_id=planned.press_id,
                    at_tau=planned.print_start_tau,
                    message=f"{run_text(week, planned.run_id)} is set up by {end_text(week, planned.set_up_end_tau)} "
                    f"and starts printing {start_text(week, planned.print_start_tau)}; {told}",
                )
            )
    return found


def ink_may_not_stand(week: Week, plan: Plan) -> list[Violation]:
    """Inks that dry in the mesh stand no longer than they may between first mounting and the first piece.

    For each stop of the press in (set_up_start, print_start]: wall minutes <= idle_ok_min.
    """
    found = []
    for planned, press, _ in on_a_press(week, plan):
        allowed = week.run[planned.run_id].idle_ok_min
        if allowed is None:
            continue
        windows = open_windows(press.calendar, plan)
        for window in long_stops(windows, allowed, planned.set_up_start_tau, planned.print_start_tau + 1):
            found.append(
                Violation(
                    rule="ink_may_not_stand",
                    run_id=planned.run_id,
                    press_id=planned.press_id,
                    at_tau=window.start_tau,
                    message=f"the ink of {run_text(week, planned.run_id)} stands on {press.name} for "
                    f"{window.stop_before_min} min before {start_text(week, window.start_tau)}, "
                    f"it may for {allowed}",
                )
            )
    return found


def rinsed_before_long_stops(week: Week, plan: Plan) -> list[Violation]:
    """Before a stop its inks may not stand, a print has the minutes to rinse them out.

    For each such stop inside the print: its minutes in the window before the stop >= wash_up_min.
    """
    found = []
    for planned, press, choice in on_a_press(week, plan):
        windows = open_windows(press.prints_in, plan)
        start, end = planned.print_start_tau, planned.print_end_tau
        for window in long_stops(windows, week.run[planned.run_id].idle_ok_min, start, end):
            before = windows[windows.index(window) - 1]
            there_min = before.end_tau - max(start, before.start_tau)
            if there_min < choice.wash_up_min:
                found.append(
                    Violation(
                        rule="rinsed_before_long_stops",
                        run_id=planned.run_id,
                        press_id=planned.press_id,
                        at_tau=window.start_tau,
                        message=f"{run_text(week, planned.run_id)} has {there_min} min on {press.name} before the stop "
                        f"at {end_text(week, before.end_tau)}; rinsing its inks out takes {choice.wash_up_min}",
                    )
                )
    return found


def flash_units_suffice(week: Week, plan: Plan) -> list[Violation]:
    """Flashes on wheels are on one press at a time, from first mounting to last piece; a paused run keeps them.

    Per pool, at every minute: sum of flash_units over runs in [set_up_start, print_end) on its presses <= units.
    """
    found = []
    for pool in week.flash_pools:
        takes = [
            (planned, choice.flash_units)
            for planned, press, choice in on_a_press(week, plan)
            if press.flash_pool == pool.pool_id
        ]
        # A pool can only run short where somebody takes from it.
        for at in sorted({planned.set_up_start_tau for planned, _ in takes}):
            there = [(one, units) for one, units in takes if one.set_up_start_tau <= at < one.print_end_tau]
            total = sum(units for _, units in there)
            if total > pool.units:
                names = ", ".join(run_text(week, one.run_id) for one, _ in there)
                found.append(
                    Violation(
                        rule="flash_units_suffice",
                        run_id=there[-1][0].run_id,
                        press_id=there[-1][0].press_id,
                        at_tau=at,
                        message=f"{total} flashes of {pool.pool_id} stand at once from {start_text(week, at)} "
                        f"for {names}; there are {pool.units}",
                    )
                )
    return found


def belt_is_shared(week: Week, plan: Plan) -> list[Violation]:
    """Runs printing into one dryer at once fit on its belt.

    At every minute, over runs printing (not paused) on the dryer's presses: sum of belt_permille <= 1000.
    """
    on_belt: dict[str, list[tuple[int, int, int, PlannedRun]]] = {}
    for planned, press, choice in on_a_press(week, plan):
        if press.dryer_id is None or not choice.belt_permille:
            continue
        windows = open_windows(press.prints_in, plan)
        for start, end in pieces(windows, planned.print_start_tau, planned.print_end_tau):
            on_belt.setdefault(press.dryer_id, []).append((start, end, choice.belt_permille, planned))
    found = []
    for dryer_id, shares in on_belt.items():
        # The belt can only become overfull where somebody starts or goes on.
        for at in sorted({start for start, *_ in shares}):
            there = [share for share in shares if share[0] <= at < share[1]]
            total = sum(permille for _, _, permille, _ in there)
            if total > BELT_FULL_PERMILLE:
                names = ", ".join(run_text(week, planned.run_id) for *_, planned in there)
                found.append(
                    Violation(
                        rule="belt_is_shared",
                        run_id=there[-1][3].run_id,
                        press_id=there[-1][3].press_id,
                        at_tau=at,
                        message=f"the belt of dryer {dryer_id} is filled to {total / 10:g} % "
                        f"from {start_text(week, at)} by {names}",
                    )
                )
    return found
