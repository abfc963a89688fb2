"""The page a client gets about one order: what is being made, how far it is, when it comes. Nothing of anybody else.

It is made from a view that holds this one order and nothing more: no prices, no people, no presses, no other orders.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cache
from pathlib import Path

from icalendar import Calendar, Event
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from scheduler.domain.orders import Imprint, Lot, Order
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.papers.words import listed, long_day

DONE, NEXT = "done", "to come"

KIND_WORDS = {
    "set-ups that take longer": "a first print that takes longer to get right",
    "prints that take longer": "printing that takes longer than planned",
    "reprints": "pieces that have to be printed again",
    "broken screens": "a screen that has to be made again",
    "press stops": "a machine that stops",
    "late garments": "garments that reach us late",
    "late art": "an answer about the artwork that reaches us late",
}
"""What could still move the day, as a client hears it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Milestone:
    """One step of an order: what, on which day (None: not known yet), done or to come."""

    what: str
    day: date | None
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientView:
    """One order as its client may see it.

    garments: (words, pieces, sizes). prints: (location, inks, size in words). day: the day to expect it, None while it
    waits for something. day_words: "leaves us", "ready to be collected" or "in your hands". moves: what could still
    move the day.
    """

    shop_name: str
    order_id: str
    client: str
    garments: tuple[tuple[str, int, str], ...]
    prints: tuple[tuple[str, str, str], ...]
    milestones: tuple[Milestone, ...]
    day: date | None
    day_words: str
    waits_for: tuple[str, ...]
    moves: tuple[str, ...]
    made_at: datetime


def client_view(
    shop_name: str,
    order: Order,
    lots: Iterable[Lot],
    imprints: Iterable[Imprint],
    week: Week,
    plan: Plan,
    *,
    say_tau: int | None,
    transit_days: int,
    is_collected: bool,
    causes: Iterable[str] = (),
) -> ClientView:
    """What one client may see. lots, imprints: those of this order. say_tau: the pick-up to tell, None if none is sure.

    The day of an order that waits, or is not planned, stays open.
    """
    own_lots, own_prints = list(lots), list(imprints)
    waits = _waits(own_lots, own_prints, order)
    leaves = week.clock.ends_at(say_tau).date() if say_tau is not None and not waits else None
    day_words = "ready to be collected" if is_collected else "in your hands" if transit_days else "leaves us"
    day = leaves + timedelta(days=0 if is_collected else transit_days) if leaves is not None else None
    return ClientView(
        shop_name=shop_name,
        order_id=order.order_id,
        client=order.client,
        garments=tuple((lot.garment, lot.pieces, lot.sizes) for lot in own_lots),
        prints=tuple(
            (one.location, listed([ink.name for ink in one.inks]) if one.inks else "", _size(one)) for one in own_prints
        ),
        milestones=(*_milestones(own_lots, own_prints, order, week, plan), _leaving(leaves, is_collected)),
        day=day,
        day_words=day_words,
        waits_for=waits,
        moves=tuple(dict.fromkeys(KIND_WORDS[cause] for cause in causes if cause in KIND_WORDS)),
        made_at=week.clock.now,
    )


def client_html(view: ClientView) -> str:
    """The page: one file that needs nothing else, prints on A4 and Letter, and holds no script."""
    return _environment().get_template("client.html").render(view=view)


def client_calendar(view: ClientView) -> str | None:
    """The day as a calendar file (RFC 5545), an event of a whole day; None while there is no day."""
    if view.day is None:
        return None
    calendar = Calendar()
    calendar.add("prodid", "-//Pressweek//client page//EN")
    calendar.add("version", "2.0")
    event = Event()
    event.add("uid", f"order-{view.order_id}@pressweek")
    event.add("dtstamp", view.made_at)
    event.add("dtstart", view.day)
    event.add("dtend", view.day + timedelta(days=1))
    event.add("summary", f"{view.order_id}: {view.day_words}")
    event.add("transp", "TRANSPARENT")
    calendar.add_component(event)
    text: str = calendar.to_ical().decode("utf-8")
    return text


def _waits(lots: list[Lot], prints: list[Imprint], order: Order) -> tuple[str, ...]:
    """What the client, or a supplier, still owes the shop."""
    found = ["your deposit"] if order.is_waiting_for_deposit else []
    if any(one.is_waiting_for_art for one in prints):
        found.append("your word on the artwork")
    if any(lot.is_waiting for lot in lots):
        theirs = any(lot.is_waiting and lot.from_client for lot in lots)
        found.append("your garments" if theirs else "the garments")
    return (*found, *(["an answer from you"] if order.untold else []))


def _milestones(lots: list[Lot], prints: list[Imprint], order: Order, week: Week, plan: Plan) -> Iterable[Milestone]:
    now = week.clock.now
    yield _arrival("Artwork", [one.art_at for one in prints], any(one.is_waiting_for_art for one in prints), now)
    yield _arrival("Garments here", [lot.blanks_at for lot in lots], any(lot.is_waiting for lot in lots), now)
    planned = [plan.run[run.run_id] for run in week.runs if run.order_id == order.order_id and run.run_id in plan.run]
    packed = plan.order.get(order.order_id)
    ends = week.clock.ends_at
    if not planned or packed is None:
        yield from (Milestone(what=what, day=None, state=NEXT) for what in ("Screens made", "Printing", "Packed"))
        return
    burned = [one.burn.tape_end_tau for one in planned if one.burn is not None]
    yield Milestone(
        what="Screens made", day=ends(max(burned)).date() if burned else None, state=NEXT if burned else DONE
    )
    first = week.clock.starts_at(min(one.print_start_tau for one in planned))
    yield Milestone(what="Printing", day=first.date(), state=NEXT)
    last = max(one.print_end_tau + week.run[one.run_id].cure_min for one in planned)
    yield Milestone(what="Cured and checked", day=ends(last).date(), state=NEXT)
    yield Milestone(what="Packed", day=ends(packed.packed_tau).date(), state=NEXT)


def _arrival(what: str, moments: list[datetime | None], is_waiting: bool, now: datetime) -> Milestone:
    """Art or garments: done if they are here, the day they come if that is known."""
    if is_waiting:
        return Milestone(what=what, day=None, state=NEXT)
    coming = [moment for moment in moments if moment is not None and moment > now]
    return Milestone(what=what, day=max(coming).date() if coming else None, state=NEXT if coming else DONE)


def _leaving(leaves: date | None, is_collected: bool) -> Milestone:
    return Milestone(what="Ready for you" if is_collected else "Leaves us", day=leaves, state=NEXT)


def _size(one: Imprint) -> str:
    if one.width_in is None or one.height_in is None:
        return ""
    return f"{one.width_in:g} x {one.height_in:g} in ({one.width_in * 2.54:.0f} x {one.height_in * 2.54:.0f} cm)"


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(Path(__file__).parent / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["long_day"] = lambda day: long_day(datetime(day.year, day.month, day.day))
    return environment
