"""The shop's own spreadsheet brought into the week: asked once where unsure, written when all is answered."""

from __future__ import annotations

import re
import tempfile
from dataclasses import dataclass, field
from pathlib import Path

import streamlit as st

from dashboard.parts import states
from dashboard.parts.words import plain
from scheduler import api
from scheduler.errors import InputError

PLACE = "bringing"


@dataclass(kw_only=True)
class Bringing:
    """A file on its way in: what it is called, what it holds, and what was answered so far."""

    name: str
    data: bytes
    answers: list[str] = field(default_factory=list)


class _AskedError(Exception):
    """A question nobody has answered yet."""


def bring(week: Path) -> None:
    """Upload, answer what is unsure, and see what was done line by line."""
    done: list[str] = st.session_state.pop("brought", [])
    if done:
        st.success("Brought in.")
        st.code("\n".join(done), language=None)
    sent = st.file_uploader("Your spreadsheet, .csv or .xlsx", type=["csv", "xlsx"], key="bring-file")
    if sent is None:
        st.session_state.pop(PLACE, None)
        return
    now: Bringing | None = st.session_state.get(PLACE)
    if now is None or (now.name, now.data) != (sent.name, sent.getvalue()):
        now = st.session_state[PLACE] = Bringing(name=sent.name, data=sent.getvalue())
    if not st.session_state.get("bring-began") and not st.button("Bring it into the week", type="primary"):
        return
    st.session_state["bring-began"] = True
    said, question = _try(week, now)
    if question is None:
        return
    if said:
        st.code("\n".join(said), language=None)
    with st.form(f"bring-{len(now.answers)}", border=False):
        answer = st.text_input(plain(question), key=f"answer-{len(now.answers)}")
        if st.form_submit_button("Go on", type="primary"):
            now.answers.append(answer)
            st.rerun()


def own_name(sent: str) -> str:
    """A sent file's name as one of ours: its letters, digits and simple signs, no folder, no longer than it needs."""
    plain = re.sub(r"[^\w .()-]+", "_", sent.replace("\\", "/").rpartition("/")[2])
    stem, _, suffix = plain.rpartition(".")
    return f"{stem.strip(' .')[:80] or 'sheet'}.{suffix[:8]}"


def _try(week: Path, now: Bringing) -> tuple[list[str], str | None]:
    """What was said, and the question that is open; writes only once every question is answered."""
    said: list[str] = []
    left = list(now.answers)

    def ask(prompt: str) -> str:
        if not left:
            raise _AskedError(prompt)
        return left.pop(0)

    with tempfile.TemporaryDirectory(prefix="pressweek-bring-") as folder:
        path = Path(folder) / own_name(now.name)
        path.write_bytes(now.data)
        try:
            api.bring_sheet(path, week, ask=ask, say=said.append)
        except _AskedError as open_question:
            return said, str(open_question)
        except InputError as fault:
            st.error("Not brought in: nothing was changed.")
            states.faults(fault.problems)
            st.session_state.pop("bring-began", None)
            return said, None
    st.session_state.pop(PLACE, None)
    st.session_state.pop("bring-began", None)
    st.session_state["brought"] = said
    for draft in [key for key in st.session_state if str(key).startswith("draft-")]:
        del st.session_state[draft]
    st.rerun()
    return said, None
