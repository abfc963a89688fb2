"""Mesh, ink and exposure: opening, open area, ink volume, ink for a run, exposure from a test.

Thread counts are threads per inch unless said otherwise, thread diameters and thicknesses micrometres (um). Mesh is
woven in threads per centimetre, so nominal counts differ by supplier and makers' tables lie up to three points of open
area off the ideal weave computed here. Start values only: mesh, ink and emulsion makers' data sheets win. Sources:

- "Screen Specifications", nt-jp.com (mesh maker): opening, open area, theoretical ink volume.
- "Mesh Matters", Screen Printing, June 2009: fabric is thinner than two threads.
- "How Much Ink Do You Need?", Screen Printing, April 2000: wet deposit.
- "Vth", J. Bauer, KC Siebdruck; "Theoretical ink volume", Spoerl: ink volume = open area x fabric thickness.
- "How do I test exposure", Ulano: at least a solid step 7 on the 21-step scale.
- T2115 step wedge sheet, quoted at analogica.it (weak): 0.15 density a step.
- "Calcolatore di esposizione", CPL Fabbrika: exposure from a strip of factors.
"""

from __future__ import annotations

import math

from scheduler.trade.rounding import demand

INCH_UM = 25_400
INCH_CM = 2.54
CM_UM = 10_000
SQUARE_INCH_M2 = 0.0254**2
TARGET_STEP = 7
COARSE_BELOW_PER_CM = 43
FINE_FROM_PER_CM = 140


def threads_per_cm(mesh_per_in: float) -> float:
    """Threads per centimetre of threads per inch: 305 per inch is 120 per centimetre."""
    demand("threads per inch", mesh_per_in, above=0)
    return mesh_per_in / INCH_CM


def opening_um(mesh_per_in: float, thread_um: float) -> float:
    """Width of one mesh opening: 25400 / threads per inch - thread. "Screen Specifications", nt-jp.com.

    Raises ValueError where the threads leave no opening.
    """
    demand("threads per inch", mesh_per_in, above=0)
    demand("thread", thread_um, above=0)
    opening = INCH_UM / mesh_per_in - thread_um
    if opening <= 0:
        raise ValueError(f"{mesh_per_in:g} threads of {thread_um:g} um per inch leave no opening")
    return opening


def open_area(mesh_per_in: float, thread_um: float) -> float:
    """Share of a mesh that is open, 0 to 1: (opening / pitch) squared. "Screen Specifications", nt-jp.com."""
    return (opening_um(mesh_per_in, thread_um) * mesh_per_in / INCH_UM) ** 2


def ink_volume_cm3_m2(mesh_per_in: float, thread_um: float, fabric_um: float) -> float:
    """Theoretical ink volume, cubic centimetres a square metre: open area x fabric thickness in um.

    "Screen Specifications", nt-jp.com; "Vth", J. Bauer, KC Siebdruck. Raises ValueError for a fabric thinner than one
    thread or as thick as two ("Mesh Matters", Screen Printing, June 2009: always thinner than two).
    """
    area = open_area(mesh_per_in, thread_um)
    if not thread_um <= fabric_um < 2 * thread_um:
        raise ValueError(
            f"fabric of {thread_um:g} um threads is {thread_um:g} to {2 * thread_um:g} um, not {fabric_um:g}"
        )
    return area * fabric_um


def wet_deposit_um(
    per_cm: float, *, thread_um: float | None = None, fabric_um: float | None = None, is_twill: bool = False
) -> float:
    """Wet ink a mesh leaves, um; `per_cm` is threads per centimetre.

    "How Much Ink Do You Need?", Screen Printing, April 2000: below 43 per cm plain weave 1.82 D (1 - M D)^2 with D the
    thread; below 140 plain 0.285 F with F the fabric; from 140 plain 0.35 F; twill 0.31 F. Raises ValueError if the
    measure it needs is missing or out of range.
    """
    demand("threads per centimetre", per_cm, above=0)
    if per_cm < COARSE_BELOW_PER_CM and not is_twill:
        if thread_um is None:
            raise ValueError("a coarse plain mesh needs its thread diameter")
        demand("thread", thread_um, above=0, most=CM_UM / per_cm)
        return 1.82 * thread_um * (1 - per_cm * thread_um / CM_UM) ** 2
    if fabric_um is None:
        raise ValueError("this mesh needs its fabric thickness")
    demand("fabric", fabric_um, above=0)
    if is_twill:
        return 0.31 * fabric_um
    return (0.285 if per_cm < FINE_FROM_PER_CM else 0.35) * fabric_um


def print_area_m2(width_in: float, height_in: float, coverage: float = 1.0) -> float:
    """Inked area of one print, square metres; coverage 0 to 1 of its box."""
    demand("print width", width_in)
    demand("print height", height_in)
    demand("coverage", coverage, most=1)
    return width_in * height_in * SQUARE_INCH_M2 * coverage


def ink_for_run_cm3(area_m2: float, ink_cm3_m2: float, pieces: int) -> float:
    """Ink of one screen for a run: area x ink volume x pieces, spoiled ones included; assumes full transfer.

    "Vth", J. Bauer, KC Siebdruck.
    """
    demand("area", area_m2)
    demand("ink volume", ink_cm3_m2)
    demand("pieces", pieces)
    return area_m2 * ink_cm3_m2 * pieces


def exposure_for_step_s(test_s: float, step_read: float, target_step: float = TARGET_STEP) -> float:
    """Exposure seconds that bring a 21-step scale to the target step: test x sqrt(2)^(target - step read).

    One step is half a stop (0.15 density: T2115 sheet, weak); at least a solid step 7 ("How do I test exposure",
    Ulano). Steps 1 to 21, seconds above 0.
    """
    demand("exposure seconds", test_s, above=0)
    demand("step read", step_read, least=1, most=21)
    demand("target step", target_step, least=1, most=21)
    return test_s * math.pow(2, (target_step - step_read) / 2)


def exposure_from_strip(test: float, factor: float) -> float:
    """Exposure from a strip of factors, in the test's unit: test x the factor under the good patch (above 0, to 1).

    "Calcolatore di esposizione", CPL Fabbrika: expose at twice the guess; 16 min and factor 0.5 give 8 min.
    """
    demand("test exposure", test, above=0)
    demand("factor", factor, above=0, most=1)
    return test * factor


def exposure_at_distance(exposure: float, from_in: float, to_in: float) -> float:
    """Exposure when the lamp is moved, in the old one's unit: old x (new distance / old distance) squared.

    Inverse-square law of a small lamp; a wide lamp close by loses less than that.
    """
    demand("exposure", exposure, above=0)
    demand("old lamp distance", from_in, above=0)
    demand("new lamp distance", to_in, above=0)
    return exposure * (to_in / from_in) ** 2
