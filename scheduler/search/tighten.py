"""A finished plan timed anew: nothing starts later than it must, and nothing gets dearer by it.

Cost says nothing about when cheap things happen: two plans of equal cost may print on Monday or on Thursday. The
decoder makes everything as early as it can be; where that costs more, because a run waits for a reason that saves
money, only the runs that wait without one are moved forward.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.genome import Genome, genes_of
from scheduler.search.local import Best
from scheduler.search.moves import Moves
from scheduler.search.pricing import genome_from, price

MOST_RUNS = 150
"""Weeks beyond this are not tried run by run: it takes a decoding for each."""
MOST_OPENINGS = 5
"""Openings tried for a run that waits for one: a working week of them."""
CHANGES_PER_RUN, LEAST_CHANGES = 15, 120
"""Small changes tried for an earlier plan of the same cost."""


def tightened(decoder: Decoder, week: Week, plan: Plan) -> Plan:
    """The same queues as early as can be without costing more; the plan itself where nothing can be earlier."""
    cost_cents = sum(price(week, plan).values())
    genome = genome_from(week, plan)
    at_once = decoder.decode(genome)
    if isinstance(at_once, Decoded) and at_once.cost_cents <= cost_cents:
        return _earlier(plan, at_once)
    if len(plan.runs) > MOST_RUNS:
        return plan
    found = _one_by_one(decoder, replace(genome, later=_starts(plan)), cost_cents)
    return _earlier(plan, _after_a_stop(decoder, week, *found) if found is not None else None)


def earlier(
    decoder: Decoder, week: Week, plan: Plan, *, seed: int, is_over: Callable[[], bool], changes: int | None = None
) -> Plan:
    """A plan of equal cost or less in which things end earlier, found by small changes; else the plan itself.

    is_over: asked before each change. changes: at most so many, None for as many as the week deserves.
    """
    cost_cents = sum(price(week, plan).values())
    genes = genes_of(decoder.tables, genome_from(week, plan))
    best = decoder.decode_genes(genes)
    if not isinstance(best, Decoded) or best.cost_cents > cost_cents:
        return plan
    moves = Moves(decoder.tables, random.Random(seed))
    deserved = max(LEAST_CHANGES, CHANGES_PER_RUN * len(plan.runs))
    for _ in range(deserved if changes is None else min(changes, deserved)):
        move = None if is_over() else moves.draw(genes, best.state.packed_tau)
        if move is None:
            break
        found = decoder.decode_genes(move.genes)
        if isinstance(found, Decoded) and (found.cost_cents, found.earliness) <= (best.cost_cents, best.earliness):
            genes, best = move.genes, found
    return _earlier(plan, best)


def _starts(plan: Plan) -> tuple[tuple[str, int], ...]:
    """Every run waits for the very minute of its set-up."""
    return tuple((one.run_id, one.set_up_start_tau) for one in sorted(plan.runs, key=lambda one: one.set_up_start_tau))


def _one_by_one(decoder: Decoder, genome: Genome, cost_cents: int) -> tuple[Genome, Decoded] | None:
    """Lets one run after the other go from its minute, in order of time, as long as nothing gets dearer."""
    best = decoder.decode(genome)
    if not isinstance(best, Decoded) or best.cost_cents > cost_cents:
        return None
    for run_id, _ in genome.later:
        fewer = replace(genome, later=tuple(one for one in genome.later if one[0] != run_id))
        found = decoder.decode(fewer)
        if isinstance(found, Decoded) and (found.cost_cents, found.earliness) <= (best.cost_cents, best.earliness):
            genome, best = fewer, found
    return genome, best


def _after_a_stop(decoder: Decoder, week: Week, genome: Genome, best: Decoded) -> Decoded:
    """Lets a run that waits so that its inks need not be rinsed out start at the first opening that serves as well."""
    for run_id, waits_until in genome.later:
        run, press = week.run[run_id], week.press[best.plan.run[run_id].press_id]
        stands_min = run.idle_ok_min
        if stands_min is None:
            continue
        opened = press.calendar.with_bought(best.plan.overtime).windows
        after = [window.start_tau for window in opened if window.stop_before_min > stands_min]
        for at in [tau for tau in after if run.blanks_tau < tau < waits_until][:MOST_OPENINGS]:
            sooner = replace(genome, later=tuple((one, at if one == run_id else tau) for one, tau in genome.later))
            found = decoder.decode(sooner)
            if isinstance(found, Decoded) and (found.cost_cents, found.earliness) < (best.cost_cents, best.earliness):
                genome, best = sooner, found
                break
    return best


def _earlier(plan: Plan, found: Decoded | None) -> Plan:
    """What was found, if it is cheaper or earlier than the plan."""
    is_earlier = found is not None and found.earliness <= _earliness(plan)
    return found.plan if found is not None and is_earlier else plan


def _earliness(plan: Plan) -> int:
    return sum(one.packed_tau for one in plan.orders) + sum(one.print_end_tau for one in plan.runs)


def without_spare_overtime(decoder: Decoder, best: Best, keep: Callable[[Best], None]) -> None:
    """Give back overtime, the last block first, wherever that is cheaper; `keep` hears of each such plan."""
    genes = best.genes
    for block_id in sorted(genes.bought, reverse=True):
        fewer = frozenset(other for other in genes.bought if block_id not in decoder.with_nested(frozenset({other})))
        decoded = decoder.decode_genes(replace(genes, bought=fewer))
        if isinstance(decoded, Decoded):
            offer = Best(replace(genes, bought=fewer), decoded)
            if offer.rank < best.rank:
                genes, best = offer.genes, offer
                keep(offer)
