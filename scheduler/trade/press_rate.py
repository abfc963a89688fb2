"""How fast a press prints, and how long a run takes. Rates are pieces an hour, times seconds or minutes.

Stroke, index, load and unload times and the factors for garments and crews are shop settings (common practice, no
source). Sources of what is published:

- "Evaluating ink", Printwear, May 2014, p. 90: index time is 3600 / rate; flash minutes of a run.
- Images (UK), August 2018, p. 33: set-up and run minutes of a day on an automatic and a manual press.
- Images (UK), February 2018, p. 32: set-up minutes saved per screen, set-up and week.
- "Screen Room Efficiency", J. Clarke, Printwear: pieces an hour with the set-up counted in.
- "Optimize Your Flash Curing", Screen Printing: heads where every ink is flashed and cooled.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from scheduler.trade.rounding import demand, down, up

HOUR_S = 3600
HOUR_MIN = 60


def automatic_cycle_s(
    *, strokes_s: Sequence[float], load_s: float, unload_s: float, index_s: float, flash_s: float = 0.0
) -> float:
    """Seconds from one piece to the next on an automatic: the slowest station, then the carousel's move.

    cycle = max(slowest stroke, flash seconds, load, unload) + index. All heads work at once; a head that prints two
    hits in one go counts with both strokes. load_s and unload_s are two people's stations; where one person does both,
    give their sum as load_s and 0 as unload_s. Common practice, no source. Raises ValueError below 0, and for a cycle
    of 0.
    """
    for what, value in (("load seconds", load_s), ("unload seconds", unload_s), ("flash seconds", flash_s)):
        demand(what, value)
    demand("index seconds", index_s)
    for stroke_s in strokes_s:
        demand("stroke seconds", stroke_s)
    cycle_s = max(flash_s, load_s, unload_s, *strokes_s) + index_s
    demand("cycle seconds", cycle_s, above=0)
    return cycle_s


def manual_piece_s(
    *,
    load_s: float,
    unload_s: float,
    strokes: int,
    stroke_s: float,
    flashes: int = 0,
    flash_s: float = 0,
    swing_s: float = 0,
) -> float:
    """Seconds for one piece on a manual: hands on and off, every stroke, every flash with its swing in and out.

    seconds = load + unload + strokes x stroke + flashes x (flash + swing). One pair of hands: nothing overlaps, and
    the walk to the dryer is in load and unload. Common practice, no source. Raises ValueError below 0, and for a sum
    of 0.
    """
    for what, value in (
        ("load seconds", load_s),
        ("unload seconds", unload_s),
        ("strokes", strokes),
        ("stroke seconds", stroke_s),
        ("flashes", flashes),
        ("flash seconds", flash_s),
        ("swing seconds", swing_s),
    ):
        demand(what, value)
    piece_s = load_s + unload_s + strokes * stroke_s + flashes * (flash_s + swing_s)
    demand("seconds for a piece", piece_s, above=0)
    return piece_s


def pcs_h_from_seconds(piece_s: float, revolutions: int = 1) -> float:
    """Pieces an hour at `piece_s` seconds each; a second trip round the press (revolution) halves it.

    rate = 3600 / seconds / revolutions. "Evaluating ink", Printwear, May 2014: 6 s is 600 an hour, 5 s is 720.
    """
    demand("seconds for a piece", piece_s, above=0)
    demand("revolutions", revolutions, least=1)
    return HOUR_S / piece_s / revolutions


def seconds_from_pcs_h(pcs_h: float) -> float:
    """Seconds from one piece to the next at `pcs_h` pieces an hour. "Evaluating ink", Printwear, May 2014."""
    demand("pieces an hour", pcs_h, above=0)
    return HOUR_S / pcs_h


def paced_pcs_h(pcs_h: float, *, garment: float = 1.0, crew: float = 1.0) -> float:
    """Pieces an hour for a kind of garment and a crew, both as a fraction of full speed (0.75 for fleece, say).

    Fractions above 0 and at most 2. Shop settings; common practice, no source.
    """
    demand("pieces an hour", pcs_h, above=0)
    demand("garment factor", garment, above=0, most=2)
    demand("crew factor", crew, above=0, most=2)
    return pcs_h * garment * crew


def whole_pcs_h(pcs_h: float) -> int:
    """A rate as people read it: whole pieces, rounded down, at least 1."""
    demand("pieces an hour", pcs_h, above=0)
    return max(1, down(pcs_h))


def run_minutes(pieces: int, pcs_h: float, locations: int = 1) -> float:
    """Minutes to print `pieces` in each of `locations` set-ups, not rounded. Images (UK), August 2018, p. 33."""
    demand("pieces", pieces)
    demand("pieces an hour", pcs_h, above=0)
    demand("locations", locations)
    return locations * pieces * HOUR_MIN / pcs_h


def print_minutes(pieces: int, pcs_h: float) -> int:
    """Whole press minutes to print `pieces`, rounded up."""
    return up(run_minutes(pieces, pcs_h))


def part_minutes(parts: Sequence[tuple[int, float]]) -> tuple[int, ...]:
    """Whole press minutes of each part of a run, given as (pieces, pieces an hour), printed one after the other.

    Only the end of the run is rounded up: the parts sum to the run's minutes rounded up once, so ten small lots do not
    cost ten roundings. A very small part may come out as 0.
    """
    ends = [0]
    exact_min = 0.0
    for pieces, pcs_h in parts:
        exact_min += run_minutes(pieces, pcs_h)
        ends.append(up(exact_min))
    return tuple(end - start for start, end in pairwise(ends))


def pieces_in(minutes: float, pcs_h: float) -> int:
    """Whole pieces printed in some minutes, rounded down."""
    demand("minutes", minutes)
    demand("pieces an hour", pcs_h, above=0)
    return down(minutes * pcs_h / HOUR_MIN)


def flash_minutes(flash_s: float, pieces: int, flashes: int = 1) -> float:
    """Minutes of a run spent under the flash: seconds x pieces x flashes / 60. "Evaluating ink", Printwear, May 2014.

    On an automatic these minutes run beside the other stations; see `automatic_cycle_s`.
    """
    demand("flash seconds", flash_s)
    demand("pieces", pieces)
    demand("flashes", flashes)
    return flash_s * pieces * flashes / HOUR_MIN


def heads_needed(printing: int, flashes: int, *, flash_in_head: bool, cool_down_head: bool) -> int:
    """Heads a run takes: one for each printing head, and for each flash one if it sits in a head, one to cool down.

    "Optimize Your Flash Curing", Screen Printing: 16 inks, each flashed and cooled, take 48 heads.
    """
    demand("printing heads", printing)
    demand("flashes", flashes)
    return printing + flashes * (flash_in_head + cool_down_head)


def flat_set_up_min(screens: int, screen_min: float, locations: int = 1) -> float:
    """Set-up minutes at so much a screen, whatever stood on the press: locations x screens x minutes.

    For comparing with what is published (Images (UK), August 2018, p. 33; February 2018, p. 32); a plan uses
    `trade.set_up`, where the run before counts.
    """
    demand("screens", screens)
    demand("minutes a screen", screen_min)
    demand("locations", locations)
    return locations * screens * screen_min


def effective_pcs_h(pieces: int, set_up_min: float, run_min: float) -> float:
    """Pieces an hour with the set-up counted in. "Screen Room Efficiency", J. Clarke, Printwear."""
    demand("pieces", pieces)
    demand("set-up minutes", set_up_min)
    demand("run minutes", run_min, above=0)
    return pieces * HOUR_MIN / (set_up_min + run_min)
