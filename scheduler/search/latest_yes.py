"""Latest yes as the queue stands: how long the answer to a waiting order may take without its date being lost.

What it means, exactly. A plan stands: a queue of runs, each on its press, with its overtime and its reclaimed screens.
The waiting order's runs come into that queue together, at one of a number of places (all of them in a small week), each
on the press on which it ends first, or all of them on one given press. Nothing of an order is staged, burned or set up
for the missing thing before the moment it comes. Everything is timed anew by the decoder, under every rule. A moment
keeps the date if at one of these places the order makes the pick-up that keeps its promise, and no other order misses
more pick-ups than in the plan that stands (or than the same queue, timed anew without the order, where that is worse).

The latest yes is a moment that keeps the date while the minute after it does not. It is sought by halving, so a later
moment at which the date happens to be kept again, with minutes between at which it is not, may be passed over: the
answer then errs to the early side. What a plan for a later moment can do it can do for an earlier one as well.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from scheduler.domain.latest_yes import LatestYes
from scheduler.domain.plan import Plan
from scheduler.domain.week import Run, Week
from scheduler.search.decoder import Decoded, Decoder, Progress, Refused
from scheduler.search.genome import Genes, Genome, genes_of
from scheduler.search.state import State

MOST_PLACES = 24
"""Places of the queue that are tried, spread evenly where there are more."""

NOT_IN_TIME = "not worked out in the time there was"
TOO_LATE = "too late already: not even with it now is the date kept without making another order late"

Stop = Callable[[], bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting:
    """An order that waits, in a week in which it can be planned: which of its runs wait for art, which for garments."""

    order_id: str
    art: frozenset[str]
    garments: frozenset[str]


@dataclass(frozen=True, slots=True)
class Kept:
    """A plan that keeps the date. needed_tau: the shop minute at which it first needs the missing thing."""

    decoded: Decoded
    needed_tau: int


def latest_yes(week: Week, plan: Plan, waiting: Waiting, stop: Stop | None = None) -> LatestYes:
    """The last shop minute at which what the order waits for may come.

    week: the week with the order in it, released at any moment. plan: the queue that stands, without the order.
    """
    if waiting.order_id not in week.order:
        return LatestYes(order_id=waiting.order_id, latest_tau=None, why=_why_not_planned(week, waiting.order_id))
    queue = StandingQueue(week, plan, waiting)
    is_over = stop or (lambda: False)
    kept = queue.kept(0)
    found = LatestYes(order_id=waiting.order_id, latest_tau=None, promised_tau=queue.promised_tau, why=TOO_LATE)
    if kept is None:
        return found
    lost_tau = queue.promised_tau + 1
    while kept.needed_tau + 1 < lost_tau:
        if is_over():
            return replace(found, why=NOT_IN_TIME)
        # The same plan serves every moment up to the one at which it needs the thing: search goes on from there.
        middle_tau = (kept.needed_tau + lost_tau) // 2
        later = queue.kept(middle_tau)
        if later is None:
            lost_tau = middle_tau
        else:
            kept = later
    return replace(found, latest_tau=kept.needed_tau, why="")


def _why_not_planned(week: Week, order_id: str) -> str:
    reasons = [reason for one in week.not_planned if one.order_id == order_id for reason in one.reasons]
    return "; ".join(reasons) or "it has no print to plan"


def released(week: Week, waiting: Waiting, tau: int) -> Week:
    """The week in which what the order waits for comes at a shop minute."""
    return replace(
        week,
        runs=tuple(
            replace(
                run,
                art_tau=tau if run.run_id in waiting.art else run.art_tau,
                blanks_tau=tau if run.run_id in waiting.garments else run.blanks_tau,
            )
            for run in week.runs
        ),
    )


class StandingQueue:
    """A queue that stands, and whether a waiting order can still come into it in time."""

    def __init__(self, week: Week, plan: Plan, waiting: Waiting) -> None:
        """Take over the queue; the promises of all other orders are those of the plan."""
        self.week = week
        self.waiting = waiting
        due = week.order[waiting.order_id]
        self.promised_tau = due.pickups_tau[due.must_leave]
        self.own = tuple(_own_runs(week, plan, waiting.order_id))
        self.presses = [press.press_id for press in week.presses if any(press.press_id in r.on_press for r in self.own)]
        decoder = Decoder(week)
        self.queue, self.most_missed = self._standing(decoder, plan)

    def kept(self, tau: int) -> Kept | None:
        """A plan that keeps the date if the missing thing comes at this shop minute; None if there is none."""
        week = released(self.week, self.waiting, tau)
        decoder = Decoder(week)
        marks = self._marks(decoder, tau)
        if marks is None:
            return None
        for place, begun in reversed(marks):
            for press_id in (None, *self.presses):
                decoded = self._decoded(decoder, self._genes(decoder, place, press_id, tau), begun.copy())
                if decoded is not None:
                    return Kept(decoded, self._needed_tau(decoded))
        return None

    def _standing(self, decoder: Decoder, plan: Plan) -> tuple[Genome, dict[str, int]]:
        """The queue as a genome, held to the plan's times only where it would miss promises without; most misses."""
        in_plan = {order.order_id: self._missed(order.order_id, order.packed_tau) for order in plan.orders}
        best: tuple[int, Genome, dict[str, int]] | None = None
        for genome in self._genomes(plan):
            decoded = decoder.decode(genome)
            if isinstance(decoded, Refused):
                continue
            now = self._all_missed(decoder, decoded.state)
            worse = sum(max(0, missed - in_plan.get(order_id, missed)) for order_id, missed in now.items())
            most = {order_id: max(missed, in_plan.get(order_id, missed)) for order_id, missed in now.items()}
            if best is None or worse < best[0]:
                best = worse, genome, most
            if not worse:
                break
        if best is None:
            return next(self._genomes(plan)), in_plan
        return best[1], best[2]

    def _genomes(self, plan: Plan) -> Iterator[Genome]:
        """The plan's queue without the waiting order's runs; then the same, nothing earlier than planned."""
        week, own = self.week, {run.run_id for run in self.own}
        in_plan = [one for one in plan.runs if one.run_id in week.run and one.run_id not in own]
        in_plan.sort(key=lambda one: (one.set_up_start_tau, one.print_end_tau, one.run_id))
        press = {one.run_id: one.press_id for one in in_plan}
        last_use = {week.run[one.run_id].set_id: one.run_id for one in in_plan}
        early = {one.after_run_id for one in plan.reclaims if one.after_run_id in press}
        genome = Genome(
            order=(*press, *(run.run_id for run in week.runs if run.run_id not in press and run.run_id not in own)),
            press=tuple(press.get(run.run_id) for run in week.runs),
            release=frozenset(early.difference(last_use.values())),
            overtime=frozenset(plan.overtime),
        )
        yield genome
        yield replace(genome, later=tuple((one.run_id, one.set_up_start_tau) for one in in_plan))

    def _marks(self, decoder: Decoder, tau: int) -> list[tuple[int, Progress]] | None:
        """The queue placed up to each place at which the order may come in; None if it cannot be begun at all."""
        genes = genes_of(decoder.tables, self._with_own(len(self.queue.order), None, tau))
        begun = decoder.begin(genes)
        if isinstance(begun, Refused):
            return None
        count = len(self.queue.order)
        places = sorted({count * at // (MOST_PLACES - 1) for at in range(MOST_PLACES)}) if count else [0]
        found = []
        for place in places:
            if decoder.advance(genes, begun, place) is not None:
                break
            found.append((place, begun.copy()))
        return found

    def _genes(self, decoder: Decoder, place: int, press_id: str | None, tau: int) -> Genes:
        return genes_of(decoder.tables, self._with_own(place, press_id, tau))

    def _with_own(self, place: int, press_id: str | None, tau: int) -> Genome:
        """The queue with the order's runs at a place, each on the press where it ends first or on the given one."""
        order, own = self.queue.order, tuple(run.run_id for run in self.own)
        presses = dict(zip((run.run_id for run in self.week.runs), self.queue.press, strict=True))
        presses |= {run.run_id: press_id if press_id in run.on_press else None for run in self.own}
        later = dict(self.queue.later) | dict.fromkeys((*self.waiting.art, *self.waiting.garments), tau)
        return replace(
            self.queue,
            order=(*order[:place], *own, *order[place:]),
            press=tuple(presses[run.run_id] for run in self.week.runs),
            later=tuple(later.items()),
        )

    def _decoded(self, decoder: Decoder, genes: Genes, progress: Progress) -> Decoded | None:
        """The plan of these genes if it keeps the date and all other promises; given up at the first broken one."""
        runs, orders = decoder.tables.runs, decoder.tables.orders
        for at in range(progress.at, len(genes.order)):
            if decoder.advance(genes, progress, at + 1) is not None:
                return None
            number = runs[genes.order[at]].order
            packed_tau = progress.state.packed_tau[number]
            if packed_tau >= 0 and not self._is_kept(orders[number].order_id, packed_tau):
                return None
        decoded = decoder.finish(genes, progress)
        if isinstance(decoded, Refused):
            return None
        packed = zip(orders, decoded.state.packed_tau, strict=True)
        return decoded if all(self._is_kept(order.order_id, tau) for order, tau in packed) else None

    def _is_kept(self, order_id: str, packed_tau: int) -> bool:
        if order_id == self.waiting.order_id:
            return packed_tau <= self.promised_tau
        return self._missed(order_id, packed_tau) <= self.most_missed.get(order_id, 0)

    def _missed(self, order_id: str, packed_tau: int) -> int:
        order = self.week.order.get(order_id)
        return 0 if order is None else sum(tau < packed_tau for tau in order.pickups_tau[order.must_leave :])

    def _all_missed(self, decoder: Decoder, state: State) -> dict[str, int]:
        packed = zip(decoder.tables.orders, state.packed_tau, strict=True)
        return {order.order_id: self._missed(order.order_id, tau) for order, tau in packed if tau >= 0}

    def _needed_tau(self, decoded: Decoded) -> int:
        """Shop minute at which a plan first stages, burns or sets up with what is missing."""
        tables, state = decoded.tables, decoded.state
        found = []
        for run_id in self.waiting.garments | self.waiting.art:
            one_number = tables.run_number[run_id]
            one = state.of(one_number)
            ready, needs = one.ready, [one.start_tau]
            if run_id in self.waiting.garments:
                needs += [] if ready.stage_start_tau < 0 else [ready.stage_start_tau]
                needs += [span.start_tau for span in state.steps.get((tables.runs[one_number].order, True), ())[:1]]
            if run_id in self.waiting.art and ready.burn is not None:
                needs.append(ready.burn.start_tau)
            found.append(min(needs))
        return min(found)


def _own_runs(week: Week, plan: Plan, order_id: str) -> list[Run]:
    """The order's runs that are not in the queue yet, each after those it prints after."""
    left = [run for run in week.runs if run.order_id == order_id and run.run_id not in plan.run]
    found: list[Run] = []
    while left:
        waits = {run.run_id for run in left}
        run = next((one for one in left if not waits.intersection(one.print_after)), left[0])
        left.remove(run)
        found.append(run)
    return found
