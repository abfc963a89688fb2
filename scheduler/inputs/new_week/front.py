"""Making a new week: the questions or a file of answers, then the files, then what to type next."""

from __future__ import annotations

from pathlib import Path

from scheduler.inputs.new_week import writing
from scheduler.inputs.new_week.interview import Ask, Say, answers_from, interview
from scheduler.inputs.new_week.machine import Machine, this_machine


def new_week(
    place: Path,
    *,
    is_workbook: bool,
    answers: Path | None,
    ask: Ask,
    say: Say,
    check: writing.Check,
    machine: Machine | None = None,
) -> None:
    """A week at `place`, made from what is answered; what was written and what comes next is said.

    check: raises InputError where a week cannot be used; the new one is put to it before it appears. Raises InputError
    where a week is there already or the answers cannot be used.
    """
    is_workbook = is_workbook or place.suffix.lower() == ".xlsx"
    path = writing.place_of(place, is_workbook=is_workbook)
    writing.refuse_if_taken(path, is_workbook=is_workbook)
    offers = machine or this_machine()
    title = path.stem if is_workbook else path.absolute().name
    told = interview(offers, title, ask, say) if answers is None else answers_from(answers, offers, title)
    write = writing.write_workbook if is_workbook else writing.write_folder
    names = write(path, told, check)
    quoted = f'"{path}"' if " " in str(path) else str(path)
    say("")
    if is_workbook:
        say(f"Written: {path}. Next: type your orders into its sheet Orders (each heading has a note), then type")
    else:
        say(f"Written to {path}: {', '.join(names)}.")
        say(f"Next: type your orders into {writing.ORDERS_FILE}, as {writing.README_FILE} explains, then type")
    say("")
    say(f"    pressweek check {quoted}")
