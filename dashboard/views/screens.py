"""Which screens next? For the screen room: what to coat, burn, tape and reclaim, and who waits for it."""

from __future__ import annotations

import streamlit as st

from dashboard import floor_book, state
from dashboard.charts.floor import screen_work, screens_sentence, work_days
from dashboard.parts import cards, chart, states, ticking
from dashboard.parts.words import plain
from scheduler.api import words

seen = state.current()
floor = floor_book.floor()
if floor is not None and floor.current is not None:
    seen = floor.current  # the announced plan, kept from now on
if seen.plan is None:
    states.no_plan()
if seen.week.screen_room is None:
    states.nothing_here("This shop has no screen room in its settings, so no screens are planned.")
week, view = seen.week, seen.view
now = floor.now if floor is not None else week.clock.starts_at(seen.now_tau)
work = screen_work(view, now)
days = [day for day in work_days(view) if any(row.start_at.date() == day for row in work)]
st.markdown(f"**{plain(screens_sentence(work, now))}**")

cards.style()
if floor is not None:
    floor_book.ask_who(floor)
    floor_book.say_what_was_noted()
    ticking.tick_off(floor)
if days:
    told = {day: f"{words.DAYS[day.weekday()]} {day.day} {words.MONTHS[day.month - 1]}" for day in days}
    day = st.pills("Day", days, format_func=told.__getitem__, default=days[0], key="screens day", required=True)
    today = [row for row in work if row.start_at.date() == day]
    burns = sum(row.screens for row in today if row.what == "burn")
    coats = sum(row.screens for row in today if row.what == "coat")
    st.write(f"{words.counted(burns, 'screen')} to burn and {coats} to coat on this day.")
    st.html(cards.screens_html(today, now))
    rows = tuple(
        (
            words.day_and_time(row.start_at), row.what, row.screens, row.design or row.frames, row.order_id,
            row.location, words.day_and_time(row.needed_by) if row.needed_by else "", row.press_name,
        )
        for row in work
    )  # fmt: skip
    with st.expander("Everything to come, as a table", key="screens all"):
        headings = ("start", "what", "screens", "which", "order", "location", "needed by", "press")
        chart.rows(headings, rows, key="screens table")

st.subheader("Frames now", anchor=False)
if week.frames:
    stock = tuple((one.name, one.coated_now, one.clean_now) for one in week.frames)
    chart.rows(("frame", "coated and ready", "clean"), stock, key="frames")
else:
    st.write("No frames are counted in the shop's settings.")
st.html(cards.cautions_html(view.screen_cautions))
