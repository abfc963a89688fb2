"""Which press a good printer takes in daily life, and what goes on it first."""

from __future__ import annotations

from pathlib import Path

from tests.daily_life.typed import SCREENS, automatic, burned, manual, plan, shop, work


def test_a_solo_shop_flashes_over_a_pallet(tmp_path: Path) -> None:
    """Four screens on a four-colour manual: the flash swings over a pallet, so it fits and is printed, not sent out.

    A four-head automatic with its flash in a head cannot take it.
    """
    sheet = """
        order,client,due,garment,shade,pieces,location,inks,blanks,art
        301,Tide Pool Cafe,2026-03-04,navy tee,dark,60,front,"red, yellow, blue",in,ok
        """
    day = plan(tmp_path, shop(manual(), SCREENS), sheet)
    assert day.queue("manual") == ["301 front dark"]
    assert day.week.run["301 front dark"].on_press["manual"].heads_needed == 4
    refused = work(tmp_path, shop(automatic("auto", 'flash_place = "in a head"', heads=4), SCREENS), sheet).week
    (told,) = refused.not_planned
    assert "needs 5 heads: 3 inks, underbase, 1 flash" in told.reasons[0]


def test_hoodies_together_and_slower(tmp_path: Path) -> None:
    """Change to the hoodie pallets once, print both hoodie orders on them, and count on three quarters of the tees'
    rate.
    """
    day = plan(
        tmp_path,
        shop(automatic("auto-1", 'pallets = "adult, hoodie"', 'now_on = { pallet = "adult" }'), SCREENS),
        """
        order,client,due,garment,shade,pieces,location,inks,pallet,blanks,art
        311,Anchor Sailing School,2026-03-05,white hoodie,light,150,front,navy,hoodie,in,ok
        312,Bakers Row,2026-03-05,white tee,light,150,front,navy,adult,in,ok
        313,Chapel Climbing Wall,2026-03-05,white hoodie,light,150,front,navy,hoodie,in,ok
        314,Dock Street Runners,2026-03-05,white tee,light,150,front,navy,adult,in,ok
        """,
    )
    pallets = [day.week.run[run].on_press["auto-1"].stack.pallet for run in day.queue("auto-1")]
    assert pallets == ["adult", "adult", "hoodie", "hoodie"]
    assert day.print_min("312 front light") == 23  # 150 at 400 an hour
    assert day.print_min("311 front light") == 30  # 150 at 300 an hour


def test_a_dozen_pieces_go_to_the_manual(tmp_path: Path) -> None:
    """Twelve tees in four colours: mount them on the manual, where a screen is up in two minutes and one person is
    busy, while the automatic takes the 900 that must leave tonight. With their screens still up on the automatic, run
    them there at once.
    """
    dear = 'set_up = { mount = "10 min" }'
    crews = 'set_up_crew = "print 2"'
    quick = 'set_up = { mount = "2 min" }'
    sheet = """
        order,client,due,garment,shade,pieces,location,inks,design,blanks,art
        321,Paper Lantern,2026-03-06,white tee,light,12,front,"red, yellow, blue, black",lantern,in,ok
        322,Harbour Fair,2026-03-02,white tee,light,900,front,black,fair,in,ok
        """
    hang = burned("lantern", "fair")
    day = plan(tmp_path, shop(automatic("auto-1", dear, crews), manual("manual", quick), SCREENS), sheet, screens=hang)
    assert day.queue("manual") == ["321 front light"]
    assert day.queue("auto-1") == ["322 front light"]
    up = 'now_on = { design = "lantern", inks = "red, yellow, blue, black" }'
    day = plan(
        tmp_path, shop(automatic("auto-1", dear, crews, up), manual("manual", quick), SCREENS), sheet, screens=hang
    )
    assert day.queue("auto-1")[0] == "321 front light"
    assert day.run("321 front light").set_up_min == 0


def test_approval_at_the_press(tmp_path: Path) -> None:
    """The client comes to approve the strike-off, a quarter of an hour of standing press: first print the order that
    leaves at nine, then mount the one to be approved.
    """
    day = plan(
        tmp_path,
        shop(automatic(), SCREENS),
        """
        order,client,due,garment,shade,pieces,location,inks,design,approval,blanks,art
        331,Opera in the Park,2026-03-03,white tee,light,200,front,black,aria,yes,in,ok
        332,Morning Swimmers,2026-03-02 09:00,white tee,light,200,front,black,wave,no,in,ok
        """,
        screens=burned("aria", "wave"),
    )
    assert day.queue("auto-1") == ["332 front light", "331 front light"]
    assert day.packed_at("332") == "Mon 08:44"
    set_up = day.week.press["auto-1"].set_up
    assert day.run("331 front light").set_up_min == set_up.mount_min + set_up.card_min + set_up.strike_off_min + 15
    assert day.late == []


def test_a_started_run_stays(tmp_path: Path) -> None:
    """Half printed stays up: the firm rush waits the quarter of an hour until the last piece, whatever it costs."""
    day = plan(
        tmp_path,
        shop(automatic(), SCREENS),
        """
        order,client,due,garment,shade,pieces,location,inks,design,firm,blanks,art
        341,Mill Bakery,2026-03-06,white tee,light,400,front,black,loaf,easy,in,ok
        342,Gig Tonight,2026-03-02 08:40,white tee,light,100,front,black,gig,firm,in,ok
        """,
        screens=burned("gig"),
        progress="""
        order,location,press,started,left,set_up_left
        341,front,auto-1,2026-03-02 07:10,200,0 min
        """,
    )
    assert day.queue("auto-1") == ["341 front light", "342 front light"]
    assert day.prints_at("341 front light") == "Mon 08:00"
    assert day.mounts_at("342 front light") == day.done_at("341 front light") == "Mon 08:30"
    assert day.late == ["342"]


def test_a_reprint_after_a_count(tmp_path: Path) -> None:
    """Six short in Friday's count, their screens and ink still up: run the six before anything comes off the press,
    though another order leaves sooner; no screen is burned or mounted for them.
    """
    day = plan(
        tmp_path,
        shop(automatic("auto-1", 'now_on = { design = "keel crest", inks = "red, black" }'), SCREENS),
        """
        order,client,due,garment,shade,pieces,location,inks,design,blanks,art
        351,River Regatta,2026-03-02 12:00,white tee,light,300,front,"green, blue",regatta,in,ok
        340R,Keel Rowing Club,2026-03-04,white tee,light,6,front,"red, black",keel crest,in,ok
        """,
        screens=burned("regatta"),
    )
    assert day.queue("auto-1") == ["340R front light", "351 front light"]
    reprint = day.run("340R front light")
    assert (reprint.set_up_min, reprint.burn) == (0, None)
    assert day.mounts_at("340R front light") == "Mon 08:00"
    assert day.late == []
