"""The bound that looks at all orders at once, worked out beside the search in a process of its own."""

from __future__ import annotations

import multiprocessing
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from time import monotonic

from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.search.crowding import crowding_bound, crowding_bounds

BESIDE_SHARE = 0.5
"""Share of a search's time in which a process of its own looks for the bound; the rest of it belongs to proofs."""
FIRST_SHARE = 0.05
"""Share of a search's time for the bound where it is looked for before anything else."""
SMALL_RUNS = 15
"""Weeks of so few runs are bounded sooner than a process could start."""

HEAR_EVERY_S = 0.02
"""Seconds between two looks at what the process has said."""


class BoundBeside:
    """Gives the best bound known so far. Where work is counted, or by one worker, it is known from the start."""

    def __init__(self, week: Week, settings: SearchSettings, share: float = BESIDE_SHARE) -> None:
        """Look for the bound, or start a process that does, for a share of the search's time."""
        self._cents = 0
        self._process: BaseProcess | None = None
        self._ours: Connection | None = None
        self._hears_at = 0.0
        if settings.iterations is not None:
            self._cents = crowding_bound(week)
        elif settings.workers == 1 or len(week.runs) <= SMALL_RUNS:
            self._cents = crowding_bound(week, FIRST_SHARE * settings.seconds)
        else:
            self._start(week, share * settings.seconds)

    def _start(self, week: Week, seconds: float) -> None:
        spawn = multiprocessing.get_context("spawn")
        self._ours, theirs = spawn.Pipe(duplex=False)
        process = spawn.Process(target=_tell_bounds, args=(week, seconds, theirs), daemon=True)
        try:
            process.start()
            self._process = process
        except OSError:  # no room for another process: the search goes on with the bound it has
            self._ours.close()
            self._ours = None
        finally:
            theirs.close()

    @property
    def is_at_work(self) -> bool:
        """True while a process of its own looks for the bound."""
        return self._ours is not None

    def cents(self) -> int:
        """No valid plan costs less; 0 while nothing is known. A process that died has said all it will."""
        if self._ours is None or monotonic() < self._hears_at:
            return self._cents
        self._hears_at = monotonic() + HEAR_EVERY_S
        try:
            while self._ours is not None and self._ours.poll():
                self._cents = max(self._cents, self._ours.recv())
        except (EOFError, OSError):
            self.close()
        return self._cents

    def close(self) -> None:
        """End the process, if one is still at work."""
        if self._process is not None and self._process.is_alive():
            self._process.terminate()
        if self._process is not None:
            self._process.join()
        if self._ours is not None:
            self._ours.close()
        self._process = self._ours = None


def _tell_bounds(week: Week, seconds: float, channel: Connection) -> None:
    for cents in crowding_bounds(week, seconds):
        channel.send(cents)
