"""Rules of people and hours, on both sides of their boundaries."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from itertools import product

from scheduler.domain.plan import Plan
from scheduler.domain.week import Person, Week
from scheduler.review.people_rules import inside_open_hours, overtime_is_nested, people_suffice
from tests import builders as b
from tests.review.asserting import broken, kept

PRINT_AND_CATCH = (("print", 1), ("catch", 1))


def test_one_person_prints_one_run_at_a_time() -> None:
    """A second print at the same minute needs a second person."""
    presses = [b.press_line("P1", run_crew=(("print", 1),)), b.press_line("P2", run_crew=(("print", 1),))]
    week = b.week(runs=[b.run("r1"), b.run("r2", choices=[b.choice("P2")])], presses=presses, people=[b.person("Ana")])
    kept(people_suffice, week, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=60)))
    found = broken(people_suffice, week, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=59)))
    assert found.message == "2 people needed Mon 2 Mar 08:59 (print at P1, print at P2), 1 there who can"
    two = replace(week, people=(b.person("Ana"), b.person("Ben")))
    kept(people_suffice, two, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=30)))


def test_two_people_are_not_enough_if_both_can_only_do_the_same() -> None:
    """Every subset of posts needs as many people who can fill it: counting heads is not enough."""
    week = b.week(presses=[b.press_line(run_crew=PRINT_AND_CATCH)])
    both_can = replace(week, people=(b.person("Ana", roles=["print", "catch"]), b.person("Ben", roles=["catch"])))
    kept(people_suffice, both_can, b.plan(b.planned_run()))
    both_catch = replace(week, people=(b.person("Ana", roles=["catch"]), b.person("Ben", roles=["catch"])))
    found = broken(people_suffice, both_catch, b.plan(b.planned_run()))
    assert found.message == "1 person needed Mon 2 Mar 08:00 (print at P1), 0 there who can"


def test_somebody_moves_up_so_that_everybody_fits() -> None:
    """A filling is found even where the first person asked must make way, twice over."""
    week = b.week(
        presses=[b.press_line(run_crew=(("print", 1), ("catch", 1), ("pack", 1)))],
        people=[
            b.person("Ana", roles=["print", "catch"]),
            b.person("Ben", roles=["catch", "pack"]),
            b.person("Cho", roles=["print"]),
        ],
    )
    kept(people_suffice, week, b.plan(b.planned_run()))


def test_people_work_their_own_hours_and_presses() -> None:
    """Somebody who has gone home, or cannot run the press, does not count."""
    at_p1 = b.week(presses=[b.press_line(run_crew=(("print", 1),))])
    until_noon = replace(at_p1, people=(b.person(calendar=b.hours((0, 240))),))
    kept(people_suffice, until_noon, b.plan(b.planned_run(at=180)))
    found = broken(people_suffice, until_noon, b.plan(b.planned_run(at=181)))
    assert found.at_tau == 240
    kept(people_suffice, replace(at_p1, people=(b.person(press_ids=["P1"]),)), b.plan(b.planned_run()))
    broken(people_suffice, replace(at_p1, people=(b.person(press_ids=["P2"]),)), b.plan(b.planned_run()))


def test_two_people_may_hand_over_in_the_middle_of_a_print() -> None:
    """A print of one post goes on when the next person comes as the first leaves."""
    people = [b.person("Ana", calendar=b.hours((0, 240))), b.person("Ben", calendar=b.hours((240, 540)))]
    week = b.week(presses=[b.press_line(run_crew=(("print", 1),))], people=people)
    kept(people_suffice, week, b.plan(b.planned_run(at=210)))


def test_people_are_there_in_overtime_that_is_bought() -> None:
    """An evening needs people who stay for it."""
    axis = b.clock(day_min=600)
    evening = b.hours((0, 540), (540, 600, "late Mon"), on=axis)
    press = b.press_line(run_crew=(("print", 1),), calendar=evening)
    plan = b.plan(b.planned_run(at=520), overtime=["late Mon"])
    week = b.week(clock=axis, presses=[press], overtime=[b.overtime(start=540, end=600)])
    kept(people_suffice, replace(week, people=(b.person(calendar=evening),)), plan)
    broken(people_suffice, replace(week, people=(b.person(calendar=b.hours((0, 540), on=axis)),)), plan)


def test_a_pause_lets_people_go() -> None:
    """While a press is closed nobody is demanded there."""
    runs = [b.run("r1", choices=[b.choice("P1")]), b.run("r2", choices=[b.choice("P2", print_min=30)])]
    presses = [
        b.press_line("P1", run_crew=(("print", 1),), calendar=b.every_day(breaks=[(240, 30)])),
        b.press_line("P2", run_crew=(("print", 1),)),
    ]
    week = b.week(runs=runs, presses=presses, people=[b.person()])
    paused = b.planned_run("r1", at=210, printing=90)
    kept(people_suffice, week, b.plan(paused, b.planned_run("r2", press_id="P2", at=240, printing=30)))
    broken(people_suffice, week, b.plan(paused, b.planned_run("r2", press_id="P2", at=241, printing=30)))


def test_every_kind_of_work_needs_its_people() -> None:
    """Staging, set-up, printing, burning, taping, packing and booked coating each ask for their own role."""
    week = b.week(
        runs=[b.run(set_id="s1")],
        orders=[b.order_due(finish_min=20)],
        presses=[b.press_line(set_up_crew=(("set up", 1),), run_crew=(("print", 1),))],
        sets=[b.screen_set()],
        screen_room=b.screen_room(crew=(("screens", 1),)),
        staging=b.floor_line(minutes=10, crew=(("stage", 1),)),
        finishing=b.floor_line(crew=(("pack", 1),)),
        reservations=[b.reservation("coat")],
    )
    run = b.planned_run(at=110, set_up=5, stage=(100, 110), burn=b.planned_burn(0))
    plan = b.plan(run, orders=[b.planned_order(start=175, packed=195)])
    roles = {"set up": 110, "print": 115, "screens": 0, "stage": 100, "pack": 175, "coat": 480}
    everyone = replace(week, people=(b.person(roles=roles),))
    kept(people_suffice, everyone, plan)
    for missing, at in roles.items():
        rest = b.person(roles=set(roles) - {missing})
        found = broken(people_suffice, replace(week, people=(rest,)), plan)
        assert found.at_tau == at, missing
        at_press = "P1" if missing in ("set up", "print") else None
        run_id, order_id = {"pack": (None, "or1"), "coat": (None, None)}.get(missing, ("r1", None))
        assert (found.run_id, found.order_id, found.press_id) == (run_id, order_id, at_press)
    tape_only = replace(week, people=(b.person(roles=roles, calendar=b.hours((0, 90), (100, 540))),))
    found = broken(people_suffice, tape_only, plan)
    assert found.at_tau == 90


def test_booked_people_are_not_there_for_anything_else() -> None:
    """Coating booked by the calendar takes its person away from the press."""
    week = b.week(
        presses=[b.press_line(run_crew=(("print", 1),))],
        people=[b.person(roles=["print", "screens"])],
        reservations=[b.reservation("screens", start=480, end=540)],
    )
    kept(people_suffice, week, b.plan(b.planned_run(at=420)))
    broken(people_suffice, week, b.plan(b.planned_run(at=421)))


def test_a_week_without_names_asks_for_nobody() -> None:
    """Where the shop names no people, people are no limit."""
    kept(people_suffice, b.week(presses=[b.press_line(run_crew=PRINT_AND_CATCH)]), b.plan(b.planned_run()))


def test_work_starts_and_ends_in_open_minutes() -> None:
    """The first and last minute of a print are open ones."""
    week = b.week(presses=[b.press_line(calendar=b.every_day(breaks=[(240, 30)]))])
    kept(inside_open_hours, week, b.plan(b.planned_run(at=180)))
    kept(inside_open_hours, week, b.plan(b.planned_run(at=270)))
    found = broken(inside_open_hours, week, b.plan(b.planned_run(at=181)))
    assert found.message == "printing of or1 front ends Mon 2 Mar 12:01, outside open hours"
    broken(inside_open_hours, week, b.plan(b.planned_run(at=269)))
    # All its minutes are worked before the break, yet it is said to end with the break.
    broken(inside_open_hours, week, b.plan(b.planned_run(at=180, printing=90)))


def test_a_set_up_of_no_minutes_still_starts_in_an_open_one() -> None:
    """A run that needs no set-up is put on a press that is open."""
    week = b.week(presses=[b.press_line(calendar=b.every_day(breaks=[(240, 30)]))])
    waits = replace(b.planned_run(at=270), set_up_start_tau=240, set_up_end_tau=240)
    broken(inside_open_hours, week, b.plan(waits))
    kept(inside_open_hours, week, b.plan(b.planned_run(at=270)))


def test_nothing_lies_off_the_week() -> None:
    """The week is used from its first to its last open minute, and not beyond."""
    kept(inside_open_hours, b.week(), b.plan(b.planned_run(at=0)))
    kept(inside_open_hours, b.week(), b.plan(b.planned_run(at=2640)))
    found = broken(inside_open_hours, b.week(), b.plan(b.planned_run(at=-1)))
    assert "1 min before the week opens" in found.message
    found = broken(inside_open_hours, b.week(), b.plan(b.planned_run(at=2641)))
    assert "1 min after the week's last open minute" in found.message
    late = b.plan(b.planned_run(), orders=[b.planned_order(packed=2701)])
    broken(inside_open_hours, b.week(), late)


def test_every_activity_keeps_its_own_hours() -> None:
    """Staging, burning, taping and packing start and end in the open minutes of their own crews."""
    lunch = b.every_day(breaks=[(240, 30)])
    week = b.week(
        runs=[b.run(set_id="s1")],
        orders=[b.order_due(finish_min=20)],
        sets=[b.screen_set()],
        screen_room=b.screen_room(calendar=lunch),
        staging=b.floor_line(minutes=10, calendar=lunch),
        finishing=b.floor_line(calendar=lunch),
    )
    run = b.planned_run(at=110, stage=(100, 110), burn=b.planned_burn(0))
    packing = [b.planned_order(start=175, packed=195)]
    kept(inside_open_hours, week, b.plan(run, orders=packing))
    burn = b.planned_burn(0)
    for wrong in (
        replace(run, stage_start_tau=250),
        replace(run, stage_end_tau=250),
        replace(run, burn=replace(burn, start_tau=250)),
        replace(run, burn=replace(burn, end_tau=250)),
        replace(run, burn=replace(burn, tape_start_tau=250)),
        replace(run, burn=replace(burn, tape_end_tau=250)),
        replace(run, burn=replace(burn, dry_tau=-5)),
    ):
        broken(inside_open_hours, week, b.plan(wrong, orders=packing))
    broken(inside_open_hours, week, b.plan(run, orders=[b.planned_order(start=250, packed=290)]))


def test_work_in_an_evening_needs_the_evening_bought() -> None:
    """Overtime is open once it is bought."""
    axis = b.clock(day_min=600)
    press = b.press_line(calendar=b.hours((0, 540), (540, 600, "late Mon"), (600, 1140), on=axis))
    week = b.week(clock=axis, presses=[press], overtime=[b.overtime(start=540, end=600)])
    kept(inside_open_hours, week, b.plan(b.planned_run(at=520), overtime=["late Mon"]))
    broken(inside_open_hours, week, b.plan(b.planned_run(at=520)))


def test_overtime_is_bought_from_what_is_on_offer_and_in_its_order() -> None:
    """A second hour needs the first; a block nobody offers, or one bought twice, is refused."""
    week = b.week(overtime=[b.overtime("first"), b.overtime("second", after="first")])
    kept(overtime_is_nested, week, b.plan(overtime=["first", "second"]))
    kept(overtime_is_nested, week, b.plan(overtime=["first"]))
    found = broken(overtime_is_nested, week, b.plan(overtime=["second"]))
    assert found.message == "overtime second is bought without first before it"
    broken(overtime_is_nested, week, b.plan(overtime=["no such block"]))
    headless = b.week(overtime=[b.overtime("second", after="first")])
    found = broken(overtime_is_nested, headless, b.plan(overtime=["second"]))
    assert found.message == "overtime second is bought without first before it"
    broken(overtime_is_nested, week, b.plan(overtime=["first", "first"]))


def led_week(*people: Person, lead_covers: int = 2, presses: int = 3) -> Week:
    """Presses that each ask for a lead while they print, one run on each."""
    names = [str(number) for number in range(1, presses + 1)]
    return b.week(
        runs=[b.run(f"r{one}", choices=[b.choice(f"P{one}")]) for one in names],
        presses=[b.press_line(f"P{one}", run_crew=(("lead", 1),)) for one in names],
        people=people,
        lead_covers=lead_covers,
    )


def led_plan(*starts: int) -> Plan:
    """Run 1 on press 1 from the first of these minutes on, and so forth."""
    return b.plan(*(b.planned_run(f"r{n}", press_id=f"P{n}", at=at) for n, at in enumerate(starts, start=1)))


def test_a_lead_watches_as_many_presses_as_the_shop_says() -> None:
    """Two presses at once for one lead where the shop says two; the third waits for the minute one of them is done."""
    lea = b.person("Lea", roles=["lead"])
    kept(people_suffice, led_week(lea), led_plan(0, 0, 60))
    found = broken(people_suffice, led_week(lea), led_plan(0, 0, 59))
    assert found.message == "2 people needed Mon 2 Mar 08:59 (lead at P1, lead at P2, lead at P3), 1 there who can"
    kept(people_suffice, led_week(lea, lead_covers=3), led_plan(0, 0, 0))
    broken(people_suffice, led_week(lea, lead_covers=1), led_plan(0, 0, 60))


def test_who_watches_presses_does_nothing_else() -> None:
    """A lead who also packs does one or the other; one press watched takes them whole."""
    week = replace(
        led_week(b.person("Lea", roles=["lead", "pack"]), presses=1),
        orders=(b.order_due(finish_min=30),),
        finishing=b.floor_line(crew=(("pack", 1),)),
    )
    printed = b.planned_run("r1", press_id="P1")
    after = b.plan(printed, orders=[b.planned_order(start=60, packed=90)])
    early = b.plan(printed, orders=[b.planned_order(start=59, packed=89)])
    kept(people_suffice, week, after)
    found = broken(people_suffice, week, early)
    assert found.message == "2 people needed Mon 2 Mar 08:59 (lead at P1, pack), 1 there who can"
    kept(people_suffice, replace(week, people=(*week.people, b.person("Pam", roles=["pack"]))), early)


def test_leads_watch_the_presses_they_know() -> None:
    """Two leads for three presses are enough only where the presses each knows come to three."""
    knows = {"Lea": ["P1", "P2"], "Max": ["P2", "P3"], "Ann": ["P3"]}
    leads = {name: b.person(name, roles=["lead"], press_ids=presses) for name, presses in knows.items()}
    kept(people_suffice, led_week(leads["Lea"], leads["Max"]), led_plan(0, 0, 0))
    broken(people_suffice, led_week(leads["Max"], leads["Ann"]), led_plan(0, 0, 0))


def test_leading_is_found_by_trying_everything() -> None:
    """On 300 small shops the check says what trying every hand for every post says."""
    rng = random.Random(7)
    seen: Counter[bool] = Counter()
    for _ in range(300):
        people = [
            b.person(
                f"p{number}",
                roles=rng.sample(["lead", "print", "catch"], rng.randint(1, 3)),
                press_ids=rng.choice([(), (), ("P1", "P2"), ("P3",)]),
            )
            for number in range(rng.randint(2, 4))
        ]
        crews = [
            tuple((role, 1) for role in rng.sample(["lead", "print", "catch"], rng.choice([1, 1, 2]))) for _ in "123"
        ]
        week = led_week(*people, lead_covers=rng.choice([1, 2, 3]))
        presses = tuple(replace(one, run_crew=crew) for one, crew in zip(week.presses, crews, strict=True))
        week = replace(week, presses=presses)
        posts = [(role, one.press_id) for one in presses for role, _ in one.run_crew]
        fits = any(
            all(who.can(*post) for who, post in zip(chosen, posts, strict=True))
            and all(
                chosen.count(who) == 1
                or (
                    chosen.count(who) <= week.lead_covers
                    and all(post[0] == "lead" for one, post in zip(chosen, posts, strict=True) if one == who)
                )
                for who in chosen
            )
            for chosen in product(people, repeat=len(posts))
        )
        assert (not people_suffice(week, led_plan(0, 0, 0))) is fits
        seen[fits] += 1
    assert min(seen[True], seen[False]) > 60
