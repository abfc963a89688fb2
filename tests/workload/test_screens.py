"""Screen sets, frames, and what hangs."""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.domain.orders import Ink, WeekInputs
from scheduler.domain.shop import BurnedSet, Defaults, Frames, NowOn, Shop
from scheduler.domain.week import Week
from scheduler.errors import InputError
from scheduler.workload.build import build_workload
from tests.workload import shops

STOCK = (Frames(size="23x31", mesh=156, count=10, coated=4), Frames(size="23x31", mesh=230, count=20, coated=12))


def _shop(**more: object) -> Shop:
    return shops.shop(**{"screen_room": shops.room(), "frames": STOCK, **more})  # type: ignore[arg-type]


def _week(shop: Shop, *inks: str | Ink, **more: object) -> Week:
    return build_workload(shops.week_inputs(shop, imprints=(shops.imprint(*inks, **more),))).week  # type: ignore[arg-type]


def _frames(week: Week) -> dict[str, tuple[int, int]]:
    return {one.class_id: (one.coated_now, one.clean_now) for one in week.frames}


@pytest.mark.parametrize(
    ("per_exposure", "burn_min"), [(1, 3 * 4 + 3 * 5), (2, 2 * 4 + 3 * 5), (3, 4 + 15), (4, 4 + 15)]
)
def test_burn_minutes_count_exposures_and_wash_outs(per_exposure: int, burn_min: int) -> None:
    """Three screens, 4 min an exposure, 5 min to wash each out; 2 min to tape each."""
    (one,) = _week(_shop(screen_room=shops.room(per_exposure=per_exposure))).sets
    assert (one.burn_min, one.tape_min) == (burn_min, 6)


def test_a_set_knows_its_screens_frames_and_meshes() -> None:
    """Base first, then the inks in order; frames by size and mesh."""
    (one,) = _week(_shop(), "red", Ink(name="gold", mesh=156)).sets
    assert one.screen_ids == ("1 front:base", "1 front:1", "1 front:2")
    assert one.frames == (("23x31 156", 2), ("23x31 230", 1))
    assert [(note.prints, note.mesh) for note in one.notes] == [("white base", 156), ("red", 230), ("gold", 156)]


def test_clean_frames_are_what_is_neither_coated_nor_burned() -> None:
    """Ten frames, four coated, three hang burned for another design: three are clean."""
    hanging = (BurnedSet(design_id="old", frames=(("23x31", 156, 3),)),)
    assert _frames(_week(_shop(burned=hanging))) == {"23x31 156": (4, 3), "23x31 230": (12, 8)}


def test_a_hanging_set_is_burned_now() -> None:
    """Its frames are the ones that hang, whatever the defaults would say."""
    hanging = (BurnedSet(design_id="1 front", frames=(("23x31", 156, 3),)),)
    week = _week(_shop(burned=hanging))
    assert week.sets[0].is_burned_now
    assert week.sets[0].frames == (("23x31 156", 3),)
    assert not _week(_shop()).sets[0].is_burned_now


def test_a_set_of_which_only_part_hangs_is_burned_anew() -> None:
    """Two of three screens are no set; the two frames are taken all the same, and it is told."""
    hanging = (BurnedSet(design_id="1 front", frames=(("23x31", 230, 2),)),)
    workload = build_workload(shops.week_inputs(_shop(burned=hanging)))
    assert not workload.week.sets[0].is_burned_now
    assert _frames(workload.week)["23x31 230"] == (12, 6)
    assert "1 front: 2 of 3 screens hang; the whole set is burned anew" in [one.text for one in workload.assumptions]


def test_sets_to_reclaim_go_into_the_first_blocks_with_places() -> None:
    """Nine screens at 8 min fill the first hour with seven, two are left for the next day."""
    hanging = (BurnedSet(design_id="old", frames=(("23x31", 156, 5), ("23x31", 230, 4)), to_reclaim=True),)
    week = _week(_shop(burned=hanging, frames=(Frames(size="23x31", mesh=156, count=9), STOCK[1])))
    first, second = "reclaim 2026-03-02", "reclaim 2026-03-03"
    assert week.early_reclaims == ((first, "23x31 156", 5), (first, "23x31 230", 2), (second, "23x31 230", 2))
    assert _frames(week) == {"23x31 156": (0, 4), "23x31 230": (12, 4)}


def test_a_set_to_reclaim_is_not_burned_now() -> None:
    """The same design printed again is burned anew."""
    hanging = (BurnedSet(design_id="1 front", frames=(("23x31", 230, 3),), to_reclaim=True),)
    assert not _week(_shop(burned=hanging)).sets[0].is_burned_now


def test_screens_on_the_press_now_are_burned_and_off_the_rack() -> None:
    """A design that stands on the press needs no burn; its frames are not clean."""
    shop = _shop(presses=(shops.press(now_on=NowOn(design_id="1 front", inks=())),))
    week = _week(shop)
    assert week.sets[0].is_burned_now
    assert _frames(week) == {"23x31 156": (4, 5), "23x31 230": (12, 6)}


def test_a_shop_without_a_screen_room_has_no_sets() -> None:
    """Screens come ready from outside: runs name no set, heads still name their screens."""
    week = _week(shops.shop())
    assert not week.sets
    assert week.screen_room is None
    assert week.runs[0].set_id is None
    assert week.runs[0].choices[0].stack.heads[0].screen_id == "1 front:base"


def test_no_frames_listed_means_enough_are_assumed() -> None:
    """Every burn there can be has its coated screens, and that is told."""
    workload = build_workload(shops.week_inputs(_shop(frames=())))
    assert _frames(workload.week) == {"23x31 156": (1, 0), "23x31 230": (2, 0)}
    assert ("enough coated screens assumed, as no frames are listed", 3) in [
        (one.text, one.count) for one in workload.assumptions
    ]


def test_an_assumed_mesh_is_the_nearest_in_stock() -> None:
    """A shop with 200 mesh burns its colours on it; a mesh that was typed is not replaced."""
    stock = (STOCK[0], Frames(size="23x31", mesh=200, count=20, coated=12), Frames(size="20x24", mesh=230, count=9))
    shop = _shop(frames=stock)
    assert [note.mesh for note in _week(shop, "red").sets[0].notes] == [156, 200]
    week = _week(shop, Ink(name="red", mesh=305))
    assert (week.not_planned[0].kind, week.not_planned[0].reasons) == (
        "no screens",
        ("needs 1 x 23x31 305 frames for 1 front; the frames list has none",),
    )


def test_a_shared_screen_s_mesh_is_told_once_by_what_it_prints_first() -> None:
    """White on the dark garments, navy on the light ones: one screen on the white's mesh, one line."""
    lots = (shops.lot("navy"), shops.lot("ash", shade="light"))
    imprints = (
        shops.imprint("white", design_id="crest", lot_ids=("navy",)),
        shops.imprint("navy", design_id="crest", lot_ids=("ash",)),
    )
    told = build_workload(shops.week_inputs(_shop(), lots=lots, imprints=imprints)).assumptions
    assert {(one.text, one.count) for one in told if one.code == "mesh"} == {
        ("156 mesh assumed for white base", 1),
        ("156 mesh assumed for white", 1),
    }


@pytest.mark.parametrize(("count", "planned"), [(2, True), (1, False)])
def test_a_set_needs_as_many_frames_as_it_has_screens(count: int, planned: bool) -> None:
    """Two colours on one frame of that mesh cannot be; the shop is told what it has."""
    shop = _shop(frames=(STOCK[0], Frames(size="23x31", mesh=230, count=count)))
    week = _week(shop)
    assert bool(week.runs) is planned
    if not planned:
        assert week.not_planned[0].reasons == ("needs 2 x 23x31 230 frames for 1 front; the shop has 1",)


def test_without_coating_only_coated_frames_count() -> None:
    """A shop that coats none these days prints what its coated screens allow."""
    room = shops.room(coat_length_min=0)

    def coated(count: int) -> Week:
        return _week(_shop(screen_room=room, frames=(STOCK[0], Frames(size="23x31", mesh=230, count=9, coated=count))))

    assert coated(2).runs
    assert coated(1).not_planned[0].reasons == (
        "needs 2 x 23x31 230 frames for 1 front; 1 hang coated and no coating is held",
    )


def test_more_screens_than_frames_is_a_fault() -> None:
    """Nine coated and two burned cannot be ten frames."""
    shop = _shop(
        frames=(Frames(size="23x31", mesh=156, count=10, coated=9), STOCK[1]),
        burned=(BurnedSet(design_id="old", frames=(("23x31", 156, 2),)),),
    )
    with pytest.raises(InputError, match="23x31 156: 9 screens coated and 2 burned, of 10 frames"):
        _week(shop)


def test_two_frame_sizes_for_one_design_are_a_fault() -> None:
    """One set of screens has one frame size; a size typed once holds for all its prints."""
    back = shops.imprint(location="back", design_id="1 front", frame_size="25x36", source_row=3)
    front = shops.imprint(frame_size="23x31", source_row=2)
    with pytest.raises(InputError, match=r"orders.csv:3:frame: design '1 front' is asked for in 23x31 frames too"):
        build_workload(shops.week_inputs(_shop(), imprints=(front, back)))
    stock = (*STOCK, Frames(size="25x36", mesh=156, count=9), Frames(size="25x36", mesh=230, count=9))
    inputs = shops.week_inputs(_shop(frames=stock), imprints=(replace(front, frame_size=None), back))
    (one,) = build_workload(inputs).week.sets
    assert {note.frame_size for note in one.notes} == {"25x36"}


def test_only_planned_designs_have_sets() -> None:
    """An order that waits takes no frames and has no set."""
    inputs = shops.week_inputs(_shop(), imprints=(shops.imprint(is_waiting_for_art=True),))
    week = build_workload(inputs).week
    assert (week.sets, week.frames) == ((), ())


def _reorder() -> WeekInputs:
    orders = (shops.order("1"), shops.order("2"))
    lots = (shops.lot("a"), shops.lot("b", order_id="2"))
    imprints = (
        shops.imprint("red", design_id="crest", lot_ids=("a",)),
        shops.imprint("red", "gold", design_id="crest", order_id="2", lot_ids=("b",)),
    )
    return shops.week_inputs(_shop(defaults=Defaults(finish_each_s=0.0)), orders=orders, lots=lots, imprints=imprints)


def test_a_design_in_two_orders_is_one_set_the_union_of_its_screens() -> None:
    """One order prints one ink more: the set has that screen too, once."""
    (one,) = build_workload(_reorder()).week.sets
    assert one.screen_ids == ("crest:base", "crest:1", "crest:2")
