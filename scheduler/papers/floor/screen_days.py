"""The screen room's sheet for a night and the morning after it, handed over by mid-afternoon.

Screens for the next morning are finished before the room goes home: what it must have ready to noon next day is made
by its closing ("Staging Garment-Printing Jobs", Screen Printing, January 2013). So a sheet reaches from one hand-over
to the next, and says tonight's work apart from the morning's.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from scheduler.domain.plan import PlannedRun
from scheduler.papers.cautions import screen_room_cautions
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.sheet import Cell, Sheet, Table
from scheduler.papers.screen_tables import ScreenRow, screen_rows
from scheduler.papers.tables import staging_rows
from scheduler.papers.words import DAYS, counted, day_and_time, listed, until

MIDNIGHT = 1440


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """From one hand-over to the next: what starts in [from_at, to_at) stands on one sheet."""

    from_at: datetime
    to_at: datetime

    def has(self, at: datetime) -> bool:
        """True if something that starts then belongs here."""
        return self.from_at <= at < self.to_at

    def is_tonight(self, at: datetime) -> bool:
        """True on the day of the hand-over."""
        return at.date() == self.from_at.date()

    def when(self, start: datetime, end: datetime) -> str:
        """From and to, with the day where it is not that of the hand-over."""
        day = "" if self.is_tonight(start) else f"{DAYS[start.weekday()]} "
        return f"{day}{start:%H:%M} to {until(start, end)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A set that hangs burned, and why."""

    design: str
    screens: int
    frames: str
    why: str


def spans(ground: Ground) -> tuple[Span, ...]:
    """From the planning moment to the first hand-over, then hand-over to hand-over, as far as the plan reaches.

    The sheet is handed over at the shop's own hour, or when coating begins if that is sooner: it tells what to coat.
    """
    shop, clock = ground.inputs.shop, ground.week.clock
    minute = min(shop.paper.screen_sheet_min, shop.screen_room.coat_from_min if shop.screen_room else MIDNIGHT)
    starts = [clock.starts_at(one.set_up_start_tau) for one in ground.plan.runs]
    last = max((*starts, *(row.start_at for row in screen_rows(ground.week, ground.plan))), default=clock.now)
    found, at = [], clock.now
    while at <= last:
        cut = at.replace(hour=minute // 60, minute=minute % 60, second=0, microsecond=0)
        if cut <= at:
            cut = (at + timedelta(days=1)).replace(hour=minute // 60, minute=minute % 60)
        found.append(Span(from_at=at, to_at=cut))
        at = cut
    return tuple(found)


def screen_sheets(ground: Ground) -> tuple[Sheet, ...]:
    """A sheet for every span in which there is something to do; none where the shop has no screen room."""
    if ground.week.screen_room is None:
        return ()
    return tuple(sheet for span in spans(ground) if (sheet := _sheet(ground, span)) is not None)


def _sheet(ground: Ground, span: Span) -> Sheet | None:
    rows = [row for row in screen_rows(ground.week, ground.plan) if span.has(row.start_at)]
    burns = [row for row in rows if row.what == "burn"]
    tonight = [row for row in burns if span.is_tonight(row.start_at)]
    later = [row for row in burns if row not in tonight]
    is_first = span.from_at == ground.week.clock.now
    carts = _carts(ground, span)
    tables = (
        _coats(span, [row for row in rows if row.what == "coat"]),
        _burns(ground, span, "Burn now" if is_first else "Burn tonight", tonight),
        _burns(ground, span, "Burn in the morning", later),
        carts,
        _reclaims(span, [row for row in rows if row.what == "reclaim"]),
    )
    if not any(table.rows for table in tables):
        return None
    asked = sum(row.screens for row in burns)
    coats = sum(row.screens for row in rows if row.what == "coat")
    return Sheet(
        title=f"Screen room, {day_and_time(span.from_at)} to {until(span.from_at, span.to_at)}",
        said=(
            f"{counted(coats, 'screen')} to coat, {counted(asked, 'screen')} to burn, "
            f"{counted(len(carts.rows), 'cart')} to stage. A set is reclaimed only when its order is counted good.",
        ),
        tables=(*tables, _held_table(ground, span)),
        cautions=screen_room_cautions(),
    )


def _coats(span: Span, rows: list[ScreenRow]) -> Table:
    return Table(
        kind="coat",
        title="Coat tonight" if all(span.is_tonight(row.start_at) for row in rows) else "Coat",
        headings=("when", "frames", "screens", "first needed", "to know"),
        rows=tuple(
            (span.when(row.start_at, row.end_at), row.frames, row.screens, row.needed_by, row.note) for row in rows
        ),
        widths=((0, 36), (2, 19), (3, 33)),
        right=frozenset({2}),
        bold=frozenset({1, 2}),
        empty="Nothing to coat.",
    )


def _burns(ground: Ground, span: Span, title: str, rows: list[ScreenRow]) -> Table:
    return Table(
        kind="burn",
        title=title,
        headings=("when", "set", "screens", "dry", "ready to mount", "set-up"),
        rows=tuple(_burn(ground, span, row) for row in rows),
        widths=((0, 24), (2, 51), (3, 18), (4, 19), (5, 26)),
        bold=frozenset({0, 4}),
    )


def _burn(ground: Ground, span: Span, row: ScreenRow) -> tuple[Cell, ...]:
    burn = ground.plan.run[row.run_id].burn
    assert burn is not None  # the row was made from it
    ready = ground.week.clock.ends_at(burn.tape_end_tau)
    dry = "" if row.dry_at is None else until(row.start_at, row.dry_at)
    needed = "" if row.needed_by is None else until(row.start_at, row.needed_by)
    size = listed(list(dict.fromkeys(frame for _, _, frame in row.prints if frame)))
    return (
        span.when(row.start_at, row.end_at),
        "\n".join([f"{row.design}", f"{row.order_id} {row.location}", *([f"frame {size}"] if size else [])]),
        "\n".join(f"☐ {text}{f' {ground.units.mesh(mesh)}' if mesh else ''}" for text, mesh, _ in row.prints),
        dry,
        until(row.start_at, ready),
        f"{row.press_name}\n{needed}",
    )


def _carts(ground: Ground, span: Span) -> Table:
    """Carts to put together; where the shop plans none, the set-ups that need their screens brought."""
    rows: list[tuple[Cell, ...]] = [
        (
            span.when(row.start_at, row.end_at),
            f"{row.press_name}\n{until(row.start_at, row.needed_at)}",
            f"{row.order_id} {row.location}\n{row.client}",
            row.garments,
            f"{counted(row.screens, 'screen')}; {row.inks}{f'; {row.pallet} pallets' if row.pallet else ''}",
        )
        for row in staging_rows(ground.week, ground.plan)
        if span.has(row.start_at)
    ]
    if ground.week.staging is None:
        starts = [(ground.week.clock.starts_at(one.set_up_start_tau), one) for one in ground.plan.runs]
        rows = [_bare_cart(ground, at, one) for at, one in sorted(starts, key=lambda pair: pair[0]) if span.has(at)]
    return Table(
        kind="stage",
        title="Stage",
        headings=("when", "press, set-up", "run", "garments", "screens, inks"),
        rows=tuple(rows),
        widths=((0, 28), (1, 30)),
        bold=frozenset({0}),
    )


def _bare_cart(ground: Ground, at: datetime, planned: PlannedRun) -> tuple[Cell, ...]:
    run, press = ground.week.run[planned.run_id], ground.week.press[planned.press_id]
    stack = ground.choice(planned).stack
    inks = listed(list(dict.fromkeys(ground.week.ink[head.ink_id].name for head in stack.heads)))
    return (
        f"by {at:%H:%M}",
        f"{press.name}\n{day_and_time(at)}",
        f"{run.order_id} {run.location}\n{ground.week.order[run.order_id].client}",
        listed([f"{part.pieces} {part.garment}" for part in run.parts]),
        f"{counted(len({head.screen_id for head in stack.heads}), 'screen')}; {inks}",
    )


def _reclaims(span: Span, rows: list[ScreenRow]) -> Table:
    return Table(
        kind="reclaim",
        title="Reclaim what is counted good",
        headings=("when", "set", "order", "screens", "frames", "to know"),
        rows=tuple(
            (
                span.when(row.start_at, row.end_at),
                row.design or "old screens",
                f"{row.order_id} {row.location}".strip(),
                row.screens,
                row.frames,
                row.note,
            )
            for row in rows
        ),
        widths=((0, 28), (3, 19), (4, 36)),
        right=frozenset({3}),
        bold=frozenset({1}),
        blanks=(("counted good", 18),),
    )


def _held_table(ground: Ground, span: Span) -> Table:
    return Table(
        kind="sets held",
        title=f"Sets held at {day_and_time(span.to_at)}, and why",
        headings=("set", "screens", "frames", "why"),
        rows=tuple((one.design, one.screens, one.frames, one.why) for one in held(ground, span.to_at)),
        widths=((0, 40), (1, 19), (2, 46)),
        right=frozenset({1}),
        has_box=False,
    )


def held(ground: Ground, at: datetime) -> tuple[Held, ...]:
    """Sets that hang burned at a moment, each with what it waits for."""
    return tuple(one for set_id in sorted(ground.week.screen_set) for one in _held(ground, set_id, at))


def _held(ground: Ground, set_id: str, at: datetime) -> Iterator[Held]:
    week, clock = ground.week, ground.week.clock
    one = week.screen_set[set_id]
    uses = sorted(
        (ground.plan.run[run_id] for run_id in week.runs_of_set.get(set_id, ()) if run_id in ground.plan.run),
        key=lambda use: use.set_up_start_tau,
    )
    blocks = {block.block_id: block for block in week.screen_room.reclaim_blocks} if week.screen_room else {}
    reclaims = sorted(
        (blocks[done.block_id].start_tau, blocks[done.block_id].end_tau)
        for done in ground.plan.reclaims
        if done.set_id == set_id
    )
    made = [clock.ends_at(use.burn.end_tau) for use in uses if use.burn is not None]
    burned = int(one.is_burned_now or _is_started(ground, uses)) + sum(moment <= at for moment in made)
    gone = sum(clock.ends_at(end) <= at for _, end in reclaims)
    if burned <= gone:
        return
    frames = listed([f"{count} of {_class_name(ground, class_id)}" for class_id, count in one.frames])
    yield Held(design=one.design_id, screens=one.screen_count, frames=frames, why=_why(ground, uses, reclaims, at))


def _is_started(ground: Ground, uses: list[PlannedRun]) -> bool:
    """A set whose run has started stands on its press, whatever the shelf says."""
    return any(use.run_id in ground.week.fixing and ground.week.fixing[use.run_id].kind == "started" for use in uses)


def _why(ground: Ground, uses: list[PlannedRun], reclaims: list[tuple[int, int]], at: datetime) -> str:
    clock = ground.week.clock
    for use in uses:
        run, press = ground.week.run[use.run_id], ground.week.press[use.press_id]
        starts, ends = clock.starts_at(use.set_up_start_tau), clock.ends_at(use.print_end_tau)
        if ends <= at:
            continue
        if starts <= at:
            return f"on {press.name} with {run.order_id} {run.location} until {day_and_time(ends)}"
        to_come = [clock.starts_at(start) for start, end in reclaims if clock.ends_at(end) > at]
        if not to_come or to_come[0] > starts:
            return f"for {run.order_id} {run.location} on {press.name}, {day_and_time(starts)}"
        break
    for start, end in reclaims:
        if clock.ends_at(end) > at:
            return f"printed; reclaimed {day_and_time(clock.starts_at(start))}, once its order is counted good"
    return (
        "printed; its frames are not needed again this week" if uses else "no run this week; its frames are not needed"
    )


def _class_name(ground: Ground, class_id: str) -> str:
    return next((stock.name for stock in ground.week.frames if stock.class_id == class_id), class_id)
