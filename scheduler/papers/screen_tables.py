"""What the screen room does when: coat, burn, tape, reclaim, each with the moment by which it must be done."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import ScreenNote, ScreenRoomLine, Week
from scheduler.papers.words import counted, listed


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenRow:
    """One piece of work in the screen room.

    what: "coat", "burn", "tape" or "reclaim". start_at, end_at: when it is planned; needed_by: the latest moment at
    which somebody waits for it, None where nobody does. screens: how many. frames: size and mesh, in words. prints:
    what each screen prints, (text, mesh in threads per inch, frame). run_id and press_name say who waits for it;
    dry_at: when a burned set is dry.
    """

    what: str
    start_at: datetime
    end_at: datetime
    needed_by: datetime | None
    design: str
    order_id: str
    location: str
    run_id: str
    press_name: str
    screens: int
    frames: str
    prints: tuple[tuple[str, int | None, str], ...] = ()
    dry_at: datetime | None = None
    note: str = ""


WHAT_ORDER = ("reclaim", "coat", "burn", "tape")
"""Work that starts at the same minute is listed in this order: frames come back before they go out."""


def screen_rows(week: Week, plan: Plan) -> tuple[ScreenRow, ...]:
    """All work of the screen room in the order it starts; empty where the shop has no screen room."""
    room = week.screen_room
    if room is None:
        return ()
    rows = [*_coats(week, plan, room), *_reclaims(week, plan, room)]
    for planned in plan.runs:
        rows += _burns(week, planned)
    return tuple(sorted(rows, key=lambda row: (row.start_at, WHAT_ORDER.index(row.what), row.run_id, row.design)))


def _class_name(week: Week, class_id: str) -> str:
    return next((stock.name for stock in week.frames if stock.class_id == class_id), class_id)


def _coats(week: Week, plan: Plan, room: ScreenRoomLine) -> list[ScreenRow]:
    """Coating, oldest coat used first: which burn waits for the first frame of a batch, and how many are for stock."""
    windows = {window.window_id: window for window in room.coat_windows}
    supply = {stock.class_id: stock.coated_now for stock in week.frames}
    burns = sorted(
        (one.burn.start_tau, one.run_id) for one in plan.runs if one.burn is not None and week.run[one.run_id].set_id
    )
    found = []
    for batch in sorted(plan.coat_batches, key=lambda one: (windows[one.window_id].start_tau, one.class_id)):
        window = windows[batch.window_id]
        before = supply.get(batch.class_id, 0)
        supply[batch.class_id] = before + batch.count
        asked = _frames_asked(week, burns, batch.class_id)
        needed = min(batch.count, max(0, len(asked) - before))
        run = week.run[asked[before][1]] if needed else None
        note = f"first for the burn of {run.order_id} {run.location}" if run else "for stock"
        if 0 < needed < batch.count:
            note += f"; {batch.count - needed} of them for stock"
        found.append(
            ScreenRow(
                what="coat",
                start_at=week.clock.starts_at(window.start_tau),
                end_at=week.clock.ends_at(window.end_tau),
                needed_by=week.clock.starts_at(asked[before][0]) if needed else None,
                design="",
                order_id=run.order_id if run else "",
                location=run.location if run else "",
                run_id=run.run_id if run else "",
                press_name="",
                screens=batch.count,
                frames=_class_name(week, batch.class_id),
                note=note,
            )
        )
    return found


def _frames_asked(week: Week, burns: list[tuple[int, str]], class_id: str) -> list[tuple[int, str]]:
    """(burn start, run) for each frame of a class that is burned, first burn first."""
    asked = []
    for start_tau, run_id in burns:
        frames = dict(week.screen_set[week.run[run_id].set_id or ""].frames)
        asked += [(start_tau, run_id)] * frames.get(class_id, 0)
    return asked


def _burns(week: Week, planned: PlannedRun) -> list[ScreenRow]:
    """Burning and taping of one run's screens; its set-up waits for both."""
    run, clock = week.run[planned.run_id], week.clock
    if planned.burn is None or run.set_id is None:
        return []
    one = week.screen_set[run.set_id]
    burn, press = planned.burn, week.press[planned.press_id]
    needed_by = clock.starts_at(planned.set_up_start_tau)  # a cart can wait for its screens, the press cannot
    notes = {note.screen_id: note for note in one.notes}
    bare = [ScreenNote(screen_id=name, prints=name, mesh=0, frame_size="") for name in one.screen_ids]
    prints = tuple((note.prints, note.mesh or None, note.frame_size) for note in notes.values() or bare)

    def row(what: str, start_tau: int, end_tau: int, dry_tau: int | None, note: str) -> ScreenRow:
        return ScreenRow(
            what=what,
            start_at=clock.starts_at(start_tau),
            end_at=clock.ends_at(end_tau),
            needed_by=needed_by,
            design=one.design_id,
            order_id=run.order_id,
            location=run.location,
            run_id=run.run_id,
            press_name=press.name,
            screens=one.screen_count,
            frames=listed([f"{count} of {_class_name(week, class_id)}" for class_id, count in one.frames]),
            prints=prints,
            dry_at=clock.starts_at(dry_tau) if dry_tau is not None else None,
            note=note,
        )

    work = f"{counted(one.screen_count, 'screen')} to expose and wash out"
    found = [row("burn", burn.start_tau, burn.end_tau, burn.dry_tau, work)]
    if burn.tape_start_tau < burn.tape_end_tau:
        found.append(row("tape", burn.tape_start_tau, burn.tape_end_tau, None, "block out and tape"))
    return found


def _reclaims(week: Week, plan: Plan, room: ScreenRoomLine) -> list[ScreenRow]:
    """Reclaiming: sets that have printed, and old ones that hang since before the week."""
    blocks = {block.block_id: block for block in room.reclaim_blocks}
    found = []
    for reclaim in plan.reclaims:
        block, one = blocks[reclaim.block_id], week.screen_set[reclaim.set_id]
        run = week.run[reclaim.after_run_id]
        found.append(
            ScreenRow(
                what="reclaim",
                start_at=week.clock.starts_at(block.start_tau),
                end_at=week.clock.ends_at(block.end_tau),
                needed_by=None,
                design=one.design_id,
                order_id=run.order_id,
                location=run.location,
                run_id=run.run_id,
                press_name="",
                screens=one.screen_count,
                frames=listed([f"{count} of {_class_name(week, class_id)}" for class_id, count in one.frames]),
                note="the order is packed and counted good by then",
            )
        )
    for block_id, class_id, count in week.early_reclaims:
        block = blocks[block_id]
        found.append(
            ScreenRow(
                what="reclaim",
                start_at=week.clock.starts_at(block.start_tau),
                end_at=week.clock.ends_at(block.end_tau),
                needed_by=None,
                design="",
                order_id="",
                location="",
                run_id="",
                press_name="",
                screens=count,
                frames=_class_name(week, class_id),
                note="old screens that hang to be reclaimed",
            )
        )
    return found
