"""What a good printer does about a rush order in daily life."""

from __future__ import annotations

from pathlib import Path

from tests.daily_life.typed import SCREENS, Day, automatic, burned, plan, shop


def test_a_rush_fits_into_the_room_kept_free(tmp_path: Path) -> None:
    """The last three quarters of an hour of each day are nobody's: the week's work stops at a quarter past three. At
    noon a client wants a hundred by tonight: they go into those minutes today, and the other orders keep their days.
    """
    text = shop(automatic(), SCREENS, kept_free_min=45)
    sheet = """
        order,client,due,garment,shade,pieces,location,inks,design,lock_press,lock_at,blanks,art
        701,Quay Hotel,2026-03-03,white tee,light,2700,front,black,quay,,,in,ok
        702,Pier Arcade,2026-03-04,white tee,light,2400,front,black,pier,,,in,ok
        """
    rush = "703,Wedding,2026-03-02 16:00,white tee,light,100,front,black,wedding,auto-1,2026-03-02 15:15,in,ok\n"
    hang = burned("quay", "pier", "wedding")
    before = plan(tmp_path, text, sheet, screens=hang)
    assert last_open_minute(before) == "15:15"
    assert before.late == []
    after = plan(tmp_path, text, sheet.rstrip() + "\n        " + rush, screens=hang)
    assert after.mounts_at("703 front light") == "Mon 15:15"
    assert after.packed_at("703")[:3] == "Mon"
    assert after.late == []
    for order_id in ("701", "702"):
        assert after.packed_at(order_id)[:3] == before.packed_at(order_id)[:3]


def last_open_minute(day: Day) -> str:
    """When planned work on the press ends each day: the same clock time on all of them."""
    ends = {f"{day.week.clock.ends_at(one.end_tau):%H:%M}" for one in day.week.press["auto-1"].calendar.windows}
    (only,) = ends
    return only
