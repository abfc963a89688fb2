"""What runs next here? For the operator, on a phone or tablet at the press."""

from __future__ import annotations

import streamlit as st

from dashboard import floor_book, state
from dashboard.charts.floor import at_press, print_of
from dashboard.parts import at_the_press, cards, states
from dashboard.parts.words import plain
from scheduler.api import words

SOON = 3
"""Runs shown with their heads; the rest is a list to open."""

seen = state.current()
floor = floor_book.floor()
if floor is not None and floor.current is not None:
    seen = floor.current  # the announced plan, kept from now on
if seen.plan is None:
    states.no_plan()
if not seen.plan.runs:
    states.nothing_here("Nothing is planned on any press.")
week, plan, view = seen.week, seen.plan, seen.view
names = {press.press_id: plain(press.name) for press in week.presses}
picked = st.pills(
    "Press", list(names), format_func=names.__getitem__, default=next(iter(names)), key="press", required=True,
    bind="query-params",
)  # fmt: skip
press_id = picked if isinstance(picked, str) and picked in names else next(iter(names))
now = floor.now if floor is not None else week.clock.starts_at(seen.now_tau)
here = at_press(view, press_id, now)

cards.style()
if floor is not None:
    floor_book.ask_who(floor)
    floor_book.say_what_was_noted()
    at_the_press.where_it_stands(floor, press_id)
    rows = [row for row in view.queue if row.press_id == press_id]
    going = floor.going_on(press_id)
    to_come = [row for row in rows if going is None or row.run_id != going.run_id]
    at_the_press.to_note(floor, press_id, to_come[0].run_id if to_come else None)
st.write(f"{names[press_id]}, seen from {words.day_and_time(now)}")
if here.now is not None:
    st.html(cards.now_html(here.now, now, print_of(week, plan, here.now.run_id)))
elif here.to_come:
    first = here.to_come[0]
    starts = words.day_and_time(first.set_up_at)
    st.markdown(f"**Nothing is on this press now. Set-up of {plain(first.order_id)} starts {starts}.**")
else:
    st.markdown("**Nothing more is planned on this press.**")

if here.to_come:
    st.subheader("Then", anchor=False)
for row in here.to_come[:SOON]:
    st.html(cards.next_html([(row, print_of(week, plan, row.run_id))], now))
    with st.expander(f"Heads of {plain(row.order_id)} {plain(row.location)}", key=f"heads {row.run_id}"):
        st.html(cards.heads_html(row))
        if floor is not None:
            at_the_press.last_times(floor, week.run[row.run_id].design_id)
        if floor is not None and floor.going_on(press_id) is None:
            at_the_press.start_this(floor, press_id, row.run_id, key=f"start {row.run_id}")
later = here.to_come[SOON:]
if later:
    with st.expander(f"Later: {words.counted(len(later), 'run')}", key="later"):
        st.html(cards.next_html([(row, print_of(week, plan, row.run_id)) for row in later], now))
st.html(cards.cautions_html(view.press_cautions[press_id]))
