"""Many what-ifs at once: each is answered by itself, on whatever an executor offers.

This machine's processes by default; anything that is a `concurrent.futures.Executor` does, a Dask cluster's too.
"""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Iterator, Sequence
from concurrent.futures import Executor, Future, ProcessPoolExecutor, as_completed
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from scheduler.domain.answers import Answers
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.what_if import WhatIf
from scheduler.errors import InputError, Problem
from scheduler.what_if.answering import answer


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One what-if with everything that is needed to answer it anywhere."""

    name: str
    inputs: WeekInputs
    plan: Plan
    what_ifs: tuple[WhatIf, ...]
    settings: SearchSettings
    now: datetime | None = None


def answer_case(case: Case) -> Answers:
    """The answers to one case."""
    return answer(case.inputs, case.plan, case.what_ifs, case.settings, name=case.name, now=case.now)


def answer_many(cases: Sequence[Case], executor: Executor) -> Iterator[tuple[int, Answers]]:
    """(place, answers) of each case as they come in; what is left is cancelled when nobody listens any more."""
    places: dict[Future[Answers], int] = {executor.submit(answer_case, case): at for at, case in enumerate(cases)}
    try:
        for done in as_completed(places):
            yield places[done], done.result()
    finally:
        for future in places:
            future.cancel()


@contextmanager
def local_processes(most: int) -> Iterator[Executor]:
    """This machine's processes, no more than its processors; started afresh, so that threads do no harm."""
    count = max(1, min(most, os.cpu_count() or 1))
    with ProcessPoolExecutor(count, mp_context=multiprocessing.get_context("spawn")) as executor:
        yield executor


@contextmanager
def dask_cluster(address: str) -> Iterator[Executor]:
    """The cluster at an address. Raises InputError where Dask is not installed or nobody answers there."""
    try:
        from distributed import Client
    except ImportError as fault:
        raise _no_cluster(address, "Dask is not installed", 'install Pressweek with its extra "dask"') from fault
    try:
        client: Any = Client(address, timeout="3s")  # type: ignore[no-untyped-call]
    except (OSError, ValueError) as fault:
        raise _no_cluster(address, "no cluster answers there", "look at the address of its scheduler") from fault
    try:
        yield client.get_executor(pure=False)
    finally:
        client.close()


def _no_cluster(address: str, message: str, hint: str) -> InputError:
    return InputError((Problem(file=address, code="no_cluster", message=message, hint=hint),))
