"""The order in which a plan's runs have to be placed so that every one of them comes to stand where it stands.

A plan tells when each run starts, not in which order they were placed; people, dryers and packing are taken first come
first served. Sorted by start most runs come out right; those that do not are placed sooner, one after the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from scheduler.domain.answers import Standing
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.genome import Genome
from scheduler.search.pricing import genome_from
from scheduler.what_if.standing import PLANS_KEPT

MOST_DECODED = 60
"""Orders tried; on the demo week about thirty suffice where any are needed."""
SOONER = (1, 2, 4, 8, 16, 24, 32, 40)
"""How many places sooner a run is tried that comes out late."""


def press_of(plan: Plan, week: Week, run_id: str) -> str | None:
    """The run's press in the plan, if there is one that it still fits."""
    planned = plan.run.get(run_id)
    return planned.press_id if planned is not None and planned.press_id in week.run[run_id].on_press else None


def starts(week: Week) -> tuple[tuple[str, int], ...]:
    """Announced runs that may move, each with the shop minute before which it does not start."""
    return tuple(
        (one.run_id, one.set_up_start_tau)
        for one in week.announced
        if one.run_id not in week.fixing and one.set_up_start_tau
    )


@lru_cache(maxsize=PLANS_KEPT)
def settled(standing: Standing) -> Genome:
    """A genome of the plan as it stands, from which as few runs as can be come out elsewhere."""
    week, plan = standing.week, standing.plan
    decoder = Decoder(week)
    genome = replace(genome_from(week, plan), later=starts(week))
    best, decoded = _off_by(decoder, genome, plan)
    left = MOST_DECODED
    while best > (0, 0) and decoded is not None and left > 0:
        for offer in _offers(week, plan, genome, decoded):
            left -= 1
            off_by, found = _off_by(decoder, offer, plan)
            if off_by < best:
                genome, best, decoded = offer, off_by, found
                break
            if left <= 0:
                break
        else:
            break
    return genome


def _off_by(decoder: Decoder, genome: Genome, plan: Plan) -> tuple[tuple[int, int], Plan | None]:
    """Runs on another place than in the plan by more than is free, and minutes of all that is later; and the plan."""
    decoded = decoder.decode(genome)
    if not isinstance(decoded, Decoded):
        return (len(plan.runs) + 1, 0), None
    found, free_min = decoded.plan, decoder.tables.week.prices.move_free_min
    shifts = [abs(one.set_up_start_tau - plan.run[one.run_id].set_up_start_tau) for one in found.runs]
    packed_later = sum(max(0, one.packed_tau - plan.order[one.order_id].packed_tau) for one in found.orders)
    return (sum(shift > free_min for shift in shifts), sum(shifts) + packed_later), found


def _offers(week: Week, plan: Plan, genome: Genome, decoded: Plan) -> Iterator[Genome]:
    """The genome with one run sooner in its order: runs that start elsewhere, last runs of orders packed later."""
    off = [
        run_id for run_id in genome.order if decoded.run[run_id].set_up_start_tau != plan.run[run_id].set_up_start_tau
    ]
    off += [
        max(week.order[one.order_id].run_ids, key=lambda run_id: plan.run[run_id].print_end_tau)
        for one in decoded.orders
        if one.packed_tau > plan.order[one.order_id].packed_tau
    ]
    for run_id in dict.fromkeys(off):
        at = genome.order.index(run_id)
        for by in SOONER:
            if by <= at:
                rest = [one for one in genome.order if one != run_id]
                yield replace(genome, order=(*rest[: at - by], run_id, *rest[at - by :]))
