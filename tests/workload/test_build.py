"""The whole way from typed shop to week."""

from __future__ import annotations

from scheduler.workload.build import build_workload
from tests.workload import shops


def test_one_plain_order_becomes_one_run() -> None:
    """A hundred tees at 400 an hour are one run of 15 minutes with a base under two inks."""
    week = build_workload(shops.week_inputs()).week
    (run,) = week.runs
    (choice,) = run.choices
    assert run.run_id == "1 front dark"
    assert choice.print_min == 15
    assert [head.screen_id for head in choice.stack.heads] == ["1 front:base", "1 front:1", "1 front:2"]
    assert choice.stack.flash_after == (0,)
