"""One lead over two presses: a small shop's week, with the decision a good printer takes."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.daily_life.typed import SCREENS, Day, automatic, burned, plan, shop

CREWS = ('set_up_crew = "print 1"', 'run_crew = "print 1, lead 1"')
PEOPLE = """
    [[person]]
    id = "lea"
    roles = "lead"
    [[person]]
    id = "ana"
    roles = "print"
    [[person]]
    id = "ben"
    roles = "print"
    """
ORDERS = """
    order,client,due,garment,shade,pieces,location,inks,design,blanks,art
    451,Harbour Choir,2026-03-02,white tee,light,1200,front,black,choir,in,ok
    452,Mill Race,2026-03-02,white tee,light,1200,front,black,race,in,ok
    """


def led(folder: Path, lead_covers: int) -> Day:
    """Two automatics that both ask for a lead while they print, one lead, and three hours of printing for each."""
    text = shop(
        automatic("auto-1", *CREWS), automatic("auto-2", *CREWS), SCREENS, PEOPLE,
        f"[people]\nlead_covers = {lead_covers}",
    )  # fmt: skip
    return plan(folder, text, ORDERS, screens=burned("choir", "race"))


@pytest.mark.parametrize("lead_covers", [1, 2])
def test_one_lead_over_two_presses(tmp_path: Path, lead_covers: int) -> None:
    """A lead who may watch two presses has both print in the morning, and stands in the roster at both by name; one who
    may watch a single press leaves the second set up and waiting until the first is done.
    """
    day = led(tmp_path, lead_covers)
    prints = sorted((day.prints_at(run), day.done_at(run)) for run in ("451 front light", "452 front light"))
    if lead_covers == 2:
        assert prints == [("Mon 08:13", "Mon 11:13")] * 2
        assert "lea" in day.who("auto-1", 9, 0)
        assert "lea" in day.who("auto-2", 9, 0)
    else:
        assert [start[:3] for start, _ in prints] == ["Mon", "Mon"]
        assert prints[1][0] >= prints[0][1]
    assert day.late == []
