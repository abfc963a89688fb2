"""Compiles what the search calls and keeps it: run as a program of its own by `kept_code.have_made`."""

from __future__ import annotations

import numpy as np

from scheduler.search.quick.kept_code import note_made
from scheduler.search.quick.placing import advance
from scheduler.search.quick.plan_row import summed_up
from scheduler.search.quick.slots import PLAN_SLOTS, WEEK_SLOTS
from scheduler.search.quick.walking import walk


def make() -> None:
    """Call each once on an empty week: there is nothing to place, so nothing is read but the first slots."""
    w, s = np.zeros(WEEK_SLOTS, dtype=np.int64), np.zeros(PLAN_SLOTS, dtype=np.int64)
    none = np.zeros(1, dtype=np.int64)
    advance(w, s, none, none, none, none, none, none, none, 0, 0)
    summed_up(w, s)
    walk(w, s, none, none, none, none, none, none, none, none, none, none, 0, 0.0, 0.0, 0.0)
    note_made()


if __name__ == "__main__":
    make()
