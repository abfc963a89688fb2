"""What the plan believes of each press, in a line the shop can nod at or correct."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from scheduler.domain.shop import Press
from scheduler.domain.week import InkUse, Run, SetUpMinutes, Stack, StackHead
from scheduler.trade.press_rate import whole_pcs_h
from scheduler.trade.set_up import pair_minutes, pair_set_up
from scheduler.workload.rates import Pace

TYPICAL_COLOURS = (1, 3, 6)


@dataclass(frozen=True, slots=True, kw_only=True)
class PressLoad:
    """A press's figures for "does this look right?".

    run_count: runs that fit it. low_pcs_h, high_pcs_h: slowest and fastest of them, None without any. set_up_min:
    minutes to set up an empty press for 1, 3 and 6 colours (None where it has too few heads). belt_pcs_h: what its
    dryer takes at the time in the tunnel of the shop's usual ink, None without a dryer.
    """

    press_id: str
    name: str
    run_count: int
    low_pcs_h: int | None
    high_pcs_h: int | None
    set_up_min: tuple[tuple[int, int | None], ...]
    belt_pcs_h: int | None


def press_loads(presses: Iterable[Press], runs: Iterable[Run], pace: Pace) -> tuple[PressLoad, ...]:
    """One summary per press."""
    known = list(runs)
    family = pace.shelf.family(pace.shelf.shop.defaults.family)
    found = []
    for press in presses:
        rates = [run.on_press[press.press_id].rate_pcs_h for run in known if press.press_id in run.on_press]
        belt = pace.belt_pcs_h(press, family.tunnel_s)
        found.append(
            PressLoad(
                press_id=press.press_id,
                name=press.name,
                run_count=len(rates),
                low_pcs_h=min(rates, default=None),
                high_pcs_h=max(rates, default=None),
                set_up_min=tuple(
                    (colours, empty_set_up_min(colours, press.set_up) if colours <= press.heads else None)
                    for colours in TYPICAL_COLOURS
                ),
                belt_pcs_h=None if belt is None else whole_pcs_h(belt),
            )
        )
    return tuple(found)


def empty_set_up_min(colours: int, minutes: SetUpMinutes) -> int:
    """Minutes to set up an empty press for so many colours: mount, load, test print."""
    ink = InkUse(ink_id="any", name="any", family="any", is_dark=False)
    heads = tuple(StackHead(screen_id=str(number), ink_id=ink.ink_id) for number in range(colours))
    inks = {ink.ink_id: ink}
    return pair_minutes(pair_set_up(Stack(), Stack(heads=heads), minutes, inks), minutes, inks)
