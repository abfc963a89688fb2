"""How the dryer is set for a run, and how fast its belt runs: start values, the arithmetic shown."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.domain.plan import PlannedRun
from scheduler.papers.floor.ground import Ground
from scheduler.papers.words import day_and_time, listed
from scheduler.review.hours import open_windows, pieces
from scheduler.trade.belt import belt_speed_in_min
from scheduler.trade.cure import fabric_most_f


@dataclass(frozen=True, slots=True, kw_only=True)
class DryerUse:
    """A run in its dryer.

    temperature_f: what its inks need in the film, or the setting planned. most_f: the hottest its garments stand, None
    where no limit is known. beside: who prints into it at the same time with another need.
    """

    name: str
    temperature_f: int
    tunnel_s: int
    heated_in: float
    speed_in_min: float
    most_f: int | None
    beside: tuple[str, ...]


def need_of(ground: Ground, planned: PlannedRun) -> tuple[int, int]:
    """(degrees Fahrenheit, seconds in the tunnel): the planned setting, else the hottest and slowest of its inks."""
    choice = ground.choice(planned)
    dryer_id = ground.week.press[planned.press_id].dryer_id
    for line in ground.week.dryers:
        for setting in line.settings:
            if line.dryer_id == dryer_id and setting.setting_id == choice.setting_id:
                return setting.temperature_f, setting.tunnel_s
    inks = [ground.week.ink[head.ink_id] for head in choice.stack.heads]
    return max((ink.cure_f for ink in inks), default=0), max((ink.tunnel_s for ink in inks), default=0)


def dryer_use(ground: Ground, planned: PlannedRun) -> DryerUse | None:
    """How a run uses its dryer; None where no dryer is named or nothing has to cure."""
    dryer = ground.dryer.get(ground.week.press[planned.press_id].dryer_id or "")
    temperature_f, tunnel_s = need_of(ground, planned)
    if dryer is None or tunnel_s <= 0:
        return None
    parts = ground.week.run[planned.run_id].parts
    stands = [most for part in parts if (most := fabric_most_f(part.garment)) is not None]
    return DryerUse(
        name=dryer.name,
        temperature_f=temperature_f,
        tunnel_s=tunnel_s,
        heated_in=dryer.heated_length_in,
        speed_in_min=belt_speed_in_min(dryer.heated_length_in, tunnel_s),
        most_f=min(stands, default=None),
        beside=tuple(_beside(ground, planned, (temperature_f, tunnel_s))),
    )


def _beside(ground: Ground, planned: PlannedRun, need: tuple[int, int]) -> Iterator[str]:
    """Runs on other presses that print into the same dryer meanwhile and need something else."""
    week, own = ground.week, week_stretches(ground, planned)
    dryer_id = week.press[planned.press_id].dryer_id
    for other in ground.plan.runs:
        if other.press_id == planned.press_id or week.press[other.press_id].dryer_id != dryer_id:
            continue
        met = [
            (max(a, c), min(b, d)) for a, b in own for c, d in week_stretches(ground, other) if max(a, c) < min(b, d)
        ]
        degrees, seconds = need_of(ground, other)
        if met and seconds > 0 and (degrees, seconds) != need:
            run = week.run[other.run_id]
            when = listed(
                [f"{day_and_time(week.clock.starts_at(a))} to {week.clock.ends_at(b):%H:%M}" for a, b in met[:3]]
            )
            yield (
                f"{week.press[other.press_id].name} prints {run.order_id} {run.location} into it {when} and needs "
                f"{seconds} s at {ground.units.temperature(degrees)}: set the belt for the longer time, at a "
                "temperature both inks and every fabric on it stand"
            )


def week_stretches(ground: Ground, planned: PlannedRun) -> tuple[tuple[int, int], ...]:
    """Shop minutes in which a run prints."""
    windows = open_windows(ground.week.press[planned.press_id].prints_in, ground.whole)
    return pieces(windows, planned.print_start_tau, planned.print_end_tau)
