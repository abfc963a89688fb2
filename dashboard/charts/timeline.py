"""The timeline: who and what is busy when, on shop time; one trace of bars however many there are."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from html import escape
from typing import TYPE_CHECKING, Any

import plotly.graph_objects as go

from dashboard.charts.bars import GROUPS, PRESSES, Bar, Lane, lanes, within
from dashboard.charts.drawn import Drawn, key
from dashboard.charts.palette import HOW_DRAWN, INK, LOOKS, PANEL, PICKED, RULE, Look
from dashboard.charts.picture import Picture
from dashboard.charts.shop_axis import clock_ticks, cuts_inside, day_ticks, shop_days
from dashboard.charts.template import register
from scheduler.api import words
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week

if TYPE_CHECKING:
    from scheduler.api import PlanView

HEADINGS = ("where", "what", "from", "until", "for", "why it starts then", "late")
LANE_PX = 40
CHAR_PX = 7.0
"""Width of an average letter at the size of a bar's words."""

LABEL_PX = 34
"""Bars narrower than this carry no words at all."""

LABEL_HIGH_PX = 14
"""Bars lower than this carry none either."""

WIDE_PX, KEY_PX, TICKS_PX = 600, 44, 32
"""Below this width the figure has no key; heights of key and ticks."""

LATE_NAMED = 4
"""Late orders named in the sentence above before the rest is only counted."""

ROW_SHARE = {PRESSES: 1.0}
PACKED_SHARE, THIN_SHARE, GAP_SHARE = 0.66, 0.3, 0.35
"""Heights against a press's lane: other lanes, each row of those without words, and the room between groups."""


@dataclass(frozen=True, kw_only=True)
class Shown:
    """What of a plan to draw: shop minutes [from_tau, to_tau), which groups of lanes, how wide the page is.

    picked_order: drawn with a heavy outline. chain: runs along whose bars it is drawn. now_tau: where "now" stands.
    """

    from_tau: int
    to_tau: int
    groups: tuple[str, ...] = GROUPS
    width_px: int = 1100
    picked_order: str = ""
    chain: tuple[str, ...] = ()
    now_tau: int | None = None


def timeline(week: Week, plan: Plan, view: PlanView, shown: Shown) -> Picture:
    """Presses, screen room, floor, dryers and people in the asked part of the plan."""
    wanted = [lane for lane in lanes(week, plan, view) if lane.group in shown.groups]
    kept = [(lane, within(lane.bars, shown.from_tau, shown.to_tau)) for lane in wanted]
    kept = [(lane, bars) for lane, bars in kept if bars or lane.group == PRESSES]
    figure, height_px = _figure(week, kept, shown, view)
    rows = tuple(row for lane, bars in kept for row in _rows(week, lane, bars))
    sentence = _sentence(week, kept, shown)
    names = words.listed([lane.name for lane, _ in kept])
    alt = f"Timeline of {_span_words(week, shown)}, one line for each of {names}. "
    figure.update_layout(height=height_px)
    looks = dict.fromkeys(bar.look for _, bars in kept for bar in bars)
    told = "; ".join(f"{LOOKS[look].name}: {HOW_DRAWN[LOOKS[look].pattern]}" for look in looks if LOOKS[look].pattern)
    return Picture(figure=figure, sentence=sentence, alt=f"{alt}{sentence}", headings=HEADINGS, rows=rows, key=told)


def packed(bars: Iterable[Bar]) -> list[list[Bar]]:
    """Bars in as few rows as hold them without two at once in a row."""
    found: list[list[Bar]] = []
    for bar in sorted(bars, key=lambda one: (one.start_tau, one.end_tau)):
        row = next((row for row in found if row[-1].end_tau <= bar.start_tau), None)
        if row is None:
            found.append([bar])
        else:
            row.append(bar)
    return found


def label_in(bar: Bar, room_px: float) -> str:
    """The longest of a bar's words that fits; nothing where the bar is narrow."""
    if room_px < LABEL_PX:
        return ""
    return next((text for text in bar.labels if len(text) * CHAR_PX <= room_px - 6), "")


def _figure(week: Week, kept: Sequence[tuple[Lane, list[Bar]]], shown: Shown, view: PlanView) -> tuple[go.Figure, int]:
    drawn = Drawn()
    names: list[str] = []
    middles: list[float] = []
    rules: list[float] = []
    top, group = 0.0, ""
    for lane, bars in kept:
        if group and lane.group != group:
            rules.append(top + GAP_SHARE / 2)
            top += GAP_SHARE
        group = lane.group
        rows = packed(bars) or [[]]
        height = THIN_SHARE if lane.is_thin else ROW_SHARE.get(lane.group, PACKED_SHARE)
        _ground(drawn, week, lane, shown, top, height * len(rows))
        for number, row in enumerate(rows):
            for bar in row:
                foot = _add(drawn, week, bar, shown, top + number * height, height)
                if lane.group == PRESSES:
                    drawn.foot.setdefault(bar.run_id, []).append(foot)
        names.append(lane.name)
        middles.append(top + height * len(rows) / 2)
        top += height * len(rows) + (0.0 if lane.is_thin else 0.06)
    figure = go.Figure(layout={"template": register()})
    figure.add_trace(drawn.trace())
    seen = {bar.look for _, bars in kept for bar in bars}
    for look in (LOOKS[name] for name in LOOKS if name in seen):
        figure.add_trace(key(look))
    if shown.chain:
        figure.add_trace(drawn.chain_trace(shown.chain))
    is_day = _is_one_day(week, shown)
    ticks = _ticks(week, shown)
    figure.update_layout(
        barmode="overlay",
        showlegend=shown.width_px >= WIDE_PX,
        xaxis={
            "range": [shown.from_tau, shown.to_tau],
            "tickvals": ticks[0],
            "ticktext": ticks[1],
            "showgrid": is_day,
            "side": "bottom",
        },
        yaxis={"range": [top, 0], "tickvals": middles, "ticktext": [escape(name) for name in names], "showgrid": False},
        shapes=_lines(week, shown, rules),
        margin={"l": 8, "r": 8, "t": KEY_PX, "b": TICKS_PX},
    )
    return figure, int(top * LANE_PX) + KEY_PX + TICKS_PX


def _ground(drawn: Drawn, week: Week, lane: Lane, shown: Shown, top: float, height: float) -> None:
    """Closed hours of a lane, as far as the shop axis has them."""
    if lane.hours is None:
        return
    edges = [shown.from_tau]
    for window in lane.hours:
        edges += [window.start_tau, window.end_tau]
    edges.append(shown.to_tau)
    for start, end in zip(edges[::2], edges[1::2], strict=True):
        start, end = max(start, shown.from_tau), min(end, shown.to_tau)
        if start < end:
            text = f"{escape(lane.name)}: closed or away until {words.day_and_time(week.clock.ends_at(end))}"
            closed = Look(name="closed", fill=PANEL, edge=PANEL, edge_px=0)
            drawn.add((start, end), (top, height), "", (text, ""), closed)


def _add(drawn: Drawn, week: Week, bar: Bar, shown: Shown, top: float, height: float) -> tuple[int, int, float]:
    """Draws a bar as far as it is shown; (from, to, where its foot is)."""
    start, end = max(bar.start_tau, shown.from_tau), min(bar.end_tau, shown.to_tau)
    room_px = (end - start) * shown.width_px / (shown.to_tau - shown.from_tau)
    look = LOOKS[bar.look]
    inner = height * 0.86 * bar.share
    text = escape(label_in(bar, room_px)) if inner * LANE_PX >= LABEL_HIGH_PX else ""
    foot = top + height * 0.93
    if shown.picked_order and bar.order_id == shown.picked_order:
        look = replace(look, edge=PICKED, edge_px=3.0)
    drawn.add((start, end), (foot - inner, inner), text, (_hover(week, bar), bar.run_id), look)
    return start, end, foot


def _hover(week: Week, bar: Bar) -> str:
    start, end = week.clock.starts_at(bar.start_tau), week.clock.ends_at(bar.end_tau)
    lines = [
        f"<b>{escape(bar.what)}</b> {words.day_and_time(start)} to {words.until(start, end)}",
        escape(bar.about),
        escape(bar.late),
        f"starts then: {escape(bar.why)}" if bar.why else "",
    ]
    return "<br>".join(line for line in lines if line)


def _is_one_day(week: Week, shown: Shown) -> bool:
    return sum(day.from_tau < shown.to_tau and day.to_tau > shown.from_tau for day in shop_days(week.clock)) == 1


def _ticks(week: Week, shown: Shown) -> tuple[Sequence[float], list[str]]:
    if _is_one_day(week, shown):
        return clock_ticks(week.clock, shown.from_tau, shown.to_tau, width_px=shown.width_px)
    return day_ticks(week.clock, shown.from_tau, shown.to_tau)


def _lines(week: Week, shown: Shown, rules: Sequence[float]) -> list[dict[str, Any]]:
    """Where time has been cut out, between groups, and now."""
    days = {day.from_tau for day in shop_days(week.clock)}
    found: list[dict[str, Any]] = [
        _upright(tau, INK if tau in days else RULE, 1.0, "solid" if tau in days else "dot")
        for tau in cuts_inside(week.clock, shown.from_tau, shown.to_tau)
    ]
    found += [
        {"type": "line", "xref": "paper", "x0": 0, "x1": 1, "y0": y, "y1": y, "line": {"color": RULE, "width": 1}}
        for y in rules
    ]
    if shown.now_tau is not None and shown.from_tau < shown.now_tau < shown.to_tau:
        found.append(_upright(shown.now_tau, PICKED, 2.0, "dash"))
    return found


def _upright(tau: int, color: str, width: float, dash: str) -> dict[str, Any]:
    line = {"color": color, "width": width, "dash": dash}
    return {"type": "line", "yref": "paper", "y0": 0, "y1": 1, "x0": tau, "x1": tau, "line": line, "layer": "below"}


def _rows(week: Week, lane: Lane, bars: Sequence[Bar]) -> list[tuple[str, ...]]:
    """A row for each thing on a lane, its pauses inside it."""
    together: dict[tuple[str, str, str], list[Bar]] = {}
    for number, bar in enumerate(bars):
        own = bar.about if bar.run_id or bar.order_id else str(number)
        together.setdefault((bar.what, own, bar.run_id), []).append(bar)
    found: list[tuple[str, ...]] = []
    for same in together.values():
        start: datetime = week.clock.starts_at(min(bar.start_tau for bar in same))
        end = week.clock.ends_at(max(bar.end_tau for bar in same))
        bar = same[0]
        why = bar.why if bar.what in ("set-up", "printing") else ""
        found.append(
            (lane.name, bar.what, words.day_and_time(start), words.day_and_time(end), bar.about, why, bar.late)
        )
    return found


def _span_words(week: Week, shown: Shown) -> str:
    days = [day for day in shop_days(week.clock) if day.from_tau < shown.to_tau and day.to_tau > shown.from_tau]
    return days[0].long if len(days) == 1 else f"{days[0].long} to {days[-1].long}"


def _sentence(week: Week, kept: Sequence[tuple[Lane, list[Bar]]], shown: Shown) -> str:
    """Runs, presses, what is late, and when the last press stops."""
    on_press = [(lane, bar) for lane, bars in kept if lane.group == PRESSES for bar in bars if bar.look != "pause"]
    when = _span_words(week, shown)
    if not on_press:
        return f"{when}: nothing is planned on a press."
    runs = {bar.run_id for _, bar in on_press}
    busy = {lane.name for lane, _ in on_press}
    late = {bar.order_id: bar.late for _, bar in on_press if bar.late}
    last_lane, last = max(on_press, key=lambda one: (min(one[1].end_tau, shown.to_tau), one[0].name))
    told = f"{when}: {words.counted(len(runs), 'run')} on {words.counted(len(busy), 'press', 'presses')}"
    if late:
        named = [f"{order_id} {text}" for order_id, text in sorted(late.items())]
        more = [f"{len(named) - LATE_NAMED} more late orders"] if len(named) > LATE_NAMED + 1 else []
        told += f"; {words.listed([*(named[:LATE_NAMED] if more else named), *more])}"
    else:
        told += "; none of them for a late order"
    if last.end_tau > shown.to_tau:
        return f"{told}; {last_lane.name} works on past the end."
    end = week.clock.ends_at(last.end_tau)
    one_day = _is_one_day(week, shown)
    return f"{told}; the last press, {last_lane.name}, stops {f'{end:%H:%M}' if one_day else words.day_and_time(end)}."
