"""What a good printer does about inks that dry and inks that go off in daily life."""

from __future__ import annotations

from pathlib import Path

from tests.daily_life.typed import SCREENS, automatic, burned, plan, shop


def test_two_thousand_water_based_over_two_days(tmp_path: Path) -> None:
    """Ten hours of printing in an eight hour day: print, rinse the screen out before going home, ink it again in the
    morning and print on. It is not sent away because it does not fit one day.
    """
    day = plan(
        tmp_path,
        shop(automatic(rate="200/h"), SCREENS),
        """
        order,client,due,garment,shade,pieces,location,inks,family,design,blanks,art
        601,Blue Whale Aquarium,2026-03-05,natural tee,light,2000,front,royal,water-based,whale,in,ok
        """,
        screens=burned("whale"),
    )
    press = day.week.press["auto-1"]
    rinse_min, ink_min, night_min = press.set_up.clean_dark_min, press.set_up.load_min, 8
    assert day.prints_at("601 front light") == "Mon 08:13"
    assert day.print_min("601 front light") == 2000 * 60 // 200 + rinse_min + ink_min + night_min + rinse_min
    assert day.done_at("601 front light") == "Tue 10:33"
    assert day.late == []


def test_a_print_of_one_long_day_takes_the_first_day_that_holds_it(tmp_path: Path) -> None:
    """Started on Monday at eight it would have to be rinsed out overnight; Tuesday holds it whole, and nobody waits for
    Wednesday.
    """
    day = plan(
        tmp_path,
        shop(automatic(rate="200/h"), SCREENS, hours="06:00-20:00"),
        """
        order,client,due,garment,shade,pieces,location,inks,family,design,blanks,art
        602,Quarry Lane Skate Park,2026-03-05,black tee,dark,2500,front,sand,water-based,skate,in,ok
        """,
        screens=burned("skate"),
    )
    assert day.mounts_at("602 front dark") == "Tue 06:00"
    assert day.done_at("602 front dark") == "Tue 18:46"
    assert day.late == []
