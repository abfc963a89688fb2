"""What crowding costs: a lower bound on everything a week costs, every order counted at once.

The week is cut at the moments by which orders must be off the presses. Each run does shares of its work on presses it
fits, in the stretches between these cuts, but not before it could start alone; no press does more in a stretch than
its open minutes, overtime at its price. An order makes a pick-up only with all of its runs done by then. Set-ups count
with what no neighbour spares them (see `press_pieces`), each piece on the press that owes it. Everything left out can
only make a plan dearer, so what the programme proves, no valid plan undercuts.
"""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.search.bounds import must_burn
from scheduler.search.least_times import LeastTimes, least_print_cents, open_choices
from scheduler.search.press_pieces import Piece, PressPieces, press_pieces
from scheduler.search.programme import Programme
from scheduler.search.stretches import Stretches, capacity_of, crowded_until, cut_week, least_print_min
from scheduler.search.tables import ChoiceSpec, OrderSpec, RunSpec, Tables
from scheduler.search.timing import open_hours

SMALL_CHOICES = 60
"""Runs times presses up to which each run goes to one press; beyond, shares of it may go to several, one at a time."""
TIMED_MIN = 4
"""Shared pieces of fewer minutes are paid for, but take no hours: the programme stays small."""
HOUR_MIN = 60.0
"""Rows are kept in hours: the solver likes numbers near one."""


@dataclass(frozen=True, slots=True)
class Date:
    """A moment an order makes or misses. made: its variable, None if it is made for certain."""

    tau: int
    made: int | None


class DayBuckets:
    """The programme of a week, put together step by step."""

    def __init__(self, tables: Tables, most_stretches: int) -> None:
        """Note what each press owes, when each run could start, and nothing else yet."""
        self.tables = tables
        self.most_stretches = most_stretches
        self.is_small = sum(len(open_choices(run)) for run in tables.runs) <= SMALL_CHOICES
        self.programme = Programme()
        presses = tables.week.presses
        self.pieces = [press_pieces(tables, press) for press in range(len(presses))]
        self.times = LeastTimes(tables, lambda run, choice: self.pieces[choice.press].own_min[run.number])
        self.starts = [self.times.set_up_from_tau(run.number) for run in tables.runs]
        self.hours = [capacity_of(press.calendar) for press in presses]
        every_block = frozenset(tables.overtime_cents)
        self.all_hours = [open_hours(press.prints_in, every_block, press.restart) for press in presses]
        self.bought: dict[str, int] = {}
        self.dates: list[list[Date]] = []
        self.stretches: Stretches
        self.shares: dict[tuple[int, int], dict[int, int]] = {}
        self.steps: list[list[tuple[int, int, int, int]]] = []
        self._prints_min: dict[tuple[int, int], int] = {}

    def built(self) -> Programme:
        """The whole programme."""
        tables = self.tables
        self.make_dates()
        self.stretches = self._cut()
        self.steps = [[] for _ in tables.week.presses]
        for run in tables.runs:
            self._share_out(run)
            self._keep_dates(run)
        for one in self.pieces:
            self._set_up(one)
        for press in range(len(tables.week.presses)):
            self._press_hours(press)
        self._one_press_at_a_time()
        self.programme.constant_cents += sum(one.burn_cents for one in tables.sets if must_burn(tables, one))
        return self.programme

    def _cut(self) -> Stretches:
        runs = self.tables.runs
        moments = {self.off_press_tau(run, date.tau) for run in runs for date in self.dates[run.order]}
        offers = [[self.work_min(run, choice) for choice in open_choices(run)] for run in runs]
        horizon_tau = self.tables.horizon_tau
        crowded_tau = crowded_until(self.hours, sum(min(offer) for offer in offers), horizon_tau)
        promised_tau = max(order.promised_tau for order in self.tables.orders)
        crowded_tau = max(crowded_tau, promised_tau, *self.starts)
        sooner = [tau for tau in moments if tau <= crowded_tau]
        return cut_week(sooner, horizon_tau, self.most_stretches)

    def make_dates(self) -> None:
        """Overtime to buy, and the dates each order makes or misses."""
        self._buy()
        for number, order in enumerate(self.tables.orders):
            self._make_dates(number, order)

    def _buy(self) -> None:
        for block_id, cents in self.tables.overtime_cents.items():
            self.bought[block_id] = self.programme.variable(float(cents), is_whole=True)
        for block_id, after in self.tables.overtime_after.items():
            if after is not None:
                self.programme.at_most({self.bought[block_id]: 1.0, self.bought[after]: -1.0}, 0.0)

    def _make_dates(self, number: int, order: OrderSpec) -> None:
        """One yes or no for each pick-up that costs when missed, and for the cushion; who makes one makes all later."""
        packed_tau = self.times.packed_tau(number)
        priced = [(tau, float(order.late_cents)) for tau in order.pickups_tau[order.must_leave :]]
        if order.cushion_cents:
            priced.append((order.cushion_from_tau, float(order.cushion_cents)))
        made: list[Date] = []
        for tau, cents in sorted(priced):
            if tau >= order.pickups_tau[-1]:
                break
            self.programme.constant_cents += cents
            if tau < packed_tau or not cents:
                continue
            variable = self.programme.variable(-cents, is_whole=True)
            if made and made[-1].made is not None:
                self.programme.at_most({made[-1].made: 1.0, variable: -1.0}, 0.0)
            made.append(Date(tau, variable))
        self.dates.append([*made, Date(order.pickups_tau[-1], None)])

    def off_press_tau(self, run: RunSpec, tau: int) -> int:
        """Moment by which a run's print has ended if its order is packed by `tau`."""
        return tau - run.cure_min - self.tables.orders[run.order].last_box_min

    def work_min(self, run: RunSpec, choice: ChoiceSpec) -> int:
        """Press minutes of a run that nothing spares it, restarts after stops included."""
        key = (choice.press, choice.work_min)
        if key not in self._prints_min:
            self._prints_min[key] = least_print_min(self.all_hours[choice.press], choice.work_min)
        return self.pieces[choice.press].own_min[run.number] + self._prints_min[key]

    def _share_out(self, run: RunSpec) -> None:
        """Shares of a run's work by press and stretch; in all they are the whole run."""
        programme, stretches, start_tau = self.programme, self.stretches, self.starts[run.number]
        whole: list[int] = []
        goes_here: list[int] = []
        last = stretches.index(self.off_press_tau(run, self.dates[run.order][-1].tau))
        for choice in open_choices(run):
            work_min, cents = self.work_min(run, choice), self.choice_cents(run, choice)
            shares: dict[int, int] = {}
            for at in range(last + 1):
                begin_tau, to_tau = max(start_tau, stretches.from_tau(at)), stretches.to_tau(at)
                room_min = self.hours[choice.press].most(begin_tau, to_tau)
                if begin_tau < to_tau and (room_min or not work_min):
                    most = min(1.0, room_min / work_min) if work_min else 1.0
                    shares[at] = programme.variable(cents, most=most)
                    self.steps[choice.press].append((at, begin_tau, work_min, shares[at]))
            self.shares[run.number, choice.press] = shares
            whole += shares.values()
            if self.is_small and len(open_choices(run)) > 1:
                goes_here.append(programme.variable(is_whole=True))
                programme.at_most({**dict.fromkeys(shares.values(), 1.0), goes_here[-1]: -1.0}, 0.0)
        programme.at_most(dict.fromkeys(whole, 1.0), 1.0, least=1.0)
        programme.at_most(dict.fromkeys(goes_here, 1.0), 1.0)

    def _keep_dates(self, run: RunSpec) -> None:
        """An order makes no more of a date than is done of each of its runs by then."""
        for date in self.dates[run.order]:
            if date.made is not None:
                at = self.stretches.index(self.off_press_tau(run, date.tau))
                self.programme.at_most({**dict.fromkeys(self.done_by(run, at), -1.0), date.made: 1.0}, 0.0)

    def done_by(self, run: RunSpec, at: int) -> list[int]:
        """Variables that sum to what is done of a run by the end of a stretch, on whatever press."""
        return [
            variable
            for choice in open_choices(run)
            for stretch, variable in self.shares[run.number, choice.press].items()
            if stretch <= at
        ]

    def choice_cents(self, run: RunSpec, choice: ChoiceSpec) -> float:
        """What a run costs at least on a press, whoever goes before it."""
        set_up_min = self.pieces[choice.press].own_min[run.number] + choice.wash_up_min
        return float(set_up_min * choice.cents_per_min + least_print_cents(choice) + self._move_cents(run, choice))

    def _move_cents(self, run: RunSpec, choice: ChoiceSpec) -> int:
        """What it costs to print an announced run here if it is moved by that, or cannot stay in time anyway."""
        if run.announced_press == -1:
            return 0
        prices = self.tables.week.prices
        can_stay = self.starts[run.number] <= run.announced_tau + prices.move_free_min
        return 0 if can_stay and run.announced_press == choice.press else prices.move_cents

    def _set_up(self, one: PressPieces) -> None:
        """Pieces that runs share, each paid as soon as one of them comes to the press."""
        counts = [self._pay(one, piece) for piece in one.pieces]
        for change in one.changes:
            paid = [variable for number in change.pieces for variable in counts[number]]
            most = sum(self.programme.most[variable] for variable in paid)
            count = self.programme.variable(float(change.minutes * one.cents_per_min), most=most)
            self.programme.at_most({**dict.fromkeys(paid, 1.0), count: -1.0}, float(change.free))

    def _pay(self, one: PressPieces, piece: Piece) -> list[int]:
        """Variables that sum to how often a piece is done; a long one takes its minutes before what asks for it."""
        programme = self.programme
        asks = {number: self.shares[number, one.press] for number in piece.asks}
        sparing = {
            variable: -float(times)
            for number, times in (piece.spared or {}).items()
            for variable in self.shares[number, one.press].values()
        }
        start_tau = min(self.starts[number] for number in piece.asks)
        used = sorted({at for shares in asks.values() for at in shares})
        is_timed = piece.minutes >= TIMED_MIN
        paid: list[int] = []
        for at in used if is_timed else used[-1:]:
            now = programme.variable(float(piece.minutes * one.cents_per_min), most=float(max(piece.asks.values())))
            paid.append(now)
            if is_timed:
                self.steps[one.press].append((at, max(start_tau, self.stretches.from_tau(at)), piece.minutes, now))
            for number, shares in asks.items():
                if at in shares or not is_timed:
                    row = dict(sparing)
                    for cut, variable in shares.items():
                        if cut <= at:
                            row[variable] = row.get(variable, 0.0) + piece.asks[number]
                    programme.at_most({**row, **dict.fromkeys(paid, -1.0)}, float(piece.less))
        return paid

    def _press_hours(self, press: int) -> None:
        """In each stretch a press does no more than its open minutes, from any run's earliest start in it on."""
        hours = self.hours[press]
        for at in range(self.stretches.count):
            here = [step[1:] for step in self.steps[press] if step[0] == at]
            to_tau = self.stretches.to_tau(at)
            for from_tau in sorted({start_tau for start_tau, _, _ in here}):
                row = {variable: minutes / HOUR_MIN for start, minutes, variable in here if start >= from_tau}
                room_min = hours.normal(from_tau, to_tau)
                if self._fits(row, room_min):
                    continue
                for block_id, variable in self.bought.items():
                    extra = hours.overtime(block_id, from_tau, to_tau)
                    if extra:
                        row[variable] = -extra / HOUR_MIN
                self.programme.at_most(row, room_min / HOUR_MIN)

    def _fits(self, row: dict[int, float], room_min: int) -> bool:
        """True if all of it fits anyway."""
        return sum(self.programme.most[variable] * hours for variable, hours in row.items()) <= room_min / HOUR_MIN

    def _one_press_at_a_time(self) -> None:
        """A run, and all runs of one screen set, are on one press at a time."""
        groups = [list(one.runs) for one in self.tables.sets if len(one.runs) > 1]
        groups += [[run.number] for run in self.tables.runs if len(open_choices(run)) > 1]
        for group in groups:
            begin_tau = min(self.starts[number] for number in group)
            for at in range(self.stretches.count):
                row = {
                    self.shares[number, choice.press][at]: self.work_min(self.tables.runs[number], choice) / HOUR_MIN
                    for number in group
                    for choice in open_choices(self.tables.runs[number])
                    if at in self.shares[number, choice.press]
                }
                room_min = max(0, self.stretches.to_tau(at) - max(begin_tau, self.stretches.from_tau(at)))
                if not self._fits(row, room_min):
                    self.programme.at_most(row, room_min / HOUR_MIN)
