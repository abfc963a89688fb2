"""The bars of a timeline as arrays, and the few traces made of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import plotly.graph_objects as go

from dashboard.charts.palette import CHAIN, MUTED, Look

LABEL_SIZE_PX = 12
CHAIN_PX = 5


HATCH: dict[str, Any] = {"fillmode": "overlay", "fgcolor": MUTED, "fgopacity": 0.55, "size": 6, "solidity": 0.25}
"""How a hatch lies over a look's own colour."""


@dataclass(kw_only=True)
class Drawn:
    """Bars, one entry of each array for each. foot: (from, to, y) of the bars a chain may run along, by run."""

    base: list[int] = field(default_factory=list)
    length: list[int] = field(default_factory=list)
    y: list[float] = field(default_factory=list)
    height: list[float] = field(default_factory=list)
    text: list[str] = field(default_factory=list)
    about: list[tuple[str, str]] = field(default_factory=list)
    looks: list[Look] = field(default_factory=list)
    foot: dict[str, list[tuple[int, int, float]]] = field(default_factory=dict)

    def add(
        self, span: tuple[int, int], place: tuple[float, float], text: str, about: tuple[str, str], look: Look
    ) -> None:
        """A bar over [from, to) at (top, height). about: what is shown when pointed at, and its run."""
        self.base.append(span[0])
        self.length.append(span[1] - span[0])
        self.y.append(place[0] + place[1] / 2)
        self.height.append(place[1])
        self.text.append(text)
        self.about.append(about)
        self.looks.append(look)

    def trace(self) -> go.Bar:
        """All bars in one trace: the page stays quick however many there are."""
        return go.Bar(
            orientation="h",
            base=self.base,
            x=self.length,
            y=self.y,
            width=self.height,
            text=self.text,
            textposition="inside",
            insidetextanchor="middle",
            textangle=0,
            constraintext="none",
            insidetextfont={
                "color": [look.text for look in self.looks],
                "size": LABEL_SIZE_PX,
                "shadow": [halo(look) for look in self.looks],
            },
            customdata=self.about,
            hovertemplate="%{customdata[0]}<extra></extra>",
            marker={
                "color": [look.fill for look in self.looks],
                "line": {
                    "color": [look.edge for look in self.looks],
                    "width": [look.edge_px for look in self.looks],
                },
                "pattern": {**HATCH, "shape": [look.pattern for look in self.looks]},
            },
            showlegend=False,
            name="plan",
        )

    def chain_trace(self, chain: Sequence[str]) -> go.Scatter:
        """A heavy line along the feet of a chain's bars; gaps keep it one trace."""
        x: list[float | None] = []
        y: list[float | None] = []
        for run_id in chain:
            for start, end, foot in self.foot.get(run_id, ()):
                x += [start, end, None]
                y += [foot, foot, None]
        line = {"color": CHAIN, "width": CHAIN_PX}
        return go.Scatter(x=x, y=y, mode="lines", line=line, hoverinfo="skip", name="what its end hangs on")


def halo(look: Look) -> str:
    """The look's own colour around words upon it, so that a hatch does not strike them through."""
    return ", ".join([f"0 0 3px {look.fill}"] * 4) if look.pattern else "none"


def key(look: Look) -> go.Bar:
    """An empty trace that puts one look into the key."""
    edge = {"color": look.edge, "width": max(1.0, look.edge_px)}
    hatch = {**HATCH, "shape": look.pattern}
    return go.Bar(x=[None], y=[None], name=look.name, marker={"color": look.fill, "line": edge, "pattern": hatch})
