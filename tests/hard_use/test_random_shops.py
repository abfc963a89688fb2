"""Random shops planned from end to end; two thousand of them: `python -m tests.benchmarks.random_shops`."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.hard_use.shops import live_through


@pytest.mark.parametrize("seed", range(9_000, 9_006))
def test_a_random_shop_is_planned_to_its_limit_or_until_it_is_stopped(tmp_path: Path, seed: int) -> None:
    """The plan keeps every rule, ends in the replay at the planned minute, and its file reads back to the same plan."""
    lived = live_through(seed, 0.3, tmp_path)
    assert lived.has_plan or lived.runs
