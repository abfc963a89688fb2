"""What do I do today? One page for one person: the day in time, tonight's screens, whom to ring, what leaves."""

from __future__ import annotations

from datetime import timedelta

import streamlit as st

from dashboard import state
from dashboard.charts import verdict
from dashboard.charts.floor import cautions_of_the_shop, screens_for_later, steps_of, work_days
from dashboard.parts import cards, states
from dashboard.parts.words import plain
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
leaving = [row for row in view.order_row.values() if row.leaves_at is not None and row.leaves_at.date() == day]
pencilled = verdict.pencilled(view)
runs = [row for row in view.queue if row.set_up_at.date() == day]
end_of_day = now.replace(hour=0, minute=0, second=0) + timedelta(days=1 + (day - now.date()).days)
tonight = screens_for_later(view, now, end_of_day)
chase = seen.chase
burns = sum(row.screens for row in tonight if row.what == "burn")
st.markdown(
    f"#### {words.counted(len(runs), 'run')} to set up in the shop, "
    f"{words.counted(burns, 'screen')} to burn for later, "
    f"{words.counted(len(chase), 'thing')} to ring about, {words.counted(len(leaving), 'order')} to leave."
)
cards.style()
first, second = st.columns(2, gap="large")
with first:
    st.subheader(plain(people[person]) if person else "In the shop", anchor=False)
    if steps:
        st.html(cards.steps_html(steps))
    else:
        st.write("Nothing is planned on this day.")
    st.subheader("What leaves", anchor=False)
    if leaving:
        st.html(cards.leaving_html(leaving))
    else:
        st.write("Nothing leaves on this day.")
    st.subheader("Whom to ring", anchor=False)
    if chase:
        st.html(cards.chase_html(chase))
    else:
        st.write("Nobody: art and garments of every order are there or have their day.")
    if pencilled:
        st.subheader("Pencilled in, waiting for a yes", anchor=False)
        st.html(cards.pencilled_html(pencilled))
with second:
    st.subheader("Screens to get ready for later days", anchor=False)
    if tonight:
        st.html(cards.screens_html(tonight, now))
    else:
        st.write("Nothing to coat, burn or reclaim on this day for the days after it.")
st.html(cards.cautions_html(cautions_of_the_shop(view)))
