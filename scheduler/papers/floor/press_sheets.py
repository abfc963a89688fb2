"""The press sheet: everything one run needs, head by head, with fields for what really happened."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.plan import PlannedRun
from scheduler.domain.week import Part, Run
from scheduler.papers.floor.checks import checks_due
from scheduler.papers.floor.dryer_use import DryerUse, dryer_use
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.takedown import OffLine, coming_off
from scheduler.papers.tables import QueueRow

NO_SPARES = "NO SPARES: the client's own garments"


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadRow:
    """One line of the stack, first to last as the garment meets them.

    number: place in print order among the screens, None for a flash. head: None where a flash takes none. flash_s:
    flash seconds, None for a screen.
    """

    number: int | None
    head: int | None
    prints: str
    ink: str
    family: str
    mesh: int | None
    frame: str
    hits: int
    to_do: str
    flash_s: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class GarmentRow:
    """Garments of one lot in a run. ordered: None where nothing was typed. spares: planned beyond what was ordered."""

    garment: str
    sizes: str
    pieces: int
    ordered: int | None
    spares: int
    is_from_client: bool
    print_min: int

    @property
    def note(self) -> str:
        """What has to be known of them: whose they are, spares, or that some are printed already."""
        if self.is_from_client:
            return NO_SPARES
        if self.spares:
            return f"{self.ordered} ordered and {self.spares} spares"
        if self.ordered is not None and self.pieces < self.ordered:
            return f"{self.pieces} left of {self.ordered}"
        return ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PressSheet:
    """One run on its press. of: runs on the press in all. by_client: the client approves the first print."""

    row: QueueRow
    of: int
    mock_up: str
    note: str
    print_size: str
    garments: tuple[GarmentRow, ...]
    heads: tuple[HeadRow, ...]
    off: tuple[OffLine, ...]
    dryer: DryerUse | None
    by_client: bool
    checks: tuple[datetime, ...]


def press_sheets(ground: Ground, press_id: str) -> tuple[PressSheet, ...]:
    """A sheet for every run of a press, in the order they are set up. KeyError for an unknown press."""
    press = ground.week.press[press_id]
    rows = [row for row in ground.queue if row.press_id == press_id]
    off = coming_off(ground.week, ground.plan, press)
    if any(ground.is_waiting(row.run_id) for row in rows):
        off = {**coming_off(ground.week, ground.whole, press), **off}
    return tuple(_sheet(ground, row, len(rows), off.get(row.run_id, ())) for row in rows)


def _sheet(ground: Ground, row: QueueRow, of: int, off: tuple[OffLine, ...]) -> PressSheet:
    run, planned = ground.week.run[row.run_id], ground.whole.run[row.run_id]
    choice, imprint = ground.choice(planned), ground.imprint(run)
    defaults = ground.inputs.shop.defaults
    order = ground.order.get(run.order_id)
    notes = [one for one in (order.note if order else "", imprint.note if imprint else "") if one]
    width = (imprint and imprint.width_in) or defaults.print_width_in
    height = (imprint and imprint.height_in) or defaults.print_height_in
    return PressSheet(
        row=row,
        of=of,
        mock_up=imprint.mock_up if imprint else "",
        note="; ".join(dict.fromkeys(notes)),
        print_size=ground.units.print_size(width, height),
        garments=tuple(
            _garment(ground, part, minutes) for part, minutes in zip(run.parts, choice.part_min, strict=True)
        ),
        heads=tuple(_heads(ground, run, planned, row)),
        off=off,
        dryer=dryer_use(ground, planned),
        by_client=bool(choice.set_up_extra_min) or bool(imprint and imprint.approval_at_press),
        checks=checks_due(ground.week, ground.whole, planned),
    )


def _garment(ground: Ground, part: Part, print_min: int) -> GarmentRow:
    lot = ground.lot.get(part.lot_id)
    return GarmentRow(
        garment=part.garment,
        sizes=lot.sizes if lot else "",
        pieces=part.pieces,
        ordered=lot.pieces if lot else None,
        spares=max(0, part.pieces - lot.pieces) if lot else 0,
        is_from_client=bool(lot and lot.from_client),
        print_min=print_min,
    )


def _heads(ground: Ground, run: Run, planned: PlannedRun, row: QueueRow) -> Iterator[HeadRow]:
    """Screens in print order, each flash behind the screen it stands after."""
    stack, free = ground.choice(planned).stack, dict(row.free)
    place = next((one.flash_place for one in ground.inputs.shop.presses if one.press_id == planned.press_id), "")
    flashes = set(stack.flash_after)
    for index, (line, one) in enumerate(zip(row.heads, stack.heads, strict=True)):
        ink = ground.week.ink[one.ink_id]
        yield HeadRow(
            number=index + 1,
            head=line.head,
            prints=line.prints,
            ink=line.ink,
            family=ink.family,
            mesh=line.mesh,
            frame=line.frame,
            hits=line.hits,
            to_do=line.to_do,
        )
        following = row.heads[index + 1].head if index + 1 < len(row.heads) else None
        taken = sorted(head for head in free if head > line.head and (following is None or head < following))
        if index in flashes and not any(free[head] == "flash" for head in taken):
            yield _no_screen(None, "flash", place, ink.flash_s)
        for head in taken:
            yield _no_screen(head, free[head], "no screen here", ink.flash_s if free[head] == "flash" else None)


def _no_screen(head: int | None, what: str, to_do: str, flash_s: float | None) -> HeadRow:
    return HeadRow(
        number=None, head=head, prints=what, ink="", family="", mesh=None, frame="", hits=1, to_do=to_do,
        flash_s=flash_s,
    )  # fmt: skip
