"""Who may see the dashboard: whoever sits at this computer; over the shop's Wi-Fi, whoever knows the password."""

from __future__ import annotations

import hmac
import os
import secrets
import time

import streamlit as st

PASSWORD_VARIABLE = "PRESSWEEK_PASSWORD"
LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
"""No letter that is taken for another when it is read off a screen."""

WAIT_S = 1.0
"""Each wrong try costs this long, so that guessing takes years."""


def new_password() -> str:
    """A password nobody guesses, in three groups that can be read aloud (about 59 bits)."""
    return "-".join("".join(secrets.choice(LETTERS) for _ in range(4)) for _ in range(3))


def is_let_in() -> bool:
    """True if this visitor may see the pages."""
    return not os.environ.get(PASSWORD_VARIABLE) or bool(st.session_state.get("is_let_in"))


def ask() -> None:
    """Ask for the password; nothing else is shown."""
    st.title("Password", anchor=False)
    with st.form("password", border=False):
        typed = st.text_input("Password, as it was said where the dashboard was started", type="password")
        is_sent = st.form_submit_button("Let me in", type="primary")
    if not is_sent:
        return
    if hmac.compare_digest(typed.strip().lower().encode(), os.environ[PASSWORD_VARIABLE].encode()):
        st.session_state["is_let_in"] = True
        st.rerun()
    time.sleep(WAIT_S)
    st.error("That is not the password.")
