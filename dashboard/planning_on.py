"""Plans again from now, from the book, in a process of its own: `python -m dashboard.planning_on WEEK FOLDER`.

FOLDER lies beside the week's plans and is the same for every phone: all see one search, and one new plan, until it is
announced or forgotten. The new plan itself is kept in the book.
"""

from __future__ import annotations

import json
import shutil
import sys
import threading
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from dashboard import kept
from dashboard.floor_book import address
from dashboard.jobs import ASKED, OUTCOME, STOP, TRACE, InWork, launch, tell_alive, watched, write_whole
from dashboard.parts.words import counted, money
from dashboard.planning import Trace
from scheduler import api, shop_book
from scheduler.domain.settings import SearchSettings
from scheduler.errors import InputError

FROM_NOW = "from-now"
SECONDS = 20.0
"""How long the search may take while somebody waits for it."""

_ONE_STARTS = threading.Lock()


def in_work(week: Path) -> InWork | None:
    """The search that goes on, or what it came to; None where nobody asked."""
    return watched(_folder(week))


def start(week: Path, *, now: datetime, who: str) -> None:
    """Begin to look for a plan from now on, unless somebody did."""
    with _ONE_STARTS:
        running = in_work(week)
        if running is not None and running.is_working:
            return
        folder = _folder(week)
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir(parents=True)
        launch("dashboard.planning_on", week, folder, {"seconds": SECONDS, "now": now.isoformat(), "who": who})


def forget(week: Path) -> None:
    """What was found is shown no more; in the book it stays."""
    shutil.rmtree(_folder(week), ignore_errors=True)


def _folder(week: Path) -> Path:
    return kept.plans_folder(week) / FROM_NOW


def main(arguments: Sequence[str]) -> None:
    """Plan, keep the plan in the book, and write down its number and what it changes."""
    folder = Path(arguments[1])
    asked = json.loads((folder / ASKED).read_text(encoding="utf-8"))
    tell_alive(folder)
    now = datetime.fromisoformat(asked["now"])
    try:
        found = _plan(folder, now, float(asked["seconds"]), str(asked["who"]))
    except InputError as fault:
        found = {"status": "none", "reason": "; ".join(str(one) for one in fault.problems)}
    write_whole(folder / OUTCOME, json.dumps(found))


def _plan(folder: Path, now: datetime, seconds: float, who: str) -> dict[str, object]:
    question = shop_book.question(address(), now.replace(second=0, microsecond=0))
    with (folder / TRACE).open("a", encoding="utf-8") as trace:
        progress = Trace(trace, question.workload.week)
        result = question.search(SearchSettings(seconds=seconds, workers=2), progress, (folder / STOP).exists)
    if result.plan is None:
        return {"status": "none", "reason": result.reason}
    number = shop_book.keep_plan(address(), question, result.plan, who=who, now=now)
    return {"status": result.status, "number": number, "told": _changes(question, result)}


def _changes(asked: shop_book.Question, result: api.SearchResult) -> list[str]:
    """What the new plan costs against keeping the announced one, how many orders are late, which dates change."""
    plan, week, currency = result.plan, asked.workload.week, asked.inputs.shop.money.currency
    assert plan is not None
    new = api.measure(week, plan)
    told = [f"New plan: {_late(new)}, {money(new.cost.total, currency)} from now on."]
    standing = asked.stands_plan()
    if standing is not None:
        old = api.measure(week, standing)
        told.append(f"Keeping the announced order: {_late(old)}, {money(old.cost.total, currency)} from now on.")
    if asked.told is not None:
        dates = shop_book.told_before(asked.told, shop_book.week_of_plan(asked.told), asked.inputs, week, plan)
        told.append(f"{counted(len(dates), 'order')} with another day than was told.")
    return told


def _late(measures: api.Measures) -> str:
    return f"{counted(len(measures.late_orders), 'order')} late"


if __name__ == "__main__":
    main(sys.argv[1:])
