"""The planner's own sequence, and what is told of it once it is timed: where presses waited, what would save most."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnLine:
    """One line of the planner's sequence, names spelled as in the week; "" where the line does not say.

    It means every run of the order that agrees with what is said and stands in no line before. row: line of the file.
    """

    order_id: str
    location: str = ""
    shade: str = ""
    garment: str = ""
    press_id: str = ""
    row: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnOrder:
    """The lines in the wanted order. source: what messages call the list, e.g. "queue.csv"."""

    source: str
    lines: tuple[OwnLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PressWait:
    """Open minutes for which a press stood before its next run could be set up. what: "garments", "people", ..."""

    press_id: str
    what: str
    wait_min: int


@dataclass(frozen=True, slots=True, kw_only=True)
class OneChange:
    """One thing done otherwise than listed, all else as listed. saves_cents is above 0; late_fewer may be below 0."""

    words: str
    saves_cents: int
    late_fewer: int
