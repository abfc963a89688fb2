"""Plans a week in a process of its own: `python -m dashboard.planning WEEK FOLDER`.

FOLDER is a fresh one of the week's plans with the files it is made from. Into it go `trace.jsonl` (a line for each
better plan), `alive` (touched every second), the plan and its papers, and last `outcome.json`. A file `stop`
ends the search early; if it says "use", the plan goes into use at once.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import IO

from dashboard import kept
from dashboard.jobs import ASKED, OUTCOME, STOP, TRACE, USE, tell_alive, write_whole
from scheduler import api
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week


def main(arguments: Sequence[str]) -> None:
    """Plan, write what was found, say how it ended."""
    week_path, folder = Path(arguments[0]), Path(arguments[1])
    asked = json.loads((folder / ASKED).read_text(encoding="utf-8"))
    tell_alive(folder)
    inputs = api.read_week(kept.made_from(week_path, folder))
    workload = api.build_workload(inputs)
    settings = SearchSettings(
        seconds=asked["seconds"], seed=asked["seed"], workers=asked["workers"], iterations=asked["iterations"]
    )
    with (folder / TRACE).open("a", encoding="utf-8") as trace:
        result = api.plan_week(workload, settings, Trace(trace, workload.week), (folder / STOP).exists)
    if result.plan is None:
        write_whole(folder / OUTCOME, json.dumps({"status": result.status, "reason": result.reason}))
        return
    currency, clients = inputs.shop.money.currency, {order.order_id: order.client for order in inputs.orders}
    plan = api.pencil_in(inputs, workload.week, result.plan, seconds=api.PENCIL_SECONDS)
    chase = api.chase_list(inputs, workload.week, plan)
    api.write_plan_folder(
        folder,
        api.joint_week(inputs, workload.week, plan),
        plan,
        api.plan_facts(workload.week, result, currency),
        clients=clients,
        chase=chase,
    )
    baseline = result.baseline.plan if result.baseline else None
    outcome = {
        "status": result.status,
        "cents": result.cost_cents,
        "limit": result.lower_bound_cents,
        "seconds": result.wall_seconds,
        "told": result.told,
        "by_due_date_cents": api.measure(workload.week, baseline).cost.total if baseline else None,
        "by_due_date_late": len(api.measure(workload.week, baseline).late_orders) if baseline else None,
    }
    write_whole(folder / OUTCOME, json.dumps(outcome))
    if _asked_for(folder / STOP) == USE:
        kept.use(week_path, folder)


def _asked_for(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8").strip()
    except OSError:
        return ""


class Trace:
    """Writes a line for each better plan."""

    def __init__(self, out: IO[str], week: Week) -> None:
        self._out, self._week = out, week
        self._least: tuple[int, int] | None = None

    def __call__(self, progress: api.Progress) -> None:
        """One more line, if this plan is better than the last one told."""
        told = (progress.cost_cents, -progress.lower_bound_cents)
        if self._least is not None and told >= self._least:
            return
        self._least = told
        line = {
            "s": round(progress.seconds or 0.0, 2),
            "cents": progress.cost_cents,
            "limit": progress.lower_bound_cents,
            "late": len(api.measure(self._week, progress.plan).late_orders),
        }
        print(json.dumps(line), file=self._out, flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
