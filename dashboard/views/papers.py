"""What goes on paper? Pages to print, lists, the plan itself: everything to take away."""

from __future__ import annotations

import streamlit as st

from dashboard import state
from dashboard.parts import states, take_away

seen = state.current()
if seen.plan is None or seen.plan_folder is None:
    states.no_plan()
folder = seen.plan_folder
name = seen.folder.stem
st.write("Pages open and print in any browser, A4 or Letter. Lists open in any spreadsheet.")
with st.container(horizontal=True):
    st.download_button(
        "All lists as one workbook",
        data=lambda: take_away.workbook(folder),
        file_name=f"{name}.xlsx",
        mime="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        on_click="ignore",
        type="primary",
    )
    st.download_button(
        "Everything in one archive",
        data=lambda: take_away.archive(folder),
        file_name=f"{name}.zip",
        mime="application/zip",
        on_click="ignore",
    )
for path in take_away.files(folder):
    left, right = st.columns([3, 1], vertical_alignment="center")
    left.write(take_away.label(path))
    right.download_button(
        f"Take {path.name}",
        data=path.read_bytes,
        file_name=path.name,
        mime=take_away.KINDS[path.suffix],
        on_click="ignore",
        width="stretch",
    )
