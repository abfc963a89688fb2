"""The shop axis: everything that is open or offered as overtime, and calendars cut out of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from scheduler.domain.calendars import ALWAYS_CLOSED_BEFORE_MIN, Calendar, Window
from scheduler.domain.clock import ShopClock, Stretch
from scheduler.domain.shop import Hours, OvertimeOffer, Shop
from scheduler.domain.week import OvertimeBlock
from scheduler.errors import InputError, Problem
from scheduler.workload.spans import Days, Span, Spans, intersect, subtract, union

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def when(moment: datetime) -> str:
    """A moment in words: "Mon 2026-03-02 07:00"."""
    return f"{WEEKDAYS[moment.weekday()]} {moment.date().isoformat()} {moment:%H:%M}"


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenTimes:
    """When something is open, in wall minutes: in normal hours, and beyond them in each overtime block."""

    normal: Spans
    overtime: Mapping[str, Spans] = field(default_factory=dict)

    def with_block(self, block_id: str) -> Spans:
        """Open minutes if this block is bought."""
        return union((*self.normal, *self.overtime.get(block_id, ())))

    def and_also(self, other: OpenTimes) -> OpenTimes:
        """When both are open."""
        normal = intersect(self.normal, other.normal)
        blocks = {*self.overtime, *other.overtime}
        return OpenTimes(
            normal=normal,
            overtime={
                block: subtract(intersect(self.with_block(block), other.with_block(block)), normal) for block in blocks
            },
        )

    @property
    def ever(self) -> Spans:
        """Open minutes if every block is bought."""
        return union((*self.normal, *(span for spans in self.overtime.values() for span in spans)))


def any_of(*times: OpenTimes) -> OpenTimes:
    """When at least one is open."""
    normal = union(span for one in times for span in one.normal)
    blocks = {block for one in times for block in one.overtime}
    return OpenTimes(
        normal=normal,
        overtime={
            block: subtract(union(span for one in times for span in one.overtime.get(block, ())), normal)
            for block in blocks
        },
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """An overtime offer with its id and its wall minutes, cut at the planning moment."""

    block_id: str
    name: str
    span: Span
    offer: OvertimeOffer


@dataclass(frozen=True, kw_only=True)
class Axis:
    """The days planned over, what is open when, and the shop clock made of it."""

    shop: Shop
    days: Days
    offers: tuple[Offer, ...]
    clock: ShopClock
    shop_times: OpenTimes
    press_times: Mapping[str, OpenTimes]
    dryer_times: Mapping[str, OpenTimes]
    person_times: Mapping[str, OpenTimes]
    screens_times: OpenTimes
    packing_times: OpenTimes
    heated_before: Mapping[str, Spans]
    """By "dryer" or "press" and the id: open minutes before the planning moment, since the day before."""
    station_times: Mapping[str, OpenTimes] = field(default_factory=dict)

    def calendar(self, times: OpenTimes) -> Calendar:
        """The windows of something on the shop axis, overtime ones tagged, each within one stretch."""
        axis_spans = tuple((one.wall_start_min, one.wall_end_min) for one in self.clock.stretches)
        tagged: list[tuple[int, int, str | None]] = [(*span, None) for span in intersect(times.normal, axis_spans)]
        taken = times.normal
        for block_id, spans in times.overtime.items():
            # Blocks are meant to lie apart; where two do overlap the first one counts.
            tagged.extend((*span, block_id) for span in subtract(intersect(spans, axis_spans), taken))
            taken = union((*taken, *spans))
        windows: list[Window] = []
        last_end: int | None = None
        for start, end, block in sorted(tagged, key=lambda piece: piece[0]):
            start_tau = self.clock.tau(start)
            stop = ALWAYS_CLOSED_BEFORE_MIN if last_end is None else start - last_end
            windows.append(
                Window(start_tau=start_tau, end_tau=start_tau + end - start, stop_before_min=stop, overtime_id=block)
            )
            last_end = end
        return Calendar(windows=tuple(windows))

    @property
    def overtime(self) -> tuple[OvertimeBlock, ...]:
        """The blocks on offer, on the shop axis, each after the block it prolongs."""
        return tuple(
            OvertimeBlock(
                block_id=one.block_id,
                name=one.name,
                start_tau=self.clock.tau(one.span[0]),
                end_tau=self.clock.tau(one.span[1]),
                price_cents=one.offer.price_cents,
                after_id=self._bought_before(one),
            )
            for one in self.offers
        )

    def _bought_before(self, block: Offer) -> str | None:
        """The block that must be bought first: the one between this block and the normal hours it prolongs.

        Blocks in a row before opening hang on the later one, all others on the earlier one.
        """
        row = [block]
        same = [one for one in self.offers if one.offer.day == block.offer.day and _share_presses(one, block)]
        while after := next((one for one in same if one.span[0] == row[-1].span[1]), None):
            row.append(after)
        while before := next((one for one in same if one.span[1] == row[0].span[0]), None):
            row.insert(0, before)
        place = row.index(block)
        ends, starts = _edges(self.shop_times.normal)
        if row[-1].span[1] in starts and row[0].span[0] not in ends:
            return row[place + 1].block_id if place + 1 < len(row) else None
        return row[place - 1].block_id if place else None


def build_axis(shop: Shop) -> Axis:
    """The shop axis of a shop's next days. Raises InputError if nothing is ever open."""
    zone_now = Days(zone=shop.zone, now=shop.plan_from, days_ahead=1).aware(shop.plan_from)
    days = Days(zone=shop.zone, now=zone_now.replace(second=0, microsecond=0), days_ahead=shop.days_ahead)
    offers = _offers(shop, days)
    times = _Times(shop=shop, days=days, offers=offers)
    shop_times = times.of("", shop.hours, {one.block_id for one in offers})
    presses = {
        one.press_id: times.of(one.press_id, one.hours, times.blocks_of_press(one.press_id)) for one in shop.presses
    }
    dryers = {one.dryer_id: times.of(one.dryer_id, one.hours, None) for one in shop.dryers}
    people = {
        one.person_id: times.of(one.person_id, one.hours, times.blocks_of_person(one.person_id), one.days_off)
        for one in shop.people
    }
    screens = times.of("screens", shop.screen_room.hours if shop.screen_room else None, None)
    packing = times.of("packing", shop.packing_hours, None)
    stations = {one.name: times.of(one.name, one.hours, None) for one in shop.stations}
    in_house = [*presses.values(), *dryers.values(), *stations.values()]
    everything = [shop_times, *in_house, *people.values(), screens, packing]
    stretches = union(span for one in everything for span in one.ever)
    if not stretches:
        raise InputError((_never_open(shop),))
    clock = ShopClock(
        zone=shop.zone,
        now=days.now,
        stretches=tuple(Stretch(wall_start_min=start, wall_end_min=end) for start, end in stretches),
    )
    return Axis(
        shop=shop,
        days=days,
        offers=offers,
        clock=clock,
        shop_times=shop_times,
        press_times=presses,
        dryer_times=dryers,
        person_times=people,
        screens_times=screens,
        packing_times=packing,
        heated_before={
            **{f"dryer {one.dryer_id}": times.before(one.dryer_id, one.hours) for one in shop.dryers},
            **{f"press {one.press_id}": times.before(one.press_id, one.hours) for one in shop.presses},
        },
        station_times=stations,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Times:
    """Turns hours, closures and offers into open times."""

    shop: Shop
    days: Days
    offers: tuple[Offer, ...]

    def of(self, what: str, hours: Hours | None, blocks: set[str] | None, days_off: tuple[date, ...] = ()) -> OpenTimes:
        """Open times of one thing: its own hours or else the shop's; blocks None = every block opens it.

        A holiday of the whole shop (a closure of whole days) does not cancel overtime offered for that very day; a
        closure by the clock and a closure of the thing itself do.
        """
        off = set(days_off)
        own = self._closed(what) if what else ()
        whole, timed = self._shop_closed()
        spans = self.days.spans(self.shop.hours if hours is None else hours, off)
        normal = subtract(spans, union((*own, *whole, *timed)))
        cut = union((*own, *timed, *normal))
        overtime = {
            one.block_id: left
            for one in self.offers
            if (blocks is None or one.block_id in blocks) and one.offer.day not in off
            if (left := subtract((one.span,), cut))
        }
        return OpenTimes(normal=normal, overtime=overtime)

    def before(self, what: str, hours: Hours | None) -> Spans:
        """When the thing was open before the planning moment, since the day before."""
        spans = self.days.spans_since_yesterday(self.shop.hours if hours is None else hours)
        whole, timed = self._shop_closed()
        opened = subtract(spans, union((*self._closed(what), *whole, *timed)))
        return tuple((start, min(0, end)) for start, end in opened if start < 0)

    def blocks_of_press(self, press_id: str) -> set[str]:
        return {one.block_id for one in self.offers if not one.offer.press_ids or press_id in one.offer.press_ids}

    def blocks_of_person(self, person_id: str) -> set[str]:
        return {one.block_id for one in self.offers if not one.offer.person_ids or person_id in one.offer.person_ids}

    def _closed(self, what: str) -> Spans:
        return union((self.days.wall(c.from_at), self.days.wall(c.to_at)) for c in self.shop.closures if c.what == what)

    def _shop_closed(self) -> tuple[Spans, Spans]:
        whole: list[Span] = []
        timed: list[Span] = []
        for closure in self.shop.closures:
            if closure.what:
                continue
            span = (self.days.wall(closure.from_at), self.days.wall(closure.to_at))
            (whole if _is_midnight(closure.from_at) and _is_midnight(closure.to_at) else timed).append(span)
        return union(whole), union(timed)


def _is_midnight(moment: datetime) -> bool:
    return moment.hour == moment.minute == 0


def _offers(shop: Shop, days: Days) -> tuple[Offer, ...]:
    found: list[Offer] = []
    last_day = days.all[-1]
    for offer in sorted(shop.overtime, key=lambda one: (one.day, one.from_min, one.to_min, one.press_ids)):
        start, end = days.at(offer.day, offer.from_min), days.at(offer.day, offer.to_min)
        if end <= 0 or end <= start or offer.day > last_day:
            continue
        base = f"overtime {offer.day.isoformat()} {_clock(offer.from_min)}"
        same = sum(1 for one in found if one.block_id == base or one.block_id.startswith(f"{base} "))
        day = f"{WEEKDAYS[offer.day.weekday()]} {offer.day.day} {offer.day:%b}"
        found.append(
            Offer(
                block_id=f"{base} {same + 1}" if same else base,
                name=f"{day} {_clock(offer.from_min)}-{_clock(offer.to_min)}",
                span=(max(0, start), end),
                offer=offer,
            )
        )
    return tuple(found)


def _clock(minute: int) -> str:
    return f"{minute // 60:02d}:{minute % 60:02d}"


def _share_presses(one: Offer, other: Offer) -> bool:
    mine, theirs = one.offer.press_ids, other.offer.press_ids
    return not mine or not theirs or bool(set(mine) & set(theirs))


def _edges(spans: Spans) -> tuple[set[int], set[int]]:
    """Wall minutes at which the spans end and start."""
    return {end for _, end in spans}, {start for start, _ in spans}


def _never_open(shop: Shop) -> Problem:
    last = shop.plan_from.date() + timedelta(days=max(0, shop.days_ahead - 1))
    return Problem(
        file="shop.toml",
        column="hours",
        code="never_open",
        message=f"nothing is open from {shop.plan_from.date().isoformat()} to {last.isoformat()}",
        hint="give the shop's hours, or plan more days ahead",
    )
