"""Spoiled pieces: how many a shop counts as usual, and how many to print so that enough are good.

Every figure published is one shop's policy, not a standard: 1.5 % or 1 piece, whichever is larger
(production spoilage policy, daminprinting.com); 2 % or 1 (spoilage page, smplfd.com).
"""

from __future__ import annotations

from scheduler.trade.rounding import demand, down, up


def spoilage_allowance(pieces: int, spoil_pct: float, least: int = 1) -> int:
    """Pieces of a run that may be spoiled: the larger of `least` and spoil_pct per cent, whole pieces, rounded down.

    Production spoilage policy, daminprinting.com. No run may spoil more than it has. Per cent 0 to 100.
    """
    demand("pieces", pieces)
    demand("spoilage per cent", spoil_pct, most=100)
    demand("least allowance", least)
    return min(pieces, max(least, down(pieces * spoil_pct / 100)))


def is_within_allowance(spoiled: int, pieces: int, spoil_pct: float, least: int = 1) -> bool:
    """True if a run's spoiled pieces stay within the shop's allowance."""
    demand("spoiled pieces", spoiled)
    return spoiled <= spoilage_allowance(pieces, spoil_pct, least)


def start_quantity(good: int, spoil_pct: float) -> int:
    """Pieces to start with so that `good` are left: good / (1 - spoilage), rounded up; 103 for 100 at 2 %.

    This is not "add 2 %", which gives 102 and falls short. Arithmetic. Per cent 0 to below 100.
    """
    demand("good pieces", good)
    demand("spoilage per cent", spoil_pct)
    if spoil_pct >= 100:
        raise ValueError(f"spoilage per cent must be below 100, not {spoil_pct!r}")
    return up(good * 100 / (100 - spoil_pct))


def spare_pieces(good: int, spoil_pct: float) -> int:
    """Pieces to buy beyond those ordered."""
    return start_quantity(good, spoil_pct) - good
