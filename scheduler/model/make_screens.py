"""Makes the variables of the screen room: burns, the uses of sets, coating."""

from __future__ import annotations

from scheduler.domain.week import Run, ScreenRoomLine, ScreenSet
from scheduler.model.cells import OpenCells, always_open
from scheduler.model.drying import drying_pieces
from scheduler.model.maker import Maker
from scheduler.model.variables import BurnVars, CoatVars, DryingPiece, Literal, SetVars


def make_burn(maker: Maker, run: Run) -> BurnVars | None:
    """The burn a run may need; None if it cannot need one."""
    room, screens = maker.week.screen_room, maker.week.screen_set.get(run.set_id or "")
    if room is None or screens is None or not screens.screen_count or maker.is_started(run.run_id):
        return None
    is_only_use = len(maker.week.runs_of_set[screens.set_id]) == 1
    if is_only_use and screens.is_burned_now:
        return None
    happens = maker.always if is_only_use else maker.literal(f"burned_for[{run.run_id}]")
    burn = maker.work("burn", run.run_id, _burn_hours(maker, room, screens), screens.burn_min, happens)
    tape_hours = maker.hours("tape", room.calendar) if screens.tape_min else always_open(maker.week.horizon_tau)
    tape = maker.work("tape", run.run_id, tape_hours, screens.tape_min, happens)
    dry = maker.tau("dry", run.run_id, may_be_absent=True) if screens.tape_min else tape.start
    return BurnVars(
        run=run,
        screens=screens,
        burn=burn,
        dry=dry,
        pieces=_make_pieces(maker, run.run_id, room.dry_min, happens),
        on_rack=maker.model.new_optional_interval_var(
            burn.end, maker.length("rack", run.run_id), dry, happens, f"on_rack[{run.run_id}]"
        ),
        tape=tape,
    )


def _burn_hours(maker: Maker, room: ScreenRoomLine, screens: ScreenSet) -> OpenCells:
    """Cells of the screen room, cut wherever coated screens become ready, so that cells tell what a burn finds."""
    readies = frozenset(window.ready_tau for window in room.coat_windows)
    if not screens.burn_min:
        return always_open(maker.week.horizon_tau, readies)
    return maker.hours("burn", room.calendar, lambda stop_min: stop_min > room.idle_ok_min, split_at=readies)


def _make_pieces(maker: Maker, run_id: str, dry_min: int, happens: Literal) -> tuple[DryingPiece, ...]:
    pieces = drying_pieces(maker.week.clock, dry_min)
    return tuple(
        DryingPiece(
            first_tau=piece.first_tau,
            last_tau=piece.last_tau,
            dry_tau=piece.dry_tau,
            is_moving=piece.is_moving,
            literal=happens if len(pieces) == 1 else maker.literal(f"dries[{run_id}]@{piece.first_tau}"),
        )
        for piece in pieces
    )


def make_set(maker: Maker, screens: ScreenSet, uses: tuple[str, ...]) -> SetVars:
    """The order of a set's uses, and its reclaims."""
    room = maker.week.screen_room
    blocks = room.reclaim_blocks if room is not None and screens.screen_count else ()
    pairs = [(one, other) for one in uses for other in uses if one != other]
    precedes: dict[tuple[str, str], Literal] = {}
    for one, other in pairs:
        before = precedes.get((other, one))
        precedes[one, other] = maker.literal(f"precedes[{one},{other}]") if before is None else ~before
    is_alone = len(uses) == 1
    first, last = (
        {use: maker.always if is_alone else maker.literal(f"{end}[{screens.set_id},{use}]") for use in uses}
        for end in ("first", "last")
    )
    return SetVars(
        screens=screens,
        uses=uses,
        precedes=precedes,
        follows={(one, other): maker.literal(f"follows[{one},{other}]") for one, other in pairs},
        first=first,
        last=last,
        reclaimed={
            (use, block.block_id): maker.literal(f"reclaimed[{use},{block.block_id}]")
            for use in uses
            for block in blocks
        },
        blocks=tuple(blocks),
    )


def make_coating(maker: Maker) -> list[CoatVars]:
    """How many frames of each class are coated in each window."""
    room = maker.week.screen_room
    return [
        CoatVars(
            window=window,
            class_id=stock.class_id,
            count=maker.amount(f"coated[{window.window_id},{stock.class_id}]", window.places),
        )
        for window in (room.coat_windows if room is not None else ())
        for stock in maker.week.frames
    ]
