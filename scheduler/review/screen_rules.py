"""Rules of the screen room: burning, drying, taping, and what is finite beside frames."""

from __future__ import annotations

from itertools import combinations

from scheduler.domain.plan import Burn, Plan
from scheduler.domain.week import ScreenRoomLine, Week
from scheduler.review.hours import open_min, open_windows, stops_inside
from scheduler.review.uses import Use, all_uses, burns, needs_burn, uses_in_order
from scheduler.review.violation import Violation
from scheduler.review.words import end_text, press_text, run_text, start_text


def screens_stand_ready(week: Week, plan: Plan) -> list[Violation]:
    """A set-up starts with its screens burned, dry and taped; a set is burned when it must be, and only then.

    Burn iff: first use of a set neither burned now nor started, or a reclaim after the use before. Worked burn_min from
    >= art_tau and >= end of that reclaim's block, over no stop longer than idle_ok_min; dry_tau = dry_min wall minutes
    later; taped from >= dry_tau for tape_min; tape_end <= set_up_start. A set without screens is never burned.
    """
    found = []
    with_set = set()
    for use in all_uses(week, plan):
        with_set.add(id(use.planned))
        burn, needed = use.planned.burn, needs_burn(week, use)
        name = run_text(week, use.planned.run_id)
        if burn is None:
            faults = [f"{name} has no screens: set {use.screens.set_id} must be burned for it"] if needed else []
        elif not needed:
            faults = [f"set {use.screens.set_id} stands ready for {name}, yet it is burned"]
        else:
            faults = [f"set {use.screens.set_id} for {name} {what}" for what in _burn_faults(week, plan, use, burn)]
        found += [_violation(use.planned.run_id, use.planned.press_id, burn, fault) for fault in faults]
    for planned in plan.runs:
        if planned.burn is not None and id(planned) not in with_set:
            what = f"{run_text(week, planned.run_id)} needs no screens, yet a set is burned for it"
            found.append(_violation(planned.run_id, planned.press_id, planned.burn, what))
    return found


def _violation(run_id: str, press_id: str, burn: Burn | None, message: str) -> Violation:
    return Violation(
        rule="screens_stand_ready",
        run_id=run_id,
        press_id=press_id,
        at_tau=burn.start_tau if burn else None,
        message=message,
    )


def _burn_faults(week: Week, plan: Plan, use: Use, burn: Burn) -> list[str]:
    room = week.screen_room
    if room is None:
        return []
    found = _time_faults(week, plan, room, use, burn)
    earliest = week.run[use.planned.run_id].art_tau
    if burn.start_tau < earliest:
        found.append(f"is burned {start_text(week, burn.start_tau)}, the art is there {start_text(week, earliest)}")
    ends = {block.block_id: block.end_tau for block in room.reclaim_blocks}
    for reclaim in use.reclaims:
        back = ends.get(reclaim.block_id)
        if back is not None and burn.start_tau < back:
            found.append(
                f"is burned {start_text(week, burn.start_tau)}, it is reclaimed by {end_text(week, back)} only"
            )
    if use.planned.set_up_start_tau < burn.tape_end_tau:
        found.append(
            f"is taped by {end_text(week, burn.tape_end_tau)}, set-up starts "
            f"{start_text(week, use.planned.set_up_start_tau)} before it"
        )
    return found


def _time_faults(week: Week, plan: Plan, room: ScreenRoomLine, use: Use, burn: Burn) -> list[str]:
    windows = open_windows(room.calendar, plan)
    found = []
    worked = open_min(windows, burn.start_tau, burn.end_tau)
    if worked != use.screens.burn_min or burn.end_tau < burn.start_tau:
        found.append(f"has {worked} open minutes to be burned, it takes {use.screens.burn_min}")
    for window in stops_inside(windows, burn.start_tau, burn.end_tau):
        if window.stop_before_min > room.idle_ok_min:
            found.append(
                f"waits half burned for {window.stop_before_min} min before {start_text(week, window.start_tau)}, "
                f"it may for {room.idle_ok_min}"
            )
    dry = week.clock.tau_after(burn.end_tau, room.dry_min)
    if burn.dry_tau != dry:
        found.append(f"is said to be dry {end_text(week, burn.dry_tau)}, it is {end_text(week, dry)}")
    if burn.tape_start_tau < burn.dry_tau:
        found.append(f"is taped {start_text(week, burn.tape_start_tau)}, before it is dry")
    tape_min = use.screens.tape_min
    if not tape_min:
        if not burn.tape_start_tau == burn.tape_end_tau == burn.dry_tau:
            found.append("needs no taping, it is ready the minute it is dry")
    else:
        worked = open_min(windows, burn.tape_start_tau, burn.tape_end_tau)
        if worked != tape_min or burn.tape_end_tau < burn.tape_start_tau:
            found.append(f"has {worked} open minutes to be taped, it takes {tape_min}")
    return found


def exposure_units_suffice(week: Week, plan: Plan) -> list[Violation]:
    """No more sets are being burned at once than there are exposure units; a burn that pauses keeps its unit.

    At every minute: number of burns with start <= t < end is at most exposure_units.
    """
    if week.screen_room is None:
        return []
    spans = [(burn.start_tau, burn.end_tau, 1, planned.run_id) for planned, _, burn in burns(week, plan)]
    return [
        Violation(
            rule="exposure_units_suffice",
            run_id=run_id,
            at_tau=at,
            message=f"{count} sets are being burned {start_text(week, at)}, there are "
            f"{week.screen_room.exposure_units} exposure units",
        )
        for at, count, run_id in _overfull(spans, week.screen_room.exposure_units)
    ]


def rack_has_room(week: Week, plan: Plan) -> list[Violation]:
    """Washed-out screens that dry find a place on the rack.

    At every minute: sum of screens of sets with burn end <= t < dry is at most rack_places.
    """
    if week.screen_room is None:
        return []
    spans = [
        (burn.end_tau, burn.dry_tau, screens.screen_count, planned.run_id)
        for planned, screens, burn in burns(week, plan)
    ]
    return [
        Violation(
            rule="rack_has_room",
            run_id=run_id,
            at_tau=at,
            message=f"{count} screens dry {start_text(week, at)}, the rack holds {week.screen_room.rack_places}",
        )
        for at, count, run_id in _overfull(spans, week.screen_room.rack_places)
    ]


def _overfull(spans: list[tuple[int, int, int, str]], room: int) -> list[tuple[int, int, str]]:
    """(minute, total, run) at each start at which spans (start, end, size, run) add up to more than `room`."""
    found = []
    for at in sorted({start for start, *_ in spans}):
        there = [span for span in spans if span[0] <= at < span[1]]
        total = sum(size for _, _, size, _ in there)
        if total > room:
            found.append((at, total, max(there)[3]))
    return found


def set_is_in_one_place(week: Week, plan: Plan) -> list[Violation]:
    """A screen set is on one press at a time.

    For two uses of a set: print_end of the one <= set_up_start of the other.
    """
    found = []
    for set_id, queue in uses_in_order(week, plan).items():
        for one, other in combinations(queue, 2):
            if one.print_end_tau > other.set_up_start_tau and other.print_end_tau > one.set_up_start_tau:
                found.append(
                    Violation(
                        rule="set_is_in_one_place",
                        run_id=other.run_id,
                        press_id=other.press_id,
                        at_tau=other.set_up_start_tau,
                        message=f"set {set_id} is on {press_text(week, one.press_id)} until "
                        f"{end_text(week, one.print_end_tau)}, {run_text(week, other.run_id)} mounts it on "
                        f"{press_text(week, other.press_id)} {start_text(week, other.set_up_start_tau)}",
                    )
                )
    return found
