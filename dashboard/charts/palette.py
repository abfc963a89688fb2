"""The colours. Only exceptions get colour; what a colour says is said by a shape, a pattern or a word as well."""

from __future__ import annotations

from dataclasses import dataclass

INK = "#20262B"
PAPER = "#FFFFFF"
PANEL = "#F3F1EA"
MUTED = "#5C666D"
RULE = "#C9CDC8"
PRINTING = "#9DB0B5"
SET_UP = "#D9E0DE"
INK_CHANGE = "#F3E6C4"
PAUSE = "#FFFFFF"
SCREENS = "#E3ECE0"
LATE = "#B23A1E"
CHAIN = "#12343B"
PICKED = "#3D5A98"
LOAD = "#5E8C9A"
WAITING = "#E3B23C"
FREE = "#FFFFFF"


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How a stretch of work is drawn. pattern: plotly's hatch, "" for none. text: colour of words upon it.
    name: what the key calls it.
    """

    name: str
    fill: str
    pattern: str = ""
    text: str = INK
    edge: str = MUTED
    edge_px: float = 0.7


LOOKS = {
    "printing": Look(name="printing", fill=PRINTING),
    "set-up": Look(name="set-up", fill=SET_UP, pattern="/"),
    "ink change": Look(name="inks leave, rinse out", fill=INK_CHANGE, pattern="x"),
    "pause": Look(name="pause with the run on the press", fill=PAUSE, pattern="-"),
    "late": Look(name="printing for a late order", fill=LATE, text=PAPER, edge=INK, edge_px=2.2),
    "screens": Look(name="screen room, carts, packing", fill=SCREENS),
    "drying": Look(name="screens drying", fill=PANEL),
    "belt": Look(name="belt load", fill=LOAD, text=PAPER),
}
"""Looks of the timeline by what is going on. Hatches tell apart what equals in grey."""

SPENT = {
    "printing": Look(name="printing", fill=PRINTING),
    "setting up": Look(name="setting up", fill=SET_UP, pattern="/"),
    "changing inks": Look(name="changing inks, rinsing out", fill=INK_CHANGE, pattern="x"),
    "waiting": Look(name="waiting, a run to come", fill=WAITING, pattern="."),
    "nothing booked": Look(name="nothing booked", fill=FREE),
}
"""Looks of a press's open hours by how they are spent."""

HOW_DRAWN = {"": "plain", "/": "slanted lines", "x": "crossed lines", "-": "level lines", ".": "dots"}
"""Hatches in words."""
