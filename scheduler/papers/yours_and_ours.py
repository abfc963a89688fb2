"""The planner's own sequence beside the plan found: one sentence, one table, where presses wait, what would help."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from scheduler.domain.own_order import OneChange, PressWait
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.papers.figures import plan_figures
from scheduler.papers.summary import TERM_NAMES
from scheduler.papers.text import Line, Section
from scheduler.papers.words import late, listed, minutes, money
from scheduler.review.compare import compare
from scheduler.review.measures import Measures, measure

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
SHOWN = 12
"""Names a sentence lists before it only counts."""
ON_ITS_PRESS = "Where the list names no press, a run is on the press where it ends first, and stays there below."


@dataclass(frozen=True, kw_only=True)
class YoursAndOurs:
    """Two plans of one week.

    yours None: the list makes no plan, `reason` says why. told: what could not be done as listed. not_named: runs
    the list does not name. ours is yours where the search found nothing cheaper, None if there is no plan at all.
    """

    week: Week
    source: str
    yours: Plan | None
    ours: Plan | None
    reason: str = ""
    told: tuple[str, ...] = ()
    not_named: tuple[str, ...] = ()
    names_every_press: bool = False
    your_waits: tuple[PressWait, ...] = ()
    our_waits: tuple[PressWait, ...] = ()
    changes: tuple[OneChange, ...] = ()


def opening_sentence(both: YoursAndOurs, currency: str = "") -> str:
    """Both plans in one sentence: "Yours: 3 late; ours: 1 late, two fewer set-ups, 214.00 EUR cheaper."."""
    if both.yours is None:
        return f"Your order makes no plan: {both.reason}."
    yours = measure(both.week, both.yours)
    told = f"Yours: {_late_text(yours)}; "
    if both.ours is None or both.ours == both.yours:
        return f"{told}nothing we found is cheaper."
    ours = measure(both.week, both.ours)
    parts = [_late_text(ours)]
    for thing, change in (
        ("set-up", ours.set_ups - yours.set_ups),
        ("screen burned", ours.screens_burned - yours.screens_burned),
    ):
        if change:
            parts.append(_fewer(change, thing))
    saved = yours.cost.total - ours.cost.total
    parts.append(f"{money(saved, currency)} cheaper" if saved else "at the same cost")
    return f"{told}ours: {', '.join(parts)}."


def beside_sections(both: YoursAndOurs, currency: str = "") -> tuple[Section, ...]:
    """What is told under the sentence, section by section; without a plan of theirs only why."""
    found = [_could_not(both)]
    if both.yours is not None and both.ours is not None:
        yours, ours = both.yours, both.ours
        found += [
            _side_by_side(both, yours, ours, currency),
            _late_orders(both.week, yours, ours),
            _waits(both),
            _changes(both.changes, currency, is_best=yours == ours),
        ]
    return tuple(section for section in found if section is not None)


def beside_figures(both: YoursAndOurs, currency: str = "") -> dict[str, Any]:
    """Both plans in figures for other programs: money in integer cents, waits in minutes, difference ours - yours."""
    yours = None if both.yours is None else _figures(both.week, both.yours, both.your_waits)
    ours = None if both.ours is None else _figures(both.week, both.ours, both.our_waits)
    difference = {}
    if yours is not None and ours is not None:
        difference = {key: ours[key] - yours[key] for key in yours if isinstance(yours[key], int)}
        terms = yours["cost_terms"]
        difference["cost_terms"] = {term: ours["cost_terms"][term] - cents for term, cents in terms.items()}
    return {
        "sentence": opening_sentence(both, currency),
        "source": both.source,
        "reason": both.reason,
        "currency": currency,
        "money_unit": "cents",
        "yours": yours,
        "ours": ours,
        "difference": difference or None,
        "not_as_listed": list(both.told),
        "not_named": list(both.not_named),
        "changes": [
            {"change": one.words, "saves": one.saves_cents, "late_orders_fewer": one.late_fewer} for one in both.changes
        ],
    }


def _figures(week: Week, plan: Plan, waits: Sequence[PressWait]) -> dict[str, Any]:
    seen = measure(week, plan)
    return {
        **plan_figures(week, plan),
        "set_ups": seen.set_ups,
        "overtime_min": seen.overtime_min,
        "wait_min": sum(one.wait_min for one in waits),
        "waits": [{"press": one.press_id, "for": one.what, "min": one.wait_min} for one in waits],
        "queues": {press_id: [one.run_id for one in queue] for press_id, queue in plan.queue.items()},
    }


def _late_text(seen: Measures) -> str:
    return f"{len(seen.late_orders) or 'none'} late"


def _fewer(change: int, thing: str) -> str:
    count = abs(change)
    number = NUMBERS[count] if count < len(NUMBERS) else str(count)
    first, _, rest = thing.partition(" ")
    things = first if count == 1 else f"{first}s"
    return f"{number} {'fewer' if change < 0 else 'more'} {f'{things} {rest}'.strip()}"


def _could_not(both: YoursAndOurs) -> Section | None:
    told = list(both.told)
    if both.not_named:
        shown = list(both.not_named[:SHOWN])
        rest = len(both.not_named) - len(shown)
        names = listed([*shown, *([f"{rest} more"] if rest else [])])
        told.append(f"Not in {both.source}, so after everything that is, by due date: {names}.")
    if not both.names_every_press and both.yours is not None:
        told.append(ON_ITS_PRESS)
    return Section(title="How your order was read", sentences=tuple(told)) if told else None


def _side_by_side(both: YoursAndOurs, yours: Plan, ours: Plan, currency: str) -> Section:
    beside = compare(both.week, yours, ours)
    waits = [sum(one.wait_min for one in side) for side in (both.your_waits, both.our_waits)]
    rows = [
        ("late orders", len(beside.a.late_orders), len(beside.b.late_orders)),
        ("late days, all orders", _late_days(beside.a), _late_days(beside.b)),
        ("set-ups", beside.a.set_ups, beside.b.set_ups),
        ("ink changes", beside.a.ink_loads, beside.b.ink_loads),
        ("screens burned", beside.a.screens_burned, beside.b.screens_burned),
    ]
    lines = [Line(cells=(what, str(a), str(b), f"{b - a:+d}" if b != a else "0")) for what, a, b in rows]
    times = [("presses wait", waits[0], waits[1]), ("overtime", beside.a.overtime_min, beside.b.overtime_min)]
    for what, a, b in times:
        lines.append(Line(cells=(what, minutes(a), minutes(b), _signed(b - a, minutes(abs(b - a))))))
    for term in beside.terms:
        change = _signed(term.change_cents, money(abs(term.change_cents)))
        name = f"together, {currency}".rstrip(", ") if term.term == "total" else TERM_NAMES[term.term]
        lines.append(Line(cells=(name, money(term.a_cents), money(term.b_cents), change)))
    return Section(
        title="Yours and ours",
        headings=("what", "yours", "ours", "difference"),
        lines=tuple(lines),
        right=frozenset({1, 2, 3}),
    )


def _late_days(seen: Measures) -> int:
    return sum(one.pickups_missed for one in seen.late_orders)


def _signed(change: int, text: str) -> str:
    return f"{'-' if change < 0 else '+'}{text}" if change else "0"


def _late_orders(week: Week, yours: Plan, ours: Plan) -> Section | None:
    lines = [
        Line(cells=(one.order_id, week.order[one.order_id].client, _days(one.a_missed), _days(one.b_missed)))
        for one in compare(week, yours, ours).late_orders
    ]
    if not lines:
        return None
    return Section(title="Late in either", headings=("order", "client", "yours", "ours"), lines=tuple(lines))


def _days(missed: int | None) -> str:
    return late(missed or 0) or "in time"


def _waits(both: YoursAndOurs) -> Section | None:
    yours, ours = _by_press(both.your_waits), _by_press(both.our_waits)
    names = {press.press_id: press.name for press in both.week.presses}
    lines = [
        Line(cells=(names[key[0]], key[1], minutes(yours.get(key, 0)), minutes(ours.get(key, 0))))
        for key in sorted({**yours, **ours}, key=lambda one: (list(names).index(one[0]), -yours.get(one, 0), one[1]))
    ]
    if not lines:
        return None
    return Section(
        title="Where presses wait, and for what",
        headings=("press", "waits for", "yours", "ours"),
        lines=tuple(lines),
        right=frozenset({2, 3}),
    )


def _by_press(waits: Iterable[PressWait]) -> dict[tuple[str, str], int]:
    return {(one.press_id, one.what): one.wait_min for one in waits}


def _changes(changes: Sequence[OneChange], currency: str, *, is_best: bool) -> Section | None:
    if not changes:
        told = "" if is_best else "No single change we tried saves anything: what is gained, many small moves gain."
        return Section(title="What would save most in your order", sentences=(told,)) if told else None
    return Section(
        title="What would save most in your order",
        sentences=tuple(_change_text(changes, currency)),
    )


def _change_text(changes: Sequence[OneChange], currency: str) -> Iterator[str]:
    yield "Each by itself, all else as you have it:"
    for number, one in enumerate(changes, start=1):
        told = f"{number}. {one.words[:1].upper()}{one.words[1:]}: saves {money(one.saves_cents, currency)}"
        if one.late_fewer:
            told += f", {abs(one.late_fewer)} {'fewer' if one.late_fewer > 0 else 'more'} late"
        yield f"{told}."
