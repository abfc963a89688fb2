"""The shop as the week finds it: axis, people, booked times, benches and presses, before any order is looked at."""

from __future__ import annotations

from dataclasses import dataclass, replace

from scheduler.domain.shop import NowOn, Press
from scheduler.domain.week import Person, PressLine, ScreenRoomLine, Stack, StackHead
from scheduler.trade.rounding import nearest
from scheduler.workload.assumptions import Notes
from scheduler.workload.axis import Axis
from scheduler.workload.blocks import RoomBlocks, build_blocks
from scheduler.workload.fits import flash_takes
from scheduler.workload.inks import InkShelf, is_base_name
from scheduler.workload.kept_room import PressRoom
from scheduler.workload.layers import stack_of
from scheduler.workload.people import Benches, Crewing, build_benches
from scheduler.workload.runs import RunDraft
from scheduler.workload.warm_up import print_calendars


@dataclass(frozen=True, kw_only=True)
class Ground:
    """Everything about the shop that no order changes."""

    axis: Axis
    people: tuple[Person, ...]
    blocks: RoomBlocks
    benches: Benches


def build_ground(axis: Axis, people: tuple[Person, ...], notes: Notes) -> Ground:
    """Booked times first, then the hours they and the people leave for everything else."""
    crewing = Crewing(people=people, times=axis.person_times)
    blocks = build_blocks(axis, crewing, notes)
    booked = Crewing(people=people, times=axis.person_times, bookings=blocks.bookings)
    return Ground(axis=axis, people=people, blocks=blocks, benches=build_benches(axis, booked))


def press_lines(
    ground: Ground, shelf: InkShelf, drafts: tuple[RunDraft, ...], room: PressRoom
) -> tuple[PressLine, ...]:
    """The presses as the plan sees them; room: what of each day's is still kept free."""
    shop, calendars = ground.axis.shop, room.planned()
    prints = print_calendars(ground.axis, room.planned_times())
    return tuple(
        PressLine(
            press_id=press.press_id,
            name=press.name,
            head_count=press.heads,
            calendar=calendars[press.press_id],
            print_calendar=prints.get(press.press_id),
            restart=press.restart,
            set_up=press.set_up,
            set_up_crew=press.set_up_crew,
            run_crew=press.run_crew,
            dryer_id=press.dryer_id if press.dryer_id in ground.axis.dryer_times else None,
            set_up_cents_per_min=nearest(shop.money.crew_cents_per_min(press.set_up_crew)),
            now_on=now_on(press.now_on, shelf, drafts) if press.now_on else Stack(),
            flash_pool=press.flash_pool,
            flash_takes=flash_takes(press),
            kept_free=room.kept_free(press.press_id),
        )
        for press in shop.presses
    )


def now_on(typed: NowOn, shelf: InkShelf, drafts: tuple[RunDraft, ...]) -> Stack:
    """What stands on a press now: a design's screens, and behind them the inks kept live beside them."""
    stack = _design_on(typed, shelf, drafts)
    kept = tuple(
        StackHead(screen_id=f"kept on the press:{number}", ink_id=shelf.from_words(words).ink_id)
        for number, words in enumerate(typed.kept, start=1)
    )
    return replace(stack, heads=(*stack.heads, *kept))


def _design_on(typed: NowOn, shelf: InkShelf, drafts: tuple[RunDraft, ...]) -> Stack:
    """The screens of a design the week prints again, else screens of their own.

    A design's stack is the one whose inks were typed, its underbase named or not; without inks its fullest one.
    """
    inks = tuple(shelf.from_words(words).ink_id for words in typed.inks)
    stacks = [
        stack_of(draft.layers, draft.imprint.design_id, typed.pallet or draft.imprint.pallet)
        for draft in drafts
        if draft.imprint.design_id == typed.design_id
    ]
    for stack in sorted(stacks, key=lambda one: -len(one.heads)):
        tops = tuple(head.ink_id for head in stack.heads if not head.screen_id.endswith(":base"))
        if inks in (tops, tuple(head.ink_id for head in stack.heads)):
            return stack
    if stacks and not inks:
        return max(stacks, key=lambda stack: len(stack.heads))
    owner = typed.design_id or "on the press now"
    heads: list[StackHead] = []
    number = 0
    for words, ink_id in zip(typed.inks, inks, strict=True):
        base = is_base_name(words) and not heads
        number += not base
        heads.append(StackHead(screen_id=f"{owner}:{'base' if base else number}", ink_id=ink_id))
    return Stack(set_id=typed.design_id, heads=tuple(heads), pallet=typed.pallet)


def screen_room_line(ground: Ground) -> ScreenRoomLine | None:
    """The screen room as the plan sees it, None where screens come ready from outside."""
    room = ground.axis.shop.screen_room
    if room is None:
        return None
    return ScreenRoomLine(
        calendar=ground.benches.screens,
        crew=room.crew,
        exposure_units=room.exposure_units,
        rack_places=room.rack_places,
        dry_min=room.dry_min,
        idle_ok_min=room.idle_ok_min,
        burn_cents_per_screen=room.burn_cents,
        ahead_min=room.ready_ahead_min,
        not_ahead_cents_per_min=room.not_ahead_cents,
        coat_windows=ground.blocks.coat_windows,
        reclaim_blocks=ground.blocks.reclaim_blocks,
    )


def designs_on_presses(presses: tuple[Press, ...]) -> frozenset[str]:
    """Designs whose screens stand on a press now."""
    return frozenset(press.now_on.design_id for press in presses if press.now_on and press.now_on.design_id)
