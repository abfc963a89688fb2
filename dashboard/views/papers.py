"""What goes on paper? Sheets and lists for the floor, calendars, and the plan itself: everything to take away."""

from __future__ import annotations

from collections.abc import Callable

import streamlit as st

from dashboard import state
from dashboard.parts import states, take_away
from dashboard.parts.words import plain
from scheduler import api
from scheduler.domain.shop import A4, LETTER, METRIC, US

UNIT_WORDS = {US: "°F and feet first", METRIC: "°C and metres first"}

seen = state.current()
if seen.plan is None or seen.plan_folder is None:
    states.no_plan()
folder, plan = seen.plan_folder, seen.plan
name = seen.folder.stem
own = seen.inputs.shop.paper


def in_pdf(units: str, size: str) -> bytes:
    """Every page as PDF, in one archive."""
    made = api.floor_papers(seen.inputs, seen.week, plan, units=units, size=size, with_pdf=True)
    return take_away.floor_archive(one for one in made if one.name.endswith(".pdf"))


def line(file_name: str, what: str, data: bytes | Callable[[], bytes]) -> None:
    """A file, what it is, and its button."""
    told, button = st.columns([3, 1], vertical_alignment="center")
    told.write(what)
    button.download_button(
        f"Take {file_name}",
        data=data,
        file_name=file_name,
        mime=take_away.kind_of(file_name),
        on_click="ignore",
        width="stretch",
    )


st.subheader("For the floor", anchor=False)
st.write("A sheet for each run, a sheet for each press and day, the screen room's nights, lists and calendars.")
left, right = st.columns(2)
units = left.segmented_control(
    "Units", [US, METRIC], format_func=UNIT_WORDS.__getitem__, default=own.units, key="paper units", required=True
)
size = right.segmented_control("Sheets of PDF files", [A4, LETTER], default=own.size, key="paper size", required=True)
papers = seen.papers(units)
with st.container(horizontal=True):
    st.download_button(
        "Everything for the floor",
        data=lambda: take_away.floor_archive(papers),
        file_name=f"{name} floor.zip",
        mime="application/zip",
        on_click="ignore",
        type="primary",
    )
    if api.can_make_pdf():
        st.download_button(
            "All its pages as PDF",
            data=lambda: in_pdf(units, size),
            file_name=f"{name} pages {size}.zip",
            mime="application/zip",
            on_click="ignore",
            help="About half a minute for fifty runs.",
        )
st.write(
    "Pages open and print in any browser, A4 or Letter."
    + (
        ""
        if api.can_make_pdf()
        else " PDF files need one more library: `pip install -e .[pdf]` in the program's folder."
    )
)
for paper in papers:
    line(paper.name, plain(paper.what), paper.content)

st.subheader("The whole plan", anchor=False)
with st.container(horizontal=True):
    st.download_button(
        "All lists as one workbook",
        data=lambda: take_away.workbook(folder),
        file_name=f"{name}.xlsx",
        mime=take_away.KINDS[".xlsx"],
        on_click="ignore",
    )
    st.download_button(
        "Everything in one archive",
        data=lambda: take_away.archive(folder),
        file_name=f"{name}.zip",
        mime="application/zip",
        on_click="ignore",
    )
for path in take_away.files(folder):
    line(path.name, take_away.label(path), path.read_bytes)
