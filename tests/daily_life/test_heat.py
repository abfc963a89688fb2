"""What a good printer does about dryers, belts and flashes in daily life."""

from __future__ import annotations

from pathlib import Path

import pytest

from scheduler.errors import InputError
from tests.daily_life.typed import SCREENS, automatic, burned, plan, shop, work


def dryer(*lines: str, heated: str = "12 ft", belt: str = "48 in") -> str:
    """One dryer, "long", and these lines more."""
    return "\n".join(["[[dryer]]", 'id = "long"', f'heated = "{heated}"', f'belt = "{belt}"', *lines])


def test_mount_while_the_dryer_warms_up(tmp_path: Path) -> None:
    """Switch the dryer on at eight and mount screens while it heats: set-up from eight, first piece when it is hot at
    half past. Over lunch it stays on; overnight it is off, so the run prints on at half past eight the next day.
    """
    day = plan(
        tmp_path,
        shop(
            automatic("auto-1", 'dryer = "long"'),
            dryer('warm_up = "30 min"'),
            SCREENS,
            hours="08:00-12:00, 12:30-16:30",
        ),
        """
        order,client,due,garment,shade,pieces,location,inks,design,blanks,art
        501,Ferry Line,2026-03-03,white tee,light,3600,front,"red, black",ferry,in,ok
        """,
        screens=burned("ferry"),
    )
    assert day.mounts_at("501 front light") == "Mon 08:00"
    assert day.run("501 front light").set_up_end_tau == 20
    assert day.prints_at("501 front light") == "Mon 08:30"
    # 9 h at 400 an hour: 7.5 h less 2 min of restart after lunch on Monday; on Tuesday 8 min of restart from 08:30 on.
    assert day.done_at("501 front light") == "Tue 10:10"


def test_one_flash_on_wheels_for_two_presses(tmp_path: Path) -> None:
    """Both dark jobs need the flash: print the one that leaves first with it, and run the light job on the other press
    meanwhile; then roll the flash over.
    """
    day = plan(
        tmp_path,
        shop(
            automatic("auto-1", 'flash_pool = "wheels"'),
            automatic("auto-2", 'flash_pool = "wheels"'),
            '[[flash_pool]]\nid = "wheels"\nunits = 1',
            SCREENS,
        ),
        """
        order,client,due,garment,shade,pieces,location,inks,design,press,blanks,art
        511,Night Bus,2026-03-04,black tee,dark,600,front,red,bus,auto-2,in,ok
        512,Day Trip,2026-03-04,white tee,light,600,front,black,trip,auto-2,in,ok
        513,Late Train,2026-03-02 11:00,navy tee,dark,600,front,red,train,auto-1,in,ok
        """,
        screens=burned("bus", "trip", "train"),
    )
    assert day.queue("auto-2") == ["512 front light", "511 front dark"]
    assert day.mounts_at("512 front light") == day.mounts_at("513 front dark") == "Mon 08:00"
    assert day.run("511 front dark").set_up_start_tau >= day.run("513 front dark").print_end_tau
    assert day.late == []


def test_half_speed_beside_the_big_run_rather_than_after_it(tmp_path: Path) -> None:
    """One belt cannot take both presses at full speed. The 200 must leave at half past ten, and so must the 800 beside
    them: print the 200 at half speed while the big run goes on, instead of one after the other.
    """
    day = plan(
        tmp_path,
        shop(
            automatic("auto-1", 'dryer = "long"'),
            automatic("auto-2", 'dryer = "long"'),
            dryer(heated="16 ft", belt="24 in"),  # 640 an hour at a minute in the tunnel
            SCREENS,
        ),
        """
        order,client,due,garment,shade,pieces,location,inks,design,press,blanks,art
        521,Salt Works,2026-03-02 10:30,white tee,light,800,front,black,salt,auto-1,in,ok
        522,Rope Yard,2026-03-02 10:30,white tee,light,200,front,black,rope,auto-2,in,ok
        """,
        screens=burned("salt", "rope"),
    )
    assert day.print_min("521 front light") == 120
    assert day.print_min("522 front light") == 60
    assert day.prints_at("521 front light") == day.prints_at("522 front light") == "Mon 08:13"
    assert day.late == []


POLYESTER = """
    order,client,due,garment,shade,pieces,location,inks,family,blanks,art
    531,Hill Runners,2026-03-04,white polyester tee,light,300,front,black,{family},in,ok
    532,Hill Library,2026-03-04,white tee,light,300,front,black,plastisol,in,ok
    """


def test_polyester_is_printed_with_a_low_cure_ink(tmp_path: Path) -> None:
    """Running tees of polyester: low-cure ink, printed like any other. Standard plastisol would cure hotter than the
    fabric stands, so that row goes back to whoever wrote the order, and nothing is planned on it.
    """
    text = shop(automatic("auto-1", 'dryer = "long"'), dryer(), SCREENS)
    day = plan(tmp_path, text, POLYESTER.format(family="low-cure"))
    assert day.done_at("531 front light")[:3] == "Mon"
    (ink_id,) = [head.ink_id for head in day.week.run["531 front light"].on_press["auto-1"].stack.heads]
    assert day.week.ink[ink_id].family == "low-cure plastisol"
    with pytest.raises(InputError) as refused:
        work(tmp_path, text, POLYESTER.format(family="plastisol"))
    (told,) = refused.value.problems
    assert (told.code, told.row) == ("too_hot", 2)
    assert "white polyester tee stands at most" in told.message
    assert "low-cure ink" in (told.hint or "")
