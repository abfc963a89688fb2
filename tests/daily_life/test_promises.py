"""What a good printer does about dates, carriers, clients' goods and hours in daily life."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.daily_life.typed import SCREENS, automatic, burned, manual, plan, shop, work

PARCELS = """
    [[carrier]]
    name = "Parcel Run"
    days = "mon-fri"
    pick_up = "16:00"

    [[carrier]]
    name = "Coast Freight"
    days = "tue, fri"
    pick_up = "16:00"
    """


def test_goods_from_the_client_have_no_spares(tmp_path: Path) -> None:
    """Of the shop's own tees print 103 for 100 at two per cent; of the hundred the client brought there are only a
    hundred.
    """
    week = work(
        tmp_path,
        shop(automatic(), SCREENS, defaults='spare = "2 %"'),
        """
        order,client,due,garment,shade,pieces,location,inks,from_client,blanks,art
        401,Summit Guides,2026-03-05,white tee,light,100,front,navy,no,in,ok
        402,Summit Guides,2026-03-05,white fleece,light,100,front,navy,yes,in,ok
        """,
    ).week
    assert week.run["401 front light"].pieces == 103
    assert week.run["402 front light"].pieces == 100


def test_the_neck_before_the_body(tmp_path: Path) -> None:
    """Print the neck label first, on the small press, and the front once it is cured: a printed front is not laid under
    a neck platen.
    """
    day = plan(
        tmp_path,
        shop(automatic(), manual("small", rate="90/h"), SCREENS),
        """
        order,client,due,garment,shade,pieces,location,inks,press,print_after,blanks,art
        411,Linen & Loaf,2026-03-05,white tee,light,180,front,"red, black",auto-1,neck,in,ok
        411,Linen & Loaf,2026-03-05,white tee,light,180,neck,black,small,,in,ok
        412,Quarry Band,2026-03-05,white tee,light,180,front,"red, black",auto-1,,in,ok
        """,
    )
    cured_tau = day.run("411 neck light").print_end_tau + day.week.run["411 neck light"].cure_min
    assert day.run("411 front light").print_start_tau >= cured_tau
    assert day.queue("auto-1") == ["412 front light", "411 front light"]
    assert day.queue("small") == ["411 neck light"]


def test_two_carriers_with_different_days(tmp_path: Path) -> None:
    """Both are due on Thursday, but the freight comes on Tuesday and Friday only: its order is printed by Tuesday, the
    parcels go out on Wednesday.
    """
    day = plan(
        tmp_path,
        shop(automatic(), SCREENS, PARCELS),
        """
        order,client,due,garment,shade,pieces,location,inks,design,carrier,blanks,art
        421,North Shop,2026-03-05,white tee,light,3500,front,black,north,Parcel Run,in,ok
        422,South Shop,2026-03-05,white tee,light,3500,front,black,south,Coast Freight,in,ok
        """,
        screens=burned("north", "south"),
    )
    assert day.queue("auto-1") == ["422 front light", "421 front light"]
    assert day.packed_at("422") < "Tue 16:00"
    assert day.packed_at("422")[:3] in ("Mon", "Tue")
    assert day.late == []


@pytest.mark.parametrize(("firm", "is_bought"), [("firm", True), ("easy", False)])
def test_saturday_at_a_price(tmp_path: Path, firm: str, is_bought: bool) -> None:
    """The week is full and the last order must leave on Monday at opening. Saturday costs 150: open up for a firm
    order, whose late day costs 400; let an easy one, at 50, leave a day late.
    """
    day = plan(
        tmp_path,
        shop(
            automatic(),
            SCREENS,
            """
            [[overtime]]
            day = "2026-03-07"
            from = "08:00"
            to = "13:00"
            price = 150
            """,
        ),
        f"""
        order,client,due,garment,shade,pieces,location,inks,design,firm,blanks,art
        431,Stadium Shop,2026-03-06,white tee,light,15400,front,black,stadium,firm,in,ok
        432,Monday Market,2026-03-09 08:30,white tee,light,1200,front,black,market,{firm},in,ok
        """,
        screens=burned("stadium", "market"),
    )
    assert bool(day.plan.overtime) is is_bought
    assert day.late == ([] if is_bought else ["432"])
    assert day.packed_at("432")[:3] == ("Sat" if is_bought else "Mon")


@pytest.mark.parametrize("has_ben", [True, False])
def test_lunch_is_covered(tmp_path: Path, has_ben: bool) -> None:
    """Breaks are staggered, so the press runs through lunch with Ben on it; on a day without him it stands half an hour
    and is started up again.
    """
    ana = """
        [[person]]
        id = "ana"
        roles = "print"
        [person.hours]
        mon-fri = "08:00-12:00, 12:30-16:00"
        """
    ben = """
        [[person]]
        id = "ben"
        roles = "print"
        [person.hours]
        mon-fri = "08:00-11:30, 12:00-16:00"
        """
    day = plan(
        tmp_path,
        shop(automatic(), SCREENS, ana, ben if has_ben else ""),
        """
        order,client,due,garment,shade,pieces,location,inks,design,blanks,art
        441,Lighthouse Tours,2026-03-02,white tee,light,2400,front,black,beam,in,ok
        """,
        screens=burned("beam"),
    )
    assert day.prints_at("441 front light") == "Mon 08:13"
    assert day.done_at("441 front light") == ("Mon 14:13" if has_ben else "Mon 14:45")
    if has_ben:
        assert day.who("auto-1", 12, 10) == ["ben"]
        assert day.who("auto-1", 11, 45) == ["ana"]


@pytest.mark.parametrize(("sets", "is_at_once"), [("1", False), ("2", True)])
def test_a_thousand_split_600_and_400(tmp_path: Path, sets: str, is_at_once: bool) -> None:
    """Split by the planner. With one set of screens the 400 follow the 600; with a second set burned for it both
    presses print at once, and the order is out in the morning.
    """
    day = plan(
        tmp_path,
        shop(automatic(), automatic("auto-2"), SCREENS),
        f"""
        order,client,due,garment,shade,pieces,location,inks,split,split_sets,design,blanks,art
        451,Marathon Office,2026-03-02 12:00,white tee,light,1000,front,"red, black",600+400,{sets},marathon,in,ok
        """,
    )
    large, small = sorted(day.plan.runs, key=lambda run: -day.week.run[run.run_id].pieces)
    assert [day.week.run[run.run_id].pieces for run in (large, small)] == [600, 400]
    together = min(large.print_end_tau, small.print_end_tau) - max(large.print_start_tau, small.print_start_tau)
    assert (together > 0) is is_at_once
    assert len([run for run in day.plan.runs if run.burn]) == int(sets)
    assert (large.press_id != small.press_id) is is_at_once
    assert day.late == []


def test_names_on_the_heat_press_after_printing(tmp_path: Path) -> None:
    """A hundred and fifty names take the heat press five hours: print the team's tees first, though the other order is
    the bigger and leaves two hours sooner, and press names while that one prints.
    """
    day = plan(
        tmp_path,
        shop(automatic(), SCREENS, '[[stations]]\nname = "heat press"\nrate = "30/h"'),
        """
        order,client,due,garment,shade,pieces,location,inks,design,after,blanks,art
        461,Harbour Ferry,2026-03-02 14:00,white tee,light,1200,front,black,ferry,,in,ok
        462,Girls United,2026-03-02 16:00,white tee,light,150,back,red,united,heat press,in,ok
        """,
        screens=burned("ferry", "united"),
    )
    assert day.queue("auto-1") == ["462 back light", "461 front light"]
    (visit,) = day.plan.order["462"].stations
    cured_tau = day.run("462 back light").print_end_tau + day.week.run["462 back light"].cure_min
    assert visit.start_tau == cured_tau
    assert visit.end_tau - visit.start_tau == 5 * 60
    assert day.late == []
