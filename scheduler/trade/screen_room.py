"""The screen room's arithmetic: exposures, burn and tape minutes, screens a shift needs, screens a person makes.

Minutes per screen are shop settings: published ones range too widely to build in. Start values only; emulsion makers'
data sheets win. Source of what is published: "High-Volume Screenmaking", J. Willey, Screen Printing, December 1999.
"""

from __future__ import annotations

from collections.abc import Iterable

from scheduler.trade.rounding import demand, down, up


def exposures(screens: int, per_exposure: int) -> int:
    """Exposures a set takes when `per_exposure` screens fit the unit at once, rounded up."""
    demand("screens", screens)
    demand("screens in one exposure", per_exposure, least=1)
    return -(-screens // per_exposure)


def burn_minutes(screens: int, *, per_exposure: int, expose_min: float, wash_out_min: float) -> int:
    """Whole minutes to expose a set and wash it out, one person: exposures x expose + screens x wash out, rounded up.

    expose_min is per exposure, wash_out_min per screen. Common practice, no source.
    """
    demand("minutes an exposure", expose_min)
    demand("minutes a wash-out", wash_out_min)
    return up(exposures(screens, per_exposure) * expose_min + screens * wash_out_min)


def tape_minutes(screens: int, tape_each_min: float) -> int:
    """Whole minutes to block out and tape a set, rounded up."""
    demand("screens", screens)
    demand("minutes to tape a screen", tape_each_min)
    return up(screens * tape_each_min)


def screens_in_window(length_min: float, each_min: float, places: int | None = None) -> int:
    """Screens one person coats or reclaims in a booked time, whole ones, at most `places` if given."""
    demand("booked minutes", length_min)
    demand("minutes a screen", each_min, above=0)
    done = down(length_min / each_min)
    if places is None:
        return done
    demand("places", places)
    return min(done, places)


def screens_needed(presses: Iterable[tuple[int, int]]) -> int:
    """Screens a shift needs: over the presses, given as (colours of a set-up, set-ups), the sum of their products.

    "High-Volume Screenmaking", Screen Printing, December 1999: six presses come to 132.
    """
    total = 0
    for colours, set_ups in presses:
        demand("colours", colours)
        demand("set-ups", set_ups)
        total += colours * set_ups
    return total


def screens_per_person(screens: int, people: int, hours: float = 1.0) -> float:
    """Screens a person makes an hour (or a shift: leave hours at 1).

    "High-Volume Screenmaking", Screen Printing, December 1999: 100 a shift with four people.
    """
    demand("screens", screens)
    demand("people", people, least=1)
    demand("hours", hours, above=0)
    return screens / people / hours


def labour_hours(screens: int, screens_person_hour: float) -> float:
    """Hours of one person that a number of screens takes."""
    demand("screens", screens)
    demand("screens a person and hour", screens_person_hour, above=0)
    return screens / screens_person_hour
