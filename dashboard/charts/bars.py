"""What a timeline draws, before anything is drawn: lanes, and on each the stretches in which something goes on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from scheduler.api import words
from scheduler.domain.calendars import Window
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week

if TYPE_CHECKING:
    from scheduler.api import PlanView

PRESSES, SCREEN_ROOM, FLOOR, DRYERS, PEOPLE = "presses", "screen room", "floor", "dryers", "people"
GROUPS = (PRESSES, SCREEN_ROOM, FLOOR, DRYERS, PEOPLE)
"""Groups of lanes, top to bottom. Floor: carts and packing."""

BELT_FULL_PERMILLE = 1000
NOBODY = "nobody"

Span = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A stretch [start, end). look: a key of `palette.LOOKS`. labels: what may be written in it, longest first.

    what: what goes on. about: for what. share: how much of its lane's height it fills (belt load), 0 to 1.
    """

    look: str
    what: str
    start_tau: int
    end_tau: int
    labels: tuple[str, ...] = ()
    about: str = ""
    run_id: str = ""
    order_id: str = ""
    why: str = ""
    late: str = ""
    share: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Lane:
    """A press, a person, a place. is_thin: its bars carry no words. hours: when it is open; None where it has none."""

    name: str
    group: str
    bars: tuple[Bar, ...]
    is_thin: bool = False
    hours: tuple[Window, ...] | None = None


def late_words(days: int) -> str:
    """Mark, word and how much: "▲ LATE 1 day"; "" where nothing is late."""
    return f"{words.LATE_MARK} LATE {words.counted(days, 'day')}" if days else ""


def lanes(week: Week, plan: Plan, view: PlanView) -> tuple[Lane, ...]:
    """Every lane of the shop, whether anything is on it or not; places the shop does not have are left out."""
    return tuple(_Reader(week, plan, view).lanes())


class _Reader:
    def __init__(self, week: Week, plan: Plan, view: PlanView) -> None:
        self.week = week
        self.plan = plan
        self.view = view
        self.spans: dict[tuple[str, str], tuple[Span, ...]] = {
            (one.kind, one.owner_id): one.stretches for one in view.activities if one.owner_id
        }

    def lanes(self) -> Iterator[Lane]:
        for press in self.week.presses:
            runs = [one.run_id for one in self.plan.queue.get(press.press_id, ())]
            bars = tuple(bar for run_id in runs for bar in self._on_press(run_id))
            yield Lane(name=press.name, group=PRESSES, bars=bars, hours=self.view.press_hours[press.press_id])
        if self.week.screen_room is not None:
            yield Lane(name="Burn, tape", group=SCREEN_ROOM, bars=self._work(("burning", "burn"), ("taping", "tape")))
            yield Lane(name="Drying", group=SCREEN_ROOM, bars=tuple(self._drying()), is_thin=True)
            yield Lane(name="Coat, reclaim", group=SCREEN_ROOM, bars=tuple(self._coating()))
        if self.week.staging is not None:
            yield Lane(name="Carts", group=FLOOR, bars=self._work(("staging", "cart")))
        if self.week.finishing is not None:
            yield Lane(name="Packing", group=FLOOR, bars=tuple(self._packing()))
        for station in self.week.stations:
            yield Lane(name=station.name, group=FLOOR, bars=tuple(self._visits(station.station_id)))
        for dryer_id in dict.fromkeys(press.dryer_id for press in self.week.presses if press.dryer_id):
            yield Lane(name=f"Belt {dryer_id}", group=DRYERS, bars=tuple(self._belt(dryer_id)))
        yield from self._people()

    def _of_run(self, run_id: str, look: str, what: str, span: Span, labels: tuple[str, ...] = ()) -> Bar:
        run, row = self.week.run[run_id], self.view.queue_row[run_id]
        order = self.view.order_row.get(run.order_id)
        return Bar(
            look=look,
            what=what,
            start_tau=span[0],
            end_tau=span[1],
            labels=labels,
            about=f"{run.order_id} {run.location}, {words.counted(run.pieces, 'piece')}, {row.client}",
            run_id=run_id,
            order_id=run.order_id,
            why=row.reason,
            late=late_words(order.late_days if order else 0),
        )

    def _on_press(self, run_id: str) -> Iterator[Bar]:
        """Ink changes, set-up, printing, rinsing out, and the pauses between them, in time."""
        planned, run = self.plan.run[run_id], self.week.run[run_id]
        set_up, printing = self.spans.get(("set-up", run_id), ()), self.spans.get(("printing", run_id), ())
        leaving, mounting = split(set_up, self.view.ink_min.get(run_id, 0))
        wash_up = run.on_press[planned.press_id].wash_up_min
        prints, rinsing = split(printing, sum(end - start for start, end in printing) - wash_up)
        order = self.view.order_row.get(run.order_id)
        mark = f"{words.LATE_MARK} " if order is not None and order.late_days else ""
        order_text, run_text = f"{mark}{run.order_id}", f"{mark}{run.order_id} {run.location}"
        labels = (f"{run_text}, {run.pieces}", run_text, order_text, mark.strip())
        look = "late" if mark else "printing"
        yield from (self._of_run(run_id, "ink change", "inks leave the press", span) for span in leaving)
        for span in mounting:
            yield self._of_run(run_id, "set-up", "set-up", span, (f"set-up {planned.set_up_min}", "set-up"))
        yield from (self._of_run(run_id, look, "printing", span, labels) for span in prints)
        yield from (self._of_run(run_id, "ink change", "rinsing out", span) for span in rinsing)
        for span in gaps((*set_up, *printing)):
            yield self._of_run(run_id, "pause", "pause", span, ("pause",))

    def _work(self, *kinds: tuple[str, str]) -> tuple[Bar, ...]:
        """Work for runs off the press: (its kind, the verb that is shown)."""
        return tuple(
            self._of_run(run_id, "screens", verb, span, self._short(run_id, verb))
            for kind, verb in kinds
            for run_id in self.plan.run
            for span in self.spans.get((kind, run_id), ())
        )

    def _short(self, run_id: str, verb: str) -> tuple[str, ...]:
        run = self.week.run[run_id]
        return f"{verb} {run.order_id} {run.location}", f"{verb} {run.order_id}", run.order_id

    def _drying(self) -> Iterator[Bar]:
        for one in self.plan.runs:
            if one.burn is not None and one.burn.end_tau < one.burn.dry_tau:
                yield self._of_run(one.run_id, "drying", "screens drying", (one.burn.end_tau, one.burn.dry_tau))

    def _coating(self) -> Iterator[Bar]:
        """Coating and reclaiming, with how many frames."""
        room = self.week.screen_room
        if room is None:
            return
        coated: Counter[str] = Counter()
        for batch in self.plan.coat_batches:
            coated[batch.window_id] += batch.count
        reclaimed: Counter[str] = Counter()
        for reclaim in self.plan.reclaims:
            reclaimed[reclaim.block_id] += self.week.screen_set[reclaim.set_id].screen_count
        for block_id, _, count in self.week.early_reclaims:
            reclaimed[block_id] += count
        booked = [(one.start_tau, one.end_tau, "coat", coated[one.window_id]) for one in room.coat_windows]
        booked += [(one.start_tau, one.end_tau, "reclaim", reclaimed[one.block_id]) for one in room.reclaim_blocks]
        for start_tau, end_tau, verb, count in booked:
            if count:
                yield Bar(
                    look="screens",
                    what=verb,
                    start_tau=start_tau,
                    end_tau=end_tau,
                    labels=(f"{verb} {count}", str(count)),
                    about=words.counted(count, "screen"),
                )

    def _packing(self) -> Iterator[Bar]:
        for order_id, row in self.view.order_row.items():
            for start_tau, end_tau in self.spans.get(("packing", order_id), ()):
                yield Bar(
                    look="screens",
                    what="packing",
                    start_tau=start_tau,
                    end_tau=end_tau,
                    labels=(f"pack {order_id}", order_id),
                    about=f"{order_id}, {words.counted(row.pieces, 'piece')}, {row.client}",
                    order_id=order_id,
                    late=late_words(row.late_days),
                )

    def _visits(self, station_id: str) -> Iterator[Bar]:
        """Orders at a station, or sent out, in time."""
        for packed in self.plan.orders:
            row = self.view.order_row.get(packed.order_id)
            for visit in packed.stations:
                if row is not None and visit.station_id == station_id:
                    yield Bar(
                        look="screens",
                        what=self.week.station[station_id].name,
                        start_tau=visit.start_tau,
                        end_tau=visit.end_tau,
                        labels=(packed.order_id,),
                        about=f"{packed.order_id}, {words.counted(row.pieces, 'piece')}, {row.client}",
                        order_id=packed.order_id,
                        late=late_words(row.late_days),
                    )

    def _belt(self, dryer_id: str) -> Iterator[Bar]:
        for one in self.view.belts:
            if one.dryer_id == dryer_id:
                full = f"{one.permille / 10:.0f} %"
                yield Bar(
                    look="belt",
                    what=f"belt {full} full",
                    start_tau=one.start_tau,
                    end_tau=one.end_tau,
                    labels=(full,),
                    about=words.listed(list(one.run_ids)),
                    share=min(1.0, one.permille / BELT_FULL_PERMILLE),
                )

    def _people(self) -> Iterator[Lane]:
        """A lane for everybody named, and one for posts nobody can fill."""
        places = {press.press_id: press.name for press in self.week.presses}
        looks = {"set-up": "set-up", "printing": "printing"}
        found: dict[str | None, list[Bar]] = {person.person_id: [] for person in self.week.people}
        for one in self.view.roster:
            where = places.get(one.place, "")
            bar = Bar(
                look=looks.get(one.activity, "screens"),
                what=one.activity,
                start_tau=one.start_tau,
                end_tau=one.end_tau,
                labels=tuple(text for text in (where, one.activity) if text),
                about=", ".join(text for text in (one.role, where, one.owner_id) if text),
                run_id=one.owner_id if one.owner_id in self.week.run else "",
                order_id=self._order_of(one.owner_id),
            )
            found.setdefault(one.person_id, []).append(bar)
        names = {person.person_id: person.name for person in self.week.people}
        for person_id, bars in found.items():
            hours = self.view.people_hours.get(person_id) if person_id is not None else None
            name = names.get(person_id, NOBODY) if person_id is not None else NOBODY
            yield Lane(name=name, group=PEOPLE, bars=tuple(_together(bars)), hours=hours)

    def _order_of(self, owner_id: str) -> str:
        if owner_id in self.week.run:
            return self.week.run[owner_id].order_id
        return owner_id if owner_id in self.week.order else ""


def _together(bars: list[Bar]) -> Iterator[Bar]:
    """The bars of one person; where a lead watches several presses at once they are one bar that names them all."""
    edges = sorted({edge for bar in bars for edge in (bar.start_tau, bar.end_tau)})
    last: tuple[list[Bar], int, int] | None = None
    for start_tau, end_tau in pairwise(edges):
        there = [bar for bar in bars if bar.start_tau <= start_tau < bar.end_tau]
        if last is not None and last[0] == there:
            last = (there, last[1], end_tau)
            continue
        if last is not None and last[0]:
            yield _one_bar(*last)
        last = (there, start_tau, end_tau)
    if last is not None and last[0]:
        yield _one_bar(*last)


def _one_bar(there: list[Bar], start_tau: int, end_tau: int) -> Bar:
    first = there[0]
    if len(there) > 1:
        places = words.listed(sorted({bar.labels[0] for bar in there if bar.labels}))
        about = "; ".join(bar.about for bar in there)
        first = replace(first, what="watching", labels=(places,), about=about, run_id="", order_id="")
    return replace(first, start_tau=start_tau, end_tau=end_tau)


def split(spans: Iterable[Span], first_min: int) -> tuple[list[Span], list[Span]]:
    """Spans cut after their first minutes: (those minutes, the rest)."""
    head: list[Span] = []
    rest: list[Span] = []
    left = max(0, first_min)
    for start, end in spans:
        cut = min(end, start + left)
        if start < cut:
            head.append((start, cut))
        if cut < end:
            rest.append((cut, end))
        left -= cut - start
    return head, rest


def gaps(spans: Iterable[Span]) -> list[Span]:
    """What lies between spans in time, as far as it has a length on the shop axis."""
    ordered = sorted(spans)
    return [(end, start) for (_, end), (start, _) in pairwise(ordered) if end < start]


def within(bars: Iterable[Bar], from_tau: int, to_tau: int) -> list[Bar]:
    """Bars of which something lies in [from, to)."""
    return [bar for bar in bars if bar.start_tau < to_tau and bar.end_tau > from_tau]
