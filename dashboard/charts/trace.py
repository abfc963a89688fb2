"""How the best plan so far came down towards what no plan can undercut."""

from __future__ import annotations

from collections.abc import Sequence

import plotly.graph_objects as go

INK, PAPER, RULE, PICKED = "#20262B", "#FFFFFF", "#C9CDC8", "#3D5A98"

Points = Sequence[tuple[float, int, int]]
"""(seconds, cents of the best plan, cents that no plan can undercut)."""


def trace_figure(points: Points, until_s: float, currency: str) -> go.Figure:
    """Steps down for the best plan, a dashed line below it for the proven limit."""
    seconds = [point[0] for point in points] + [max(until_s, points[-1][0])] if points else []
    best = [point[1] / 100 for point in points] + [points[-1][1] / 100] if points else []
    limit = [point[2] / 100 for point in points] + [points[-1][2] / 100] if points else []
    unit = f" {currency}".rstrip()
    hover = f"after %{{x:.0f}} s: %{{y:,.2f}}{unit}"
    figure = go.Figure(
        [
            go.Scatter(
                x=seconds,
                y=best,
                mode="lines+markers",
                line={"shape": "hv", "color": INK, "width": 2.5},
                marker={"size": 6, "color": INK},
                name="best plan so far",
                hovertemplate=f"{hover}<extra>best plan so far</extra>",
            ),
            go.Scatter(
                x=seconds,
                y=limit,
                mode="lines",
                line={"shape": "hv", "color": PICKED, "width": 2, "dash": "dash"},
                name="no plan can cost less",
                hovertemplate=f"{hover}<extra>no plan can cost less</extra>",
            ),
        ]
    )
    figure.update_layout(
        template="none",
        height=260,
        margin={"l": 60, "r": 10, "t": 30, "b": 40},
        font={"color": INK, "size": 13},
        legend={"orientation": "h", "y": 1.15, "x": 0},
        dragmode=False,
        paper_bgcolor=PAPER,
        plot_bgcolor=PAPER,
        xaxis={"title": "seconds of looking", "rangemode": "tozero", "tickangle": 0, "gridcolor": RULE},
        yaxis={"title": f"cost{unit and ','}{unit}", "rangemode": "tozero", "gridcolor": RULE},
    )
    return figure
