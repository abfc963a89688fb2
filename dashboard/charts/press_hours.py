"""Where each press's open hours go, until the last press of the plan stops."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

import plotly.graph_objects as go

from dashboard.charts.drawn import HATCH, halo
from dashboard.charts.palette import SPENT
from dashboard.charts.picture import Picture
from dashboard.charts.template import register
from scheduler.api import words
from scheduler.domain.calendars import Window
from scheduler.domain.plan import Plan
from scheduler.domain.week import PressLine, Week

if TYPE_CHECKING:
    from scheduler.api import PlanView

HEADINGS = (
    "press", "printing", "setting up", "changing inks", "waiting", "waiting for", "nothing booked", "open hours",
)  # fmt: skip
BAR_PX, AROUND_PX = 62, 92
WARMING = "its dryer or flash to warm up"
"""The press is open and has its run, set up, but nothing can be cured yet."""

LABEL_PX = 36
"""Pieces narrower than this carry no figure."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PressHours:
    """A press's open minutes from the planning moment to the end of the plan's last print.

    waiting_min: open, idle, with a run still to come, by what it waits for. free_min: idle with nothing to come.
    """

    name: str
    printing_min: int
    set_up_min: int
    ink_min: int
    waiting_min: dict[str, int]
    free_min: int

    @property
    def open_min(self) -> int:
        """All of it."""
        return self.printing_min + self.set_up_min + self.ink_min + sum(self.waiting_min.values()) + self.free_min

    @property
    def spent(self) -> dict[str, int]:
        """Minutes by the looks of `palette.SPENT`."""
        return {
            "printing": self.printing_min,
            "setting up": self.set_up_min,
            "changing inks": self.ink_min,
            "waiting": sum(self.waiting_min.values()),
            "nothing booked": self.free_min,
        }


def hours_of(week: Week, plan: Plan, view: PlanView) -> tuple[PressHours, ...]:
    """Each press's open minutes, in the shop's order."""
    end_tau = max((one.print_end_tau for one in plan.runs), default=0)
    return tuple(_hours_of(week, plan, view, press, end_tau) for press in week.presses)


def _hours_of(week: Week, plan: Plan, view: PlanView, press: PressLine, end_tau: int) -> PressHours:
    queue = plan.queue.get(press.press_id, ())
    worked = Counter[str]()
    for one in view.activities:
        if one.place == press.press_id:
            worked[one.kind] += sum(end - start for start, end in one.stretches)
    wash_up_min = sum(week.run[one.run_id].on_press[press.press_id].wash_up_min for one in queue)
    leaving_min = sum(view.ink_min.get(one.run_id, 0) for one in queue)
    windows = view.press_hours[press.press_id]
    waiting = {one.what: one.wait_min for one in view.waits if one.press_id == press.press_id and one.wait_min}
    on_press_min = sum(_open_min(windows, one.set_up_start_tau, one.print_end_tau) for one in queue)
    warming_min = on_press_min - worked["set-up"] - worked["printing"]
    if warming_min:
        waiting[WARMING] = warming_min
    open_min = _open_min(windows, 0, end_tau)
    busy_min = worked["set-up"] + worked["printing"] + sum(waiting.values())
    return PressHours(
        name=press.name,
        printing_min=worked["printing"] - wash_up_min,
        set_up_min=worked["set-up"] - leaving_min,
        ink_min=leaving_min + wash_up_min,
        waiting_min=waiting,
        free_min=open_min - busy_min,
    )


def _open_min(windows: Sequence[Window], from_tau: int, to_tau: int) -> int:
    return sum(max(0, min(one.end_tau, to_tau) - max(one.start_tau, from_tau)) for one in windows)


def press_hours(week: Week, plan: Plan, view: PlanView, *, width_px: int = 900) -> Picture:
    """A bar for each press, its open hours split by what they go into."""
    rows = hours_of(week, plan, view)
    label_hours = LABEL_PX / width_px * max((row.open_min for row in rows), default=0) / 60
    figure = go.Figure(layout={"template": register()})
    for name, look in SPENT.items():
        hours = [row.spent[name] / 60 for row in rows]
        figure.add_trace(
            go.Bar(
                orientation="h",
                x=hours,
                y=[escape(row.name) for row in rows],
                name=look.name,
                text=[f"{value:.1f}" if value >= label_hours and value else "" for value in hours],
                textposition="inside",
                insidetextanchor="middle",
                textangle=0,
                constraintext="none",
                insidetextfont={"color": look.text, "shadow": halo(look)},
                hovertemplate="%{y}: " + look.name + " %{x:.1f} h<extra></extra>",
                marker={
                    "color": look.fill,
                    "line": {"color": look.edge, "width": look.edge_px},
                    "pattern": {**HATCH, "shape": look.pattern},
                },
            )
        )  # fmt: skip
    figure.update_layout(
        barmode="stack",
        bargap=0.35,
        showlegend=True,
        legend={"traceorder": "normal"},
        height=BAR_PX * max(1, len(rows)) + AROUND_PX,
        xaxis={"title": {"text": "open hours"}, "rangemode": "tozero"},
        yaxis={"autorange": "reversed", "showgrid": False},
        margin={"t": 60},
    )
    sentence = _sentence(rows)
    return Picture(
        figure=figure,
        sentence=sentence,
        alt=f"A bar for each press: its open hours until the last press stops, by what they go into. {sentence}",
        headings=HEADINGS,
        rows=tuple(_row(row) for row in rows),
    )


def _row(row: PressHours) -> tuple[str, ...]:
    waits = [f"{what} {words.minutes(count)}" for what, count in row.waiting_min.items()]
    spent = row.spent
    return (
        row.name,
        words.minutes(spent["printing"]),
        words.minutes(spent["setting up"]),
        words.minutes(spent["changing inks"]),
        words.minutes(spent["waiting"]),
        words.listed(waits),
        words.minutes(spent["nothing booked"]),
        words.minutes(row.open_min),
    )


def _sentence(rows: tuple[PressHours, ...]) -> str:
    """What presses wait for most, or that they do not wait."""
    waits = Counter[str]()
    for row in rows:
        waits.update(row.waiting_min)
    if not waits:
        return "No press stands waiting between its runs."
    what, most_min = max(waits.items(), key=lambda one: (one[1], one[0]))
    where = [row.name for row in rows if row.waiting_min.get(what)]
    return (
        f"Presses stand waiting for {words.minutes(sum(waits.values()))} in all, "
        f"longest for {what}: {words.minutes(most_min)} on {words.listed(where)}."
    )
