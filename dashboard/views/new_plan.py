"""Make a new plan: start, watch the best so far, stop early, old and new side by side, use it or keep the old one."""

from __future__ import annotations

import streamlit as st

from dashboard import jobs, state
from dashboard.charts.trace import trace_figure
from dashboard.parts import side_by_side, states
from dashboard.parts.table import table
from dashboard.parts.words import counted, money, plain

SECONDS = {"20 seconds": 20, "1 minute": 60, "3 minutes": 180, "10 minutes": 600}

seen = state.current()
pending = jobs.in_work(seen.folder)
currency = seen.inputs.shop.money.currency


def start() -> None:
    """What the plan would be made from, and the button that starts it."""
    if seen.now is None:
        st.error("The files hold faults; mend them first. The plan in use stays as it is.")
        states.faults(seen.faults)
        return
    asked = seen.now.workload.week
    if not asked.runs:
        st.info("Nothing to plan: type orders on **Orders and people**, or bring your own spreadsheet there.")
        states.leads_to("orders", "Orders and people")
        return
    st.markdown(f"**{counted(len(asked.runs), 'run')}** of {counted(len(asked.orders), 'order')} to plan.")
    if seen.plan is not None:
        with st.expander(
            f"{counted(len(seen.changes), 'change')} since the plan in use".capitalize(), expanded=bool(seen.changes)
        ):
            for change in seen.changes[:40]:
                st.text(change)
            if not seen.changes:
                st.write("The files say what they said when it was made.")
    if asked.not_planned:
        with st.expander(f"{counted(len({one.order_id for one in asked.not_planned}), 'order')} cannot be planned yet"):
            table([{"order": one.order_id, "why": "; ".join(one.reasons)} for one in asked.not_planned])
    with st.form("start", border=False):
        how_long = st.selectbox("How long to look for a better plan", list(SECONDS))
        if st.form_submit_button("Start planning", type="primary"):
            jobs.start(seen.folder, seconds=SECONDS[how_long], workers=2)
            st.rerun()


@st.fragment(run_every=1.0 if pending is not None and pending.is_working else None)
def watch() -> None:
    """The best plan so far, while the search goes on."""
    now = jobs.in_work(seen.folder)
    if now is None or not now.is_working:
        st.rerun()
    if not now.trace:
        st.markdown("Looking for a first plan. The other pages stay usable meanwhile.")
    else:
        best = now.trace[-1]
        late = f"▲ {counted(best.late, 'order')} late" if best.late else "no order late"
        st.markdown(
            f"**Best plan so far: {money(best.cost_cents, currency)}, {late}.** "
            f"No plan can cost less than {money(best.limit_cents, currency)}. "
            f"It looks for {now.asked_seconds:g} seconds in all; the other pages stay usable meanwhile."
        )
        points = [(one.seconds, one.cost_cents, one.limit_cents) for one in now.trace]
        st.plotly_chart(
            trace_figure(points, best.seconds, currency),
            width="stretch",
            theme=None,
            config={"displayModeBar": False},
            key="trace",
            alt=f"The best plan so far costs {money(best.cost_cents, currency)}; "
            f"no plan can cost less than {money(best.limit_cents, currency)}.",
        )
    if now.state == "stopping":
        st.info("Stopping: the best plan so far is being checked and written.")
        return
    with st.container(horizontal=True):
        if st.button("Use the best so far", type="primary", disabled=not now.trace):
            jobs.ask_to_stop(now.folder, then=jobs.USE)
            st.rerun(scope="fragment")
        if st.button("Stop and compare"):
            jobs.ask_to_stop(now.folder, then=jobs.COMPARE)
            st.rerun(scope="fragment")


def decide(found: jobs.InWork) -> None:
    """Old and new side by side."""
    new = state.of_folder(found.folder)
    if new is None or new.plan is None:
        ended("The new plan cannot be read. Nothing was changed.", found)
        return
    if seen.plan_folder == found.folder:
        jobs.decide(seen.folder, takes_new=True)
        st.success("The new plan is in use.")
    if seen.plan is not None and seen.plan_folder != found.folder:
        st.markdown(f"**{side_by_side.opening(seen, new)}**")
    how_good(found)
    if seen.plan_folder != found.folder:
        with st.container(horizontal=True):
            if st.button("Use the new plan", type="primary"):
                jobs.decide(seen.folder, takes_new=True)
                st.rerun()
            if st.button("Keep the old one" if seen.plan is not None else "Do without it"):
                jobs.decide(seen.folder, takes_new=False)
                st.rerun()
    old = seen if seen.plan is not None and seen.plan_folder != found.folder else None
    table(side_by_side.figures(old, new))
    if old is not None:
        late, moved = side_by_side.late_rows(old, new), side_by_side.moved_rows(old, new)
        if late:
            st.subheader("Late in either", anchor=False)
            table(late)
        with st.expander(f"{counted(len(moved), 'run')} elsewhere or at another time"):
            table(moved) if moved else st.write("Every run stays where it is.")
    if seen.plan_folder == found.folder and st.button("Make another plan"):
        st.rerun()


def how_good(found: jobs.InWork) -> None:
    """How far from the cheapest plan possible, and what the due-date list would have cost."""
    told = found.outcome
    above = told["cents"] - told["limit"]
    lines = [
        "No plan can be cheaper."
        if above <= 0
        else f"At most {money(above, currency)} above the cheapest plan possible."
    ]
    if told.get("by_due_date_cents") is not None:
        more = told["by_due_date_cents"] - told["cents"]
        lines.append(
            f"Working the orders off by due date would cost {money(more, currency)} more, "
            f"with {counted(told['by_due_date_late'], 'order')} late."
        )
    if told.get("told"):
        lines.append(plain(told["told"]))
    st.markdown(" ".join(lines))


def ended(sentence: str, found: jobs.InWork) -> None:
    """Planning ended without a plan: say so, and what is known."""
    st.error(sentence)
    if found.complaints.strip():
        with st.expander("What the program said; please report it"):
            st.code(found.complaints[-4000:], language=None)
    if st.button("Put this aside"):
        jobs.decide(seen.folder, takes_new=False)
        st.rerun()


if pending is None:
    start()
elif pending.is_working:
    watch()
elif pending.state == "done":
    decide(pending)
elif pending.state == "none":
    ended(f"There is no plan: {pending.reason}. Nothing was changed.", pending)
else:
    ended("Planning ended without a result. Nothing was changed.", pending)
