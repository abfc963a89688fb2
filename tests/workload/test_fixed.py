"""What stays where it is."""

from __future__ import annotations

from datetime import datetime

import pytest

from scheduler.domain.orders import Announced, Imprint, Ink, Progress, WeekInputs
from scheduler.domain.shop import BurnedSet, Closure, NowOn, Shop
from scheduler.domain.week import AnnouncedRun, Fixing, SetUpMinutes, Week
from scheduler.errors import InputError
from scheduler.workload.build import build_workload
from tests.workload import shops


def _week(inputs: WeekInputs) -> Week:
    return build_workload(inputs).week


def _started(pieces_left: int = 40, *, press: str = "auto-1", location: str = "front", **more: object) -> Progress:
    known: dict[str, object] = {"shade": None, "started_at": shops.at(2, "07:00"), **more}
    return Progress(
        order_id="1",
        location=location,
        press_id=press,
        pieces_left=pieces_left,
        **known,  # type: ignore[arg-type]
    )


def test_a_started_run_is_first_on_its_press_with_what_is_left() -> None:
    """Forty of a hundred at 400 an hour are 6 minutes; set-up is what is left of it; garments and art are there."""
    lots = (shops.lot("navy", pieces=50, blanks_at=shops.at(4)), shops.lot("black", pieces=50, blanks_at=shops.at(4)))
    imprint = shops.imprint(lot_ids=("navy", "black"), art_at=shops.at(4))
    inputs = shops.week_inputs(lots=lots, imprints=(imprint,), progress=(_started(60, set_up_left_min=5),))
    week = _week(inputs)
    (run,) = week.runs
    assert [(part.lot_id, part.pieces) for part in run.parts] == [("navy", 10), ("black", 50)]
    assert run.choices[0].print_min == 9
    assert run.blanks_tau == 0
    assert week.fixings == (
        Fixing(run_id="1 front dark", kind="started", press_id="auto-1", set_up_start_tau=0, set_up_left_min=5),
    )


def test_finished_garments_are_no_part_of_a_started_run() -> None:
    """Parts are printed in order, so with 40 left only the second lot is."""
    lots = (shops.lot("navy", pieces=50), shops.lot("black", pieces=50))
    inputs = shops.week_inputs(
        lots=lots, imprints=(shops.imprint(lot_ids=("navy", "black")),), progress=(_started(40),)
    )
    assert [(part.lot_id, part.pieces) for part in _week(inputs).runs[0].parts] == [("black", 40)]


def test_a_started_run_begins_at_the_press_s_first_open_minute() -> None:
    """The press opens an hour after the shop: there it goes on."""
    shop = shops.shop(shops.press(hours=shops.hours("09:00", "17:00")))
    assert _week(shops.week_inputs(shop, progress=(_started(),))).fixings[0].set_up_start_tau == 60


def test_a_started_run_stays_on_a_press_it_would_not_fit() -> None:
    """It is there, whatever the order says: its only choice, with no more heads than the press has."""
    shop = shops.shop(shops.press("small", heads=2), shops.press())
    inputs = shops.week_inputs(shop, imprints=(shops.imprint(never=("small",)),), progress=(_started(press="small"),))
    (run,) = _week(inputs).runs
    assert [(choice.press_id, choice.heads_needed) for choice in run.choices] == [("small", 2)]


def test_a_started_run_s_screens_are_burned_and_off_the_rack() -> None:
    """They are on the press."""
    inputs = shops.week_inputs(shops.shop(screen_room=shops.room()), progress=(_started(),))
    assert _week(inputs).sets[0].is_burned_now


def test_a_run_printed_to_its_last_piece_is_no_run_any_more() -> None:
    """The front is done, the back is left; with both done there is nothing to plan."""
    imprints = (shops.imprint(), shops.imprint(location="back"))
    half = _week(shops.week_inputs(imprints=imprints, progress=(_started(0),)))
    assert [run.run_id for run in half.runs] == ["1 back dark"]
    assert half.orders[0].run_ids == ("1 back dark",)
    done = (_started(0), _started(0, location="back"))
    assert not _week(shops.week_inputs(imprints=imprints, progress=done)).orders


def test_a_started_run_of_an_order_that_waits_goes_on_alone() -> None:
    """The press is taken until it is printed; the order itself is not promised, packed or priced."""
    imprints = (shops.imprint(), shops.imprint(location="back", is_waiting_for_art=True))
    week = _week(shops.week_inputs(imprints=imprints, progress=(_started(),)))
    assert [run.run_id for run in week.runs] == ["1 front dark"]
    assert [one.kind for one in week.not_planned] == ["waiting"]
    (due,) = week.orders
    assert (due.late_cents, due.finish_min, due.cushion_cents) == (0, 0, 0)


def test_ink_of_a_started_run_that_cannot_be_rinsed_out_is_told() -> None:
    """Nine minutes before a stop are too few to rinse for ten: the run goes on, and the limit is lifted with a note."""
    imprint = shops.imprint(Ink(name="blue", family="water-based"))
    for stop, limit in (("08:09", None), ("08:10", 20)):
        press = shops.press(stated_pcs_h=60, set_up=SetUpMinutes(clean_light_min=10, clean_dark_min=10))
        shop = shops.shop(press, hours=shops.hours("08:00", "17:00", (stop, "09:00")))
        inputs = shops.week_inputs(shop, lots=(shops.lot(pieces=900),), imprints=(imprint,), progress=(_started(600),))
        workload = build_workload(inputs)
        assert workload.week.runs[0].idle_ok_min == limit
        assert any(one.code == "ink_stands" for one in workload.assumptions) is (limit is None)


@pytest.mark.parametrize(
    ("rows", "code"),
    [
        ((_started(location="sleeve"),), "no_such_run"),
        ((_started(), _started()), "no_such_run"),
        ((_started(press="auto-9"),), "no_such_press"),
        ((_started(), _started(location="back")), "two_on_a_press"),
        ((_started(location="both"),), "which_shade"),
    ],
)
def test_progress_that_makes_no_sense_is_a_fault(rows: tuple[Progress, ...], code: str) -> None:
    """No such run, told twice, no such press, two on one press, or light and dark left open."""
    lots = (shops.lot("navy"), shops.lot("ash", shade="light"))
    imprints = (
        shops.imprint(lot_ids=("navy",)),
        shops.imprint(location="back", lot_ids=("navy",)),
        shops.imprint(location="both", lot_ids=("navy", "ash")),
    )
    with pytest.raises(InputError) as caught:
        build_workload(shops.week_inputs(lots=lots, imprints=imprints, progress=rows))
    assert [problem.code for problem in caught.value.problems] == [code]


def test_one_design_started_on_two_presses_is_two_sets() -> None:
    """Dark on one press and light on the other at this moment: the second set is nobody else's."""
    lots = (shops.lot("navy"), shops.lot("ash", shade="light"))
    inputs = shops.week_inputs(
        shops.shop(shops.press("a"), shops.press("b"), screen_room=shops.room()),
        lots=lots,
        imprints=(shops.imprint(lot_ids=("navy", "ash")),),
        progress=(_started(press="a", shade="dark"), _started(press="b", shade="light")),
    )
    assert [run.set_id for run in _week(inputs).runs] == ["1 front", None]


def test_a_lock_holds_press_and_moment() -> None:
    """Wednesday 09:30 on auto-1, or the press alone, or the moment alone."""
    shop = shops.shop(shops.press(), shops.press("auto-2"))

    def fixed(**more: object) -> Fixing:
        (one,) = _week(shops.week_inputs(shop, imprints=(shops.imprint(**more),))).fixings  # type: ignore[arg-type]
        return one

    both = fixed(lock_press="auto-2", lock_at=shops.at(4, "09:30"))
    assert (both.kind, both.press_id, both.set_up_start_tau) == ("locked", "auto-2", 1080 + 90)
    assert fixed(lock_press="auto-2").set_up_start_tau is None
    assert fixed(lock_at=shops.at(4, "09:30")).press_id is None


def _clash(imprint: Imprint, shop: Shop | None = None, **more: object) -> str | None:
    """Why the lock cannot be kept; None if it can."""
    week = _week(shops.week_inputs(shop, imprints=(imprint,), **more))  # type: ignore[arg-type]
    if week.fixings:
        return None
    (told,) = week.not_planned
    assert told.kind == "clash"
    assert not week.runs
    return told.reasons[0]


def _locked(at: datetime, **more: object) -> Imprint:
    return shops.imprint(lock_press="auto-1", lock_at=at, **more)  # type: ignore[arg-type]


def test_locks_that_cannot_be_kept_are_clashes() -> None:
    """A press it does not fit, a closed hour, garments or screens that are not there yet."""
    assert _clash(
        shops.imprint(lock_press="auto-1", never=("auto-1",)), shops.shop(shops.press(), shops.press("b"))
    ) == ("locked to auto-1, which it does not fit")
    assert _clash(_locked(shops.at(7, "10:00"))) == (
        "fixed to start Sat 2026-03-07 10:00, when auto-1 cannot be worked"
    )
    assert _clash(_locked(shops.at(2, "17:00"))) is not None
    assert _clash(_locked(shops.at(2, "16:59"))) is None
    late = (shops.lot(blanks_at=shops.at(3, "10:00")),)
    assert _clash(_locked(shops.at(3, "09:59")), lots=late) == (
        "fixed to start Tue 2026-03-03 09:59, before its garments are in"
    )
    assert _clash(_locked(shops.at(3, "10:00")), lots=late) is None


def test_a_lock_must_leave_time_for_the_screens() -> None:
    """Three screens: 27 min to burn, 45 to dry, 6 to tape from 08:00 are 09:18; a hanging set needs none of it."""
    shop = shops.shop(screen_room=shops.room())
    assert _clash(_locked(shops.at(2, "09:17")), shop) == (
        "fixed to start Mon 2026-03-02 09:17; its screens cannot be ready before Mon 2026-03-02 09:18"
    )
    assert _clash(_locked(shops.at(2, "09:18")), shop) is None
    hanging = (BurnedSet(design_id="1 front", frames=()),)
    assert _clash(_locked(shops.at(2, "08:00")), shops.shop(screen_room=shops.room(), burned=hanging)) is None


def test_a_lock_must_leave_room_for_what_is_printed_first() -> None:
    """The back comes after a front whose garments arrive on Wednesday: it cannot be locked to Tuesday."""
    lots = (shops.lot(blanks_at=shops.at(4)),)
    front = shops.imprint(location="front")
    imprints = (front, _locked(shops.at(4, "08:00"), location="back", print_after=("front",)))
    told = _week(shops.week_inputs(lots=lots, imprints=imprints)).not_planned
    assert told[0].reasons == ("fixed to start Wed 2026-03-04 08:00, before 1 front dark can be printed",)
    later = (front, _locked(shops.at(4, "08:16"), location="back", print_after=("front",)))
    assert not _week(shops.week_inputs(lots=lots, imprints=later)).not_planned


def test_a_lock_must_leave_time_to_rinse_the_ink_out() -> None:
    """Water-based printing starts ten minutes before closing if it can be rinsed out in them, and not later."""
    ink, press = (
        Ink(name="blue", family="water-based"),
        shops.press(set_up=SetUpMinutes(clean_dark_min=10, clean_light_min=10)),
    )
    late = shops.imprint(ink, lock_press="auto-1", lock_at=shops.at(2, "16:51"))
    assert _clash(late, shops.shop(press)) == (
        "fixed to start Mon 2026-03-02 16:51, which leaves too little time on auto-1"
    )
    assert _clash(shops.imprint(ink, lock_press="auto-1", lock_at=shops.at(2, "16:50")), shops.shop(press)) is None
    assert _clash(_locked(shops.at(2, "16:51")), shops.shop(press)) is None


@pytest.mark.parametrize(("second_at", "clashes"), [("08:14", True), ("08:15", False)])
def test_two_locks_may_touch_but_not_overlap_on_a_press(second_at: str, clashes: bool) -> None:
    """A run of 15 minutes from 08:00 leaves the press free from 08:15."""
    orders = (shops.order("1"), shops.order("2"))
    lots = (shops.lot("a"), shops.lot("b", order_id="2"))
    imprints = (
        shops.imprint(lot_ids=("a",), lock_press="auto-1", lock_at=shops.at(2, "08:00")),
        shops.imprint(order_id="2", lot_ids=("b",), lock_press="auto-1", lock_at=shops.at(2, second_at)),
    )
    week = _week(shops.week_inputs(orders=orders, lots=lots, imprints=imprints))
    assert [one.order_id for one in week.not_planned] == (["2"] if clashes else [])
    if clashes:
        assert week.not_planned[0].reasons == (
            "fixed to start Mon 2026-03-02 08:14 on auto-1, where 1 front dark is fixed",
        )


def test_one_set_cannot_be_locked_to_two_presses_at_once() -> None:
    """The light run needs the dark run's screens."""
    lots = (shops.lot("navy"), shops.lot("ash", order_id="2", shade="light"))
    hanging = (BurnedSet(design_id="d", frames=()),)
    shop = shops.shop(shops.press("a"), shops.press("b"), screen_room=shops.room(), burned=hanging)
    imprints = (
        shops.imprint(design_id="d", lot_ids=("navy",), lock_press="a", lock_at=shops.at(3)),
        shops.imprint(design_id="d", order_id="2", lot_ids=("ash",), lock_press="b", lock_at=shops.at(3)),
    )
    week = _week(shops.week_inputs(shop, orders=(shops.order("1"), shops.order("2")), lots=lots, imprints=imprints))
    assert week.not_planned[0].reasons == (
        "fixed to start Tue 2026-03-03 08:00, when 1 front dark is fixed with the same screens",
    )


def test_a_lock_that_is_over_keeps_the_press_only() -> None:
    """Locked to yesterday and not started: the moment is dropped, and told."""
    workload = build_workload(shops.week_inputs(imprints=(_locked(shops.at(1, "10:00")),)))
    (one,) = workload.week.fixings
    assert (one.press_id, one.set_up_start_tau) == ("auto-1", None)
    assert any(note.code == "lock_over" for note in workload.assumptions)


def test_a_locked_moment_is_that_of_the_first_run() -> None:
    """Dark and light of one print location cannot both start at 10:00: the light one keeps the press."""
    lots = (shops.lot("navy"), shops.lot("ash", shade="light"))
    inputs = shops.week_inputs(lots=lots, imprints=(_locked(shops.at(3, "10:00"), lot_ids=("navy", "ash")),))
    assert [(one.run_id, one.set_up_start_tau) for one in _week(inputs).fixings] == [
        ("1 front dark", 660),
        ("1 front light", None),
    ]


def _announced(at: datetime, press: str = "auto-1", run_id: str = "1 front dark") -> tuple[Announced, ...]:
    return (Announced(run_id=run_id, press_id=press, set_up_at=at),)


@pytest.mark.parametrize(("at", "is_fixed"), [(shops.at(3, "09:59"), True), (shops.at(3, "10:00"), False)])
def test_what_is_announced_before_a_given_time_is_not_touched(at: datetime, is_fixed: bool) -> None:
    """Before 10:00 it is fixed, from 10:00 on moving it only costs."""
    shop = shops.shop(dont_touch_before=shops.at(3, "10:00"))
    week = _week(shops.week_inputs(shop, announced=_announced(at)))
    tau = week.clock.tau_of(at)
    if is_fixed:
        assert week.fixings == (
            Fixing(run_id="1 front dark", kind="announced", press_id="auto-1", set_up_start_tau=tau),
        )
        assert not week.announced
    else:
        assert not week.fixings
        assert week.announced == (AnnouncedRun(run_id="1 front dark", press_id="auto-1", set_up_start_tau=tau),)


def test_what_cannot_stay_is_moved_at_a_price_and_told() -> None:
    """The press is down on Tuesday morning: the announced run is free to move, and the list says so."""
    down = Closure(what="auto-1", from_at=shops.at(3), to_at=shops.at(3, "12:00"), why="motor")
    shop = shops.shop(dont_touch_before=shops.at(4), closures=(down,))
    workload = build_workload(shops.week_inputs(shop, announced=_announced(shops.at(3, "09:00"))))
    assert not workload.week.fixings
    assert len(workload.week.announced) == 1
    assert any(one.code == "cannot_stay" for one in workload.assumptions)


def test_announced_runs_that_are_gone_started_or_locked_are_not_announced() -> None:
    """An order that left the pile says nothing; a lock or a start says more than an announcement."""
    assert not _week(shops.week_inputs(announced=_announced(shops.at(3), run_id="9 front dark"))).announced
    locked = shops.week_inputs(imprints=(_locked(shops.at(3, "10:00")),), announced=_announced(shops.at(4)))
    assert [one.kind for one in _week(locked).fixings] == ["locked"]
    assert not _week(locked).announced
    started = shops.week_inputs(progress=(_started(),), announced=_announced(shops.at(4)))
    assert not _week(started).announced


def test_what_stands_on_a_press_now() -> None:
    """A design of the week by its own screens in the inks typed; anything else by its inks alone."""

    def heads(now_on: NowOn, *inks: str) -> list[tuple[str, str]]:
        shop = shops.shop(shops.press(now_on=now_on))
        week = _week(shops.week_inputs(shop, imprints=(shops.imprint(*inks, design_id="crest"),)))
        assert {head.ink_id for head in week.presses[0].now_on.heads} <= set(week.ink)
        return [(head.screen_id, head.ink_id) for head in week.presses[0].now_on.heads]

    crest = [("crest:base", "plastisol white"), ("crest:1", "plastisol red")]
    assert heads(NowOn(design_id="crest", inks=()), "red") == crest
    assert heads(NowOn(design_id="crest", inks=("white base", "red")), "red") == crest
    assert heads(NowOn(design_id="crest", inks=("red",)), "red") == crest
    assert heads(NowOn(design_id="crest", inks=("white base", "gold")), "red") == [
        ("crest:base", "plastisol white"),
        ("crest:1", "plastisol gold"),
    ]
    assert heads(NowOn(design_id="old", inks=("black", "water-based red")), "red") == [
        ("old:1", "plastisol black"),
        ("old:2", "water-based red"),
    ]
    assert heads(NowOn(design_id=None, inks=("black",)), "red") == [("on the press now:1", "plastisol black")]
