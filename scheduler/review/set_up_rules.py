"""The set-up rule: each press's queue is replayed, and what a set-up takes follows from what stood there before."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.week import PressChoice, PressLine, SetUpMinutes, Stack, Week
from scheduler.review.hours import open_min, open_windows
from scheduler.review.press_rules import is_started
from scheduler.review.violation import Violation
from scheduler.review.words import end_text, run_text, start_text
from scheduler.trade.set_up import SetUpPair, pair_set_up


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUpSeen:
    """A set-up as the run before implies it: minutes, screens mounted, heads loaded, inks it may not keep.

    ink_min: of its minutes, those in which inks leave the press; 0 where the shop stated the set-up, or it has begun.
    """

    planned: PlannedRun
    press: PressLine
    implied_min: int
    ink_min: int
    mounts: int
    loads: int
    wrongly_kept: tuple[str, ...]


def replayed(week: Week, plan: Plan) -> Iterator[SetUpSeen]:
    """Every set-up in the order of its press's queue.

    A run that does not fit its press leaves nothing to reckon with: it and the run after it are passed over.
    """
    for press in week.presses:
        stands: Stack | None = press.now_on
        kept: frozenset[str] = frozenset()
        for planned in plan.queue.get(press.press_id, ()):
            run = week.run.get(planned.run_id)
            choice = run.on_press.get(press.press_id) if run else None
            if choice is not None and stands is not None:
                yield _seen(week, press, planned, choice, stands, kept)
            stands = choice.stack if choice else None
            kept = frozenset(planned.kept_inks)


def _seen(
    week: Week, press: PressLine, planned: PlannedRun, choice: PressChoice, stands: Stack, before: frozenset[str]
) -> SetUpSeen:
    after = frozenset(planned.kept_inks)
    doubled = {ink_id for ink_id, times in Counter(planned.kept_inks).items() if times > 1}
    wrong = tuple(sorted((after - _may_stay(week, stands, choice.stack, before)) | doubled))
    pair = pair_set_up(stands, choice.stack, press.set_up, week.ink)
    printed = {head.ink_id for head in choice.stack.heads}
    loads = sum(heads for _, heads in pair.loads) - len(before & printed)
    ink_min = _leave_min(week, press.set_up, pair, printed, before, after)
    minutes = _minutes(press.set_up, pair, len(before & printed)) + ink_min + choice.set_up_extra_min
    if choice.stated_set_up_min is not None:
        minutes, ink_min = choice.stated_set_up_min + choice.set_up_extra_min, 0
    mounts = pair.mounts
    if is_started(week, planned.run_id):
        minutes, ink_min, mounts, loads = week.fixing[planned.run_id].set_up_left_min or 0, 0, 0, 0
    return SetUpSeen(
        planned=planned,
        press=press,
        implied_min=minutes,
        ink_min=ink_min,
        mounts=mounts,
        loads=loads,
        wrongly_kept=wrong,
    )


def _may_stay(week: Week, old: Stack, new: Stack, before: frozenset[str]) -> set[str]:
    """Inks that do not dry, that the new run does not print, and whose screens the new run does not take over."""
    printed = {head.ink_id for head in new.heads}
    taken_over = {head.screen_id for head in new.heads}
    held_up = {head.ink_id for head in old.heads if head.screen_id in taken_over}
    free = {head.ink_id for head in old.heads} - held_up
    return {ink_id for ink_id in (free | before) - printed if ink_id in week.ink and not week.ink[ink_id].dries}


def _leave_min(
    week: Week,
    costs: SetUpMinutes,
    pair: SetUpPair,
    printed: set[str],
    before: frozenset[str],
    after: frozenset[str],
) -> int:
    """Minutes in which inks leave: one kept from now on does not; one kept so far leaves unless it stays or prints."""
    leaves = Counter(dict(pair.leaves))
    leaves.subtract(after - before)
    leaves.update(before - after - printed)
    return sum(costs.leave_min(week.ink[ink_id]) * heads for ink_id, heads in leaves.items() if ink_id in week.ink)


def _minutes(costs: SetUpMinutes, pair: SetUpPair, back: int) -> int:
    """Minutes of everything else; `back` kept inks that print again are carded in, not loaded."""
    return (
        costs.mount_min * pair.mounts
        + costs.card_min * (pair.cards + back)
        + costs.load_min * (sum(heads for _, heads in pair.loads) - back)
        + pair.pallet_min
        + pair.flash_min
        + pair.strike_off_min
    )


def set_up_follows_the_run_before(week: Week, plan: Plan) -> list[Violation]:
    """A set-up takes the minutes that follow from what stood on the press, and is worked in the press's open minutes.

    set_up_min = mount * mounts + card * cards + load * loads + sum of leave + pallet + flash + test print + approval,
    or the stated minutes, or what a started run still needs; open press minutes in [set_up_start, set_up_end) =
    set_up_min; inks kept are such as may stay.
    """
    found = []

    def tell(planned: PlannedRun, what: str) -> None:
        found.append(
            Violation(
                rule="set_up_follows_the_run_before",
                run_id=planned.run_id,
                press_id=planned.press_id,
                at_tau=planned.set_up_start_tau,
                message=f"set-up of {run_text(week, planned.run_id)} {what}",
            )
        )

    for seen in replayed(week, plan):
        if seen.wrongly_kept:
            tell(seen.planned, f"keeps {', '.join(seen.wrongly_kept)} on {seen.press.name}, which may not stay there")
        elif seen.planned.set_up_min != seen.implied_min:
            tell(
                seen.planned,
                f"is said to take {seen.planned.set_up_min} min; after what stood on {seen.press.name} it takes "
                f"{seen.implied_min}",
            )
    for planned in plan.runs:
        press = week.press.get(planned.press_id)
        if press is None:
            continue  # fits_its_press
        start, end = planned.set_up_start_tau, planned.set_up_end_tau
        worked = open_min(open_windows(press.calendar, plan), start, end)
        if worked != planned.set_up_min or end < start or (end > start and not planned.set_up_min):
            tell(
                planned,
                f"has {worked} open minutes from {start_text(week, start)} to {end_text(week, end)}, it takes "
                f"{planned.set_up_min}",
            )
    return found
