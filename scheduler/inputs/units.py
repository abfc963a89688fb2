"""Quantities with their units, through pint: "8 ft", "2.4 m", "7 s", "15 min", "300/h"."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache
from typing import Any

from scheduler.inputs.cells import decimal
from scheduler.inputs.faults import CellError, key_of, quoted

_PART = re.compile(r"(?P<number>[0-9][0-9.,'’]*)\s*(?P<unit>[A-Za-zµ]+\.?|[\"'″′])\s*")
_RATE = re.compile(r"(?P<number>[0-9][0-9.,'’ ]*?)\s*(?:pcs|pieces|shirts)?\s*(?:(?:/|per|an)\s*(?P<unit>[A-Za-z]+))?")
_OWN_NAMES = {'"': "inch", "″": "inch", "'": "foot", "′": "foot", "secs": "second", "mins": "minute", "hrs": "hour"}

_TEMPERATURE = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:deg(?:rees)?\s*|°\s*)?(f(?:ahrenheit)?|c(?:elsius)?)", re.I)
COOLEST_F, HOTTEST_F = 150, 500
"""No dryer cures a print outside these degrees Fahrenheit. Common practice, no source."""


@lru_cache(maxsize=1)
def _units() -> Any:
    """Pint's table of units, loaded when the first quantity is read: it takes a moment."""
    import pint

    return pint.UnitRegistry(cache_folder=None)


@lru_cache(maxsize=512)
def _factor(unit: str, target: str) -> float | None:
    """How many `target` one `unit` is; None if it is no unit, or one of something else."""
    units, plain = _units(), unit.rstrip(".")  # outside: a Pint that is broken is no fault of the cell
    own = _OWN_NAMES.get(plain.lower())  # signs among them, which are no words that Pint could read
    for spelling in (own,) if own else dict.fromkeys((plain, plain.lower())):
        try:
            return float(units.Quantity(1.0, spelling).to(target).magnitude)
        except (ArithmeticError, AssertionError, AttributeError, LookupError, SyntaxError, TypeError, ValueError):
            continue  # pint says "no such unit" and "a unit of something else" in all of these ways
    return None


def quantity(text: str, target: str, what: str, example: str) -> float:
    """The text as a number of `target`; parts add up ("1 h 30 min"). A bare 0 needs no unit."""
    plain = " ".join(text.split())
    if plain == "0":
        return 0.0
    total, at = 0.0, 0
    while at < len(plain):
        match = _PART.match(plain, at)
        if match is None:
            break
        amount = decimal(match["number"], has_thousandths=True)
        factor = _factor(match["unit"], target)
        if amount is None or factor is None:
            break
        total, at = total + float(amount) * factor, match.end()
    if plain and at == len(plain):
        return total
    bare = decimal(plain, has_thousandths=True)
    if bare is not None:
        raise CellError("no_unit", f"{quoted(text)} has no unit", f"write it with one, as {example}")
    raise CellError("not_a_quantity", f"{quoted(text)} is not {what}", f"write it as {example}")


def length_in(*, least: float = 0.1, most: float = 2_000.0, example: str = "12 in") -> Callable[[str], float]:
    """Reads a length; inches."""
    return _within("inch", "a length", least, most, example)


def seconds(*, least: float = 0.0, most: float = 3_600.0, example: str = "7 s") -> Callable[[str], float]:
    """Reads a short time; seconds."""
    return _within("second", "a time in seconds", least, most, example)


def minutes(*, least: float = 0.0, most: float = 20_160.0, example: str = "15 min") -> Callable[[str], float]:
    """Reads a time; minutes, parts of them allowed."""
    return _within("minute", "a time", least, most, example)


def whole_seconds(*, least: int = 0, most: int = 3_600, example: str = "60 s") -> Callable[[str], int]:
    """Reads a time; whole seconds."""
    return _whole(seconds(least=least, most=most, example=example), "second", "s")


def whole_minutes(*, least: int = 0, most: int = 20_160, example: str = "15 min") -> Callable[[str], int]:
    """Reads a time; whole minutes."""
    return _whole(minutes(least=least, most=most, example=example), "minute", "min")


def idle_min(text: str) -> int | None:
    """How long an ink may stand in the mesh: minutes, or None for "overnight"."""
    if key_of(text) in ("overnight", "any", "as long as it likes"):
        return None
    return whole_minutes(example="20 min, or overnight")(text)


def pot_life_min(text: str) -> int | None:
    """How long a mixed ink lasts: minutes, or None for "none", an ink that does not go off."""
    if key_of(text) == "none":
        return None
    return whole_minutes(least=1, most=2_880, example="6 h, or none")(text)


def rate_pcs_h(text: str) -> int:
    """Pieces an hour: "300/h", "5/min", or the number alone."""
    plain = " ".join(text.split())
    match = _RATE.fullmatch(plain)
    amount = decimal(match["number"], has_thousandths=False) if match else None
    hours = _factor(match["unit"], "hour") if match and match["unit"] else 1.0
    if amount is None or hours is None:
        raise CellError("not_a_rate", f"{quoted(text)} is not a rate", "write pieces an hour, as 300/h")
    rate = round(float(amount) / hours)
    if not 1 <= rate <= 5_000:
        raise CellError("out_of_range", f"{quoted(text)} is not between 1 and 5000 an hour", "write it as 300/h")
    return rate


def temperature_f(text: str) -> int:
    """A temperature with its scale, in whole degrees Fahrenheit: "320 degF", "160 °C"."""
    match = _TEMPERATURE.fullmatch(text.strip())
    degrees = float(match[1].replace(",", ".")) if match else 0.0
    if match and match[2].lower().startswith("c"):
        degrees = degrees * 9 / 5 + 32
    if not match or not COOLEST_F <= degrees <= HOTTEST_F:
        raise CellError(
            "not_a_temperature", f"{quoted(text)} is no temperature a dryer has", "write it as 320 degF or 160 degC"
        )
    return round(degrees)


def _within(target: str, what: str, least: float, most: float, example: str) -> Callable[[str], float]:
    def read(text: str) -> float:
        found = round(quantity(text, target, what, example), 6)
        if not least <= found <= most:
            message = f"{quoted(text)} is not between {least:g} and {most:g} {target}"
            raise CellError("out_of_range", message, f"write it as {example}")
        return found

    return read


def _whole(read: Callable[[str], float], what: str, unit: str) -> Callable[[str], int]:
    def read_whole(text: str) -> int:
        found = read(text)
        if found != int(found):
            raise CellError("not_whole", f"{quoted(text)} has parts of a {what}", f"write {round(found)} {unit}")
        return int(found)

    return read_whole
