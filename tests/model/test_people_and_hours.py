"""People, open hours and overtime in the model, on both sides of their boundaries."""

from __future__ import annotations

from dataclasses import replace

from scheduler.domain.plan import Plan
from scheduler.domain.week import SetUpMinutes, Week
from scheduler.model.calendar_rules import inside_open_hours, overtime_is_nested
from scheduler.model.people_rules import people_suffice
from scheduler.model.press_rules import print_follows_set_up, print_takes_its_time
from tests import builders as b
from tests.model.asserting import allowed, refused, terms_cents

CREW = (("print", 1),)


def two_presses(*people: object, **more: object) -> Week:
    """Two runs on two presses, one printer each while printing."""
    presses = [b.press_line("P1", run_crew=CREW), b.press_line("P2", run_crew=CREW)]
    runs = [b.run("r1"), b.run("r2", choices=[b.choice("P2")])]
    return b.week(runs=runs, presses=presses, people=list(people), **more)


def test_one_printer_prints_one_run_after_the_other() -> None:
    """Two prints with one printer may touch and may not overlap; with two printers they may."""
    at_once = b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=59))
    allowed(two_presses(b.person()), b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=60)))
    refused(people_suffice, two_presses(b.person()), at_once)
    allowed(two_presses(b.person(), b.person("Ben")), at_once)


def test_nobody_is_asked_for_where_the_week_names_nobody() -> None:
    """Without people in the week the rule is off."""
    allowed(two_presses(), b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2")))


def test_two_who_can_do_the_same_two_things_are_counted_once() -> None:
    """One who prints and catches beside one who catches only fill two posts, not printing twice."""
    everyone = [b.person(roles=("print", "catch")), b.person("Ben", roles=("catch",))]
    for crew, fits in (((("print", 1), ("catch", 1)), True), ((("print", 2),), False), ((("catch", 2),), True)):
        week = b.week(presses=[b.press_line(run_crew=crew)], people=everyone)
        if fits:
            allowed(week, b.plan(b.planned_run()))
        else:
            refused(people_suffice, week, b.plan(b.planned_run()))


def test_people_run_the_presses_they_can() -> None:
    """Two printers of one press cannot run the other."""
    plan = b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2"))
    allowed(two_presses(b.person(press_ids=("P1",)), b.person("Ben", press_ids=("P2",))), plan)
    refused(people_suffice, two_presses(b.person(press_ids=("P1",)), b.person("Ben", press_ids=("P1",))), plan)


def test_people_are_there_in_their_own_hours() -> None:
    """A print ends by the minute its only printer leaves."""
    week = b.week(presses=[b.press_line(run_crew=CREW)], people=[b.person(calendar=b.hours((0, 100)))])
    allowed(week, b.plan(b.planned_run(at=40)))
    refused(people_suffice, week, b.plan(b.planned_run(at=41)))


def test_booked_people_are_not_there_for_anything_else() -> None:
    """Coating takes the one who burns; a burn is over when it starts."""
    week = b.week(
        runs=[b.run(set_id="s1")],
        sets=[b.screen_set()],
        frames=[b.frame_stock()],
        screen_room=b.screen_room(crew=(("screens", 1),), dry_min=0),
        people=[b.person(roles=("screens",))],
        reservations=[b.reservation(start=100, end=160)],
    )
    early = replace(b.planned_burn(70, dry=0), tape_start_tau=160, tape_end_tau=170)
    allowed(week, b.plan(b.planned_run(at=200, burn=early)))
    late = replace(b.planned_burn(71, dry=0), tape_start_tau=160, tape_end_tau=170)
    refused(people_suffice, week, b.plan(b.planned_run(at=200, burn=late)))
    taped = replace(b.planned_burn(70, dry=0), tape_start_tau=159, tape_end_tau=169)
    refused(people_suffice, week, b.plan(b.planned_run(at=200, burn=taped)))


def test_a_paused_run_releases_its_people() -> None:
    """While one press breaks, its printer runs the other press, for that long and no minute longer."""
    presses = [
        b.press_line("P1", run_crew=CREW, calendar=b.every_day(breaks=[(60, 60)])),
        b.press_line("P2", run_crew=CREW),
    ]
    runs = [b.run("r1", choices=[b.choice(print_min=90)]), b.run("r2", choices=[b.choice("P2")])]
    week = b.week(runs=runs, presses=presses, people=[b.person()])
    pausing = b.planned_run("r1", printing=150)
    allowed(week, b.plan(pausing, b.planned_run("r2", press_id="P2", at=60)))
    refused(people_suffice, week, b.plan(pausing, b.planned_run("r2", press_id="P2", at=61)))
    refused(people_suffice, week, b.plan(pausing, b.planned_run("r2", press_id="P2", at=59)))


def test_people_of_an_evening_are_there_once_it_is_bought() -> None:
    """A print into the evening needs the evening of press and printer."""
    evening = b.hours((0, 480), (480, 540, "late Mon"), (540, 1080))
    day = b.hours((0, 480), (540, 1080))
    plan = b.plan(b.planned_run(at=450), overtime=["late Mon"])
    for calendar, fits in ((evening, True), (day, False)):
        week = b.week(
            presses=[b.press_line(run_crew=CREW, calendar=evening)],
            people=[b.person(calendar=calendar)],
            overtime=[b.overtime()],
        )
        if fits:
            allowed(week, plan)
        else:
            refused(people_suffice, week, plan)
        terms = terms_cents(week, b.plan(b.planned_run(at=0), overtime=["late Mon"]))
        assert terms is not None
        assert terms["overtime"] == 5_000


def test_work_starts_in_an_open_minute_and_ends_after_one() -> None:
    """A set-up starts at opening or after, a print may end at closing; nothing starts at closing."""
    week = b.week(presses=[b.press_line(calendar=b.hours((0, 100), (200, 540)))])
    allowed(week, b.plan(b.planned_run(at=40)))
    allowed(week, b.plan(b.planned_run(at=200)))
    refused(inside_open_hours, week, b.plan(b.planned_run(at=100)), print_follows_set_up, print_takes_its_time)
    refused(inside_open_hours, week, b.plan(b.planned_run(at=199)), print_follows_set_up, print_takes_its_time)


def test_a_set_up_of_no_minutes_starts_in_an_open_minute_too() -> None:
    """Where nothing is set up, set-up and print start together, in an open minute."""
    press = b.press_line(calendar=b.hours((0, 100), (200, 540)), set_up=SetUpMinutes())
    week = b.week(presses=[press])
    early = b.planned_run(at=100, print_start_tau=200, print_end_tau=260)
    assert terms_cents(week, b.plan(early)) is None


def test_an_evening_is_open_once_it_is_bought() -> None:
    """Nothing is worked in an evening that is not bought."""
    press = b.press_line(calendar=b.hours((0, 480), (480, 540, "late Mon"), (540, 1080)))
    week = b.week(presses=[press], overtime=[b.overtime()])
    allowed(week, b.plan(b.planned_run(at=480), overtime=["late Mon"]))
    assert terms_cents(week, b.plan(b.planned_run(at=480))) is None
    assert terms_cents(week, b.plan(b.planned_run(at=0), overtime=["no such evening"])) is None


def test_overtime_is_bought_in_its_order() -> None:
    """A second evening needs the first, if it says so."""
    blocks = [b.overtime("Mon"), b.overtime("Tue", start=1020, end=1080, after="Mon")]
    week = b.week(overtime=blocks)
    allowed(week, b.plan(b.planned_run(), overtime=["Mon", "Tue"]))
    allowed(week, b.plan(b.planned_run(), overtime=["Mon"]))
    refused(overtime_is_nested, week, b.plan(b.planned_run(), overtime=["Tue"]))


def led_week(lead_covers: int) -> Week:
    """Three presses that ask for a lead while they print, and one lead who may watch so many of them."""
    return b.week(
        runs=[b.run(f"r{n}", choices=[b.choice(f"P{n}")]) for n in (1, 2, 3)],
        presses=[b.press_line(f"P{n}", run_crew=(("lead", 1),)) for n in (1, 2, 3)],
        people=[b.person("Lea", roles=("lead",))],
        lead_covers=lead_covers,
    )


def test_a_lead_watches_as_many_presses_as_the_shop_says() -> None:
    """With two presses a lead the third waits for the minute one of them is done; with three it does not."""

    def starting(third: int) -> Plan:
        return b.plan(*(b.planned_run(f"r{n}", press_id=f"P{n}", at=at) for n, at in ((1, 0), (2, 0), (3, third))))

    allowed(led_week(2), starting(60))
    refused(people_suffice, led_week(2), starting(59))
    allowed(led_week(3), starting(0))
    refused(people_suffice, led_week(1), starting(60))


def test_who_watches_a_press_does_not_print_meanwhile() -> None:
    """One press watched takes a lead whole: their other work waits until it is done."""
    presses = [b.press_line("P1", run_crew=(("lead", 1),)), b.press_line("P2", run_crew=CREW)]
    runs = [b.run("r1"), b.run("r2", choices=[b.choice("P2")])]
    week = b.week(runs=runs, presses=presses, people=[b.person("Lea", roles=("lead", "print"))], lead_covers=2)
    allowed(week, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=60)))
    refused(people_suffice, week, b.plan(b.planned_run("r1"), b.planned_run("r2", press_id="P2", at=59)))
