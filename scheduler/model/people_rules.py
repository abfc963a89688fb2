"""The rule of people: at no minute does any group of posts need more people than can fill them."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.domain.leads import post_parts
from scheduler.domain.week import Crew, Person
from scheduler.model.context import ModelContext
from scheduler.model.shared import Load, Taken, shared_by
from scheduler.model.variables import Demand, RunVars, Work

People = frozenset[int]
"""Persons by their place in the week's list."""


def people_suffice(ctx: ModelContext) -> None:
    """At every minute there are enough people who can do what is going on (a matching exists, after Hall).

    For every group of people G that is the union of those able to fill some posts: posts that only people of G can
    fill, over activities working (not paused) and reservations, <= people of G who are there. Posts and people are
    counted in parts: everybody has `lead_covers`, a lead at a press takes one (see `post_parts`).
    """
    if not ctx.week.people:
        return
    covers, demands = ctx.week.lead_covers, list(_demands(ctx))
    posts = {(role, one.place) for one in demands for role, _ in one.crew}
    posts |= {(booked.role, "") for booked in ctx.week.reservations}
    able = {post: _able(ctx, *post) for post in sorted(posts)}
    for number, group in enumerate(_groups(set(able.values()))):
        inside = {post for post, people in able.items() if people <= group}
        loads = [load for one in demands for load in _loads(one, inside, covers)]
        booked = [
            Taken(start_tau=one.start_tau, end_tau=one.end_tau, amount=one.count * covers)
            for one in ctx.week.reservations
            if (one.role, "") in inside
        ]
        away = [taken for person in sorted(group) for taken in _away(ctx, ctx.week.people[person])]
        shared_by(ctx, f"people {number}", loads, covers * len(group), [*booked, *away])


def _able(ctx: ModelContext, role: str, place: str) -> People:
    return frozenset(number for number, person in enumerate(ctx.week.people) if person.can(role, place))


def _groups(able: set[People]) -> list[People]:
    """Unions of able people that no smaller groups imply: built by adding posts that share somebody."""
    found: set[People] = set(able)
    grown = list(able)
    while grown:
        group = grown.pop()
        for people in able:
            union = group | people
            if group & people and union not in found:
                found.add(union)
                grown.append(union)
    return sorted(found, key=lambda group: (len(group), sorted(group)))


def _demands(ctx: ModelContext) -> Iterator[Demand]:
    room, staging, finishing = ctx.week.screen_room, ctx.week.staging, ctx.week.finishing
    for run in ctx.vars.runs.values():
        yield from _on_presses(run)
        if run.stage is not None and staging is not None:
            yield _off_press(run.stage, staging.crew)
        if run.burn is not None and room is not None:
            yield _off_press(run.burn.burn, room.crew)
            yield _off_press(run.burn.tape, room.crew)
    for order in ctx.vars.orders.values():
        if order.packing is not None and finishing is not None:
            yield _off_press(order.packing, finishing.crew)
        for visit in order.visits:
            if visit.work is not None:
                yield _off_press(visit.work, ctx.week.station[visit.step.station_id].crew)


def _on_presses(run: RunVars) -> Iterator[Demand]:
    for press_id, on in run.on.items():
        for crew, interval, hours, began, ended in (
            (on.press.set_up_crew, on.sets_up, on.set_up_hours, on.set_up, on.ready),
            (on.press.run_crew, on.prints, on.print_hours, on.printing, on.end),
        ):
            yield Demand(
                owner=press_id,
                place=press_id,
                crew=crew,
                hours=hours,
                interval=interval,
                began=began,
                ended=ended,
                is_alone=True,
            )


def _off_press(work: Work, crew: Crew) -> Demand:
    return Demand(
        owner=work.kind,
        place="",
        crew=crew if work.work_min else (),
        hours=work.hours,
        interval=work.interval,
        began=work.began,
        ended=work.ended,
        is_alone=False,
    )


def _loads(demand: Demand, inside: set[tuple[str, str]], covers: int) -> Iterator[Load]:
    amount = sum(
        count * post_parts(role, demand.place, covers) for role, count in demand.crew if (role, demand.place) in inside
    )
    if amount:
        yield Load(
            owner=demand.owner,
            amount=amount,
            hours=demand.hours,
            interval=demand.interval,
            began=demand.began,
            ended=demand.ended,
            is_alone=demand.is_alone,
        )


def _away(ctx: ModelContext, person: Person) -> Iterator[Taken]:
    """When a person is not there: between their windows, and in overtime that is not bought."""
    at, parts = 0, ctx.week.lead_covers
    for window in person.calendar.windows:
        block_id = window.overtime_id
        if block_id is not None and block_id not in ctx.vars.bought:
            continue
        if window.start_tau > at:
            yield Taken(start_tau=at, end_tau=window.start_tau, amount=parts)
        if block_id is not None:
            not_bought = ~ctx.vars.bought[block_id]
            yield Taken(start_tau=window.start_tau, end_tau=window.end_tau, amount=parts, condition=not_bought)
        at = window.end_tau
    if at < ctx.week.horizon_tau:
        yield Taken(start_tau=at, end_tau=ctx.week.horizon_tau, amount=parts)
