"""The planner's list against a week: which runs its lines mean, and in which order they can be placed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from scheduler.domain.own_order import OwnLine, OwnOrder
from scheduler.domain.week import Run, Week
from scheduler.search.construction import due_date_list
from scheduler.search.words import listed, press_text

WhyNot = Callable[[str, str], str]
"""Why a run (id) does not fit a press (id), in shop words; "" where nobody knows."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ListOrder:
    """The list as runs.

    order: every run of the week, as listed, runs the list does not name last, by due date. press: the press the list
    names for a run, where the run fits it. not_named: runs the list does not name. told: what cannot be done as listed,
    and what is done instead, a sentence each.
    """

    order: tuple[str, ...]
    press: dict[str, str]
    not_named: tuple[str, ...]
    told: tuple[str, ...]


def list_order(week: Week, own: OwnOrder, why_not: WhyNot | None = None) -> ListOrder:
    """The runs of the lines in their order; a run named twice keeps its first place.

    A run that prints after another one of its order which the list puts later comes right after that one; if the list
    does not name that one, it is taken just before.
    """
    reader = _Reader(week, why_not or (lambda run_id, press_id: ""))
    for line in own.lines:
        reader.read(line)
    named = tuple(reader.named)
    not_named = tuple(run_id for run_id in due_date_list(week).order if run_id not in reader.named)
    order = tuple(_with_first_prints_first(week, named, not_named, reader.told))
    return ListOrder(order=order, press=reader.press, not_named=not_named, told=tuple(reader.told))


class _Reader:
    def __init__(self, week: Week, why_not: WhyNot) -> None:
        self.week = week
        self.why_not = why_not
        self.named: dict[str, None] = {}
        self.press: dict[str, str] = {}
        self.told: list[str] = []

    def read(self, line: OwnLine) -> None:
        """Take over what one line means."""
        meant = [run for run in self.week.runs if _is_meant(run, line)]
        fresh = [run for run in meant if run.run_id not in self.named]
        if not meant:
            told = f"{self._why_none(line)}; it is left out."
            if told not in self.told:
                self.told.append(told)
        elif not fresh and not line.garment:
            # Rows of a sheet name one run once per garment; only a list that says it twice is spoken of.
            self.told.append(f"{_line_text(line)} stands in the list twice: the first place counts.")
        for run in fresh:
            self.named[run.run_id] = None
            if line.press_id:
                self._on_press(run, line.press_id)

    def _on_press(self, run: Run, press_id: str) -> None:
        fixing = self.week.fixing.get(run.run_id)
        name = press_text(self.week, press_id)
        if fixing is not None and fixing.press_id not in (None, press_id):
            there = press_text(self.week, str(fixing.press_id))
            self.told.append(f"{run.run_id} is {fixing.kind} on {there}: it stays there, not on {name}.")
            return
        choice = run.on_press.get(press_id)
        if choice is not None and choice.heads_needed <= self.week.press[press_id].head_count:
            self.press[run.run_id] = press_id
            return
        why = self.why_not(run.run_id, press_id)
        fits = listed([press_text(self.week, choice.press_id) for choice in run.choices])
        self.told.append(
            f"{run.run_id} does not fit {name}{f' ({why})' if why else ''}: it goes on {fits}"
            f"{'' if len(run.choices) == 1 else ', where it ends first'}."
        )

    def _why_none(self, line: OwnLine) -> str:
        for one in self.week.not_planned:
            if one.order_id == line.order_id:
                return f"{line.order_id}: {'; '.join(one.reasons)}"
        if any(run.order_id == line.order_id for run in self.week.runs):
            return f"{_line_text(line)}: there is no such print to plan"
        return f"{line.order_id}: nothing of it is left to print"


def shade_of_run(run: Run) -> str:
    """Light or dark, as the run's name says: "<order> <location> <shade>", then a number where there are several."""
    rest = run.run_id.removeprefix(f"{run.order_id} {run.location}").split()
    return rest[0] if rest else ""


def _is_meant(run: Run, line: OwnLine) -> bool:
    return (
        run.order_id == line.order_id
        and line.location in ("", run.location)
        and line.shade in ("", shade_of_run(run))
        and (not line.garment or any(part.garment == line.garment for part in run.parts))
    )


def _line_text(line: OwnLine) -> str:
    return " ".join(part for part in (line.order_id, line.location, line.shade or line.garment) if part)


def _with_first_prints_first(
    week: Week, named: tuple[str, ...], not_named: tuple[str, ...], told: list[str]
) -> Iterator[str]:
    """The runs, each after those it prints after; what had to be moved for it is told."""
    done: set[str] = set()
    waiting: list[str] = []
    rest = dict.fromkeys((*named, *not_named))
    is_named = set(named)

    def ready(run_id: str) -> bool:
        return all(before in done for before in week.run[run_id].print_after)

    def placed(run_id: str) -> Iterator[str]:
        if run_id in done:
            return
        unnamed = [one for one in week.run[run_id].print_after if one not in done and one not in is_named]
        for before in unnamed if run_id in is_named else ():
            told.append(f"{run_id} prints after {before}, which the list does not name: that one goes just before it.")
            yield from placed(before)
        if not ready(run_id):
            waiting.append(run_id)
            return
        done.add(run_id)
        yield run_id
        for later in [one for one in waiting if ready(one)]:
            waiting.remove(later)
            if later in is_named:
                told.append(f"{later} prints after {run_id}, not before: it comes right after it.")
            yield from placed(later)

    for run_id in rest:
        yield from placed(run_id)
    yield from waiting  # a ring of prints that wait for each other: the decoder says so
