"""The measuring of plans itself: seconds by size, figures kept as they come, medians."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from tests.benchmarks.medians import median_lines
from tests.benchmarks.methods import OURS, Outcome
from tests.benchmarks.plan_quality import DUE_DATES, Measured, as_figures, kept_in, names_of_methods, seconds_by_runs


def one_week(seed: int, ours_cents: int) -> Measured:
    """A measured week whose due-date list costs 1,000.00."""
    return Measured(
        runs=12,
        orders=8,
        presses=1,
        load="calm",
        booked=0.6,
        seed=seed,
        seconds=2.0,
        methods=("due", "ours"),
        unavoidable_cents=10_000,
        bound_cents=40_000,
        outcomes=(
            Outcome(method=DUE_DATES, cost_cents=100_000),
            Outcome(method=OURS, cost_cents=ours_cents, seconds=2.5, status="found"),
        ),
    )


def test_seconds_are_told_for_all_sizes_or_by_size() -> None:
    """One figure is for every size; pairs are for their own."""
    assert seconds_by_runs("20") == {0: 20.0}
    assert seconds_by_runs("12:2,300:120.5") == {12: 2.0, 300: 120.5}
    assert names_of_methods("ours,due") == ("due", "ours")


def test_what_a_stopped_run_kept_is_read_again(tmp_path: Path) -> None:
    """Every whole line comes back as the week it was; a line cut short is measured again."""
    path = tmp_path / "kept.jsonl"
    assert kept_in(path) == {}
    whole = json.dumps({"asked_runs": 12, **as_figures(one_week(1, 50_000))})
    path.write_text(f"{whole}\n{whole[:80]}", encoding="utf-8")
    assert kept_in(path) == {(12, "calm", 1, 2.0, ("due", "ours")): one_week(1, 50_000)}


def test_a_row_of_medians_is_the_middle_of_its_seeds() -> None:
    """The middle of three costs and ratios; ways nobody asked for are told as none."""
    weeks = [one_week(1, 50_000), one_week(2, 90_000), one_week(3, 60_000)]
    row = [cell.strip() for cell in median_lines(weeks)[2].strip("|").split("|")]
    assert row[:8] == ["12", "calm", "2", "600", "0.60", "0.60", "none", "none"]
    assert row[8:14] == ["400", "33.3%", "40.0%", "0/3", "none", "none"]
    assert row[14] == "0.5"
    slower = [*weeks, replace(weeks[0], seconds=60.0)]
    assert len(median_lines(slower)) == 4


def test_an_unknown_way_is_refused() -> None:
    """The message says what to write."""
    with pytest.raises(Exception, match="write any of due, lists, bare, hinted, ours"):
        names_of_methods("ours,fastest")
