"""Makes the variables of the screen room: burns, the uses of sets, coating."""

from __future__ import annotations

from scheduler.domain.week import ReclaimBlock, Run, ScreenRoomLine, ScreenSet
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
    in_order = maker.scope.uses_in_order(screens.set_id)
    if in_order is not None or len(uses) == 1:
        precedes, follows, first, last = _settled_order(maker, in_order or uses)
    else:
        precedes, follows, first, last = _open_order(maker, screens.set_id, uses)
    return SetVars(
        screens=screens,
        uses=uses,
        precedes=precedes,
        follows=follows,
        first=first,
        last=last,
        reclaimed=_make_reclaims(maker, screens, uses, is_settled=in_order is not None),
    )


_Order = tuple[dict[tuple[str, str], Literal], dict[tuple[str, str], Literal], dict[str, Literal], dict[str, Literal]]


def _open_order(maker: Maker, set_id: str, uses: tuple[str, ...]) -> _Order:
    pairs = [(one, other) for one in uses for other in uses if one != other]
    precedes: dict[tuple[str, str], Literal] = {}
    for one, other in pairs:
        before = precedes.get((other, one))
        precedes[one, other] = maker.literal(f"precedes[{one},{other}]") if before is None else ~before
    follows = {(one, other): maker.literal(f"follows[{one},{other}]") for one, other in pairs}
    first, last = ({use: maker.literal(f"{end}[{set_id},{use}]") for use in uses} for end in ("first", "last"))
    return precedes, follows, first, last


def _settled_order(maker: Maker, uses: tuple[str, ...]) -> _Order:
    yes, no = maker.always, ~maker.always
    pairs = [(i, j) for i in range(len(uses)) for j in range(len(uses)) if i != j]
    return (
        {(uses[i], uses[j]): yes if i < j else no for i, j in pairs},
        {(uses[i], uses[j]): yes if i + 1 == j else no for i, j in pairs},
        {use: yes if number == 0 else no for number, use in enumerate(uses)},
        {use: yes if number == len(uses) - 1 else no for number, use in enumerate(uses)},
    )


def _make_reclaims(
    maker: Maker, screens: ScreenSet, uses: tuple[str, ...], *, is_settled: bool
) -> dict[tuple[str, ReclaimBlock], Literal]:
    room = maker.week.screen_room
    if room is None or not screens.screen_count:
        return {}
    pairs = [(use, block) for use in uses for block in room.reclaim_blocks]
    if is_settled:
        planned = {use: maker.scope.reclaim_block(use) for use in uses}
        return {(use, block): maker.always for use, block in pairs if planned[use] == block.block_id}
    return {(use, block): maker.literal(f"reclaimed[{use},{block.block_id}]") for use, block in pairs}


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
