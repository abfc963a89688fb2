"""Promised pick-ups that were kept, by the chance that was told for them: on the line the odds were true."""

from __future__ import annotations

from typing import TYPE_CHECKING

import plotly.graph_objects as go

from dashboard.charts.palette import INK, MUTED, PICKED
from dashboard.charts.picture import Picture
from dashboard.charts.template import register
from scheduler.api import words

if TYPE_CHECKING:
    from scheduler.shop_book import Calibration

IN_ALL = 20
HEIGHT_PX = 320
HEADINGS = ("chance told", "orders", "kept", "to be expected")


def reliability(found: Calibration) -> Picture:
    """A dot for each fifth of the chances told, with how many orders it stands for; the line is where both agree."""
    shown = [one for one in found.fifths if one.orders]
    told = [IN_ALL * one.told for one in shown]
    kept = [IN_ALL * one.kept / one.orders for one in shown]
    figure = go.Figure(layout={"template": register()})
    figure.add_trace(
        go.Scatter(x=[0, IN_ALL], y=[0, IN_ALL], mode="lines", line={"color": MUTED, "dash": "dot"}, hoverinfo="skip")
    )
    figure.add_trace(
        go.Scatter(
            x=told,
            y=kept,
            mode="markers+text",
            text=[words.counted(one.orders, "order") for one in shown],
            textposition=["middle left" if place > IN_ALL / 2 else "middle right" for place in told],
            textfont={"color": INK},
            marker={"color": PICKED, "size": 11},
            cliponaxis=False,
            hoverinfo="skip",
        )
    )
    ticks = [0, IN_ALL // 4, IN_ALL // 2, 3 * IN_ALL // 4, IN_ALL]
    figure.update_layout(
        height=HEIGHT_PX,
        xaxis={"range": [0, IN_ALL], "tickvals": ticks, "title": {"text": "told: times in twenty"}},
        yaxis={"range": [0, IN_ALL], "tickvals": ticks, "title": {"text": "kept: times in twenty"}},
        margin={"l": 8, "r": 16, "t": 12, "b": 8},
    )
    rows = tuple(
        (
            f"{IN_ALL * one.least:g} to {IN_ALL * one.most:g} in {IN_ALL}",
            one.orders,
            one.kept,
            f"{one.orders * one.told:.1f}",
        )
        for one in shown
    )
    alt = "; ".join(f"told {row[0]}: {row[2]} of {row[1]} kept, {row[3]} to be expected" for row in rows)
    return Picture(
        figure=figure,
        sentence=found.sentence,
        alt=f"A dot for each fifth of the chances told, above the line where more was kept. {alt}.",
        headings=HEADINGS,
        rows=rows,
    )
