"""The look of every figure, named in every figure: a library that changes plotly's default changes nothing here."""

from __future__ import annotations

import plotly.graph_objects as go
import plotly.io as pio

from dashboard.charts.palette import INK, MUTED, PAPER, RULE

NAME = "pressweek"
FONT = "system-ui, -apple-system, 'Segoe UI', 'DejaVu Sans', sans-serif"
TEXT_PX = 13


def _template() -> go.layout.Template:
    axis = {
        "gridcolor": RULE,
        "linecolor": RULE,
        "zeroline": False,
        "tickangle": 0,
        "fixedrange": True,
        "tickfont": {"color": INK, "size": TEXT_PX},
        "title": {"font": {"color": MUTED, "size": TEXT_PX}},
        "automargin": True,
    }
    return go.layout.Template(
        layout={
            "font": {"family": FONT, "size": TEXT_PX, "color": INK},
            "paper_bgcolor": PAPER,
            "plot_bgcolor": PAPER,
            "colorway": [INK],
            "margin": {"l": 8, "r": 8, "t": 28, "b": 8},
            "xaxis": axis,
            "yaxis": {**axis, "ticklabelstandoff": 6},
            "showlegend": False,
            "legend": {
                "orientation": "h",
                "yanchor": "bottom",
                "y": 1.0,
                "x": 0,
                "itemclick": False,
                "itemdoubleclick": False,
            },
            "hoverlabel": {
                "bgcolor": PAPER,
                "bordercolor": INK,
                "font": {"color": INK, "size": TEXT_PX},
                "align": "left",
            },
            "dragmode": False,
            "bargap": 0,
        }
    )


def register() -> str:
    """The template's name, registered with plotly under it."""
    if NAME not in pio.templates:
        pio.templates[NAME] = _template()
    return NAME


CONFIG = {"displayModeBar": False, "scrollZoom": False, "doubleClick": False, "responsive": True}
"""What a page hands to plotly with each figure: no tool bar, and fingers scroll the page, not the chart."""
