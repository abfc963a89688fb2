"""When will it ship? One order, as somebody on the phone asks for it."""

from __future__ import annotations

import csv

import streamlit as st

from dashboard import floor_book, state
from dashboard.charts.reliability import reliability
from dashboard.parts import chart, shipping, states
from dashboard.parts.table import table
from dashboard.parts.words import moment, plain
from scheduler import api

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
sure = shipping.how_sure(seen, order_id)
if sure is not None:
    said, odds = sure
    st.subheader("How sure is it?", anchor=False)
    st.write(said)
    st.write(api.outlook_basis(seen.outlook))
    chart.show(odds, key="odds", says=False)
    view = api.client_view_of(seen.inputs, seen.week, seen.plan, order_id, seen.outlook)
    st.download_button(
        "The client's own page",
        data=api.client_html(view),
        file_name=api.client_file(order_id),
        mime="text/html",
        on_click="ignore",
        key="client page",
    )
book = floor_book.floor()
if book is not None:
    st.subheader("Were the told days true?", anchor=False)
    told_days = book.days_told
    st.write(told_days.sentence)
    if told_days.orders:
        chart.show(reliability(told_days), key="reliability", says=False)
st.write(
    f"The dates above are the plan's, planned from {moment(seen.week.clock.now)}. They hold if presses, screens and "
    "people keep to it."
)
