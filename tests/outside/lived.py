"""A week lived day by day: an event simulation in which set-ups and prints take other minutes than planned.

Each morning what was noted on the floor is all the planning program hears. Both ways of living the same week meet the
same days: Monday's plan kept to the end, and planned on every morning before the doors open.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from hashlib import blake2b

from scheduler import api
from scheduler.domain.calendars import Restart
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.settings import SearchSettings
from scheduler.domain.shop import Carrier, Frames, MoneySettings, Worker
from scheduler.domain.week import SetUpMinutes, Stack, Week
from scheduler.record.events import (
    BURNED,
    RECLAIMED,
    Done,
    Event,
    FramesCoated,
    Packed,
    ScreenTicked,
    SetUpStarted,
    StrikeOffRight,
)
from tests.outside.replay import Replay
from tests.workload import shops

DAYS_LIVED = 5
MORNING = timedelta(minutes=30)
"""How long before the doors open a day is planned anew."""
INKS = ("red", "blue", "black", "white", "green", "orange")


@dataclass(frozen=True, slots=True, kw_only=True)
class Days:
    """What a week's days bring every run, whoever planned it: spreads of the logarithm, and long stops."""

    seed: int
    set_up_spread: float = 0.3
    print_spread: float = 0.2
    stop_chance: float = 0.12
    stop_min: int = 150

    def _draw(self, run_id: str) -> random.Random:
        digest = blake2b(f"{self.seed} {run_id}".encode(), digest_size=8).digest()
        return random.Random(int.from_bytes(digest, "big"))

    def set_up(self, run_id: str, minutes: int) -> int:
        """Set-up minutes that were to be `minutes`."""
        return max(1, round(minutes * self._draw(run_id).lognormvariate(0, self.set_up_spread))) if minutes else 0

    def printing(self, run_id: str, minutes: int) -> int:
        """Print minutes that were to be `minutes`, a long stop among them now and then."""
        draw = self._draw(f"print {run_id}")
        found = max(1, round(minutes * draw.lognormvariate(0, self.print_spread)))
        return found + (self.stop_min if draw.random() < self.stop_chance else 0)


@dataclass(slots=True)
class Carried:
    """What the floor carries over into another plan: true minutes left of runs that have their press."""

    left: dict[str, tuple[int, int]] = field(default_factory=dict)
    set_up_min: int = 0
    burned_screens: int = 0
    packed: dict[str, datetime] = field(default_factory=dict)
    events: list[Event] = field(default_factory=list)


class LivedReplay(Replay):
    """A replay in which the days decide how long things take."""

    is_strict = False

    def __init__(self, week: Week, plan: Plan, days: Days, carried: Carried) -> None:
        super().__init__(week, plan)
        self.days, self.carried = days, carried
        self.full: dict[str, int] = {}

    def _set_up_min(self, planned: PlannedRun, state: Stack, kept: set[str]) -> int:
        known = self.carried.left.get(planned.run_id)
        planned_min = super()._set_up_min(planned, state, kept)
        self.full[planned.run_id] = known[0] if known is not None else self.days.set_up(planned.run_id, planned_min)
        return self.full[planned.run_id]

    def _print_work_min(self, planned: PlannedRun, planned_min: int) -> int:
        if planned.run_id in self.carried.left:
            return self.carried.left[planned.run_id][1]
        return self.days.printing(planned.run_id, planned_min)

    def live_until(self, wall: int | None) -> None:
        """Let time go by; whatever happens at that very minute has happened."""
        self.env.run(until=None if wall is None else wall + 0.25)


def lived(week: Week, plan: Plan, days: Days, carried: Carried, until: datetime | None) -> Carried:
    """One plan lived until a moment (None: to its end); what was noted, and what is carried over."""
    replay = LivedReplay(week, plan, days, carried)
    replay.prepare()
    replay.live_until(None if until is None else week.clock.wall_of(until))
    found = Carried(
        set_up_min=carried.set_up_min,
        burned_screens=carried.burned_screens,
        packed=dict(carried.packed),
        events=[*carried.events, *_noted(replay)],
    )
    for planned in plan.runs:
        _carry(replay, planned, found)
    printed = {what for kind, what in replay.ends if kind == "print"}
    over = [order.order_id for order in week.orders if set(order.run_ids) <= printed]
    if until is not None and any(("packed", one) not in replay.ends for one in over):
        replay.live_until(None)  # what is printed is packed, whatever else is planned meanwhile
    for order_id in over:
        if ("packed", order_id) in replay.ends:
            found.packed[order_id] = week.clock.moment(replay.ends["packed", order_id])
    return found


def _carry(replay: LivedReplay, planned: PlannedRun, found: Carried) -> None:
    """Minutes spent and minutes left of one run, at the moment at which the replay stands."""
    week, run_id = replay.week, planned.run_id
    if ("burn", run_id) in replay.ends:
        found.burned_screens += week.screen_set[week.run[run_id].set_id or ""].screen_count
    if ("set-up", run_id) not in replay.left:
        return
    found.set_up_min += replay.full[run_id] - replay.left["set-up", run_id]
    has_begun = ("set-up", run_id) in replay.begun or ("print", run_id) in replay.begun
    if not has_begun and run_id not in replay.carried.left:
        return
    if ("print", run_id) in replay.ends:
        return
    press = week.press[planned.press_id]
    choice = week.run[run_id].printed_on(planned.press_id, planned.way)
    assert choice is not None
    print_left = replay.left.get(("print", run_id))
    if print_left is None:
        print_left = replay._print_work_min(planned, choice.print_min + choice.wash_up_min)
    elif replay.left["set-up", run_id] == 0:
        print_left += press.restart.night_min
    found.left[run_id] = (replay.left["set-up", run_id], print_left)


def _noted(replay: LivedReplay) -> Iterator[Event]:
    """What the floor notes of a replay: starts, test prints, ends, screens; pieces nobody counts."""
    week, plan = replay.week, replay.plan

    def at(wall: int) -> datetime:
        return week.clock.moment(wall).replace(tzinfo=None)

    for planned in plan.runs:
        run_id = planned.run_id
        starts = [replay.begun[one] for one in (("set-up", run_id), ("print", run_id)) if one in replay.begun]
        if starts and run_id not in replay.carried.left:
            yield SetUpStarted(at=at(min(starts)), run_id=run_id, press_id=planned.press_id)
        if ("set-up", run_id) in replay.ends and starts:
            yield StrikeOffRight(at=at(replay.ends["set-up", run_id]), run_id=run_id)
        if ("print", run_id) in replay.ends:
            yield Done(at=at(replay.ends["print", run_id]), run_id=run_id)
        if ("burn", run_id) in replay.ends:
            set_id = week.run[run_id].set_id or ""
            yield ScreenTicked(at=at(replay.ends["burn", run_id]), set_id=set_id, state=BURNED)
    for what, thing, _, frames, wall in replay.floor_log:
        if what == "coated":
            yield FramesCoated(at=at(wall), class_id=thing, frames=frames)
        else:
            yield ScreenTicked(at=at(wall), set_id=thing, state=RECLAIMED)
    for (kind, order_id), wall in replay.ends.items():
        if kind == "packed":
            yield Packed(at=at(wall), order_id=order_id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What a lived week came to."""

    late: int
    cents: int
    moved: int = 0


def outcome(week: Week, found: Carried, moves_cents: int = 0, moved: int = 0) -> Outcome:
    """Late orders and money of a lived week, by the pick-ups as they were on Monday.

    Money: late days, cushion, set-up labour as it was, screens burned, announced runs moved.
    """
    late = cents = 0
    for order in week.orders:
        packed_tau = week.clock.tau_of(found.packed[order.order_id])
        missed = sum(tau < packed_tau for tau in order.pickups_tau[order.must_leave :])
        late += missed > 0
        cents += missed * order.late_cents
        cents += order.cushion_cents * (packed_tau > order.pickups_tau[order.must_leave] - order.cushion_min)
    labour = week.presses[0].set_up_cents_per_min
    burn = week.screen_room.burn_cents_per_screen if week.screen_room else 0
    cents += found.set_up_min * labour + found.burned_screens * burn + moves_cents
    return Outcome(late=late, cents=cents, moved=moved)


def kept_monday(week: Week, plan: Plan, days: Days) -> Outcome:
    """Monday's plan kept to the end: its queues, nothing sooner than planned."""
    return outcome(week, lived(week, plan, days, Carried(), None))


def planned_daily(
    inputs: WeekInputs, week: Week, plan: Plan, days: Days, settings: SearchSettings, mornings: int = DAYS_LIVED - 1
) -> Outcome:
    """The same week planned on every morning. Raises AssertionError where a morning's plan is not one to go by."""
    first, here, current, carried = week, inputs, plan, Carried()
    moves_cents = moved = 0
    for number in range(1, mornings + 1):
        now = _morning(first, number)
        carried = lived(week, current, days, carried, now)
        there = api.stands_now(here, week, current, carried.events, now)
        assert set(there.started) == set(carried.left), "what has its press on the floor has it in the plan"
        result = api.plan_on(there, current, settings)
        assert result.plan is not None, result.reason
        assert api.check(there.week, result.plan) == ()
        for run_id in there.started:
            assert result.plan.run[run_id].press_id == current.run[run_id].press_id
            assert result.plan.queue[current.run[run_id].press_id][0].run_id == run_id
        moves = api.measure(there.week, result.plan).cost.moves
        moves_cents += moves
        moved += moves // max(1, there.week.prices.move_cents)
        here, week, current, carried.events = there.inputs, there.week, result.plan, []
    return outcome(first, lived(week, current, days, carried, None), moves_cents, moved)


def _morning(week: Week, number: int) -> datetime:
    """Half an hour before the doors open, so many days after the plan was made."""
    day = week.clock.now + timedelta(days=number)
    return day - MORNING


def small_week(seed: int, days: int = DAYS_LIVED) -> WeekInputs:
    """Two automatics, a screen room, three people; about four runs a day, due all through the week."""
    draw = random.Random(f"lived {seed}")
    set_up = SetUpMinutes(mount_min=5, load_min=3, clean_light_min=4, clean_dark_min=8, strike_off_min=8)
    crew = (("print", 1),)
    presses = [
        shops.press(
            f"auto-{number}",
            set_up=set_up,
            set_up_crew=crew,
            run_crew=crew,
            stated_pcs_h=150,
            restart=Restart(night_min=8),
        )
        for number in (1, 2)
    ]
    orders, lots, imprints = [], [], []
    filled_min, number = 0.0, 0
    while filled_min < 2 * 540 * days * 0.9:
        number += 1
        order_id, pieces = f"{number:02d}", draw.randrange(150, 700, 25)
        locations = ("front", "back") if draw.random() < 0.3 else ("front",)
        filled_min += len(locations) * (30 + pieces / 150 * 60)
        due = min(days - 1, int(filled_min / (2 * 540) + draw.random() * 0.7))
        firmness = draw.choice(("firm", "normal", "normal", "easy"))
        orders.append(shops.order(order_id, date(2026, 3, 2) + timedelta(days=due), firmness=firmness, carrier="Van"))
        lots.append(shops.lot(f"{order_id} tee", order_id=order_id, pieces=pieces, shade="light"))
        for location in locations:
            inks = draw.sample(INKS, draw.randint(1, 3))
            imprints.append(shops.imprint(*inks, order_id=order_id, location=location, lot_ids=(f"{order_id} tee",)))
    shop = shops.shop(
        *presses,
        screen_room=shops.room(dry_min=40, crew=(("screens", 1),)),
        frames=(
            Frames(size="23x31", mesh=156, count=40, coated=10),
            Frames(size="23x31", mesh=230, count=90, coated=30),
        ),
        people=(
            Worker(person_id="ana", name="Ana", roles=("print",)),
            Worker(person_id="bea", name="Bea", roles=("print",)),
            Worker(person_id="cy", name="Cy", roles=("screens",)),
        ),
        carriers=(Carrier(name="Van", weekdays=shops.WORKDAYS, pick_up_min=990),),
        money=MoneySettings(move_cents=200, cushion_cents=500),
        days_ahead=12,
    )
    return shops.week_inputs(
        shop, orders=tuple(orders), lots=tuple(lots), imprints=tuple(imprints), digest=f"lived {seed}"
    )
