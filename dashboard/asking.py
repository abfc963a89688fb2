"""Answers a what-if in a process of its own: `python -m dashboard.asking WEEK FOLDER`.

FOLDER is private to the dashboard's server. It holds the question (`asked.json`, `question.toml`); into it go a line
for each better answer and, last, the answers themselves. The week is only read.
"""

from __future__ import annotations

import json
import pickle
import sys
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from dashboard.jobs import ASKED, OUTCOME, STOP, TRACE, tell_alive, write_whole
from scheduler import api
from scheduler.domain.answers import Answer
from scheduler.domain.settings import SearchSettings

QUESTION, ANSWERS = "question.toml", "answers"


def main(arguments: Sequence[str]) -> None:
    """Read, try, write."""
    week, folder = Path(arguments[0]), Path(arguments[1])
    asked = json.loads((folder / ASKED).read_text(encoding="utf-8"))
    tell_alive(folder)
    inputs = api.read_week(week)
    standing, _ = api.read_plan(Path(asked["plan"]), api.build_workload(inputs).week)
    now = datetime.fromisoformat(asked["now"]) if asked["now"] else None
    what_ifs = [one for each in api.read_what_ifs([str(folder / QUESTION)], week, inputs, now) for one in each.what_ifs]
    with (folder / TRACE).open("a", encoding="utf-8") as trace:

        def heard(answer: Answer) -> None:
            assert answer.plan is not None
            seen = api.measure(answer.week, answer.plan)
            line = {"s": answer.seconds, "cents": seen.cost.total, "limit": 0, "late": len(seen.late_orders)}
            print(json.dumps(line), file=trace, flush=True)

        answers = api.ask_what_if(
            inputs,
            standing,
            what_ifs,
            SearchSettings(seconds=asked["seconds"], workers=1),
            name=asked["name"],
            now=now,
            earlier=api.plans_before(week, inputs),
            on_answer=heard,
            stop=(folder / STOP).exists,
        )
    (folder / ANSWERS).write_bytes(pickle.dumps(answers))
    write_whole(folder / OUTCOME, json.dumps({"status": "done"}))


if __name__ == "__main__":
    main(sys.argv[1:])
