"""Many what-ifs at once: on this process, on processes of this machine, on a cluster."""

from __future__ import annotations

from concurrent.futures import Executor, ThreadPoolExecutor

import pytest
from distributed import LocalCluster

from scheduler import api
from scheduler.domain.answers import Answers
from scheduler.domain.settings import SearchSettings
from scheduler.domain.what_if import Cancelled, DateMoved, WhatIf
from scheduler.errors import InputError
from scheduler.what_if.many import Case, answer_many
from tests.what_if import small
from tests.workload import shops

WHAT_IFS: tuple[WhatIf, ...] = (
    small.rush(),
    Cancelled(order_id="2"),
    DateMoved(order_id="1", due_at=shops.at(6).date()),
    small.rush("S", pieces=800),
)


def cases() -> list[Case]:
    """Four what-ifs on one plan."""
    inputs = small.shop_inputs(4)
    plan = small.plan_of(inputs)
    settings = SearchSettings(iterations=5, workers=1)
    return [
        Case(name=str(at), inputs=inputs, plan=plan, what_ifs=(one,), settings=settings)
        for at, one in enumerate(WHAT_IFS)
    ]


def costs(found: dict[int, Answers]) -> list[list[int | None]]:
    """What each answer costs, in the order of the cases."""
    return [
        [api.measure(one.week, one.plan).cost.total if one.plan else None for one in found[at].answers]
        for at in sorted(found)
    ]


def one_by_one() -> list[list[int | None]]:
    """The answers without any executor."""
    return costs(
        {at: api.ask_what_if(case.inputs, case.plan, case.what_ifs, case.settings) for at, case in enumerate(cases())}
    )


def test_any_executor_gives_the_same_answers() -> None:
    """Threads, and this machine's processes, answer as if asked one after the other; each by its place."""
    expected = one_by_one()
    with ThreadPoolExecutor(2) as executor:
        assert costs(dict(api.ask_many(cases(), executor=executor))) == expected
    found = dict(api.ask_many(cases()))
    assert costs(found) == expected
    assert [found[at].name for at in sorted(found)] == ["0", "1", "2", "3"]


def test_a_dask_cluster_gives_the_same_answers() -> None:
    """A cluster of one worker on this machine, named by its address."""
    with LocalCluster(n_workers=1, threads_per_worker=1, processes=False, dashboard_address=None) as cluster:
        found = dict(api.ask_many(cases(), dask=cluster.scheduler_address))
    assert costs(found) == one_by_one()


def test_a_cluster_that_is_not_there_is_one_fault() -> None:
    """An address nobody answers at, and one that is none: one sentence each, no traceback."""
    for address in ("tcp://127.0.0.1:9", "nowhere"):
        with pytest.raises(InputError) as fault:
            list(api.ask_many(cases(), dask=address))
        assert [one.code for one in fault.value.problems] == ["no_cluster"]


def test_nothing_is_worked_out_for_nobody() -> None:
    """Once nobody listens any more, what has not begun is cancelled."""
    begun: list[str] = []

    class Waiting(Executor):
        """Runs the first case and keeps the others waiting."""

        def __init__(self) -> None:
            self.futures: list[object] = []

        def submit(self, fn, /, *args, **kwargs):  # type: ignore[no-untyped-def]
            from concurrent.futures import Future

            future: Future[object] = Future()
            self.futures.append(future)
            if len(self.futures) == 1:
                begun.append(args[0].name)
                future.set_result(fn(*args, **kwargs))
            return future

    executor = Waiting()
    answers = answer_many(cases(), executor)
    assert next(answers)[0] == 0
    answers.close()  # type: ignore[attr-defined]
    assert begun == ["0"]
    assert all(future.cancelled() for future in executor.futures[1:])  # type: ignore[attr-defined]
