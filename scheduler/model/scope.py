"""What of a week is still to be decided: all of it, or a few runs beside a plan that stays."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.week import PressChoice, Run, Stack, Week


@dataclass(frozen=True, slots=True, kw_only=True)
class LineUp:
    """The queue of one press as far as it is open.

    stands, kept: what is on the press before it. in_order: runs that keep their order among themselves. loose: runs
    that may go anywhere between them, or onto another press.
    """

    press_id: str
    stands: Stack
    kept: frozenset[str]
    in_order: tuple[str, ...]
    loose: tuple[str, ...]

    def pairs(self) -> list[tuple[str | None, str | None]]:
        """Who may stand straight before whom; None is what is on the press now, or the end of the queue."""
        chain: list[str | None] = [None, *self.in_order, None]
        found: list[tuple[str | None, str | None]] = []
        if self.in_order or self.loose:
            found += [(chain[i], chain[i + 1]) for i in range(len(chain) - 1)]
        for run_id in self.loose:
            found += [(before, run_id) for before in (None, *self.in_order)]
            found += [(run_id, after) for after in (None, *self.in_order)]
            found += [(run_id, other) for other in self.loose if other != run_id]
        return found


class Scope:
    """Everything is open: each run on any press it fits, at any time, all overtime on offer."""

    def __init__(self, week: Week) -> None:
        """Open the whole week."""
        self.week = week
        self.offered: frozenset[str] = frozenset(block.block_id for block in week.overtime)
        self.bought: frozenset[str] = frozenset()

    def choices(self, run: Run) -> tuple[PressChoice, ...]:
        """Presses the run may go on."""
        return tuple(choice for choice in run.choices if choice.press_id in self.week.press)

    def line_up(self, press_id: str) -> LineUp:
        """The press's queue as far as it is open."""
        press = self.week.press[press_id]
        loose = tuple(run.run_id for run in self.week.runs if press_id in run.on_press)
        return LineUp(press_id=press_id, stands=press.now_on, kept=frozenset(), in_order=(), loose=loose)

    def span_tau(self, kind: str, owner_id: str) -> tuple[int, int]:
        """First and last shop minute a time may have; kind e.g. "set_up_start" of a run, "packed" of an order."""
        return 0, self.week.horizon_tau
