"""When an order must leave: the carrier's pick-ups on the shop axis, and the one that keeps the promise."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from scheduler.domain.orders import Order
from scheduler.domain.shop import Carrier, MoneySettings
from scheduler.domain.week import OrderDue
from scheduler.errors import InputError, Problem
from scheduler.trade.rounding import up
from scheduler.workload.assumptions import Notes
from scheduler.workload.axis import Axis
from scheduler.workload.spans import DAY_MIN, Spans, covers, intersect

COLLECTED = "collected"
SATURDAY = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class PickUps:
    """Pick-ups of one order in shop minutes, rising, and the index of the one that keeps the promise.

    is_past_due: the promised one is over. is_beyond: it lies after the last planned day.
    """

    taus: tuple[int, ...]
    must_leave: int
    is_past_due: bool = False
    is_beyond: bool = False


@dataclass(frozen=True, kw_only=True)
class Dues:
    """Works out what every order owes."""

    axis: Axis
    notes: Notes

    def due(self, order: Order, run_ids: tuple[str, ...], pieces: int) -> OrderDue:
        """The order's pick-ups, prices and packing minutes."""
        shop = self.axis.shop
        pick_ups = self.pick_ups(order)
        firmness = order.firmness or shop.defaults.firmness
        late = order.late_cents if order.late_cents is not None else _late_cents(shop.money, firmness)
        each_s = shop.defaults.finish_each_s if order.finish_each_s is None else order.finish_each_s
        if order.finish_each_s is None and each_s:
            text = f"{each_s:g} s to pack a piece assumed"
            self.notes.add("packing", text, "orders", where=order.order_id)
        if pick_ups.is_past_due:
            text = "promise already missed: the next pick-up counts as the promise"
            self.notes.add("past_due", text, "orders", where=order.order_id)
        finish_min = up(pieces * each_s / 60)
        return OrderDue(
            order_id=order.order_id,
            client=order.client,
            firmness=firmness,
            run_ids=run_ids,
            pickups_tau=pick_ups.taus,
            must_leave=pick_ups.must_leave,
            late_cents=late,
            cushion_min=0 if pick_ups.is_beyond else shop.money.cushion_min,
            cushion_cents=0 if pick_ups.is_beyond else shop.money.cushion_cents,
            finish_min=finish_min,
            finish_lag_min=shop.defaults.finish_lag_min if finish_min else 0,
            last_box_min=shop.defaults.last_box_min if finish_min else 0,
            is_past_due=pick_ups.is_past_due,
        )

    def pick_ups(self, order: Order) -> PickUps:
        """All pick-ups from now on, the axis's end last, and the last one that keeps the promise.

        Two pick-ups with no working minute between them are one. A promise that is over counts as the next pick-up.
        """
        carrier = self._carrier(order)
        promise = self._promise_wall(order, carrier)
        taus: list[int] = []
        must_leave = -1
        clock = self.axis.clock
        ends_wall = clock.stretches[-1].wall_end_min
        days = self._days_until(max(ends_wall, promise))
        beyond = False
        for wall in (wall for day in days for wall in self._at(day, order, carrier)):
            if wall > ends_wall:
                beyond = beyond or wall <= promise
                continue
            tau = clock.tau(wall)
            if tau <= 0:
                continue
            if not taus or tau > taus[-1]:
                taus.append(tau)
            if wall <= promise:
                must_leave = len(taus) - 1
        horizon = clock.horizon_tau
        if not taus or taus[-1] < horizon:
            taus.append(horizon)
        if beyond:
            return PickUps(taus=tuple(taus), must_leave=len(taus) - 1, is_beyond=True)
        if must_leave < 0:
            return PickUps(taus=tuple(taus), must_leave=0, is_past_due=True)
        return PickUps(taus=tuple(taus), must_leave=must_leave)

    def _carrier(self, order: Order) -> Carrier:
        name = order.carrier or self.axis.shop.defaults.carrier
        if order.carrier is None:
            self.notes.add("carrier", f'"{name}" assumed as carrier', "orders", where=order.order_id)
        if name.lower() == COLLECTED:
            return Carrier(name=COLLECTED, weekdays=(0, 1, 2, 3, 4, 5, 6), pick_up_min=0)
        for carrier in self.axis.shop.carriers:
            if carrier.name.lower() == name.lower():
                return carrier
        raise InputError((_no_carrier(order, name),))

    def _promise_wall(self, order: Order, carrier: Carrier) -> int:
        """Last wall minute at which the order may be handed over: by then, or by the end of that day."""
        days = self.axis.days
        transit = carrier.transit_days if order.due_kind == "in_hands" else 0
        if isinstance(order.due_at, datetime):
            local = days.aware(order.due_at)
            day = self._days_before(local.date(), transit, carrier)
            return days.wall(local) if day == local.date() else days.at(day, _minute(local))
        return days.at(self._days_before(order.due_at, transit, carrier), DAY_MIN)

    def _days_before(self, day: date, transit: int, carrier: Carrier) -> date:
        """The day a parcel must leave to arrive by `day`: transit days are days on which the carrier drives.

        Monday to Friday, and its own pick-up days; not on days for which the whole shop is closed (holidays).
        """
        if not transit:
            return day
        left = transit
        while not self._drives(day, carrier):
            day -= timedelta(days=1)
        while left:
            day -= timedelta(days=1)
            left -= self._drives(day, carrier)
        return day

    def _drives(self, day: date, carrier: Carrier) -> bool:
        return (day.weekday() < SATURDAY or day.weekday() in carrier.weekdays) and not self._is_holiday(day)

    def _is_holiday(self, day: date) -> bool:
        days = self.axis.days
        start, end = days.at(day, 0), days.at(day, DAY_MIN)
        return any(
            not one.what and days.wall(one.from_at) <= start and days.wall(one.to_at) >= end
            for one in self.axis.shop.closures
        )

    def _days_until(self, wall: int) -> list[date]:
        first, last = self.axis.days.first, self.axis.days.day_of(wall)
        return [first + timedelta(days=number) for number in range((last - first).days + 1)]

    def _at(self, day: date, order: Order, carrier: Carrier) -> list[int]:
        """Wall minutes at which the order can leave on a day, none or one."""
        days = self.axis.days
        if isinstance(order.due_at, datetime):
            wall = days.at(day, _minute(days.aware(order.due_at)))
            is_promise = wall == self._promise_wall(order, carrier)
            return [wall] if is_promise or self._open_on(day) else []
        if carrier.name == COLLECTED:
            opened = self._open_on(day)
            return [opened[-1][1]] if opened else []
        if day.weekday() not in carrier.weekdays:
            return []
        wall = days.at(day, carrier.pick_up_min)
        return [] if self._is_shut(wall) else [wall]

    def _open_on(self, day: date) -> Spans:
        """The shop's normal hours on a day; on days past the axis by its weekly hours."""
        days = self.axis.days
        whole = ((days.at(day, 0), days.at(day, DAY_MIN)),)
        if day in days.all:
            return intersect(self.axis.shop_times.normal, whole)
        hours = [one for one in self.axis.shop.hours if day.weekday() in one.weekdays]
        if not hours or self._is_holiday(day):
            return ()
        return ((days.at(day, min(one.from_min for one in hours)), days.at(day, max(one.to_min for one in hours))),)

    def _is_shut(self, wall: int) -> bool:
        """True if a closure of the whole shop (a holiday too) lies over this minute."""
        days = self.axis.days
        spans = [(days.wall(one.from_at), days.wall(one.to_at)) for one in self.axis.shop.closures if not one.what]
        return any(covers((span,), wall, wall + 1) for span in spans if span[0] < span[1])


def _minute(moment: datetime) -> int:
    return moment.hour * 60 + moment.minute


def _late_cents(money: MoneySettings, firmness: str) -> int:
    return {"firm": money.late_firm_cents, "easy": money.late_easy_cents}.get(firmness, money.late_normal_cents)


def _no_carrier(order: Order, name: str) -> Problem:
    return Problem(
        file="orders.csv" if order.carrier else "shop.toml",
        row=order.source_row if order.carrier else None,
        column="carrier",
        value=name,
        code="no_such_carrier",
        message=f"'{name}' is no carrier of the shop",
        hint=f'add it under [[carrier]] in shop.toml, or write "{COLLECTED}"',
    )
