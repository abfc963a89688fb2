"""Why a run stands where it stands: what stays on the press for it, that no other press takes it, its date."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import Run, Stack, Week
from scheduler.search.words import from_text, listed, press_text, until_text
from scheduler.trade.set_up import live_inks

FULL_RATE_PERMILLE = 1000
PLAIN_KIND = "tee"
"""The garment kind nobody remarks on."""


def finds(week: Week, plan: Plan, one: PlannedRun, old: PlannedRun | None) -> list[str]:
    """What speaks for a run right after the one before it on its press, a few words each; if nothing else, its date."""
    found = list(_on_the_press(week, plan, one, old))
    return [*found, *_date(week, plan, one, is_all=not found)]


def _on_the_press(week: Week, plan: Plan, one: PlannedRun, old: PlannedRun | None) -> Iterator[str]:
    stands = week.press[one.press_id].now_on if old is None else _stack(week, old)
    kept = frozenset(old.kept_inks) if old is not None else frozenset()
    run = week.run[one.run_id]
    yield from _curing(week, plan, one)
    yield from _what_stays(week, run, stands, kept, _stack(week, one))
    if old is not None:
        yield from _garments(week.run[old.run_id], run)
    if len(week.presses) > 1 and len(run.choices) == 1 and one.run_id not in week.fixing:
        yield f"only fits {press_text(week, one.press_id)}"


def _curing(week: Week, plan: Plan, one: PlannedRun) -> Iterator[str]:
    """What its dryer does to a run: it waits until that is hot, or prints more slowly to leave room on the belt."""
    calendar = week.press[one.press_id].calendar.with_bought(plan.overtime)
    ready_tau = next(
        (max(w.start_tau, one.set_up_end_tau) for w in calendar.windows if one.set_up_end_tau < w.end_tau), 0
    )
    if week.press[one.press_id].print_calendar is not None and ready_tau < one.print_start_tau:
        yield f"dryer and flashes hot at {from_text(week, one.print_start_tau)}"
    choice = week.run[one.run_id].printed_on(one.press_id, one.way)
    if choice is not None and choice.step_permille < FULL_RATE_PERMILLE:
        start, end = week.clock.starts_at(one.print_start_tau), week.clock.ends_at(one.print_end_tau)
        same_day = start.date() == end.date()
        until = f"{start:%H:%M}-{end:%H:%M}" if same_day else f"until {until_text(week, one.print_end_tau)}"
        yield f"slowed to {choice.rate_pcs_h}/h by the belt, {until}"


def _what_stays(week: Week, run: Run, stands: Stack, kept: frozenset[str], new: Stack) -> Iterator[str]:
    """Screens and inks the press has already, and its pallets where other runs need others."""
    screens = {head.screen_id for head in new.heads}
    standing = frozenset(live_inks(stands, week.ink) | kept)
    if screens and screens <= {head.screen_id for head in stands.heads}:
        gone = [head.screen_id for head in stands.heads if head.screen_id not in screens]
        off = [name for screen_id in gone if (name := _base_name(week, run, screen_id))]
        yield f"same screens, {listed(off)} off" if off else "same screens"
    elif stay := _inks_that_stay(week, run, standing, new):
        yield f"{listed(stay)} {'stays' if len(stay) == 1 else 'stay'}"
    if new.pallet and new.pallet == stands.pallet and len(_pallets(week)) > 1:
        yield f"{new.pallet} pallets stay"


def _inks_that_stay(week: Week, run: Run, standing: frozenset[str], new: Stack) -> list[str]:
    """Inks the press has live: as the base where they print nothing else here."""
    bases: set[str] = set()
    tops: set[str] = set()
    for head in new.heads:
        if head.ink_id in standing:
            name = week.ink[head.ink_id].name
            base = _base_name(week, run, head.screen_id)
            (bases if base else tops).add(base or name)
    return sorted(tops | {base for base in bases if base.removesuffix(" base") not in tops})


def _base_name(week: Week, run: Run, screen_id: str) -> str:
    """What a screen prints, if that is an underbase: "white base"; else ""."""
    screens = week.screen_set.get(run.set_id) if run.set_id else None
    notes = screens.notes if screens is not None else ()
    return next((one.prints for one in notes if one.screen_id == screen_id and one.prints.endswith(" base")), "")


def _pallets(week: Week) -> set[str | None]:
    return {choice.stack.pallet for run in week.runs for choice in run.choices}


def _garments(old: Run, new: Run) -> Iterator[str]:
    """The same garments as before, or at least of the same kind where that is not plain tees."""
    kinds = {part.kind for run in (old, new) for part in run.parts}
    if old.lot_ids & new.lot_ids:
        yield "same garments"
    elif len(kinds) == 1 and not kinds & {"", PLAIN_KIND}:
        yield f"{kinds.pop()} together"


def _date(week: Week, plan: Plan, one: PlannedRun, *, is_all: bool) -> Iterator[str]:
    """The pick-up its order must leave by: where that is on the day it is printed, or all there is to say."""
    order, packed = week.order[week.run[one.run_id].order_id], plan.order.get(week.run[one.run_id].order_id)
    leaves_tau = order.pickups_tau[order.must_leave]
    if packed is None or packed.packed_tau > leaves_tau or leaves_tau >= week.horizon_tau:
        return
    if is_all or week.clock.ends_at(one.print_end_tau).date() == week.clock.ends_at(leaves_tau).date():
        yield f"must leave {until_text(week, leaves_tau)}"


def _stack(week: Week, one: PlannedRun) -> Stack:
    return week.run[one.run_id].on_press[one.press_id].stack
