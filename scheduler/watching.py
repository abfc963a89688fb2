"""A search watched from the keyboard: what it has found is told while it goes on, and Ctrl-C keeps the best so far."""

from __future__ import annotations

import signal
import threading
import time
from collections.abc import Callable
from multiprocessing import resource_tracker
from types import FrameType, TracebackType
from typing import TYPE_CHECKING, TypeVar

import typer

from scheduler import api, terminal
from scheduler.domain.settings import SearchSettings

if TYPE_CHECKING:
    from pathlib import Path

    from scheduler.domain.plan import Plan
    from scheduler.domain.week import Week

T = TypeVar("T")

Search = Callable[[SearchSettings, Callable[["api.Progress"], None], Callable[[], bool]], "api.SearchResult"]
"""Looks for a plan, tells of better ones, and stops when asked."""

NO_PLAN = 1
PROGRESS_EVERY_S = 1.0
POLL_S = 0.1

STOP_SIGNALS = tuple(getattr(signal, name) for name in ("SIGINT", "SIGBREAK") if hasattr(signal, name))
"""Ctrl-C, and Ctrl-Break where there is one."""


class Interrupt:
    """Ctrl-C once asks the search to stop and keeps its plan; twice ends the program."""

    def __init__(self) -> None:
        self._event = threading.Event()

    def is_set(self) -> bool:
        """True once somebody asked to stop."""
        return self._event.is_set()

    def _asked(self, _signal: int, _frame: FrameType | None) -> None:
        if self._event.is_set():
            raise KeyboardInterrupt
        self._event.set()
        terminal.say(terminal.err(), "stopping ...")

    def __enter__(self) -> Interrupt:
        self._before = [(number, signal.signal(number, self._asked)) for number in STOP_SIGNALS]
        return self

    def __exit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        for number, handler in self._before:
            signal.signal(number, handler)


def watched_search(
    workload: api.Workload, settings: SearchSettings, interrupt: Interrupt, currency: str, search: Search | None = None
) -> api.SearchResult:
    """The search's result. It works beside the main thread, which alone hears Ctrl-C while a library computes.

    search: what looks for the plan, where that is not simply planning the week.
    """
    progress = _Progress(workload.week, currency)
    look: Search = search or (lambda *asked: api.plan_week(workload, *asked))
    return watched(lambda: look(settings, progress, interrupt.is_set), progress.tell)


def watched(asked: Callable[[], T], tell: Callable[[], None]) -> T:
    """What `asked` returns, or raises; it works beside the main thread, which calls `tell` meanwhile."""
    box: list[T] = []
    faults: list[BaseException] = []

    def work() -> None:
        try:
            _leave_ctrl_c_to_the_main_thread()
            box.append(asked())
        except BaseException as fault:
            faults.append(fault)

    thread = threading.Thread(target=work, daemon=True)
    thread.start()
    while thread.is_alive():
        thread.join(POLL_S)
        tell()
    if faults:
        raise faults[0]
    return box[0]


def planned_or_read(
    workload: api.Workload,
    plan_file: Path | None,
    settings: SearchSettings,
    interrupt: Interrupt,
    currency: str,
    search: Search | None = None,
) -> Plan:
    """The plan in a file, checked, or one made now by `search`. Leaves with 1 where there is none, or a broken one."""
    if plan_file is None:
        result = watched_search(workload, settings, interrupt, currency, search)
        if result.plan is None:
            terminal.say(terminal.err(), f"There is no plan: {result.reason or 'none was found in time'}.")
            raise typer.Exit(NO_PLAN)
        return result.plan
    plan, facts = api.read_plan(plan_file, workload.week)
    differs = api.other_inputs(facts, workload.week)
    if differs:
        terminal.say(terminal.err(), differs)
    broken = api.check(workload.week, plan)
    if broken:
        terminal.say(terminal.err(), f"The plan breaks {len(broken)} rules; `pressweek verify` tells them.")
        raise typer.Exit(NO_PLAN)
    return plan


def _leave_ctrl_c_to_the_main_thread() -> None:
    """From here on this thread and every process it starts no longer hear Ctrl-C, which goes to all of them at once."""
    if hasattr(signal, "pthread_sigmask"):
        resource_tracker.ensure_running()  # started later, it would let Ctrl-C through again
        signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})


class _Progress:
    """Tells the best cost so far in plain words, at most once a second and never twice the same."""

    def __init__(self, week: Week, currency: str) -> None:
        self._week, self._currency = week, currency
        self._began = time.monotonic()
        self._latest: api.Progress | None = None
        self._told_at = -PROGRESS_EVERY_S
        self._told_cents: int | None = None

    def __call__(self, progress: api.Progress) -> None:
        """A plan has been found."""
        self._latest = progress

    def tell(self) -> None:
        """Say what is new, if it is time."""
        now, latest = time.monotonic() - self._began, self._latest
        if latest is None or latest.cost_cents == self._told_cents or now < self._told_at + PROGRESS_EVERY_S:
            return
        self._told_at, self._told_cents = now, latest.cost_cents
        late = len(api.measure(self._week, latest.plan).late_orders)
        told = f"after {now:3.0f} s: the best plan so far costs {_money(latest.cost_cents, self._currency)}"
        terminal.say(terminal.err(), f"{told}, {late or 'no'} {'order' if late == 1 else 'orders'} late")


def _money(cents: int, currency: str) -> str:
    return f"{cents / 100:,.2f} {currency}".rstrip()
