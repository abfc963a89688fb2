"""What holds a week up, gathered once: for the command, for pages and for other programs."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from typing import Any

from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.insight.active_period import Held, Share, bottlenecks, shares
from scheduler.insight.chain import Link, chain_reader, sentence
from scheduler.insight.doing import PRINTING, SET_UP, Level, levels, press_states, unit_times
from scheduler.insight.helps import WhatHelps, headline
from scheduler.insight.key_figures import WorkUnitTimes
from scheduler.papers.text import Line, Section
from scheduler.papers.words import LATE_MARK, counted, dryer, minutes, money, percent
from scheduler.review.activities import activities
from scheduler.review.hours import open_min, open_windows
from scheduler.review.measures import LateOrder, late_orders
from scheduler.review.words import end_text, press_text

SCREEN_ROOM, PACKING = "screen room", "packing"
SHOWN_ORDERS = 5
"""Orders whose chain is told: all late ones up to so many, else the last ones packed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PressTimes:
    """A press and its minutes up to the end of its last print."""

    press_id: str
    times: WorkUnitTimes


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """How much of something finite is used. used, there: its units times minutes over the hours in which any is used.

    full_min: minutes in which all of it is.
    """

    kind: str
    name: str
    used: int
    there: int
    most: int
    full_min: int

    @property
    def share(self) -> float:
        """Used of what is there."""
        return self.used / self.there if self.there else 0.0

    @property
    def what(self) -> str:
        """What is shared, in words."""
        if self.kind == "belt":
            return f"belt of {dryer(self.name)}"
        return {"role": f"people: {self.name}", "frames": f"frames {self.name}"}.get(self.kind, self.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """Why one order ends when it does. late: None if it keeps its promise."""

    order_id: str
    packed_tau: int
    late: LateOrder | None
    links: tuple[Link, ...]
    sentence: str


@dataclass(frozen=True, kw_only=True)
class HoldingUp:
    """Everything known about what holds a plan up. chains: one for every order, last packed first."""

    week: Week
    plan: Plan
    held: tuple[Held, ...]
    shares: tuple[Share, ...]
    presses: tuple[PressTimes, ...]
    loads: tuple[Load, ...]
    chains: tuple[Chain, ...]
    helps: WhatHelps | None = None


def holding_up(week: Week, plan: Plan, helps: WhatHelps | None = None) -> HoldingUp:
    """Read it all off the plan."""
    held = bottlenecks(_active(week, plan))
    return HoldingUp(
        week=week,
        plan=plan,
        held=held,
        shares=shares(held),
        presses=tuple(
            PressTimes(
                press_id=press.press_id,
                times=unit_times(
                    week,
                    plan,
                    press,
                    max((one.print_end_tau for one in plan.queue.get(press.press_id, ())), default=0),
                ),
            )
            for press in week.presses
        ),
        loads=tuple(_loads(levels(week, plan))),
        chains=tuple(_chains(week, plan)),
        helps=helps,
    )


def place_text(week: Week, place: str) -> str:
    """A place by its name."""
    return press_text(week, place) if place in week.press else place


def opening(found: HoldingUp, currency: str = "") -> str:
    """The one sentence a planner reads first: what would help where that was asked, else who holds the week up."""
    if found.helps is not None:
        return headline(found.helps, lambda cents: money(cents, currency))
    if not found.shares:
        return "Nothing is planned, so nothing holds anything up."
    first = found.shares[0]
    place = place_text(found.week, first.place)
    return (
        f"{place[0].upper()}{place[1:]} holds the week up longest: for {minutes(first.sole_min)} nothing else has been "
        "at work longer without a break."
    )


def sections(found: HoldingUp, currency: str = "") -> tuple[Section, ...]:
    """What holds the week up, section by section."""
    told = [_shares_section(found), _press_section(found), _load_section(found), _chain_section(found)]
    if found.helps is not None:
        told.insert(0, _helps_section(found.helps, currency))
    return tuple(section for section in told if section.lines or section.sentences)


def figures(found: HoldingUp) -> dict[str, Any]:
    """The same in figures for other programs: shop minutes, integer cents."""
    return {
        "holds": [asdict(share) for share in found.shares],
        "moving": [asdict(one) for one in found.held],
        "presses": [
            {
                "press_id": one.press_id,
                **asdict(one.times),
                "allocation": one.times.allocation,
                "utilization": one.times.utilization,
                "availability": one.times.availability,
                "set_up_share": one.times.set_up_share,
                "technical": one.times.technical,
            }
            for one in found.presses
        ],
        "loads": [{**asdict(load), "share": load.share} for load in found.loads],
        "chains": [
            {
                "order_id": one.order_id,
                "packed_tau": one.packed_tau,
                "late_days": one.late.pickups_missed if one.late else 0,
                "sentence": one.sentence,
                "links": [asdict(link) for link in one.links],
            }
            for one in found.chains
        ],
        "helps": None if found.helps is None else asdict(found.helps),
    }


def _active(week: Week, plan: Plan) -> dict[str, list[tuple[int, int]]]:
    """Unbroken active periods of each press, the screen room and packing; closed hours do not break them."""
    found: dict[str, list[tuple[int, int]]] = {}
    for press in week.presses:
        worked = [
            (state.start_tau, state.end_tau)
            for state in press_states(week, plan, press)
            if state.state in (PRINTING, SET_UP)
        ]
        found[press.press_id] = _joined(worked, _opens(week, plan, press.press_id))
    for place, kinds in ((SCREEN_ROOM, ("burning", "taping")), (PACKING, ("packing",))):
        worked = sorted(stretch for one in activities(week, plan) if one.kind in kinds for stretch in one.stretches)
        found[place] = _joined(worked, _opens(week, plan, place))
    return found


def _opens(week: Week, plan: Plan, place: str) -> Callable[[int, int], bool]:
    """Whether a place has an open minute between two minutes."""
    line = week.press.get(place) or (week.screen_room if place == SCREEN_ROOM else week.finishing)
    windows = open_windows(line.calendar, plan) if line is not None else ()
    return lambda start, end: open_min(windows, start, end) > 0


def _joined(periods: list[tuple[int, int]], is_open: Callable[[int, int], bool]) -> list[tuple[int, int]]:
    joined: list[tuple[int, int]] = []
    for start, end in periods:
        if joined and (start <= joined[-1][1] or not is_open(joined[-1][1], start)):
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    return joined


def _loads(found: tuple[Level, ...]) -> Iterator[Load]:
    """Load against capacity over the minutes in which any of a thing is used, by kind and name."""
    for kind, name in dict.fromkeys((level.kind, level.name) for level in found):
        mine = [level for level in found if (level.kind, level.name) == (kind, name)]
        yield Load(
            kind=kind,
            name=name,
            used=sum(level.used * (level.end_tau - level.start_tau) for level in mine),
            there=sum(level.there * (level.end_tau - level.start_tau) for level in mine),
            most=max(level.used for level in mine),
            full_min=sum(level.end_tau - level.start_tau for level in mine if level.used >= level.there),
        )


def _chains(week: Week, plan: Plan) -> Iterator[Chain]:
    read = chain_reader(week, plan)
    late = {one.order_id: one for one in late_orders(week, plan)}
    for packed in sorted(plan.orders, key=lambda one: (-one.packed_tau, one.order_id)):
        links = read(packed.order_id)
        yield Chain(
            order_id=packed.order_id,
            packed_tau=packed.packed_tau,
            late=late.get(packed.order_id),
            links=links,
            sentence=sentence(week, week.order[packed.order_id], links),
        )


def _shares_section(found: HoldingUp) -> Section:
    return Section(
        title="Who holds the week up",
        sentences=(
            "At each moment it is whoever has been at work longest without a break; where one such stretch runs into "
            "the next, both share it.",
        ),
        headings=("Place", "alone", "shared"),
        lines=tuple(
            Line(cells=(place_text(found.week, one.place), minutes(one.sole_min), minutes(one.shifting_min)))
            for one in found.shares
        ),
        right=frozenset({1, 2}),
    )


def _press_section(found: HoldingUp) -> Section:
    return Section(
        title="Presses up to their last print",
        headings=("Press", "open", "printing", "set-up", "waiting", "printing of open hours"),
        lines=tuple(
            Line(
                cells=(
                    press_text(found.week, one.press_id),
                    minutes(one.times.planned_min),
                    minutes(one.times.print_min),
                    minutes(one.times.set_up_min),
                    minutes(one.times.delay_min),
                    f"{one.times.availability:.0%}",
                )
            )
            for one in found.presses
            if one.times.planned_min
        ),
        right=frozenset(range(1, 6)),
    )


def _load_section(found: HoldingUp) -> Section:
    """What is shared: of the hours in which any of it is in use."""
    return Section(
        title="What is shared",
        sentences=("Of the hours in which any of it is in use.",),
        headings=("What", "in use", "all of it in use for"),
        lines=tuple(Line(cells=(load.what, percent(load.share), minutes(load.full_min))) for load in found.loads),
        right=frozenset({1, 2}),
    )


def _chain_section(found: HoldingUp) -> Section:
    late = [one for one in found.chains if one.late is not None]
    shown = sorted(late, key=lambda one: -_late_min(one)) if late else list(found.chains)
    more = len(shown) - SHOWN_ORDERS
    return Section(
        title="Why late orders are late" if late else "Why the last orders end when they do",
        sentences=tuple(_chain_text(found.week, one) for one in shown[:SHOWN_ORDERS])
        + ((f"... and {counted(more, 'other order')}; --json tells all.",) if more > 0 else ()),
    )


def _late_min(one: Chain) -> int:
    return one.packed_tau - one.late.must_leave_tau if one.late else 0


def _chain_text(week: Week, one: Chain) -> str:
    if one.late is None:
        return f"{one.sentence}."
    must = end_text(week, one.late.must_leave_tau)
    return f"{LATE_MARK} {one.sentence}; it should have left {must}: late."


def _helps_section(helps: WhatHelps, currency: str) -> Section:
    useful = [one for one in helps.helps if one.saved_cents]
    useless = [one for one in helps.helps if not one.saved_cents]
    told = [f"Compared with the best plan that as many tries find without it: {money(helps.cost_cents, currency)}."]
    if useless:
        told.append(f"Saves nothing this week: {'; '.join(one.words for one in useless)}.")
    if not helps.is_whole:
        told.append("The time was up before everything was tried.")
    return Section(
        title="What one thing more would save",
        sentences=tuple(told),
        headings=("One thing more", "late days", "money", "at most"),
        lines=tuple(
            Line(
                cells=(
                    one.words,
                    str(one.saved_late_days),
                    money(one.saved_cents, currency),
                    money(one.most_saved_cents, currency),
                )
            )
            for one in useful
        ),
        right=frozenset({1, 2, 3}),
    )
