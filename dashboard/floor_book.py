"""The shop's book beside the pages: what was announced, what was noted since, and where the floor stands by that.

A dashboard that was started with a book shows the floor from it; without one the pages work from files alone. Read anew
only when something was noted or announced, or a minute has gone by.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cached_property
from pathlib import Path
from zoneinfo import ZoneInfo

import streamlit as st

from dashboard.parts import states
from dashboard.state import Current
from scheduler import api, shop_book
from scheduler.errors import InputError

BOOK_VARIABLE = "PRESSWEEK_BOOK"
"""Environment variable in which the server is told the address of the shop's book."""
CLOCK_VARIABLE = "PRESSWEEK_CLOCK"
"""A moment to go by instead of the computer's clock (ISO, with its zone), for trying out a week that is over."""


@dataclass(frozen=True, kw_only=True)
class Floor:
    """The floor as the book has it. asked: the week as it stands; nothing is announced where `asked.stands` is None."""

    asked: shop_book.Question
    events: tuple[api.Event, ...]
    now: datetime

    @cached_property
    def drift(self) -> api.Drift | None:
        """How far the floor is from the announced plan; None where nothing is announced."""
        asked = self.asked
        if asked.stands is None or asked.told is None or asked.told_week is None:
            return None
        return api.drift(asked.stands, asked.told_week, asked.told.plan)

    @cached_property
    def current(self) -> Current | None:
        """The announced plan kept from now on, as the pages show plans; None where it cannot be kept."""
        if self.drift is None or self.drift.plan is None:
            return None
        asked = self.asked
        return Current(
            folder=Path(address()),
            inputs=asked.inputs,
            workload=asked.workload,
            plan=self.drift.plan,
            measures=api.measure(asked.workload.week, self.drift.plan),
        )

    @cached_property
    def learnt(self) -> dict[str, shop_book.Learnt]:
        """What every design's times come to."""
        return {one.design_id: one for one in shop_book.designs_learnt(address())}

    @cached_property
    def days_told(self) -> shop_book.Calibration:
        """Odds told beside what happened."""
        return shop_book.days_told(address())

    @property
    def names(self) -> tuple[str, ...]:
        """Everybody who works here, as they are called."""
        return tuple(person.name for person in self.asked.inputs.shop.people)

    def going_on(self, press_id: str) -> api.RunNow | None:
        """The run that has the press; None where none has."""
        stands = self.asked.stands
        runs = stands.runs.values() if stands is not None else ()
        return next((run for run in runs if run.is_going and run.press_id == press_id), None)


def address() -> str:
    """The book's address, "" where there is none."""
    return os.environ.get(BOOK_VARIABLE, "")


def clock() -> datetime:
    """What time it is."""
    told = os.environ.get(CLOCK_VARIABLE, "")
    return datetime.fromisoformat(told) if told else datetime.now(UTC)


def floor() -> Floor | None:
    """The floor; None where there is no book, or nothing is announced in it yet. Faults of the book end the page."""
    book = address()
    if not book:
        return None
    try:
        stamp = shop_book.stamp(book)
        if not stamp[1]:
            return None
        return _seen(book, stamp, clock().replace(second=0, microsecond=0))
    except InputError as fault:
        st.error("The shop's book cannot be used as it stands.")
        states.faults(fault.problems)
        st.stop()


@st.cache_resource(max_entries=4, show_spinner=False)
def _seen(book: str, stamp: tuple[int, int, int], minute: datetime) -> Floor:
    del stamp  # only there so that what was announced, brought or noted since is read anew
    asked = shop_book.question(book, minute)
    zone = ZoneInfo(asked.inputs.shop.zone)
    return Floor(asked=asked, events=shop_book.events_of(book), now=minute.astimezone(zone))


def last_noted(events: tuple[api.Event, ...]) -> int:
    """The number of the last event that was looked at."""
    return max((event.number for event in events), default=0)


def note(seen: Floor, word: str, about: str, **more: object) -> None:
    """Note what happened, and show the page anew; a line at its top says what was noted, or why it was not."""
    told = shop_book.Note(word=word, about=about, who=who_is_it(), **more)  # type: ignore[arg-type]

    def write() -> str:
        event = shop_book.note(address(), told, now=clock(), seen=last_noted(seen.events))
        st.session_state["noted number"] = event.number
        return f"Noted: {shop_book.event_text(event)}."

    _told(write)


def take_back(number: int) -> None:
    """Take an event back: it was noted by mistake."""

    def write() -> str:
        told = shop_book.Note(word="undo", about=str(number), who=who_is_it())
        shop_book.note(address(), told, now=clock())
        return f"Taken back: number {number}."

    _told(write)


def _told(write: Callable[[], str]) -> None:
    st.session_state.pop("noted number", None)
    try:
        st.session_state["noted"] = write()
        st.session_state.pop("not noted", None)
    except InputError as fault:
        st.session_state["not noted"] = fault.problems
        st.session_state.pop("noted", None)


def who_is_it() -> str:
    """Who notes things on this phone, "" where nobody said."""
    return str(st.session_state.get("who") or st.session_state.get("only person") or "")


def ask_who(seen: Floor) -> None:
    """Who holds this phone; it stays in the page's address, so that a reload need not ask again."""
    if len(seen.names) == 1:
        st.session_state["only person"] = seen.names[0]
    elif seen.names:
        st.pills("Who are you?", seen.names, key="who", bind="query-params")


def say_what_was_noted() -> None:
    """What the last tap did, with a way to take it back."""
    problems = st.session_state.pop("not noted", None)
    if problems:
        st.error("Not noted.")
        states.faults(problems)
    text = st.session_state.pop("noted", "")
    if not text:
        return
    left, right = st.columns([3, 1], vertical_alignment="center")
    left.success(text)
    number = st.session_state.get("noted number")
    if number is not None:
        right.button("Take it back", key="take back", on_click=take_back, args=(number,), width="stretch")
