"""Rules of a dryer's settings: runs that share it share its setting, and another setting takes time to settle."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import DryerLine, Week
from scheduler.review.press_rules import on_a_press
from scheduler.review.violation import Violation
from scheduler.review.words import end_text, run_text, start_text


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pair:
    """Two runs at different settings of one dryer, the one that prints first and the other, with nothing to part them.

    cured_tau: when the last piece of the earlier one is through.
    """

    dryer: DryerLine
    earlier: PlannedRun
    later: PlannedRun
    settings: tuple[str, str]
    cured_tau: int


def _pairs(week: Week, plan: Plan) -> Iterator[_Pair]:
    """Every such pair between whose prints the dryer is not switched off."""
    for dryer in week.dryers:
        known = {one.setting_id for one in dryer.settings}
        there = [
            (planned, choice.setting_id)
            for planned, press, choice in on_a_press(week, plan)
            if press.dryer_id == dryer.dryer_id and choice.setting_id in known and choice.setting_id is not None
        ]
        there.sort(key=lambda item: (item[0].print_start_tau, item[0].print_end_tau, item[0].run_id))
        for (one, its_setting), (other, other_setting) in combinations(there, 2):
            at = bisect_left(dryer.switched_on_tau, one.print_end_tau)
            was_off = at < len(dryer.switched_on_tau) and dryer.switched_on_tau[at] <= other.print_start_tau
            if its_setting != other_setting and not was_off:
                yield _Pair(
                    dryer=dryer,
                    earlier=one,
                    later=other,
                    settings=(its_setting, other_setting),
                    cured_tau=one.print_end_tau + week.run[one.run_id].cure_min,
                )


def dryer_setting_is_shared(week: Week, plan: Plan) -> list[Violation]:
    """Runs in one dryer at once want the same temperature and the same time in the tunnel.

    [print_start, print_end + cure) of two runs with different settings never meet, but with the dryer off in between.
    """
    return [
        Violation(
            rule="dryer_setting_is_shared",
            run_id=pair.later.run_id,
            press_id=pair.later.press_id,
            at_tau=pair.later.print_start_tau,
            message=f"{run_text(week, pair.later.run_id)} prints into {pair.dryer.name} at {pair.settings[1]} from "
            f"{start_text(week, pair.later.print_start_tau)}, when {run_text(week, pair.earlier.run_id)} has it at "
            f"{pair.settings[0]} until {end_text(week, pair.cured_tau)}",
        )
        for pair in _pairs(week, plan)
        if pair.later.print_start_tau < pair.cured_tau
    ]


def setting_settles(week: Week, plan: Plan) -> list[Violation]:
    """A dryer takes its minutes to settle before it is printed into at another setting.

    print_start >= last piece at the setting before + cure + minutes to settle, unless the dryer was off in between.
    """
    found = []
    for pair in _pairs(week, plan):
        settle_min = pair.dryer.settle_min(*pair.settings)
        waited_min = pair.later.print_start_tau - pair.cured_tau
        if 0 <= waited_min < settle_min:
            found.append(
                Violation(
                    rule="setting_settles",
                    run_id=pair.later.run_id,
                    press_id=pair.later.press_id,
                    at_tau=pair.later.print_start_tau,
                    message=f"{run_text(week, pair.later.run_id)} prints into {pair.dryer.name} at {pair.settings[1]} "
                    f"{waited_min} min after {run_text(week, pair.earlier.run_id)} left it at {pair.settings[0]}; it "
                    f"takes {settle_min} min to settle",
                )
            )
    return found
