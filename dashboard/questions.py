"""What-ifs asked from the pages: tried a few at a time in the order asked, seen by everybody, taken or forgotten.

Questions lie in a folder that only this server can read, for answers are read back as they were written.
"""

from __future__ import annotations

import pickle
import shutil
import tempfile
import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from dashboard import asking, jobs, kept
from scheduler import api
from scheduler.domain.answers import Answer, Answers
from scheduler.domain.orders import WeekInputs
from scheduler.errors import InputError, Problem

Tables = Sequence[tuple[str, Mapping[str, str]]]

SECONDS = 12.0
"""How long somebody waits on the telephone."""

STANDING = "what-if.json"
WHAT_IF = "the what-if"
"""What messages call it."""


AT_ONCE = 2
"""Questions tried at the same time, each by one process; whoever asks next waits for one of them to be through."""


@dataclass(frozen=True, kw_only=True)
class Question:
    """A question that was asked: its folder, its tables as typed, what time it was, and the plan it is tried on."""

    folder: Path
    name: str
    now: datetime | None
    plan: kept.KeptPlan


_OPEN: dict[Path, list[Question]] = {}
_ONE_CHANGES = threading.RLock()


def ask(week: Path, inputs: WeekInputs, name: str, tables: Tables, now: datetime | None) -> Question:
    """Start answering, or wait for others to be through. InputError with every fault of what was typed; nothing is
    asked then.
    """
    plan = kept.in_use(week)
    assert plan is not None
    folder = Path(tempfile.mkdtemp(prefix="pressweek-what-if-"))
    try:
        (folder / asking.QUESTION).write_text(api.what_if_text(tables), encoding="utf-8")
        api.read_what_ifs([str(folder / asking.QUESTION)], week, inputs, now)
    except BaseException:
        shutil.rmtree(folder, ignore_errors=True)
        raise
    question = Question(folder=folder, name=name, now=now, plan=plan)
    with _ONE_CHANGES:
        _OPEN.setdefault(week, []).append(question)
    _launch_next(week)
    return question


def _launch_next(week: Path) -> None:
    """Start what waits, the longest waiting first, as far as there is room."""
    with _ONE_CHANGES:
        asked = [(one, jobs.watched(one.folder)) for one in _OPEN.get(week, [])]
        room = AT_ONCE - sum(seen is not None and seen.is_working for _, seen in asked)
        for question in [one for one, seen in asked if seen is None][: max(0, room)]:
            told = {"seconds": SECONDS, "name": question.name, "now": question.now.isoformat() if question.now else ""}
            jobs.launch("dashboard.asking", week, question.folder, {**told, "plan": str(question.plan.plan_file)})


def open_question(week: Path, own: Path | None = None) -> tuple[Question, jobs.InWork] | None:
    """The question in the folder `own`, else the last one asked; and how far its answers have come."""
    _launch_next(week)
    with _ONE_CHANGES:
        asked = list(_OPEN.get(week, []))
    question = next((one for one in asked if one.folder == own), asked[-1] if asked else None)
    return None if question is None else (question, jobs.watched(question.folder) or _waiting(question))


def ahead(week: Path, question: Question) -> int:
    """How many questions are to be through before this one is tried."""
    with _ONE_CHANGES:
        asked = list(_OPEN.get(week, []))
    before = asked[: asked.index(question)] if question in asked else []
    seen = [jobs.watched(one.folder) for one in before]
    return sum(one is None or one.is_working for one in seen)


def _waiting(question: Question) -> jobs.InWork:
    return jobs.InWork(
        folder=question.folder, state="waiting", asked_seconds=SECONDS, began_at=0.0, trace=(), outcome={}
    )


def answers_of(question: Question) -> Answers:
    """The answers, once they are all there."""
    found: Answers = pickle.loads((question.folder / asking.ANSWERS).read_bytes())
    return found


def forget(week: Path, question: Question) -> None:
    """This one is asked no more; what still looks for its answers is told to stop."""
    with _ONE_CHANGES:
        _OPEN[week] = [one for one in _OPEN.get(week, []) if one != question]
    seen = jobs.watched(question.folder)
    if seen is not None and seen.is_working:
        jobs.ask_to_stop(question.folder, then=jobs.COMPARE)
    else:
        shutil.rmtree(question.folder, ignore_errors=True)
    _launch_next(week)


def take(week: Path, inputs: WeekInputs, question: Question, answer: Answer) -> None:
    """The answer's plan goes into use, its what-if stays with the week. Raises InputError, nothing changed, if not."""
    with _ONE_CHANGES:  # of two who take at once, the second is told that the plan is another now
        if kept.in_use(week) != question.plan:
            message = "another plan has come into use since it was asked"
            problem = Problem(file=WHAT_IF, code="other_plan", message=message, hint="forget it and ask again")
            raise InputError((problem,))
        standing = kept.plans_folder(week) / STANDING
        shutil.copyfile(question.plan.plan_file, standing)
        asked = api.read_what_ifs([str(question.folder / asking.QUESTION)], week, inputs, question.now)
        currency = inputs.shop.money.currency
        api.take_answer(week, standing, answers_of(question), answer, asked, currency)
        new = api.read_week(week)
        workload = api.build_workload(new)
        taken, facts = api.read_plan(standing, workload.week)
        folder = kept.new_folder(week)
        clients = {order.order_id: order.client for order in new.orders}
        api.write_plan_folder(folder, workload.week, taken, facts, clients=clients)
        kept.use(week, folder)
        forget(week, question)


def can_take_back(week: Path) -> bool:
    """True if something was taken and stands with the week."""
    return any(path.name.endswith("taken.toml") for path in api.week_files(week))


def take_back(week: Path) -> None:
    """The last one taken back: the week is as it was, and so is the plan that was made from it."""
    api.undo_taking(week)
    now = {path.name: path.read_bytes() for path in api.week_files(week)}
    for plan in kept.kept_plans(week):
        if {path.name: path.read_bytes() for path in api.week_files(plan.made_from)} == now:
            kept.use(week, plan.folder)
            return
