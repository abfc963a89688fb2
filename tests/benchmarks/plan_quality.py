"""How good the plans are: lists, the whole model and our search on the same invented weeks, in the same time.

    python -m tests.benchmarks.plan_quality [--json] [--sizes 12,40,100] [--loads calm,full,overloaded]
        [--seconds 20 | --seconds 12:2,40:20,300:120] [--seeds 1] [--workers 2] [--methods due,lists,bare,hinted,ours]
        [--keep results.jsonl] [--medians]

--keep appends every week's figures to a file as they come; what already stands there for the same week, seconds and
ways is not measured again, so that a stopped run goes on where it was. --medians prints one row a size and load.

For each week: what every way of planning costs, term by term; the proven bound; the gap between cost and bound, in all
and of what can be avoided (mounting each screen once, burning each set once and the like cost every plan the same);
time to the first plan and to one within 2 % of the last; most memory held; rules broken, which must be none.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Sequence
from dataclasses import asdict, dataclass, fields
from itertools import product
from pathlib import Path
from typing import Any

from scheduler import api
from scheduler.search.bounds import lower_bound
from tests.benchmarks.medians import median_lines
from tests.benchmarks.methods import BARE, HINTED, OURS, Outcome, list_outcomes, search_outcomes
from tests.benchmarks.weeks import LOADS, Size, benchmark_inputs, booked_share

DUE_DATES = "due-date list"
METHODS = {"due": DUE_DATES, "lists": "lists", "bare": BARE, "hinted": HINTED, "ours": OURS}
"""What --methods chooses from; the due-date list is always made."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """One week and what every way of planning made of it.

    unavoidable_cents: what no plan can save even with every order alone. bound_cents: the best proven bound of all
    ways.
    """

    runs: int
    orders: int
    presses: int
    load: str
    booked: float
    seed: int
    seconds: float
    methods: tuple[str, ...]
    unavoidable_cents: int
    bound_cents: int
    outcomes: tuple[Outcome, ...]

    def outcome(self, method: str) -> Outcome:
        """What one way made of the week; without any plan where the way was not asked for."""
        return next((one for one in self.outcomes if one.method == method), Outcome(method=method))

    @property
    def due_date_list(self) -> Outcome:
        """What the list sorted by date makes of the week."""
        return self.outcome(DUE_DATES)

    @property
    def best_list(self) -> Outcome:
        """The cheapest list; without any plan, the due-date list."""
        lists = [one for one in self.outcomes if one.method not in (BARE, HINTED, OURS) and one.cost_cents is not None]
        return min(lists, key=lambda one: one.cost_cents or 0, default=self.outcome(DUE_DATES))

    def gap(self, *, avoidable: bool = False) -> float | None:
        """Share of our cost (or of what of it can be avoided) that is not proven to be needed."""
        cost_cents = self.outcome(OURS).cost_cents
        if cost_cents is None:
            return None
        whole = cost_cents - (self.unavoidable_cents if avoidable else 0)
        return (cost_cents - self.bound_cents) / whole if whole > 0 else 0.0


def measured(
    runs: int, load: str, seed: int, seconds: float, workers: int, methods: tuple[str, ...] = tuple(METHODS)
) -> Measured:
    """Plan one week in every way asked for."""
    inputs = benchmark_inputs(runs, load, seed)
    workload = api.build_workload(inputs)
    week = workload.week
    chosen = {METHODS[name] for name in methods}
    outcomes = list_outcomes(week, only_due_dates="lists" not in chosen)
    outcomes += search_outcomes(workload, seconds, seed, workers, chosen)
    unavoidable_cents = lower_bound(week).cents
    return Measured(
        runs=len(week.runs),
        orders=len(week.orders),
        presses=len(week.presses),
        load=load,
        booked=booked_share(week, Size(runs=runs).days),
        seed=seed,
        seconds=seconds,
        methods=methods,
        unavoidable_cents=unavoidable_cents,
        bound_cents=max([unavoidable_cents, *(one.bound_cents for one in outcomes)]),
        outcomes=tuple(outcomes),
    )


def as_figures(one: Measured) -> dict[str, Any]:
    """A measured week for other programs; gaps are shares."""
    return {**asdict(one), "gap": one.gap(), "avoidable_gap": one.gap(avoidable=True)}


def week_lines(one: Measured) -> list[str]:
    """A measured week as a table of its ways."""
    ours = one.outcome(OURS)
    lines = [
        f"{one.runs} runs, {one.load} ({one.booked:.0%} booked), {one.presses} presses, {one.orders} orders, "
        f"seed {one.seed}",
        f"  {'':32}{'cost':>10}{'to ours':>9}{'late':>10}{'cushion':>9}{'overtime':>9}{'set-up':>9}{'burns':>9}"
        f"{'first s':>9}{'near s':>8}{'MB':>6}{'broken':>7}",
    ]
    for way in one.outcomes:
        if way.cost_cents is None:
            lines.append(f"  {way.method:32}{'no plan':>10}{'':>65}{way.memory_mb or '':>15}")
            continue
        terms = way.terms
        lines.append(
            f"  {way.method:32}{money(way.cost_cents):>10}{ratio(way, ours):>9}{money(terms['late']):>10}"
            f"{money(terms['cushion']):>9}{money(terms['overtime']):>9}{money(terms['set_up']):>9}"
            f"{money(terms['burns']):>9}{seconds_text(way.first_plan_s):>9}{seconds_text(way.nearly_s):>8}"
            f"{way.memory_mb or '':>6}{way.violations:>7}"
        )
    lines.append(
        f"  no plan costs less than {money(one.bound_cents)}; gap {share(one.gap())}, "
        f"of what can be avoided {share(one.gap(avoidable=True))}; ours is {ours.status}"
    )
    return lines


def summary_lines(weeks: Sequence[Measured]) -> list[str]:
    """One row a week, in Markdown."""
    lines = [
        "| runs | load | due-date list | best list | whole model | with our first plan | ours | bound | gap | "
        "avoidable gap | first plan s | within 2 % s | MB |",
        "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |",
    ]
    for one in weeks:
        ours = one.outcome(OURS)
        cells = [
            str(one.runs),
            one.load,
            *(money(way.cost_cents) for way in (one.outcome(DUE_DATES), one.best_list)),
            *(money(one.outcome(name).cost_cents) for name in (BARE, HINTED)),
            money(ours.cost_cents),
            money(one.bound_cents),
            share(one.gap()),
            share(one.gap(avoidable=True)),
            seconds_text(ours.first_plan_s),
            seconds_text(ours.nearly_s),
            str(ours.memory_mb),
        ]
        lines.append("| " + " | ".join(cells) + " |")
    return lines


def money(cents: int | None) -> str:
    """Whole units of money."""
    return "none" if cents is None else f"{cents / 100:,.0f}"


def ratio(way: Outcome, ours: Outcome) -> str:
    """How many times our cost a way costs."""
    return f"{way.cost_cents / ours.cost_cents:.2f}" if way.cost_cents is not None and ours.cost_cents else ""


def share(part: float | None) -> str:
    """A share in per cent."""
    return "none" if part is None else f"{part:.1%}"


def seconds_text(seconds: float | None) -> str:
    """Seconds, one decimal."""
    return "" if seconds is None else f"{seconds:.1f}"


def main(arguments: Sequence[str] | None = None) -> int:
    """Measure and print; 1 if any plan breaks a rule."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.plan_quality")
    parser.add_argument("--json", action="store_true", help="figures for other programs")
    parser.add_argument("--sizes", default="12,40,100", help="runs a week, e.g. 12,40,100,300")
    parser.add_argument("--loads", default=",".join(LOADS), help=f"any of {', '.join(LOADS)}")
    parser.add_argument("--seconds", type=seconds_by_runs, default="20", help="for each search, or by runs: 12:2,40:20")
    parser.add_argument("--seeds", type=int, default=1, help="weeks of each size and load")
    parser.add_argument("--workers", type=int, default=2, help="processes of our search")
    parser.add_argument("--methods", type=names_of_methods, default=tuple(METHODS), help=f"any of {', '.join(METHODS)}")
    parser.add_argument("--keep", type=Path, help="file to which every week's figures are appended as they come")
    parser.add_argument("--medians", action="store_true", help="one row a size and load, over the seeds")
    asked = parser.parse_args(arguments)
    kept = kept_in(asked.keep)
    weeks = []
    sizes = [int(runs) for runs in asked.sizes.split(",")]
    for runs, load, seed in product(sizes, asked.loads.split(","), range(1, asked.seeds + 1)):
        seconds = asked.seconds.get(runs, asked.seconds.get(0))
        if seconds is None:
            parser.error(f"--seconds names no seconds for {runs} runs; write {runs}:60")
        one = kept.get((runs, load, seed, seconds, asked.methods))
        if one is None:
            one = measured(runs, load, seed, seconds, asked.workers, asked.methods)
            if asked.keep is not None:
                with asked.keep.open("a", encoding="utf-8") as out:
                    out.write(json.dumps({"asked_runs": runs, **as_figures(one)}) + "\n")
        weeks.append(one)
        if not asked.json:
            print("\n".join(week_lines(one)), flush=True)
    if asked.json:
        print(json.dumps([as_figures(one) for one in weeks]))
    else:
        print("\n".join(["", *(median_lines(weeks) if asked.medians else summary_lines(weeks))]))
    return int(any(way.violations for one in weeks for way in one.outcomes))


def seconds_by_runs(text: str) -> dict[int, float]:
    """Seconds for each size, 0 for any: "20", or "12:2,40:20"."""
    if ":" not in text:
        return {0: float(text)}
    return {int(runs): float(seconds) for runs, seconds in (part.split(":") for part in text.split(","))}


def names_of_methods(text: str) -> tuple[str, ...]:
    """The ways asked for, in the order of `METHODS`."""
    names = text.split(",")
    if not set(names) <= METHODS.keys():
        raise argparse.ArgumentTypeError(f"write any of {', '.join(METHODS)}, with commas between them")
    return tuple(name for name in METHODS if name in names)


def kept_in(path: Path | None) -> dict[tuple[int, str, int, float, tuple[str, ...]], Measured]:
    """Weeks measured before, by what was asked. A last line cut short by a stop is left out."""
    found = {}
    for line in path.read_text(encoding="utf-8").splitlines() if path is not None and path.exists() else ():
        try:
            figures = json.loads(line)
        except ValueError:
            continue
        asked_runs = figures.pop("asked_runs")
        outcomes = tuple(Outcome(**one) for one in figures.pop("outcomes"))
        names = {one.name for one in fields(Measured)} - {"outcomes", "methods"}
        methods = tuple(figures["methods"])
        one = Measured(**{name: figures[name] for name in names}, methods=methods, outcomes=outcomes)
        found[asked_runs, one.load, one.seed, one.seconds, methods] = one
    return found


if __name__ == "__main__":
    sys.exit(main())
