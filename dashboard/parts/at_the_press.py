"""What is noted at a press, on a phone, in two taps each: started, right, stands, goes on, done, spoiled, counted."""

from __future__ import annotations

import streamlit as st

from dashboard import floor_book
from dashboard.floor_book import Floor
from dashboard.parts.words import plain
from scheduler import api, shop_book

REASONS = ("screen broke", "ink", "press", "dryer", "garments missing", "person away", "something else")
"""Why a run stands, each a tap. Common practice, no source."""


def where_it_stands(seen: Floor, press_id: str) -> None:
    """Ahead, behind or as planned, and the orders that endangers, before anything else on the page."""
    if seen.drift is None:
        return
    if seen.drift.plan is None:
        st.warning("The announced order cannot be kept any more: plan again on **How does the floor stand?**")
        return
    here = next((one for one in seen.drift.presses if one.press_id == press_id), None)
    late = seen.drift.endangered
    told = f"**This press: {plain(api.press_words(here))}.**" if here is not None else ""
    if late:
        st.error(f"{told} {plain(api.drift_report(seen.drift)[0])}")
    elif told:
        st.markdown(told)


def to_note(seen: Floor, press_id: str, next_run: str | None) -> None:
    """The taps that make sense at this press now."""
    going = seen.going_on(press_id)
    if going is None:
        if next_run is not None:
            start_this(seen, press_id, next_run, key="start next", is_first=True)
        return
    run_id = going.run_id
    st.markdown(f"**{plain(run_id)}**: {plain(_how_it_goes(going))}")
    left, right = st.columns(2)
    if going.stopped_why is not None:
        left.button(
            "Goes on", key="on", on_click=floor_book.note, args=(seen, "on", run_id), type="primary", width="stretch"
        )
    elif going.printing_at is None:
        left.button(
            "Strike-off is right", key="right", on_click=floor_book.note, args=(seen, "right", run_id), width="stretch"
        )
    with right.popover("Done", width="stretch"):
        _done(seen, run_id, going.pieces)
    with left.popover("Spoiled", width="stretch"):
        st.number_input("How many are spoiled", min_value=1, value=1, step=1, key="spoiled pieces")
        st.button("Note them", key="spoil", on_click=_spoil, args=(seen, run_id), width="stretch")
    if going.stopped_why is None:
        with right.popover("Stop", width="stretch"):
            for reason in REASONS:
                st.button(reason, key=f"stop {reason}", on_click=_stop, args=(seen, run_id, reason), width="stretch")
    with st.expander("Count what is printed", key="count it"):
        st.number_input("Good ones so far", min_value=0, max_value=going.pieces, step=1, key="counted pieces")
        st.button("Note the count", key="count", on_click=_count, args=(seen, run_id))


def start_this(seen: Floor, press_id: str, run_id: str, *, key: str, is_first: bool = False) -> None:
    """Start a run's set-up on this press: a tap to choose it, a tap to say so."""
    label = f"Start set-up of {run_id}" if is_first else "Start this one now"
    with st.popover(plain(label), key=f"{key} box", width="stretch" if is_first else "content"):
        st.button(
            "Set-up has started",
            key=key,
            type="primary",
            on_click=_start,
            args=(seen, run_id, press_id),
            width="stretch",
        )


def last_times(seen: Floor, design_id: str) -> None:
    """How it went the last times this design was printed."""
    learnt = seen.learnt.get(design_id)
    if learnt is None:
        return
    lines = shop_book.last_times(learnt)
    title = f"Your last {len(lines)} times" if len(lines) > 1 else "Your last time"
    st.markdown(f"**{title}**\n" + "\n".join(f"- {plain(line)}" for line in lines))
    st.write(f"Count on {learnt.spoiled_share:.1%} spoiled.")


def _how_it_goes(going: api.RunNow) -> str:
    done = going.pieces - going.pieces_left
    by = "about " if going.is_by_time else ""
    told = f"{by}{done} of {going.pieces} printed"
    if going.stopped_why is not None:
        return f"stands, {going.stopped_why}; {told}"
    if going.set_up_left_min:
        return f"being set up, about {going.set_up_left_min} min to go"
    return f"{told}, {going.spoiled} spoiled" if going.spoiled else told


def _done(seen: Floor, run_id: str, pieces: int) -> None:
    st.number_input(
        "Good ones in all, if counted", min_value=0, max_value=pieces, step=1, value=None, key="done pieces"
    )
    st.button("Yes, it is done", key="done", type="primary", on_click=_note_done, args=(seen, run_id), width="stretch")


def _note_done(seen: Floor, run_id: str) -> None:
    counted = st.session_state.get("done pieces")
    floor_book.note(seen, "done", run_id, pieces=None if counted is None else int(counted))


def _spoil(seen: Floor, run_id: str) -> None:
    floor_book.note(seen, "spoil", run_id, pieces=int(st.session_state["spoiled pieces"]))


def _count(seen: Floor, run_id: str) -> None:
    floor_book.note(seen, "count", run_id, pieces=int(st.session_state["counted pieces"]))


def _stop(seen: Floor, run_id: str, reason: str) -> None:
    floor_book.note(seen, "stop", run_id, reason=reason)


def _start(seen: Floor, run_id: str, press_id: str) -> None:
    floor_book.note(seen, "start", run_id, press=press_id)
