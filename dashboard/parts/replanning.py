"""Planned again from now, from the book: the search as it goes on, what it changes, and announcing it."""

from __future__ import annotations

from pathlib import Path

import streamlit as st

from dashboard import floor_book, jobs, planning_on
from dashboard.floor_book import Floor
from dashboard.parts.words import counted, money, plain
from scheduler import shop_book
from scheduler.errors import InputError


def plan_again(seen: Floor, week: Path) -> None:
    """A button; while it is looked for, the best so far; then the new plan, to be announced or forgotten."""
    asked = seen.asked
    if asked.told is None:
        return
    st.subheader("Plan again from now", anchor=False)
    if asked.stands is not None and asked.stands.started:
        st.write(f"What has started stays where it is: {plain(', '.join(asked.stands.started))}.")
    if asked.learnt_lines:
        st.write("By what your own record says, not by the stated figures:")
        st.markdown("\n".join(f"- {plain(line)}" for line in asked.learnt_lines))
    found = planning_on.in_work(week)
    if found is not None and found.is_working:
        st.fragment(_watch, run_every=1.0)(week, asked.inputs.shop.money.currency)
        return
    if found is not None:
        _decide(found, week)
        return
    if st.button("Plan again", type="primary", key="plan again"):
        planning_on.start(week, now=floor_book.clock(), who=floor_book.who_is_it())
        st.rerun()


def _watch(week: Path, currency: str) -> None:
    """How far the search is, and a way to end it."""
    now = planning_on.in_work(week)
    if now is None or not now.is_working:
        st.rerun()
    best = now.trace[-1] if now.trace else None
    so_far = f"Best so far: {counted(best.late, 'order')} late, {money(best.cost_cents, currency)}." if best else ""
    st.markdown(f"Looking for {now.asked_seconds:g} seconds; everything else goes on meanwhile. {so_far}")
    if now.state == "stopping":
        st.write("Stopping: the best so far is being checked and kept.")
    elif st.button("That will do", key="stop planning", disabled=best is None):
        jobs.ask_to_stop(now.folder, then=jobs.COMPARE)
        st.rerun(scope="fragment")


def _decide(found: jobs.InWork, week: Path) -> None:
    """The new plan beside the old one; or why there is none."""
    number = found.outcome.get("number")
    if number is None:
        st.error(plain(f"There is no new plan: {found.reason if found.outcome else 'the search broke off'}."))
        st.button("Put this aside", key="forget", on_click=planning_on.forget, args=(week,))
        return
    for line in found.outcome["told"]:
        st.markdown(plain(line))
    left, right = st.columns(2)
    left.button("Announce it", key="announce", on_click=_announce, args=(number, week), width="stretch")
    right.button("Keep the old plan", key="forget", on_click=planning_on.forget, args=(week,), width="stretch")


def _announce(number: int, week: Path) -> None:
    try:
        shop_book.announce(floor_book.address(), number, who=floor_book.who_is_it(), now=floor_book.clock())
        st.session_state["noted"] = f"Plan {number} is announced."
    except InputError as fault:
        st.session_state["not noted"] = fault.problems
    planning_on.forget(week)
