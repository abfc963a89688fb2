"""A chart on a page: its sentence, the picture, and its table to open below."""

from __future__ import annotations

import pandas as pd
import streamlit as st

from dashboard.charts.picture import Picture
from dashboard.charts.template import CONFIG
from dashboard.parts.words import plain

WIDE_PX, NARROW_PX = 900, 270
"""How wide a timeline's bars come out on a desk's screen and on a phone; words and ticks are fitted to it."""


def show(picture: Picture, *, key: str, says: bool = True) -> None:
    """The chart with everything that belongs to it; says: its sentence stands above it."""
    if says:
        st.markdown(f"**{plain(picture.sentence)}**")
    st.plotly_chart(picture.figure, key=key, theme=None, config=CONFIG, alt=picture.alt, width="stretch")
    table(picture, key=f"{key} table")


def show_both(wide: Picture, narrow: Picture, *, key: str) -> None:
    """A chart drawn twice, for a desk's screen and for a phone's; the style sheet shows the one that fits."""
    with st.container(key=f"wide {key}"):
        show(wide, key=key)
    with st.container(key=f"narrow {key}"):
        show(narrow, key=f"{key} small")
        if narrow.key:
            st.write(narrow.key)


def table(picture: Picture, *, key: str) -> None:
    """Everything the picture shows, as a table to open."""
    with st.expander("The same as a table", key=f"{key} fold"):
        rows(picture.headings, picture.rows, key=key)


def rows(headings: tuple[str, ...], cells: tuple[tuple[object, ...], ...], *, key: str) -> None:
    """A table that can be sorted and searched."""
    st.dataframe(pd.DataFrame(list(cells), columns=list(headings)), hide_index=True, width="stretch", key=key)
