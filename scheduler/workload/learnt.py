"""The shop's stated figures as its own record has come to know them: set-up minutes part by part, pieces an hour."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.learnt import AS_STATED, NOTHING_LEARNT, LearntFigures
from scheduler.domain.orders import WeekInputs
from scheduler.domain.week import SetUpMinutes
from scheduler.workload.assumptions import Notes

HEADS = 3
"""Screens of the set-up that is to come out right to the minute. Common practice, no source."""


def as_learnt(inputs: WeekInputs, notes: Notes) -> WeekInputs:
    """The week with every press's set-up minutes as its record has them; told as assumptions. Nothing learnt: as it is.

    Which screens and inks stay is still reckoned out for every set-up: only the minutes of its parts are others.
    """
    if inputs.learnt == NOTHING_LEARNT:
        return inputs
    _tell(inputs.learnt, notes)
    presses = tuple(
        replace(press, set_up=scaled(press.set_up, inputs.learnt.of_press(press.press_id).set_up_pct))
        for press in inputs.shop.presses
    )
    return replace(inputs, shop=replace(inputs.shop, presses=presses))


def scaled(minutes: SetUpMinutes, pct: int) -> SetUpMinutes:
    """Set-up minutes at so many per cent, each part in whole minutes.

    What rounding takes from a part goes to the next, so that a set-up of three screens takes pct per cent of its stated
    minutes, to the minute: mounting, then loading, then inks that leave, then the test print. A part that takes no
    minutes takes none still.
    """
    if pct == AS_STATED:
        return minutes
    factor = pct / AS_STATED
    mount_min, over = _whole(minutes.mount_min * factor, 0.0)
    load_min, over = _whole(minutes.load_min * factor, over)
    light_min, left = _whole(minutes.clean_light_min * factor, over)
    dark_min, _ = _whole(minutes.clean_dark_min * factor, over)
    swap_min = None
    if minutes.swap_min is not None:
        swap_min, left = _whole(minutes.swap_min * factor, over)
    return replace(
        minutes,
        mount_min=mount_min,
        load_min=load_min,
        swap_min=swap_min,
        clean_light_min=light_min,
        clean_dark_min=dark_min,
        strike_off_min=_whole(minutes.strike_off_min * factor, HEADS * left)[0],
        card_min=_whole(minutes.card_min * factor, 0.0)[0],
        pallet_min=_whole(minutes.pallet_min * factor, 0.0)[0],
        flash_move_min=_whole(minutes.flash_move_min * factor, 0.0)[0],
    )


def _whole(exact: float, over: float) -> tuple[int, float]:
    """Whole minutes of a part with what rounding took before it, and what it takes now. No minutes stay none."""
    if not exact:
        return 0, over
    found = max(0, round(exact + over))
    return found, exact + over - found


def _tell(learnt: LearntFigures, notes: Notes) -> None:
    for press in learnt.presses:
        if press.set_up_pct != AS_STATED:
            text = f"set-up of {press.press_id} from {_last(press.set_up_times)}: {_of(press.set_up_pct)} minutes"
            notes.add("learnt_set_up", text, "presses")
        if press.rate_pct != AS_STATED:
            text = f"printing on {press.press_id} from {_last(press.rate_times)}: {_of(press.rate_pct)} pieces an hour"
            notes.add("learnt_rate", text, "presses")
    for design in learnt.designs:
        if design.rate_pct != AS_STATED:
            text = f"printing of {design.design_id} from {_last(design.rate_times)}: {design.rate_pct / AS_STATED:g}"
            notes.add("learnt_rate", f"{text} of its press's pieces an hour", "designs")


def _last(times: int) -> str:
    return f"your last {times} times" if times > 1 else "the one time noted"


def _of(pct: int) -> str:
    return f"{pct / AS_STATED:g} of the stated"
