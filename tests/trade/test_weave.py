"""Ink from a thread count alone, held to the figures a mesh maker and an ink-use article publish."""

from __future__ import annotations

import pytest

from scheduler.trade.mesh import ink_volume_cm3_m2, open_area, opening_um
from scheduler.trade.weave import THREADS_UM, ink_of_screen_cm3, usual_weave


def test_the_published_mesh_comes_out() -> None:
    """225 threads of 40 um: opening 73 um, 42 % open, 25 cm3/m2 ("Screen Specifications", nt-jp.com)."""
    weave = usual_weave(225)
    assert weave.thread_um == 40
    assert round(opening_um(225, weave.thread_um)) == 73
    assert round(100 * open_area(225, weave.thread_um)) == 42
    assert round(weave.ink_cm3_m2) == 25


@pytest.mark.parametrize(("thread_um", "fabric_um"), [(40, 59), (48, 72), (54, 84)])
def test_fabric_is_about_one_and_a_half_threads(thread_um: int, fabric_um: int) -> None:
    """The three published fabrics lie within 4 % of 1.5 threads ("Screen Specifications", nt-jp.com)."""
    assert fabric_um == pytest.approx(1.5 * thread_um, rel=0.04)


def test_a_fine_mesh_stays_near_its_published_fabric() -> None:
    """305 threads of 40 um are about 63 um thick ("Mesh Matters", Screen Printing, June 2009): within 5 % of ours."""
    weave = usual_weave(305)
    assert weave.thread_um == 40
    assert weave.ink_cm3_m2 == pytest.approx(ink_volume_cm3_m2(305, 40, 63), rel=0.05)


@pytest.mark.parametrize(
    ("mesh", "thread_um", "percent_open"),
    [(110, 80, 42.7), (156, 64, 36.8), (200, 48, 38.7), (230, 48, 32.0), (305, 40, 27.0)],
)
def test_open_areas_are_those_of_the_weave(mesh: int, thread_um: int, percent_open: float) -> None:
    """Open area follows from thread and count (arithmetic; makers' tables lie up to 3 points off)."""
    assert usual_weave(mesh).thread_um == thread_um
    assert 100 * open_area(mesh, thread_um) == pytest.approx(percent_open, abs=0.1)


def test_supplier_counts_of_one_mesh_are_one_mesh() -> None:
    """156 and 158 threads are sold as the same mesh (Atlas Screen Supply): the same thread, ink within 3 %."""
    assert usual_weave(156).thread_um == usual_weave(158).thread_um
    assert usual_weave(156).ink_cm3_m2 == pytest.approx(usual_weave(158).ink_cm3_m2, rel=0.03)


@pytest.mark.parametrize("mesh", [10, 30, 61, 86, 400, 600])
def test_every_mesh_a_sheet_may_name_has_ink(mesh: int) -> None:
    """From the coarsest to the finest count that may be typed there is an opening and some ink."""
    assert usual_weave(mesh).ink_cm3_m2 > 0


def test_a_coarser_mesh_lays_down_more() -> None:
    """From the coarse end to the fine one, ink goes down from white's meshes to those of fine colours."""
    volumes = [usual_weave(mesh).ink_cm3_m2 for mesh in (60, 86, 110, 156, 230, 305)]
    assert volumes == sorted(volumes, reverse=True)
    assert sorted(THREADS_UM) == list(THREADS_UM)


def test_the_published_way_to_work_out_a_run() -> None:
    """12 x 14 in solid, 225/40, 500 pieces: area x volume x pieces, near 1.35 litres ("Vth", KC Siebdruck: the way)."""
    asked = {"width_in": 12.0, "height_in": 14.0, "ink_cm3_m2": 25.0, "pieces": 500}
    whole = ink_of_screen_cm3(**asked, coverage_pct=100.0, hits=1)  # type: ignore[arg-type]
    assert whole == pytest.approx(0.3048 * 0.3556 * 25 * 500)
    assert whole == pytest.approx(1355, rel=0.01)
    assert ink_of_screen_cm3(**asked, coverage_pct=40.0, hits=2) == pytest.approx(whole * 0.4 * 2)  # type: ignore[arg-type]


def test_no_mesh_is_no_ink() -> None:
    """A count of nothing is refused."""
    with pytest.raises(ValueError, match="threads per inch"):
        usual_weave(0)
