"""The timeline's figure holds the plan's own minutes, and its table and texts say the same."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import Any

import plotly.io as pio
import pytest

from dashboard.charts import template
from dashboard.charts.bars import PRESSES, Bar, lanes, within
from dashboard.charts.palette import LOOKS, PANEL, PICKED
from dashboard.charts.timeline import LABEL_PX, Shown, label_in, packed, timeline
from tests import builders as b
from tests.dashboard.charts.shown_plans import over_lunch, seen, two_press_shop

DAY = Shown(from_tau=0, to_tau=540)


def bars_of(figure: Any) -> list[dict[str, Any]]:
    """The drawn bars, without the ground of closed hours."""
    trace = figure.data[0]
    found = [
        {"start": start, "end": start + length, "y": y, "text": text, "run": about[1], "fill": fill, "edge": edge}
        for start, length, y, text, about, fill, edge in zip(
            trace.base, trace.x, trace.y, trace.text, trace.customdata, trace.marker.color, trace.marker.line.color,
            strict=True,
        )
    ]  # fmt: skip
    return [bar for bar in found if bar["fill"] != PANEL or bar["run"]]


def test_bars_stand_where_the_plan_says() -> None:
    """Each stretch of the plan is drawn from its first shop minute to its last, and nothing else is."""
    shop = over_lunch()
    figure = timeline(*shop, replace(DAY, groups=(PRESSES,))).figure
    assert [(bar["start"], bar["end"]) for bar in bars_of(figure)] == [(0, 20), (20, 40), (40, 60), (60, 100)]
    wanted = [bar for lane in lanes(*shop) for bar in within(lane.bars, 0, 540)]
    assert len(bars_of(timeline(*shop, DAY).figure)) == len(wanted)


@pytest.mark.parametrize(("from_tau", "to_tau", "spans"), [(10, 30, [(10, 20), (20, 30)]), (100, 200, [])])
def test_bars_are_cut_to_what_is_shown(from_tau: int, to_tau: int, spans: list[tuple[int, int]]) -> None:
    """A bar reaching out of the picture is drawn up to its edge; one that ends at the edge is not drawn."""
    figure = timeline(*over_lunch(), Shown(from_tau=from_tau, to_tau=to_tau, groups=(PRESSES,))).figure
    assert [(bar["start"], bar["end"]) for bar in bars_of(figure)] == spans


def test_closed_hours_are_shaded() -> None:
    """P1's lunch lies behind its bars, from 40 to 60; P2 has none."""
    trace = timeline(*over_lunch(), replace(DAY, groups=(PRESSES,))).figure.data[0]
    ground = [
        (start, start + length)
        for start, length, fill in zip(trace.base, trace.x, trace.marker.color, strict=True)
        if fill == PANEL
    ]
    assert ground == [(40, 60)]


def test_late_is_drawn_and_written() -> None:
    """A late order's printing has the late look; sentence, alt text and table say mark, word and how much."""
    picture = timeline(*over_lunch(late=True), DAY)
    late = LOOKS["late"]
    assert {bar["edge"] for bar in bars_of(picture.figure) if bar["fill"] == late.fill} == {late.edge}
    for text in (picture.sentence, picture.alt):
        assert "or1 ▲ LATE 1 day" in text
    assert {row[-1] for row in picture.rows if row[1] == "printing" and row[0] == "P1"} == {"▲ LATE 1 day"}
    on_time = timeline(*over_lunch(), DAY)
    assert "▲" not in on_time.sentence + on_time.alt + str(on_time.rows) + str(list(on_time.figure.data[0].text))


@pytest.mark.parametrize(("late", "told"), [(5, "or5 ▲ LATE 1 day"), (6, "2 more late orders")])
def test_many_late_orders_are_counted_not_listed(late: int, told: str) -> None:
    """Five late orders are named one by one; of more than that four are named and the rest is counted."""
    runs = [b.run(f"r{number}", choices=[b.choice(print_min=20)]) for number in range(1, late + 1)]
    orders = [b.order_due(f"or{n}", [f"r{n}"], pickups_tau=(10, 2700)) for n in range(1, late + 1)]
    planned = [b.planned_run(f"r{n}", at=20 * (n - 1), printing=20) for n in range(1, late + 1)]
    shop = seen(b.week(runs=runs, orders=orders), b.plan(*planned))
    sentence = timeline(*shop, DAY).sentence
    assert f" and {told}" in sentence
    assert ("more late" in sentence) == (late == 6)


def test_every_bar_is_in_the_table() -> None:
    """Each run's set-up and printing is a row with its first and last minute, the reason beside it."""
    week, plan, view = two_press_shop()
    picture = timeline(week, plan, view, Shown(from_tau=0, to_tau=week.horizon_tau))
    names = {press.press_id: press.name for press in week.presses}
    for one in plan.runs:
        run = week.run[one.run_id]
        mine = [
            row
            for row in picture.rows
            if row[0] == names[one.press_id] and str(row[4]).startswith(f"{run.order_id} {run.location}, {run.pieces}")
        ]
        printing = next(row for row in mine if row[1] == "printing")
        assert printing[5] == one.reason
        assert printing[2].endswith(f"{week.clock.starts_at(one.print_start_tau):%H:%M}")
        assert ("set-up" in {row[1] for row in mine}) == (one.set_up_min > view.ink_min[one.run_id])
    assert all(len(row) == len(picture.headings) for row in picture.rows)


def test_the_sentence_counts_runs_and_presses() -> None:
    """It says the day, how many runs on how many presses, and when the last press stops."""
    sentence = timeline(*over_lunch(), DAY).sentence
    assert sentence == "Monday 2 Mar: 1 run on 1 press; none of them for a late order; the last press, P1, stops 09:40."


def test_an_empty_day_says_so() -> None:
    """A day on which no press works is told in words, the presses' empty lines stay, the table is empty."""
    picture = timeline(*over_lunch(), Shown(from_tau=540, to_tau=1080, groups=(PRESSES,)))
    assert picture.sentence == "Tuesday 3 Mar: nothing is planned on a press."
    assert picture.rows == ()
    assert len(picture.figure.layout.yaxis.ticktext) == 2


def test_a_picked_order_is_edged_and_its_chain_drawn() -> None:
    """The order's bars have the picked edge; the chain runs under the bars of every run in it."""
    runs = [b.run("r1"), b.run("r2"), b.run("r3", choices=[b.choice("P2")])]
    week = b.week(presses=[b.press_line("P1"), b.press_line("P2")], runs=runs)
    plan = b.plan(b.planned_run("r1"), b.planned_run("r2", at=60), b.planned_run("r3", press_id="P2"))
    picture = timeline(*seen(week, plan), replace(DAY, picked_order="or2", chain=("r1", "r2")))
    assert [bar["run"] for bar in bars_of(picture.figure) if bar["edge"] == PICKED] == ["r2"]
    chain = picture.figure.data[-1]
    assert [x for x in chain.x if x is not None] == [0, 60, 60, 120]


def test_only_one_trace_holds_bars() -> None:
    """However many runs, one trace; everything upright is set at once as shapes of the layout."""
    picture = timeline(*two_press_shop(), DAY)
    assert sum(trace.x is not None and len(trace.x) > 1 for trace in picture.figure.data) == 1


@pytest.mark.parametrize(
    ("room_px", "labels", "text"),
    [
        (LABEL_PX, ("1042 front", "1042"), "1042"),
        (75, ("1042 front", "1042"), "1042"),
        (76, ("1042 front", "1042"), "1042 front"),
        (LABEL_PX - 1, ("1",), ""),
        (LABEL_PX, ("1",), "1"),
        (LABEL_PX, ("1042 front",), ""),
    ],
)
def test_words_fit_their_bars(room_px: float, labels: tuple[str, ...], text: str) -> None:
    """The longest words that fit are written; nothing where none fit, or the bar is below the least width."""
    bar = Bar(look="printing", what="printing", start_tau=0, end_tau=1, labels=labels)
    assert label_in(bar, room_px) == text


def test_overlapping_bars_share_as_few_rows_as_they_need() -> None:
    """Bars that touch go into one row; three at once need three."""
    spans = [(0, 10), (10, 20), (5, 15), (6, 7)]
    bars = [Bar(look="drying", what="drying", start_tau=start, end_tau=end) for start, end in spans]
    rows = packed(bars)
    assert [[(bar.start_tau, bar.end_tau) for bar in row] for row in rows] == [[(0, 10), (10, 20)], [(5, 15)], [(6, 7)]]


def test_clients_cannot_write_markup() -> None:
    """A client's name with angle brackets is shown as typed, not read as markup."""
    shop = two_press_shop()
    order_id = shop.week.orders[0].order_id
    queue = tuple(replace(row, client="<b>Bo</b> & Co") for row in shop.view.queue)
    picture = timeline(shop.week, shop.plan, replace(shop.view, queue=queue), DAY)
    told = [about[0] for about in picture.figure.data[0].customdata if order_id in about[0]]
    assert told
    assert any("&lt;b&gt;Bo&lt;/b&gt; &amp; Co" in text for text in told)
    assert not any("<b>Bo" in text for text in told)


def test_the_look_is_our_own_whatever_the_default() -> None:
    """The figure names the registered template, which another default does not change."""
    before = pio.templates.default
    try:
        pio.templates.default = "plotly_dark"
        figure = timeline(*over_lunch(), DAY).figure
    finally:
        pio.templates.default = before
    assert template.NAME in pio.templates
    assert figure.layout.template.layout.paper_bgcolor == "#FFFFFF"
    assert figure.layout.template.layout.dragmode is False


def test_three_hundred_runs_are_drawn_quickly() -> None:
    """A week of 300 runs is drawn in well under the second a page may take for it."""
    runs = [b.run(f"r{n}", choices=[b.choice("P1", print_min=5)]) for n in range(300)]
    plan = b.plan(*(b.planned_run(f"r{n}", at=n * 9, set_up=4, printing=5) for n in range(300)))
    shop = seen(b.week(runs=runs), plan)
    timeline(*shop, DAY)
    before = time.perf_counter()
    timeline(*shop, Shown(from_tau=0, to_tau=2700))
    assert time.perf_counter() - before < 1.0
