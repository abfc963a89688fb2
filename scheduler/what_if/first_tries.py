"""Where the new runs of a what-if could go, tried one place after the other in the order of the plan as it stands."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass, replace

from scheduler.domain.answers import Standing
from scheduler.domain.plan import Pencilled, Plan
from scheduler.domain.week import Fixing, Week
from scheduler.review.rules import check
from scheduler.search.decoder import Decoded, Decoder, Refused
from scheduler.search.genome import Genome
from scheduler.search.pricing import genome_from
from scheduler.what_if.disturbed import hit_runs
from scheduler.what_if.settling import press_of, settled, starts

MOST_PLACES = 20
"""Places of the order at which new runs are tried; more would take longer than a client waits."""
MOST_ONE_BY_ONE = 120
"""Plans made to put new runs one by one."""


@dataclass(frozen=True, slots=True)
class Try:
    """A genome and its plan."""

    genome: Genome
    plan: Plan


def standing_genome(standing: Standing, week: Week) -> Genome:
    """The order and presses of the plan as it stands, for runs that can stay there; nobody starts sooner."""
    plan, known, new = standing.plan, settled(standing), set(new_runs(standing, week))
    blocks = {block.block_id for block in week.overtime}
    order = [run_id for run_id in known.order if run_id in week.run and run_id not in new]
    order.sort(key=lambda run_id: plan.run[run_id].set_up_start_tau >= standing.now_tau)  # what has begun comes first
    return Genome(
        order=tuple(order),
        press=tuple(None if run.run_id in new else press_of(plan, week, run.run_id) for run in week.runs),
        release=known.release & set(week.run),
        overtime=known.overtime & blocks,
        later=tuple(one for one in starts(week) if one[0] not in new),
    )


def new_runs(standing: Standing, week: Week) -> tuple[str, ...]:
    """Runs without a place of their own: those the plan does not have yet, in the week's order, and those hit."""
    hit = hit_runs(standing, week)
    return tuple(run.run_id for run in week.runs if run.run_id not in standing.plan.run or run.run_id in hit)


def with_new(genome: Genome, new: tuple[str, ...], at: int) -> Genome:
    """The genome with the new runs at a place of its order."""
    return replace(genome, order=(*genome.order[:at], *new, *genome.order[at:]))


def places(count: int) -> list[int]:
    """Places from 0 to `count`, the last and the first one first, then evenly spread ones."""
    step = max(1, -(-count // MOST_PLACES))
    return list(dict.fromkeys([count, 0, *range(count - step, 0, -step)]))


def held_week(standing: Standing, week: Week, new: Collection[str]) -> Week:
    """The week in which every run of the plan that can stay is fixed exactly where it stands."""
    plan = standing.plan
    kept = tuple(
        replace(one, press_id=plan.run[one.run_id].press_id, set_up_start_tau=plan.run[one.run_id].set_up_start_tau)
        if one.run_id in plan.run and one.run_id not in new and one.kind != "started" and _is_at(week, plan, one)
        else one
        for one in week.fixings
    )
    more = tuple(
        Fixing(run_id=told.run_id, kind="announced", press_id=told.press_id, set_up_start_tau=told.set_up_start_tau)
        for told in week.announced
        if told.run_id not in week.fixing and told.run_id not in new
    )
    return replace(week, fixings=(*kept, *more))


def _is_at(week: Week, plan: Plan, one: Fixing) -> bool:
    """True if a run that is fixed in part stands in the plan where it is fixed, on a press it still fits."""
    planned = plan.run[one.run_id]
    return planned.press_id in week.run[one.run_id].on_press and one.set_up_start_tau in (
        None,
        planned.set_up_start_tau,
    )


def held_tries(standing: Standing, week: Week, genome: Genome) -> Iterator[Try | Refused]:
    """New runs put into the gaps, everything else where it stands to the minute."""
    new = new_runs(standing, week)
    held = held_week(standing, week, new)
    decoder = Decoder(held)
    whole = replace(genome, order=(*genome.order, *new), later=())
    yield _tried(decoder, whole)
    if len(new) != 1:
        return
    number = next(at for at, run in enumerate(week.runs) if run.run_id == new[0])
    for choice in week.run[new[0]].choices[:4]:
        press = (*whole.press[:number], choice.press_id, *whole.press[number + 1 :])
        yield _tried(decoder, replace(whole, press=press))


def earlier_tries(week: Week, earlier: Iterable[Plan]) -> Iterator[Try]:
    """Plans that stood before, as far as they still are plans of this week: what was taken back may lead to one."""
    for one in earlier:
        plan = replace(one, pencilled=Pencilled())
        if plan.run.keys() == week.run.keys() and not check(week, plan):
            yield Try(genome_from(week, plan), plan)


def place_tries(standing: Standing, week: Week, genome: Genome) -> Iterator[Try | Refused]:
    """New runs together at place after place of the order, the others after each other as they stand."""
    new, decoder = new_runs(standing, week), Decoder(week)
    for at in places(len(genome.order)) if new else [0]:
        yield _tried(decoder, with_new(genome, new, at))
    yield _tried(decoder, replace(with_new(genome, new, 0), press=(), later=()))


def one_by_one(
    week: Week, genome: Genome, new: tuple[str, ...], cents: Callable[[Plan], int]
) -> Iterator[Try | Refused]:
    """New runs one after the other, each at the place of the order that costs least."""
    decoder, left = Decoder(week), MOST_ONE_BY_ONE
    for run_id in new:
        rest = tuple(one for one in genome.order if one != run_id)
        best: int | None = None
        for at in places(len(rest)):
            if left <= 0:
                return
            left -= 1
            one = _tried(decoder, replace(genome, order=(*rest[:at], run_id, *rest[at:])))
            yield one
            if isinstance(one, Try) and (best is None or cents(one.plan) < best):
                genome, best = one.genome, cents(one.plan)


def _tried(decoder: Decoder, genome: Genome) -> Try | Refused:
    decoded = decoder.decode(genome)
    return Try(genome, decoded.plan) if isinstance(decoded, Decoded) else decoded
