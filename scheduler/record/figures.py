"""By how much set-ups and prints differ from the stated figures: by press, the shop behind it, and by design.

Factors are the middle log(actual / stated) of a press's times, drawn towards what stands behind them when there are
few: a press's towards the shop's, the shop's towards the stated figure, and a design's mean towards its press's
(credibility theory, as in `learning`). The middle one, because a hard design or a forgotten tap is not the press.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import exp, log, sqrt
from statistics import fmean, median

from scheduler.domain.chances import Chances
from scheduler.domain.learnt import AS_STATED, NOTHING_LEARNT, LearntDesign, LearntFigures, LearntPress
from scheduler.record.learning import Time

BELIEF_TIMES = 10
"""The stated figures of a press count as many times of one's own; so does the shop's mean against one press's.
Common practice, no source.
"""
DESIGN_TIMES = 5
"""The same for how a design differs from others on its press. Common practice, no source."""
LAST_TIMES = 60
"""Times of a press or design that count, the latest: what was two years ago says little of today."""
LEAST_SET_UP_MIN = 5
"""A shorter set-up tells when somebody tapped, not how long mounting takes. Common practice, no source."""
FURTHEST = 3.0
"""A time counts as so many times its stated minutes at most: beyond that somebody forgot to tap."""
STEP_PCT = 5
"""Factors are taken in steps, so that no plan changes for a hundredth. Common practice, no source."""
LEAST_PCT, MOST_PCT = 50, 200

Logs = tuple[tuple[str, float], ...]
"""(press or design, log of actual against stated), the latest first."""


def learnt_figures(times: Iterable[Time]) -> LearntFigures:
    """What a shop's times say of its stated figures. times: the latest first.

    shop = n / (n + 10) × middle of all; press = shop + n / (n + 10) × (its middle − shop); design = n / (n + 5) × mean
    of (its times − its press). Presses and designs within half a step of what is stated are left out.
    """
    known = tuple(times)
    set_ups = tuple((one.press_id, told) for one in known if (told := set_up_log(one)) is not None)
    rates = tuple((one.press_id, told) for one in known if (told := rate_log(one)) is not None)
    by_set_up, by_rate = _by_press(set_ups), _by_press(rates)
    presses = [
        LearntPress(
            press_id=press_id,
            set_up_pct=_pct(by_set_up.get(press_id, (0.0, 0))[0]),
            set_up_times=by_set_up.get(press_id, (0.0, 0))[1],
            rate_pct=_pct(by_rate.get(press_id, (0.0, 0))[0]),
            rate_times=by_rate.get(press_id, (0.0, 0))[1],
        )
        for press_id in sorted({*by_set_up, *by_rate})
    ]
    designs = _by_design(known, {press_id: found for press_id, (found, _) in by_rate.items()})
    return LearntFigures(
        presses=tuple(one for one in presses if (one.set_up_pct, one.rate_pct) != (AS_STATED, AS_STATED)),
        designs=tuple(one for one in designs if one.rate_pct != AS_STATED),
    )


def set_up_log(one: Time) -> float | None:
    """log(actual / stated) of a set-up; None where it tells nothing of the press's stated minutes."""
    if not one.tells_set_up or one.set_up_min is None or one.planned_set_up_min < LEAST_SET_UP_MIN:
        return None
    return _within(log(max(1, one.set_up_min) / one.planned_set_up_min))


def rate_log(one: Time) -> float | None:
    """log(actual / stated) of the pieces an hour; None where a rate was typed for the order or design."""
    return _within(log(one.tee_pcs_h / one.planned_tee_pcs_h)) if one.tells_rate else None


def _within(told: float) -> float:
    return max(-log(FURTHEST), min(log(FURTHEST), told))


def _by_press(logs: Logs) -> dict[str, tuple[float, int]]:
    """Every press's factor as a logarithm, and from how many times."""
    if not logs:
        return {}
    of_shop = [told for _, told in logs[: LAST_TIMES * len({press for press, _ in logs})]]
    shop = _trust(len(of_shop), BELIEF_TIMES) * median(of_shop)
    found = {}
    for press_id in {press for press, _ in logs}:
        own = [told for press, told in logs if press == press_id][:LAST_TIMES]
        found[press_id] = (shop + _trust(len(own), BELIEF_TIMES) * (median(own) - shop), len(own))
    return found


def _by_design(times: Sequence[Time], of_press: dict[str, float]) -> list[LearntDesign]:
    own: dict[str, list[float]] = {}
    for one in times:
        told = rate_log(one)
        if told is not None:
            own.setdefault(one.design_id, []).append(told - of_press[one.press_id])
    last = {design_id: logs[:LAST_TIMES] for design_id, logs in sorted(own.items())}
    return [
        LearntDesign(
            design_id=design_id, rate_pct=_pct(_trust(len(logs), DESIGN_TIMES) * fmean(logs)), rate_times=len(logs)
        )
        for design_id, logs in last.items()
    ]


def _trust(times: int, belief: int) -> float:
    return times / (times + belief)


def _pct(told: float) -> int:
    """A factor in per cent, in steps."""
    return max(LEAST_PCT, min(MOST_PCT, STEP_PCT * round(AS_STATED * exp(told) / STEP_PCT)))


def learnt_chances(times: Sequence[Time], chances: Chances, learnt: LearntFigures | None = None) -> Chances:
    """How far set-ups and prints stray in this shop, and how often pieces are printed again. What was typed wins.

    spread = sqrt((n s² + 10 s0²) / (n + 10)), s² the mean square of log(actual / planned by what is learnt).
    reprints = (runs that spoiled at least `spoil_least` of their pieces + 10 × start value) / (n + 10), once anybody
    noted a spoiled piece at all.
    """
    if chances.is_typed or not times:
        return chances
    figures = learnt or NOTHING_LEARNT
    set_ups = [
        told - log(figures.of_press(one.press_id).set_up_pct / AS_STATED)
        for one in times
        if (told := set_up_log(one)) is not None
    ]
    rates = [told - log(_rate_pct(figures, one)) for one in times if (told := rate_log(one)) is not None]
    again = sum(one.spoiled >= max(1, chances.spoil_least * one.pieces) for one in times)
    share = (again + BELIEF_TIMES * chances.spoil_chance) / (len(times) + BELIEF_TIMES)
    return replace(
        chances,
        set_up_spread=_spread(set_ups, chances.set_up_spread),
        print_spread=_spread(rates, chances.print_spread),
        spoil_chance=share if any(one.spoiled for one in times) else chances.spoil_chance,
        learnt_from=len(times),
    )


def _rate_pct(figures: LearntFigures, one: Time) -> float:
    of_press, of_design = figures.of_press(one.press_id).rate_pct, figures.of_design(one.design_id).rate_pct
    return of_press / AS_STATED * of_design / AS_STATED


def _spread(logs: Sequence[float], start: float) -> float:
    squares = sum(one * one for one in logs)
    return sqrt((squares + BELIEF_TIMES * start * start) / (len(logs) + BELIEF_TIMES))
