"""Medians over the seeds of each size and load, one row each, in Markdown."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import groupby
from statistics import median
from typing import TYPE_CHECKING

from tests.benchmarks.methods import BARE, HINTED, OURS, Outcome

if TYPE_CHECKING:
    from tests.benchmarks.plan_quality import Measured

HEADS = (
    "runs", "load", "seconds", "cost", "of due-date list", "of best list", "of whole model", "of hinted model",
    "bound", "gap", "avoidable gap", "proven", "first plan s", "within 2 % s", "over time s", "MB",
)  # fmt: skip


def median_lines(weeks: Sequence[Measured]) -> list[str]:
    """Each cell is the median of the seeds; "none" where a way made no plan for half of them or was not asked for.

    "of ..." is our cost as a share of that way's; the gaps are shares of our cost that are not proven to be needed.
    """
    lines = ["| " + " | ".join(HEADS) + " |", "|" + " --- |" * len(HEADS)]
    by_size = sorted(weeks, key=lambda one: (one.runs, one.seconds))
    for (runs, load, seconds), group in groupby(by_size, key=lambda one: (one.runs, one.load, one.seconds)):
        lines.append("| " + " | ".join([str(runs), load, f"{seconds:g}", *_cells(list(group))]) + " |")
    return lines


def _cells(weeks: list[Measured]) -> list[str]:
    ours = [one.outcome(OURS) for one in weeks]

    def beside(other: Callable[[Measured], Outcome]) -> str:
        ratios = [_ratio(one.outcome(OURS), other(one)) for one in weeks]
        return _middle(ratios, "{:.2f}")

    return [
        _middle((_money(one.cost_cents) for one in ours), "{:,.0f}"),
        beside(lambda one: one.due_date_list),
        beside(lambda one: one.best_list),
        beside(lambda one: one.outcome(BARE)),
        beside(lambda one: one.outcome(HINTED)),
        _middle((one.bound_cents / 100 for one in weeks), "{:,.0f}"),
        _middle((one.gap() for one in weeks), "{:.1%}"),
        _middle((one.gap(avoidable=True) for one in weeks), "{:.1%}"),
        f"{sum(one.status == 'proven' for one in ours)}/{len(ours)}",
        _middle((one.first_plan_s for one in ours), "{:.1f}"),
        _middle((one.nearly_s for one in ours), "{:.1f}"),
        _middle((one.seconds - week.seconds for one, week in zip(ours, weeks, strict=True)), "{:.1f}"),
        _middle((float(one.memory_mb) for one in ours), "{:.0f}"),
    ]


def _money(cents: int | None) -> float | None:
    return None if cents is None else cents / 100


def _ratio(ours: Outcome, other: Outcome) -> float | None:
    return ours.cost_cents / other.cost_cents if ours.cost_cents is not None and other.cost_cents else None


def _middle(values: Iterable[float | None], form: str) -> str:
    known = list(values)
    there = [value for value in known if value is not None]
    return form.format(median(there)) if 2 * len(there) > len(known) else "none"
