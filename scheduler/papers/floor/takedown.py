"""What comes off a press before a run goes on: each screen and ink of the run before, and where it goes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.domain.plan import Plan
from scheduler.domain.week import PressLine, StackHead, Week
from scheduler.papers.heads import Placing, place, standing
from scheduler.trade.set_up import SetUpPair, live_inks

SWAP = "swap squeegee and floodbar, ink back into its can"
CLEAN = "clean out: ink back into its can, screen, squeegee and floodbar wiped"
RINSED = "rinsed out when its run ended"


@dataclass(frozen=True, slots=True, kw_only=True)
class OffLine:
    """A head of the run before: what stood there, whether its screen comes off, and what is done with its ink.

    leaves: its ink is swapped or cleaned out in this set-up.
    """

    head: int
    prints: str
    ink: str
    screen_comes_off: bool
    to_do: str
    leaves: bool = False


def coming_off(week: Week, plan: Plan, press: PressLine) -> dict[str, tuple[OffLine, ...]]:
    """What comes off before each run of a press, by run; nothing before a run that has started."""
    before = standing(press)
    found: dict[str, tuple[OffLine, ...]] = {}
    for planned in plan.queue.get(press.press_id, ()):
        run = week.run[planned.run_id]
        choice = run.printed_on(press.press_id, planned.way) or run.on_press[press.press_id]
        now, pair = place(press, before, choice, planned.kept_inks, week.ink)
        fixing = week.fixing.get(run.run_id)
        is_started = fixing is not None and fixing.kind == "started"
        found[run.run_id] = () if is_started else tuple(_lines(week, press, before, now, pair))
        before = now
    return found


def _lines(week: Week, press: PressLine, before: Placing, now: Placing, pair: SetUpPair) -> Iterator[OffLine]:
    of_old = dict(pair.matched)
    live = live_inks(before.stack, week.ink)
    stood_by, kept = dict(before.of_kept), dict(now.of_kept)
    to_keep = set(kept) - set(stood_by)
    out = SWAP if press.set_up.swap_min is not None else CLEAN
    for index, (one, at) in enumerate(zip(before.stack.heads, before.of_screen, strict=True)):
        new = now.stack.heads[of_old[index]] if index in of_old else None
        goes_to = now.of_screen[of_old[index]] if index in of_old else 0
        is_off = new is None or new.screen_id != one.screen_id
        leaves = False
        if one.ink_id not in live:
            to_do = RINSED
        elif new is not None and new.ink_id == one.ink_id:
            if not is_off:
                continue
            to_do = f"card its ink over into the screen on head {goes_to}"
        elif one.ink_id in to_keep:
            to_keep.discard(one.ink_id)
            to_do = f"its ink stays live on head {kept[one.ink_id]}"
        else:
            to_do, leaves = out, True
        yield _line(week, before, one, at, is_off, to_do, leaves)
    wanted = {head.ink_id for head in now.stack.heads}
    for ink_id, at in before.of_kept:
        if ink_id not in kept and ink_id not in wanted:
            name = week.ink[ink_id].name
            yield OffLine(head=at, prints="", ink=name, screen_comes_off=False, to_do=out, leaves=True)


def _line(week: Week, before: Placing, one: StackHead, at: int, is_off: bool, to_do: str, leaves: bool) -> OffLine:
    screens = week.screen_set.get(before.stack.set_id or "")
    prints = next((note.prints for note in screens.notes if note.screen_id == one.screen_id), "") if screens else ""
    ink = week.ink[one.ink_id].name
    return OffLine(head=at, prints=prints or ink, ink=ink, screen_comes_off=is_off, to_do=to_do, leaves=leaves)
