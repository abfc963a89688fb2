"""What a design teaches: its set-up minutes, rate and spoiled pieces as they were, drawn towards the plan's when few.

A few times say little: the mean of n times counts n / (n + K), the plan's own figure the rest (credibility theory:
H. Bühlmann, "Experience rating and credibility", ASTIN Bulletin 4, 1967) (memory). K is how much one time strays
against how much designs differ; it is read off the record once three designs have two times each, and is 2 before
(common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from math import exp, log
from statistics import fmean, median, variance

from scheduler.domain.shop import Shop
from scheduler.domain.week import Run
from scheduler.record.events import Event
from scheduler.record.runs_now import Floor, Told, at_work, heard
from scheduler.review.set_up_rules import replayed
from scheduler.workload.assumptions import Notes

K_START, K_MOST = 2.0, 50.0
ENOUGH_DESIGNS = 3
SPOILED_START, SPOILED_PIECES = 0.015, 200
"""A share of 1.5 % spoiled (one shop's policy, see trade/spoilage.py), believed as firmly as 200 pieces of one's own
(common practice, no source).
"""
SHOWN_TIMES = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Time:
    """One time a design was printed. set_up_min None: nobody noted when the strike-off was right.

    planned_*: what the plan would have said by the stated figures. tee_pcs_h, planned_tee_pcs_h: rates as they would be
    on tees. tells_*: True if the press's own figures were planned with, so that it tells something of them.
    """

    design_id: str
    run_id: str
    press_id: str
    done_at: datetime
    pieces: int
    spoiled: int
    print_min: int
    planned_print_min: int
    planned_set_up_min: int
    pcs_h: int
    tee_pcs_h: float
    planned_tee_pcs_h: float
    set_up_min: int | None = None
    tells_set_up: bool = True
    tells_rate: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Learnt:
    """What a design's times come to. times: the latest first. set_up_min, pcs_h: None where no time tells."""

    design_id: str
    times: tuple[Time, ...]
    set_up_min: int | None
    pcs_h: int | None
    spoiled_share: float


def times_of(floor: Floor, shop: Shop, events: Iterable[Event], until: datetime | None = None) -> tuple[Time, ...]:
    """Runs set up under this plan (before `until`, the moment of the next one) and done since, the latest first.

    floor: with the week as it is by the stated figures, whatever the plan went by.
    """
    counted = list(events)
    if not counted:
        return ()
    last = max(floor.aware(event.at) for event in counted)
    set_up_min = {seen.planned.run_id: seen.implied_min for seen in replayed(floor.week, floor.plan)}
    found = []
    for run_id, told in heard(floor, counted, last, Notes()).items():
        run, planned = floor.week.run.get(run_id), floor.plan.run.get(run_id)
        if run is None or planned is None or told.started_at is None or told.done_at is None or told.is_done_by_next:
            continue
        if told.started_at < floor.week.clock.now or (until is not None and told.started_at >= until):
            continue
        time = _time(floor, shop, run, told, set_up_min.get(run_id, planned.set_up_min))
        if time is not None:
            found.append(time)
    return tuple(sorted(found, key=lambda one: (one.done_at, one.run_id), reverse=True))


def _time(floor: Floor, shop: Shop, run: Run, told: Told, planned_set_up_min: int) -> Time | None:
    """One run as it was: open press minutes without its stops, pieces and spoiled ones."""
    planned = floor.plan.run[run.run_id]
    press_id = told.press_id or planned.press_id
    choice = run.on_press.get(press_id)
    if choice is None or told.started_at is None or told.done_at is None or told.done_at <= told.started_at:
        return None
    if press_id == planned.press_id:
        choice = choice.in_way(planned.way) or choice
    press = floor.week.press[press_id]
    begun, done = floor.tau(told.started_at), floor.tau(told.done_at)
    set_up_min: int | None = None
    if told.printing_at is not None:
        right = floor.tau(told.printing_at)
        set_up_min = at_work(floor, press.calendar, told, begun, right)
        print_min = at_work(floor, press.prints_in, told, right, done)
    else:
        print_min = at_work(floor, press.calendar, told, begun, done) - planned.set_up_min
    pieces = (told.good + told.spoiled) if told.good is not None else run.pieces
    if print_min <= 0 or pieces <= 0 or not choice.work_min:
        return None
    as_tees = _as_tees(run, shop)
    draft = floor.drafts[run.run_id]
    typed = draft.imprint.stated_pcs_h, draft.imprint.stated_run_min, draft.design and draft.design.actual_pcs_h
    return Time(
        design_id=run.design_id,
        run_id=run.run_id,
        press_id=press_id,
        done_at=told.done_at,
        pieces=pieces,
        spoiled=told.spoiled,
        print_min=print_min,
        planned_print_min=choice.work_min,
        planned_set_up_min=planned_set_up_min,
        pcs_h=round(60 * pieces / print_min),
        tee_pcs_h=60 * pieces / print_min * as_tees,
        planned_tee_pcs_h=60 * run.pieces / choice.work_min * as_tees,
        set_up_min=set_up_min,
        tells_set_up=choice.stated_set_up_min is None and press_id == planned.press_id,
        tells_rate=all(one is None for one in typed),
    )


def _as_tees(run: Run, shop: Shop) -> float:
    """How much quicker the run would be on tees: pieces-weighted mean of 1 / (speed of its garments against a tee)."""
    speed = {name.lower(): pct / 100 for name, pct in shop.defaults.garment_pct}
    return sum(part.pieces / speed.get(part.kind.lower(), 1.0) for part in run.parts) / max(1, run.pieces)


def learnt(times: Iterable[Time]) -> tuple[Learnt, ...]:
    """What every design's times come to, by design.

    set-up = median planned × exp(Z × mean of log(actual / planned)), rate alike, Z = n / (n + K);
    spoiled share = (spoiled + 200 × the shop's share) / (pieces + 200): the mean of a beta-binomial.
    """
    by_design: dict[str, list[Time]] = {}
    for one in sorted(times, key=lambda one: (one.done_at, one.run_id), reverse=True):
        by_design.setdefault(one.design_id, []).append(one)
    set_ups = {design: _set_up_logs(own) for design, own in by_design.items()}
    rates = {design: [log(one.tee_pcs_h / one.planned_tee_pcs_h) for one in own] for design, own in by_design.items()}
    k_set_up, k_rate = credibility_k(list(set_ups.values())), credibility_k(list(rates.values()))
    shop_share = _spoiled([one for own in by_design.values() for one in own], SPOILED_START)
    return tuple(
        Learnt(
            design_id=design,
            times=tuple(own),
            set_up_min=_drawn([one.planned_set_up_min for one in own], set_ups[design], k_set_up),
            pcs_h=_drawn([one.planned_tee_pcs_h for one in own], rates[design], k_rate),
            spoiled_share=_spoiled(own, shop_share),
        )
        for design, own in sorted(by_design.items())
    )


def _set_up_logs(own: Sequence[Time]) -> list[float]:
    return [log(one.set_up_min / one.planned_set_up_min) for one in own if one.set_up_min and one.planned_set_up_min]


def _drawn(planned: Sequence[float], logs: Sequence[float], k: float) -> int | None:
    """The planned figure, moved as far as the times are to be believed; None without any."""
    if not logs:
        return None
    trust = len(logs) / (len(logs) + k)
    return max(1, round(median(planned) * exp(trust * fmean(logs))))


def _spoiled(own: Sequence[Time], share: float) -> float:
    pieces, spoiled = sum(one.pieces for one in own), sum(one.spoiled for one in own)
    return (spoiled + SPOILED_PIECES * share) / (pieces + SPOILED_PIECES)


def credibility_k(groups: Sequence[Sequence[float]]) -> float:
    """K = variance within designs / variance between them; the start value where too few designs tell.

    Between = variance of the designs' means − within / mean number of times; where nothing is left of it, designs do
    not differ and K is as large as it gets.
    """
    told = [group for group in groups if len(group) >= 2]
    if len(told) < ENOUGH_DESIGNS:
        return K_START
    degrees = sum(len(group) - 1 for group in told)
    within = sum(variance(group) * (len(group) - 1) for group in told) / degrees
    between = variance([fmean(group) for group in told]) - within / fmean(len(group) for group in told)
    return K_MOST if between <= 0 else min(K_MOST, within / between)


def last_times(one: Learnt) -> tuple[str, ...]:
    """The last times a design was printed, four at most, a line each, the latest first."""
    told = []
    for time in one.times[:SHOWN_TIMES]:
        set_up = f"{time.set_up_min} min set-up, " if time.set_up_min is not None else ""
        told.append(
            f"{time.done_at.day} {time.done_at:%b} on {time.press_id}: {set_up}{time.pcs_h} an hour, "
            f"{time.spoiled} of {time.pieces} spoiled"
        )
    return tuple(told)
