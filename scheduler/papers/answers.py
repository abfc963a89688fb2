"""Answers to a what-if as a report: side by side first, then each with who moves, who turns late and what it costs."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from typing import Any

from scheduler.domain.answers import KINDS, Answer, Answers
from scheduler.papers.answer_rows import AnswerRow, DateRow, QueueChange, answer_row
from scheduler.papers.summary import TERM_NAMES
from scheduler.papers.text import Line, Section
from scheduler.papers.words import counted, day_and_time, late, listed, minutes, money

LEAST_DAYS, SIGNS = 4, 8
"""Days shown on either side of the pick-up, and signs drawn for them."""
LEAST_SHIFT = timedelta(minutes=15)
"""Orders ready this little sooner or later are only counted."""
BEFORE, AFTER, BOTH, PICK_UP = "o", "x", "*", "|"
NOT_IN_IT = "Garments, ink and the hours at the press come on top: they are no part of these sums."


def answers_line(answers: Answers, currency: str = "") -> str:
    """The best answer in one sentence."""
    if not answers.distinct:
        return f"No: {answers.answers[0].reason}."
    rows = [answer_row(answers, one) for one in answers.distinct]
    best = min(rows, key=lambda row: (len(row.late), row.extra_cents))
    parts = [f"{row.order_id} is ready {_at(row.after_at)}{_against(row)}" for row in best.ready]
    parts.append(f"{counted(len(best.moved), 'run moves', 'runs move')}" if best.moved else "nobody moves")
    others = [row.order_id for row in best.late if not row.is_new]
    parts.append(f"{listed(others)} {'turns' if len(others) == 1 else 'turn'} late" if others else "nobody turns late")
    opening = "Yes" if not best.late else "Only late"
    return f"{opening}: {', '.join(parts)}. It costs the shop {_signed(best.extra_cents, currency)}."


def answer_sections(answers: Answers, currency: str = "") -> tuple[Section, ...]:
    """Everything, section by section."""
    rows = [answer_row(answers, one) for one in answers.distinct]
    found: list[Section | None] = [_side_by_side(answers, rows, currency)]
    for row in rows:
        found += [_moves(row), _dates(row), *_queues(row), _cost(row, currency)]
    if answers.told:
        found.append(Section(title="Assumed", sentences=tuple(f"{one}." for one in answers.told)))
    return tuple(section for section in found if section is not None)


def answer_figures(answers: Answers, currency: str = "") -> dict[str, Any]:
    """The answers in figures for other programs. Money in integer cents, times with their offset."""
    return {
        "what_if": answers.name,
        "sentence": answers_line(answers, currency),
        "currency": currency,
        "money_unit": "cents",
        "first_answer_seconds": answers.first_seconds,
        "orders": list(answers.order_ids),
        "told": list(answers.told),
        "answers": [_figures(answers, one) for one in answers.answers],
    }


def _figures(answers: Answers, one: Answer) -> dict[str, Any]:
    told: dict[str, Any] = {"kind": one.kind, "reason": one.reason, "same_as": one.same_as}
    if one.plan is None:
        return told
    row = answer_row(answers, one)
    return told | {
        "ready": {date.order_id: _iso(date.after_at) for date in row.ready},
        "extra_cost": row.extra_cents,
        "cost_terms": {
            term.term: {"before": term.a_cents, "after": term.b_cents, "change": term.change_cents}
            for term in row.terms
        },
        "extra_set_ups": row.extra_set_ups,
        "extra_screens": row.extra_screens,
        "extra_overtime_min": row.extra_overtime_min,
        "moved": [
            {
                "run": moved.run_id,
                "order": moved.order_id,
                "from": {"press": moved.from_press, "at": _iso(moved.from_at)},
                "to": {"press": moved.to_press, "at": _iso(moved.to_at)},
                "later_min": moved.later_min,
            }
            for moved in row.moved
        ],
        "dates": [
            {
                "order": date.order_id,
                "must_leave": _iso(date.must_leave_at),
                "before": _iso(date.before_at),
                "after": _iso(date.after_at),
                "late_days_before": date.late_before,
                "late_days_after": date.late_after,
            }
            for date in row.dates
        ],
        "queues": {one.press_id: {"before": list(one.before), "after": list(one.after)} for one in row.queues},
        "stability": {
            "runs": row.stability.runs,
            "moved": row.stability.moved,
            "minutes_moved": row.stability.minutes,
            "press_changes": row.stability.presses,
            "reversed_pairs": row.stability.reversed_pairs,
        },
        "not_planned_any_more": list(row.dropped),
        "seconds": round(row.seconds, 3),
    }


def _side_by_side(answers: Answers, rows: Sequence[AnswerRow], currency: str) -> Section:
    """One column for each distinct answer; those that are none, or the same, told in a sentence."""
    told = [_none_or_same(one) for one in answers.answers if one.plan is None or one.same_as]
    if not rows:
        return Section(title="Answers", sentences=tuple(dict.fromkeys(told)))
    facts: list[tuple[str, Callable[[AnswerRow], str]]] = [
        *((f"{order_id} ready to leave", _ready(order_id)) for order_id in answers.order_ids),
        ("runs moved", lambda row: str(row.stability.moved)),
        ("minutes moved, all together", lambda row: str(row.stability.minutes)),
        ("turn late", lambda row: listed([f"{one.order_id} {late(one.late_after)}" for one in row.late]) or "nobody"),
        ("set-ups more", lambda row: f"{row.extra_set_ups:+d}"),
        ("screens burned more", lambda row: f"{row.extra_screens:+d}"),
        ("overtime more", lambda row: minutes(row.extra_overtime_min)),
        (f"costs the shop {currency}".strip(), lambda row: _signed(row.extra_cents)),
    ]
    return Section(
        title="Answers side by side",
        sentences=tuple(told),
        headings=("", *(_kinds(answers, row.kind) for row in rows)),
        lines=tuple(Line(cells=(name, *(fact(row) for row in rows))) for name, fact in facts),
    )


def _kinds(answers: Answers, kind: str) -> str:
    """An answer's name, with those that are the very same."""
    same = [one.kind for one in answers.answers if one.same_as == kind]
    return " = ".join([kind, *same])


def _none_or_same(one: Answer) -> str:
    name = one.kind[0].upper() + one.kind[1:]
    return f"{name}: the same plan as {one.same_as}." if one.plan is not None else f"{name}: {one.reason}."


def _ready(order_id: str) -> Callable[[AnswerRow], str]:
    def told(row: AnswerRow) -> str:
        date = next((one for one in row.ready if one.order_id == order_id), None)
        return f"{_at(date.after_at)} {late(date.late_after)}".rstrip() if date else "not planned"

    return told


def _moves(row: AnswerRow) -> Section | None:
    """Who moves, by how much."""
    if not row.moved:
        return None
    return Section(
        title=f"{_title(row)}: who moves",
        sentences=(
            f"{row.stability.moved} of {row.stability.runs} runs move, {minutes(row.stability.minutes)} all together; "
            f"{row.stability.presses} to another press; {counted(row.stability.reversed_pairs, 'pair')} "
            "printed in the other order.",
        ),
        headings=("run", "client", "from", "to", "by"),
        lines=tuple(
            Line(
                cells=(
                    one.run_id,
                    one.client,
                    f"{one.from_press} {day_and_time(one.from_at)}",
                    f"{one.to_press} {day_and_time(one.to_at)}",
                    f"{minutes(abs(one.later_min))} {'later' if one.later_min > 0 else 'sooner'}",
                )
            )
            for one in row.moved
        ),
    )


def _dates(row: AnswerRow) -> Section | None:
    """Orders ready at another time, drawn around the pick-up they must make."""
    shown = [one for one in row.dates if _is_worth_a_line(one)]
    told = [f"{order_id} is not planned any more." for order_id in row.dropped]
    rest = len(row.dates) - len(shown)
    if rest:
        told.append(f"{counted(rest, 'order')} more by less than {minutes(LEAST_SHIFT.seconds // 60)}.")
    if not shown:
        return Section(title=f"{_title(row)}: ready at another time", sentences=tuple(told)) if told else None
    span = _span(shown)
    head = f"-{span.days}d".ljust(SIGNS, "_") + PICK_UP + f"+{span.days}d".rjust(SIGNS, "_")
    return Section(
        title=f"{_title(row)}: ready at another time",
        sentences=(
            f"{BEFORE} before, {AFTER} after, {BOTH} both, {PICK_UP} the pick-up that keeps the promise.",
            *told,
        ),
        headings=("order", "client", "before", "after", head),
        lines=tuple(
            Line(cells=(one.order_id, one.client, _at(one.before_at), _late_at(one), drawn(one, span))) for one in shown
        ),
    )


def _is_worth_a_line(row: DateRow) -> bool:
    if row.before_at is None or row.after_at is None or row.late_before != row.late_after:
        return True
    return abs(row.after_at - row.before_at) >= LEAST_SHIFT


def _span(dates: Sequence[DateRow]) -> timedelta:
    """Whole days around the pick-up that hold every moment."""
    away = [abs(at - row.must_leave_at) for row in dates for at in (row.before_at, row.after_at) if at is not None]
    return timedelta(days=max(LEAST_DAYS, *(-(-one // timedelta(days=1)) for one in away)))


def drawn(row: DateRow, span: timedelta) -> str:
    """An order on a line with its pick-up in the middle: "......o...x.........|....................."."""
    signs = ["."] * (2 * SIGNS + 1)
    signs[SIGNS] = PICK_UP
    places = [_place(at - row.must_leave_at, span) if at is not None else None for at in (row.before_at, row.after_at)]
    for place, sign in zip(places, (BEFORE, AFTER), strict=True):
        if place is not None:
            signs[place] = BOTH if places[0] == places[1] else sign
    return "".join(signs)


def _place(away: timedelta, span: timedelta) -> int:
    """A moment's sign; what is too late never stands on the pick-up, what is in time never beyond it."""
    step = abs(away) * SIGNS / span
    signs = -(-step // 1) if away > timedelta(0) else step // 1
    return SIGNS + int(signs if away > timedelta(0) else -signs)


def _late_at(row: DateRow) -> str:
    return f"{_at(row.after_at)} {late(row.late_after)}".rstrip()


def _queues(row: AnswerRow) -> list[Section]:
    return [_queue(row, one) for one in row.queues]


def _queue(row: AnswerRow, change: QueueChange) -> Section:
    length = max(len(change.before), len(change.after))
    old = (*change.before, *[""] * (length - len(change.before)))
    new = (*change.after, *[""] * (length - len(change.after)))
    return Section(
        title=f"{_title(row)}: {change.name}, queue before and after",
        headings=("before", "after"),
        lines=tuple(Line(cells=pair) for pair in zip(old, new, strict=True)),
    )


def _cost(row: AnswerRow, currency: str) -> Section:
    heading = f"more {currency}".strip()
    return Section(
        title=f"{_title(row)}: what it costs",
        sentences=(NOT_IN_IT,) if row.ready else (),
        headings=("what", "as it stands", "then", heading),
        lines=tuple(
            Line(
                cells=(
                    TERM_NAMES.get(term.term, "together"),
                    money(term.a_cents),
                    money(term.b_cents),
                    _signed(term.change_cents),
                )
            )
            for term in row.terms
        ),
        right=frozenset({1, 2, 3}),
    )


def _title(row: AnswerRow) -> str:
    assert row.kind in KINDS
    return row.kind[0].upper() + row.kind[1:]


def _against(row: DateRow) -> str:
    return f" {late(row.late_after)}" if row.late_after else ""


def _at(moment: datetime | None) -> str:
    return "-" if moment is None else day_and_time(moment)


def _iso(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat(timespec="minutes")


def _signed(cents: int, currency: str = "") -> str:
    """Money more or less: "+36.60", "0.00", "-12.00"."""
    return f"{'+' if cents > 0 else ''}{money(cents, currency)}"
