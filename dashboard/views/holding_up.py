"""What is holding us up? Who, when, what one thing more would save, what presses wait for, where belts are full."""

from __future__ import annotations

import streamlit as st

from dashboard import helping, state
from dashboard.charts import verdict
from dashboard.charts.belt import belt_load
from dashboard.charts.press_hours import press_hours
from dashboard.parts import cards, chart, day, states
from dashboard.parts.table import table
from dashboard.parts.words import plain
from scheduler import api

seen = state.current()
if seen.plan is None or seen.plan_folder is None:
    states.no_plan()
if not seen.plan.runs:
    states.nothing_here("Nothing is planned on any press, so nothing holds anything up.")
week, plan, view = seen.week, seen.plan, seen.view
folder = seen.plan_folder
cards.style()
known = helping.found(folder)
opening, _ = api.holding_up_report(seen.held)
st.markdown(f"#### {plain(known.sentence if known else opening)}")
if known:
    st.write(plain(opening))


@st.fragment(run_every=1.0 if helping.is_trying(folder) else None)
def what_would_help() -> None:
    """The button, the wait, or the table."""
    if helping.is_trying(folder):
        st.write(
            f"Trying what one thing more would save: about {helping.SECONDS:.0f} seconds. Go on with anything else."
        )
        return
    if helping.found(folder) != known:
        st.rerun()
    if known is None:
        if helping.has_failed(folder):
            st.warning("The last try ended without an answer. Nothing was changed.")
        if st.button("What would help most?", help="Plans the week again with one thing more at a time."):
            helping.start(seen.folder, folder)
            st.rerun()
        return
    if known.rows:
        table([dict(zip(known.headings, row, strict=True)) for row in known.rows])
    for note in known.notes:
        st.write(plain(note))


what_would_help()
st.subheader("Where open hours go", anchor=False)
chart.show_both(
    press_hours(week, plan, view, width_px=chart.WIDE_PX),
    press_hours(week, plan, view, width_px=chart.NARROW_PX),
    key="press hours",
)

late = verdict.late_orders(view)
chain = verdict.chain_of(seen.held, late[0].order_id) if late else seen.held.chains[0]
st.subheader("Why the latest order is late" if late else "Why the last order ends when it does", anchor=False)
st.write(plain(f"{chain.sentence}."))
with st.expander("Step by step", key="chain fold"):
    chart.rows(verdict.CHAIN_HEADINGS, verdict.chain_table(week, chain), key="chain")

st.subheader("What is shared", anchor=False)
if any(press.dryer_id for press in week.presses):
    from_tau, to_tau = day.pick(seen, key="belt day")
    wide = belt_load(week, view, from_tau=from_tau, to_tau=to_tau, width_px=chart.WIDE_PX)
    narrow = belt_load(week, view, from_tau=from_tau, to_tau=to_tau, width_px=chart.NARROW_PX)
    chart.show_both(wide, narrow, key="belts")
st.write("Of the hours in which any of it is in use:")
chart.rows(verdict.LOAD_HEADINGS, verdict.load_table(seen.held), key="loads")
