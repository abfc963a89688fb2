"""What somebody on the telephone is asked about a rush order, and any other surprise as a few fields."""

from __future__ import annotations

from datetime import date, timedelta

import streamlit as st

from dashboard.parts import moments
from dashboard.state import Current
from scheduler import api

Tables = list[tuple[str, dict[str, str]]]

SEVERAL = ("presses", "people")
"""Settings that hold several names at once."""

NEW_NUMBER = "rush"


def rush_form(seen: Current) -> tuple[str, Tables] | None:
    """The rush as it was typed, once it is sent: one table for each print location."""
    shop = seen.inputs.shop
    days = [shop.plan_from.date() + timedelta(days=number) for number in range(shop.days_ahead)]
    with st.form("rush", border=False):
        left, middle, right = st.columns(3)
        client = left.text_input("Client", value="Somebody new")
        pieces = middle.number_input("Pieces", min_value=1, value=72, step=12)
        wanted = moments.day(right, "Must leave", days, days[min(3, len(days) - 1)], "rush-day")
        left, middle, right = st.columns(3)
        garment = left.text_input("Garment, with its colour", value="black tee")
        shade = middle.selectbox("Light or dark", ["dark", "light"])
        blanks = right.text_input("Garments: in, or the day they come", value="in")
        left, right = st.columns(2)
        front = left.text_input("Inks on the front, in print order", value="white")
        back = right.text_input("Inks on the back", value="")
        if not st.form_submit_button("Can we?", type="primary"):
            return None
    told = {"order": _number(seen), "client": client, "due": f"{wanted:%Y-%m-%d}", "garment": garment, "shade": shade}
    told |= {"pieces": str(pieces), "blanks": blanks, "art": "ok"}
    prints = [(location, inks) for location, inks in (("front", front), ("back", back)) if inks.strip()]
    tables = [("rush", {**told, "location": location, "inks": inks}) for location, inks in prints]
    return f"{pieces} {garment} for {client}", tables


def _number(seen: Current) -> str:
    """A number no order has yet."""
    taken = {order.order_id for order in seen.inputs.orders}
    return next(name for number in range(1, 1000) if (name := f"{NEW_NUMBER}-{number}") not in taken)


def surprise_form(seen: Current) -> tuple[str, Tables] | None:
    """Any other kind of what-if, with its own settings."""
    kinds = api.what_if_kinds()
    kind = st.selectbox("What happens", list(kinds), format_func=lambda one: kinds[one][0], key="surprise")
    meaning, settings = kinds[kind]
    known = _known(seen)
    with st.form(f"surprise-{kind}", border=False):
        typed: dict[str, str] = {}
        for setting in settings:
            label = setting.name.replace("_", " ") + ("" if setting.is_needed else " (may stay empty)")
            key = f"{kind}-{setting.name}"
            names = {} if setting.name in SEVERAL else known.get(setting.names, {})
            if names:
                chosen = st.selectbox(label, list(names), index=None, format_func=names.__getitem__, key=key)
                typed[setting.name] = chosen or ""
            else:
                typed[setting.name] = st.text_input(label, placeholder=_example(setting.example, seen), key=key).strip()
        if not st.form_submit_button("What then?", type="primary"):
            return None
    return meaning, [(kind, typed)]


def _example(example: str, seen: Current) -> str:
    """An example with days of this week."""
    day = f"{seen.inputs.shop.plan_from.date() + timedelta(days=1):%Y-%m-%d}"
    parts = example.split(" ")
    return " ".join(["as", *(day if _is_day(part) else part for part in parts)])


def _is_day(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _known(seen: Current) -> dict[str, dict[str, str]]:
    """What may be named, by its kind of name."""
    shop = seen.inputs.shop
    return {
        "order": {order.order_id: f"{order.order_id}, {order.client}" for order in seen.inputs.orders},
        "press": {press.press_id: press.name for press in shop.presses},
        "dryer": {dryer.dryer_id: dryer.name for dryer in shop.dryers},
        "person": {person.person_id: person.name for person in shop.people},
        "design": {name: name for name in sorted({one.design_id for one in seen.inputs.imprints})},
    }
