"""The press sheets of a press as one file, a sheet for each run."""

from __future__ import annotations

from scheduler.papers.cautions import press_cautions
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.html import render
from scheduler.papers.floor.press_sheets import press_sheets


def press_sheets_page(ground: Ground, press_id: str) -> str:
    """Every run of a press on a sheet of its own, cautions on each."""
    sheets = press_sheets(ground, press_id)
    stacks = {sheet.row.run_id: ground.choice(ground.whole.run[sheet.row.run_id]).stack for sheet in sheets}
    return render(
        "floor_press.html",
        ground,
        title=ground.week.press[press_id].name,
        sheets=sheets,
        cautions={run_id: press_cautions([stack], ground.week.ink) for run_id, stack in stacks.items()},
    )
