"""What every chart hands back."""

from __future__ import annotations

from dataclasses import dataclass

import plotly.graph_objects as go

Cell = str | int | float


@dataclass(frozen=True, kw_only=True)
class Picture:
    """A chart. sentence: what it shows today. alt: the same and how it is drawn, for who cannot see it. headings and
    rows: the table below it, everything the figure shows. key: what its hatches mean, in words, for narrow screens.
    """

    figure: go.Figure
    sentence: str
    alt: str
    headings: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    key: str = ""

    @property
    def height_px(self) -> int:
        """How tall the figure is drawn."""
        return int(self.figure.layout.height or 0)
