"""How quickly ship dates are told for a week of a hundred runs: `python -m tests.benchmarks.ship_dates`.

Three things are timed, each several times, the least told, by the wall's clock and by this process's own (on a machine
that does other things the wall's clock tells more of those): 2,000 replays of the plan (3 s on one core is asked), the
outlook as a page shows it with what makes each order slip, and the date for an order not taken yet (5 s is asked).
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

from dashboard import kept
from dashboard.state import REPLAYS as ON_A_PAGE
from scheduler import api
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.what_if import Rush
from scheduler.insight.many_replays import ManyReplays
from scheduler.insight.ship_days import REPLAYS
from scheduler.promise import promise, rush_of
from tests.dashboard.weeks import many_orders

TIMES = 3
RUSH = (
    "rush order=R1 client='Hollow Creek Diner' due=2026-04-16 garment='black tee' shade=dark pieces=72 location=front"
    " inks='white, red' blanks=in art=ok"
)


def timed(doing: Callable[[], object]) -> str:
    """The least seconds of something done several times, on the wall and of this process's own."""
    wall, own = [], []
    for _ in range(TIMES):
        began, began_own = time.perf_counter(), time.process_time()
        doing()
        wall.append(time.perf_counter() - began)
        own.append(time.process_time() - began_own)
    return f"{min(wall):.2f} s, {min(own):.2f} s of one core"


def main() -> None:
    """Time all of it on the mid-size week twice over."""
    with tempfile.TemporaryDirectory() as place:
        week_folder = many_orders(Path(place), 2)
        inputs = api.read_week(week_folder)
        week = api.build_workload(inputs).week
        used = kept.in_use(week_folder)
        assert used is not None
        plan, _ = api.read_plan(used.plan_file, week)
        chances = inputs.shop.chances
        print(f"{len(plan.runs)} runs of {len(plan.orders)} orders")
        lived = timed(lambda: ManyReplays(week, plan, chances, REPLAYS, 1).run())
        print(f"{REPLAYS} replays: {lived}")
        shown = timed(lambda: api.outlook(inputs, week, plan, replays=ON_A_PAGE))
        print(f"outlook of a page, {ON_A_PAGE} replays, and what makes each order slip: {shown}")
        asked = [one for found in api.read_what_ifs([RUSH], week_folder, inputs, None) for one in found.what_ifs]
        rush = rush_of(asked)
        for settings in (SearchSettings(iterations=0, workers=1), SearchSettings(seconds=2.0, workers=1)):
            first: list[float] = []
            took = timed(partial(_promise, inputs, plan, rush, settings, first))
            how = "first plans only" if settings.iterations == 0 else f"{settings.seconds:g} s to look for better ones"
            print(f"date for an order not taken yet, {how}: {took}; first answer after {min(first):.2f} s")


def _promise(inputs: WeekInputs, plan: Plan, rush: Rush, settings: SearchSettings, first: list[float]) -> None:
    promise(inputs, plan, rush, settings, confidence=0.8, on_answer=lambda one: first.append(one.seconds))


if __name__ == "__main__":
    main()
