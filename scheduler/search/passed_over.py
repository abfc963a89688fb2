"""Runs that would fit before one the press waits for, and what printing them first would cost more.

A press may stand open for hours although something is ready for it, because the order of the queue saves set-up or
keeps a date. Whoever stands beside it wants to know that it was seen, and what it is worth.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Week
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.pricing import genome_from
from scheduler.search.words import cents_text

LEAST_WAIT_MIN = 60
"""Open minutes a press stands before anybody asks why."""
MOST_TRIED = 6
"""Runs further down the queue that are tried in the gap."""


def passed_over(week: Week, plan: Plan, is_over: Callable[[], bool] = lambda: False) -> dict[str, str]:
    """By run the press waits for: which later run of the press would fit before it, and at what price.

    is_over: asked before each try; nothing more is tried once it says True.
    """
    waits = [pair for queue in plan.queue.values() for pair in _waits(week, plan, queue)]
    if not waits:
        return {}
    decoder, genome = Decoder(week), genome_from(week, plan)
    now = decoder.decode(genome)
    found: dict[str, str] = {}
    for one, later in waits if isinstance(now, Decoded) else ():
        for other in later[:MOST_TRIED]:
            if is_over():
                return found
            order = [run_id for run_id in genome.order if run_id != other.run_id]
            order.insert(order.index(one.run_id), other.run_id)
            instead = decoder.decode(replace(genome, order=tuple(order)))
            if not isinstance(now, Decoded) or not isinstance(instead, Decoded):
                continue
            more_cents = instead.cost_cents - now.cost_cents
            if more_cents > 0 and instead.plan.run[other.run_id].print_end_tau <= one.set_up_start_tau:
                found[one.run_id] = f"{other.run_id} would fit before it, for {cents_text(more_cents)} more"
                break
    return found


def _waits(week: Week, plan: Plan, queue: tuple[PlannedRun, ...]) -> list[tuple[PlannedRun, list[PlannedRun]]]:
    """Runs the press waits for, each with the free runs behind it that could be ready before."""
    calendar = week.press[queue[0].press_id].calendar.with_bought(plan.overtime)
    found, free_tau = [], 0
    for at, one in enumerate(queue):
        waits_min = sum(
            max(0, min(window.end_tau, one.set_up_start_tau) - max(window.start_tau, free_tau))
            for window in calendar.windows
        )
        free_tau = one.print_end_tau
        if waits_min >= LEAST_WAIT_MIN and one.run_id not in week.fixing:
            later = [
                other
                for other in queue[at + 1 :]
                if other.run_id not in week.fixing and week.run[other.run_id].blanks_tau < one.set_up_start_tau
            ]
            found.append((one, later))
    return found
