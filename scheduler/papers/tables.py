"""What a plan says, as rows: each press's queue, the orders, the carts to stage, who does what.

Pure functions of week and plan. Moments are local times of the shop; the rows hold values and short texts, never
layout. The plan must be one of this week (every run, order and press known).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from scheduler.domain.latest_yes import LatestYes
from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import OrderDue, PressChoice, PressLine, Run, Week
from scheduler.papers.batches import batches_text
from scheduler.papers.changes import HeadLine, changes, flash_text, head_lines
from scheduler.papers.heads import Placing, place, standing
from scheduler.papers.words import PENCILLED, counted, day_and_time, late, listed, minutes
from scheduler.review.measures import pickups_missed

FULL_RATE_PERMILLE = 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class QueueRow:
    """A run on its press, as the operator needs it.

    number: its place in the queue from 1. garments: (garment, pieces, print minutes) per lot, in print order.
    kept: (head, ink) of inks that stay live beside the run. free: (head, what) where a flash or its cool-down takes a
    head. screens: where its screens stand, in words. flash: where flashes stand, "" without one.
    changes: what the set-up does against the run before. late: mark, word and how much, or "".
    """

    number: int
    press_id: str
    press_name: str
    run_id: str
    order_id: str
    client: str
    design: str
    location: str
    garments: tuple[tuple[str, int, int], ...]
    pieces: int
    stage_at: datetime | None
    set_up_at: datetime
    set_up_min: int
    print_at: datetime
    print_min: int
    end_at: datetime
    heads: tuple[HeadLine, ...]
    kept: tuple[tuple[int, str], ...]
    free: tuple[tuple[int, str], ...]
    screens: str
    flash: str
    pallet: str
    dryer: str
    rate_pcs_h: int
    slowed: str
    wash_up: str
    changes: tuple[str, ...]
    is_started: bool
    late: str
    reason: str
    batches: str = ""
    """Ink that goes off: how many batches it takes, and by when each is needed; "" for other inks."""

    pencilled: str = ""
    """Where the order waits for something: by when it needs its yes, in words; "" for a firm one."""

    @property
    def all_heads(self) -> tuple[HeadLine, ...]:
        """Every head the run takes, first to last: its screens, and the flashes that sit in a head."""
        flashes = [_no_screen(head, what) for head, what in self.free]
        return tuple(sorted([*self.heads, *flashes], key=lambda line: line.head))


def _no_screen(head: int, what: str) -> HeadLine:
    return HeadLine(head=head, screen_id="", prints=what, ink="", mesh=None, frame="", hits=1, to_do="no screen here")


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderRow:
    """An order and when it leaves.

    packed_at, leaves_at: None where it is not planned. late_days: pick-ups missed. late: mark, word and how much.
    why: what decides when it is packed, or why it is not planned. state: "planned", else why not in a word or two.
    """

    order_id: str
    client: str
    firmness: str
    pieces: int
    locations: str
    must_leave_at: datetime | None
    packed_at: datetime | None
    leaves_at: datetime | None
    late_days: int
    late_cents: int
    late: str
    state: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StagingRow:
    """A cart to put together: garments, screens and inks of one run, beside the press before set-up starts."""

    start_at: datetime
    end_at: datetime
    needed_at: datetime
    press_id: str
    press_name: str
    run_id: str
    order_id: str
    client: str
    location: str
    garments: str
    screens: int
    inks: str
    pallet: str


def press_queue(week: Week, plan: Plan) -> tuple[QueueRow, ...]:
    """Every press's queue, press by press in the shop's order, runs in the order they are set up.

    Pencilled runs stand among the others where the week knows them; what a firm run finds on its press is what the
    firm run before it leaves there.
    """
    whole = plan.with_pencilled
    return tuple(row for press in week.presses for row in _with_pencilled(week, plan, whole, press))


def _with_pencilled(week: Week, plan: Plan, whole: Plan, press: PressLine) -> list[QueueRow]:
    rows = list(_queue_of(week, plan, press))
    waiting = {one.run_id for one in plan.pencilled.runs if one.run_id in week.run and one.press_id == press.press_id}
    if not waiting:
        return rows
    yes = {one.order_id: one for one in plan.pencilled.yes}
    rows += [
        replace(row, pencilled=pencilled_text(week, yes.get(row.order_id)))
        for row in _queue_of(week, whole, press)
        if row.run_id in waiting
    ]
    rows.sort(key=lambda row: (row.set_up_at, row.end_at))
    return [replace(row, number=number) for number, row in enumerate(rows, start=1)]


def pencilled_text(week: Week, yes: LatestYes | None) -> str:
    """By when a pencilled order needs its yes: "pencilled in, yes by Tue 3 Mar 10:40"."""
    if yes is None or yes.latest_tau is None:
        return "pencilled in"
    told = f"pencilled in, yes by {day_and_time(week.clock.starts_at(yes.latest_tau))}"
    return f"{told}, {counted(yes.missed, 'day')} late even then" if yes.missed else told


def _queue_of(week: Week, plan: Plan, press: PressLine) -> Iterator[QueueRow]:
    before = standing(press)
    for number, planned in enumerate(plan.queue.get(press.press_id, ()), start=1):
        run = week.run[planned.run_id]
        choice = run.printed_on(press.press_id, planned.way) or run.on_press[press.press_id]
        yield _queue_row(week, plan, press, planned, run, choice, before, number)
        before, _ = place(press, before, choice, planned.kept_inks, week.ink)


def _queue_row(
    week: Week,
    plan: Plan,
    press: PressLine,
    planned: PlannedRun,
    run: Run,
    choice: PressChoice,
    before: Placing,
    number: int,
) -> QueueRow:
    now, pair = place(press, before, choice, planned.kept_inks, week.ink)
    fixing = week.fixing.get(run.run_id)
    screen_set = week.screen_set.get(run.set_id) if run.set_id else None
    kept_before = [ink_id for ink_id, _ in before.of_kept]
    order = week.order[run.order_id]
    packed = plan.order.get(run.order_id)
    clock = week.clock
    is_started = fixing is not None and fixing.kind == "started"
    heads = head_lines(before, now, pair, screen_set, week.ink, kept_before)
    dried = sorted({week.ink[head.ink_id].name for head in choice.stack.heads if week.ink[head.ink_id].dries})
    is_staged = planned.stage_start_tau < planned.stage_end_tau
    return QueueRow(
        number=number,
        press_id=press.press_id,
        press_name=press.name,
        run_id=run.run_id,
        order_id=run.order_id,
        client=order.client,
        design=run.design_id,
        location=run.location,
        garments=tuple(
            (part.garment, part.pieces, print_min) for part, print_min in zip(run.parts, choice.part_min, strict=True)
        ),
        pieces=run.pieces,
        stage_at=clock.starts_at(planned.stage_start_tau) if is_staged else None,
        set_up_at=clock.starts_at(planned.set_up_start_tau),
        set_up_min=planned.set_up_min,
        print_at=clock.starts_at(planned.print_start_tau),
        print_min=choice.print_min,
        end_at=clock.ends_at(planned.print_end_tau),
        heads=tuple(replace(line, to_do="on the press") for line in heads) if is_started else heads,
        kept=tuple((head, week.ink[ink_id].name) for ink_id, head in now.of_kept),
        free=now.of_free,
        screens=_screens_text(week, planned, run),
        flash=flash_text(now, press.flash_pool if choice.flash_units else None),
        pallet=choice.stack.pallet or "",
        dryer=_dryer_text(press, choice),
        rate_pcs_h=choice.rate_pcs_h,
        slowed=_slowed_text(choice),
        wash_up=f"rinse out {listed(dried)}: {minutes(choice.wash_up_min)}" if choice.wash_up_min else "",
        changes=changes(press, choice, before, now, pair, week.ink, fixing),
        is_started=is_started,
        late=late(pickups_missed(order, packed.packed_tau)) if packed else "",
        reason=planned.reason,
        batches=batches_text(week, plan, planned),
    )


def _dryer_text(press: PressLine, choice: PressChoice) -> str:
    """The dryer a run prints into, and how it is set where that changes."""
    return f"{press.dryer_id or ''}{f' at {choice.setting_id}' if choice.setting_id else ''}"


def _slowed_text(choice: PressChoice) -> str:
    """What the belt makes of the press's rate: it is slower by itself, or has to be shared."""
    if choice.step_permille < FULL_RATE_PERMILLE:
        return f"slowed to {choice.rate_pcs_h}/h by the belt"
    return f"slowed to {choice.slowed_to_pcs_h}/h by the belt" if choice.slowed_to_pcs_h else ""


def _screens_text(week: Week, planned: PlannedRun, run: Run) -> str:
    """Where a run's screens come from."""
    if run.set_id is None or not week.screen_set[run.set_id].screen_count:
        return "no screens"
    if planned.burn is None:
        return "screens stand ready"
    return f"screens ready {day_and_time(week.clock.ends_at(planned.burn.tape_end_tau))}"


def order_rows(week: Week, plan: Plan, clients: Mapping[str, str] | None = None) -> tuple[OrderRow, ...]:
    """Late orders first (most late days first), then the others by when they must leave, then what is not planned.

    clients: names by order, for orders the week knows nothing of but that they are not planned.
    """
    waiting = {one.order_id for one in plan.pencilled.orders}
    planned = [
        _order_row(week, plan, order)
        for order in week.orders
        if order.order_id in plan.order and order.order_id not in waiting
    ]
    planned.sort(key=lambda row: (-row.late_days, row.must_leave_at or week.clock.now, row.order_id))
    return (*planned, *_pencilled_rows(week, plan), *not_planned_rows(week, plan, clients or {}))


def _pencilled_rows(week: Week, plan: Plan) -> list[OrderRow]:
    """Orders that are pencilled in, those that need their yes first first."""
    whole = plan.with_pencilled
    waiting = [one for one in plan.pencilled.yes if one.latest_tau is not None and one.order_id in week.order]
    return [
        replace(
            _order_row(week, whole, week.order[one.order_id]),
            state=PENCILLED,
            late_days=0,
            late_cents=0,
            why=pencilled_text(week, one),
        )
        for one in sorted(waiting, key=lambda one: (one.latest_tau or 0, one.order_id))
        if one.order_id in whole.order and all(run_id in whole.run for run_id in week.order[one.order_id].run_ids)
    ]


def not_planned_rows(week: Week, plan: Plan, clients: Mapping[str, str]) -> tuple[OrderRow, ...]:
    """Orders and runs that are not planned, with why; of one that waits also why it is not pencilled in."""
    found = []
    no_place = {one.order_id: f"not pencilled in: {one.why}" for one in plan.pencilled.yes if one.why}
    for one in week.not_planned:
        order, run = week.order.get(one.order_id), week.run.get(one.run_id) if one.run_id else None
        found.append(
            OrderRow(
                order_id=one.order_id,
                client=order.client if order else clients.get(one.order_id, ""),
                firmness=order.firmness if order else "",
                pieces=run.pieces if run else 0,
                locations=run.location if run else (one.run_id or "").removeprefix(one.order_id).strip(),
                must_leave_at=week.clock.ends_at(order.pickups_tau[order.must_leave]) if order else None,
                packed_at=None,
                leaves_at=None,
                late_days=0,
                late_cents=0,
                late="",
                state=one.kind,
                why="; ".join(filter(None, (*one.reasons, no_place.get(one.order_id)))),
            )
        )
    return tuple(found)


def _order_row(week: Week, plan: Plan, order: OrderDue) -> OrderRow:
    packed_tau = plan.order[order.order_id].packed_tau
    missed = pickups_missed(order, packed_tau)
    runs = [week.run[run_id] for run_id in order.run_ids if run_id in week.run]
    lots = {part.lot_id: part.pieces for run in runs for part in run.parts}
    pick_up = next((tau for tau in order.pickups_tau if tau >= packed_tau), None)
    why = _what_decides(week, plan, order)
    clock = week.clock
    return OrderRow(
        order_id=order.order_id,
        client=order.client,
        firmness=order.firmness,
        pieces=sum(lots.values()),
        locations=listed(list(dict.fromkeys(run.location for run in runs))),
        must_leave_at=clock.ends_at(order.pickups_tau[order.must_leave]),
        packed_at=clock.ends_at(packed_tau),
        leaves_at=clock.ends_at(pick_up) if pick_up is not None else None,
        late_days=missed,
        late_cents=missed * order.late_cents,
        late=late(missed),
        state="planned",
        why=f"its date had passed before this plan; {why}" if order.is_past_due else why,
    )


def _what_decides(week: Week, plan: Plan, order: OrderDue) -> str:
    """The run that ends an order last, and why it stands where it stands."""
    runs = [plan.run[run_id] for run_id in order.run_ids if run_id in plan.run]
    if not runs:
        return ""
    last = max(runs, key=lambda one: (one.print_end_tau + week.run[one.run_id].cure_min, one.run_id))
    run = week.run[last.run_id]
    press = week.press[last.press_id]
    ends = day_and_time(week.clock.ends_at(last.print_end_tau))
    queue = plan.queue[last.press_id]
    at = queue.index(last)
    before = week.run[queue[at - 1].run_id] if at else None
    told = f"{run.location} comes off {press.name} {ends}"
    after = [
        one
        for one, step in zip(plan.order[order.order_id].stations, order.stations, strict=False)
        if not step.is_before
    ]
    if after:
        back = day_and_time(week.clock.ends_at(after[-1].end_tau))
        told = f"back from {week.station[after[-1].station_id].name} {back}; {told}"
    if before is not None and before.order_id != order.order_id:
        told += f", after {before.order_id} {before.location}"
    return f"{told}: {last.reason}" if last.reason else told


def staging_rows(week: Week, plan: Plan) -> tuple[StagingRow, ...]:
    """Carts to put together, in the order they are staged; empty where the shop plans no staging."""
    found = []
    for planned in sorted(plan.runs, key=lambda one: (one.stage_start_tau, one.set_up_start_tau, one.run_id)):
        if planned.stage_start_tau == planned.stage_end_tau:
            continue
        run, press = week.run[planned.run_id], week.press[planned.press_id]
        stack = run.on_press[planned.press_id].stack
        inks = list(dict.fromkeys(week.ink[head.ink_id].name for head in stack.heads))
        found.append(
            StagingRow(
                start_at=week.clock.starts_at(planned.stage_start_tau),
                end_at=week.clock.ends_at(planned.stage_end_tau),
                needed_at=week.clock.starts_at(planned.set_up_start_tau),
                press_id=press.press_id,
                press_name=press.name,
                run_id=run.run_id,
                order_id=run.order_id,
                client=week.order[run.order_id].client,
                location=run.location,
                garments=listed([f"{part.pieces} {part.garment}" for part in run.parts]),
                screens=len({head.screen_id for head in stack.heads}),
                inks=listed(inks),
                pallet=stack.pallet or "",
            )
        )
    return tuple(found)


def garments_text(row: QueueRow) -> str:
    """Garments of a run in one line: "48 black tee", "100 white tee and 40 ash tee"."""
    return listed([f"{pieces} {garment}" for garment, pieces, _ in row.garments])


def kept_text(row: QueueRow) -> str:
    """Inks that stay live beside a run, in one line: "white on head 3 and gold on head 5"."""
    return listed([f"{ink} on head {head}" for head, ink in row.kept])


def heads_text(row: QueueRow) -> str:
    """Heads of a run in one line: "1 white base (156) stays, 2 red (230) mount, load"."""
    told = []
    for one in row.heads:
        mesh = f" ({one.mesh})" if one.mesh else ""
        hits = f", {counted(one.hits, 'hit')}" if one.hits > 1 else ""
        told.append(f"{one.head} {one.prints}{mesh}{hits}: {one.to_do}")
    return "; ".join(told)
