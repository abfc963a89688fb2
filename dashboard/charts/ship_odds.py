"""How often an order is ready for each pick-up, in twenty weeks like this one; the day to say is the dark one."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

import plotly.graph_objects as go

from dashboard.charts.palette import INK, MUTED, PAPER, PICKED, PRINTING
from dashboard.charts.picture import Picture
from dashboard.charts.template import register
from scheduler.api import words
from scheduler.domain.clock import ShopClock

if TYPE_CHECKING:
    from scheduler.api import ShipDay

HEADINGS = ("ready for the pick-up of", "weeks in twenty", "which is")
BAR_PX, AROUND_PX = 34, 52
SAY, PROMISED = "the day to say", "promised"


def ship_odds(clock: ShopClock, day: ShipDay, in_all: int) -> Picture:
    """A bar for each pick-up from the first that may be made to the first that always is; counts are rounded down."""
    names = [words.day_and_time(clock.ends_at(one.pickup_tau)) for one in day.odds]
    said = [_said(day, one.pickup_tau) for one in day.odds]
    counts = [one.in_20 for one in day.odds]
    is_told = [one.pickup_tau == day.say_tau for one in day.odds]
    figure = go.Figure(layout={"template": register()})
    figure.add_trace(
        go.Bar(
            orientation="h",
            x=counts,
            y=[escape(name) for name in names],
            text=[f"{count} in {in_all}" for count in counts],
            textposition=["inside" if 3 * count >= in_all else "outside" for count in counts],
            insidetextanchor="end",
            textangle=0,
            constraintext="none",
            cliponaxis=False,
            insidetextfont={"color": [PAPER if told else INK for told in is_told]},
            hoverinfo="skip",
            marker={
                "color": [PICKED if told else PRINTING for told in is_told],
                "line": {"color": MUTED, "width": 0.7},
            },
        )
    )
    figure.update_layout(
        height=BAR_PX * max(1, len(counts)) + AROUND_PX,
        bargap=0.3,
        xaxis={"range": [0, in_all], "tickvals": [0, in_all // 2, in_all], "title": {"text": "weeks in twenty"}},
        yaxis={"autorange": "reversed", "showgrid": False, "type": "category"},
        margin={"l": 8, "r": 16, "t": 8, "b": 8},
    )
    told = "; ".join(f"{name}: {count}" for name, count in zip(names, counts, strict=True))
    sentence = f"Ready in time, of {in_all} weeks like this one: {told}."
    rows = tuple((name, str(count), what) for name, count, what in zip(names, counts, said, strict=True))
    return Picture(
        figure=figure, sentence=sentence, alt=f"A bar for each pick-up. {sentence}", headings=HEADINGS, rows=rows
    )


def _said(day: ShipDay, pickup_tau: int) -> str:
    """What a pick-up is to this order."""
    told = [SAY] if pickup_tau == day.say_tau else []
    return ", ".join([*told, PROMISED] if pickup_tau == day.promised_tau else told)
