"""More than forty what-ifs on the mid-size week, in the morning and in the middle of the week."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from time import process_time

import pytest

from scheduler import api
from scheduler.domain.answers import STAY, Answer, Answers
from scheduler.domain.settings import SearchSettings
from scheduler.review.measures import is_moved
from tests.what_if import midsize

FIRST = SearchSettings(iterations=0, workers=1)


def asked(what_if: str, now: datetime | None, on_answer: Callable[[Answer], None] | None = None) -> Answers:
    """The first answers to a what-if in words."""
    known = midsize.standing()
    (read,) = api.read_what_ifs([what_if], midsize.WEEK, known.inputs, now)
    return api.ask_what_if(known.inputs, known.plan, read.what_ifs, FIRST, name=what_if, now=now, on_answer=on_answer)


def cases() -> list[tuple[str, datetime | None]]:
    """Every what-if on Monday morning, and every fourth of them on Tuesday in the middle of the work."""
    return [*((one, None) for one in midsize.WHAT_IFS), *((one, midsize.TUESDAY) for one in midsize.WHAT_IFS[::4])]


def test_there_are_enough_of_them() -> None:
    """At least forty what-ifs, and every kind of them."""
    assert len(set(midsize.WHAT_IFS)) >= 40
    kinds = {one.split()[0] for one in midsize.WHAT_IFS}
    outages = {"press-out", "dryer-out", "flash-out", "person-out", "screen-broken", "ink-out"}
    assert kinds == outages | {"rush", "cancel", "pieces", "date", "blanks", "art", "open-hours", "reprint"}


@pytest.mark.parametrize(("what_if", "now"), cases(), ids=lambda one: str(one)[:40])
def test_every_answer_can_be_kept(what_if: str, now: datetime | None) -> None:
    """Every answer's plan breaks no rule, moves nothing that has begun, and one without a plan says why."""
    known = midsize.standing()
    begun_s, after_s = process_time(), list[float]()
    answers = asked(what_if, now, lambda _: after_s.append(process_time() - begun_s))
    # Seconds of this process: what else a busy machine does meanwhile is not waited for by a client on a quiet one.
    assert (answers.first_seconds is None) == (not after_s)
    assert not after_s or after_s[0] < 5
    assert [one.kind for one in answers.answers] == [
        "nobody moves",
        "every promise kept",
        "best for the shop",
        "with overtime",
    ]
    for one in answers.answers:
        if one.plan is None:
            assert one.reason
            continue
        assert api.check(one.week, one.plan) == ()
        now_tau = one.week.clock.tau_of(now or midsize.MONDAY)
        begun = {run.run_id for run in known.plan.runs if run.set_up_start_tau < now_tau}
        for run_id in begun & one.plan.run.keys():
            before, after = known.plan.run[run_id], one.plan.run[run_id]
            assert (before.press_id, before.set_up_start_tau) == (after.press_id, after.set_up_start_tau)
        for fixing in one.week.fixings:
            if fixing.set_up_start_tau is not None:
                assert one.plan.run[fixing.run_id].set_up_start_tau == fixing.set_up_start_tau
        for run in one.plan.runs:
            assert run.run_id in begun or run.run_id in one.week.fixing or run.set_up_start_tau >= now_tau


def test_nobody_moves_means_nobody() -> None:
    """The answer in which nobody moves leaves every announced run where it is."""
    found = [asked(one, None).of(STAY) for one in midsize.WHAT_IFS[:6]]
    plans = [one for one in found if one.plan is not None]
    assert plans
    for one in plans:
        assert one.plan is not None
        assert not [run_id for run_id in one.plan.run if is_moved(one.week, run_id, one.plan)]
