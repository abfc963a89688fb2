"""The fewest fixed runs that cannot stand together, and why, in shop words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from scheduler.domain.week import AnnouncedRun, Fixing, NotPlanned, Run, Week
from scheduler.search.decoder import Decoder, Progress, Refused
from scheduler.search.genome import Genome, genes_of
from scheduler.search.state import Placed
from scheduler.search.words import from_text, listed, press_text, until_text

_KINDS = ("announced", "locked", "started")
"""Weakest first: what is announced is given up before what is locked, what has started last of all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """Fixed runs that cannot all stand; without any one of them the others could."""

    run_ids: tuple[str, ...]
    sentence: str


def smallest_clash(week: Week) -> Clash | None:
    """A smallest set of fixed runs that cannot stand together, None if all fixed runs can.

    One run after the other is left out; it stays out if the rest still clash (a deletion filter), announced runs first
    and started ones last. Runs are tried with no overtime and with all of it.
    """
    fixings = [fixing for fixing in week.fixings if fixing.run_id in week.run]
    lost = next((fixing for fixing in fixings if _has_no_press(week, fixing)), None)
    if lost is not None:
        return Clash(run_ids=(lost.run_id,), sentence=_no_press_sentence(week, lost))
    if not fixings or _stand(week, fixings):
        return None
    kept = sorted(fixings, key=lambda f: (_KINDS.index(f.kind), -(f.set_up_start_tau or 0), f.run_id))
    for fixing in list(kept):
        rest = [other for other in kept if other is not fixing]
        if not _stand(week, rest):
            kept = rest
    kept.sort(key=lambda f: (f.set_up_start_tau or 0, f.run_id))
    return Clash(run_ids=tuple(fixing.run_id for fixing in kept), sentence=_sentence(week, kept))


def without_clashes(week: Week) -> Week:
    """The week without the orders whose fixed runs cannot stand; they move to `not_planned` with the reason.

    Of each smallest clash the order of the latest fixed run goes that has no started run. If all of them have started
    runs, the week comes back with the clash still in it.
    """
    while (clash := smallest_clash(week)) is not None:
        started = {week.run[f.run_id].order_id for f in week.fixings if f.kind == "started" and f.run_id in week.run}
        free = [run_id for run_id in clash.run_ids if week.run[run_id].order_id not in started]
        if not free:
            return week
        week = _without_order(week, week.run[free[-1]], clash.sentence)
    return week


def with_announced_loosened(week: Week) -> tuple[Week, tuple[str, ...]]:
    """The week in which runs announced for a minute at which they cannot stand any more are only announced, and which.

    Of each smallest clash the latest announced run is let go; a clash without one goes as in `without_clashes`.
    """
    loose: list[str] = []
    while (clash := smallest_clash(week)) is not None:
        announced = [run_id for run_id in clash.run_ids if week.fixing[run_id].kind == "announced"]
        if not announced:
            return without_clashes(week), tuple(loose)
        week = _only_announced(week, announced[-1])
        loose.append(announced[-1])
    return week, tuple(loose)


def _only_announced(week: Week, run_id: str) -> Week:
    fixing = week.fixing[run_id]
    assert fixing.press_id is not None
    assert fixing.set_up_start_tau is not None
    told = AnnouncedRun(run_id=run_id, press_id=fixing.press_id, set_up_start_tau=fixing.set_up_start_tau)
    fixings = tuple(one for one in week.fixings if one is not fixing)
    return replace(week, fixings=fixings, announced=(*week.announced, told))


def _without_order(week: Week, run: Run, sentence: str) -> Week:
    gone = {one.run_id for one in week.runs if one.order_id == run.order_id}
    told = NotPlanned(order_id=run.order_id, run_id=run.run_id, reasons=(sentence,), kind="clash")
    return replace(
        week,
        runs=tuple(
            replace(one, print_after=tuple(run_id for run_id in one.print_after if run_id not in gone))
            for one in week.runs
            if one.run_id not in gone
        ),
        orders=tuple(order for order in week.orders if order.order_id != run.order_id),
        fixings=tuple(fixing for fixing in week.fixings if fixing.run_id not in gone),
        announced=tuple(one for one in week.announced if one.run_id not in gone),
        not_planned=(*week.not_planned, told),
    )


def _has_no_press(week: Week, fixing: Fixing) -> bool:
    choice = week.run[fixing.run_id].on_press.get(fixing.press_id) if fixing.press_id is not None else None
    if fixing.press_id is None:
        return False
    return choice is None or choice.heads_needed > week.press[fixing.press_id].head_count


def _no_press_sentence(week: Week, fixing: Fixing) -> str:
    name = press_text(week, fixing.press_id) if fixing.press_id in week.press else fixing.press_id
    return f"{fixing.run_id} is {fixing.kind} on {name}, which it does not fit"


def _stand(week: Week, fixings: Sequence[Fixing]) -> bool:
    return _timed(week, fixings) is not None


def _timed(week: Week, fixings: Sequence[Fixing]) -> dict[str, Placed] | None:
    """Where these runs are if only they are fixed, None if they cannot all be placed."""
    decoder = Decoder(replace(week, fixings=tuple(fixings)))
    for bought in dict.fromkeys((frozenset[str](), frozenset(block.block_id for block in week.overtime))):
        begun = decoder.begin(genes_of(decoder.tables, Genome(order=(), overtime=bought)))
        if isinstance(begun, Progress):
            numbered = zip(decoder.tables.runs, begun.state.placed, strict=True)
            return {run.run_id: one for run, one in numbered if one is not None}
        assert isinstance(begun, Refused)
    return None


def _sentence(week: Week, clash: Sequence[Fixing]) -> str:
    if len(clash) == 1:
        return _alone_sentence(week, clash[0])
    if len(clash) > 2:
        names = listed([_told(week, fixing) for fixing in clash])
        return f"{names} cannot all stand"
    first, second = clash
    run, other = week.run[first.run_id], week.run[second.run_id]
    if first.press_id is not None and first.press_id == second.press_id:
        placed = (_timed(week, [first]) or {}).get(first.run_id)
        if placed is not None and placed.end_tau > (second.set_up_start_tau or 0):
            there = "started there" if first.kind == "started" else f"{first.kind} there too"
            until = until_text(week, placed.end_tau)
            return f"{_told(week, second)}, but {first.run_id}, {there}, prints until {until}"
        return f"{_told(week, second)}, which leaves it too little time after {first.run_id} there"
    both = f"{_told(week, first)} and {_told(week, second)}"
    if run.set_id is not None and run.set_id == other.set_id:
        return f"{both}, but there is one set of screens for both"
    if run.lot_ids & other.lot_ids:
        return f"{both}, but both print on the same garments"
    if units := _too_few_flashes(week, first, second):
        return f"{both}, but there {'is one flash' if units == 1 else f'are {units} flashes'} for both"
    return f"{both}: people, belt and screen room cannot do both"


def _too_few_flashes(week: Week, first: Fixing, second: Fixing) -> int:
    """Units of the pool two runs share if it has fewer than both need, else 0."""
    needs: dict[str, int] = {}
    for fixing in (first, second):
        pool_id = week.press[fixing.press_id].flash_pool if fixing.press_id is not None else None
        if fixing.press_id is None or pool_id is None:
            return 0
        needs[pool_id] = needs.get(pool_id, 0) + week.run[fixing.run_id].on_press[fixing.press_id].flash_units
    return next((pool.units for pool in week.flash_pools if needs.get(pool.pool_id, 0) > pool.units), 0)


def _told(week: Week, fixing: Fixing) -> str:
    where = f" on {press_text(week, fixing.press_id)}" if fixing.press_id is not None else ""
    when = f" at {from_text(week, fixing.set_up_start_tau)}" if fixing.set_up_start_tau is not None else ""
    return f"{fixing.run_id} is {fixing.kind}{where}{when}"


def _alone_sentence(week: Week, fixing: Fixing) -> str:
    """Why a run cannot stand where it is fixed even if nothing else is."""
    run, start_tau = week.run[fixing.run_id], fixing.set_up_start_tau or 0
    told = _told(week, fixing)
    if not any(_is_open(week, press_id, start_tau) for press_id in _presses(run, fixing)):
        return f"{told}, when the press is closed"
    if run.blanks_tau > start_tau and fixing.kind != "started":
        return f"{told}, but its garments are in at {from_text(week, run.blanks_tau)}"
    if run.set_id is not None and fixing.kind != "started" and not _stand(_with_screens(week, run.set_id), [fixing]):
        return f"{told}, when it cannot be set up and printed: people, hours or garments do not allow it"
    if run.set_id is not None and fixing.kind != "started":
        return f"{told}, but its screens cannot be burned, dried and taped by then"
    return f"{told}, when it cannot be set up and printed: people, hours or garments do not allow it"


def _with_screens(week: Week, set_id: str) -> Week:
    sets = tuple(replace(one, is_burned_now=True) if one.set_id == set_id else one for one in week.sets)
    return replace(week, sets=sets)


def _presses(run: Run, fixing: Fixing) -> list[str]:
    return [choice.press_id for choice in run.choices if fixing.press_id in (None, choice.press_id)]


def _is_open(week: Week, press_id: str, tau: int) -> bool:
    every_block = {block.block_id for block in week.overtime}
    windows = week.press[press_id].calendar.with_bought(every_block).windows
    return any(window.start_tau <= tau < window.end_tau for window in windows)
