"""An order on hold for its art: pencilled in behind the firm ones, with the last moment for the client's yes."""

from __future__ import annotations

from pathlib import Path

from scheduler import api
from tests.daily_life.typed import SCREENS, Day, automatic, plan, shop

FRAMES = """
    [[frames]]
    size = "23x31"
    mesh = 230
    count = 40
    coated = 20
    """
ORDERS = """
    order,client,due,garment,shade,pieces,location,inks,design,blanks,art
    471,Weir Bakery,2026-03-03,white tee,light,1200,front,black,weir,in,ok
    472,Quay Dance,2026-03-04,white tee,light,800,front,red,quay,in,{art}
    """


def week(folder: Path, art: str) -> Day:
    """Two orders on one automatic; the second one's art is in, comes at a moment, or nobody knows when it comes."""
    folder.mkdir(exist_ok=True)
    return plan(folder, shop(automatic(), SCREENS, FRAMES), ORDERS.format(art=art))


def test_hold_for_art(tmp_path: Path) -> None:
    """The order that waits is neither planned as if its art were there nor left out: it is pencilled in on Wednesday,
    the firm order keeps its Monday, and a yes by the minute told keeps the date, one a minute later loses it.
    """
    day = week(tmp_path / "held", "?")
    assert day.queue("auto-1") == ["471 front light"]
    pencilled = api.pencil_in(api.read_week(tmp_path / "held"), day.week, day.plan).pencilled
    assert [one.run_id for one in pencilled.runs] == ["472 front light"]
    (yes,) = pencilled.yes
    assert (yes.order_id, yes.missed, yes.is_proven) == ("472", 0, True)
    assert yes.latest_tau is not None
    clock = day.week.clock
    by = clock.starts_at(yes.latest_tau)
    assert f"{by:%a}" == "Wed"
    on_time = week(tmp_path / "on time", f"{by:%Y-%m-%d %H:%M}")
    assert on_time.late == []
    assert on_time.prints_at("471 front light") == day.prints_at("471 front light")
    after = clock.starts_at(yes.latest_tau + 1)
    assert week(tmp_path / "late", f"{after:%Y-%m-%d %H:%M}").late == ["472"]
