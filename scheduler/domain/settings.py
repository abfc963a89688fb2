"""How long and in which way to search for a plan."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.errors import SettingsError


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchSettings:
    """Limits of one search.

    seconds: wall time for everything. iterations: if given, work is counted instead of timed and nothing reads the
    clock: the same week, seed, workers and iterations give the same plan on every machine. workers: processes at
    work. Raises SettingsError for limits that make no sense.
    """

    seconds: float = 20.0
    seed: int = 1
    workers: int = 2
    iterations: int | None = None

    def __post_init__(self) -> None:
        """Refuse limits that make no sense."""
        if not self.seconds > 0:
            raise SettingsError(f"a search needs more than {self.seconds} seconds")
        if self.workers < 1:
            raise SettingsError(f"a search needs at least one worker, not {self.workers}")
        if self.iterations is not None and self.iterations < 0:
            raise SettingsError(f"a search cannot do {self.iterations} iterations")
        if self.seed < 0:
            raise SettingsError(f"the seed is a whole number from 0 on, not {self.seed}")
