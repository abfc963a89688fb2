"""What is pulled for the presses: garments by the moment they are needed, frames by size and mesh day by day."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby

from scheduler.domain.week import Run
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.press_sheets import NO_SPARES
from scheduler.papers.floor.sheet import Sheet, Table
from scheduler.papers.words import day_and_time, long_day


@dataclass(frozen=True, slots=True, kw_only=True)
class Pull:
    """Garments of one lot, pulled once: for its first print, or for a station it goes to before."""

    pull_at: datetime
    order_id: str
    client: str
    garment: str
    sizes: str
    pieces: int
    goes_to: str
    to_know: str


def pulls(ground: Ground) -> tuple[Pull, ...]:
    """Every lot of the plan that no press has begun on, first needed first."""
    first: dict[str, tuple[int, Run]] = {}
    begun: set[str] = set()
    for planned in ground.plan.runs:
        run = ground.week.run[planned.run_id]
        fixing = ground.week.fixing.get(run.run_id)
        if fixing is not None and fixing.kind == "started":
            begun |= run.lot_ids
        at = min(planned.stage_start_tau, planned.set_up_start_tau)
        for part in run.parts:
            if part.lot_id not in first or at < first[part.lot_id][0]:
                first[part.lot_id] = at, run
    found = [_pull(ground, lot_id, at, run) for lot_id, (at, run) in first.items() if lot_id not in begun]
    return tuple(sorted(found, key=lambda pull: (pull.pull_at, pull.order_id, pull.garment)))


def _pull(ground: Ground, lot_id: str, at: int, run: Run) -> Pull:
    part = next(part for part in run.parts if part.lot_id == lot_id)
    lot, order = ground.lot.get(lot_id), ground.week.order[run.order_id]
    goes_to = f"{ground.week.press[ground.plan.run[run.run_id].press_id].name}, {run.location}"
    for step, visit in zip(order.stations, ground.plan.order[run.order_id].stations, strict=False):
        if step.is_before and visit.start_tau < at:
            at, goes_to = visit.start_tau, ground.week.station[visit.station_id].name
    told = []
    if lot is not None and lot.from_client:
        told.append(NO_SPARES)
    elif lot is not None and part.pieces > lot.pieces:
        told.append(f"{lot.pieces} ordered and {part.pieces - lot.pieces} spares")
    if lot is not None and lot.blanks_at is not None and lot.blanks_at > ground.week.clock.now:
        told.append(f"expected {day_and_time(lot.blanks_at).removesuffix(' 00:00')}")
    return Pull(
        pull_at=ground.week.clock.starts_at(at),
        order_id=run.order_id,
        client=order.client,
        garment=part.garment,
        sizes=lot.sizes if lot else "",
        pieces=part.pieces,
        goes_to=goes_to,
        to_know="\n".join(told),
    )


def garment_sheets(ground: Ground) -> tuple[Sheet, ...]:
    """Garments to pull, a table for each day."""
    tables = tuple(
        Table(
            kind="garments",
            title=long_day(datetime(day.year, day.month, day.day)),
            headings=("pull by", "order", "garment", "sizes", "pieces", "goes to", "to know"),
            rows=tuple(
                (
                    f"{one.pull_at:%H:%M}",
                    f"{one.order_id}\n{one.client}",
                    one.garment,
                    one.sizes,
                    one.pieces,
                    one.goes_to,
                    one.to_know,
                )
                for one in own
            ),
            widths=((0, 16), (1, 40), (4, 16), (5, 28), (6, 24)),
            right=frozenset({4}),
            bold=frozenset({0, 4}),
            blanks=(("pulled", 15),),
        )
        for day, own in groupby(pulls(ground), key=lambda one: one.pull_at.date())
    )
    return (Sheet(title="Garments to pull", tables=tables),) if tables else ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameDay:
    """Frames of one size and mesh on one day: taken to be burned, coated, come back; and how many are left by night."""

    day: date
    class_id: str
    name: str
    burned: int
    coated: int
    reclaimed: int
    coated_left: int
    clean_left: int


def frame_days(ground: Ground) -> tuple[FrameDay, ...]:
    """Frames on days on which any are moved. What is coated counts that night, though it dries until morning."""
    burned, coated, reclaimed = (dict(_counted(moves)) for moves in (_burned(ground), _coated(ground), _back(ground)))
    found = []
    for stock in ground.week.frames:
        on, clean = stock.coated_now, stock.clean_now
        for day in sorted({day for day, _ in (*burned, *coated, *reclaimed)}):
            key = day, stock.class_id
            moved = burned.get(key, 0), coated.get(key, 0), reclaimed.get(key, 0)
            on += moved[1] - moved[0]
            clean += moved[2] - moved[1]
            if any(moved):
                found.append(
                    FrameDay(
                        day=day, class_id=stock.class_id, name=stock.name, burned=moved[0], coated=moved[1],
                        reclaimed=moved[2], coated_left=on, clean_left=clean,
                    )
                )  # fmt: skip
    return tuple(sorted(found, key=lambda one: (one.day, one.name)))


Moves = Iterator[tuple[tuple[date, str], int]]
"""((day, frame class), frames), several for one day."""


def _counted(moves: Moves) -> dict[tuple[date, str], int]:
    found: dict[tuple[date, str], int] = {}
    for key, count in moves:
        found[key] = found.get(key, 0) + count
    return found


def _burned(ground: Ground) -> Moves:
    for planned in ground.plan.runs:
        run = ground.week.run[planned.run_id]
        if planned.burn is not None and run.set_id is not None:
            day = ground.week.clock.starts_at(planned.burn.start_tau).date()
            for class_id, count in ground.week.screen_set[run.set_id].frames:
                yield (day, class_id), count


def _coated(ground: Ground) -> Moves:
    room = ground.week.screen_room
    starts = {window.window_id: window.start_tau for window in room.coat_windows} if room else {}
    for batch in ground.plan.coat_batches:
        yield (ground.week.clock.starts_at(starts[batch.window_id]).date(), batch.class_id), batch.count


def _back(ground: Ground) -> Moves:
    room = ground.week.screen_room
    starts = {block.block_id: block.start_tau for block in room.reclaim_blocks} if room else {}
    for block_id, class_id, count in ground.week.early_reclaims:
        yield (ground.week.clock.starts_at(starts[block_id]).date(), class_id), count
    for reclaim in ground.plan.reclaims:
        day = ground.week.clock.starts_at(starts[reclaim.block_id]).date()
        for class_id, count in ground.week.screen_set[reclaim.set_id].frames:
            yield (day, class_id), count


def frame_sheets(ground: Ground) -> tuple[Sheet, ...]:
    """Frames by size and mesh, day by day."""
    days = frame_days(ground)
    if not days:
        return ()
    stock = tuple((one.name, one.coated_now, one.clean_now) for one in ground.week.frames)
    return (
        Sheet(
            title="Frames by size and mesh",
            said=("Coated left and clean left are counted at the end of the day; what was coated dries overnight.",),
            tables=(
                Table(
                    kind="frames now",
                    title=f"Now, {day_and_time(ground.week.clock.now)}",
                    headings=("frames", "coated and ready", "clean"),
                    rows=stock,
                    right=frozenset({1, 2}),
                    has_box=False,
                    blanks=(("counted", 30),),
                ),
                *(
                    Table(
                        kind="frames by day",
                        title=long_day(datetime(day.year, day.month, day.day)),
                        headings=("frames", "burn", "coat", "back from reclaiming", "coated left", "clean left"),
                        rows=tuple(
                            (one.name, one.burned, one.coated, one.reclaimed, one.coated_left, one.clean_left)
                            for one in own
                        ),
                        right=frozenset({1, 2, 3, 4, 5}),
                        bold=frozenset({1, 2}),
                    )
                    for day, own in groupby(days, key=lambda one: one.day)
                ),
            ),
        ),
    )
