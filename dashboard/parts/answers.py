"""Answers to a what-if side by side: what comes of it, who turns late, who moves, what it costs."""

from __future__ import annotations

from dataclasses import dataclass

from dashboard.parts.words import counted, moment, money
from scheduler import api
from scheduler.domain.answers import Answer, Answers

WORDS = {
    "nobody moves": "Nobody moves",
    "every promise kept": "Every promise is kept",
    "best for the shop": "Cheapest for the shop",
    "with overtime": "With overtime",
}

Row = dict[str, str]


@dataclass(frozen=True, kw_only=True)
class Way:
    """One way to do it. rows: orders whose day changes; moved: runs elsewhere or at another time."""

    answer: Answer
    title: str
    summary: Row
    late: tuple[Row, ...]
    moved: tuple[Row, ...]


def ways(answers: Answers, currency: str) -> list[Way]:
    """Every way that has a plan of its own."""
    return [_way(answers, one, currency) for one in answers.distinct]


def _way(answers: Answers, answer: Answer, currency: str) -> Way:
    row = api.answer_values(answers, answer)
    title = WORDS.get(answer.kind, answer.kind)
    also = [WORDS.get(one.kind, one.kind).lower() for one in answers.answers if one.same_as == answer.kind]
    ready = "; ".join(f"{one.order_id} {moment(one.after_at)}" for one in row.ready if one.after_at is not None)
    new_late = [one for one in row.late if one.is_new]
    others = [one for one in row.late if not one.is_new]
    return Way(
        answer=answer,
        title=title,
        summary={
            "way": ", ".join([title, *also]),
            **({"ready": f"{ready}{', ▲ LATE' if new_late else ''}"} if ready else {}),
            "others that turn late": f"▲ {', '.join(one.order_id for one in others)}" if others else "none",
            "runs that move": str(len(row.moved)),
            "costs the shop": _signed(row.extra_cents, currency),
        },
        late=tuple(
            {
                "order": one.order_id,
                "client": one.client,
                "must leave": moment(one.must_leave_at),
                "before": "not in it" if one.before_at is None else moment(one.before_at),
                "then": "not in it" if one.after_at is None else moment(one.after_at),
                "late": f"▲ LATE, {counted(one.late_after, 'pick-up')} missed" if one.late_after else "",
            }
            for one in row.dates
        ),
        moved=tuple(
            {
                "run": one.run_id,
                "client": one.client,
                "was": f"{one.from_press}, {moment(one.from_at)}",
                "then": f"{one.to_press}, {moment(one.to_at)}",
            }
            for one in row.moved
        ),
    )


def _signed(cents: int, currency: str) -> str:
    if cents == 0:
        return "nothing more"
    return f"{money(abs(cents), currency)} {'more' if cents > 0 else 'less'}"
