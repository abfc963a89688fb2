"""Answering a what-if: first plans at once from the plan as it stands, then better ones while there is time."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import partial
from time import monotonic

from scheduler.domain.answers import BEST, KEEP, KINDS, OVERTIME, STAY, Answer, Answers
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.domain.what_if import WhatIf
from scheduler.errors import SolverError
from scheduler.papers.words import day_and_time
from scheduler.review.measures import cost, is_moved, late_orders
from scheduler.review.rules import check
from scheduler.search.decoder import Decoder, Refused
from scheduler.search.genome import genes_of, genome_of
from scheduler.search.local import Annealing, Best, Counted, Timed
from scheduler.search.pricing import genome_from
from scheduler.search.reasons import with_reasons
from scheduler.what_if.first_tries import (
    Try,
    earlier_tries,
    held_tries,
    new_runs,
    one_by_one,
    place_tries,
    standing_genome,
    with_new,
)
from scheduler.what_if.standing import Question, question
from scheduler.what_if.ways import Way, ways

OnAnswer = Callable[[Answer], None]
Stop = Callable[[], bool]

FIRST_SHARE = 0.4
"""Share of the time after which the search goes on by itself, whatever is left to try."""
SHARES = {STAY: 1, KEEP: 3, BEST: 3, OVERTIME: 2}
"""How the rest of the time is shared."""
POLISH_SHARE, MOST_POLISH_S, BUILD_S_PER_RUN = 0.4, 3.0, 0.012
"""Share of a way's time for the exact model, the most it gets, and about what making it ready takes of that."""
MOST_OPEN = 8
"""Runs the exact model may put anew at once."""
MORE_BLOCKS = 4
"""Overtime blocks tried one by one before the search goes on by itself."""
NO_OVERTIME = "no overtime is on offer"


def answer(
    inputs: WeekInputs,
    plan: Plan,
    what_ifs: Iterable[WhatIf],
    settings: SearchSettings,
    *,
    name: str = "",
    now: datetime | None = None,
    earlier: Iterable[Plan] = (),
    on_answer: OnAnswer | None = None,
    stop: Stop | None = None,
) -> Answers:
    """Up to four answers to a what-if, each checked against every rule.

    earlier: plans that stood before, to which one that is taken back may lead again.
    on_answer hears of every first and every better answer; when stop says True, the best so far come back. With
    `settings.iterations` the same call gives the same answers; with 0 of them, the first ones. Raises InputError where
    the plan is not one of these inputs or a what-if cannot be meant.
    """
    began = monotonic()
    asked = question(inputs, plan, what_ifs, now)
    search = _Search(asked, settings, on_answer or (lambda _: None), stop or (lambda: False), began, tuple(earlier))
    answers = search.run()
    return Answers(
        name=name,
        standing=asked.standing,
        answers=answers,
        order_ids=asked.order_ids,
        resolved=asked.resolved,
        told=asked.told,
        first_seconds=search.first_s,
    )


@dataclass(slots=True)
class _Search:
    """One what-if being answered."""

    asked: Question
    settings: SearchSettings
    on_answer: OnAnswer
    stop: Stop
    began: float
    earlier: tuple[Plan, ...] = ()
    first_s: float | None = None
    pool: list[Try] = field(default_factory=list)
    refused: Refused | None = None
    _told: dict[str, int] = field(default_factory=dict)
    _found: dict[str, Answer] = field(default_factory=dict)
    _ranks: dict[tuple[str, int], tuple[int, int]] = field(default_factory=dict)
    _finished: dict[int, Plan] = field(default_factory=dict)

    def run(self) -> tuple[Answer, ...]:
        """All four answers, in the order in which they are shown."""
        week = self.asked.week
        if any(one.order_id in self.asked.order_ids for one in week.not_planned):
            return self._none(_not_planned(week, self.asked.order_ids))
        known = ways(self.asked)
        self._first(known)
        if not self.pool:
            return self._none(_refused_words(self.refused))
        for at, way in enumerate(known):
            shares = [SHARES[one.kind] for one in known[at:]]
            self._walk(way, self._left_s() * shares[0] / sum(shares))
        for way in known:
            self._offer(way)
        return tuple(self._final(kind, known) for kind in KINDS)

    def _first(self, known: tuple[Way, ...]) -> None:
        """Plans that need no search, each told as soon as it is there."""
        standing, week = self.asked.standing, self.asked.week
        stay = next(way for way in known if way.kind == STAY)
        genome = standing_genome(standing, week)
        for one in held_tries(standing, week, genome):
            self._take(one)
            self._offer(stay)
        for one in earlier_tries(week, self.earlier):
            self._take(one)
            self._offer_all(known)
        for one in place_tries(standing, week, genome):
            self._take(one)
            if isinstance(one, Try) and len(self.pool) <= 3:
                self._offer_all(known)
            if self.pool and self.stop():
                return
        self._offer_all(known)
        new = new_runs(standing, week)
        for kind in (STAY, BEST) if new and self.settings.iterations != 0 else ():
            way = next(one for one in known if one.kind == kind)
            start = with_new(genome, new, len(genome.order))
            for one in one_by_one(week, start, new, partial(self._cents, way)):
                self._take(one)
                self._offer_all(known)
                if self.stop() or self._is_late():
                    return

    def _is_late(self) -> bool:
        """True once first plans have had their share of the time."""
        return self.settings.iterations is None and monotonic() - self.began > FIRST_SHARE * self.settings.seconds

    def _offer_all(self, known: tuple[Way, ...]) -> None:
        for way in known:
            self._offer(way)

    def _take(self, one: Try | Refused) -> None:
        if isinstance(one, Refused):
            self.refused = one
        else:
            self.pool.append(one)
            self.first_s = self.first_s or monotonic() - self.began

    def _walk(self, way: Way, seconds: float) -> None:
        """Look around from the best plan known for this way."""
        if (
            self.stop()
            or not way.week.runs
            or self.settings.iterations == 0
            or (self.settings.iterations is None and seconds <= 0)
        ):
            return
        decoder = Decoder(way.week)
        start = genes_of(decoder.tables, self._best(way).genome)
        if way.kind == OVERTIME:
            self._buy(way, decoder)
            start = genes_of(decoder.tables, self._best(way).genome)

        def better(best: Best) -> None:
            self.pool.append(Try(genome_of(decoder.tables, best.genes), best.decoded.plan))
            self._offer(way)

        walk = Annealing(decoder, start, self.settings.seed, better, self.stop)
        counted = self.settings.iterations
        polish_s = min(MOST_POLISH_S, POLISH_SHARE * seconds)
        walk.run(Timed(seconds - polish_s) if counted is None else Counted(counted))
        solving_s = polish_s - BUILD_S_PER_RUN * len(way.week.runs)
        if counted is None and solving_s > 0 and not self.stop():
            self._polish(way, solving_s)

    def _polish(self, way: Way, seconds: float) -> None:
        """Let the exact model put the new runs and those that moved, with all others as they stand."""
        best = self._best(way)
        moved = [run_id for run_id in best.plan.run if is_moved(way.true_week, run_id, best.plan)]
        free = [*new_runs(self.asked.standing, self.asked.week), *moved][:MOST_OPEN]
        if not free:
            return
        from scheduler.search.solve import Task, solve_here  # heavy: only once there is time for it

        task = Task(
            week=way.week,
            hint=best.plan,
            seconds=seconds,
            seed=self.settings.seed,
            free=frozenset(free),
            incumbent=best.plan,
        )
        outcome = solve_here(task, stop=self.stop)
        if outcome.plan is not None and way.cents(outcome.plan) < self._rank(way, best.plan)[0]:
            self.pool.append(Try(genome_from(way.week, outcome.plan), outcome.plan))
            self._offer(way)

    def _buy(self, way: Way, decoder: Decoder) -> None:
        """The best plan so far with one more block of overtime, block by block."""
        best = self._best(way)
        first = [*new_runs(self.asked.standing, self.asked.week)]
        rest = [run_id for run_id in best.genome.order if run_id not in first]
        for block in way.week.overtime[:MORE_BLOCKS]:
            if block.block_id in best.genome.overtime:
                continue
            bought = decoder.with_nested(best.genome.overtime | {block.block_id})
            for order in dict.fromkeys((best.genome.order, (*first, *rest))):
                genome = replace(best.genome, overtime=bought, order=order)
                decoded = decoder.decode(genome)
                self._take(decoded if isinstance(decoded, Refused) else Try(genome, decoded.plan))

    def _best(self, way: Way) -> Try:
        return min(self.pool, key=lambda one: self._rank(way, one.plan))

    def _cents(self, way: Way, plan: Plan) -> int:
        return self._rank(way, plan)[0]

    def _rank(self, way: Way, plan: Plan) -> tuple[int, int]:
        """What a plan counts for a way, then how early it is. Remembered: the pool keeps its plans."""
        key = way.kind, id(plan)
        if key not in self._ranks:
            self._ranks[key] = way.cents(plan), _earliness(plan)
        return self._ranks[key]

    def _offer(self, way: Way) -> None:
        """Tell the best plan of this way if it is an answer and better than what was told."""
        if not self.pool:
            return
        best = self._best(way)
        cents = self._rank(way, best.plan)[0]
        if cents >= self._told.get(way.kind, cents + 1) or way.refusal(best.plan):
            return
        self._told[way.kind] = cents
        found = Answer(
            kind=way.kind,
            week=way.true_week,
            plan=self._checked(best.plan),
            seconds=monotonic() - self.began,
        )
        self._found[way.kind] = found
        self.on_answer(found)

    def _checked(self, plan: Plan) -> Plan:
        """The plan with its reasons, once it has passed the independent eye."""
        if id(plan) not in self._finished:
            week = self.asked.week
            broken = check(week, plan)
            if broken:
                told = "\n".join(f"  {one.rule}: {one.message}" for one in broken)
                raise SolverError(f"an answer of ours breaks {len(broken)} rules:\n{told}")
            self._finished[id(plan)] = with_reasons(week, plan)
        return self._finished[id(plan)]

    def _final(self, kind: str, known: tuple[Way, ...]) -> Answer:
        week = self.asked.week
        found = self._found.get(kind)
        if found is None:
            way = next((one for one in known if one.kind == kind), None)
            reason = NO_OVERTIME if way is None else way.refusal(self._best(way).plan) + self._at_best(way)
            return Answer(kind=kind, week=week, reason=reason)
        for earlier in KINDS[: KINDS.index(kind)]:
            other = self._found.get(earlier)
            if other is not None and other.plan and found.plan and _is_same(week, other.plan, found.plan):
                return replace(found, same_as=earlier)
        return found

    def _at_best(self, way: Way) -> str:
        """How soon an order that comes in could be ready at all, where that is too late for it."""
        week = self.asked.week
        told = ""
        for order_id in self.asked.order_ids if way.kind in (STAY, OVERTIME) else ():
            due = week.order[order_id]
            soonest = min(one.plan.order[order_id].packed_tau for one in self.pool)
            if soonest > due.pickups_tau[due.must_leave]:
                told += f"; {order_id} is ready {day_and_time(week.clock.ends_at(soonest))} at the soonest"
        return told

    def _left_s(self) -> float:
        return self.settings.seconds - (monotonic() - self.began)

    def _none(self, reason: str) -> tuple[Answer, ...]:
        return tuple(Answer(kind=kind, week=self.asked.week, reason=reason) for kind in KINDS)


def _not_planned(week: Week, order_ids: tuple[str, ...]) -> str:
    """Why an order that came in cannot be planned at all."""
    told = [f"{one.order_id}: {'; '.join(one.reasons)}" for one in week.not_planned if one.order_id in order_ids]
    return ". ".join(dict.fromkeys(told))


def _refused_words(refused: Refused | None) -> str:
    if refused is None:
        return "no plan was found in time"
    who = f" ({', '.join(refused.run_ids[:3])})" if refused.run_ids else ""
    return f"{refused.reason}{who}"


def _earliness(plan: Plan) -> int:
    return sum(one.packed_tau for one in plan.orders) + sum(one.print_end_tau for one in plan.runs)


def _is_same(week: Week, one: Plan, other: Plan) -> bool:
    """True if a planner would see no difference: the same money, late orders, moved runs and overtime."""
    seen = [
        (
            cost(week, plan),
            late_orders(week, plan),
            {run_id for run_id in plan.run if is_moved(week, run_id, plan)},
            set(plan.overtime),
        )
        for plan in (one, other)
    ]
    return seen[0] == seen[1]
