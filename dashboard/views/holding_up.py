"""What is holding us up? What presses wait for, where belts are full, and what the last run waits for."""

from __future__ import annotations

import streamlit as st

from dashboard import state
from dashboard.charts import verdict
from dashboard.charts.belt import belt_load
from dashboard.charts.press_hours import press_hours
from dashboard.parts import cards, chart, day, states
from dashboard.parts.words import plain

seen = state.current()
if seen.plan is None:
    states.no_plan()
if not seen.plan.runs:
    states.nothing_here("Nothing is planned on any press, so nothing holds anything up.")
week, plan, view = seen.week, seen.plan, seen.view
cards.style()
hours = press_hours(week, plan, view)
st.markdown(f"#### {plain(hours.sentence)}")
st.write("Where each press's open hours go, until the last press stops:")
chart.show(hours, key="press hours", says=False)

last = max(plan.runs, key=lambda one: (one.print_end_tau, one.run_id))
late = verdict.late_orders(view)
if late:
    worst = late[0].order_id
    run_id = verdict.last_run_of(week, plan, worst) or last.run_id
    st.subheader(f"What {worst}, the latest order, waits for", anchor=False)
else:
    run_id = last.run_id
    st.subheader("What the last run of the plan waits for", anchor=False)
st.markdown("\n".join(f"1. {plain(step)}" for step in verdict.chain_steps(week, view, run_id)))

if any(press.dryer_id for press in week.presses):
    st.subheader("How full the belts are", anchor=False)
    from_tau, to_tau = day.pick(seen, key="belt day")
    wide = belt_load(week, view, from_tau=from_tau, to_tau=to_tau, width_px=chart.WIDE_PX)
    narrow = belt_load(week, view, from_tau=from_tau, to_tau=to_tau, width_px=chart.NARROW_PX)
    chart.show_both(wide, narrow, key="belts")
