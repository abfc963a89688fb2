"""What a good printer does about a deposit that is not paid yet: the place is kept in pencil, and nothing is begun."""

from __future__ import annotations

from pathlib import Path

from scheduler import api
from tests.daily_life.typed import Day, automatic, plan, shop

ROOM = """
    [screen_room]
    crew = "none"
    ready_ahead = "0 min"
    """


def _day(folder: Path, deposit: str) -> Day:
    """A week with a firm order, and one whose deposit is as given."""
    return plan(
        folder,
        shop(automatic(), ROOM),
        f"""
        order,client,due,garment,shade,pieces,location,inks,blanks,art,deposit
        901,Birch Street Bakery,2026-03-03,white tee,light,120,front,red,in,ok,
        902,Two Bridges Band,2026-03-06,white tee,light,200,front,blue,in,ok,{deposit}
        """,
    )


def test_an_unpaid_order_is_pencilled_in(tmp_path: Path) -> None:
    """Nothing of it is burned or staged; its place is as late as keeps Friday, and the client is rung for the money."""
    day = _day(tmp_path, "?")
    assert [one.run_id for one in day.plan.runs] == ["901 front light"]
    (waits,) = day.week.not_planned
    assert (waits.order_id, waits.reasons) == ("902", ("waiting for the deposit",))
    inputs = api.read_week(tmp_path)
    pencilled = api.pencil_in(inputs, day.week, day.plan, seconds=2)
    (run,) = pencilled.pencilled.runs
    (yes,) = pencilled.pencilled.yes
    assert run.burn is not None
    assert yes.latest_tau == run.burn.start_tau  # the burn comes first: a minute later nothing may begin in time
    assert not yes.missed
    (row,) = api.chase_list(inputs, day.week, pencilled)
    assert (row.order_id, row.missing, row.ring) == ("902", "deposit", "client")
    assert row.latest_at == day.week.clock.starts_at(yes.latest_tau)


def test_a_deposit_that_comes_on_a_day_is_waited_for(tmp_path: Path) -> None:
    """Promised for Wednesday, the order is planned, its screens not burned before, and the call is on the list."""
    day = _day(tmp_path, "2026-03-04")
    burn = day.run("902 front light").burn
    assert burn is not None
    assert f"{day.week.clock.starts_at(burn.start_tau):%a %H:%M}" == "Wed 08:00"
    assert day.late == []
    (row,) = api.chase_list(api.read_week(tmp_path), day.week, day.plan)
    assert (row.order_id, row.missing) == ("902", "deposit")


def test_a_paid_deposit_and_none_asked_for_are_alike(tmp_path: Path) -> None:
    """Paid, ok, in and an empty cell let the order through at once."""
    for number, told in enumerate(("ok", "paid", "in", "")):
        folder = tmp_path / str(number)
        folder.mkdir()
        day = _day(folder, told)
        assert sorted(one.run_id for one in day.plan.runs) == ["901 front light", "902 front light"]
        assert api.chase_list(api.read_week(folder), day.week, day.plan) == ()
