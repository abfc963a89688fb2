"""What a run's printing costs in people: the minutes of the print crew, press by press."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from scheduler.domain.week import PressChoice
from scheduler.trade.rounding import nearest


def with_print_cents(choices: tuple[PressChoice, ...], cents_per_min: Mapping[str, float]) -> tuple[PressChoice, ...]:
    """The choices, each way of each with what its print crew costs beyond the least any of them costs.

    print_cents = print_min x cents_per_min[press] - least of all, rounded to whole cents. What every plan pays is left
    out, so that the cost of a plan names only what another plan could save.
    """
    offers = [(one.print_min, one.press_id) for one in choices]
    offers += [(way.print_min, one.press_id) for one in choices for way in one.other_ways]
    least = min((minutes * cents_per_min[press_id] for minutes, press_id in offers), default=0.0)

    def beyond(print_min: int, press_id: str) -> int:
        return nearest(print_min * cents_per_min[press_id] - least)

    return tuple(
        replace(
            one,
            print_cents=beyond(one.print_min, one.press_id),
            other_ways=tuple(replace(way, print_cents=beyond(way.print_min, one.press_id)) for way in one.other_ways),
        )
        for one in choices
    )
