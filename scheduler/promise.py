"""The date for an order that is not taken yet: the earliest that hurts nobody, and what an earlier one would cost."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from typing import Any

from scheduler.domain.answers import Answer, Answers
from scheduler.domain.chances import Chances
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.what_if import Rush
from scheduler.errors import InputError, Problem
from scheduler.insight.ship_days import IN_ALL, REPLAYS, ShipDay, ship_days
from scheduler.papers.answer_rows import answer_row
from scheduler.papers.odds import basis
from scheduler.papers.text import Line, Section
from scheduler.papers.words import counted, day_and_time, money
from scheduler.what_if.answering import answer


@dataclass(frozen=True, slots=True, kw_only=True)
class Offered:
    """One way to take the order. turns_late: others that would miss more pick-ups; extra_cents: what it costs more."""

    answer: Answer
    day: ShipDay
    turns_late: tuple[str, ...]
    moved: int
    extra_cents: int


@dataclass(frozen=True, kw_only=True)
class Promise:
    """Every way to take an order. reasons: why a way is none; chances: what the odds rest on."""

    order_id: str
    offers: tuple[Offered, ...]
    reasons: tuple[str, ...]
    confidence: float
    chances: Chances

    @property
    def harmless(self) -> Offered | None:
        """The earliest day to say among the ways in which nobody else turns late."""
        return self._earliest([one for one in self.offers if not one.turns_late])

    @property
    def earliest(self) -> Offered | None:
        """The earliest day to say of all."""
        return self._earliest(list(self.offers))

    @staticmethod
    def _earliest(offers: list[Offered]) -> Offered | None:
        sure = [one for one in offers if one.day.say_tau is not None]
        return min(sure, key=lambda one: (one.day.say_tau or 0, one.extra_cents), default=None)


def promise(
    inputs: WeekInputs,
    plan: Plan,
    rush: Rush,
    settings: SearchSettings,
    *,
    confidence: float,
    replays: int = REPLAYS,
    on_answer: Callable[[Answer], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Promise:
    """Ask for the order as soon as can be, and live each way through.

    Raises InputError as `what_if.answering.answer`.
    """
    at_once = replace(rush, order=replace(rush.order, due_at=inputs.shop.plan_from.date(), due_kind="leaves"))
    answers = answer(inputs, plan, [at_once], settings, on_answer=on_answer, stop=stop)
    order_id = rush.order.order_id
    offers = [
        _offered(answers, one, order_id, inputs, confidence, replays)
        for one in answers.distinct
        if one.plan is not None and order_id in one.plan.order
    ]
    reasons = tuple(dict.fromkeys(one.reason for one in answers.answers if one.plan is None and one.reason))
    return Promise(
        order_id=order_id, offers=tuple(offers), reasons=reasons, confidence=confidence, chances=inputs.shop.chances
    )


def rush_of(asked: list[Any]) -> Rush:
    """The one order that is asked about. Raises InputError where it is none or several."""
    rushes = [one for one in asked if isinstance(one, Rush)]
    if len(rushes) == 1 and len(asked) == 1:
        return rushes[0]
    raise InputError(
        (
            Problem(
                file="--order",
                code="not_one_order",
                message=f"holds {counted(len(rushes), 'new order')}",
                hint="name a file with one [[rush]] in it, with the headings of the orders sheet",
            ),
        )
    )


def _offered(
    answers: Answers, one: Answer, order_id: str, inputs: WeekInputs, confidence: float, replays: int
) -> Offered:
    assert one.plan is not None
    row = answer_row(answers, one)
    days = ship_days(one.week, one.plan, inputs.shop.chances, confidence=confidence, replays=replays, with_slips=False)
    return Offered(
        answer=one,
        day=next(day for day in days if day.order_id == order_id),
        turns_late=tuple(date.order_id for date in row.dates if date.turns_late and not date.is_new),
        moved=len(row.moved),
        extra_cents=row.extra_cents - _late_cents(one, order_id),
    )


def _late_cents(one: Answer, order_id: str) -> int:
    """What the order itself counts as late: it was asked for at once, which nobody has promised."""
    assert one.plan is not None
    order = one.week.order[order_id]
    packed_tau = one.plan.order[order_id].packed_tau
    missed = sum(pickup < packed_tau for pickup in order.pickups_tau[order.must_leave :])
    in_cushion = packed_tau > order.pickups_tau[order.must_leave] - order.cushion_min
    return missed * order.late_cents + (order.cushion_cents if in_cushion else 0)


def opening(found: Promise) -> str:
    """The date to say in one sentence."""
    if not found.offers:
        return f"{found.order_id} cannot be taken: {'; '.join(found.reasons) or 'no plan was found in time'}."
    harmless, earliest = found.harmless, found.earliest
    if harmless is None and earliest is None:
        return f"No day within the planned ones is sure enough for {found.order_id}."
    told = []
    if harmless is not None:
        told.append(f"Say {_day(harmless)}: nobody else turns late, and it holds in {_times(found.confidence)} weeks.")
    else:
        told.append(f"No day for {found.order_id} is sure enough without others turning late.")
    if earliest is not None and (harmless is None or (earliest.day.say_tau or 0) < (harmless.day.say_tau or 0)):
        late = counted(len(earliest.turns_late), "other order turns", "other orders turn")
        told.append(f"{_day(earliest)} could be had, but {late} late: {', '.join(earliest.turns_late)}.")
    return " ".join(told)


def sections(found: Promise, currency: str = "") -> tuple[Section, ...]:
    """Every way side by side."""
    if not found.offers:
        return ()
    return (
        Section(
            title="Ways to take it",
            sentences=(basis(found.chances),),
            headings=("way", "ready", "day to say", "odds of that day", "runs moved", "turns late", "costs more"),
            lines=tuple(
                Line(
                    cells=(
                        one.answer.kind,
                        day_and_time(one.answer.week.clock.ends_at(one.day.planned_tau)),
                        _day(one),
                        _odds(one.day),
                        str(one.moved),
                        ", ".join(one.turns_late) or "nobody",
                        money(one.extra_cents, currency),
                    )
                )
                for one in found.offers
            ),
            right=frozenset({4, 6}),
        ),
    )


def figures(found: Promise) -> dict[str, Any]:
    """The same for other programs."""
    return {
        "order_id": found.order_id,
        "confidence": found.confidence,
        "chances": asdict(found.chances),
        "reasons": list(found.reasons),
        "ways": [
            {
                "way": one.answer.kind,
                "ready": one.answer.week.clock.ends_at(one.day.planned_tau).isoformat(),
                "say": None if one.day.say_tau is None else one.answer.week.clock.ends_at(one.day.say_tau).isoformat(),
                "turns_late": list(one.turns_late),
                "runs_moved": one.moved,
                "costs_more_cents": one.extra_cents,
            }
            for one in found.offers
        ],
    }


def _day(one: Offered) -> str:
    if one.day.say_tau is None:
        return "later than the planned days"
    return day_and_time(one.answer.week.clock.ends_at(one.day.say_tau))


def _odds(day: ShipDay) -> str:
    found = next((one for one in day.odds if one.pickup_tau == day.say_tau), None)
    return "" if found is None else f"{found.in_20} in {IN_ALL}"


def _times(confidence: float) -> str:
    return f"{confidence * IN_ALL:g} of {IN_ALL}"
