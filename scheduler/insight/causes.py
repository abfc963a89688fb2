"""What each step of a plan hangs on: read off the finished plan, by the rules of the shop."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.domain.leads import LEAD, is_watched
from scheduler.domain.plan import Plan, PlannedRun, Reclaim
from scheduler.domain.week import Week
from scheduler.insight.steps import PACKING, SCREEN_ROOM, Step, Steps
from scheduler.insight.texts import clock_text, run_text
from scheduler.review.uses import uses_in_order

Post = tuple[str, str]
"""A role, and the press it stands at; "" away from the presses."""


@dataclass(frozen=True, slots=True)
class Cause:
    """What a step waits for until `tau`: the step that ends then, or None for something from outside.

    words: what was waited for up to `tau`, for causes without a step. gap_words: why the step did not start at once.
    """

    tau: int
    step: Step | None
    words: str = ""
    gap_words: str = "kept back for what comes after"


class Causes(Steps):
    """What the steps of one plan wait for."""

    def __init__(self, week: Week, plan: Plan) -> None:
        """Note which run stands before which on its press."""
        super().__init__(week, plan)
        self.before: dict[str, PlannedRun | None] = {}
        for queue in plan.queue.values():
            for old, new in zip((None, *queue), queue, strict=False):
                self.before[new.run_id] = old

    def last_of(self, order_id: str) -> Step:
        """The step that ends when the order is packed."""
        packed = self.plan.order[order_id]
        order = self.week.order[order_id]
        last = self.last_cured(order.run_ids)
        boxed_tau = self.cured_tau(last) + order.last_box_min
        back = self.visit(order_id, len(order.stations) - 1) if order.stations else None
        if back is not None and back.end_tau == packed.packed_tau and not order.stations[-1].is_before:
            return back
        if boxed_tau == packed.packed_tau or not order.finish_min or self.week.finishing is None:
            return Step("box", order_id, PACKING, self.cured_tau(last), packed.packed_tau, f"{order_id}: last box")
        return self.pack(order_id)

    def cause_of(self, step: Step, seen: set[Step]) -> Cause:
        """The latest of what the step needs; the work of others that ends just then where that alone explains it."""
        needed = [cause for cause in self._needs(step) if cause.tau <= step.start_tau and cause.step not in seen]
        best = max(needed, key=lambda cause: (cause.tau, cause.step is not None), default=Cause(0, None))
        if self._binds(step, best) and not self._is_led_by_print(step, best, seen):
            return best
        other = self._in_the_way(step, seen)
        if other is not None and (other.end_tau >= best.tau or step.kind == "print"):
            return Cause(other.end_tau, other)
        return best

    def _is_led_by_print(self, step: Step, cause: Cause, seen: set[Step]) -> bool:
        """True for a print whose set-up was moved up against it: nothing the set-up needs explains when that starts."""
        if step.kind != "print" or cause.step is None or cause.step.kind != "set-up":
            return False
        needed = [one for one in self._needs(cause.step) if one.tau <= cause.step.start_tau and one.step not in seen]
        latest = max(needed, key=lambda one: one.tau, default=Cause(0, None))
        return not self._binds(cause.step, latest) and self._in_the_way(cause.step, seen) is None

    def _binds(self, step: Step, cause: Cause) -> bool:
        return cause.tau >= step.start_tau or not self.is_open_between(step, cause.tau, step.start_tau)

    def _needs(self, step: Step) -> Iterator[Cause]:
        """Everything that must be over before the step starts."""
        if step.kind in ("box", "cure", "first pieces", "dry", "coat"):
            yield self._just_before(step)
        elif step.kind == "pack":
            yield from self._before_packing(step.owner_id)
        elif step.kind == "station":
            yield from self._before_visit(step)
        elif step.kind == "reclaim":
            yield from self._before_reclaim(step)
        else:
            one = self.plan.run[step.owner_id]
            yield from {
                "print": self._before_print,
                "set-up": self._before_set_up,
                "stage": self._before_staging,
                "tape": self._before_tape,
                "burn": self._before_burn,
            }[step.kind](one)

    def _just_before(self, step: Step) -> Cause:
        """What a passing of time follows on: the print behind it, the burn before it dries, the coating's hour."""
        if step.kind == "box":
            order = self.week.order[step.owner_id]
            return Cause(step.start_tau, self.cure(self.last_cured(order.run_ids)))
        if step.kind == "cure":
            return Cause(step.start_tau, self.print(self.plan.run[step.owner_id]))
        if step.kind == "first pieces":
            one = self.plan.run[step.owner_id]
            return Cause(one.set_up_end_tau, self.set_up(one), gap_words="until it prints")
        if step.kind == "dry":
            return Cause(step.start_tau, self.burn(self.plan.run[step.owner_id]))
        return Cause(step.start_tau, None, words="until the next coating")

    def _before_packing(self, order_id: str) -> Iterator[Cause]:
        order = self.week.order[order_id]
        last = max((self.plan.run[run_id] for run_id in order.run_ids), key=lambda one: one.print_start_tau)
        first = Step(
            "first pieces",
            last.run_id,
            last.press_id,
            last.print_start_tau,
            last.print_start_tau + order.finish_lag_min,
            f"first pieces of {run_text(self.week, last.run_id)}",
        )
        yield Cause(first.end_tau, first)

    def _before_visit(self, step: Step) -> Iterator[Cause]:
        """The visit before it; the last cure for the first one after the prints, the garments for the very first."""
        order = self.week.order[step.owner_id]
        is_before = order.stations[step.at].is_before
        if step.at and (order.stations[step.at - 1].is_before == is_before):
            visit = self.visit(step.owner_id, step.at - 1)
            yield Cause(visit.end_tau, visit)
        elif is_before:
            blanks_tau = max(self.week.run[run_id].blanks_tau for run_id in order.run_ids)
            yield Cause(blanks_tau, None, words=f"until the garments of {order.order_id} are in")
        else:
            last = self.last_cured(order.run_ids)
            yield Cause(self.cured_tau(last), self.cure(last))

    def _before_reclaim(self, step: Step) -> Iterator[Cause]:
        """Every order printed from the set so far, counted good."""
        run = self.week.run[step.owner_id]
        assert run.set_id is not None
        for one in uses_in_order(self.week, self.plan)[run.set_id]:
            order_id = self.week.run[one.run_id].order_id
            packed_tau = self.plan.order[order_id].packed_tau
            yield Cause(packed_tau, self.last_of(order_id), gap_words="until screens are reclaimed")
            if one.run_id == step.owner_id:
                return

    def _before_print(self, one: PlannedRun) -> Iterator[Cause]:
        # Garments first: where both end at one minute, the set-up was moved up against them.
        yield from self._garments_elsewhere(one)
        yield Cause(one.set_up_end_tau, self.set_up(one))

    def _garments_elsewhere(self, one: PlannedRun) -> Iterator[Cause]:
        """Prints on the same garments before this one, cured and rested; they reach past the set-up."""
        run = self.week.run[one.run_id]
        for other in self.plan.runs:
            mate = self.week.run[other.run_id]
            is_needed = mate.run_id in run.print_after or (mate.lot_ids & run.lot_ids and other is not one)
            free_tau = other.print_end_tau + mate.cure_min + mate.between_min
            if is_needed and one.set_up_end_tau <= free_tau <= one.print_start_tau:
                yield Cause(free_tau, self.cure(other, free_tau))

    def _before_set_up(self, one: PlannedRun) -> Iterator[Cause]:
        fixing = self.week.fixing.get(one.run_id)
        if fixing is not None and fixing.set_up_start_tau is not None:
            yield Cause(one.set_up_start_tau, None, words=f"until its {fixing.kind} time")
            return
        old = self.before[one.run_id]
        if old is not None:
            yield Cause(old.print_end_tau, self.print(old), gap_words=self.reason(one))
        if one.stage_end_tau > one.stage_start_tau:
            yield Cause(one.stage_end_tau, self.stage(one))
        else:
            yield from self._before_staging(one)
        run = self.week.run[one.run_id]
        for other in self.plan.runs:
            if run.set_id is not None and self.week.run[other.run_id].set_id == run.set_id and other is not one:
                yield Cause(other.print_end_tau, self.print(other))

    def _before_staging(self, one: PlannedRun) -> Iterator[Cause]:
        run = self.week.run[one.run_id]
        order = self.week.order[run.order_id]
        before = sum(step.is_before for step in order.stations)
        if before:
            back = self.visit(run.order_id, before - 1)
            yield Cause(back.end_tau, back)
        elif run.blanks_tau:
            yield Cause(run.blanks_tau, None, words=f"until the garments of {run.order_id} are in")
        if one.burn is not None:
            ends_taped = one.burn.tape_end_tau > one.burn.tape_start_tau
            yield Cause(one.burn.tape_end_tau, self.tape(one) if ends_taped else self.dry(one))

    def _before_tape(self, one: PlannedRun) -> Iterator[Cause]:
        yield Cause(self.burn_of(one).dry_tau, self.dry(one))

    def _before_burn(self, one: PlannedRun) -> Iterator[Cause]:
        run, burn, room = self.week.run[one.run_id], self.burn_of(one), self.week.screen_room
        if run.art_tau:
            yield Cause(run.art_tau, None, words=f"until the art of {run.order_id} is in")
        assert run.set_id is not None
        assert room is not None
        reclaim = self._reclaim_before(one, run.set_id)
        if reclaim is not None:
            block = next(block for block in room.reclaim_blocks if block.block_id == reclaim.block_id)
            words = f"reclaiming the screens of {run_text(self.week, reclaim.after_run_id)}"
            step = Step("reclaim", reclaim.after_run_id, SCREEN_ROOM, block.start_tau, block.end_tau, words)
            yield Cause(block.end_tau, step)
        for window in room.coat_windows:
            if window.ready_tau <= burn.start_tau and (frames := self._short_without(one, window.ready_tau)):
                words = f"coating {frames} frames, {clock_text(self.week, window.start_tau)}, and their drying"
                yield Cause(window.ready_tau, Step("coat", "", SCREEN_ROOM, window.start_tau, window.ready_tau, words))

    def _reclaim_before(self, one: PlannedRun, set_id: str) -> Reclaim | None:
        uses = [use.run_id for use in uses_in_order(self.week, self.plan)[set_id]]
        at = uses.index(one.run_id)
        return next(
            (r for r in self.plan.reclaims if at and r.set_id == set_id and r.after_run_id == uses[at - 1]), None
        )

    def _short_without(self, one: PlannedRun, ready_tau: int) -> str:
        """The frames that a burn would lack without what became ready at `ready_tau` or later; "" if none."""
        run, burn = self.week.run[one.run_id], self.burn_of(one)
        assert run.set_id is not None
        assert self.week.screen_room is not None
        ready = {window.window_id: window.ready_tau for window in self.week.screen_room.coat_windows}
        for class_id, count in self.week.screen_set[run.set_id].frames:
            stock = next((stock for stock in self.week.frames if stock.class_id == class_id), None)
            there = (stock.coated_now if stock else 0) + sum(
                batch.count
                for batch in self.plan.coat_batches
                if batch.class_id == class_id and ready[batch.window_id] < ready_tau
            )
            asked = count + sum(self._frames(other, class_id) for other in self._burned_before(burn.start_tau, one))
            if there < asked:
                return stock.name if stock else class_id
        return ""

    def _burned_before(self, tau: int, one: PlannedRun) -> Iterator[PlannedRun]:
        for other in self.plan.runs:
            if other.burn is not None and other.burn.start_tau <= tau and other is not one:
                yield other

    def _frames(self, one: PlannedRun, class_id: str) -> int:
        set_id = self.week.run[one.run_id].set_id
        return dict(self.week.screen_set[set_id].frames).get(class_id, 0) if set_id is not None else 0

    def _in_the_way(self, step: Step, seen: set[Step]) -> Step | None:
        """Work of others that ends just before the step starts and used people, belt or exposure unit it needs."""
        since_tau = self.closed_since(step)
        found = [
            other
            for other in self.all_work
            if since_tau <= other.end_tau <= step.start_tau
            and other not in seen
            and other.end_tau > other.start_tau
            and (other.owner_id, other.kind) != (step.owner_id, step.kind)
            and self._share(step, other)
        ]
        return max(found, key=lambda other: (other.end_tau, -other.start_tau, other.owner_id), default=None)

    def _share(self, step: Step, other: Step) -> bool:
        if step.kind == other.kind == "burn" or (step.kind == other.kind == "station" and step.place == other.place):
            return True
        if {step.kind, other.kind} <= {"print", "set-up"} and self._shares_belt(step, other):
            return True
        place, their_place = self._crew_place(step), self._crew_place(other)
        return any(
            person.can(role, place) and person.can(their_role, their_place)
            for person in self.week.people
            for role, _ in self.crew(step)
            for their_role, _ in self.crew(other)
            if not self._leads_both((role, place), (their_role, their_place), other.end_tau - 1)
        )

    def _leads_both(self, post: Post, other: Post, tau: int) -> bool:
        """True where a lead who watched the one press at this minute could have watched the other beside it."""
        if post[1] == other[1] or not (is_watched(*post) and is_watched(*other)):
            return False
        watched = sum(
            count
            for step in self.all_work
            if step.start_tau <= tau < step.end_tau
            for role, count in self.crew(step)
            if is_watched(role, self._crew_place(step))
        )
        return watched < self.week.lead_covers * sum(LEAD in person.roles for person in self.week.people)

    def _shares_belt(self, step: Step, other: Step) -> bool:
        one, two = self.week.press[step.place], self.week.press[other.place]
        return other.kind == "print" and one.dryer_id is not None and one.dryer_id == two.dryer_id

    def _crew_place(self, step: Step) -> str:
        return step.place if step.place in self.week.press else ""
