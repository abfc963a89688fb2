"""Planned from the book: the week as it stands now, a plan kept and announced, its dates beside those told before."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from scheduler import api
from scheduler.domain.orders import Imprint, Lot, WeekInputs
from scheduler.domain.plan import Pencilled, Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.shop import Shop
from scheduler.domain.week import Week
from scheduler.errors import InputError, Problem
from scheduler.record.events import that_count
from scheduler.shop_book.keeping import opened, week_of_plan
from scheduler.shop_book.learning import as_learnt, learnt_lines

if TYPE_CHECKING:
    from scheduler.book.plans import KeptPlan, PlanEntry
    from scheduler.book.weeks import KeptWeek
    from scheduler.papers.told_dates import ToldDate
    from scheduler.record.events import Event


TAUGHT_BY = 30
"""Announced plans, the last ones, whose runs teach by how much the stated figures are off: six weeks of mornings."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """The week to plan, from what is typed, announced and noted in the book at one moment.

    version, last_event: what it knows of. told: the announced plan, told_week its week; None where there is none.
    stands: the week after what was noted since.
    """

    inputs: WeekInputs
    workload: api.Workload
    version: int
    last_event: int
    told: KeptPlan | None = None
    told_week: Week | None = None
    stands: api.StandsNow | None = None

    @property
    def learnt_lines(self) -> tuple[str, ...]:
        """Which figures are the record's and not the stated ones, a line each."""
        return learnt_lines(self.workload.assumptions)

    def stands_plan(self) -> Plan | None:
        """The announced plan kept from now on; None where none is announced, or it cannot be kept."""
        if self.stands is None or self.told is None or self.told_week is None:
            return None
        return api.drift(self.stands, self.told_week, self.told.plan).plan

    def search(
        self, settings: SearchSettings, on_progress: Callable[[api.Progress], None], stop: Callable[[], bool]
    ) -> api.SearchResult:
        """A checked plan; where one is announced, never dearer than keeping it."""
        if self.stands is None or self.told is None:
            return api.plan_week(self.workload, settings, on_progress, stop)
        return api.plan_on(self.stands, self.told.plan, settings, on_progress, stop)


@dataclass(frozen=True, slots=True, kw_only=True)
class Announced:
    """A plan that was announced, and the dates it tells beside those told before."""

    entry: PlanEntry
    dates: tuple[ToldDate, ...]


def question(address: str, now: str | datetime = "", *, is_stated: bool = False) -> Question:
    """What is to be planned from the book. Raises InputError where it has no week, or one that cannot be planned.

    now: the shop's time, as typed or as a moment; "": what the clock says, or the planning moment where nothing is
    announced yet. is_stated: by the stated figures, not by what the shop's own record has come to.
    """
    from scheduler.book.happened import events_within
    from scheduler.book.happened import last_event as last
    from scheduler.book.plans import all_announced, announced_within
    from scheduler.book.weeks import week_within

    with opened(address) as book, book.reading() as connection:
        kept = week_within(connection, book.name)
        told = announced_within(connection, book.name)
        taught_by = () if is_stated else all_announced(connection, book.name, TAUGHT_BY)
        events, last_event = events_within(connection), last(connection)
        was = week_within(connection, book.name, told.entry.version) if told else kept
    moment = _moment(now, kept.inputs.shop)
    if told is None:
        shop = kept.inputs.shop
        inputs = replace(kept.inputs, shop=replace(shop, plan_from=moment or shop.plan_from))
        workload = api.build_workload(inputs)
        return Question(inputs=inputs, workload=workload, version=kept.version.number, last_event=last_event)
    inputs = _typed_since(told.inputs, was.inputs, kept.inputs)
    chances = replace(inputs.shop, chances=kept.inputs.shop.chances)
    inputs = as_learnt(replace(inputs, shop=chances), taught_by, that_count(events))
    return _after(inputs, kept, told, was, events, last_event, moment)


def keep_plan(address: str, asked: Question, plan: Plan, *, who: str, now: datetime) -> int:
    """The plan is in the book, announced to nobody yet; its number."""
    from scheduler.book.plans import keep_plan as keep

    cost_cents = api.measure(asked.workload.week, plan).cost.total
    after = asked.told.entry.number if asked.told else None
    with opened(address) as book:
        return keep(
            book,
            asked.inputs,
            plan,
            version=asked.version,
            last_event=asked.last_event,
            after=after,
            cost_cents=cost_cents,
            at=now,
            who=who,
        )


def announce(address: str, number: int | None = None, *, who: str, now: datetime) -> Announced:
    """A plan, the last one made where no number is given, is the one that counts from now on.

    Raises InputError where there is none, or another one was announced since it was made.
    """
    from scheduler.book.plans import announce as tell
    from scheduler.book.plans import last_plan, plan_within

    with opened(address) as book:
        with book.reading() as connection:
            chosen = number if number is not None else last_plan(connection, book.name)
            new = plan_within(connection, book.name, chosen)
            after = new.entry.after
            old = plan_within(connection, book.name, after) if after is not None else None
        entry = tell(book, chosen, at=now, who=who)
    dates = told_before(old, week_of_plan(old), new.inputs, week_of_plan(new), new.plan) if old else ()
    return Announced(entry=entry, dates=dates)


def announced_plan(address: str) -> KeptPlan | None:
    """The plan that counts, with the week it was made from; None where none was announced."""
    from scheduler.book.plans import announced_within

    with opened(address) as book, book.reading() as connection:
        return announced_within(connection, book.name)


def typed_frames(address: str) -> Counter[tuple[str, int]]:
    """Frames by size and mesh as the week in the book tells them."""
    from scheduler.book.weeks import load_week

    found: Counter[tuple[str, int]] = Counter()
    with opened(address) as book:
        for frames in load_week(book).inputs.shop.frames:
            found[frames.size, frames.mesh] += frames.count
    return found


def told_before(old: KeptPlan, old_week: Week, inputs: WeekInputs, week: Week, plan: Plan) -> tuple[ToldDate, ...]:
    """The firm dates of a plan beside those of the one announced before it."""
    from scheduler.papers.told_dates import told_dates

    clients = {order.order_id: order.client for order in (*old.inputs.orders, *inputs.orders)}
    return told_dates(
        old_week, replace(old.plan, pencilled=Pencilled()), week, replace(plan, pencilled=Pencilled()), clients
    )


def dates_section(dates: tuple[ToldDate, ...]) -> api.Section:
    """The orders that leave on another day than was told."""
    from scheduler.papers.told_dates import told_section

    return told_section(dates)


def dates_figures(dates: tuple[ToldDate, ...]) -> list[dict[str, Any]]:
    """The same for other programs."""
    return [
        {
            "order": one.order_id,
            "told": one.told_at.isoformat() if one.told_at else None,
            "now": one.now_at.isoformat() if one.now_at else None,
        }
        for one in dates
    ]


def _after(
    inputs: WeekInputs,
    kept: KeptWeek,
    told: KeptPlan,
    was: KeptWeek,
    events: tuple[Event, ...],
    last_event: int,
    now: datetime | None,
) -> Question:
    """The week after an announced plan: what is typed now, where the plan stands, what was noted since."""
    told_week = week_of_plan(told)
    week, plan = _still_ordered(inputs, told_week, told.plan)
    moment = now or datetime.now(ZoneInfo(inputs.shop.zone)).replace(second=0, microsecond=0)
    if kept.inputs.shop.plan_from != was.inputs.shop.plan_from:
        moment = max(moment, kept.inputs.shop.plan_from)  # the next week was brought before this one is over
    _refuse_over(told.inputs.shop, moment)
    with _gone_presses_told():
        stands = api.stands_now(inputs, week, plan, events, moment)
    return Question(
        inputs=stands.inputs,
        workload=stands.workload,
        version=kept.version.number,
        last_event=last_event,
        told=replace(told, plan=plan),
        told_week=week,
        stands=stands,
    )


@contextmanager
def _gone_presses_told() -> Iterator[None]:
    """A run that has a press which the week brought last does not have any more: told where the press is typed."""
    try:
        yield
    except InputError as refused:
        hint = (
            "give the press its id again (its name may be another), or take the run's start back: book note BOOK undo"
        )
        told = tuple(
            replace(one, file="shop.toml", column="press.id", hint=hint) if one.code == "no_such_press" else one
            for one in refused.problems
        )
        raise InputError(told) from None


def _refuse_over(shop: Shop, moment: datetime) -> None:
    """The days of the announced plan are not over yet, else nobody could say from where to go on."""
    end = shop.plan_from + timedelta(days=shop.days_ahead)
    if moment >= end:
        message = f"{moment:%Y-%m-%d %H:%M} is behind the days of the announced plan, which end {end:%Y-%m-%d %H:%M}"
        hint = "bring the new week, with its own plan_from, into the book; a command takes another time with --now"
        raise InputError((Problem(file="the book's week", code="not_planned_then", message=message, hint=hint),))


def _moment(now: str | datetime, shop: Shop) -> datetime | None:
    """The moment that is meant, by the shop's clock; None where nobody says."""
    from scheduler.inputs.faults import Faults, Place
    from scheduler.inputs.moments import moment

    zone = ZoneInfo(shop.zone)
    if isinstance(now, datetime):
        return now.astimezone(zone) if now.tzinfo else now.replace(tzinfo=zone)
    if not now:
        return None
    faults = Faults()
    read = faults.read(Place(file="--now"), now, moment(zone))
    faults.raise_if_any()
    return read


def _typed_since(planned: WeekInputs, was: WeekInputs, typed: WeekInputs) -> WeekInputs:
    """What is typed now, with orders and floor as the announced plan knew them wherever nobody typed them anew."""
    if typed == was:
        return planned
    shop = replace(typed.shop, plan_from=planned.shop.plan_from, **_floor(planned.shop, was.shop, typed.shop))
    of_plan, before, after = _by_order(planned), _by_order(was), _by_order(typed)
    kept = {
        order_id: of_plan[order_id]
        if order_id in of_plan and _untyped(before.get(order_id)) == _untyped(told)
        else told
        for order_id, told in after.items()
    }
    return replace(
        typed,
        lots=tuple(lot for lots, _ in kept.values() for lot in lots),
        imprints=tuple(imprint for _, imprints in kept.values() for imprint in imprints),
        shop=shop,
        progress=planned.progress if typed.progress == was.progress else typed.progress,
        announced=planned.announced,
    )


OfOrder = tuple[tuple[Lot, ...], tuple[Imprint, ...]]
"""Garments and print locations of an order."""


def _by_order(inputs: WeekInputs) -> dict[str, OfOrder]:
    return {
        order.order_id: (
            tuple(lot for lot in inputs.lots if lot.order_id == order.order_id),
            tuple(one for one in inputs.imprints if one.order_id == order.order_id),
        )
        for order in inputs.orders
    }


def _untyped(told: OfOrder | None) -> OfOrder | None:
    """What was typed of an order, wherever in the sheet it stands."""
    if told is None:
        return None
    lots, imprints = told
    return tuple(replace(lot, source_row=None) for lot in lots), tuple(
        replace(one, source_row=None) for one in imprints
    )


def _floor(planned: Shop, was: Shop, typed: Shop) -> dict[str, Any]:
    found: dict[str, Any] = {
        name: getattr(planned, name) for name in ("burned", "frames") if getattr(typed, name) == getattr(was, name)
    }
    stood, typed_before = ({press.press_id: press.now_on for press in shop.presses} for shop in (planned, was))
    found["presses"] = tuple(
        replace(press, now_on=stood[press.press_id])
        if press.press_id in stood and press.now_on == typed_before.get(press.press_id)
        else press
        for press in typed.presses
    )
    return found


def _still_ordered(inputs: WeekInputs, week: Week, plan: Plan) -> tuple[Week, Plan]:
    """The announced plan and its week without what was called off since."""
    from scheduler.record.standing import floor_of

    drafts = floor_of(inputs, week, plan).drafts
    if all(run.run_id in drafts for run in week.runs):
        return week, plan
    orders = {order.order_id for order in inputs.orders}
    return (
        replace(
            week,
            runs=tuple(run for run in week.runs if run.run_id in drafts),
            orders=tuple(order for order in week.orders if order.order_id in orders),
        ),
        replace(
            plan,
            runs=tuple(run for run in plan.runs if run.run_id in drafts),
            orders=tuple(order for order in plan.orders if order.order_id in orders),
            reclaims=tuple(one for one in plan.reclaims if one.after_run_id in drafts),
        ),
    )
