"""What meeting dates costs when every run goes to one press as a whole: a lower bound for weeks that are not large.

The stretches of `day_buckets` may do half of a run, and half of a run makes half of a date; here an order makes a date
only with all of each of its runs done by then. For each press, each date and each moment from which runs can start:
what can start only then and must be done by then fits the open minutes between, overtime at its price. The same for
people, exposure units and sets of screens. The solver learns which orders cannot meet their dates together and goes on
from there; whatever it has proven when it is stopped holds, since everything left out could only make a plan dearer.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from scheduler.search.bounds import must_burn
from scheduler.search.day_buckets import TIMED_MIN, Date, DayBuckets
from scheduler.search.floor_rows import Demand, Minutes, floor_demands
from scheduler.search.least_times import open_choices
from scheduler.search.press_pieces import Piece, PressPieces
from scheduler.search.press_queues import FIRST, Step, steps_on
from scheduler.search.programme import Programme
from scheduler.search.tables import RunSpec, Tables

Done = tuple[float, int | None]
"""Minutes that are done for certain if this variable is one; None: whatever is decided."""


def whole_runs_programme(tables: Tables, *, in_queues: bool = False) -> Programme:
    """The programme of a week whose runs each fit a press; everything in it is whole.

    in_queues: who stands behind whom on a press is in it too, which takes longer and says more of set-ups.
    """
    return _WholeRuns(tables, in_queues=in_queues).built()


class _WholeRuns:
    def __init__(self, tables: Tables, *, in_queues: bool) -> None:
        self.tables = tables
        self.in_queues = in_queues
        self.buckets = DayBuckets(tables, 2)
        self.programme = self.buckets.programme
        self.here: dict[tuple[int, int], int | None] = {}
        self._done: dict[tuple[int | None, int | None], int | None] = {}
        self._paid: dict[tuple[int, int, int], int] = {}

    def built(self) -> Programme:
        """The whole programme."""
        self.buckets.make_dates()
        for run in self.tables.runs:
            self._go_to_one(run)
        for one in self.buckets.pieces:
            self._set_up(one)
        for press in range(len(self.tables.week.presses)):
            self._press_hours(press)
        self._sets_in_one_place()
        for demand, until, extra in floor_demands(self.buckets):
            self._floor_hours(demand, until, extra)
        self.programme.constant_cents += sum(one.burn_cents for one in self.tables.sets if must_burn(self.tables, one))
        return self.programme

    def _go_to_one(self, run: RunSpec) -> None:
        """A run is on one of the presses it fits, and costs what nothing spares it there."""
        choices = open_choices(run)
        for choice in choices:
            cents = self.buckets.choice_cents(run, choice)
            if len(choices) == 1:
                self.programme.constant_cents += cents
            number = self.programme.variable(cents, is_whole=True) if len(choices) > 1 else None
            self.here[run.number, choice.press] = number
        offers = [number for choice in choices if (number := self.here[run.number, choice.press]) is not None]
        self.programme.at_most(dict.fromkeys(offers, 1.0), 1.0, least=1.0)

    def _both(self, one: int | None, other: int | None) -> int | None:
        """A variable that is one where both are; None stands for what is certain."""
        if one is None or other is None:
            return other if one is None else one
        if (one, other) not in self._done:
            both = self.programme.variable(is_whole=True)
            self.programme.at_most({one: 1.0, other: 1.0, both: -1.0}, 1.0)
            self._done[one, other] = both
        return self._done[one, other]

    def _made_by(self, run: RunSpec, tau: int) -> Date | None:
        """The last date of its order that wants a run off the presses by a moment."""
        made = [d for d in self.buckets.dates[run.order] if self.buckets.off_press_tau(run, d.tau) <= tau]
        return made[-1] if made else None

    def _set_up(self, one: PressPieces) -> None:
        """What set-ups of a press cost beyond each run's own: at least its pieces, and at least its queue's steps."""
        counts = [self._pay(one, piece) for piece in one.pieces]
        pieces = {count: float(piece.minutes) for count, piece in zip(counts, one.pieces, strict=True)}
        left: dict[int, float] = {}
        leaving: dict[int, float] = {}
        for change in one.changes:
            paid = [counts[number] for number in change.pieces]
            most = sum(self.programme.most[number] for number in paid)
            count = self.programme.variable(most=most, is_whole=True)
            self.programme.at_most({**dict.fromkeys(paid, 1.0), count: -1.0}, float(change.free))
            left[count] = float(change.minutes)
            if change.pieces == tuple(one.loads):
                leaving[count] = float(change.minutes)
        steps = steps_on(self.tables, one) if self.in_queues else ()
        most_min = sum(self.programme.most[count] * minutes for count, minutes in {**pieces, **left}.items())
        most_min += sum(max(0, step.beyond_min) + step.leave_min for step in steps)
        beyond = self.programme.variable(float(one.cents_per_min), most=most_min, is_whole=True)
        self.programme.at_most({**pieces, **left, beyond: -1.0}, 0.0)
        if steps:
            loads = {counts[at]: float(one.pieces[at].minutes) for at in one.loads}
            leaves = self.programme.variable(most=most_min, is_whole=True)
            self.programme.at_most({**leaving, leaves: -1.0}, 0.0)
            self._queue_up(one.press, steps, {**loads, leaves: 1.0, beyond: -1.0}, leaves)

    def _queue_up(self, press: int, steps: Sequence[Step], row: dict[int, float], leaves: int) -> None:
        """The runs of a press stand in one queue: each step takes its minutes, beside what is in the row already."""
        ways: list[tuple[int, int, int]] = []
        forced: dict[int, float] = {leaves: -1.0}
        for step in steps:
            follows = self.programme.variable(is_whole=True)
            ways.append((step.before, step.after, follows))
            row[follows] = float(step.beyond_min)
            forced[follows] = float(step.leave_min)
        self.programme.at_most(forced, 0.0)
        for (number, other), here in self.here.items():
            if other == press:
                ways.append((number, FIRST, self.programme.variable(is_whole=True)))
                if here is not None:
                    elsewhere = self.programme.variable(is_whole=True)
                    self.programme.at_most({here: 1.0, elsewhere: 1.0}, 1.0, least=1.0)
                    ways.append((number, number, elsewhere))
        ways.append((FIRST, FIRST, self.programme.variable(is_whole=True)))
        self.programme.rounds.append(tuple(ways))
        self.programme.at_most(row, 0.0)

    def _pay(self, one: PressPieces, piece: Piece) -> int:
        most = float(max(piece.asks.values()))
        count = self.programme.variable(most=most, is_whole=True)
        for number, times in piece.asks.items():
            row, limit = {count: -1.0}, float(piece.less)
            spared = {other: -saved for other, saved in (piece.spared or {}).items()}
            for other, factor in [(number, times), *spared.items()]:
                variable = self.here[other, one.press]
                if variable is None:
                    limit -= factor
                else:
                    row[variable] = row.get(variable, 0.0) + factor
            self.programme.at_most(row, limit)
        return count

    def _press_hours(self, press: int) -> None:
        """What can start only from a moment on and must be done by another fits the press's hours between them."""
        runs = [run for run in self.tables.runs if (run.number, press) in self.here]
        dates = {self.buckets.off_press_tau(run, date.tau) for run in runs for date in self.buckets.dates[run.order]}
        hours = self.buckets.hours[press]
        for to_tau in sorted(dates):
            for from_tau in sorted({self.buckets.starts[run.number] for run in runs}):
                if from_tau >= to_tau:
                    break
                later = [run for run in runs if self.buckets.starts[run.number] >= from_tau]
                done = [one for run in later for one in self._run_done(run, press, to_tau)]
                done += self._pieces_done(press, from_tau, to_tau)
                extra = {block_id: hours.overtime(block_id, from_tau, to_tau) for block_id in self.buckets.bought}
                self._fit(done, hours.normal(from_tau, to_tau), extra)

    def _run_done(self, run: RunSpec, press: int, to_tau: int) -> Iterator[Done]:
        date = self._made_by(run, to_tau)
        if date is not None:
            minutes = float(self.buckets.work_min(run, run.by_press[press]))
            yield minutes, self._both(self.here[run.number, press], date.made)

    def _pieces_done(self, press: int, from_tau: int, to_tau: int) -> Iterator[Done]:
        """A piece takes its minutes before the first run that asks for it is done."""
        for at, piece in enumerate(self.buckets.pieces[press].pieces):
            starts = min(self.buckets.starts[number] for number in piece.asks)
            if piece.minutes < TIMED_MIN or piece.less or piece.spared or starts < from_tau:
                continue
            runs = [self.tables.runs[number] for number in piece.asks]
            made = [(run, date) for run in runs if (date := self._made_by(run, to_tau)) is not None]
            if not made:
                continue
            if (press, at, to_tau) not in self._paid:
                self._paid[press, at, to_tau] = self.programme.variable(is_whole=True)
            paid = self._paid[press, at, to_tau]
            for run, date in made:
                done = self._both(self.here[run.number, press], date.made)
                row = {paid: -1.0} if done is None else {done: 1.0, paid: -1.0}
                self.programme.at_most(row, -1.0 if done is None else 0.0)
            yield float(piece.minutes), paid

    def _sets_in_one_place(self) -> None:
        """All runs of one set of screens follow each other, on whatever press."""
        for one in self.tables.sets:
            runs = [self.tables.runs[number] for number in one.runs]
            if len(runs) < 2:
                continue
            from_tau = min(self.buckets.starts[run.number] for run in runs)
            dates = {self.buckets.off_press_tau(r, d.tau) for r in runs for d in self.buckets.dates[r.order]}
            for to_tau in sorted(dates):
                done = [
                    share
                    for run in runs
                    for choice in open_choices(run)
                    for share in self._run_done(run, choice.press, to_tau)
                ]
                self._fit(done, max(0, to_tau - from_tau), {})

    def _floor_hours(self, demand: Demand, until: Minutes, extra: dict[str, Minutes]) -> None:
        """By each date no more of people's time is used up than was there from the start."""
        tables, buckets = self.tables, self.buckets
        dates = {buckets.off_press_tau(run, date.tau) for run in tables.runs for date in buckets.dates[run.order]}
        for to_tau in sorted(dates):
            done: list[Done] = []
            for (number, press), minutes in demand.by_share.items():
                date = self._made_by(tables.runs[number], to_tau)
                if date is not None:
                    all_of_it = minutes + demand.by_date.get(number, 0.0)
                    done.append((all_of_it, self._both(self.here[number, press], date.made)))
            for order, minutes in demand.packing.items():
                made = [date for date in buckets.dates[order] if date.tau <= to_tau]
                if made:
                    done.append((minutes, made[-1].made))
            self._fit(done, until(to_tau), {block_id: more(to_tau) for block_id, more in extra.items()})

    def _fit(self, done: Sequence[Done], room_min: float, extra_min: Mapping[str, float]) -> None:
        """What is done fits the minutes there are, overtime included where it is bought."""
        if sum(minutes for minutes, _ in done) <= room_min:
            return
        row: dict[int, float] = {}
        for minutes, variable in done:
            if variable is None:
                room_min -= minutes
            elif minutes:
                row[variable] = row.get(variable, 0.0) + minutes
        for block_id, minutes in extra_min.items():
            if minutes:
                row[self.buckets.bought[block_id]] = -minutes
        self.programme.at_most(row, room_min)
