"""What a screen's mesh lays down, from its thread count alone: typical threads, typical thickness, ink for a run.

Makers' tables differ, and the mesh maker's own figure wins. Sources:

- "Screen Specifications", nt-jp.com (mesh maker): 225 threads of 40 um, fabric 59 um, 25 cm3/m2.
- Screen mesh lists that name 110/80, 200/48, 230/48 and 305/40: "Screen Mesh for Textile Printing", C. Taublieb;
  "Screen Variables", Townsend Printing; "Mesh Matters", Screen Printing, June 2009. 156/64: common practice, no source.
- 30, 60, 86, 125, 180, 280 and 355: (memory).
"""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.trade.mesh import ink_for_run_cm3, ink_volume_cm3_m2, print_area_m2
from scheduler.trade.rounding import demand

THREADS_UM = {
    30: 250, 60: 145, 86: 100, 110: 80, 125: 70, 156: 64, 180: 55, 200: 48, 225: 40, 230: 48, 280: 34, 305: 40, 355: 35,
}  # fmt: skip
"""Thread in um by threads per inch, as such meshes are usually woven."""

FABRIC_OF_THREAD = 1.5
"""Fabric thickness against thread: 59/40, 72/48 and 84/54 are 1.48 to 1.56 ("Screen Specifications", nt-jp.com)."""

SOURCE = (
    "ink = print width x height x coverage x ink volume of the mesh x hits x pieces; ink volume = open area x fabric "
    'thickness ("Vth", J. Bauer, KC Siebdruck; "Theoretical ink volume", Spoerl)'
)
"""The formula and where it comes from, as paper says it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weave:
    """A mesh as it is usually woven: threads per inch, thread and fabric in um, ink in cubic centimetres a m2."""

    mesh: int
    thread_um: int
    fabric_um: float
    ink_cm3_m2: float


def usual_weave(mesh: int) -> Weave:
    """The usual weave of a thread count: the thread of the nearest known one, fabric 1.5 threads thick.

    Supplier's counts differ by a few threads (156 and 158 are one mesh: Atlas Screen Supply), so the nearest will do.
    """
    demand("threads per inch", mesh, above=0, most=600)
    nearest = min(THREADS_UM, key=lambda known: (abs(known - mesh), known))
    thread_um = THREADS_UM[nearest]
    while thread_um * mesh >= 25_400:  # finer than any known one: the thread must leave an opening
        thread_um -= 1
    fabric_um = FABRIC_OF_THREAD * thread_um
    return Weave(
        mesh=mesh,
        thread_um=thread_um,
        fabric_um=fabric_um,
        ink_cm3_m2=ink_volume_cm3_m2(mesh, thread_um, fabric_um),
    )


def ink_of_screen_cm3(
    *, width_in: float, height_in: float, coverage_pct: float, ink_cm3_m2: float, hits: int, pieces: int
) -> float:
    """Ink of one screen for a run, all of it leaving the mesh: area x coverage x ink volume x hits x pieces.

    What stays in screen, squeegee and can comes on top.
    """
    area_m2 = print_area_m2(width_in, height_in, coverage_pct / 100)
    return ink_for_run_cm3(area_m2, ink_cm3_m2, pieces) * hits
