"""Dryers whose runs want them set in more than one way, as the decoder sees them."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.week import DryerLine, Week


@dataclass(frozen=True, slots=True)
class DryerSpec:
    """A dryer with more than one setting, and the presses that print into it."""

    line: DryerLine
    presses: tuple[int, ...]


def dryer_specs(week: Week) -> tuple[DryerSpec | None, ...]:
    """The dryer of each press; None where one setting serves all that prints into it."""
    lines = {line.dryer_id: line for line in week.dryers}
    found = []
    for press in week.presses:
        line = lines.get(press.dryer_id or "")
        feeding = tuple(i for i, one in enumerate(week.presses) if one.dryer_id == press.dryer_id)
        found.append(None if line is None else DryerSpec(line, feeding))
    return tuple(found)
