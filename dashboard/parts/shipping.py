"""What can be told to a client about one order, from the plan alone."""

from __future__ import annotations

from dataclasses import dataclass

from dashboard.charts.picture import Picture
from dashboard.charts.ship_odds import ship_odds
from dashboard.parts.words import counted, moment
from dashboard.state import Current
from scheduler import api


@dataclass(frozen=True, kw_only=True)
class Answer:
    """sentence: what to say. beside: how it stands to the promise. waits: what is missing. runs: its prints."""

    sentence: str
    beside: str
    waits: tuple[str, ...]
    runs: tuple[dict[str, str], ...]


def answer(seen: Current, order_id: str) -> Answer:
    """Ready when, against which promise, and what is missing."""
    assert seen.plan is not None
    week, clock = seen.week, seen.week.clock
    waits = tuple(
        f"{one.run_id or 'all of it'}: {'; '.join(one.reasons)}" for one in week.not_planned if one.order_id == order_id
    )
    packed, due = seen.plan.order.get(order_id), week.order.get(order_id)
    if packed is None or due is None:
        said = "Nothing can be said yet." if waits else "It is printed: nothing of it is left to plan."
        return Answer(sentence=said, beside="It waits for:" if waits else "", waits=waits, runs=())
    leaves_tau = next((tau for tau in due.pickups_tau if tau >= packed.packed_tau), due.pickups_tau[-1])
    promised_tau = due.pickups_tau[due.must_leave]
    missed = sum(tau < packed.packed_tau for tau in due.pickups_tau[due.must_leave :])
    ready, leaves = moment(clock.ends_at(packed.packed_tau)), moment(clock.ends_at(leaves_tau))
    promise = moment(clock.ends_at(promised_tau))
    if missed:
        beside = f"▲ LATE: it must leave by {promise} and misses {counted(missed, 'pick-up')}."
    else:
        spare = clock.wall_at_end(promised_tau) - clock.wall_at_end(packed.packed_tau)
        beside = f"It must leave by {promise}: {_spare(spare)} to spare."
    if waits:
        beside += " Part of it waits:"
    return Answer(
        sentence=f"Packed {ready}; it leaves {leaves}.", beside=beside, waits=waits, runs=_runs(seen, order_id)
    )


def how_sure(seen: Current, order_id: str) -> tuple[str, Picture] | None:
    """The day to say with the odds behind it in a sentence, and the odds day by day; None where none is planned."""
    found = seen.outlook
    day = next((one for one in found.days if one.order_id == order_id), None)
    if day is None:
        return None
    clock = seen.week.clock
    times = f"{found.confidence * api.IN_ALL:g} of {api.IN_ALL}"
    if day.say_tau is None:
        said = f"No planned day is sure enough: none holds in {times} weeks like this one."
    else:
        said = f"Say {moment(clock.ends_at(day.say_tau))}: that holds in {times} weeks like this one."
    kept = api.IN_ALL * day.kept // day.of
    said += f" The promised pick-up is kept in {kept} of {api.IN_ALL}."
    if day.slips:
        said += f" What costs it most often: {day.slips[0].cause}."
    return said, ship_odds(clock, day, api.IN_ALL)


def _spare(minutes: int) -> str:
    return counted(minutes, "minute") if minutes < 90 else f"{minutes // 60} hours"


def _runs(seen: Current, order_id: str) -> tuple[dict[str, str], ...]:
    assert seen.plan is not None
    week = seen.week
    started = {one.run_id for one in week.fixings if one.kind == "started"}
    found = []
    for planned in sorted(seen.plan.runs, key=lambda one: one.print_start_tau):
        run = week.run.get(planned.run_id)
        if run is None or run.order_id != order_id:
            continue
        found.append(
            {
                "print": run.location,
                "garments": ", ".join(f"{part.pieces} {part.garment}" for part in run.parts),
                "press": week.press[planned.press_id].name,
                "prints from": moment(week.clock.starts_at(planned.print_start_tau)),
                "until": moment(week.clock.ends_at(planned.print_end_tau)),
                "so far": "on the press" if planned.run_id in started else "to come",
            }
        )
    return tuple(found)
