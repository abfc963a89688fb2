"""When will it ship? One order, as somebody on the phone asks for it."""

from __future__ import annotations

import csv

import streamlit as st

from dashboard import state
from dashboard.parts import shipping, states
from dashboard.parts.table import table
from dashboard.parts.words import moment, plain

seen = state.current()
if not seen.inputs.orders:
    states.nothing_here("There is no order in this week yet.")
if seen.plan is None:
    states.no_plan()

names = {order.order_id: f"{order.order_id}, {order.client}" for order in seen.inputs.orders}
order_id = st.selectbox(
    "Which order", list(names), format_func=lambda one: names[one], key="order", bind="query-params"
)
answer = shipping.answer(seen, order_id)
st.subheader(answer.sentence, anchor=False)
st.write(answer.beside)
for reason in answer.waits:
    st.markdown(f"- {plain(reason)}")
if answer.runs:
    table(answer.runs)
chase = seen.plan_folder / "chase.csv" if seen.plan_folder is not None else None
if answer.waits and chase is not None and chase.is_file():
    with chase.open(encoding="utf-8-sig", newline="") as lines:
        rows = [row for row in csv.DictReader(lines) if order_id in (row.get("order") or "")]
    if rows:
        st.write("Whom to ring, and by when:")
        table(rows)
st.write(
    f"This is what the plan says, planned from {moment(seen.week.clock.now)}. It holds if presses, screens and people "
    "keep to it; how often they do is not reckoned here."
)
