"""Faults planted in good plans: every one is reported, under the name of the rule it breaks. `-s` shows the counts."""

from __future__ import annotations

import random
from collections import Counter

import pytest

from scheduler.review.rules import RULES, check
from tests.review.cure_breakers import CURE_BREAKERS
from tests.review.good_plans import good_plans
from tests.review.order_breakers import ORDER_BREAKERS
from tests.review.people_breakers import PEOPLE_BREAKERS
from tests.review.press_breakers import PRESS_BREAKERS
from tests.review.screen_breakers import SCREEN_BREAKERS
from tests.review.station_breakers import STATION_BREAKERS

BREAKERS = PRESS_BREAKERS | CURE_BREAKERS | SCREEN_BREAKERS | PEOPLE_BREAKERS | ORDER_BREAKERS | STATION_BREAKERS
FAULTS_PER_RULE = 30
ENOUGH_PER_BREAKER = 40


def test_good_plans_are_not_refused() -> None:
    """What the decoder makes of random weeks keeps every rule, so that a planted fault is the only one."""
    refused = {name: check(week, plan) for name, week, plan in good_plans()}
    assert {name: found for name, found in refused.items() if found} == {}
    assert len(refused) > 60


def test_every_rule_has_a_breaker() -> None:
    """A rule without a planted fault would be a rule nobody has seen bite."""
    assert set(BREAKERS) == {rule.__name__ for rule in RULES}


@pytest.mark.parametrize("rule", [rule.__name__ for rule in RULES])
def test_planted_faults_are_reported_by_name(rule: str) -> None:
    """At least thirty faults of this rule are planted, each way to break it at least once, and all are found."""
    planted: Counter[str] = Counter()
    missed = []
    for breaker in BREAKERS[rule]:
        for name, week, plan in good_plans():
            broken = breaker(week, plan, random.Random(f"{name} {breaker.__name__}"))
            if broken is None or broken == plan:
                continue  # this plan cannot be broken this way: the next one may
            if planted[breaker.__name__] == ENOUGH_PER_BREAKER:
                break
            planted[breaker.__name__] += 1
            if rule not in {one.rule for one in check(week, broken)}:
                missed.append((name, breaker.__name__))
    print(f"{rule}: {planted.total()} faults planted, {len(missed)} missed")
    assert missed == []
    assert planted.total() >= FAULTS_PER_RULE
    assert set(planted) == {breaker.__name__ for breaker in BREAKERS[rule]}
