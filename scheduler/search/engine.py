"""The search: first plans by rules, a bound, annealing, then whatever exact method is handed in.

It never gives back a plan dearer than the due-date list, and stopping it keeps the best plan so far.
"""

from __future__ import annotations

from time import perf_counter, sleep

from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.search.best_so_far import BestSoFar
from scheduler.search.bound_beside import BESIDE_SHARE, BoundBeside
from scheduler.search.bounds import lower_bound
from scheduler.search.clash import smallest_clash
from scheduler.search.construction import FirstPlan, baseline, due_date_list, easiest, first_plans, told
from scheduler.search.decoder import Decoded, Decoder, Refused
from scheduler.search.genome import Genes, Genome, genes_of
from scheduler.search.improving_beside import ImprovingBeside
from scheduler.search.local import GENOMES_A_ROUND, Annealing, Best, Counted, Timed
from scheduler.search.one_queue import is_one_queue
from scheduler.search.pricing import genome_from, price
from scheduler.search.queue_try import tried_queues
from scheduler.search.reasons import with_reasons
from scheduler.search.result import Improved, Improver, OnProgress, SearchResult, Stop
from scheduler.search.small_enough import is_solved_whole
from scheduler.search.stretch_walk import LONG_ORDER_RUNS
from scheduler.search.tighten import earlier, tightened, without_spare_overtime
from scheduler.search.two_walks import TwoWalks

FIRST_LOOK_SHARE = 0.08
"""Share of the time for annealing before a week that is solved whole is given to the improver beside it."""
FIRST_LOOK_S_PER_RUN = 0.04
"""Seconds of that per run, however much time there is."""
SECOND_FROM_S = 5.0
"""Seconds of a search from which a second walk pays: its process loads for one or two."""
LEAST_SECOND_S = 2.0
"""No second walk is started with less time left."""
SHORT_BOUND_SHARE = 0.35
"""Share of a search's time for the bound where a second walk takes the core over from it."""
QUEUE_WALK_SHARE, QUEUE_WALK_S_PER_RUN = 0.1, 0.1
"""The same before all queues of a single press are tried: the cheaper the plan, the fewer of them."""
ANNEALING_SHARE = 0.6
"""Share of the time for annealing when the improver takes over the whole week afterwards."""
WALKED_SHARE = 0.6
"""Share of the time for annealing in weeks that are not solved whole; then all walk once more from the best plan."""
WALKED_S_PER_RUN = 1.0
"""Most seconds of that per run, about a slow cooling at 100 runs; windows have their turn only where there are more."""
LONG_WALK_SHARE = 0.15
"""Share of the time for annealing where the rest goes into walks of stretches, and none into the improver."""
IMPROVER_SHARE = 0.6
"""Share of the time left then for the improver; the rest is another walk's."""
ANNEALING_S_PER_RUN = 0.4
"""Seconds of annealing per run after which the improver gets its turn, however much time there is."""
FINISH_SHARE = 0.1
"""Most of the time that is kept for the last touches: nothing idle without need, and a reason for every run."""
FINISH_DECODES = 60
"""As many plans may be made then."""
REASONS_S = 0.5
"""So long reasons may be looked for when there is no time left."""
RULES_SHARE = 0.05
"""Share of the time after which no further rule is tried once one has made a plan."""
MOST_ROUNDS = 9
WALK_S_PER_RUN = 0.1
"""Seconds per run of each walk beside the improver; the next one sets out from the best plan of both."""
FRUITLESS_WALKS = 3
"""After so many walks without a better plan the improver is left alone."""
LEAST_IMPROVER_S = 0.5
"""An improver with less time would do nothing but load."""
LEAST_WALK_S = 0.2
"""No walk sets out with less time."""


def plan_week(
    week: Week,
    settings: SearchSettings,
    on_progress: OnProgress | None = None,
    stop: Stop | None = None,
    improver: Improver | None = None,
    standing: Genome | None = None,
) -> SearchResult:
    """Plan a week within the limits of `settings`.

    on_progress hears of every better plan; stop is asked between genomes and ends the search when it says True.
    improver is called last, with the best plan. standing: an order to set out from where it is cheaper than what the
    rules make; the plan is never dearer than it. With `settings.iterations` the same call gives the same plan.
    """
    return _Search(week, settings, on_progress, stop, improver, standing).run()


class _Search:
    def __init__(
        self,
        week: Week,
        settings: SearchSettings,
        on_progress: OnProgress | None,
        stop: Stop | None,
        improver: Improver | None,
        standing: Genome | None,
    ) -> None:
        self.week = week
        self.standing = standing
        self.settings = settings
        self.asked_to_stop: Stop = stop or (lambda: False)
        self.improver = improver
        self.began = perf_counter() if settings.iterations is None else 0.0
        self.so_far = BestSoFar(week, on_progress, self._seconds)
        self.decoder = Decoder(week)
        self.beside: BoundBeside | None = None
        self.is_beside = False
        self.walks = TwoWalks(self.decoder, self.so_far, settings.seed, self._is_over)
        self.has_second = self.has_windows = False
        self.second_start: Genes | None = None
        self.first_walk_ends_s = 0.0
        self.is_queue = improver is not None and is_one_queue(self.decoder.tables)
        self.helper: ImprovingBeside | None = None
        self.told = ""
        self.finish_s = 0.0

    def run(self) -> SearchResult:
        try:
            return self._searched()
        finally:
            self.walks.close()
            if self.beside is not None:
                self.beside.close()

    def _searched(self) -> SearchResult:
        if not self.week.runs:
            return SearchResult(status="proven", plan=Plan(runs=(), orders=()), seed=self.settings.seed)
        clash = smallest_clash(self.week)
        if clash is not None:
            return self._no_plan(clash.sentence, clash.run_ids)
        due = self._timed_baseline()
        if isinstance(due, Decoded):
            self.so_far.keep(Best(genes_of(self.decoder.tables, due_date_list(self.week)), due))
        first_plan_s = self._seconds()
        found = self._with_standing(first_plans(self.week, self.decoder, self._has_looked_enough, self._left_s()))
        self.so_far.bound_cents = lower_bound(self.week).cents
        start = genes_of(self.decoder.tables, easiest(found).genome if found else due_date_list(self.week))
        if found:
            self.so_far.keep(Best(genes_of(self.decoder.tables, found[0].genome), found[0].decoded))
            first_plan_s = first_plan_s if isinstance(due, Decoded) else self._seconds()
        self.is_beside = self._is_improved_beside()
        self._start_beside(found, start)
        refused = self._anneal(Annealing(self.decoder, start, self.settings.seed, self.so_far.keep, self._is_over))
        if not self.so_far.has_plan and self.is_beside:
            self.is_beside = False  # a plan must be there before it can be improved
            refused = self._anneal(Annealing(self.decoder, start, self.settings.seed, self.so_far.keep, self._is_over))
        if self.so_far.plan is None:
            refused = refused or (due if isinstance(due, Refused) else Refused("no plan was found in time"))
            return self._no_plan(refused.reason, refused.run_ids)
        self._try_queues()
        is_proven = self._improve_beside(self.so_far.plan) if self.is_beside else self._improve(self.so_far.plan)
        if not is_proven and not self.is_beside:
            self._look_on(self.so_far.plan)
        self.so_far.keep_plan(self._polished(self.so_far.plan), is_last=True)
        return SearchResult(
            status="proven" if is_proven or self.so_far.cost_cents <= self.so_far.bound_cents else "found",
            plan=with_reasons(self.week, self.so_far.plan, self._time_for_reasons()),
            cost_cents=self.so_far.cost_cents,
            terms=price(self.week, self.so_far.plan),
            lower_bound_cents=self.so_far.cost_cents
            if is_proven
            else min(self.so_far.bound_cents, self.so_far.cost_cents),
            first_plan_seconds=first_plan_s,
            wall_seconds=self._seconds(),
            genomes=self.so_far.genomes,
            baseline=told(due),
            rule=found[0].rule if found else "",
            trace=tuple(self.so_far.trace),
            told=self.told,
            seed=self.settings.seed,
        )

    def _start_beside(self, found: list[FirstPlan], start: Genes) -> None:
        """Set the second core to work: first on the bound, then, where it is free, on a walk of its own."""
        timed, is_free = self.settings.iterations is None, not self.is_beside and self.improver is not None
        self.has_second = timed and is_free and self.settings.workers > 1 and self.settings.seconds >= SECOND_FROM_S
        self.beside = BoundBeside(self.week, self.settings, SHORT_BOUND_SHARE if self.has_second else BESIDE_SHARE)
        others = [one for one in found if genes_of(self.decoder.tables, one.genome) != start]
        self.second_start = genes_of(self.decoder.tables, easiest(others).genome) if others else start

    def _with_standing(self, found: list[FirstPlan]) -> list[FirstPlan]:
        """The first plans, ahead of them the standing order where it makes one that is no dearer."""
        decoded = self.decoder.decode(self.standing) if self.standing is not None else None
        if self.standing is None or not isinstance(decoded, Decoded):
            return found
        if found and found[0].decoded.cost_cents < decoded.cost_cents:
            return found
        return [FirstPlan(rule="as announced", genome=self.standing, decoded=decoded), *found]

    def _has_looked_enough(self) -> bool:
        """True when the rules have had their share of the seconds."""
        seconds = self._seconds()
        return seconds is not None and seconds > RULES_SHARE * self.settings.seconds

    def _anneal(self, walk: Annealing) -> Refused | None:
        """Look around for cheaper plans; the nearest miss where no plan is met at all."""
        self.so_far.phase = "looking around"
        walk.on_genomes = self.so_far.count
        runs, limit = len(self.week.runs), self.settings.iterations
        walk_s = self._annealing_s()
        self.first_walk_ends_s = (self._seconds() or 0.0) + walk_s
        budget = Timed(walk_s) if limit is None else Counted(limit)
        rounds = min(MOST_ROUNDS, max(1, int(budget.genomes_left(runs) / (GENOMES_A_ROUND * runs * runs))))
        best = walk.run(budget, rounds)
        self.so_far.tell()
        if best is not None:
            without_spare_overtime(self.decoder, best, self.so_far.keep)
        return walk.nearest_miss

    def _annealing_s(self) -> float:
        left_s = self._left_s()
        if self.improver is None:
            return left_s
        if self.is_queue:
            return min(QUEUE_WALK_SHARE * left_s, QUEUE_WALK_S_PER_RUN * len(self.week.runs))
        if self.is_beside:
            return min(FIRST_LOOK_SHARE * left_s, FIRST_LOOK_S_PER_RUN * len(self.week.runs))
        if len(self.week.runs) >= LONG_ORDER_RUNS:
            return min(LONG_WALK_SHARE * left_s, ANNEALING_S_PER_RUN * len(self.week.runs))
        if is_solved_whole(self.week):
            return min(ANNEALING_SHARE * left_s, ANNEALING_S_PER_RUN * len(self.week.runs))
        most_s = WALKED_S_PER_RUN * len(self.week.runs)
        self.has_windows = WALKED_SHARE * left_s > most_s
        return min(WALKED_SHARE * left_s, most_s)

    def _left_s(self) -> float:
        return max(0.0, self.settings.seconds - self.finish_s - (self._seconds() or 0.0))

    def _timed_baseline(self) -> Decoded | Refused:
        """The due-date list; how long it takes to time says how long the last touches of a plan will take."""
        before_s, due, now_s = self._seconds(), baseline(self.week, self.decoder), self._seconds()
        if before_s is not None and now_s is not None:
            self.finish_s = min(FINISH_SHARE * self.settings.seconds, FINISH_DECODES * (now_s - before_s))
        return due

    def _time_for_reasons(self) -> Stop:
        """Says True once the seconds are used up, or somebody said stop, and a moment has gone into the reasons."""
        began_s = self._seconds()
        if began_s is None:
            return lambda: False
        limit_s = began_s if self.asked_to_stop() else max(began_s, self.settings.seconds - REASONS_S)
        return lambda: (self._seconds() or 0.0) > limit_s + REASONS_S

    def _polished(self, plan: Plan) -> Plan:
        """The plan, or one of the same cost or less in which nothing idles without need."""
        return earlier(
            self.decoder,
            self.week,
            tightened(self.decoder, self.week, plan),
            seed=self.settings.seed,
            is_over=self._has_no_time_to_polish,
            changes=self.settings.iterations,
        )

    def _has_no_time_to_polish(self) -> bool:
        """True when somebody says stop, or the seconds are used up."""
        return self.asked_to_stop() or (self.settings.iterations is None and self._left_s() <= 0)

    def _look_on(self, plan: Plan) -> None:
        """Spend what time the improver left on another walk, from the best plan and with another seed."""
        if self.improver is None or self.settings.iterations is not None or self._is_over() or self._left_s() < 0.5:
            return
        self.so_far.phase = "looking on"
        start = self.so_far.genes or genes_of(self.decoder.tables, genome_from(self.week, self.so_far.plan or plan))
        if len(self.week.runs) >= LONG_ORDER_RUNS:
            self.walks.look_on_in_stretches(start, self._left_s())
        else:
            self.walks.look_on(start, self._left_s())
        self.walks.close()
        self.so_far.tell()

    def _try_queues(self) -> None:
        """Where one press prints everything, try all queues: most often the cheapest is the plan, and proven."""
        if self.is_queue and not self._is_over():
            self.so_far.phase = "proving"
            known = self.settings, self.so_far.cost_cents, self._left_s()
            self.so_far.hear_bound(tried_queues(self.decoder, *known, keep=self.so_far.keep, stop=self._is_over))

    def _is_improved_beside(self) -> bool:
        """True where two processes may work and the improver has one of its own for the whole week."""
        timed = self.settings.iterations is None
        return self.improver is not None and timed and self.settings.workers > 1 and is_solved_whole(self.week)

    def _improve_beside(self, plan: Plan) -> bool:
        """Let the improver work on the whole week while the walk goes on; True if one of them ends with a proof."""
        if self.improver is None or self._is_over():
            return False
        self.so_far.phase = "proving"
        self.helper = ImprovingBeside(self.improver, self.so_far.bound_cents)
        self.helper.start(self.week, plan, self.so_far.cost_cents, self.settings, self._left_s())
        walked = fruitless = 0
        try:
            while self.helper.is_at_work and not self._is_over() and self._left_s() > LEAST_WALK_S:
                if fruitless >= FRUITLESS_WALKS:
                    sleep(LEAST_WALK_S)  # both cores are the improver's
                    continue
                before_cents = self.so_far.cost_cents
                start = genes_of(self.decoder.tables, genome_from(self.week, self.so_far.plan or plan))
                walk = Annealing(self.decoder, start, self.settings.seed + walked, self.so_far.keep, self._is_walked)
                walk.on_genomes = self.so_far.count
                walk.run(Timed(min(self._left_s(), WALK_S_PER_RUN * len(self.week.runs))))
                walked += 1
                fruitless = 0 if self.so_far.cost_cents < before_cents else fruitless + 1
        finally:
            improved = self.helper.end()
        self._hear(self.helper)
        return self._is_better(improved)

    def _is_walked(self) -> bool:
        return self._is_over() or self.helper is None or not self.helper.is_at_work

    def _hear(self, helper: ImprovingBeside) -> None:
        self.so_far.bound_cents = max(self.so_far.bound_cents, helper.bound_cents)
        for plan in helper.plans():
            self.so_far.keep_plan(plan)

    def _improve(self, plan: Plan) -> bool:
        """Let the improver polish the plan; True if it proved that nothing is cheaper."""
        timed = self.settings.iterations is None
        is_open = is_solved_whole(self.week) or self.has_windows
        has_time = not timed or (is_open and IMPROVER_SHARE * self._left_s() >= LEAST_IMPROVER_S)
        is_long = timed and len(self.week.runs) >= LONG_ORDER_RUNS
        if self.improver is None or self._is_over() or not has_time or is_long:
            return False
        self.so_far.phase = "proving"
        improved = self.improver(
            self.week,
            plan,
            cost_cents=self.so_far.cost_cents,
            lower_bound_cents=self.so_far.bound_cents,
            settings=self.settings,
            seconds=IMPROVER_SHARE * self._left_s() if timed else None,
            on_better=self.so_far.keep_plan,
            on_bound=self.so_far.hear_bound,
            stop=self.asked_to_stop,
        )
        return self._is_better(improved)

    def _is_better(self, improved: Improved) -> bool:
        """Keep what an improver made of a plan; True if it proved that nothing is cheaper."""
        if improved.plan is not None:
            self.so_far.keep_plan(improved.plan)
        self.so_far.bound_cents = max(self.so_far.bound_cents, improved.lower_bound_cents)
        if improved.lost:
            self.told = f"The closest look ended early: {improved.lost}. The plan is the best found without it."
        return improved.is_proven

    def _is_over(self) -> bool:
        if self.beside is not None:
            self.so_far.bound_cents = max(self.so_far.bound_cents, self.beside.cents())
            if self.has_second and not self.beside.is_at_work:
                self._start_second()
        self.walks.hear()
        if self.helper is not None:
            self._hear(self.helper)
        return self.asked_to_stop() or (self.so_far.has_plan and self.so_far.cost_cents <= self.so_far.bound_cents)

    def _start_second(self) -> None:
        """Start the walk beside once the bound has had its time; it comes to its end with the first walk."""
        left_s = self._left_s()
        if left_s < LEAST_SECOND_S or not self.so_far.has_plan or self.second_start is None:
            return
        self.has_second = False
        until_s = self.first_walk_ends_s - (self._seconds() or 0.0)
        if len(self.week.runs) >= LONG_ORDER_RUNS:
            self.walks.start(self.week)
        elif until_s > LEAST_SECOND_S:
            self.walks.start(self.week, self.second_start, until_s)
        else:
            self.walks.start(self.week, self.so_far.genes or self.second_start, left_s)

    def _seconds(self) -> float | None:
        return perf_counter() - self.began if self.settings.iterations is None else None

    def _no_plan(self, reason: str, run_ids: tuple[str, ...]) -> SearchResult:
        return SearchResult(
            status="none",
            plan=None,
            lower_bound_cents=self.so_far.bound_cents,
            wall_seconds=self._seconds(),
            genomes=self.so_far.genomes,
            reason=reason,
            run_ids=run_ids,
            seed=self.settings.seed,
        )
