"""The announced plan kept: the same queues on the same presses from now on, everything as late as it has become."""

from __future__ import annotations

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.search.decoder import Decoded, Decoder
from scheduler.search.genome import Genome


def kept(week: Week, plan: Plan, *, is_held_back: bool = True) -> tuple[Genome, Plan] | None:
    """The announced plan timed from now on, and the order that leads to it; None where it cannot be kept at all.

    is_held_back: nobody starts sooner than announced; else everybody as soon as they can.
    """
    decoder = Decoder(week)
    for is_fixed_first in (False, True):
        genome = _genome(week, plan, is_held_back=is_held_back, is_fixed_first=is_fixed_first)
        decoded = decoder.decode(genome)
        if isinstance(decoded, Decoded):
            return genome, decoded.plan
    return None


def _genome(week: Week, plan: Plan, *, is_held_back: bool, is_fixed_first: bool) -> Genome:
    """The order and presses of an announced plan, for the runs left in a week as it stands.

    What has started comes first, then (where that is needed) what is fixed to a minute. New runs come last, in the
    week's order, on the press on which they end first. Overtime bought stays bought; a set that was to be reclaimed
    between two of its uses still is.
    """
    place = {one.run_id: (one.set_up_start_tau, one.print_end_tau) for one in plan.runs}
    never = max((one.print_end_tau for one in plan.runs), default=0) + 1, 0
    rank = {one.run_id: 0 if one.kind == "started" else 1 for one in week.fixings if one.set_up_start_tau is not None}
    rest = 1 if not is_fixed_first else 2
    order = sorted(
        (run.run_id for run in week.runs), key=lambda run_id: (rank.get(run_id, rest), place.get(run_id, never))
    )
    blocks = {block.block_id for block in week.overtime}
    released = {one.after_run_id for one in plan.reclaims}
    return Genome(
        order=tuple(order),
        press=tuple(_press(week, plan, run.run_id) for run in week.runs),
        release=frozenset(run_id for run_id in released if run_id in week.run and _is_used_again(week, order, run_id)),
        overtime=frozenset(plan.overtime) & blocks,
        later=tuple(
            (one.run_id, one.set_up_start_tau)
            for one in week.announced
            if is_held_back and one.run_id not in week.fixing and one.set_up_start_tau
        ),
    )


def _press(week: Week, plan: Plan, run_id: str) -> str | None:
    fixing = week.fixing.get(run_id)
    if fixing is not None and fixing.press_id is not None:
        return fixing.press_id
    planned = plan.run.get(run_id)
    return planned.press_id if planned is not None and planned.press_id in week.run[run_id].on_press else None


def _is_used_again(week: Week, order: list[str], run_id: str) -> bool:
    """True if a later run of the order prints from the same set."""
    set_id = week.run[run_id].set_id
    return any(week.run[other].set_id == set_id for other in order[order.index(run_id) + 1 :])
