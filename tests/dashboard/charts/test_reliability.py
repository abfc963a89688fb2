"""The reliability picture: a dot for each fifth of the chances told that has orders, where it belongs."""

from __future__ import annotations

from datetime import UTC, datetime

from dashboard.charts.reliability import reliability
from scheduler.record.calibration import ToldAndKept, calibration


def told(ends: tuple[int, ...], actual: int) -> ToldAndKept:
    """An order promised for minute 100."""
    return ToldAndKept(
        order_id="1", told_at=datetime(2026, 3, 2, tzinfo=UTC), ends_min=ends, promised_min=100, actual_min=actual
    )


def test_dots_stand_where_told_meets_kept() -> None:
    """Told even and kept one time of two: a dot at 10, 10; told sure and kept: at 20, 20; empty fifths have none."""
    found = calibration([told((50, 150), 90), told((50, 150), 120), told((50,), 90)])
    picture = reliability(found)
    dots = picture.figure.data[1]
    assert list(zip(dots.x, dots.y, strict=True)) == [(10, 10), (20, 20)]
    assert list(dots.text) == ["2 orders", "1 order"]
    assert picture.rows == (("8 to 12 in 20", 2, 1, "1.0"), ("16 to 20 in 20", 1, 1, "1.0"))
    assert "Too few orders" in picture.sentence
