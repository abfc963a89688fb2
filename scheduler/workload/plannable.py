"""Which runs can be planned at all: a press that fits, frames for the screens, hours that are long enough."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from scheduler.domain.calendars import Calendar
from scheduler.domain.orders import Progress
from scheduler.domain.shop import Press
from scheduler.domain.week import PressChoice, Run, ScreenSet
from scheduler.trade.belt import cure_minutes
from scheduler.workload.axis import when
from scheduler.workload.fits import Fitting
from scheduler.workload.ground import Ground
from scheduler.workload.inks import pot_life
from scheduler.workload.room_for import (
    PrintWork,
    all_bought,
    can_start_at,
    end_of_work,
    fits_somewhere,
    least_set_up_min,
    longest_min,
    most_set_up_min,
    stretches,
)
from scheduler.workload.runs import RunDraft
from scheduler.workload.stations import Visits


@dataclass(frozen=True, slots=True, kw_only=True)
class Failure:
    """Why a run cannot be planned: kind as in `NotPlanned`, reasons in words."""

    kind: str
    reasons: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class RunMaker:
    """Makes runs of drafts, or says why not. shared_sets: designs that several runs print or that stand on a press."""

    ground: Ground
    fitting: Fitting
    sets: dict[str, ScreenSet]
    lacking: dict[str, str]
    shared_sets: frozenset[str]
    visits: Visits

    def run(self, draft: RunDraft, choices: tuple[PressChoice, ...], print_after: tuple[str, ...]) -> Run:
        """The run with these choices."""
        axis, imprint = self.ground.axis, draft.imprint
        defaults = axis.shop.defaults
        idle = [one.ink.idle_ok_min for one in draft.layers if one.ink.idle_ok_min is not None]
        paid_tau = self._tau(draft.order.deposit_at)
        life_min, remix_min = pot_life(one.ink for one in draft.layers)
        return Run(
            run_id=draft.run_id,
            order_id=draft.order.order_id,
            design_id=imprint.design_id,
            location=imprint.location,
            set_id=imprint.design_id if imprint.design_id in self.sets and draft.layers else None,
            parts=draft.parts,
            choices=choices,
            blanks_tau=max(self._tau(draft.arrives), self._tau(imprint.not_before), paid_tau),
            art_tau=max(self._tau(imprint.art_at), paid_tau),
            idle_ok_min=min(idle, default=None),
            cure_min=cure_minutes(self.fitting.cure_tunnel_s(draft)),
            between_min=defaults.between_min if imprint.between_min is None else imprint.between_min,
            print_after=print_after,
            pot_life_min=life_min,
            remix_min=remix_min,
        )

    def _tau(self, moment: datetime | None) -> int:
        """Shop minute of a moment from which something is there; 0 for what is there now."""
        axis = self.ground.axis
        return 0 if moment is None else axis.clock.tau(axis.days.wall(moment))

    def plan_or_refuse(self, draft: RunDraft, print_after: tuple[str, ...]) -> Run | Failure:
        """The run, or why it cannot be planned."""
        choices = self.fitting.choices(draft)
        if not choices:
            return Failure(kind="no press", reasons=self.fitting.why_none(draft))
        if draft.imprint.design_id in self.lacking:
            return Failure(kind="no screens", reasons=(self.lacking[draft.imprint.design_id],))
        run = self.run(draft, choices, print_after)
        late = self._comes_too_late(draft) or self._no_station(draft, run) or self._no_room(draft, run)
        return Failure(kind="no time", reasons=(late,)) if late else run

    def started(self, draft: RunDraft, row: Progress) -> Run | Failure:
        """A started run: on its press whether it fits or not, screens and garments there."""
        press = self._press(row.press_id)
        choice = self.fitting.choice(draft, press)
        made = replace(choice, heads_needed=min(choice.heads_needed, press.heads))
        run = self.run(draft, (made,), ())
        calendar = self._calendar(row.press_id)
        needed = row.set_up_left_min + made.work_min
        hot, parts = self._hot(row.press_id), stretches(calendar, 0, None)
        if not fits_somewhere(parts, row.set_up_left_min, PrintWork(made.work_min, press.restart), hot):
            text = f"started on {press.name}, which has not the {needed} min left that it needs"
            return Failure(kind="no time", reasons=(text,))
        work = _work(run, made, press)
        if not can_start_at(calendar, parts[0][0].start_tau, row.set_up_left_min, work, hot):
            run = replace(run, idle_ok_min=None)
            text = "started run has no time left to rinse its inks out before a stop: see that they do not dry in"
            self.fitting.pace.notes.add("ink_stands", text, "runs", where=draft.run_id)
        return run

    def screens_ready_tau(self, run: Run) -> int | None:
        """Earliest minute at which the run's screens can stand ready; None if they cannot within the axis."""
        room = self.ground.axis.shop.screen_room
        one = self.sets.get(run.set_id or "")
        if room is None or one is None or one.is_burned_now or not one.screen_count:
            return 0
        calendar = all_bought(self.ground.benches.screens)
        burned = end_of_work(calendar, run.art_tau, one.burn_min)
        if burned is None:
            return None
        return end_of_work(calendar, self.ground.axis.clock.tau_after(burned, room.dry_min), one.tape_min)

    def can_start(self, run: Run, press_id: str, tau: int) -> bool:
        """True if the run, set up from this minute on, goes through on this press, whatever it follows."""
        press = self._press(press_id)
        choice = run.on_press[press_id]
        least = least_set_up_min(choice, press.set_up, may_stand_there=run.design_id in self.shared_sets)
        return can_start_at(self._calendar(press_id), tau, least, _work(run, choice, press), self._hot(press_id))

    def can_follow(self, run: Run, press_id: str, tau: int, before: Run) -> bool:
        """True if a run it prints after can be printed and cured by the time this one, set up from `tau`, prints.

        Judged in the run's favour: the other as early as it can be, this one's set-up as long as it can be.
        """
        press = self._press(press_id)
        most = most_set_up_min(run.on_press[press_id], press.set_up, press.heads)
        prints_at = end_of_work(all_bought(self._calendar(press_id)), tau, most)
        hot = self._hot(press_id)
        if prints_at is not None and hot is not None:
            # Overtime that nobody buys would only make it hot sooner.
            prints_at = end_of_work(hot.with_bought(()), prints_at, 0)
        from_tau = max(self.staged_from_tau(before), self.screens_ready_tau(before) or 0)
        ends = [
            end_of_work(all_bought(self._calendar(one.press_id)), from_tau, one.print_min) for one in before.choices
        ]
        earliest = min((end for end in ends if end is not None), default=None)
        if earliest is None:
            return False
        return prints_at is None or earliest + before.cure_min + before.between_min <= prints_at

    def _comes_too_late(self, draft: RunDraft) -> str | None:
        axis = self.ground.axis
        last = axis.clock.stretches[-1].wall_end_min
        for what, moment in (
            ("garments come", draft.arrives),
            ("art comes", draft.imprint.art_at),
            ("its deposit comes", draft.order.deposit_at),
            ("its ink comes", draft.imprint.not_before),
        ):
            if moment is not None and axis.days.wall(moment) >= last:
                return f"{what} {when(axis.days.aware(moment))}, after the last planned hour"
        return None

    def staged_from_tau(self, run: Run) -> int:
        """Earliest minute at which the run may be staged: its garments in, and back from stations that come first."""
        return max(run.blanks_tau, self.visits.staged_from_tau(run.order_id) or 0)

    def _no_station(self, draft: RunDraft, run: Run) -> str | None:
        least = min(choice.print_min for choice in run.choices) + run.cure_min
        return self.visits.why_not(draft.order.order_id, max(self.staged_from_tau(run), run.art_tau) + least)

    def _no_room(self, draft: RunDraft, run: Run) -> str | None:
        """Why no press has the hours for the run, with the figures; None if one has."""
        ready = self.screens_ready_tau(run)
        if ready is None:
            return "its screens cannot be burned, dried and taped within the planned hours"
        from_tau = max(ready, self.staged_from_tau(run))
        may_stand = draft.imprint.design_id in self.shared_sets
        nearest: tuple[int, PressChoice, int, int] | None = None
        for choice in run.choices:
            press = self._press(choice.press_id)
            least = least_set_up_min(choice, press.set_up, may_stand_there=may_stand)
            hours, hot = self._planned(draft, choice.press_id)
            parts = stretches(hours, from_tau, None)
            if fits_somewhere(parts, least, _work(run, choice, press), hot):
                return None
            longest = longest_min(parts)
            found = (longest - least - choice.work_min, choice, least, longest)
            nearest = found if nearest is None or found[0] > nearest[0] else nearest
        if nearest is None:
            return None
        _, choice, least, longest = nearest
        name = self._press(choice.press_id).name
        at_once = longest_min(stretches(self._calendar(choice.press_id), from_tau, run.idle_ok_min))
        if run.idle_ok_min is not None and at_once < least + choice.wash_up_min:
            return (
                f"its ink may stand {run.idle_ok_min} min in the mesh: set-up and rinsing out need at least "
                f"{least + choice.wash_up_min} min without a longer stop; "
                f"the longest stretch on {name} is {at_once} min"
            )
        start = when(self.ground.axis.clock.starts_at(min(from_tau, self.ground.axis.clock.horizon_tau - 1)))
        stop_min = choice.long_stop_min
        stops = f", and {stop_min} min more for each stop its inks may not stand" if stop_min else ""
        return (
            f"set-up and print need at least {least + choice.work_min} min{stops}; from {start} on {name} has "
            f"{longest} min left"
        )

    def _press(self, press_id: str) -> Press:
        return next(one for one in self.fitting.presses if one.press_id == press_id)

    def _hot(self, press_id: str) -> Calendar | None:
        """When a press can print, if something on it has to get hot first."""
        return self.ground.benches.prints.get(press_id)

    def _planned(self, draft: RunDraft, press_id: str) -> tuple[Calendar, Calendar | None]:
        """The press's hours and when it can print, without the room kept free; a run locked to a moment may use it."""
        if draft.imprint.lock_at:
            return self._calendar(press_id), self._hot(press_id)
        return self.ground.benches.planned[press_id], self.ground.benches.planned_prints.get(press_id)

    def _calendar(self, press_id: str) -> Calendar:
        return self.ground.benches.presses[press_id]


def _work(run: Run, choice: PressChoice, press: Press) -> PrintWork:
    """What the run asks of this press after its set-up."""
    return PrintWork(choice.work_min, press.restart, run.idle_ok_min, choice.wash_up_min, choice.re_ink_min)
