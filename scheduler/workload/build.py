"""The front door: a shop and its orders in, one planning question and everything assumed on the way out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from scheduler.domain.orders import Assumption, Progress, WeekInputs
from scheduler.domain.stations import StationStep
from scheduler.domain.week import FloorLine, NotPlanned, OrderDue, Prices, Run, Week
from scheduler.errors import InputError
from scheduler.workload.assumptions import Notes
from scheduler.workload.axis import Axis, build_axis
from scheduler.workload.dryer_settings import Curing, dryer_lines, dryer_settings, too_hot_problems
from scheduler.workload.due import Dues
from scheduler.workload.fits import Fitting
from scheduler.workload.fixed import Fixer, match_progress, what_is_left
from scheduler.workload.ground import Ground, build_ground, designs_on_presses, press_lines, screen_room_line
from scheduler.workload.inks import InkShelf, family_problems
from scheduler.workload.learnt import as_learnt
from scheduler.workload.load import PressLoad, press_loads
from scheduler.workload.people import build_people, crew_problems, reservations
from scheduler.workload.plannable import Failure, RunMaker
from scheduler.workload.rates import Pace
from scheduler.workload.runs import (
    RunDraft,
    after_runs,
    circle_problems,
    draft_runs,
    drafts_by_order,
    imprints_by_order,
    waiting_for,
)
from scheduler.workload.screens import RoomStock, ScreenStore, frame_sizes, stock_problems
from scheduler.workload.stations import Stations, Visits


@dataclass(frozen=True, kw_only=True)
class Workload:
    """A week ready to be planned, everything nobody typed, and what is believed of each press."""

    week: Week
    assumptions: tuple[Assumption, ...]
    press_loads: tuple[PressLoad, ...]


def build_workload(inputs: WeekInputs) -> Workload:
    """Turn a shop and its orders into a planning question.

    Orders that cannot be planned are in `week.not_planned` with their reasons. Raises InputError, with every Problem
    found, for faults that only show here: nobody has a role, an ink family nobody described, more screens hanging than
    there are frames, progress of a run nobody ordered.
    """
    notes = Notes()
    inputs = as_learnt(inputs, notes)
    shelf = InkShelf(shop=inputs.shop, notes=notes)
    axis = build_axis(inputs.shop)
    people = build_people(axis)
    problems = [
        *crew_problems(axis, people),
        *stock_problems(inputs.shop),
        *family_problems(shelf, ((ink, one.source_row) for one in inputs.imprints for ink in one.inks)),
    ]
    if problems:
        raise InputError(tuple(problems))
    drafts = draft_runs(inputs, shelf, axis.days, notes)
    presses = frozenset(press.press_id for press in inputs.shop.presses)
    started, problems = match_progress(inputs.progress, drafts, presses)
    sizes, size_problems = frame_sizes(drafts, inputs.shop)
    problems += [*size_problems, *circle_problems(drafts), *too_hot_problems(drafts, shelf)]
    if problems:
        raise InputError(tuple(problems))
    ground = build_ground(axis, people, notes)
    builder = _Builder(
        inputs=inputs,
        notes=notes,
        shelf=shelf,
        ground=ground,
        drafts=tuple(_left_of(draft, started) for draft in drafts if not _is_done(draft, started)),
        started=started,
        fitting=_fitting(inputs, shelf, notes, sizes, drafts),
        pieces=_pieces_to_pack(drafts),
        visits=_visits(Stations(axis=axis, calendars=ground.benches.stations, notes=notes), drafts, started),
    )
    return builder.workload()


def _fitting(
    inputs: WeekInputs, shelf: InkShelf, notes: Notes, sizes: Mapping[str, str], drafts: Iterable[RunDraft]
) -> Fitting:
    """Where runs fit; then, from who prints into which dryer, how the dryers are set."""
    plain = Fitting(
        pace=Pace(
            shelf=shelf,
            dryers={one.dryer_id: one for one in inputs.shop.dryers},
            notes=notes,
            learnt=inputs.learnt,
        ),
        presses=inputs.shop.presses,
        frame_sizes=sizes,
    )
    if all(one.heat_min is None for one in inputs.shop.dryers):
        return plain
    fits = [
        (draft, frozenset(press.press_id for press in plain.presses if not plain.refusals(draft, press)))
        for draft in drafts
    ]
    return replace(plain, curing=Curing(shelf=shelf, settings=dryer_settings(inputs.shop, shelf, fits)))


def _pieces_to_pack(drafts: Iterable[RunDraft]) -> Mapping[str, int]:
    """Pieces of each order: every garment once, however many prints it carries."""
    lots = {(draft.order.order_id, part.lot_id): part.pieces for draft in drafts for part in draft.parts}
    total: Counter[str] = Counter()
    for (order_id, _), pieces in lots.items():
        total[order_id] += pieces
    return total


def _visits(stations: Stations, drafts: tuple[RunDraft, ...], started: Mapping[str, Progress]) -> Visits:
    """Where the orders go beside the presses, and when the last of their garments are there."""
    axis, pieces = stations.axis, _pieces_to_pack(drafts)
    steps: dict[str, tuple[StationStep, ...]] = {}
    arrives_tau: Counter[str] = Counter()
    for own in drafts_by_order(drafts).values():
        order = own[0].order
        if order.before or order.after:
            has_started = any(draft.run_id in started for draft in own)
            steps[order.order_id] = stations.steps(order, pieces[order.order_id], has_started=has_started)
            arrives_tau[order.order_id] = max(
                0 if draft.arrives is None else axis.clock.tau(axis.days.wall(draft.arrives)) for draft in own
            )
    return Visits(stations=stations, steps=steps, arrives_tau=arrives_tau)


def _is_done(draft: RunDraft, started: Mapping[str, Progress]) -> bool:
    return draft.run_id in started and started[draft.run_id].pieces_left <= 0


def _left_of(draft: RunDraft, started: Mapping[str, Progress]) -> RunDraft:
    row = started.get(draft.run_id)
    return draft if row is None else what_is_left(draft, row.pieces_left)


@dataclass(frozen=True, kw_only=True)
class _Builder:
    """The order of work: runs, what is fixed, what falls out, and what is left as a week."""

    inputs: WeekInputs
    notes: Notes
    shelf: InkShelf
    ground: Ground
    drafts: tuple[RunDraft, ...]
    started: Mapping[str, Progress]
    fitting: Fitting
    pieces: Mapping[str, int]
    visits: Visits

    @property
    def _axis(self) -> Axis:
        return self.ground.axis

    def workload(self) -> Workload:
        not_planned: list[NotPlanned] = []
        maker = self._maker()
        runs = self._runs(maker, not_planned)
        fixer = self._fixed(maker, runs, not_planned)
        dropped = {one.order_id for one in not_planned}
        kept = {run_id: run for run_id, run in runs.items() if run.order_id not in dropped or run_id in self.started}
        stock = self._stock(kept)
        orders = tuple(self._order_dues(kept, dropped))
        week = self._week(kept, orders, stock, fixer, not_planned)
        return Workload(
            week=week,
            assumptions=self.notes.merged_with(self.inputs.assumptions),
            press_loads=press_loads(self.inputs.shop.presses, week.runs, self.fitting.pace),
        )

    def _store(self) -> ScreenStore:
        on_press = designs_on_presses(self.inputs.shop.presses) | {
            draft.imprint.design_id for draft in self.drafts if draft.run_id in self.started
        }
        return ScreenStore(shop=self.inputs.shop, sizes=self.fitting.frame_sizes, notes=self.notes, on_press=on_press)

    def _maker(self) -> RunMaker:
        store = self._store()
        has_room = self.inputs.shop.screen_room is not None
        uses = Counter(draft.imprint.design_id for draft in self.drafts)
        return RunMaker(
            ground=self.ground,
            fitting=self.fitting,
            sets={one.set_id: one for one in store.sets(self.drafts)} if has_room else {},
            lacking=store.lacking(self.drafts, can_coat=bool(self.ground.blocks.coat_windows)) if has_room else {},
            shared_sets=frozenset(design for design, count in uses.items() if count > 1) | store.on_press,
            visits=self.visits,
        )

    def _runs(self, maker: RunMaker, not_planned: list[NotPlanned]) -> dict[str, Run]:
        """Every run that can be planned; orders that wait, or one of whose runs cannot be planned, fall out."""
        found: dict[str, Run] = {}
        imprints, lots = imprints_by_order(self.inputs), {lot.lot_id: lot for lot in self.inputs.lots}
        drafts = drafts_by_order(self.drafts)
        for order in self.inputs.orders:
            own = drafts.get(order.order_id, [])
            waits = waiting_for(order, imprints.get(order.order_id, ()), lots)
            if waits:
                not_planned.append(NotPlanned(order_id=order.order_id, run_id=None, reasons=waits, kind="waiting"))
            for draft in own:
                made = self._made(maker, draft, own)
                if isinstance(made, Run):
                    found[draft.run_id] = made
                elif not waits:
                    not_planned.append(
                        NotPlanned(order_id=order.order_id, run_id=draft.run_id, reasons=made.reasons, kind=made.kind)
                    )
        dropped = {one.order_id for one in not_planned}
        return {run_id: run for run_id, run in found.items() if run.order_id not in dropped or run_id in self.started}

    def _made(self, maker: RunMaker, draft: RunDraft, own: Iterable[RunDraft]) -> Run | Failure:
        row = self.started.get(draft.run_id)
        if row is not None:
            made = maker.started(draft, row)
            # Two presses printing one design hold two sets of screens: the second is nobody else's.
            is_second = self._is_second_set(draft)
            return replace(made, set_id=None) if is_second and isinstance(made, Run) else made
        return maker.plan_or_refuse(draft, after_runs(draft, own))

    def _is_second_set(self, draft: RunDraft) -> bool:
        """True if another run of the same design was started too, and comes first in the files."""
        same = [
            one.run_id
            for one in self.drafts
            if one.run_id in self.started and one.imprint.design_id == draft.imprint.design_id
        ]
        return same[0] != draft.run_id

    def _fixed(self, maker: RunMaker, runs: dict[str, Run], not_planned: list[NotPlanned]) -> Fixer:
        """Started runs first, then locks, then what was announced."""
        fixer = Fixer(
            axis=self._axis,
            opened=self.ground.benches.presses,
            maker=maker,
            runs=runs,
            notes=self.notes,
        )
        for run_id, row in self.started.items():
            if run_id in runs:
                fixer.start(runs[run_id], row)
        timed: set[tuple[str, str, object]] = set()
        for draft in self.drafts:
            run, imprint = runs.get(draft.run_id), draft.imprint
            if run is None or draft.run_id in self.started or not (imprint.lock_press or imprint.lock_at):
                continue
            # A locked moment is the moment of the print location's first run; its other runs keep the press only.
            key = (imprint.order_id, imprint.location, imprint.split or imprint.design_id)
            clash = fixer.lock(run, imprint.lock_press, None if key in timed else imprint.lock_at)
            timed.add(key)
            if clash:
                not_planned.append(NotPlanned(order_id=run.order_id, run_id=run.run_id, reasons=(clash,), kind="clash"))
        fixed = {one.run_id for one in fixer.fixings}
        for earlier in self.inputs.announced:
            if earlier.run_id in runs and earlier.run_id not in fixed:
                fixer.announce(runs[earlier.run_id], earlier, self.inputs.shop.dont_touch_before)
        return fixer

    def _stock(self, kept: Mapping[str, Run]) -> RoomStock:
        """Screen sets and frames of the runs that are planned; none where screens come ready from outside."""
        if self.inputs.shop.screen_room is None:
            return RoomStock()
        drafts = [draft for draft in self.drafts if draft.run_id in kept and draft.layers]
        return self._store().stock(drafts, self.ground.blocks.reclaim_blocks)

    def _order_dues(self, kept: Mapping[str, Run], dropped: set[str]) -> Iterable[OrderDue]:
        dues = Dues(axis=self._axis, notes=self.notes)
        run_ids: dict[str, list[str]] = {}
        for run_id, run in kept.items():
            run_ids.setdefault(run.order_id, []).append(run_id)
        for order in self.inputs.orders:
            if order.order_id not in run_ids:
                continue
            due = dues.due(order, tuple(run_ids[order.order_id]), self.pieces[order.order_id])
            if order.order_id in dropped:
                # Its started run goes on, but the order cannot leave: no packing, no promise to keep.
                due = replace(due, late_cents=0, cushion_cents=0, finish_min=0, finish_lag_min=0, last_box_min=0)
            elif order.order_id in self.visits.steps:
                due = replace(due, stations=self.visits.steps[order.order_id])
            yield due

    def _week(
        self,
        kept: Mapping[str, Run],
        orders: tuple[OrderDue, ...],
        stock: RoomStock,
        fixer: Fixer,
        not_planned: list[NotPlanned],
    ) -> Week:
        shop, benches = self.inputs.shop, self.ground.benches
        money = shop.money
        runs = tuple(
            replace(run, print_after=tuple(one for one in run.print_after if one in kept)) for run in kept.values()
        )
        staging = FloorLine(calendar=benches.staging, crew=shop.stage_crew, minutes=shop.stage_min)
        finishing = FloorLine(calendar=benches.finishing, crew=shop.finish_crew)
        fixings = tuple(one for one in fixer.fixings if one.run_id in kept)
        room = benches.room.beside(fixings, kept, self.notes)
        presses = press_lines(self.ground, self.shelf, self.drafts, room)
        return Week(
            clock=self._axis.clock,
            presses=presses,
            runs=runs,
            orders=orders,
            inks=self.shelf.used,
            sets=stock.sets,
            frames=stock.frames,
            screen_room=screen_room_line(self.ground),
            staging=staging if shop.stage_min else None,
            finishing=finishing if any(order.finish_min for order in orders) else None,
            stations=self.visits.stations.lines(step for order in orders for step in order.stations),
            people=self.ground.people,
            lead_covers=shop.lead_covers,
            least_stay_min=shop.least_stay_min,
            reservations=reservations(self._axis, self.ground.blocks.bookings) if self.ground.people else (),
            overtime=self._axis.overtime,
            early_reclaims=stock.early_reclaims,
            fixings=fixings,
            announced=tuple(one for one in fixer.announced if one.run_id in kept),
            prices=Prices(move_cents=money.move_cents, move_free_min=money.move_free_min),
            flash_pools=shop.flash_pools,
            dryers=dryer_lines(self._axis, self.fitting.curing.settings) if self.fitting.curing else (),
            not_planned=tuple(not_planned),
            digest=self.inputs.digest,
        )
