"""What do I do today? One page for one person: the day in time, tonight's screens, whom to ring, what leaves."""

from __future__ import annotations

from datetime import timedelta

import streamlit as st

from dashboard import state
from dashboard.charts.bars import late_words
from dashboard.charts.floor import screen_work, steps_of, work_days
from dashboard.parts import cards, chart, states
from scheduler.api import words

seen = state.current()
if seen.plan is None:
    states.no_plan()
week, view = seen.week, seen.view
now = week.clock.starts_at(seen.now_tau)
days = [day for day in work_days(view) if day >= now.date()]
if not days:
    states.nothing_here("Nothing of this plan is left to do.")
told = {day: f"{words.DAYS[day.weekday()]} {day.day} {words.MONTHS[day.month - 1]}" for day in days}
left, right = st.columns(2)
day = left.selectbox("Day", days, format_func=told.__getitem__, key="today day")
people = {person.person_id: person.name for person in week.people}
person = None
if len(people) > 1:
    person = right.selectbox("Who", list(people), format_func=people.__getitem__, key="today who")
elif people:
    person = next(iter(people))

steps = steps_of(week, view, person, day)
leaving = [row for row in view.orders if row.leaves_at is not None and row.leaves_at.date() == day]
runs = [row for row in view.queue if row.set_up_at.date() == day]
chase = seen.chase
st.markdown(
    f"**{told[day]}: {words.counted(len(runs), 'run')} to set up in the shop, {words.counted(len(leaving), 'order')} "
    f"to leave, {words.counted(len(chase), 'answer')} to ring for.**"
)
cards.style()
st.subheader(people[person] if person else "In the shop", anchor=False)
if steps:
    st.html(cards.steps_html(steps))
else:
    st.write("Nothing is planned on this day.")

st.subheader("Screens for what comes next", anchor=False)
end_of_day = now.replace(hour=0, minute=0, second=0) + timedelta(days=1 + (day - now.date()).days)
tonight = [row for row in screen_work(view, now, until=end_of_day) if row.start_at.date() == day]
later = [row for row in tonight if row.needed_by is None or row.needed_by.date() > day]
if later:
    st.html(cards.screens_html(later, now))
else:
    st.write("Nothing to coat, burn or reclaim on this day for the days after it.")

st.subheader("Whom to ring", anchor=False)
if chase:
    st.html(cards.chase_html(chase))
else:
    st.write("Nobody: art and garments of every order are there or have their day.")

st.subheader("What leaves", anchor=False)
if leaving:
    cells = tuple(
        (
            row.order_id,
            row.client,
            row.pieces,
            words.day_and_time(row.packed_at) if row.packed_at else "",
            words.day_and_time(row.leaves_at) if row.leaves_at else "",
            late_words(row.late_days),
        )
        for row in leaving
    )
    chart.rows(("order", "client", "pieces", "packed", "leaves", "late"), cells, key="leaving")
else:
    st.write("Nothing leaves on this day.")
st.html(cards.cautions_html(view.screen_cautions))
