"""The cautions that stand on every paper that touches heat, chemicals, ultraviolet light, pressure or presses.

They remind; they do not instruct. Sources: moving parts HSE printing machinery pages (accidents come at make-ready,
setting, cleaning, clearing); lockout 29 CFR 1910.147; fumes Screen Printing, "Garment Dryers in Detail" (2010) and "How
to Select a Garment Dryer" (2011); solvents HSE COSHH printing pages; reclaiming EPA 742-F-95-008; ultraviolet HSE
COSHH essentials P1 (for plate units, a neighbouring trade); pressure washing Safety+Health citing CDC; formaldehyde
29 CFR 1910.1048; burns and scorching, heat presses and needles: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable

from scheduler.domain.week import InkUse, Stack

WHO_WINS = (
    "Start values only. The ink and emulsion makers' technical and safety data sheets, the machine manual, local code "
    "and licensed practice win."
)
MOVING_PARTS = "Presses crush and cut at set-up, cleaning and clearing: guards on, lock out as the manual says."
HEAT = "Flash units and dryers burn, scorch and give off fumes: exhaust outside, cool down as the manual says."
CHEMICALS = "Inks and cleaners: ventilate, gloves and eye protection as their safety data sheets say."
DISCHARGE = (
    "Discharge ink gives off formaldehyde: only with a ventilated dryer and real air exchange. Limits under 29 CFR "
    "1910.1048: 0.75 ppm over 8 hours, 2 ppm over 15 minutes."
)
ULTRAVIOLET = "The exposure unit gives off ultraviolet light: keep its lid or curtain shut, protect eyes and skin."
PRESSURE = "Never point a pressure washer at anybody: a small wound from it needs a doctor at once."
RECLAIMING = "Reclaiming is among the most hazardous work here: ventilate, keep your face away from the booth, gloves."


def press_cautions(stacks: Iterable[Stack], inks: dict[str, InkUse]) -> tuple[str, ...]:
    """Cautions for a press page; one more where discharge ink is printed there."""
    families = {inks[head.ink_id].family for stack in stacks for head in stack.heads if head.ink_id in inks}
    has_discharge = any("discharge" in family.lower() for family in families)
    return (WHO_WINS, MOVING_PARTS, HEAT, CHEMICALS, *([DISCHARGE] if has_discharge else []))


STATIONS = (
    "Heat presses burn and crush, needles go through fingers: guards on, hands clear, as the machine manual says."
)


def station_cautions() -> tuple[str, ...]:
    """Cautions for the page of other stations."""
    return (WHO_WINS, STATIONS)


def screen_room_cautions() -> tuple[str, ...]:
    """Cautions for the screen room's page."""
    return (WHO_WINS, ULTRAVIOLET, PRESSURE, RECLAIMING, CHEMICALS)
