"""Can we take a rush order? What can be found out today, without a guess."""

from __future__ import annotations

import streamlit as st

from dashboard import state
from dashboard.parts import states

seen = state.current()
if seen.plan is None:
    states.no_plan()
st.markdown(
    "Type the order on **Orders and people** and save it. Then **Make a new plan**: old and new stand side by side, "
    "with every order that would turn late and every run that would move. Keep the old plan and take the row out "
    "again, and nothing has happened."
)
