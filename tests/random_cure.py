"""What curing adds to some random weeks: dryers that warm up. Drawn apart: the rest of a week stays the same."""

from __future__ import annotations

import random
from dataclasses import replace

from scheduler.domain.calendars import LONG_STOP_MIN, Calendar, Window
from scheduler.domain.week import DryerLine, DryerSetting, PressLine, Run, Way, Week

WARM_UP_SHARE = 0.35
STEPS_SHARE = 0.4
SETTINGS_SHARE = 0.5
SETTINGS = (
    DryerSetting(setting_id="275 F, 60 s", temperature_f=275, tunnel_s=60),
    DryerSetting(setting_id="320 F, 60 s", temperature_f=320, tunnel_s=60),
    DryerSetting(setting_id="320 F, 150 s", temperature_f=320, tunnel_s=150),
)


def with_cure(week: Week, rng: random.Random) -> Week:
    """The week as it is, or with dryers that warm up every morning."""
    if rng.random() < WARM_UP_SHARE:
        warm_up_min = rng.choice([10, 25, 60])
        is_left_on = rng.random() < 0.5
        week = replace(
            week, presses=tuple(_warmed_up(press, warm_up_min, is_left_on=is_left_on) for press in week.presses)
        )
    if rng.random() < STEPS_SHARE:
        week = replace(week, runs=tuple(_in_steps(week, run) for run in week.runs))
    if rng.random() < SETTINGS_SHARE:
        week = _at_settings(week, rng)
    return week


def _at_settings(week: Week, rng: random.Random) -> Week:
    """Runs want one of two settings of their dryers, or print at both, at the second one more slowly."""
    first, second = rng.sample([one.setting_id for one in SETTINGS], 2)
    runs = tuple(_at_setting(run, rng.choice([(first,), (first,), (second,), (first, second)])) for run in week.runs)
    heat_min, cool_min = rng.choice([(0, 0), (2, 3), (10, 20)])
    dryers = tuple(
        DryerLine(
            dryer_id=dryer_id,
            name=dryer_id,
            settings=SETTINGS,
            heat_min=heat_min,
            cool_min=cool_min,
            switched_on_tau=week.clock.cuts_tau,
        )
        for dryer_id in sorted({press.dryer_id for press in week.presses if press.dryer_id is not None})
    )
    return replace(week, runs=runs, dryers=dryers)


def _at_setting(run: Run, settings: tuple[str, ...]) -> Run:
    choices = []
    for choice in run.choices:
        ways = [replace(way, setting_id=settings[0]) for way in choice.other_ways]
        if len(settings) > 1:
            longer_min = choice.print_min + choice.print_min // 4
            ways.append(
                Way(
                    print_min=longer_min,
                    part_min=(longer_min,),
                    rate_pcs_h=choice.rate_pcs_h,
                    belt_permille=min(1000, choice.belt_permille * 3 // 2),
                    setting_id=settings[1],
                )
            )
        choices.append(replace(choice, setting_id=settings[0], other_ways=tuple(ways)))
    return replace(run, choices=tuple(choices))


def _in_steps(week: Week, run: Run) -> Run:
    """The run also at three quarters and at half its rate, on presses that share their dryer."""
    found = []
    for choice in run.choices:
        dryer_id = week.press[choice.press_id].dryer_id
        shared = sum(press.dryer_id == dryer_id for press in week.presses) > 1
        ways = tuple(
            Way(
                print_min=-(-choice.print_min * 1000 // step),
                part_min=(-(-choice.print_min * 1000 // step),),
                rate_pcs_h=max(1, choice.rate_pcs_h * step // 1000),
                belt_permille=-(-choice.belt_permille * step // 1000),
                step_permille=step,
            )
            for step in (750, 500)
        )
        found.append(replace(choice, other_ways=ways) if shared else choice)
    return replace(run, choices=tuple(found))


def _warmed_up(press: PressLine, warm_up_min: int, *, is_left_on: bool) -> PressLine:
    """A press that prints only `warm_up_min` after every night.

    is_left_on: after an evening of overtime it is hot from the first minute on.
    """
    windows: list[Window] = []
    evening: str | None = None
    closed_min = 0
    for one in press.calendar.windows:
        hot_tau = one.start_tau
        if one.overtime_id is None and one.stop_before_min + closed_min >= LONG_STOP_MIN:
            hot_tau += warm_up_min
            stop_min = one.stop_before_min + warm_up_min
            if evening is not None and is_left_on:
                cold = replace(one, end_tau=hot_tau, overtime_id=evening)
                windows.append(cold)
                stop_min = 0
            windows.append(replace(one, start_tau=hot_tau, stop_before_min=stop_min))
        else:
            windows.append(one)
        evening = one.overtime_id
        closed_min = one.end_tau - one.start_tau + one.stop_before_min if one.overtime_id is not None else 0
    return replace(press, print_calendar=Calendar(windows=tuple(windows)))
