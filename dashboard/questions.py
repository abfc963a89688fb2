"""What-ifs asked from the pages: one at a time for a week, seen by everybody, and taken or forgotten.

Questions lie in a folder that only this server can read, for answers are read back as they were written.
"""

from __future__ import annotations

import pickle
import shutil
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from dashboard import asking, jobs, kept
from scheduler import api
from scheduler.domain.answers import Answer, Answers
from scheduler.domain.orders import WeekInputs

Tables = Sequence[tuple[str, Mapping[str, str]]]

SECONDS = 12.0
"""How long somebody waits on the telephone."""

STANDING = "what-if.json"


@dataclass(frozen=True, kw_only=True)
class Question:
    """A question that was asked: its folder, its tables as typed, and what time it was."""

    folder: Path
    name: str
    now: datetime | None


_OPEN: dict[Path, Question] = {}


def ask(week: Path, inputs: WeekInputs, name: str, tables: Tables, now: datetime | None) -> Question:
    """Start answering. Raises InputError with every fault of what was typed; nothing is asked then."""
    folder = Path(tempfile.mkdtemp(prefix="pressweek-what-if-"))
    try:
        (folder / asking.QUESTION).write_text(api.what_if_text(tables), encoding="utf-8")
        api.read_what_ifs([str(folder / asking.QUESTION)], week, inputs, now)
    except BaseException:
        shutil.rmtree(folder, ignore_errors=True)
        raise
    forget(week)
    question = Question(folder=folder, name=name, now=now)
    asked = {"seconds": SECONDS, "name": name, "now": now.isoformat() if now else ""}
    jobs.launch("dashboard.asking", week, folder, asked)
    _OPEN[week] = question
    return question


def open_question(week: Path) -> tuple[Question, jobs.InWork] | None:
    """The question that stands, and how far its answers have come."""
    question = _OPEN.get(week)
    seen = jobs.watched(question.folder) if question is not None else None
    return None if question is None or seen is None else (question, seen)


def answers_of(question: Question) -> Answers:
    """The answers, once they are all there."""
    found: Answers = pickle.loads((question.folder / asking.ANSWERS).read_bytes())
    return found


def forget(week: Path) -> None:
    """Nothing is asked any more; what still looks for answers is told to stop."""
    question = _OPEN.pop(week, None)
    if question is None:
        return
    seen = jobs.watched(question.folder)
    if seen is not None and seen.is_working:
        jobs.ask_to_stop(question.folder, then=jobs.COMPARE)
    else:
        shutil.rmtree(question.folder, ignore_errors=True)


def take(week: Path, inputs: WeekInputs, question: Question, answer: Answer) -> None:
    """The answer's plan goes into use, its what-if stays with the week. Raises InputError, nothing changed, if not."""
    plan = kept.in_use(week)
    assert plan is not None
    standing = kept.plans_folder(week) / STANDING
    shutil.copyfile(plan.plan_file, standing)
    asked = api.read_what_ifs([str(question.folder / asking.QUESTION)], week, inputs, question.now)
    currency = inputs.shop.money.currency
    api.take_answer(week, standing, answers_of(question), answer, asked, currency)
    new = api.read_week(week)
    workload = api.build_workload(new)
    taken, facts = api.read_plan(standing, workload.week)
    folder = kept.new_folder(week)
    clients = {order.order_id: order.client for order in new.orders}
    api.write_plan_folder(folder, workload.week, taken, facts, shop_name=new.shop.name, clients=clients)
    kept.use(week, folder)
    forget(week)


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
