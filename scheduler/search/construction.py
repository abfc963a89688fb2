"""Plans made in one go by rules a planner could follow: the start of every search, and what it is measured against."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from scheduler.domain.week import Week
from scheduler.search.decoder import Decoded, Decoder, Refused
from scheduler.search.genome import Genome, genes_of
from scheduler.search.least_regret import LeastRegret, Regard, regards
from scheduler.search.quick import DECODE_S_PER_RUN, trials_for
from scheduler.search.result import Baseline

if TYPE_CHECKING:
    from scheduler.search.quick.trials import Tried

LATENESS_SHARE = 2.0
"""What lateness by the minute counts on top of the cost; tried on the contract shop of `scenarios` only."""
DAY_MIN = 480.0
"""Minutes of a day to which that is set against the money for a late day."""
LARGE_RUNS = 60
"""Weeks of so many runs have their first plans timed by the compiled decoder too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstPlan:
    """A plan made by one rule, and the genome that makes it again."""

    rule: str
    genome: Genome
    decoded: Decoded | Tried


def due_date_list(week: Week) -> Genome:
    """Runs by the pick-up that keeps the promise, then by id; each on the press where it ends first.

    Runs that a run fixed in time prints after come before all others: they have no time to lose.
    """
    order = tuple(sorted(week.run, key=lambda run_id: (_promised_tau(week, run_id), run_id)))
    return Genome(order=_before_fixed_first(week, order))


def _before_fixed_first(week: Week, order: tuple[str, ...]) -> tuple[str, ...]:
    """The same order, but runs that must print before a run fixed in time moved to the front."""
    waiting = [f.run_id for f in week.fixings if f.set_up_start_tau is not None and f.run_id in week.run]
    urgent: set[str] = set()
    while waiting:
        before = [run_id for run_id in week.run[waiting.pop()].print_after if run_id in week.run]
        waiting.extend(run_id for run_id in before if run_id not in urgent)
        urgent.update(before)
    return tuple(sorted(order, key=lambda run_id: run_id not in urgent))


def same_screens_together(week: Week) -> Genome:
    """The due-date list with all runs of one screen set pulled up to the first of them."""
    first: dict[str, int] = {}
    order = due_date_list(week).order
    for at, run_id in enumerate(order):
        first.setdefault(week.run[run_id].set_id or run_id, at)
    place = {run_id: at for at, run_id in enumerate(order)}
    return Genome(
        order=tuple(sorted(order, key=lambda run_id: (first[week.run[run_id].set_id or run_id], place[run_id])))
    )


def as_announced(week: Week) -> Genome:
    """Announced runs as they were announced, on their presses and not earlier; the others by due date after them."""
    told = {one.run_id: one for one in week.announced if one.run_id in week.run}
    late = week.horizon_tau + 1
    order = sorted(
        week.run,
        key=lambda run_id: (
            told[run_id].set_up_start_tau if run_id in told else late,
            _promised_tau(week, run_id),
            run_id,
        ),
    )
    press = tuple(
        told[run.run_id].press_id if run.run_id in told and told[run.run_id].press_id in run.on_press else None
        for run in week.runs
    )
    return Genome(order=tuple(order), press=press, waits=frozenset(told))


def _promised_tau(week: Week, run_id: str) -> int:
    order = week.order[week.run[run_id].order_id]
    return order.pickups_tau[order.must_leave]


def rules(week: Week, decoder: Decoder) -> Iterator[tuple[str, Genome]]:
    """Every rule with its genome, the due-date list first."""
    due = due_date_list(week)
    yield "due-date list", due
    if week.announced:
        yield "as announced", as_announced(week)
    together = same_screens_together(week)
    yield "same screens together", together
    lists = LeastRegret(week, decoder.tables, decoder.set_ups)
    regret = lists.genome(Regard())
    yield "least regret, any press", replace(regret, press=())
    yield "least regret", regret
    for regard in regards():
        yield f"least regret, {regard.words}", replace(lists.genome(regard), press=())
    released = frozenset(week.run)
    yield "due-date list, screens released", replace(due, release=released)
    yield "least regret, screens released", replace(regret, press=(), release=released)


def first_plans(
    week: Week, decoder: Decoder, is_enough: Callable[[], bool] | None = None, seconds: float = 0.0
) -> list[FirstPlan]:
    """The plans of all rules that make one, cheapest first; equal ones by earliness, then in the order of the rules.

    Overtime is bought, all of it, only if no rule makes a plan without. is_enough: asked after each rule; where it says
    True and there is a plan, no further rule is tried. seconds: of the search whose plans they are; a large week's are
    timed by the compiled decoder where that pays for so long a search.
    """
    if len(week.runs) >= LARGE_RUNS:
        trials_for(decoder, seconds / (DECODE_S_PER_RUN * len(week.runs)))
    found: list[FirstPlan] = []
    every_block = frozenset(block.block_id for block in week.overtime)
    for bought in dict.fromkeys((frozenset[str](), every_block)):
        for rule, genome in rules(week, decoder):
            with_hours = replace(genome, order=_before_fixed_first(week, genome.order), overtime=bought)
            decoded = _timed(decoder, with_hours)
            if not isinstance(decoded, Refused):
                found.append(FirstPlan(rule=rule, genome=with_hours, decoded=decoded))
            if found and is_enough is not None and is_enough():
                break
        if found:
            break
    found.sort(key=lambda one: (one.decoded.cost_cents, one.decoded.earliness))
    return found


def easiest(found: Sequence[FirstPlan]) -> FirstPlan:
    """The plan a walk gets furthest from: cheap, and what is late in it is late by little.

    Of two plans that cost the same the one whose orders miss their pick-ups by hours is mended sooner than one whose
    orders miss them by days, so lateness by the minute counts on top of the cost.
    """
    return min(found, key=lambda one: one.decoded.cost_cents + LATENESS_SHARE * one.decoded.late_cents_min / DAY_MIN)


def _timed(decoder: Decoder, genome: Genome) -> Decoded | Tried | Refused:
    """What a genome makes; compiled where that code is loaded."""
    if decoder.trials is None:
        return decoder.decode(genome)
    genes = genes_of(decoder.tables, genome)
    begun = decoder.trials.begin(genes)
    return begun if isinstance(begun, Refused) else decoder.trials.finish(genes, begun)


def baseline(week: Week, decoder: Decoder) -> Decoded | Refused:
    """The due-date list: what the shop does today, timed by the same rules."""
    return decoder.decode(due_date_list(week))


def told(due: Decoded | Refused) -> Baseline:
    """What is told of the due-date list beside every plan."""
    if isinstance(due, Refused):
        return Baseline(plan=None, cost_cents=0, terms={})
    return Baseline(plan=due.plan, cost_cents=due.cost_cents, terms=due.terms)


def first_plan(week: Week) -> Decoded | Refused:
    """The cheapest plan of all rules; if no rule makes one, why the due-date list does not."""
    decoder = Decoder(week)
    found = first_plans(week, decoder)
    return decoder.decode(found[0].genome) if found else baseline(week, decoder)
