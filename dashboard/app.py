"""The pages, each titled by the question it answers, in one flat list."""

from __future__ import annotations

from pathlib import Path

import streamlit as st

from dashboard import access, state
from dashboard.parts import plan_line, states

VIEWS = Path(__file__).resolve().parent / "views"

# file in views/, title, address ("" for the page that opens first)
PAGES = (
    ("on_time", "Are we on time?", ""),
    ("holding_up", "What is holding us up?", "holding-up"),
    ("rush", "Can we take a rush order?", "rush"),
    ("ship", "When will it ship?", "ship"),
    ("press", "What runs next here?", "press"),
    ("screens", "Which screens next?", "screens"),
    ("floor", "How does the floor stand?", "floor"),
    ("today", "What do I do today?", "today"),
    ("orders", "Orders and people", "orders"),
    ("holds", "What must stay put?", "stay-put"),
    ("new_plan", "Make a new plan", "new-plan"),
    ("papers", "What goes on paper?", "paper"),
)


def main() -> None:
    """Lay out the frame and run the chosen page."""
    st.set_page_config(page_title="Pressweek", layout="wide")
    pages = [
        st.Page(VIEWS / f"{name}.py", title=title, url_path=address or None, default=not address)
        for name, title, address in PAGES
    ]
    is_let_in = access.is_let_in()
    chosen = st.navigation(pages, position="sidebar" if is_let_in else "hidden")
    if not is_let_in:
        access.ask()
        return
    st.title(chosen.title, anchor=False)
    seen = state.look()
    if isinstance(seen, state.Current):
        plan_line.plan_line(seen)
        states.half_done(seen)
    try:
        chosen.run()
    except OSError as fault:  # a full disk, a folder nobody may write to
        states.not_saved(fault)


if __name__ == "__main__":
    main()
