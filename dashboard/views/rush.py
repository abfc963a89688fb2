"""Can we take a rush order? Tried on the plan in use while the client waits; nothing changes before it is taken."""

from __future__ import annotations

import streamlit as st

from dashboard import jobs, questions, state
from dashboard.parts import answers, rush_form, states
from dashboard.parts.table import table
from dashboard.parts.told import show_told, tell
from dashboard.parts.words import counted, plain
from scheduler import api
from scheduler.domain.answers import Answers
from scheduler.errors import InputError

seen = state.current()
if seen.plan is None:
    states.no_plan()
if seen.changes or seen.now is None:
    states.nothing_here(
        "The files have changed since the plan in use. Open **Make a new plan** first: a rush is tried on a fresh plan."
    )
currency = seen.inputs.shop.money.currency
OWN, ANEW = "own-question", "asks-anew"
own = st.session_state.get(OWN)
asked = None if st.session_state.get(ANEW) else questions.open_question(seen.folder, own)


def ask() -> None:
    """The two forms."""
    tabs = st.tabs(["A rush order", "Something else happens"])
    with tabs[0]:
        rush = rush_form.rush_form(seen)
    with tabs[1]:
        other = rush_form.surprise_form(seen)
    sent = rush or other
    if sent is None:
        return
    name, tables = sent
    if not tables:
        st.error("Say which inks are printed: on the front, on the back, or both.")
        return
    now = seen.week.clock.starts_at(seen.now_tau) if seen.now_tau else None
    try:
        st.session_state[OWN] = questions.ask(seen.folder, seen.inputs, name, tables, now).folder
        st.session_state.pop(ANEW, None)
    except InputError as fault:
        st.error("It cannot be tried like this.")
        states.faults(fault.problems)
        return
    st.rerun()


@st.fragment(run_every=1.0 if asked is not None and asked[1].is_working else None)
def watch() -> None:
    """Answers as they come."""
    now = questions.open_question(seen.folder, own)
    if now is None or not now[1].is_working:
        st.rerun()
    if now[1].state == "waiting":
        waits = counted(questions.ahead(seen.folder, now[0]), "question")
        st.markdown(f"**{plain(now[0].name)}**: {waits} asked before it; it is tried as soon as they are through.")
        something_else(now[0])
        return
    found = len(now[1].trace)
    st.markdown(
        f"**{plain(now[0].name)}**: trying it on the plan in use, for {questions.SECONDS:g} seconds at most. "
        + (f"{counted(found, 'answer')} so far, better ones are looked for." if found else "")
    )
    if st.button("That will do", disabled=not found or now[1].state == "stopping"):
        jobs.ask_to_stop(now[0].folder, then=jobs.COMPARE)
        st.rerun(scope="fragment")
    something_else(now[0])


def something_else(question: questions.Question) -> None:
    """Somebody else asked this one: whoever has a question of their own need not wait for it."""
    if question.folder != own and st.button("Ask something else"):
        st.session_state[ANEW] = True
        st.rerun()


def answered(question: questions.Question) -> None:
    """The sentence, the ways side by side, each with who turns late and who moves."""
    found: Answers = questions.answers_of(question)
    sentence, _ = api.answers_report(found, currency)
    st.markdown(f"{plain(question.name)}:")
    st.subheader(plain(sentence), anchor=False)
    listed = answers.ways(found, currency)
    if listed:
        table([way.summary for way in listed])
    for way in listed:
        with st.expander(f"{way.title}: who is ready when, who moves", key=f"way {way.answer.kind}"):
            if way.late:
                table(list(way.late))
            table(list(way.moved)) if way.moved else st.write("No run moves.")
            if st.button(f"Take it: {way.title.lower()}", key=f"take {way.answer.kind}"):
                take(question, way)
    for told in found.told:
        st.write(plain(f"Assumed: {told}."))
    if st.button("Forget it"):
        questions.forget(seen.folder, question)
        st.rerun()
    something_else(question)


def take(question: questions.Question, way: answers.Way) -> None:
    """Put it into use, or say why not."""
    try:
        questions.take(seen.folder, seen.inputs, question, way.answer)
    except InputError as fault:
        st.error("Not taken: nothing was changed.")
        states.faults(fault.problems)
        return
    tell("rush", f"Taken: {way.title}. The plan is in use; every page shows it.")
    st.rerun()


def take_back() -> None:
    """What was taken can be taken back."""
    if not questions.can_take_back(seen.folder):
        return
    st.write("Something was taken on this page and stands with the week.")
    if st.button("Take the last one back"):
        try:
            questions.take_back(seen.folder)
        except InputError as fault:
            states.faults(fault.problems)
            return
        tell("rush", "Taken back. The week and its plan are as they were before.")
        st.rerun()


show_told("rush")
if asked is None:
    ask()
    take_back()
elif asked[1].is_working:
    watch()
elif asked[1].state == "done":
    answered(asked[0])
else:
    st.error("Trying it ended without an answer. Nothing was changed.")
    st.code(asked[1].complaints[-4000:], language=None)
    if st.button("Put this aside"):
        questions.forget(seen.folder, asked[0])
        st.rerun()
