"""Whether a run fits the hours at all."""

from __future__ import annotations

import pytest

from scheduler.domain.calendars import ALWAYS_CLOSED_BEFORE_MIN, Calendar, Restart, Window
from scheduler.domain.orders import Ink
from scheduler.domain.shop import InkFamily, OvertimeOffer, Shop
from scheduler.domain.week import NotPlanned, SetUpMinutes
from scheduler.workload.build import build_workload
from scheduler.workload.room_for import PrintWork, end_of_work, fits_somewhere, longest_min, stretches
from tests.workload import shops


def _calendar(*windows: tuple[int, int, int]) -> Calendar:
    return Calendar(
        windows=tuple(Window(start_tau=start, end_tau=end, stop_before_min=stop) for start, end, stop in windows)
    )


DAY = _calendar((0, 240, ALWAYS_CLOSED_BEFORE_MIN), (270, 540, 30), (540, 780, 900))
"""A morning, an afternoon after half an hour, and the next morning after a night."""


@pytest.mark.parametrize(
    ("start", "work", "end"),
    [(0, 240, 240), (0, 241, 271), (250, 1, 271), (100, 0, 100), (250, 0, 270), (0, 751, None)],
)
def test_work_pauses_in_closed_minutes(start: int, work: int, end: int | None) -> None:
    """Work ends at the end of a window, not at the start of the next, and never beyond the hours."""
    assert end_of_work(DAY, start, work) == end


@pytest.mark.parametrize(("idle", "longest"), [(29, [240, 270, 240]), (30, [510, 240]), (900, [750]), (None, [750])])
def test_stretches_part_at_stops_longer_than_the_ink_may_stand(idle: int | None, longest: list[int]) -> None:
    """Exactly as long as it may stand is no parting."""
    assert [longest_min([one]) for one in stretches(DAY, 0, idle)] == longest


def test_stretches_start_when_things_are_there() -> None:
    """What is over before that does not count."""
    assert [longest_min([one]) for one in stretches(DAY, 300, 30)] == [240, 240]
    assert [longest_min([one]) for one in stretches(DAY, 300, 900)] == [480]


@pytest.mark.parametrize(
    ("set_up", "work", "restart", "fits"),
    [
        (30, 480, 0, True),  # 510 open minutes over the break
        (30, 481, 0, False),
        (30, 475, 5, True),  # a restart after the break
        (30, 476, 5, False),
        (240, 270, 99, True),  # the break falls between set-up and print: nothing to restart
        (200, 270, 99, True),  # starting later, set-up still ends with the morning
        (241, 270, 0, False),
    ],
)
def test_a_stop_inside_the_print_costs_a_restart(set_up: int, work: int, restart: int, fits: bool) -> None:
    """With ink that may stand half an hour, set-up and print go over the break but not over the night."""
    parts = stretches(DAY, 0, 30)
    assert fits_somewhere(parts, set_up, PrintWork(work, Restart(break_min=restart, night_min=restart))) is fits


@pytest.mark.parametrize(
    ("set_up", "work", "rinse", "fits"),
    [
        (30, 689, 20, True),  # 750 open minutes, and 31 for rinsing and inking at the night
        (30, 690, 20, False),
        (530, 10, 11, False),  # set up until the evening: no place to rinse in; in the morning no hours are left
        (240, 479, 20, True),  # set up in the first morning, over the break
        (511, 1, 0, False),  # the ink would stand over night between set-up and print
    ],
)
def test_inks_that_dry_are_rinsed_out_for_the_night(set_up: int, work: int, rinse: int, fits: bool) -> None:
    """Rinsing before the night and inking after it are work; a set-up that reaches the night is no good."""
    parts = stretches(DAY, 0, None)
    assert fits_somewhere(parts, set_up, PrintWork(work, Restart(), 30, rinse, 31 - rinse)) is fits


def _wb(pieces: int, shop: Shop, **more: object) -> tuple[bool, tuple[NotPlanned, ...]]:
    inputs = shops.week_inputs(
        shop,
        lots=(shops.lot(pieces=pieces, shade="light"),),
        imprints=(shops.imprint(Ink(name="blue", family="water-based"), **more),),  # type: ignore[arg-type]
    )
    week = build_workload(inputs).week
    return bool(week.runs), week.not_planned


def _day_shop(idle: int, **more: object) -> Shop:
    family = InkFamily(name="water-based", tunnel_s=180, flash_s=10.0, idle_ok_min=idle)
    press = shops.press(stated_pcs_h=60, set_up=SetUpMinutes(mount_min=10, load_min=4, card_min=1, strike_off_min=5))
    return shops.shop(press, families=(family,), hours=shops.hours("08:00", "17:00", ("12:00", "12:30")), **more)


def test_no_run_is_too_long_for_its_ink() -> None:
    """An ink that may stand 20 min is rinsed out for the half-hour break: only the hours of the week limit its run."""
    assert _wb(255, _day_shop(20))[0]
    assert _wb(2498, _day_shop(20))[0]  # 16 min of set-up, 9 stops of 4 min: all 2550 there are
    planned, told = _wb(2499, _day_shop(20))
    assert not planned
    assert told[0].kind == "no time"
    assert told[0].reasons == (
        "set-up and print need at least 2515 min, and 4 min more for each stop its inks may not stand; "
        "from Mon 2026-03-02 08:00 on auto-1 has 2550 min left",
    )


def test_a_set_up_too_long_for_its_ink_is_told_with_the_figures() -> None:
    """A set-up of all the afternoon would let the ink stand over night before the first piece."""
    assert _wb(240, _day_shop(20), stated_set_up_min=269)[0]
    planned, told = _wb(240, _day_shop(20), stated_set_up_min=271)
    assert not planned
    assert told[0].reasons == (
        "its ink may stand 20 min in the mesh: set-up and rinsing out need at least 271 min without a longer stop; "
        "the longest stretch on auto-1 is 270 min",
    )
    assert _wb(240, _day_shop(30), stated_set_up_min=271)[0]


def test_screens_that_may_stand_there_already_may_cost_no_set_up() -> None:
    """A design that two runs print can follow itself: the set-up is not held against the second."""
    inputs = shops.week_inputs(
        _day_shop(20),
        orders=(shops.order("1"), shops.order("2")),
        lots=(shops.lot("a", pieces=270, shade="light"), shops.lot("b", order_id="2", pieces=10, shade="light")),
        imprints=(
            shops.imprint(Ink(name="blue", family="water-based"), design_id="d", lot_ids=("a",)),
            shops.imprint(Ink(name="blue", family="water-based"), design_id="d", order_id="2", lot_ids=("b",)),
        ),
    )
    assert [run.run_id for run in build_workload(inputs).week.runs] == ["1 front light", "2 front light"]


def test_overtime_on_offer_counts_as_room() -> None:
    """An evening that prolongs the afternoon by an hour makes room for an hour more."""
    offer = OvertimeOffer(day=shops.at(3).date(), from_min=1020, to_min=1080, price_cents=100)
    for set_up_min, fits in ((329, True), (331, False)):
        assert not _wb(60, _day_shop(20), stated_set_up_min=set_up_min)[0]
        assert _wb(60, _day_shop(20, overtime=(offer,)), stated_set_up_min=set_up_min)[0] is fits


def test_garments_or_art_after_the_last_hour_are_no_time() -> None:
    """What comes after the axis ends cannot be planned on it, and is told with its date."""
    inputs = shops.week_inputs(lots=(shops.lot(blanks_at=shops.at(20, "09:00")),))
    (told,) = build_workload(inputs).week.not_planned
    assert (told.kind, told.reasons) == (
        "no time",
        ("garments come Fri 2026-03-20 09:00, after the last planned hour",),
    )
    inputs = shops.week_inputs(imprints=(shops.imprint(art_at=shops.at(20, "09:00")),))
    assert build_workload(inputs).week.not_planned[0].reasons[0].startswith("art comes Fri 2026-03-20")


def test_a_run_longer_than_what_is_left_of_the_axis_is_no_time() -> None:
    """Plastisol may stand overnight, but 45 hours from Monday are all there are."""
    shop = shops.shop(shops.press(stated_pcs_h=60))
    assert build_workload(shops.week_inputs(shop, lots=(shops.lot(pieces=2700),))).week.runs
    late = shops.lot(pieces=2700, blanks_at=shops.at(2, "09:00"))
    (told,) = build_workload(shops.week_inputs(shop, lots=(late,))).week.not_planned
    assert told.reasons == (
        "set-up and print need at least 2700 min; from Mon 2026-03-02 09:00 on auto-1 has 2640 min left",
    )


def test_screens_that_cannot_be_ready_leave_no_time() -> None:
    """Art in the last hour of the axis: the set cannot be burned, dried and taped."""
    inputs = shops.week_inputs(
        shops.shop(screen_room=shops.room()), imprints=(shops.imprint(art_at=shops.at(6, "16:30")),)
    )
    (told,) = build_workload(inputs).week.not_planned
    assert told.reasons == ("its screens cannot be burned, dried and taped within the planned hours",)
