"""The day sheet of a press: what runs on one day, in order, with what it finds there and fields for the count."""

from __future__ import annotations

from datetime import date, datetime

from scheduler.domain.plan import PlannedRun
from scheduler.domain.week import PressLine
from scheduler.papers.cautions import press_cautions
from scheduler.papers.floor.checks import print_stretches
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.press_sheets import NO_SPARES, PressSheet, press_sheets
from scheduler.papers.floor.sheet import Cell, Sheet, Table
from scheduler.papers.floor.who_is_where import people_at
from scheduler.papers.words import counted, listed, long_day, until
from scheduler.review.hours import open_windows, pieces

HEADINGS = ("set up", "print", "order", "garments", "heads, in print order", "set-up")


def day_sheets(ground: Ground, press_id: str) -> tuple[Sheet, ...]:
    """A sheet for each day on which the press works; a run over a night stands on both days."""
    press = ground.week.press[press_id]
    sheets = press_sheets(ground, press_id)
    by_day: dict[date, list[tuple[datetime, PressSheet]]] = {}
    for sheet in sheets:
        for day, at in sorted(_first_work(ground, press, ground.whole.run[sheet.row.run_id]).items()):
            by_day.setdefault(day, []).append((at, sheet))
    stacks = [press.now_on, *(ground.choice(ground.whole.run[sheet.row.run_id]).stack for sheet in sheets)]
    cautions = press_cautions(stacks, ground.week.ink)
    return tuple(_day(ground, press, day, by_day[day], cautions) for day in sorted(by_day))


def _first_work(ground: Ground, press: PressLine, planned: PlannedRun) -> dict[date, datetime]:
    """The first moment of each day at which a run is worked on at its press."""
    clock = ground.week.clock
    set_up = pieces(open_windows(press.calendar, ground.whole), planned.set_up_start_tau, planned.set_up_end_tau)
    starts = [clock.starts_at(start) for start, _ in set_up]
    starts += [start for start, _ in print_stretches(ground.week, ground.whole, planned)]
    starts += [] if starts else [clock.starts_at(planned.set_up_start_tau)]
    found: dict[date, datetime] = {}
    for at in sorted(starts):
        found.setdefault(at.date(), at)
    return found


def _day(
    ground: Ground,
    press: PressLine,
    day: date,
    work: list[tuple[datetime, PressSheet]],
    cautions: tuple[str, ...],
) -> Sheet:
    work.sort(key=lambda one: one[0])
    told = [f"{counted(len(work), 'run')}."]
    told += [
        f"{half.capitalize()}: {listed(names)}." for half, names in people_at(ground, press.press_id, day) if names
    ]
    free = [
        f"{start:%H:%M} to {until(start, end)}"
        for one in press.kept_free
        if one.overtime_id not in ground.plan.overtime
        for start, end in [(ground.week.clock.starts_at(one.start_tau), ground.week.clock.ends_at(one.end_tau))]
        if start.date() == day
    ]
    told += [f"Kept free for reprints and rushes: {listed(free)}."] if free else []
    return Sheet(
        title=f"{press.name}, {long_day(datetime(day.year, day.month, day.day))}",
        said=(" ".join(told),),
        tables=(
            Table(
                kind="presses by day",
                headings=HEADINGS,
                rows=tuple(_row(at, sheet) for at, sheet in work),
                widths=((0, 17), (1, 21), (3, 26), (4, 31), (5, 37)),
                bold=frozenset({0}),
                large=frozenset({0}),
                blanks=(("good, spoiled", 16),),
            ),
        ),
        cautions=cautions,
    )


def _row(at: datetime, sheet: PressSheet) -> tuple[Cell, ...]:
    row = sheet.row
    goes_on = row.set_up_at.date() != at.date()
    printing = (
        f"goes on\ndone {until(at, row.end_at)}"
        if goes_on
        else f"{until(at, row.print_at)}\ndone {until(at, row.end_at)}"
    )
    told = [one for one in (row.late, row.pencilled) if one]
    return (
        f"{at:%H:%M}",
        printing,
        "\n".join([f"{row.order_id} · {row.client}", f"{row.location}, {row.design}", *told]),
        "\n".join(
            f"{lot.pieces} {lot.garment}{' - ' + NO_SPARES if lot.is_from_client else ''}" for lot in sheet.garments
        ),
        "\n".join(
            f"{head.head if head.head is not None else '–'}  {head.prints}{f' {head.mesh}' if head.mesh else ''}"
            f"{f' x{head.hits}' if head.hits > 1 else ''}{f' {head.flash_s:g} s' if head.flash_s else ''}"
            for head in sheet.heads
        ),
        "as it stood; test print first" if goes_on else f"{row.set_up_min} min: {'; '.join(row.changes)}",
    )
