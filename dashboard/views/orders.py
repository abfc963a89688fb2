"""Orders and people: what the plan is made from, changed here and saved to the week's files."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import streamlit as st

from dashboard import state
from dashboard.charts import verdict
from dashboard.parts import bringing, cards, people, states
from dashboard.parts.editing import sheet_editor
from dashboard.parts.table import table
from dashboard.parts.words import counted
from scheduler import api
from scheduler.errors import InputError

week = state.week_path()
look = state.look()
faults = look.faults
now = look.now if isinstance(look, state.Current) else None


def changes() -> None:
    """What is not in the plan yet."""
    if isinstance(look, state.Current) and look.changes:
        with st.expander(f"{counted(len(look.changes), 'change')} not in the plan yet"):
            for change in look.changes[:60]:
                st.text(change)


def pencilled() -> None:
    """Orders that wait and are pencilled in, with their latest yes."""
    rows = verdict.pencilled(look.view) if isinstance(look, state.Current) and look.plan is not None else ()
    if rows:
        cards.style()
        with st.expander(f"{counted(len(rows), 'order')} pencilled in, waiting for a yes", key="pencilled"):
            st.html(cards.pencilled_html(rows))
            st.write("Write `ok`, `in` or the day in place of the `?` once the answer is there, and plan again.")


def sheet(name: str) -> None:
    """One sheet of the week, every cell as it was typed."""
    try:
        seen = api.read_cells(week, name)
    except InputError as fault:
        states.faults(fault.problems)
        return
    known = api.columns(name)
    if not seen.headings:
        start = [one.name.replace("_", " ") for one in known if one.is_needed]
        seen = api.empty_sheet(seen, start)
    by_key = {api.heading_key(one): one for one in seen.headings}
    config: dict[str, Any] = {
        by_key[one.name]: st.column_config.TextColumn(
            by_key[one.name], help=f"{one.meaning}; as {one.example}", pinned=one.name == "order"
        )
        for one in known
        if one.name in by_key
    }

    def save(opened: api.SheetCells, rows: Sequence[Sequence[str]]) -> None:
        api.edit_week(week, rows=[(opened, opened.headings, rows)])

    sheet_editor(name, seen, config, save, faults)


def assumptions() -> None:
    """Everything nobody typed; a cell or a setting that is filled in takes its place."""
    if now is None:
        st.write("What is assumed is listed once the files hold no fault.")
        return
    listed = now.workload.assumptions
    if not listed:
        st.write("Nothing is assumed.")
        return
    st.write("Type your own figure into the cell or setting, and it counts instead.")
    table(
        [
            {
                "assumed": one.text,
                "for": f"{one.count} {one.counted}",
                "where": ", ".join(one.where[:4]) + (", …" if len(one.where) > 4 else ""),
            }
            for one in listed
        ]
    )


if faults:
    st.error(f"The files hold {counted(sum(not one.is_warning for one in faults), 'fault')}.")
    states.faults(faults)
changes()
pencilled()
tabs = st.tabs(["Orders", "People", "Started", "Screens that hang", "The shop", "Assumed", "Bring a spreadsheet"])
with tabs[0]:
    st.write("One row for each print location. `?` where nobody knows yet: the order then waits, the rest is planned.")
    sheet("orders")
with tabs[1]:
    people.who_works_here(week)
with tabs[2]:
    st.write("What stands on a press: when it began and how many pieces are left.")
    sheet("progress")
with tabs[3]:
    st.write("Sets that hang burned, or hang to be reclaimed.")
    sheet("screens")
with tabs[4]:
    people.everything_else(week)
with tabs[5]:
    assumptions()
with tabs[6]:
    if week.is_file():
        st.write("Your own spreadsheet can be brought into a week that is a folder; this one is a workbook.")
    else:
        bringing.bring(week)
