"""How this package turns measured figures into whole ones, and refuses those outside their range."""

from __future__ import annotations

import math

_TINY = 1e-9
"""Relative slip of a binary fraction: 98 / 0.98 must count as 100, not as a hair more."""


def up(value: float) -> int:
    """The next whole number, forgiving the slip of binary fractions. Raises ValueError if `value` is not finite."""
    return math.ceil(value - _slip(value))


def down(value: float) -> int:
    """The whole number below, forgiving the slip of binary fractions. Raises ValueError if `value` is not finite."""
    return math.floor(value + _slip(value))


def nearest(value: float) -> int:
    """The nearest whole number, halves away from zero. Raises ValueError if `value` is not finite."""
    return down(value + 0.5) if value >= 0 else -down(0.5 - value)


def demand(what: str, value: float, *, above: float | None = None, least: float = 0.0, most: float = math.inf) -> None:
    """Raise ValueError unless `value` is finite, at least `least` (or more than `above`) and at most `most`."""
    is_low = value <= above if above is not None else value < least
    if not math.isfinite(value) or is_low or value > most:
        low = f"above {above:g}" if above is not None else f"at least {least:g}"
        high = "" if most == math.inf else f" and at most {most:g}"
        raise ValueError(f"{what} must be {low}{high}, not {value!r}")


def _slip(value: float) -> float:
    if not math.isfinite(value):
        raise ValueError(f"{value!r} cannot be made a whole number")
    return _TINY * max(1.0, abs(value))
