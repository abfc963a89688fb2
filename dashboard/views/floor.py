"""How does the floor stand? Ahead or behind, who is in danger, plan again from now; what was noted, and by whom."""

from __future__ import annotations

import streamlit as st

from dashboard import floor_book, state
from dashboard.floor_book import Floor
from dashboard.parts import chart, replanning, states
from dashboard.parts.words import moment, plain
from scheduler import api, shop_book

SHOWN = 12
"""Events shown with a way to take each back; the rest is in the history."""


def standing(seen: Floor) -> None:
    """Where the floor stands, and what to do about it."""
    found = seen.drift
    if found is None:
        return
    sentence, sections = api.drift_report(found)
    (st.error if found.endangered or found.plan is None else st.markdown)(f"**{plain(sentence)}**")
    for number, section in enumerate(sections):
        st.subheader(section.title, anchor=False)
        chart.rows(section.headings, tuple(line.cells for line in section.lines), key=f"drift {number}")


def noted(seen: Floor) -> None:
    """What was noted last, each with its way back; and everything anybody changed."""
    st.subheader("Noted", anchor=False)
    kept = shop_book.that_count(seen.events)
    if not kept:
        st.write("Nothing was noted yet. Notes are made on **What runs next here?** and **Which screens next?**")
    for event in sorted(kept, key=lambda one: -one.number)[:SHOWN]:
        left, right = st.columns([3, 1], vertical_alignment="center")
        who = f", {event.who}" if event.who else ""
        left.markdown(f"{moment(event.at)}{plain(who)}: {plain(shop_book.event_text(event))}")
        right.button(
            "Take it back",
            key=f"back {event.number}",
            on_click=floor_book.take_back,
            args=(event.number,),
            width="stretch",
        )
    with st.expander("Who changed what", key="history"):
        lines = reversed(shop_book.history(floor_book.address()))
        rows = tuple((moment(one.at), one.who, one.what) for one in lines)
        chart.rows(("when", "who", "what"), rows, key="history table")


week = state.current().folder
seen = floor_book.floor()
if seen is None:
    if floor_book.address():
        states.nothing_here("Nothing is announced in the book yet. Run `pressweek plan --book` and announce the plan.")
    states.nothing_here(
        "No book is open. With one, what is done at the press is noted here, and the next plan starts from it: "
        'the README tells how, under "The week is never as planned".'
    )
floor_book.ask_who(seen)
floor_book.say_what_was_noted()
standing(seen)
replanning.plan_again(seen, week)
noted(seen)
