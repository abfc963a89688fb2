"""What must stay put? Locks, the moment before which nothing moves, the announced plan, overtime on offer."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import time, timedelta

import streamlit as st

from dashboard import state
from dashboard.parts import locking, moments, states
from dashboard.parts.table import table
from dashboard.parts.told import show_told, tell
from dashboard.parts.words import moment, money, plain
from scheduler import api
from scheduler.errors import InputError

seen = state.current()
if seen.now is None:
    st.error("The files hold faults; mend them on **Orders and people** first.")
    states.faults(seen.faults)
    st.stop()
now = seen.now
shop = now.inputs.shop
week = now.workload.week


def save(change: Callable[[], None], told: str) -> None:
    """Make a change, or say why not."""
    try:
        change()
    except InputError as fault:
        st.error("Not saved: nothing was changed.")
        states.faults(fault.problems)
        return
    tell("holds", f"{plain(told)} It counts from the next plan on: open **Make a new plan**.")
    st.rerun()


def lock_a_run() -> None:
    """A run to a press, or to a press and a time."""
    st.subheader("Lock a run", anchor=False)
    if not week.runs:
        st.write("There is no run to lock yet.")
        return
    runs = {run.run_id: f"{run.run_id}, {clients.get(run.order_id, '')}, {run.pieces} pieces" for run in week.runs}
    run_id = st.selectbox("Which run", list(runs), format_func=lambda one: runs[one])
    run = week.run[run_id]
    planned = seen.plan.run.get(run_id) if seen.plan is not None else None
    fits = [choice.press_id for choice in run.choices]
    press_id = st.selectbox(
        "On which press",
        fits,
        index=fits.index(planned.press_id) if planned is not None and planned.press_id in fits else 0,
        format_func=lambda one: week.press[one].name,
        help="Only presses it fits are offered.",
    )
    start = seen.week.clock.starts_at(planned.set_up_start_tau) if planned is not None else week.clock.now
    at_time = st.toggle("At a fixed time too", help="Its set-up starts then.")
    at: str = ""
    if at_time:
        left, right = st.columns(2)
        at = moments.moment_of(
            moments.day(left, "Day", days, start.date(), "lock-day"),
            moments.clock(right, "Set-up starts", start.time(), "lock-time"),
        )
    sheet = api.read_cells(seen.folder, "orders")
    places = locking.places_of(sheet, run)
    if planned is not None:
        st.write(f"In the plan: {plain(week.press[planned.press_id].name)}, set-up {moment(start)}.")
    if st.button("Lock it", type="primary", disabled=not places):
        headings, rows = locking.with_lock(sheet, places, press_id, at)
        save(lambda: api.edit_week(seen.folder, rows=[(sheet, headings, rows)]), f"{run_id} is locked.")


def locked_now() -> None:
    """Every lock, each with a way to take it off."""
    sheet = api.read_cells(seen.folder, "orders")
    for lock in locking.locks(sheet):
        left, right = st.columns([4, 1], vertical_alignment="center")
        where = ", ".join(text for text in (press_name(lock.press), lock_time(lock.at)) if text)
        left.markdown(f"**{plain(f'{lock.order} {lock.location}')}**, {plain(f'{lock.garment}: locked to {where}')}")
        if right.button("Take it off", key=f"off-{lock.place}"):
            headings, rows = locking.with_lock(sheet, [lock.place], "", "")
            save(
                lambda: api.edit_week(seen.folder, rows=[(sheet, headings, rows)]),  # noqa: B023
                f"{lock.order} {lock.location} is free again.",
            )


def press_name(press_id: str) -> str:
    """A press as people call it."""
    return week.press[press_id].name if press_id in week.press else press_id


def lock_time(typed: str) -> str:
    """The time of a lock as it is said everywhere else; as it was typed where it cannot be read."""
    try:
        return moment(api.read_moment(typed, now.inputs)) if typed else ""
    except InputError:
        return typed


def dont_touch() -> None:
    """The moment before which announced runs stay where they are."""
    st.subheader("Don't touch before", anchor=False)
    st.write("Announced runs that start before this moment stay where they are; later ones may move, at a price.")
    before = shop.dont_touch_before or shop.plan_from
    with st.form("dont-touch", border=False):
        left, right = st.columns(2)
        day = moments.day(left, "Day", days, before.date(), "dont-day")
        clock = moments.clock(right, "Time", before.time(), "dont-time")
        if st.form_submit_button("Set it"):
            text = f"{day:%Y-%m-%d} {clock}"
            save(
                lambda: api.edit_week(seen.folder, settings=[("dont_touch_before", text)]),
                f"Nothing announced moves before {lock_time(text)}.",
            )
    st.write(announced())
    if seen.plan_folder is not None and seen.plan is not None:
        plan_file = seen.plan_folder / "plan.json"
        if st.button("Announce the plan in use", help="The shop has been told: from now on moving a run has a price."):
            save(lambda: api.edit_week(seen.folder, announce=plan_file), "The plan in use is announced.")


def announced() -> str:
    """What the shop has been told."""
    count = len(now.inputs.announced)
    return f"A plan with {count} runs is announced." if count else "No plan is announced: every run may move freely."


def overtime() -> None:
    """What is on offer, whether the plan takes it, and more of it."""
    st.subheader("Overtime", anchor=False)
    taken = set(seen.plan.overtime) if seen.plan is not None else set()
    if week.overtime:
        table(
            [
                {
                    "what": block.name,
                    "from": moment(week.clock.starts_at(block.start_tau)),
                    "to": moment(week.clock.ends_at(block.end_tau)),
                    "price": money(block.price_cents, shop.money.currency),
                    "plan in use": "takes it" if block.block_id in taken else "does without it",
                }
                for block in week.overtime
            ]
        )
    else:
        st.write("None is on offer.")
    with st.expander("Open more overtime"), st.form("overtime", border=False):
        day = moments.day(st, "Day", days, days[min(1, len(days) - 1)], "over-day")
        left, middle, right = st.columns(3)
        start = moments.clock(left, "From", time(16, 0), "over-from")
        end = moments.clock(middle, "To", time(19, 0), "over-to")
        price = right.number_input("What it costs in all", min_value=0, value=300, step=10)
        presses = st.multiselect(
            "Presses (none: all)", [press.press_id for press in shop.presses], format_func=press_name
        )
        people = st.multiselect(
            "People (none: all)",
            [person.person_id for person in shop.people],
            format_func=lambda one: next(who.name for who in shop.people if who.person_id == one),
        )
        if st.form_submit_button("Open it"):
            offer = overtime_offer(f"{day:%Y-%m-%d}", (start, end), price, presses, people)
            save(lambda: api.edit_week(seen.folder, added=[("overtime", offer)]), "The overtime is on offer.")


def overtime_offer(
    day: str, hours: tuple[str, str], price: int, presses: Sequence[str], people: Sequence[str]
) -> list[tuple[str, str]]:
    """A section of the shop's settings; what is empty is left out."""
    return [
        ("day", day),
        ("from", hours[0]),
        ("to", hours[1]),
        ("price", str(price)),
        ("presses", ", ".join(presses)),
        ("people", ", ".join(people)),
    ]


days = [shop.plan_from.date() + timedelta(days=number) for number in range(shop.days_ahead)]
clients = {order.order_id: order.client for order in now.inputs.orders}
show_told("holds")
lock_a_run()
locked_now()
dont_touch()
overtime()
