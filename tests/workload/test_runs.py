"""Grouping garments into runs, and how many pieces are printed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.domain.orders import DesignRecord, Ink, Lot, WeekInputs
from scheduler.domain.shop import Defaults
from scheduler.domain.week import Week
from scheduler.errors import InputError
from scheduler.workload.build import build_workload
from tests.workload import shops


def _week(inputs: WeekInputs) -> Week:
    return build_workload(inputs).week


def test_four_garment_colours_of_one_shade_are_one_run() -> None:
    """Navy, black, maroon and forest tees go through in one set-up, a part each, in the order typed."""
    lots = tuple(shops.lot(name, pieces=25) for name in ("navy", "black", "maroon", "forest"))
    week = _week(shops.week_inputs(lots=lots, imprints=(shops.imprint(lot_ids=tuple(one.lot_id for one in lots)),)))
    (run,) = week.runs
    assert [part.lot_id for part in run.parts] == ["navy", "black", "maroon", "forest"]
    assert run.pieces == 100
    assert sum(run.choices[0].part_min) == run.choices[0].print_min == 15


def test_light_and_dark_are_two_runs_of_one_design() -> None:
    """The shade is in the run's name."""
    lots = (shops.lot("ash", shade="light"), shops.lot("navy"))
    week = _week(shops.week_inputs(lots=lots, imprints=(shops.imprint(lot_ids=("ash", "navy")),)))
    assert [run.run_id for run in week.runs] == ["1 front dark", "1 front light"]
    assert {run.design_id for run in week.runs} == {"1 front"}


def test_garments_that_arrive_apart_are_runs_of_their_own() -> None:
    """Those that are in go first; each run waits for its own garments only."""
    lots = (
        shops.lot("black", blanks_at=shops.at(4, "10:00")),
        shops.lot("navy"),
        shops.lot("maroon", blanks_at=shops.at(1)),
    )
    week = _week(shops.week_inputs(lots=lots, imprints=(shops.imprint(lot_ids=("black", "navy", "maroon")),)))
    first, second = week.runs
    assert (first.run_id, second.run_id) == ("1 front dark", "1 front dark 2")
    assert [part.lot_id for part in first.parts] == ["navy", "maroon"]
    assert (first.blanks_tau, second.blanks_tau) == (0, 1080 + 120)


@pytest.mark.parametrize(
    ("lot", "spare_pct", "printed"),
    [
        (shops.lot(pieces=100, is_counted=True), 2.0, 100),
        (shops.lot(pieces=100, is_counted=False), 0.0, 100),
        (shops.lot(pieces=100, is_counted=False), 2.0, 103),
        (shops.lot(pieces=100, is_counted=False, from_client=True), 2.0, 100),
    ],
)
def test_pieces_are_what_was_counted_else_ordered_plus_spares(lot: Lot, spare_pct: float, printed: int) -> None:
    """Counted in wins; spares only where the shop prints them, and never on the client's own goods."""
    shop = shops.shop(defaults=Defaults(spare_pct=spare_pct, finish_each_s=0.0))
    assert _week(shops.week_inputs(shop, lots=(lot,))).runs[0].pieces == printed


def test_an_order_that_waits_is_not_planned_but_told() -> None:
    """A question mark at art or garments keeps the whole order out, with what it waits for."""
    orders = (shops.order("1"), shops.order("2"))
    lots = (shops.lot(is_waiting=True), shops.lot("ash", order_id="2"))
    imprints = (
        shops.imprint(is_waiting_for_art=True),
        shops.imprint(location="back"),
        shops.imprint(order_id="2", lot_ids=("ash",)),
    )
    week = _week(shops.week_inputs(orders=orders, lots=lots, imprints=imprints))
    assert [run.order_id for run in week.runs] == ["2"]
    (waiting,) = week.not_planned
    assert (waiting.order_id, waiting.kind) == ("1", "waiting")
    assert waiting.reasons == ("waiting for art: front", "waiting for garments: 1 navy tee")


def test_an_order_one_run_of_which_fits_nowhere_is_not_planned_at_all() -> None:
    """Half an order cannot ship: the reason is kept with the run that has it."""
    never = shops.imprint(location="back", never=("auto-1",))
    week = _week(shops.week_inputs(imprints=(shops.imprint(), never)))
    assert not week.runs
    assert not week.orders
    (told,) = week.not_planned
    assert (told.run_id, told.kind, told.reasons) == ("1 back dark", "no press", ("the order says not auto-1",))


def test_print_after_binds_runs_that_share_garments() -> None:
    """The back of the dark garments waits for their front, not for the front of the light ones."""
    lots = (shops.lot("navy"), shops.lot("ash", shade="light"))
    both = ("navy", "ash")
    imprints = (
        shops.imprint(location="Front", lot_ids=both),
        shops.imprint(location="back", lot_ids=both, print_after=("front",), between_min=15),
    )
    runs = _week(shops.week_inputs(lots=lots, imprints=imprints)).run
    assert runs["1 back dark"].print_after == ("1 Front dark",)
    assert runs["1 back light"].print_after == ("1 Front light",)
    assert runs["1 back dark"].between_min == 15


def test_locations_that_wait_for_each_other_are_a_fault() -> None:
    """Front after back and back after front can never be printed."""
    imprints = (
        shops.imprint(print_after=("back",), source_row=2),
        shops.imprint(location="back", print_after=("front",), source_row=3),
    )
    with pytest.raises(InputError, match=r"orders.csv:2:print_after: order 1: front comes after itself"):
        build_workload(shops.week_inputs(imprints=imprints))


def test_inks_left_out_are_those_remembered_with_the_design() -> None:
    """A reorder is a design, a quantity, a date."""
    record = DesignRecord(design_id="crest", inks=(Ink(name="gold"),))
    typed = replace(shops.imprint(design_id="crest"), inks=())
    week = _week(shops.week_inputs(imprints=(typed,), designs=(record,)))
    assert [head.ink_id for head in week.runs[0].choices[0].stack.heads] == ["plastisol white", "plastisol gold"]


def test_art_and_garments_hold_back_what_they_hold_back() -> None:
    """Art is the moment from which screens may be burned, garments that from which staging may start."""
    lots = (shops.lot(blanks_at=shops.at(3, "12:00")),)
    week = _week(shops.week_inputs(lots=lots, imprints=(shops.imprint(art_at=shops.at(4, "09:00")),)))
    assert (week.runs[0].blanks_tau, week.runs[0].art_tau) == (540 + 240, 1080 + 60)


def test_two_designs_at_one_location_are_two_runs() -> None:
    """Each run's name is its own even where order, location and shade agree."""
    lots = (shops.lot("navy"), shops.lot("black"))
    imprints = (
        shops.imprint(design_id="a", lot_ids=("navy",)),
        shops.imprint(design_id="b", lot_ids=("black",)),
    )
    week = _week(shops.week_inputs(lots=lots, imprints=imprints))
    assert [(run.run_id, run.design_id) for run in week.runs] == [("1 front dark", "a"), ("1 front dark 2", "b")]
