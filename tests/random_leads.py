"""Leads for random weeks, drawn apart so that weeks without them stay as they are."""

from __future__ import annotations

import random
from dataclasses import replace

from scheduler.domain.leads import LEAD
from scheduler.domain.week import Person, Week


def with_leads(week: Week, rng: random.Random) -> Week:
    """In some weeks of several presses that name people, presses ask for a lead, who may watch one to three of them.

    There is always one who leads and can go everywhere; others lead beside other work, or at some presses only.
    """
    if len(week.presses) < 2 or not week.people or rng.random() < 0.6:
        return week
    while_setting_up = rng.random() < 0.5
    presses = tuple(
        replace(
            press,
            run_crew=(*press.run_crew, (LEAD, 1)),
            set_up_crew=(*press.set_up_crew, (LEAD, 1)) if while_setting_up else press.set_up_crew,
        )
        if number == 0 or rng.random() < 0.8
        else press
        for number, press in enumerate(week.presses)
    )
    first = week.people[0]
    leads = [Person(person_id="lead", name="Lead", roles=_roles(rng), press_ids=frozenset(), calendar=first.calendar)]
    if rng.random() < 0.3:
        only = frozenset({week.presses[0].press_id})
        leads.append(replace(leads[0], person_id="lead 2", name="Lead 2", roles=frozenset({LEAD}), press_ids=only))
    if rng.random() < 0.4:
        first = replace(first, roles=first.roles | {LEAD})
    people = (first, *week.people[1:], *leads)
    return replace(week, presses=presses, people=people, lead_covers=rng.choice([1, 2, 2, 3]))


def _roles(rng: random.Random) -> frozenset[str]:
    return frozenset({LEAD} if rng.random() < 0.5 else {LEAD, "catch"})
