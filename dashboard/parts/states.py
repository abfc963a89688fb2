"""What a page shows where there is nothing to show yet, or where something is wrong: always with what to do next."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import NoReturn

import streamlit as st

from dashboard.parts.words import counted, plain
from dashboard.state import Current, Unreadable
from scheduler.errors import Problem


def no_plan() -> NoReturn:
    """No plan is in use yet. Ends the page."""
    st.info("There is no plan for this week yet. Open **Make a new plan** and start one.")
    leads_to("new_plan", "Make a new plan")
    st.stop()


def leads_to(view: str, title: str) -> None:
    """A button that opens another page: on a phone the list of pages is folded away."""
    if st.button(title, type="primary"):
        st.switch_page(f"views/{view}.py")


def nothing_here(sentence: str) -> NoReturn:
    """A page with nothing on it today says so in one sentence. Ends the page."""
    st.info(sentence)
    st.stop()


def unreadable(seen: Unreadable) -> NoReturn:
    """The files hold faults and there is no plan to show beside them. Ends the page."""
    count = sum(not one.is_warning for one in seen.faults)
    st.error(
        f"The week in {seen.folder.name} cannot be planned as it stands: {counted(count, 'fault')}. "
        "**Orders and people** shows each beside its cell."
    )
    faults(seen.faults)
    st.stop()


def not_saved(fault: OSError) -> NoReturn:
    """Something could not be written: say what and why. Ends the page."""
    why = (fault.strerror or type(fault).__name__).lower()
    what = plain(Path(str(fault.filename)).name) if fault.filename else "a file of the week"
    st.error(
        f"Not done: {what} cannot be written ({plain(why)}). The plan in use and the week's files are as they were."
    )
    st.stop()


def faults(problems: Iterable[Problem]) -> None:
    """Every fault with its place and what to write instead, a line each."""
    lines = [
        f"- **{plain(_place(one))}** {plain(one.message)}. *Instead:* {plain(one.hint)}."
        for one in problems
        if not one.is_warning
    ]
    st.markdown("\n".join(lines))


def _place(one: Problem) -> str:
    row = "" if one.row is None else f", row {one.row}"
    return f"{one.file}{row}{', ' + one.column if one.column else ''}:"


def half_done(seen: Current) -> None:
    """The plan is shown although the files hold faults now: say so."""
    count = sum(not one.is_warning for one in seen.faults)
    if count:
        st.warning(
            f"The files hold {count} {'fault' if count == 1 else 'faults'} now; the plan shown is from before. "
            "**Orders and people** shows where."
        )
