"""How full each dryer's belt is, with its limit: runs that print at once share a belt."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING, Any

import plotly.graph_objects as go
from plotly.subplots import make_subplots

from dashboard.charts.bars import BELT_FULL_PERMILLE
from dashboard.charts.palette import INK, LATE, LOAD, PAPER
from dashboard.charts.picture import Picture
from dashboard.charts.shop_axis import clock_ticks, day_ticks, shop_days
from dashboard.charts.template import register
from scheduler.api import words
from scheduler.domain.week import Week

if TYPE_CHECKING:
    from scheduler.api import BeltStretch, PlanView

HEADINGS = ("dryer", "from", "until", "belt full", "runs on it")
BELT_PX = 130
TOP_PX, TICKS_PX = 10, 32


def belt_load(week: Week, view: PlanView, *, from_tau: int, to_tau: int, width_px: int = 1100) -> Picture:
    """Each belt's load over shop minutes [from_tau, to_tau), in per cent, the limit a heavy line."""
    names = list(dict.fromkeys(press.dryer_id for press in week.presses if press.dryer_id))
    shown = [one for one in view.belts if one.start_tau < to_tau and one.end_tau > from_tau]
    figure = make_subplots(rows=max(1, len(names)), cols=1, shared_xaxes=True, vertical_spacing=0.06)
    figure.update_layout(template=register())
    for number, name in enumerate(names, start=1):
        _draw(figure, number, [one for one in shown if one.dryer_id == name], (from_tau, to_tau))
        figure.update_yaxes(
            range=[0, _top(shown)],
            tickvals=[0, 50, 100],
            ticktext=["", "50 %", "limit"],
            title={"text": escape(words.dryer(name))},
            row=number,
            col=1,
        )
    days = [day for day in shop_days(week.clock) if day.from_tau < to_tau and day.to_tau > from_tau]
    ticks = (
        clock_ticks(week.clock, from_tau, to_tau, width_px=width_px)
        if len(days) == 1
        else day_ticks(week.clock, from_tau, to_tau)
    )
    figure.update_xaxes(range=[from_tau, to_tau], tickvals=ticks[0], ticktext=ticks[1], showgrid=len(days) == 1)
    figure.update_layout(
        height=BELT_PX * max(1, len(names)) + TOP_PX + TICKS_PX,
        margin={"l": 8, "r": 8, "t": TOP_PX, "b": TICKS_PX},
        shapes=_limits(len(names)),
    )
    sentence = " ".join(_told(week, name, [one for one in shown if one.dryer_id == name]) for name in names)
    sentence = sentence or "No press of this shop prints into a dryer whose belt is known."
    return Picture(
        figure=figure,
        sentence=sentence,
        alt=f"How full the belts are, one area for each dryer, the limit a heavy line at 100 %. {sentence}",
        headings=HEADINGS,
        rows=tuple(_row(week, one) for one in shown),
    )


def _draw(figure: go.Figure, number: int, stretches: list[BeltStretch], span: tuple[int, int]) -> None:
    """Two step areas: up to the limit, and what lies above it."""
    x: list[int] = []
    within: list[float] = []
    above: list[float] = []
    for one in stretches:
        start, end = max(one.start_tau, span[0]), min(one.end_tau, span[1])
        full, over = min(one.permille, BELT_FULL_PERMILLE) / 10, max(0, one.permille - BELT_FULL_PERMILLE) / 10
        x += [start, start, end, end]
        within += [0, full, full, 0]
        above += [0, over, over, 0]
    figure.add_trace(
        go.Scatter(
            x=x, y=within, mode="lines", line={"color": LOAD, "width": 1}, fill="tozeroy", fillcolor=LOAD,
            hoverinfo="skip", showlegend=False, stackgroup=f"belt {number}",
        ),
        row=number,
        col=1,
    )  # fmt: skip
    if any(above):
        figure.add_trace(
            go.Scatter(
                x=x, y=above, mode="lines", line={"color": LATE, "width": 0}, fillcolor=LATE, hoverinfo="skip",
                fillpattern={"shape": "x", "fgcolor": PAPER, "size": 6}, showlegend=False, stackgroup=f"belt {number}",
            ),
            row=number,
            col=1,
        )  # fmt: skip


def _top(stretches: list[BeltStretch]) -> float:
    """Room above the limit, and above what is over it."""
    return max(112.0, max((one.permille for one in stretches), default=0) / 10 * 1.05)


def _limits(count: int) -> list[dict[str, Any]]:
    """The heavy line at the limit of each belt."""
    line = {"color": INK, "width": 2.5}
    return [
        {
            "type": "line",
            "xref": "x domain" if number == 1 else f"x{number} domain",
            "yref": "y" if number == 1 else f"y{number}",
            "x0": 0,
            "x1": 1,
            "y0": 100,
            "y1": 100,
            "line": line,
        }
        for number in range(1, count + 1)
    ]


def _row(week: Week, one: BeltStretch) -> tuple[str, ...]:
    start, end = week.clock.starts_at(one.start_tau), week.clock.ends_at(one.end_tau)
    runs = words.listed(list(one.run_ids))
    return one.dryer_id, words.day_and_time(start), words.day_and_time(end), f"{one.permille / 10:g} %", runs


def _told(week: Week, name: str, stretches: list[BeltStretch]) -> str:
    """The verdict on one belt."""
    if not stretches:
        return f"Nothing is on the belt of {words.dryer(name)}."
    over_min = sum(one.end_tau - one.start_tau for one in stretches if one.permille > BELT_FULL_PERMILLE)
    fullest = max(stretches, key=lambda one: (one.permille, -one.start_tau))
    start, end = week.clock.starts_at(fullest.start_tau), week.clock.ends_at(fullest.end_tau)
    when = f"{words.day_and_time(start)} to {words.until(start, end)}"
    belt = f"The belt of {words.dryer(name)}"
    if over_min:
        return f"{belt} is over its limit for {words.minutes(over_min)}, most of all {when}."
    return f"{belt} is fullest {when}: {fullest.permille / 10:.0f} % of what it can carry."
