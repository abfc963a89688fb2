"""The week as it stands now: what is done is gone, what has started goes on with what is left, the rest is announced.

The same inputs as were typed, seen from now: plan from now on, progress from what was noted, screens as they hang,
presses with what stands on them, and the announced plan's places. Whatever plans a week plans this one.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from hashlib import sha256

from scheduler.domain.learnt import NOTHING_LEARNT, LearntFigures
from scheduler.domain.orders import Announced, Assumption, Imprint, Progress, WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.shop import NowOn, OvertimeOffer, Press, Shop
from scheduler.domain.week import Week
from scheduler.record.events import BROKEN, Event, ScreenTicked, that_count
from scheduler.record.runs_now import Floor, RunNow, runs_now
from scheduler.record.screens_now import screens_now
from scheduler.record.to_pack import ToPack, to_pack
from scheduler.search.clash import smallest_clash, with_announced_loosened
from scheduler.workload.assumptions import Notes
from scheduler.workload.axis import build_axis
from scheduler.workload.build import Workload, build_workload
from scheduler.workload.inks import InkShelf
from scheduler.workload.runs import RunDraft, draft_runs

OWN_CODES = frozenset({"burned_as_planned", "by_time", "done_by_next", "screen_anew", "strange_event", "waits_set_up"})
"""Assumptions made here: made anew each time the week is looked at."""
MOST_WAITS, LEAST_WAIT_MIN = 12, 10
"""How often runs that are in each other's way are told to wait, and by how much more each time at least."""


@dataclass(frozen=True, kw_only=True)
class StandsNow:
    """A week as it stands: inputs and workload to plan on from, and what every run has come to.

    loosened: runs announced before "don't touch before" that cannot stay there after what happened; they may move.
    to_pack: orders that are printed and not noted as packed; the week has them no more.
    """

    now: datetime
    inputs: WeekInputs
    workload: Workload
    runs: Mapping[str, RunNow]
    loosened: tuple[str, ...] = ()
    to_pack: tuple[ToPack, ...] = ()

    @property
    def week(self) -> Week:
        """The planning question from now on."""
        return self.workload.week

    @property
    def started(self) -> tuple[str, ...]:
        """Runs that have their press now and may not move."""
        return tuple(run_id for run_id, run in self.runs.items() if run.is_going)


def planned_week(inputs: WeekInputs) -> Workload:
    """The week as plans of it are made: what was announced and cannot stay where it is may move."""
    workload = build_workload(inputs)
    if not inputs.announced:
        return workload
    return replace(workload, week=with_announced_loosened(workload.week)[0])


def stands_now(inputs: WeekInputs, week: Week, plan: Plan, events: Iterable[Event], now: datetime) -> StandsNow:
    """The week now, after what was noted since an announced plan of it was made.

    inputs, week: those the plan was made from; runs the plan does not have are new since. now: not before the plan's
    own moment. Raises InputError where the week cannot be planned at all any more.
    """
    counted = that_count(events)
    notes = Notes()
    floor = floor_of(inputs, week, plan)
    moment = max(floor.aware(now), week.clock.now)
    runs: Mapping[str, RunNow] = runs_now(floor, counted, moment, notes)
    runs = _with_broken_screens(inputs.shop, floor, runs, counted, moment, notes)
    burned, frames = screens_now(inputs.shop, floor, runs, counted, moment, notes)
    shop = replace(
        inputs.shop,
        plan_from=moment,
        burned=burned,
        frames=frames,
        presses=tuple(_press_now(press, floor, runs, moment) for press in inputs.shop.presses),
        overtime=_overtime_now(inputs.shop, week, plan, moment),
    )
    seen = replace(
        inputs,
        shop=shop,
        imprints=tuple(_imprint_now(one, floor, moment) for one in inputs.imprints),
        progress=tuple(_progress(floor.drafts[run.run_id], run) for run in runs.values() if run.is_started),
        announced=tuple(
            Announced(run_id=one.run_id, press_id=one.press_id, set_up_at=week.clock.starts_at(one.set_up_start_tau))
            for one in plan.runs
            if one.run_id in runs and not runs[one.run_id].is_started
        ),
        assumptions=notes.merged_with(one for one in inputs.assumptions if one.code not in OWN_CODES),
        digest=_digest(inputs.digest, plan, counted, moment, inputs.learnt),
    )
    seen, workload, runs = _one_after_the_other(seen, runs)
    planned, loosened = with_announced_loosened(workload.week)
    return StandsNow(
        now=moment,
        inputs=seen,
        workload=replace(workload, week=planned),
        runs=runs,
        loosened=loosened,
        to_pack=to_pack(floor.drafts.values(), runs, counted, moment),
    )


def floor_of(inputs: WeekInputs, week: Week, plan: Plan) -> Floor:
    """The announced plan with the orders behind it."""
    axis = build_axis(inputs.shop)
    shelf = InkShelf(shop=inputs.shop, notes=Notes())
    drafts = draft_runs(inputs, shelf, axis.days, Notes())
    return Floor(
        week=week,
        plan=plan,
        drafts={draft.run_id: draft for draft in drafts},
        progress=_rows_by_run(inputs.progress, drafts),
    )


def _rows_by_run(progress: Iterable[Progress], drafts: tuple[RunDraft, ...]) -> dict[str, Progress]:
    """Rows of what was under way when the plan was made, by run; rows that fit none were a fault then."""
    found: dict[str, Progress] = {}
    for row in progress:
        for draft in drafts:
            if draft.run_id not in found and _is_about(row, draft):
                found[draft.run_id] = row
                break
    return found


def _is_about(row: Progress, draft: RunDraft) -> bool:
    if row.run_id is not None:
        return row.run_id == draft.run_id
    return (
        draft.order.order_id == row.order_id
        and draft.imprint.location.lower() == row.location.lower()
        and row.shade in (None, draft.shade)
    )


def _progress(draft: RunDraft, run: RunNow) -> Progress:
    assert run.started_at is not None
    return Progress(
        order_id=draft.order.order_id,
        location=draft.imprint.location,
        shade=draft.shade,
        press_id=run.press_id or "",
        started_at=run.started_at,
        pieces_left=run.pieces_left,
        set_up_left_min=run.set_up_left_min,
        run_id=run.run_id,
    )


def _imprint_now(imprint: Imprint, floor: Floor, now: datetime) -> Imprint:
    """The print location with the runs it had, though more of its garments are in by now; and no cart before its
    screens are dry and taped, where they were being made.
    """
    own = [
        draft
        for draft in floor.drafts.values()
        if draft.order.order_id == imprint.order_id
        and draft.imprint.location == imprint.location
        and {lot.lot_id for lot in draft.lots} <= set(imprint.lot_ids)
    ]
    shades = [draft.shade for draft in own]
    if len(set(shades)) < len(shades):
        imprint = replace(
            imprint,
            split=tuple(tuple(lot.lot_id for lot in draft.lots) for draft in own),
            share_sets=tuple(imprint.set_names.index(draft.imprint.design_id) for draft in own),
        )
    ready = [at for draft in own if (at := _ready_at(floor, draft.run_id, now)) is not None]
    return replace(imprint, not_before=max([*ready, *_some(imprint.not_before, floor)])) if ready else imprint


def _some(moment: datetime | None, floor: Floor) -> tuple[datetime, ...]:
    return () if moment is None else (floor.aware(moment),)


def _ready_at(floor: Floor, run_id: str, now: datetime) -> datetime | None:
    """When the screens of a run whose burn is under way stand ready; None where none is."""
    planned = floor.plan.run.get(run_id)
    if planned is None or planned.burn is None:
        return None
    now_tau = floor.tau(now)
    is_under_way = planned.burn.start_tau < now_tau < planned.burn.tape_end_tau
    return floor.week.clock.ends_at(planned.burn.tape_end_tau) if is_under_way else None


def _with_broken_screens(
    shop: Shop, floor: Floor, runs: Mapping[str, RunNow], events: Iterable[Event], now: datetime, notes: Notes
) -> dict[str, RunNow]:
    """Runs that have their press, with the minutes until a screen that broke under them prints again."""
    found = dict(runs)
    for event in events:
        if not isinstance(event, ScreenTicked) or event.state != BROKEN or floor.aware(event.at) > now:
            continue
        broke_at = floor.aware(event.at)
        for run in floor.week.runs:
            known = found[run.run_id]
            if run.set_id != event.set_id or not known.is_going or known.stopped_why is None:
                continue
            wait_min = max(1, shop.chances.screen_min - int((now - broke_at) / timedelta(minutes=1)))
            found[run.run_id] = replace(known, set_up_left_min=max(known.set_up_left_min, wait_min))
            text = f"{shop.chances.screen_min} min from a broken screen until it prints again"
            notes.add("screen_anew", text, "runs", where=run.run_id)
    return found


def _press_now(press: Press, floor: Floor, runs: Mapping[str, RunNow], now: datetime) -> Press:
    """The press with what stands on it: the screens and inks of the last run printed on it."""
    last = [run for run in runs.values() if run.press_id == press.press_id and run.is_started]
    last = [run for run in last if run.run_id in floor.week.run]  # what was done before stands in the shop already
    if not last:
        return press
    latest = max(last, key=lambda run: (run.done_at or now, run.started_at or now))
    return replace(press, now_on=_stands_on(press, floor, latest))


def _stands_on(press: Press, floor: Floor, latest: RunNow) -> NowOn:
    week = floor.week
    run = week.run[latest.run_id]
    choice = run.on_press.get(press.press_id) or run.choices[0]
    inks = [_words(week, head.ink_id, is_base=head.screen_id.endswith(":base")) for head in choice.stack.heads]
    planned = floor.plan.run.get(latest.run_id)
    kept = planned.kept_inks if planned is not None and planned.press_id == press.press_id else ()
    return NowOn(
        design_id=floor.drafts[latest.run_id].imprint.design_id,
        inks=tuple(inks),
        pallet=choice.stack.pallet,
        kept=tuple(_words(week, ink_id) for ink_id in kept),
    )


def _words(week: Week, ink_id: str, *, is_base: bool = False) -> str:
    """An ink as it would be typed: family and name, an underbase by its name."""
    ink = week.ink[ink_id]
    return f"{ink.family} {ink.name}{' base' if is_base else ''}"


def _overtime_now(shop: Shop, week: Week, plan: Plan, now: datetime) -> tuple[OvertimeOffer, ...]:
    """The overtime on offer; what was bought and has begun is paid for."""
    begun = {
        block.block_id
        for block in week.overtime
        if block.block_id in plan.overtime and week.clock.starts_at(block.start_tau) < now
    }
    paid = [one.offer for one in build_axis(shop).offers if one.block_id in begun]
    return tuple(replace(one, price_cents=0) if one in paid else one for one in shop.overtime)


def _one_after_the_other(
    inputs: WeekInputs, runs: Mapping[str, RunNow]
) -> tuple[WeekInputs, Workload, Mapping[str, RunNow]]:
    """The week in which runs that are set up, but cannot print at once, wait on their press for each other.

    Two presses set up for two prints on the same garments: the one that prints, or was set up first, goes on; the other
    waits as long as that one needs, as if its set-up took so much longer.
    """
    workload = build_workload(inputs)
    for _ in range(MOST_WAITS):
        week, clash = workload.week, smallest_clash(workload.week)
        if clash is None or any(week.fixing[run_id].kind != "started" for run_id in clash.run_ids):
            break
        if len(clash.run_ids) < 2:
            break
        *first, waits = sorted(clash.run_ids, key=lambda run_id: _came_first(runs[run_id]))
        needed_min = max(_still_takes_min(week, run_id) for run_id in first)
        left_min = max(needed_min, runs[waits].set_up_left_min + LEAST_WAIT_MIN)
        runs = {**runs, waits: replace(runs[waits], set_up_left_min=left_min)}
        told = Assumption(
            code="waits_set_up",
            text="set up, and waits on its press until another run is through",
            count=1,
            counted="runs",
            where=(waits,),
        )
        inputs = replace(
            inputs,
            progress=tuple(
                replace(row, set_up_left_min=left_min) if row.run_id == waits else row for row in inputs.progress
            ),
            assumptions=(*(one for one in inputs.assumptions if one != told), told),
        )
        workload = build_workload(inputs)
    return inputs, workload, runs


def _came_first(run: RunNow) -> tuple[bool, datetime]:
    """Runs that print come before runs in set-up, then the one begun first."""
    assert run.started_at is not None
    return run.set_up_left_min > 0 or run.pieces_left == run.pieces, run.started_at


def _still_takes_min(week: Week, run_id: str) -> int:
    """Minutes until a started run's garments may be printed on again."""
    run, fixing = week.run[run_id], week.fixing[run_id]
    return (fixing.set_up_left_min or 0) + run.choices[0].work_min + run.cure_min + run.between_min


def _digest(digest: str, plan: Plan, events: tuple[Event, ...], now: datetime, learnt: LearntFigures) -> str:
    """A name for these inputs as they stand now: other events or figures learnt, another name."""
    told = repr((digest, now.isoformat(), events, [(one.run_id, one.set_up_start_tau) for one in plan.runs]))
    told += repr(learnt) if learnt != NOTHING_LEARNT else ""
    return sha256(told.encode()).hexdigest()
