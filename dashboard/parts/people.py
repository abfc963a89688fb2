"""People, their hours and days off, and the shop's other settings, changed as texts and saved to the week's files."""

from __future__ import annotations

import re
from pathlib import Path

import pandas as pd
import streamlit as st

from dashboard.parts import states
from scheduler import api
from scheduler.errors import InputError

COLUMNS = {"name": "name", "roles": "roles", "presses": "presses", "hours": "hours", "days_off": "days off"}
HOURS_EXAMPLE = "mon-fri 07:00-12:00, 12:30-15:30; sat closed"

Person = dict[str, str]


def people_of(texts: dict[str, str]) -> list[Person]:
    """Everybody with their settings as typed; hours in one line."""
    found: dict[int, Person] = {}
    for name, text in texts.items():
        match = re.fullmatch(r"person\.(\d+)\.(.+)", name)
        if not match:
            continue
        person = found.setdefault(int(match[1]), {})
        key = match[2].replace("-", "_") if not match[2].startswith("hours") else match[2]
        if key.startswith("hours."):
            said = f"{match[2].removeprefix('hours.')} {text}"
            person["hours"] = f"{person['hours']}; {said}" if person.get("hours") else said
        else:
            person[key] = text
    return [found[number] for number in sorted(found)]


def hours_settings(before: str, line: str) -> list[tuple[str, str]]:
    """What an hours line sets: ("hours.mon-fri", "07:00-12:00"), and "" for days that are gone."""
    new = dict(_days(line))
    gone = [day for day, _ in _days(before) if day not in new]
    return [(f"hours.{day}", text) for day, text in new.items()] + [(f"hours.{day}", "") for day in gone]


def _days(line: str) -> list[tuple[str, str]]:
    parts = [part.strip().partition(" ") for part in line.split(";") if part.strip()]
    return [(days, hours.strip()) for days, _, hours in parts]


def who_works_here(week: Path) -> None:
    """An editor for people; days off and hours in the shop's own writing."""
    try:
        before = people_of(api.shop_texts(week))
    except InputError as fault:
        states.faults(fault.problems)
        return
    st.write(f"Hours as `{HOURS_EXAMPLE}`; empty: the shop's. Days off as `2026-04-20, 2026-04-21`.")
    frame = pd.DataFrame(
        [[person.get(key, "") for key in COLUMNS] for person in before], columns=list(COLUMNS.values()), dtype="object"
    )
    with st.form("form-people", border=False):
        edited = st.data_editor(
            frame,
            key=f"editor-people-{st.session_state.get('people-version', 0)}",
            num_rows="add",
            hide_index=True,
            width="stretch",
            alt=f"{len(before)} people; every cell can be changed.",
        )
        is_sent = st.form_submit_button("Save", type="primary", key="save-people")
    if is_sent:
        settings, added = people_edit(before, edited.fillna("").astype(str).to_numpy().tolist())
        _save(week, settings, added, "people-version")


def people_edit(
    before: list[Person], rows: list[list[str]]
) -> tuple[list[tuple[str, str]], list[tuple[str, list[tuple[str, str]]]]]:
    """Settings that change, and people who are new."""
    settings: list[tuple[str, str]] = []
    added = []
    for place, cells in enumerate(rows):
        now = dict(zip(COLUMNS, (cell.strip() for cell in cells), strict=True))
        if place < len(before):
            was = before[place]
            changed = [(key, now[key]) for key in COLUMNS if key != "hours" and now[key] != was.get(key, "")]
            if now["hours"] != was.get("hours", ""):
                changed += hours_settings(was.get("hours", ""), now["hours"])
            settings += [(f"person.{place + 1}.{key}", text) for key, text in changed]
        elif now["name"]:
            slug = re.sub(r"\W+", "-", now["name"].casefold()).strip("-")
            told = [("id", slug), *((key, now[key]) for key in COLUMNS if key != "hours")]
            added.append(("person", told + hours_settings("", now["hours"])))
    return settings, added


def everything_else(week: Path) -> None:
    """Every setting that was typed, by its full name."""
    try:
        texts = api.shop_texts(week)
    except InputError as fault:
        states.faults(fault.problems)
        return
    st.write("Everything that is said about the shop. Write quantities with their unit: `8 ft`, `7 s`, `15 min`.")
    names = [name for name in texts if not name.startswith("person.")]
    frame = pd.DataFrame(
        {"setting": [name.replace("_", " ") for name in names], "value": [texts[name] for name in names]}
    )
    with st.form("form-shop", border=False):
        edited = st.data_editor(
            frame,
            key=f"editor-shop-{st.session_state.get('shop-version', 0)}",
            hide_index=True,
            disabled=["setting"],
            width="stretch",
            height=560,
            alt=f"{len(names)} settings of the shop; every value can be changed.",
        )
        is_sent = st.form_submit_button("Save", type="primary", key="save-shop")
    if is_sent:
        new = ["" if text is None or pd.isna(text) else str(text).strip() for text in edited["value"]]
        _save(
            week,
            [(name, text) for name, text in zip(names, new, strict=True) if text != texts[name]],
            [],
            "shop-version",
        )


def _save(
    week: Path, settings: list[tuple[str, str]], added: list[tuple[str, list[tuple[str, str]]]], version: str
) -> None:
    if not settings and not added:
        st.toast("Nothing has changed.")
        return
    try:
        api.edit_week(week, settings=settings, added=added)
    except InputError as fault:
        st.error("Not saved: nothing was changed.")
        states.faults(fault.problems)
        return
    st.session_state[version] = st.session_state.get(version, 0) + 1
    st.toast("Saved. The plan in use is from before: make a new one when you are ready.")
    st.rerun()
