"""Pot life: how many batches a run takes, and the press minutes for those after the first."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.domain.shop import INK_START_VALUES
from scheduler.trade.pot_life import batches, mixing_minutes


@pytest.mark.parametrize(
    ("print_min", "count"), [(0, 1), (1, 1), (359, 1), (360, 1), (361, 2), (720, 2), (721, 3), (2000, 6)]
)
def test_a_minute_over_the_pot_life_is_another_batch(print_min: int, count: int) -> None:
    """A print of exactly a pot life takes one batch, a minute more a second."""
    assert batches(print_min, 360) == count
    assert mixing_minutes(print_min, pot_life_min=360, remix_min=10) == (count - 1) * 10


def test_only_discharge_goes_off_by_itself() -> None:
    """Discharge lasts 6 h once mixed, the short end of 6 to 8 h (M. Ukena, Screen Printing, September 2007)."""
    lives = {one.name: one.pot_life_min for one in INK_START_VALUES if one.pot_life_min is not None}
    assert lives == {"discharge": 6 * 60}
    assert mixing_minutes(10_000, pot_life_min=None, remix_min=10) == 0


@pytest.mark.parametrize(("print_min", "life", "remix"), [(-1, 60, 5), (10, 0, 5), (10, 60, -1), (10, -60, 5)])
def test_what_cannot_be_is_refused(print_min: int, life: int, remix: int) -> None:
    """No print, pot life or mixing takes less than nothing, and a batch that lasts no minute prints nothing."""
    with pytest.raises(ValueError, match="must be at least"):
        mixing_minutes(print_min, pot_life_min=life, remix_min=remix)


@given(st.integers(1, 5_000), st.integers(1, 3_000))
def test_the_batches_last_and_one_less_would_not(print_min: int, life: int) -> None:
    """The batches together last as long as the print, and one batch less does not."""
    count = batches(print_min, life)
    assert (count - 1) * life < print_min <= count * life
