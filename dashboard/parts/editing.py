"""Sheets changed on a page: what was typed is kept until it can be saved whole, and each fault is told at its row."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import pandas as pd
import streamlit as st

from dashboard.parts import states
from scheduler import api
from scheduler.errors import InputError, Problem

WRONG = "what is wrong"


@dataclass(frozen=True, kw_only=True)
class Draft:
    """A sheet in the making. seen: as it stood when it was opened. wrong: faults of the last try to save, by row."""

    seen: api.SheetCells
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    wrong: tuple[tuple[int, str], ...] = ()
    version: int = 0


def as_frame(draft: Draft) -> pd.DataFrame:
    """The draft as a table of texts; what is wrong stands in a first column of its own."""
    frame = pd.DataFrame([list(row) for row in draft.rows], columns=list(draft.headings), dtype="object")
    if draft.wrong:
        told = dict(draft.wrong)
        frame.insert(0, WRONG, [told.get(place, "") for place in range(len(frame))])
    return frame


def rows_of(frame: pd.DataFrame, headings: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    """What stands in the table now as texts; rows without a word are left out."""
    found = []
    for row in frame[list(headings)].itertuples(index=False):
        texts = tuple("" if text is None or pd.isna(text) else str(text).strip() for text in row)
        if any(texts):
            found.append(texts)
    return tuple(found)


def wrong_by_row(problems: Sequence[Problem], file: str, numbers: Sequence[int]) -> tuple[tuple[int, str], ...]:
    """Faults of one file by the place of their row, each with its heading and what to write instead.

    numbers: the line on which each row stands.
    """
    places = {number: place for place, number in enumerate(numbers)}
    found: dict[int, list[str]] = {}
    for one in problems:
        if one.file == file and one.row in places and not one.is_warning:
            told = f"{one.column}: {one.message}; {one.hint}" if one.column else f"{one.message}; {one.hint}"
            found.setdefault(places[one.row], []).append(told)
    return tuple((place, " / ".join(told)) for place, told in sorted(found.items()))


def numbers_when_saved(seen: api.SheetCells, count: int) -> list[int]:
    """The line of each row once it is written: a CSV file is written anew, a worksheet keeps its rows."""
    if seen.file.endswith(".csv"):
        return list(range(2, count + 2))
    last = seen.numbers[-1] if seen.numbers else 1
    return [*seen.numbers, *range(last + 1, last + 1 + count)][:count]


def sheet_editor(
    name: str,
    seen: api.SheetCells,
    config: dict[str, Any],
    save: Callable[[api.SheetCells, Sequence[Sequence[str]]], None],
    wrong_now: Sequence[Problem] = (),
) -> None:
    """An editor with one button. save raises InputError where the rows cannot stand as they are."""
    place = f"draft-{name}"
    draft: Draft | None = st.session_state.get(place)
    if draft is None:
        wrong = wrong_by_row(wrong_now, seen.file, seen.numbers)
        draft = Draft(seen=seen, headings=seen.headings, rows=seen.rows, wrong=wrong)
        st.session_state[place] = draft
    problems: tuple[Problem, ...] = st.session_state.pop(f"{place}-faults", ())
    if problems:
        st.error("Not saved: nothing was changed yet. Mend these and save again; your typing is kept below.")
        states.faults(problems)
    with st.form(f"form-{name}", border=False):
        edited = st.data_editor(
            as_frame(draft),
            key=f"editor-{name}-{draft.version}",
            num_rows="dynamic",
            hide_index=True,
            width="stretch",
            height=min(620, 36 * (len(draft.rows) + 3)),
            column_config={
                **config,
                WRONG: st.column_config.TextColumn(WRONG, disabled=True, width="large", pinned=True),
            },
            alt=f"Sheet {name}, {len(draft.rows)} rows; every cell can be changed.",
        )
        is_sent = st.form_submit_button("Save", type="primary")
    is_changed = draft.wrong or draft.rows != draft.seen.rows
    if is_changed and st.button("Forget what I typed", key=f"forget-{name}"):
        del st.session_state[place]
        st.rerun()
    if is_sent:
        _try(place, draft, rows_of(edited, draft.headings), save)


def _try(
    place: str,
    draft: Draft,
    rows: tuple[tuple[str, ...], ...],
    save: Callable[[api.SheetCells, Sequence[Sequence[str]]], None],
) -> None:
    if rows == draft.seen.rows:
        st.toast("Nothing has changed.")
        return
    try:
        save(draft.seen, rows)
    except InputError as fault:
        st.session_state[f"{place}-faults"] = fault.problems
        st.session_state[place] = Draft(
            seen=draft.seen,
            headings=draft.headings,
            rows=rows,
            wrong=wrong_by_row(fault.problems, draft.seen.file, numbers_when_saved(draft.seen, len(rows))),
            version=draft.version + 1,
        )
    else:
        del st.session_state[place]
        st.toast("Saved. The plan in use is from before: make a new one when you are ready.")
    st.rerun()
