"""What a good printer does with screens, inks and underbases in daily life."""

from __future__ import annotations

from pathlib import Path

from tests.daily_life.typed import SCREENS, automatic, burned, manual, plan, shop


def test_white_then_black_from_one_set_of_screens(tmp_path: Path) -> None:
    """Burn the one-colour design once; print white on the navy tees first, then wash white out and run black.

    The screen stays mounted between the two: black's set-up is clean white out, fill black, test print.
    """
    day = plan(
        tmp_path,
        shop(automatic(), SCREENS),
        """
        order,client,due,garment,shade,pieces,location,inks,base,design,blanks,art
        201,Gull Rowing Club,2026-03-04,white tee,light,200,front,black,no,gull oar,in,ok
        202,Marsh Football Club,2026-03-04,yellow tee,light,90,front,"red, blue",no,marsh lion,in,ok
        203,Gull Rowing Club,2026-03-04,navy tee,dark,200,front,white,no,gull oar,in,ok
        """,
    )
    queue = day.queue("auto-1")
    at = queue.index("203 front dark")
    assert queue[at + 1] == "201 front light"
    assert [run for run in queue if day.run(run).burn and "202" not in run] == ["203 front dark"]
    set_up = day.week.press["auto-1"].set_up
    assert day.run("201 front light").set_up_min == set_up.clean_light_min + set_up.load_min + set_up.strike_off_min


def test_the_light_lot_right_after_the_dark_one(tmp_path: Path) -> None:
    """Print the dark tees on their white base first; for the light ones switch the base off and print on: no minute
    lost.
    """
    day = plan(
        tmp_path,
        shop(automatic(), SCREENS),
        """
        order,client,due,garment,shade,pieces,location,inks,design,blanks,art
        211,Juniper Cycles,2026-03-05,white tee,light,120,front,"red, green",juniper wheel,in,ok
        212,Harbour Choir,2026-03-05,sand tee,light,80,front,black,choir wave,in,ok
        211,Juniper Cycles,2026-03-05,black tee,dark,150,front,"red, green",juniper wheel,in,ok
        """,
    )
    queue = day.queue("auto-1")
    at = queue.index("211 front dark")
    assert queue[at + 1] == "211 front light"
    assert day.run("211 front light").set_up_min == 0
    assert day.run("211 front light").set_up_start_tau == day.run("211 front dark").print_end_tau
    dark, light = (day.week.run[run].on_press["auto-1"].stack for run in queue[at : at + 2])
    assert [head.screen_id for head in dark.heads][1:] == [head.screen_id for head in light.heads]


def test_screens_that_hang_burned_for_a_reorder(tmp_path: Path) -> None:
    """Take the burned screens of the reorder off the wall and print it first; burn the new design meanwhile."""
    day = plan(
        tmp_path,
        shop(automatic(), SCREENS),
        """
        order,client,due,garment,shade,pieces,location,inks,design,blanks,art
        221,Oak Street Tavern,2026-03-06,white tee,light,200,front,"red, black",oak barrel,in,ok
        222,Stout Mug Brewery,2026-03-06,white tee,light,400,front,"red, black",stout mug,in,ok
        """,
        screens=burned("stout mug"),
    )
    assert day.queue("auto-1") == ["222 front light", "221 front light"]
    assert day.run("222 front light").burn is None
    assert day.mounts_at("222 front light") == "Mon 08:00"
    burn = day.run("221 front light").burn
    assert burn is not None
    assert burn.tape_end_tau <= day.run("222 front light").print_end_tau


def test_half_the_frames_are_out(tmp_path: Path) -> None:
    """Give the only coated screens to the order that leaves first, though it was typed last; reclaim what hangs this
    afternoon, coat it tonight, and burn the other order's screens in the morning.
    """
    day = plan(
        tmp_path,
        shop(
            automatic(),
            SCREENS,
            """
            [[frames]]
            size = "23x31"
            mesh = 230
            count = 4
            coated = 2
            """,
        ),
        """
        order,client,due,garment,shade,pieces,location,inks,design,blanks,art
        231,Slow Coffee Cart,2026-03-04,white tee,light,100,front,"red, black",slow cup,in,ok
        232,Night Market,2026-03-02,white tee,light,100,front,"blue, black",night lamp,in,ok
        """,
        screens="""
        design,state,frame,mesh,screens
        last summer,to reclaim,23x31,230,2
        """,
    )
    assert day.queue("auto-1") == ["232 front light", "231 front light"]
    assert day.done_at("232 front light")[:3] == "Mon"
    burn = day.run("231 front light").burn
    assert burn is not None
    assert f"{day.week.clock.starts_at(burn.start_tau):%a %H:%M}" == "Tue 08:00"
    assert day.late == []


def test_two_hits_of_white(tmp_path: Path) -> None:
    """One white screen, hit, flashed and hit again: on the manual the same screen twice, on the automatic a second trip
    round at half the rate. One screen is burned either way, and a job this size goes where it is done sooner.
    """
    sheet = """
        order,client,due,garment,shade,pieces,location,inks,design,press,blanks,art
        241,Moth Records,2026-03-05,black tee,dark,{pieces},front,white x2,moth wing,{press},in,ok
        """
    text = shop(automatic(), manual(), SCREENS)
    on_auto = plan(tmp_path, text, sheet.format(pieces=400, press=""))
    assert on_auto.queue("auto-1") == ["241 front dark"]
    assert len(on_auto.week.screen_set["moth wing"].screen_ids) == 1
    assert on_auto.print_min("241 front dark") == 400 * 60 / (400 / 2)
    by_hand = plan(tmp_path, text, sheet.format(pieces=40, press="manual"))
    (head,) = by_hand.week.run["241 front dark"].on_press["manual"].stack.heads
    assert head.hits == 2
    assert by_hand.week.run["241 front dark"].on_press["manual"].heads_needed == 1


def test_no_press_idles_for_days_because_nothing_is_urgent(tmp_path: Path) -> None:
    """Nothing hangs burned and nothing is due before Thursday: burn at once, let the screens stand their four hours and
    print on Monday afternoon; nobody waits until Wednesday because a later day costs nothing.
    """
    day = plan(
        tmp_path,
        shop(automatic(), automatic("auto-2"), SCREENS.replace('ready_ahead = "0 min"', "")),
        """
        order,client,due,garment,shade,pieces,location,inks,design,blanks,art
        251,Bee Keepers,2026-03-05,white tee,light,300,front,"red, black",bee,in,ok
        252,Moon Bakery,2026-03-05,white tee,light,300,front,"red, black",moon,in,ok
        253,Fern Yoga,2026-03-06,white tee,light,300,front,"green, black",fern,in,ok
        """,
    )
    starts = sorted(day.mounts_at(run.run_id) for run in day.plan.runs)
    assert starts[0] == "Mon 13:07"
    assert all(start.startswith("Mon") for start in starts)
    first = min(day.plan.runs, key=lambda run: run.set_up_start_tau)
    assert first.reason.startswith("its screens should stand ready 4 h before")


def test_what_hangs_burned_first_what_is_fresh_in_the_afternoon(tmp_path: Path) -> None:
    """Two designs hang, one is new: print the two this morning while the new screens dry and stand, then the
    new one.
    """
    day = plan(
        tmp_path,
        shop(automatic(), SCREENS.replace("0 min", "4 h")),
        """
        order,client,due,garment,shade,pieces,location,inks,design,blanks,art
        261,Kelp Farm,2026-03-03,white tee,light,800,front,navy,kelp,in,ok
        262,Sail Loft,2026-03-03,white tee,light,800,front,navy,sail,in,ok
        263,Tram Museum,2026-03-03,white tee,light,800,front,navy,tram,in,ok
        """,
        screens=burned("sail", "tram"),
    )
    assert day.queue("auto-1")[-1] == "261 front light"
    burn = day.run("261 front light").burn
    assert burn is not None
    assert burn.start_tau == 0
    assert day.run("261 front light").set_up_start_tau - burn.tape_end_tau >= 4 * 60 - 30
