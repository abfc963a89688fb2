"""Are we on time? The answer, the orders that are late and why, then the day."""

from __future__ import annotations

from dataclasses import replace

import streamlit as st

from dashboard import state
from dashboard.charts import verdict
from dashboard.charts.bars import GROUPS, PRESSES
from dashboard.charts.timeline import Shown, timeline
from dashboard.parts import cards, chart, day, states
from dashboard.parts.words import plain

LATE_SHOWN = 6
"""Late orders told before one must ask for the rest, so that the day stays in sight."""

seen = state.current()
if seen.plan is None:
    states.no_plan()
week, plan, view = seen.week, seen.plan, seen.view
told = verdict.verdict(week, plan, view)
cards.style()
st.markdown(f"#### {plain(told.sentence)}")
st.html(cards.figures_html(told.figures))

late = verdict.late_orders(view)
if late:
    st.html(cards.late_list_html(late[:LATE_SHOWN]))
if late[LATE_SHOWN:]:
    with st.expander(f"{len(late) - LATE_SHOWN} more that miss their date", key="more late"):
        st.html(cards.late_list_html(late[LATE_SHOWN:]))
pencilled = verdict.pencilled(view)
if pencilled:
    st.subheader("Pencilled in, waiting for a yes", anchor=False)
    st.html(cards.pencilled_html(pencilled))
waiting = verdict.not_planned(view)
if waiting:
    with st.expander(f"Not planned: {len(waiting)}, and why", key="not planned"):
        st.html(cards.not_planned_html(waiting))

st.subheader("Who does what when", anchor=False)
from_tau, to_tau = day.pick(seen, key="timeline day")
left, right = st.columns([1, 2])
orders = [order.order_id for order in week.orders if order.order_id in plan.order]
named = {order_id: f"{order_id} {view.order_row[order_id].client}" for order_id in orders}
order_id = left.selectbox(
    "Find an order", orders, index=None, format_func=named.__getitem__, placeholder="number or client", key="find"
)
groups = right.container(key="wide groups").pills(
    "Show", GROUPS, selection_mode="multi", default=GROUPS, key="timeline groups", format_func=str.capitalize
)
chain = verdict.chain_of(seen.held, order_id) if order_id else None
if chain is not None:
    st.markdown(f"**{plain(chain.sentence)}.**")
    with st.expander("Step by step", key="chain fold"):
        chart.rows(verdict.CHAIN_HEADINGS, verdict.chain_table(week, chain), key="chain")
shown = Shown(
    from_tau=from_tau,
    to_tau=to_tau,
    groups=tuple(groups or (PRESSES,)),
    width_px=chart.WIDE_PX,
    picked_order=order_id or "",
    chain=verdict.chain_runs(week, chain) if chain is not None else (),
    now_tau=seen.now_tau,
)
small = replace(shown, groups=(PRESSES,), width_px=chart.NARROW_PX)
chart.show_both(timeline(week, plan, view, shown), timeline(week, plan, view, small), key="timeline")

st.subheader("All orders", anchor=False)
st.html(cards.table_html(verdict.ORDER_HEADINGS, verdict.order_table(view.orders)))
