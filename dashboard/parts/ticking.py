"""Screens ticked off in the screen room, on a phone: which set, then what has become of it."""

from __future__ import annotations

import streamlit as st

from dashboard import floor_book
from dashboard.floor_book import Floor
from dashboard.parts.words import plain

BURNED, HELD, RECLAIMED, BROKEN = "burned", "held", "reclaimed", "broken"
TO_BURN = {"burned and ready": BURNED}
HANGING = {"held for its next run": HELD, "reclaimed": RECLAIMED, "a screen broke": BROKEN}


def tick_off(seen: Floor) -> None:
    """Sets still to burn, in the order in which they are wanted, and sets that hang."""
    current = seen.current
    if current is None or current.plan is None:
        return
    week = current.week
    wanted: dict[str, None] = {}
    for planned in sorted(current.plan.runs, key=lambda one: one.burn.start_tau if one.burn else 0):
        set_id = week.run[planned.run_id].set_id
        if planned.burn is not None and set_id is not None and not week.screen_set[set_id].is_burned_now:
            wanted[set_id] = None
    hanging = [one.set_id for one in week.sets if one.is_burned_now]
    st.subheader("Tick off", anchor=False)
    if wanted:
        st.write("To burn, the first wanted first:")
        _sets(seen, list(wanted), TO_BURN)
    if hanging:
        with st.expander(f"Hanging: {len(hanging)}", key="hanging sets"):
            _sets(seen, hanging, HANGING)
    if week.frames:
        with st.expander("Coated frames", key="coated frames"):
            names = {one.class_id: one.name for one in week.frames}
            st.selectbox("Which frames", list(names), format_func=names.__getitem__, key="coated class")
            st.number_input("How many were coated", min_value=1, value=1, step=1, key="coated count")
            st.button("Note them", key="coated", on_click=_coated, args=(seen,))


def _sets(seen: Floor, sets: list[str], states: dict[str, str]) -> None:
    for set_id in sets:
        with st.popover(plain(set_id), key=f"set {set_id}", width="stretch"):
            for words, state in states.items():
                st.button(words, key=f"{state} {set_id}", on_click=_tick, args=(seen, set_id, state), width="stretch")


def _tick(seen: Floor, set_id: str, state: str) -> None:
    floor_book.note(seen, "screen", set_id, state=state)


def _coated(seen: Floor) -> None:
    told = st.session_state
    floor_book.note(seen, "frames", str(told["coated class"]), pieces=int(told["coated count"]))
