"""Which runs a what-if hits: those that cannot stay where the plan has them, whatever the others do."""

from __future__ import annotations

from scheduler.domain.answers import Standing
from scheduler.domain.calendars import Calendar
from scheduler.domain.plan import PlannedRun
from scheduler.domain.week import Week


def hit_runs(standing: Standing, week: Week) -> frozenset[str]:
    """Announced runs that are not fixed and whose garments, screens, press, minutes or hours are others now.

    Where the shop's open hours are others, hours are not compared: the shop minutes of both weeks differ.
    """
    return frozenset(
        run.run_id
        for run in week.runs
        if run.run_id in standing.plan.run
        and run.run_id not in week.fixing
        and _is_hit(standing, week, standing.plan.run[run.run_id])
    )


def _is_hit(standing: Standing, week: Week, planned: PlannedRun) -> bool:
    run, before = week.run[planned.run_id], standing.week.run[planned.run_id]
    choice, was = run.on_press.get(planned.press_id), before.on_press[planned.press_id]
    if choice is None or choice.work_min > was.work_min or run.set_id != before.set_id:
        return True
    if week.clock != standing.week.clock:
        return run.blanks_tau > before.blanks_tau or run.art_tau > before.art_tau
    if run.blanks_tau > planned.stage_start_tau:
        return True
    if planned.burn is not None and run.art_tau > planned.burn.start_tau:
        return True
    span = planned.set_up_start_tau, planned.print_end_tau
    bought = standing.plan.overtime
    old, new = standing.week.press[planned.press_id].calendar, week.press[planned.press_id].calendar
    return old is not new and _open_min(new, bought, *span) < _open_min(old, bought, *span)


def _open_min(calendar: Calendar, bought: tuple[str, ...], start_tau: int, end_tau: int) -> int:
    windows = calendar.with_bought(bought).windows
    return sum(max(0, min(end_tau, one.end_tau) - max(start_tau, one.start_tau)) for one in windows)
