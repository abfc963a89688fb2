"""The conveyor dryer's belt: speed, time in the heated tunnel, pieces an hour, and who shares it.

Lengths are inches, speeds inches a minute, times in the tunnel seconds. Times and temperatures are start values: the
ink maker's data sheets win. Sources of what is published:

- Organic Finishing Guidebook, Metal Finishing, 2012: oven length = belt speed x time.
- "Curing Oven Basics", K. Kraft, Products Finishing: belt speed from pieces an hour.
- M. Powell, Products Finishing: belt that passes in a day.
- "Evaluating ink", Printwear, May 2014, p. 90: 18 in of belt for an average garment; 12, 16 and 24 ft ovens.
"""

from __future__ import annotations

from scheduler.trade.rounding import demand, down, up

HOUR_MIN = 60
MINUTE_S = 60
WHOLE_BELT_PERMILLE = 1000


def belt_speed_in_min(heated_in: float, tunnel_s: float) -> float:
    """Belt speed, inches a minute, that holds a garment in the tunnel for `tunnel_s`: heated length / time."""
    demand("heated length", heated_in, above=0)
    demand("seconds in the tunnel", tunnel_s, above=0)
    return heated_in * MINUTE_S / tunnel_s


def belt_length_in(speed_in_min: float, time_s: float) -> float:
    """Belt that passes in a time, and so the tunnel needed for it: speed x time.

    Organic Finishing Guidebook, Metal Finishing, 2012: 3 to 5 min at 4 ft a minute need 12 to 20 ft.
    """
    demand("belt speed", speed_in_min, above=0)
    demand("seconds", time_s)
    return speed_in_min * time_s / MINUTE_S


def tunnel_time_s(heated_in: float, speed_in_min: float) -> float:
    """Seconds a garment is in the tunnel at a belt speed: heated length / speed."""
    demand("heated length", heated_in, above=0)
    demand("belt speed", speed_in_min, above=0)
    return heated_in * MINUTE_S / speed_in_min


def lanes(belt_width_in: float, lane_in: float) -> int:
    """Garments side by side on the belt: belt width / one garment's width with its gap, rounded down.

    0 where the garment is wider than the belt: it does not fit. Common practice, no source.
    """
    demand("belt width", belt_width_in, above=0)
    demand("lane width", lane_in, above=0)
    return down(belt_width_in / lane_in)


def belt_pcs_h(speed_in_min: float, pitch_in: float, lane_count: int = 1) -> float:
    """Pieces an hour a belt takes: speed x 60 / pitch x lanes. pitch_in is the belt length of one garment."""
    demand("belt speed", speed_in_min, above=0)
    demand("pitch", pitch_in, above=0)
    demand("lanes", lane_count)
    return speed_in_min * HOUR_MIN / pitch_in * lane_count


def dryer_pcs_h(heated_in: float, tunnel_s: float, pitch_in: float, lane_count: int = 1) -> float:
    """Pieces an hour a dryer takes when each must be in the tunnel for `tunnel_s`."""
    return belt_pcs_h(belt_speed_in_min(heated_in, tunnel_s), pitch_in, lane_count)


def speed_for_rate_in_min(pcs_h: float, pitch_in: float, abreast: int = 1) -> float:
    """Belt speed, inches a minute, that carries a rate: pieces a minute / abreast x pitch.

    "Curing Oven Basics", K. Kraft, Products Finishing: 600 an hour, 2 abreast every 3 ft, need 15 ft a minute.
    """
    demand("pieces an hour", pcs_h)
    demand("pitch", pitch_in, above=0)
    demand("abreast", abreast, least=1)
    return pcs_h / HOUR_MIN / abreast * pitch_in


def belt_permille(pcs_h: float, belt_takes_pcs_h: float) -> int:
    """Share of a dryer's belt a rate fills, in permille, rounded up, at most 1000.

    A run faster than the belt fills all of it and is slowed down (`line_pcs_h`). Raises ValueError for a belt that
    takes nothing.
    """
    demand("pieces an hour", pcs_h)
    demand("pieces an hour of the belt", belt_takes_pcs_h, above=0)
    return min(WHOLE_BELT_PERMILLE, up(WHOLE_BELT_PERMILLE * pcs_h / belt_takes_pcs_h))


def line_pcs_h(press_pcs_h: float, belt_takes_pcs_h: float) -> float:
    """Pieces an hour of press and dryer together: the slower of the two. Raises ValueError if either takes nothing."""
    demand("pieces an hour of the press", press_pcs_h, above=0)
    demand("pieces an hour of the belt", belt_takes_pcs_h, above=0)
    return min(press_pcs_h, belt_takes_pcs_h)


def cure_minutes(tunnel_s: float) -> int:
    """Whole minutes from the press to the belt's end: seconds in the tunnel, rounded up to minutes."""
    demand("seconds in the tunnel", tunnel_s)
    return up(tunnel_s / MINUTE_S)


def celsius(fahrenheit: float) -> float:
    """Degrees Celsius of degrees Fahrenheit; nothing is colder than -459.67 degF."""
    demand("degrees Fahrenheit", fahrenheit, least=-459.67)
    return (fahrenheit - 32) * 5 / 9
