"""A second walk in a process of its own: what it finds is heard, and losing it loses nothing."""

from __future__ import annotations

import multiprocessing
import os
import resource
import signal
from collections.abc import Callable
from dataclasses import replace
from time import monotonic, perf_counter, sleep

import pytest

from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.review.rules import check
from scheduler.search import engine, stretch_walk, two_walks
from scheduler.search.best_so_far import BestSoFar
from scheduler.search.bound_beside import SMALL_RUNS
from scheduler.search.construction import due_date_list
from scheduler.search.decoder import Decoder
from scheduler.search.engine import plan_week
from scheduler.search.genome import Genes, genes_of
from scheduler.search.local import Counted, Timed
from scheduler.search.result import Improved
from scheduler.search.stretch_walk import StretchWalk
from scheduler.search.timing import NEVER
from scheduler.search.two_walks import TwoWalks, joined
from scheduler.search.walk_beside import MOST_UNHEARD, SetOut, WalkBeside, timed
from tests.random_weeks import random_week

LONGEST_S = 60.0
"""A process may take so long to load on a busy machine."""
MEDIUM = 2
"""Seed of a random week of medium size that is planned, and whose due-date list can be bettered."""


def medium() -> tuple[Week, Decoder, Genes]:
    """The week, its decoder and the due-date list."""
    one = random_week(MEDIUM, size="medium")
    decoder = Decoder(one)
    return one, decoder, genes_of(decoder.tables, due_date_list(one))


def waited(until: Callable[[], bool]) -> bool:
    """True once it is so, False if it is not for very long."""
    ends = monotonic() + LONGEST_S
    while not until() and monotonic() < ends:
        sleep(0.02)
    return until()


@pytest.mark.parametrize("in_stretches", [False, True])
def test_a_better_plan_of_the_walk_beside_is_heard(in_stretches: bool) -> None:
    """Sent out from the due-date list it soon tells of a cheaper plan, which our own decoder times alike."""
    one, decoder, start = medium()
    so_far = BestSoFar(one, None, perf_counter)
    listed = timed(decoder, start)
    assert listed is not None
    so_far.keep(listed)
    beside = WalkBeside(one)
    try:
        part = (0, len(start.order)) if in_stretches else None
        beside.set_out(SetOut(genes=start, seed=1, seconds=LONGEST_S, part=part))
        heard: list[Genes] = []

        def is_heard() -> bool:
            genes = beside.best(listed.decoded.cost_cents)
            heard.extend([genes] if genes is not None else [])
            return bool(heard)

        assert waited(is_heard)
        best = timed(decoder, heard[-1])
        assert best is not None
        assert best.decoded.cost_cents < listed.decoded.cost_cents
        assert check(one, best.decoded.plan) == ()
    finally:
        beside.close()
    assert multiprocessing.active_children() == []


def test_a_walk_beside_that_is_killed_says_no_more() -> None:
    """Its silence is found out, and whatever is asked of it afterwards does nothing."""
    one, _, start = medium()
    beside = WalkBeside(one)
    beside.set_out(SetOut(genes=start, seed=1, seconds=LONGEST_S))
    assert beside.process_id is not None
    os.kill(beside.process_id, signal.SIGKILL)

    def is_lost() -> bool:
        beside.best(0)
        return not beside.is_at_work

    assert waited(is_lost)
    beside.set_out(SetOut(genes=start, seed=2, seconds=1.0))
    assert beside.best(NEVER) is None
    beside.close()
    assert multiprocessing.active_children() == []


def test_a_walk_beside_that_stands_still_holds_nobody_up() -> None:
    """A process that is halted hears nothing: after some rounds it is told no more, instead of waiting for it."""
    one, _, start = medium()
    beside = WalkBeside(one)
    assert beside.process_id is not None
    os.kill(beside.process_id, signal.SIGSTOP)
    try:
        began = perf_counter()
        for seed in range(20 * MOST_UNHEARD):
            beside.set_out(SetOut(genes=replace(start, order=start.order * 100), seed=seed, seconds=1.0))
        assert perf_counter() - began < 5
    finally:
        os.kill(beside.process_id, signal.SIGCONT)
        beside.close()


class Scripted:
    """A walk beside that tells what it is given, and remembers what it is asked."""

    is_at_work = True

    def __init__(self, told: list[Genes]) -> None:
        self.told = told
        self.asked: list[SetOut] = []

    def best(self, _below_cents: int) -> Genes | None:
        return self.told.pop() if self.told else None

    def set_out(self, one: SetOut) -> None:
        self.asked.append(one)

    def close(self) -> None:
        self.is_at_work = False


def led(told: list[Genes]) -> tuple[TwoWalks, BestSoFar, Scripted]:
    """Two walks of the medium week, one of them scripted, with the due-date list as the best so far."""
    one, decoder, start = medium()
    so_far = BestSoFar(one, None, perf_counter)
    listed = timed(decoder, start)
    assert listed is not None
    so_far.keep(listed)
    walks, scripted = TwoWalks(decoder, so_far, 1, lambda: False), Scripted(told)
    walks.beside = scripted  # type: ignore[assignment]
    return walks, so_far, scripted


def test_what_is_heard_is_kept_only_where_it_is_cheaper_by_our_own_decoder() -> None:
    """A cheaper plan of the walk beside is the best from then on; a dearer one, or none at all, is not."""
    _, decoder, start = medium()
    better = StretchWalk(decoder, start, 1).run(Counted(200))
    assert better is not None
    walks, so_far, _ = led([start, better.genes, replace(start, order=start.order[::-1])])
    before = so_far.cost_cents
    walks.hear()
    assert so_far.cost_cents <= before
    walks.hear()
    assert so_far.cost_cents <= better.decoded.cost_cents < before
    walks.hear()
    assert so_far.cost_cents <= better.decoded.cost_cents


def test_both_set_out_again_from_the_better_plan() -> None:
    """The walk beside is told to go on from the best of both, with luck of its own."""
    _, decoder, start = medium()
    better = StretchWalk(decoder, start, 1).run(Counted(200))
    assert better is not None
    walks, so_far, scripted = led([better.genes])
    walks.hear()
    walks.look_on(start, 0.6)
    assert [one.genes for one in scripted.asked][:1] == [better.genes]
    assert scripted.asked[0].seed != walks.seed
    assert so_far.cost_cents <= better.decoded.cost_cents


def test_halves_of_two_orders_are_put_together() -> None:
    """Runs ahead of the border are as one has them, the others as the other; orders divided otherwise do not fit."""
    _, _, start = medium()
    at, order = len(start.order) // 2, start.order
    front = replace(start, order=(order[1], order[0], *order[2:]), release=frozenset({order[0], order[-1]}))
    back = replace(start, order=(*order[:-2], order[-1], order[-2]), press=tuple(0 for _ in order))
    both = joined(front, back, at)
    assert both is not None
    assert both.order == (order[1], order[0], *order[2:-2], order[-1], order[-2])
    assert both.release == frozenset({order[0]})
    assert {both.press[run] for run in order[at:]} == {0}
    assert [both.press[run] for run in order[:at]] == [start.press[run] for run in order[:at]]
    assert joined(front, replace(back, order=order[::-1]), at) is None
    assert joined(front, replace(back, bought=frozenset({"an evening"})), at) is None


def test_each_walks_its_own_half() -> None:
    """A walk of a part of the order leaves the runs outside it where they are."""
    found = 0
    for part in ((0, 10), (10, 10_000)):
        _, decoder, start = medium()
        to = min(part[1], len(start.order))
        best = StretchWalk(decoder, start, 1, part=(part[0], to)).run(Counted(200))
        assert best is not None
        assert best.genes.order[: part[0]] == start.order[: part[0]]
        assert best.genes.order[to:] == start.order[to:]
        found += best.genes != start
    assert found


def test_a_sweep_goes_on_where_it_was_left(monkeypatch: pytest.MonkeyPatch) -> None:
    """A walk that is stopped says how far it came, and the next begins there, or in front where that is elsewhere."""
    monkeypatch.setattr(stretch_walk, "STRETCH_RUNS", 6)
    _, decoder, start = medium()
    walk = StretchWalk(decoder, start, 1, at=7)
    assert walk.at == 7
    walk.run(Counted(1))
    assert 7 < walk.at < len(start.order)
    assert StretchWalk(decoder, start, 1, part=(3, 9), at=walk.at + 9).at == 3


def test_a_watch_may_be_started_late() -> None:
    """Ten seconds of which a quarter is gone are the last three quarters of a longer time."""
    budget = Timed(9.0, 0.25)
    assert budget.seconds == 12.0
    assert budget.share() == pytest.approx(0.25, abs=0.05)


def left_as_it_is(*_: object, **__: object) -> Improved:
    """An improver that finds nothing."""
    return Improved(plan=None)


@pytest.fixture
def walked(monkeypatch: pytest.MonkeyPatch) -> Week:
    """A week that is walked like a large one although it is so small that its bound is there at once."""
    monkeypatch.setattr(engine, "is_solved_whole", lambda _week: False)
    return random_week(MEDIUM, size="medium", run_count=SMALL_RUNS - 1)


SHORT = SearchSettings(seconds=6.0, workers=2)


@pytest.mark.parametrize("is_long", [False, True])
@pytest.mark.parametrize("fate", ["killed", "out of memory"])
def test_a_search_whose_second_walk_is_lost_ends_with_its_plan(
    walked: Week, monkeypatch: pytest.MonkeyPatch, is_long: bool, fate: str
) -> None:
    """Killed or without memory: nobody waits for it, the other walk comes to a plan no dearer than the list."""
    lost: list[int] = []

    class Unlucky(WalkBeside):
        def __init__(self, one: Week) -> None:
            super().__init__(one)
            assert self.process_id is not None
            if fate == "killed":
                os.kill(self.process_id, signal.SIGKILL)
            else:
                resource.prlimit(self.process_id, resource.RLIMIT_AS, (60_000_000, 60_000_000))
            lost.append(self.process_id)

    monkeypatch.setattr(two_walks, "WalkBeside", Unlucky)
    monkeypatch.setattr(engine, "LONG_ORDER_RUNS", 1 if is_long else 10_000)
    result = plan_week(walked, SHORT, improver=left_as_it_is)
    assert len(lost) == 1
    assert result.plan is not None
    assert check(walked, result.plan) == ()
    assert result.baseline is not None
    assert result.cost_cents <= result.baseline.cost_cents
    assert result.wall_seconds is not None
    assert result.wall_seconds < 3 * SHORT.seconds


def test_no_room_for_another_process_costs_no_plan(walked: Week, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the system starts no further process the search walks alone."""

    def refused(_one: Week) -> WalkBeside:
        raise OSError(12, "Cannot allocate memory")

    monkeypatch.setattr(two_walks, "WalkBeside", refused)
    result = plan_week(walked, SHORT, improver=left_as_it_is)
    assert result.plan is not None
    assert check(walked, result.plan) == ()


@pytest.mark.parametrize("is_long", [False, True])
def test_a_search_of_two_walks_is_stopped_at_any_moment(
    walked: Week, monkeypatch: pytest.MonkeyPatch, is_long: bool
) -> None:
    """Stop is heard while both walk: the best plan comes back at once and no process stays behind."""
    began: list[float] = []

    class Watched(WalkBeside):
        def __init__(self, one: Week) -> None:
            super().__init__(one)
            began.append(perf_counter())

    monkeypatch.setattr(two_walks, "WalkBeside", Watched)
    monkeypatch.setattr(engine, "LONG_ORDER_RUNS", 1 if is_long else 10_000)
    settings = SearchSettings(seconds=LONGEST_S, workers=2)
    result = plan_week(
        walked, settings, stop=lambda: bool(began) and perf_counter() > began[0] + 2, improver=left_as_it_is
    )
    assert began
    assert perf_counter() - began[0] < 12
    assert result.plan is not None
    assert check(walked, result.plan) == ()
    assert multiprocessing.active_children() == []


@pytest.mark.parametrize(
    "settings",
    [SearchSettings(iterations=60, workers=2), SearchSettings(seconds=6.0, workers=1), SearchSettings(seconds=1.0)],
)
def test_counted_lone_and_short_searches_are_one_walk(
    walked: Week, monkeypatch: pytest.MonkeyPatch, settings: SearchSettings
) -> None:
    """No process for a second walk where work is counted, where one worker is allowed, or where time is short."""

    def never(_one: Week) -> WalkBeside:
        raise AssertionError("a second walk was started")

    monkeypatch.setattr(two_walks, "WalkBeside", never)
    first = plan_week(walked, settings, improver=left_as_it_is)
    assert first.plan is not None
    if settings.iterations is not None:
        assert plan_week(walked, settings, improver=left_as_it_is) == first
