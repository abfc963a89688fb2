"""What every page sees: the week, the plan in use, and how far the files have moved on since it was made.

How a page is written (views/<name>.py, run anew at every click):

    from dashboard import state
    from dashboard.parts import states

    seen = state.current()            # tells faults and ends the page where nothing can be read
    if seen.plan is None:
        states.no_plan()              # says what to do, and ends the page
    ...

`seen.week` and `seen.inputs` are always those the plan was made from, so a plan and its week fit each other; files
that moved on since are told by `seen.changes`, and `seen.now` holds what the files say now (None while they hold
faults, which are then in `seen.faults`). Nothing here may be changed; everything is shared by all who look.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cached_property
from pathlib import Path
from zoneinfo import ZoneInfo

import streamlit as st

from dashboard import kept
from scheduler import api
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.errors import InputError, Problem

REPLAYS = 600
"""How often a page lives a plan through: enough for odds in twentieths, quick enough to wait for."""

WEEK_VARIABLE = "PRESSWEEK_WEEK"
"""Environment variable in which the server is told its week."""


@dataclass(frozen=True, kw_only=True)
class Read:
    """A week's files, read without fault."""

    inputs: WeekInputs
    workload: api.Workload
    warnings: tuple[Problem, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Current:
    """What the pages show.

    folder: the week (a folder, or a workbook). inputs, workload: of the plan in use; of the files now where there is
    none. plan, measures, facts, made_at (in the shop's zone): None without a plan. changes: what the files say
    differently since the plan was made, a sentence each. now, faults: the files as they are now.
    """

    folder: Path
    inputs: WeekInputs
    workload: api.Workload
    plan: Plan | None = None
    measures: api.Measures | None = None
    facts: api.PlanFacts | None = None
    made_at: datetime | None = None
    plan_folder: Path | None = None
    changes: tuple[str, ...] = ()
    now: Read | None = None
    faults: tuple[Problem, ...] = ()

    @property
    def week(self) -> Week:
        """The planning question behind the plan."""
        return self.workload.week

    @property
    def clients(self) -> dict[str, str]:
        """Who ordered, by order."""
        return {order.order_id: order.client for order in self.inputs.orders}

    @cached_property
    def view(self) -> api.PlanView:
        """Everything pages show of the plan, worked out once for all who look. Only where there is a plan."""
        assert self.plan is not None
        joint = api.joint_week(self.inputs, self.week, self.plan)
        return api.plan_view(self.week, self.plan, self.clients, joint)

    @cached_property
    def held(self) -> api.HoldingUp:
        """What holds the plan up. Only where there is a plan."""
        assert self.plan is not None
        return api.holding_up(self.week, self.plan)

    @cached_property
    def outlook(self) -> api.Outlook:
        """The day to say for every order, from living the plan through. Only where there is a plan."""
        assert self.plan is not None
        return api.outlook(self.inputs, self.week, self.plan, replays=REPLAYS)

    @cached_property
    def chase(self) -> tuple[api.ChaseRow, ...]:
        """Whom to ring, and by when. Only where there is a plan."""
        assert self.plan is not None
        return api.chase_list(self.inputs, self.week, self.plan)

    def papers(self, units: str) -> tuple[api.Paper, ...]:
        """What hangs on the floor, made once for all who look. Only where there is a plan."""
        assert self.plan is not None
        if units not in self._papers:
            self._papers[units] = api.floor_papers(self.inputs, self.week, self.plan, units=units)
        return self._papers[units]

    @cached_property
    def _papers(self) -> dict[str, tuple[api.Paper, ...]]:
        return {}

    @property
    def now_tau(self) -> int:
        """The shop minute it is now; the planning moment (0) where the clock stands outside the week."""
        clock = self.week.clock
        wall = clock.wall_of(datetime.now(UTC))
        return clock.tau(wall) if 0 <= wall <= clock.stretches[-1].wall_end_min else 0


@dataclass(frozen=True, kw_only=True)
class Unreadable:
    """A week without a plan whose files hold faults."""

    folder: Path
    faults: tuple[Problem, ...]


def week_path() -> Path:
    """The week this dashboard shows."""
    return Path(os.environ.get(WEEK_VARIABLE, ".")).absolute()


def look() -> Current | Unreadable:
    """The week and its plan as they are now; read anew only when a file has changed."""
    path = week_path()
    return _seen(str(path), kept.stamp(path))


def current() -> Current:
    """The week and its plan; where nothing can be read the page tells every fault and ends."""
    seen = look()
    if isinstance(seen, Unreadable):
        from dashboard.parts import states

        states.unreadable(seen)
    assert isinstance(seen, Current)
    return seen


def of_folder(folder: Path) -> Current | None:
    """A plan that was kept but need not be in use, on the week it was made from; None where it cannot be read."""
    return _kept_plan(str(week_path()), str(folder))


@st.cache_resource(max_entries=4, show_spinner=False)
def _kept_plan(week: str, folder: str) -> Current | None:
    plan = kept.in_folder(Path(week), Path(folder))
    return None if plan is None else _with_plan(Path(week), plan, None, ())


@st.cache_resource(max_entries=4, show_spinner=False)
def _seen(week: str, stamp: tuple[tuple[str, int, int], ...]) -> Current | Unreadable:
    del stamp  # only there so that a changed file is read anew
    path = Path(week)
    now, faults = _read(path)
    plan = kept.in_use(path)
    if plan is not None:
        found = _with_plan(path, plan, now, faults)
        if found is not None:
            return found
    if now is None:
        return Unreadable(folder=path, faults=faults)
    return Current(folder=path, inputs=now.inputs, workload=now.workload, now=now, faults=faults)


def _read(path: Path) -> tuple[Read | None, tuple[Problem, ...]]:
    try:
        inputs, warnings = api.read_week_with_warnings(path, may_be_empty=True)
        return Read(inputs=inputs, workload=api.build_workload(inputs), warnings=warnings), ()
    except InputError as fault:
        return None, fault.problems


def _with_plan(path: Path, plan: kept.KeptPlan, now: Read | None, faults: tuple[Problem, ...]) -> Current | None:
    """The plan in use on the week it was made from; None where it can no longer be read."""
    made_from, _ = _read(plan.made_from)
    if made_from is None:
        return None
    read = now if now is not None and now.inputs.digest == made_from.inputs.digest else made_from
    try:
        planned, facts = api.read_plan(plan.plan_file, read.workload.week)
    except InputError:
        return None
    return Current(
        folder=path,
        inputs=read.inputs,
        workload=read.workload,
        plan=planned,
        measures=api.measure(read.workload.week, planned),
        facts=facts,
        made_at=plan.made_at.astimezone(ZoneInfo(read.inputs.shop.zone)),
        plan_folder=plan.folder,
        changes=() if read is now else api.changes_since(plan.made_from, path),
        now=now,
        faults=faults,
    )
