"""Dryers that must be set differently for different runs, as the checker reads them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.domain.plan import Plan
from scheduler.domain.week import DryerLine, DryerSetting, Run, Way, Week
from scheduler.review.dryer_rules import dryer_setting_is_shared, setting_settles
from scheduler.review.rules import check
from tests import builders as b

COOL, HOT = "275 °F, 60 s", "320 °F, 60 s"


def line(*, on: tuple[int, ...] = (0, 540, 1080)) -> DryerLine:
    """A dryer at 275 or 320 degrees: ten minutes to settle hotter, fourteen to settle cooler."""
    settings = tuple(
        DryerSetting(setting_id=name, temperature_f=f, tunnel_s=60) for name, f in ((COOL, 275), (HOT, 320))
    )
    return DryerLine(dryer_id="d", name="dryer d", settings=settings, heat_min=2, cool_min=3, switched_on_tau=on)


def run_at(run_id: str, press_id: str, setting: str, *others: str) -> Run:
    """An hour's run that cures for two minutes, at one setting or, 15 minutes longer, at others."""
    ways = tuple(
        Way(print_min=75, part_min=(75,), rate_pcs_h=48, belt_permille=0, setting_id=other) for other in others
    )
    choice = replace(b.choice(press_id), setting_id=setting, other_ways=ways)
    return b.run(run_id, choices=[choice], cure_min=2)


def two_settings(first: str = COOL, second: str = HOT, *others: str) -> Week:
    """Two presses into one dryer, a run at one setting on the one, a run at another setting on the other."""
    runs = [run_at("r1", "P1", first), run_at("r2", "P2", second, *others)]
    presses = [b.press_line("P1", dryer_id="d"), b.press_line("P2", dryer_id="d")]
    return b.week(runs=runs, presses=presses, dryers=(line(),))


def behind(at: int, *, first_at: int = 0, printing: int = 60, way: int = 0) -> Plan:
    """The first run's hour, and the second run from `at`."""
    runs = b.planned_run("r1", at=first_at), b.planned_run("r2", press_id="P2", at=at, printing=printing, way=way)
    orders = [b.planned_order(f"o{one.run_id}", packed=one.print_end_tau + 2) for one in runs]
    return b.plan(*runs, orders=orders)


def test_runs_at_one_setting_share_the_dryer() -> None:
    """At the same setting two runs print at once; so they do where one takes another way at the other's setting."""
    assert check(two_settings(COOL, COOL), behind(0)) == ()
    assert check(two_settings(COOL, HOT, COOL), behind(0, printing=75, way=1)) == ()
    assert [one.rule for one in check(two_settings(), behind(0))] == ["dryer_setting_is_shared"]


@pytest.mark.parametrize(
    ("at", "broken"),
    [(61, "dryer_setting_is_shared"), (62, "setting_settles"), (70, "setting_settles"), (71, "")],
)
def test_another_setting_waits_for_the_last_piece_and_settles(at: int, broken: str) -> None:
    """45 degrees hotter take nine minutes: printed by 60 and through by 62, the next starts at 71, not at 70."""
    assert [one.rule for one in check(two_settings(), behind(at))] == ([broken] if broken else [])


def test_cooling_takes_its_own_minutes() -> None:
    """45 degrees cooler take 13.5 minutes, so 14."""
    week = two_settings(HOT, COOL)
    assert line().settle_min(HOT, COOL) == 14
    assert setting_settles(week, behind(76)) == []
    assert len(setting_settles(week, behind(75))) == 1


def test_a_night_settles_everything() -> None:
    """Printed by closing, the next setting is there at opening; printed into the morning, it has to be waited for."""
    assert check(two_settings(), behind(540, first_at=480)) == ()
    assert [one.rule for one in check(two_settings(), behind(541, first_at=481))] == ["dryer_setting_is_shared"]
    never_off = replace(two_settings(), dryers=(line(on=(0,)),))
    assert [one.rule for one in check(never_off, behind(540, first_at=480))] == ["dryer_setting_is_shared"]


def test_a_paused_run_keeps_its_setting() -> None:
    """Over its noon the belt is free, the dryer is not: nobody else may set it otherwise."""
    week = two_settings()
    noon = b.press_line("P1", dryer_id="d", calendar=b.every_day(breaks=[(30, 120)]))
    week = replace(week, presses=(noon, week.presses[1]))
    first, second = b.planned_run("r1", print_end_tau=180), b.planned_run("r2", press_id="P2", at=40)
    assert [one.rule for one in dryer_setting_is_shared(week, b.plan(first, second))] == ["dryer_setting_is_shared"]
