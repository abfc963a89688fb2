"""Underbase, flashes, hits and meshes."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.domain.orders import Ink
from scheduler.domain.shop import Defaults, Shop
from scheduler.errors import InputError
from scheduler.workload.assumptions import Notes
from scheduler.workload.build import build_workload
from scheduler.workload.inks import InkShelf
from scheduler.workload.layers import Layer, Layering, stack_of
from tests.workload import shops


def _layers(
    *inks: str | Ink, shade: str = "dark", base: bool | None = None, both: bool = False, shop: Shop | None = None
) -> tuple[Layer, ...]:
    notes = Notes()
    layering = Layering(
        shelf=InkShelf(shop=shop or shops.shop(), notes=notes),
        notes=notes,
        imprint=shops.imprint(*inks, design_id="d", with_base=base),
        shade=shade,
        is_on_both_shades=both,
    )
    return layering.layers()


def _told(layers: tuple[Layer, ...]) -> list[str]:
    """Screen number, ink, hits if several, and a flash after it."""
    hits = [f" x{one.hits}" if one.hits > 1 else "" for one in layers]
    flash = [" flash" if one.flash_after else "" for one in layers]
    return [f"{one.screen_id[2:]} {one.ink.name}{hits[at]}{flash[at]}" for at, one in enumerate(layers)]


WB = "water-based"


@pytest.mark.parametrize(
    ("inks", "shade", "base", "expected"),
    [
        (("red", "yellow"), "light", None, ["1 red", "2 yellow"]),
        (("red", "yellow"), "dark", None, ["base white flash", "1 red", "2 yellow"]),
        (("red", "yellow"), "dark", False, ["1 red", "2 yellow"]),
        (("red",), "light", True, ["base white flash", "1 red"]),
        (("white",), "dark", None, ["base white flash", "1 white"]),
        (("white",), "light", None, ["1 white"]),
        (("white",), "dark", False, ["1 white"]),
        (("white", "red"), "dark", None, ["base white flash", "1 white", "2 red"]),
        (("black",), "dark", None, ["1 black"]),
        (("black",), "dark", True, ["base white flash", "1 black"]),
        (("white base", "red"), "dark", None, ["base white flash", "1 red"]),
        (("white base", "red"), "light", None, ["base white flash", "1 red"]),
        (("white base", "red"), "dark", False, ["1 red"]),
        (("grey base", "red"), "dark", None, ["base grey flash", "1 red"]),
        ((Ink(name="white", hits=2),), "dark", None, ["1 white x2 flash"]),
        ((Ink(name="blue", family=WB),), "dark", None, ["1 blue"]),
        ((Ink(name="blue", family=WB),), "dark", True, ["base white flash", "1 blue"]),
        ((Ink(name="gold", family="discharge"),), "dark", None, ["1 gold"]),
    ],
)
def test_heads_by_ink_shade_and_base_column(
    inks: tuple[str | Ink, ...], shade: str, base: bool | None, expected: list[str]
) -> None:
    """What is printed with nothing said, and what the base column changes."""
    assert _told(_layers(*inks, shade=shade, base=base)) == expected


def test_white_on_dark_may_be_the_same_screen_twice() -> None:
    """The shop's other habit: one screen, two hits, a flash between; other inks keep their base."""
    shop = shops.shop(defaults=Defaults(white_on_dark="same screen twice"))
    assert _told(_layers("white", shop=shop)) == ["1 white x2 flash"]
    assert _told(_layers("red", shop=shop)) == ["base white flash", "1 red"]


def test_the_light_garments_of_a_dark_design_leave_the_typed_base_off() -> None:
    """Light and dark in one design share the screens; the light ones skip the base unless it is asked for."""
    assert _told(_layers("white base", "red", shade="light", both=True)) == ["1 red"]
    assert _told(_layers("white base", "red", shade="light", both=True, base=True)) == ["base white flash", "1 red"]
    assert _told(_layers("white base", "red", shade="dark", both=True)) == ["base white flash", "1 red"]


def test_base_and_white_are_one_ink_and_a_water_based_base_is_water_based() -> None:
    """The underbase is printed with the family's own white, so a white over it is the same ink."""
    base, white = _layers("white")
    assert base.ink.ink_id == white.ink.ink_id == "plastisol white"
    assert _layers(Ink(name="blue", family=WB), base=True)[0].ink.ink_id == "water-based white"


def test_meshes_are_assumed_by_what_is_printed_and_stated_ones_win() -> None:
    """Base, white and colours have their own default mesh; a mesh typed with an ink is taken."""
    shop = shops.shop(defaults=Defaults(mesh_base=110, mesh_white=156, mesh_colour=230))
    layers = _layers("white", "red", Ink(name="gold", mesh=60), shop=shop)
    assert [(one.mesh, one.is_mesh_stated) for one in layers] == [(110, False), (156, False), (230, False), (60, True)]


def test_inks_know_what_dries_and_what_is_dark() -> None:
    """Idle minutes come with the family, dark or light with the name."""
    red, sky, blue = _layers("red", "sky blue", Ink(name="navy blue", family=WB), shade="light")
    assert (red.ink.is_dark, sky.ink.is_dark, blue.ink.is_dark) == (True, False, True)
    assert (red.ink.idle_ok_min, blue.ink.idle_ok_min) == (None, 20)


def test_the_light_run_uses_the_dark_run_s_screens() -> None:
    """One design on light and dark: two runs, one set that is the union, the light run without the base."""
    lots = (shops.lot("navy"), shops.lot("ash", shade="light"))
    inputs = shops.week_inputs(
        shops.shop(screen_room=shops.room()), lots=lots, imprints=(shops.imprint("red", lot_ids=("navy", "ash")),)
    )
    week = build_workload(inputs).week
    dark, light = (run.choices[0].stack for run in week.runs)
    assert [head.screen_id for head in dark.heads] == ["1 front:base", "1 front:1"]
    assert [head.screen_id for head in light.heads] == ["1 front:1"]
    assert [one.screen_ids for one in week.sets] == [("1 front:base", "1 front:1")]
    assert {run.set_id for run in week.runs} == {"1 front"}


def test_other_inks_on_light_are_the_same_set() -> None:
    """Navy instead of white on the light garments: same screens, other inks, and the screen is labelled with both."""
    lots = (shops.lot("navy"), shops.lot("ash", shade="light"))
    imprints = (
        shops.imprint("white", design_id="crest", lot_ids=("navy",)),
        shops.imprint("navy", design_id="crest", lot_ids=("ash",)),
    )
    inputs = shops.week_inputs(shops.shop(screen_room=shops.room()), lots=lots, imprints=imprints)
    week = build_workload(inputs).week
    (crest,) = week.sets
    assert [(note.screen_id, note.prints) for note in crest.notes] == [
        ("crest:base", "white base"),
        ("crest:1", "white / navy"),
    ]
    assert [run.choices[0].stack.heads[-1].ink_id for run in week.runs] == ["plastisol white", "plastisol navy"]


def test_a_family_nobody_described_is_told_with_its_row() -> None:
    """A slip in the family column is a fault that says what could be written."""
    slip = shops.imprint(Ink(name="red", family="plastisoul"), source_row=7)
    with pytest.raises(InputError, match=r"orders.csv:7:family: 'plastisoul' is an ink family"):
        build_workload(shops.week_inputs(imprints=(slip,)))


ink_names = st.sampled_from(["white", "bright white", "red", "black", "navy", "gold", "white base"])
typed_inks = st.lists(
    st.builds(Ink, name=ink_names, hits=st.integers(1, 2), family=st.sampled_from([None, WB])), min_size=1, max_size=5
)


@given(inks=typed_inks, shade=st.sampled_from(["light", "dark"]), base=st.sampled_from([None, True, False]))
def test_the_typed_order_is_law(inks: list[Ink], shade: str, base: bool | None) -> None:
    """Whatever is assumed: at most one base, first and flashed; the inks follow in the order typed, one screen each."""
    layers = _layers(*inks, shade=shade, base=base)
    tops = [one for one in layers if not one.is_base]
    assert [one.is_base for one in layers] in ([False] * len(layers), [True] + [False] * (len(layers) - 1))
    assert all(one.flash_after for one in layers if one.is_base)
    assert [one.screen_id for one in tops] == [f"d:{number}" for number in range(1, len(tops) + 1)]
    typed = inks[1:] if len(inks) > 1 and inks[0].name == "white base" else inks
    assert [one.ink.name for one in tops] == [one.name.replace("white base", "white") for one in typed]
    assert all(one.flash_after == (one.hits > 1) for one in tops)
    stack = stack_of(layers, "d", None)
    assert [head.ink_id for head in stack.heads] == [one.ink.ink_id for one in layers]
    assert stack.flash_after == tuple(at for at, one in enumerate(layers) if one.flash_after)


@given(inks=typed_inks, shade=st.sampled_from(["light", "dark"]))
def test_base_no_always_wins(inks: list[Ink], shade: str) -> None:
    """With "no" in the base column there is never an underbase in front."""
    assert not any(one.is_base for one in _layers(*inks, shade=shade, base=False))


def test_every_default_is_noted() -> None:
    """Base, mesh and frames nobody typed are in the list of assumptions with what they touch."""
    inputs = shops.week_inputs(shops.shop(screen_room=shops.room()))
    told = {(one.text, one.count, one.counted) for one in build_workload(inputs).assumptions}
    assert told >= {
        ("white base and a flash assumed on dark garments", 1, "prints"),
        ("156 mesh assumed for white base", 1, "screens"),
        ("230 mesh assumed for colours", 2, "screens"),
        ("23x31 frames assumed", 1, "designs"),
    }


def test_what_is_typed_is_not_noted() -> None:
    """Typed bases, meshes, frames, carriers and packing leave nothing assumed but the ink family."""
    inks = (Ink(name="white base", mesh=110), Ink(name="red", mesh=230))
    imprint = replace(shops.imprint(*inks), frame_size="23x31")
    orders = (shops.order(carrier="collected", finish_each_s=0.0),)
    inputs = shops.week_inputs(shops.shop(screen_room=shops.room(), frames=()), orders=orders, imprints=(imprint,))
    assert {one.code for one in build_workload(inputs).assumptions} == {"ink_family", "frames"}
