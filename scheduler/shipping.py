"""When orders ship, told honestly: the day to say, the odds behind it, what makes it slip; and a client's own page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from scheduler.domain.chances import Chances
from scheduler.domain.orders import Order, WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.errors import InputError, Problem
from scheduler.insight.ship_days import IN_ALL, ShipDay, ship_days
from scheduler.papers.client_page import ClientView, client_calendar, client_html, client_view
from scheduler.papers.odds import basis
from scheduler.papers.text import Line, Section, file_stem
from scheduler.papers.words import LATE_MARK, day_and_time
from scheduler.safe_files import make_folder, write_text

COLLECTED = "collected"


@dataclass(frozen=True, kw_only=True)
class Outlook:
    """The day to say for every planned order of a week, at one confidence."""

    week: Week
    days: tuple[ShipDay, ...]
    clients: Mapping[str, str]
    confidence: float
    replays: int
    chances: Chances


def outlook(
    inputs: WeekInputs, week: Week, plan: Plan, *, confidence: float, replays: int, seed: int, with_slips: bool = True
) -> Outlook:
    """Live the plan through many times, with the shop's own chances or start values."""
    chances = inputs.shop.chances
    return Outlook(
        week=week,
        days=ship_days(week, plan, chances, confidence=confidence, replays=replays, seed=seed, with_slips=with_slips),
        clients={order.order_id: order.client for order in inputs.orders},
        confidence=confidence,
        replays=replays,
        chances=chances,
    )


def opening(found: Outlook) -> str:
    """How many promises hold with the asked confidence."""
    if not found.days:
        return "Nothing is planned, so there is no day to tell."
    sure = sum(day.kept >= found.confidence * day.of for day in found.days)
    return (
        f"{sure} of {len(found.days)} orders keep their promised pick-up in at least {_times(found.confidence)} "
        "weeks like this one."
    )


def sections(found: Outlook) -> tuple[Section, ...]:
    """A table of days to say, least sure promises first; what the odds rest on."""
    ordered = sorted(found.days, key=lambda day: (day.kept, day.promised_tau, day.order_id))
    table = Section(
        title="The day to say",
        sentences=(f"The day to say holds in {_times(found.confidence)} weeks like this one. {basis(found.chances)}",),
        headings=("Order", "client", "promised", "day to say", "promise kept", "what costs it most often"),
        lines=tuple(_line(found, day) for day in ordered),
    )
    return (table,) if found.days else ()


def figures(found: Outlook) -> dict[str, Any]:
    """The same for other programs: moments as local times, counts of replays."""
    clock = found.week.clock
    return {
        "confidence": found.confidence,
        "replays": found.replays,
        "chances": asdict(found.chances),
        "orders": [
            {
                "order_id": day.order_id,
                "planned": clock.ends_at(day.planned_tau).isoformat(),
                "promised": clock.ends_at(day.promised_tau).isoformat(),
                "say": None if day.say_tau is None else clock.ends_at(day.say_tau).isoformat(),
                "kept": day.kept,
                "of": day.of,
                "odds": [
                    {"pick_up": clock.ends_at(one.pickup_tau).isoformat(), "ready": one.ready, "in_20": one.in_20}
                    for one in day.odds
                ],
                "slips": [asdict(slip) for slip in day.slips],
            }
            for day in found.days
        ],
    }


def order_of(inputs: WeekInputs, order_id: str) -> Order:
    """The order of this number. Raises InputError for one that is not in the week."""
    order = next((one for one in inputs.orders if one.order_id == order_id), None)
    if order is None:
        known = ", ".join(one.order_id for one in inputs.orders[:8])
        message, hint = f"there is no order {order_id} in this week", f"write one of its orders, as {known}"
        raise InputError((Problem(file="", code="no_such_order", message=message, hint=hint),))
    return order


def view_for_client(inputs: WeekInputs, week: Week, plan: Plan, order_id: str, day: ShipDay | None) -> ClientView:
    """One order as its client may see it. Raises InputError for an order that is not in the week."""
    order = order_of(inputs, order_id)
    carrier_name = order.carrier or inputs.shop.defaults.carrier
    carrier = next((one for one in inputs.shop.carriers if one.name == carrier_name), None)
    return client_view(
        inputs.shop.name,
        order,
        [lot for lot in inputs.lots if lot.order_id == order_id],
        [one for one in inputs.imprints if one.order_id == order_id],
        week,
        plan,
        say_tau=day.say_tau if day is not None else None,
        transit_days=carrier.transit_days if carrier is not None else 0,
        is_collected=carrier_name == COLLECTED,
        causes=[slip.cause for slip in day.slips] if day is not None else (),
    )


def write_client_page(folder: Path, view: ClientView) -> tuple[Path, ...]:
    """The page and the calendar file of one order, each whole or not at all; the files written."""
    make_folder(folder)
    stem = f"order-{file_stem(view.order_id)}"
    written = [folder / f"{stem}.html"]
    write_text(written[0], client_html(view))
    calendar = client_calendar(view)
    if calendar is not None:
        written.append(folder / f"{stem}.ics")
        write_text(written[1], calendar)
    return tuple(written)


def _line(found: Outlook, day: ShipDay) -> Line:
    clock = found.week.clock
    say = "later than the planned days" if day.say_tau is None else day_and_time(clock.ends_at(day.say_tau))
    is_late = day.say_tau is None or day.say_tau > day.promised_tau
    worst = day.slips[0] if day.slips else None
    slip = worst.cause if worst is not None and IN_ALL * worst.saved >= worst.of else ""
    return Line(
        cells=(
            day.order_id,
            found.clients.get(day.order_id, ""),
            day_and_time(clock.ends_at(day.promised_tau)),
            f"{LATE_MARK} late: {say}" if is_late else say,
            f"{IN_ALL * day.kept // day.of} in {IN_ALL}",
            slip,
        )
    )


def _times(confidence: float) -> str:
    return f"{confidence * IN_ALL:g} in {IN_ALL}"
