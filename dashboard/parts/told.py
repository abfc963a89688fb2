"""What came of the last click, told above the page that follows."""

from __future__ import annotations

from time import monotonic

import streamlit as st

STAYS_S = 15.0
"""A page may be drawn twice in a row, when its clock ticks just then: what is told must outlast that."""


def tell(page: str, text: str) -> None:
    """Have it shown when the page is drawn next."""
    st.session_state[f"told-{page}"] = (text, monotonic())


def show_told(page: str) -> None:
    """Show it, if it is news."""
    text, at_s = st.session_state.get(f"told-{page}", ("", 0.0))
    if text and monotonic() - at_s < STAYS_S:
        st.success(text)
