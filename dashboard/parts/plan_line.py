"""The one quiet line on every page: which plan this is, and whether the files have moved on since."""

from __future__ import annotations

import streamlit as st

from dashboard.parts.words import plain
from dashboard.state import Current


def plan_line_text(seen: Current) -> str:
    """As "Plan of Mon 06:40, 3 changes since"."""
    if seen.made_at is None:
        return "No plan yet"
    line = f"Plan of {seen.made_at:%a %H:%M}"
    if not seen.changes:
        return line
    count = len(seen.changes)
    return f"{line}, {count} {'change' if count == 1 else 'changes'} since"


def plan_line(seen: Current) -> None:
    """Quiet while the plan is fresh, bold once the files have moved on."""
    text = f"{plain(seen.inputs.shop.name)}. {plan_line_text(seen)}"
    st.markdown(f"**{text}**" if seen.changes else text)
