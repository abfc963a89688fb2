"""Which weeks the exact model takes whole."""

from __future__ import annotations

from collections import Counter

from scheduler.domain.week import SetUpMinutes, Week

WHOLE_MODEL_RUNS = 20
"""Weeks of so many runs are solved whole; larger ones are walked, and opened window by window where time is left.

Two walks against one beside the whole model, 40 runs, 20 s, three weeks a load: full 8 and 6 % cheaper and 4 % dearer,
overloaded 4 and 2 % cheaper and 1 % dearer, calm up to 1 % dearer; at 25 runs up to 1 % cheaper. The bounds are alike.
"""
PLAIN_PAIRS = 12000
"""Where no set-up depends on the run before, the model is far easier: so many pairs of neighbours, then."""


def is_solved_whole(week: Week) -> bool:
    """True for weeks that the exact model takes as they are."""
    if len(week.runs) <= WHOLE_MODEL_RUNS:
        return True
    runs_on = Counter(choice.press_id for run in week.runs for choice in run.choices)
    plain = {press.press_id for press in week.presses if press.set_up == SetUpMinutes()}
    offers = [choice for run in week.runs for choice in run.choices]
    is_plain = all(choice.press_id in plain or choice.stated_set_up_min is not None for choice in offers)
    return is_plain and sum(runs * runs for runs in runs_on.values()) <= PLAIN_PAIRS
