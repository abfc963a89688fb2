"""Are we on time? Late orders first, then the day."""

from __future__ import annotations

import streamlit as st

from dashboard import state
from dashboard.parts import states

seen = state.current()
if seen.plan is None or seen.measures is None:
    states.no_plan()
st.write(f"{len(seen.measures.late_orders)} of {len(seen.plan.orders)} orders miss their date.")
