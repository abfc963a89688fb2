"""Small tables as plain text: what somebody typed stands there letter by letter."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import streamlit as st

from dashboard.parts.words import plain


def table(rows: Sequence[Mapping[str, str]]) -> None:
    """Rows under the headings of the first; a cell that is empty stays empty."""
    st.table([{heading: plain(text) for heading, text in row.items()} for row in rows])
