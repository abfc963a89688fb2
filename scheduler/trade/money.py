"""What people, stops and spoiled pieces cost, in the shop's own money; totals are integer cents.

Wages and margins are shop settings. Sources of the worked examples: "Maintaining Garment-Press Performance", Screen
Printing; GRAPHICS PRO, August 2022, p. 47; M. Atkinson, February 2023; overtime by the US Department of Labor.
"""

from __future__ import annotations

from collections.abc import Iterable

from scheduler.trade.rounding import demand, nearest

HOUR_MIN = 60


def crew_cents_per_hour(wages: Iterable[tuple[int, int]]) -> int:
    """What a crew costs an hour: over its members, given as (people, cents an hour each), the sum."""
    total = 0
    for people, cents in wages:
        demand("people", people)
        demand("cents an hour", cents)
        total += people * cents
    return total


def crew_cents(minutes: float, cents_per_hour: float) -> int:
    """What a crew costs for some minutes, whole cents, halves rounded up."""
    demand("minutes", minutes)
    demand("cents an hour", cents_per_hour)
    return nearest(minutes * cents_per_hour / HOUR_MIN)


def crew_cents_per_piece(cents_per_hour: float, pcs_h: float) -> float:
    """What a crew costs for one piece, cents, not rounded."""
    demand("cents an hour", cents_per_hour)
    demand("pieces an hour", pcs_h, above=0)
    return cents_per_hour / pcs_h


def stopped_press_cents(
    hours: float, *, cents_per_hour: float, benefits_pct: float = 0, pcs_h: float = 0, piece_cents: float = 0
) -> int:
    """What a press standing still costs: its crew with benefits, and the pieces not printed, whole cents.

    hours x crew x (1 + benefits) + hours x pieces an hour x cents a piece. "Maintaining Garment-Press Performance",
    Screen Printing.
    """
    for what, value in (
        ("hours", hours),
        ("cents an hour", cents_per_hour),
        ("benefits per cent", benefits_pct),
        ("pieces an hour", pcs_h),
        ("cents a piece", piece_cents),
    ):
        demand(what, value)
    return nearest(hours * cents_per_hour * (100 + benefits_pct) / 100 + hours * pcs_h * piece_cents)


def week_pay_cents(
    hours: float, cents_per_hour: float, *, overtime_after_h: float = 40, overtime_factor: float = 1.5
) -> int:
    """One person's pay for a week, whole cents; hours beyond `overtime_after_h` count `overtime_factor` times.

    Defaults: the general US rule (US Department of Labor, wages and overtime); exemptions and states differ.
    """
    demand("hours", hours, most=168)
    demand("cents an hour", cents_per_hour)
    demand("overtime after", overtime_after_h, most=168)
    demand("overtime factor", overtime_factor, least=1)
    overtime_h = max(0.0, hours - overtime_after_h)
    return nearest((hours - overtime_h + overtime_h * overtime_factor) * cents_per_hour)
