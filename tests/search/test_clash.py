"""The smallest clash of fixed runs, word for word."""

from dataclasses import replace

import pytest

from scheduler.domain.week import Fixing, Week
from scheduler.search.clash import smallest_clash, without_clashes
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from tests.builders import (
    choice,
    fixing,
    flash_pool,
    frame_stock,
    hours,
    overtime,
    person,
    press_line,
    run,
    screen_room,
    screen_set,
    stack,
    week,
)


def hour_runs(*fixings: Fixing, **more: object) -> Week:
    """Four runs of an hour on one press."""
    return week(**{"runs": [run(f"r{i}") for i in range(1, 5)], "fixings": list(fixings), **more})


def words(one: Week) -> str:
    """The sentence of the smallest clash."""
    clash = smallest_clash(one)
    assert clash is not None
    return clash.sentence


@pytest.mark.parametrize(("at", "clashes"), [(60, False), (59, True)])
def test_a_lock_into_a_started_run(at: int, clashes: bool) -> None:
    """The started run prints until nine; a lock at nine stands, one minute earlier it does not."""
    one = hour_runs(fixing("r1", "started", press_id="P1", at=0, left=0), fixing("r2", press_id="P1", at=at))
    if not clashes:
        assert smallest_clash(one) is None
        return
    assert words(one) == "r2 is locked on P1 at Mon 08:59, but r1, started there, prints until Mon 09:00"


def test_only_the_runs_that_clash_are_named() -> None:
    """Of four fixed runs two clash; the other two are left out."""
    clash = smallest_clash(
        hour_runs(
            fixing("r1", press_id="P1", at=0),
            fixing("r2", press_id="P1", at=300),
            fixing("r3", press_id="P1", at=359),
            fixing("r4", press_id="P1", at=500),
        )
    )
    assert clash is not None
    assert clash.run_ids == ("r2", "r3")


def test_three_may_clash_where_two_do_not() -> None:
    """Two presses run at once, three do not: there are two printers."""
    presses = [press_line(f"P{i}", run_crew=(("print", 1),)) for i in (1, 2, 3)]
    runs = [run(f"r{i}", choices=[choice(f"P{i}")]) for i in (1, 2, 3)]
    fixings = [fixing(f"r{i}", press_id=f"P{i}", at=0) for i in (1, 2, 3)]
    one = week(runs=runs, presses=presses, people=[person("Ana"), person("Ben")], fixings=fixings)
    assert words(one) == (
        "r1 is locked on P1 at Mon 08:00, r2 is locked on P2 at Mon 08:00 and r3 is locked on P3 at Mon 08:00"
        " cannot all stand"
    )
    assert smallest_clash(week(runs=runs, presses=presses, people=one.people, fixings=fixings[:2])) is None


def test_announced_runs_are_given_up_first() -> None:
    """A lock clashes with a started run and with an announced one: the pair that is left is the stronger one."""
    one = hour_runs(
        fixing("r1", "started", press_id="P1", at=0, left=0),
        fixing("r2", "announced", press_id="P1", at=70),
        fixing("r3", press_id="P1", at=30),
    )
    clash = smallest_clash(one)
    assert clash is not None
    assert clash.run_ids == ("r1", "r3")


def test_a_lock_on_a_press_it_does_not_fit() -> None:
    """Unknown to the press, or too many heads."""
    offers = [choice("P1"), choice("P2", heads_needed=9)]
    presses = [press_line("P1"), press_line("P2"), press_line("P3", name="the old manual")]
    one = week(runs=[run(choices=offers)], presses=presses, fixings=[fixing("r1", press_id="P3")])
    assert words(one) == "r1 is locked on the old manual, which it does not fit"
    one = week(runs=[run(choices=offers)], presses=presses, fixings=[fixing("r1", press_id="P2", at=0)])
    assert words(one) == "r1 is locked on P2, which it does not fit"


def test_a_lock_in_a_closed_minute() -> None:
    """The press is closed then; if the minute is on offer as overtime, it stands."""
    windows = hours((0, 480), (480, 540, "late Mon"), (540, 1080))
    press = press_line(calendar=hours((0, 480), (540, 1080)))
    lock = fixing("r1", press_id="P1", at=480)
    assert words(week(presses=[press], fixings=[lock])) == "r1 is locked on P1 at Mon 16:00, when the press is closed"
    assert smallest_clash(week(presses=[press_line(calendar=windows)], overtime=[overtime()], fixings=[lock])) is None


def test_a_lock_before_its_garments() -> None:
    """Locked a minute before the garments are in."""
    for at, stands in ((100, True), (99, False)):
        one = week(runs=[run(blanks_tau=100)], fixings=[fixing("r1", press_id="P1", at=at)])
        if stands:
            assert smallest_clash(one) is None
        else:
            assert words(one) == "r1 is locked on P1 at Mon 09:39, but its garments are in at Mon 09:40"


def test_a_lock_before_its_screens() -> None:
    """Burn, dry and tape take until 09:40."""
    offers = [choice(on=stack(("s1.1", "white"), set_id="s1"))]
    for at, stands in ((100, True), (99, False)):
        one = week(
            runs=[run(set_id="s1", choices=offers)],
            sets=[screen_set()],
            frames=[frame_stock()],
            screen_room=screen_room(),
            fixings=[fixing("r1", press_id="P1", at=at)],
        )
        if stands:
            assert smallest_clash(one) is None
        else:
            assert words(one) == (
                "r1 is locked on P1 at Mon 09:39, but its screens cannot be burned, dried and taped by then"
            )


def test_two_locks_on_one_set_of_screens() -> None:
    """One set cannot be on two presses."""
    runs = [
        run(f"r{i}", set_id="s1", choices=[choice(f"P{i}", on=stack(("s1.1", "white"), set_id="s1"))]) for i in (1, 2)
    ]
    one = week(
        runs=runs,
        presses=[press_line("P1"), press_line("P2")],
        sets=[screen_set(is_burned_now=True)],
        frames=[frame_stock()],
        screen_room=screen_room(),
        fixings=[fixing("r1", press_id="P1", at=0), fixing("r2", press_id="P2", at=59)],
    )
    assert words(one) == (
        "r1 is locked on P1 at Mon 08:00 and r2 is locked on P2 at Mon 08:59, but there is one set of screens for both"
    )


def test_two_locks_on_the_same_garments() -> None:
    """One lot cannot be printed in two places."""
    runs = [run(f"r{i}", lots=["tees"], choices=[choice(f"P{i}")]) for i in (1, 2)]
    one = week(
        runs=runs,
        presses=[press_line("P1"), press_line("P2")],
        fixings=[fixing("r1", press_id="P1", at=0), fixing("r2", press_id="P2", at=59)],
    )
    assert words(one) == (
        "r1 is locked on P1 at Mon 08:00 and r2 is locked on P2 at Mon 08:59, but both print on the same garments"
    )


def test_two_locks_on_one_flash() -> None:
    """Two presses share a flash that both need at once; with two of them both stand."""
    presses = [press_line(f"P{i}", flash_pool="wheels") for i in (1, 2)]
    runs = [run(f"r{i}", choices=[choice(f"P{i}", flash_units=1)]) for i in (1, 2)]
    fixings = [fixing("r1", press_id="P1", at=0), fixing("r2", press_id="P2", at=59)]
    one = week(runs=runs, presses=presses, fixings=fixings, flash_pools=[flash_pool()])
    assert words(one) == (
        "r1 is locked on P1 at Mon 08:00 and r2 is locked on P2 at Mon 08:59, but there is one flash for both"
    )
    assert smallest_clash(replace(one, flash_pools=(flash_pool(2),))) is None


def test_without_clashes_the_rest_is_planned() -> None:
    """The order of the later lock moves to what cannot be planned, with the reason; the others get a plan."""
    one = hour_runs(fixing("r1", "started", press_id="P1", at=0, left=0), fixing("r2", press_id="P1", at=30))
    mended = without_clashes(one)
    assert [r.run_id for r in mended.runs] == ["r1", "r3", "r4"]
    told = mended.not_planned[0]
    assert (told.order_id, told.run_id, told.kind) == ("or2", "r2", "clash")
    assert told.reasons == ("r2 is locked on P1 at Mon 08:30, but r1, started there, prints until Mon 09:00",)
    assert isinstance(first_plan(mended), Decoded)


def test_what_has_started_is_never_given_up() -> None:
    """Two started runs that clash stay in the week: the shop must say which one is true."""
    one = hour_runs(
        fixing("r1", "started", press_id="P1", at=0, left=0), fixing("r2", "started", press_id="P1", at=30, left=0)
    )
    assert without_clashes(one) == one
    assert smallest_clash(one) is not None


def test_weeks_without_fixed_runs_have_no_clash() -> None:
    """Nothing fixed, nothing to clash."""
    assert smallest_clash(week()) is None
