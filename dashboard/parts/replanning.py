"""Planned again from now, from the book: the search, what it changes, and announcing it."""

from __future__ import annotations

import streamlit as st

from dashboard import floor_book
from dashboard.floor_book import Floor
from dashboard.parts.words import counted, money, plain
from scheduler import api, shop_book
from scheduler.domain.settings import SearchSettings
from scheduler.errors import InputError

SECONDS = 20.0
"""How long the search may take while somebody waits for it."""


def plan_again(seen: Floor) -> None:
    """A button, and below it the plan it made, to be announced or forgotten."""
    asked = seen.asked
    if asked.told is None:
        return
    st.subheader("Plan again from now", anchor=False)
    if asked.stands is not None and asked.stands.started:
        st.write(f"What has started stays where it is: {plain(', '.join(asked.stands.started))}.")
    if asked.learnt_lines:
        st.write("By what your own record says, not by the stated figures:")
        st.markdown("\n".join(f"- {plain(line)}" for line in asked.learnt_lines))
    if st.button("Plan again", type="primary", key="plan again"):
        with st.spinner(f"Looking for {SECONDS:g} seconds"):
            settings = SearchSettings(seconds=SECONDS, workers=2)
            result = asked.search(settings, lambda _: None, lambda: False)
        if result.plan is None:
            st.error(plain(f"There is no plan: {result.reason}"))
        else:
            number = shop_book.keep_plan(
                floor_book.address(), asked, result.plan, who=floor_book.who_is_it(), now=floor_book.clock()
            )
            st.session_state["new plan"] = (number, _changes(seen, result))
    if "new plan" in st.session_state:
        number, told = st.session_state["new plan"]
        for line in told:
            st.markdown(plain(line))
        left, right = st.columns(2)
        left.button("Announce it", key="announce", on_click=_announce, args=(number,), width="stretch")
        right.button("Keep the old plan", key="forget", on_click=_forget, width="stretch")


def _changes(seen: Floor, result: api.SearchResult) -> tuple[str, ...]:
    """What the new plan costs against keeping the announced one, how many orders are late, which dates change."""
    asked, plan = seen.asked, result.plan
    assert plan is not None
    week, currency = asked.workload.week, asked.inputs.shop.money.currency
    now = api.measure(week, plan)
    late = counted(len(now.late_orders), "order")
    told = [f"New plan: {late} late, {money(now.cost.total, currency)} from now on."]
    if seen.current is not None and seen.current.measures is not None:
        kept = seen.current.measures
        was = counted(len(kept.late_orders), "order")
        told.append(f"Keeping the announced order: {was} late, {money(kept.cost.total, currency)} from now on.")
    if asked.told is not None:
        dates = shop_book.told_before(asked.told, shop_book.week_of_plan(asked.told), asked.inputs, week, plan)
        told.append(f"{counted(len(dates), 'order')} with another day than was told.")
    return tuple(told)


def _announce(number: int) -> None:
    try:
        shop_book.announce(floor_book.address(), number, who=floor_book.who_is_it(), now=floor_book.clock())
        st.session_state["noted"] = f"Plan {number} is announced."
    except InputError as fault:
        st.session_state["not noted"] = fault.problems
    _forget()


def _forget() -> None:
    st.session_state.pop("new plan", None)
