"""What one answer says: a press, a flash, a dryer, a person, frames, a carrier, opening hours.

Each function takes the text somebody typed and raises a CellError that says what to write; units and clock times are
read by what reads shop.toml, so that nothing is accepted here that is refused there.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from scheduler.inputs import cells, moments, units
from scheduler.inputs.faults import CellError, key_of, quoted
from scheduler.inputs.shop_floor import AUTOMATIC, FLASH_PLACES, MANUAL, OVER
from scheduler.inputs.shop_people import COLLECTED

MOST_PRESSES = 12
MOST_HEADS = 40
NOTHING = ("none", "nothing", "no", "-", "nobody", "empty")
THREADS_PER_INCH = 2.54
"""Threads an inch for one thread a centimetre: 77T is 196 threads an inch."""

DUTIES = ("print", "catch", "screens", "stage", "pack")
DUTY_WORDS = {
    "print": "print", "prints": "print", "printing": "print", "printer": "print", "press": "print",
    "catch": "catch", "catches": "catch", "catching": "catch", "catcher": "catch",
    "screens": "screens", "screen": "screens", "screen room": "screens", "burns": "screens", "burn": "screens",
    "stage": "stage", "stages": "stage", "staging": "stage",
    "pack": "pack", "packs": "pack", "packing": "pack", "packer": "pack", "folds": "pack", "fold": "pack",
}  # fmt: skip
EVERYTHING = ("everything", "all", "all of it")


@dataclass(frozen=True, slots=True, kw_only=True)
class PressTold:
    """A press: automatic or manual, print heads (screens of a manual)."""

    kind: str
    heads: int


@dataclass(frozen=True, slots=True, kw_only=True)
class FlashTold:
    """How many flashes stand on a press, and where."""

    count: int
    place: str = OVER


@dataclass(frozen=True, slots=True, kw_only=True)
class DryerTold:
    """A dryer; heated and belt as typed, with their units."""

    name: str
    heated: str
    belt: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DayTold:
    """Opening hours of some weekdays (0 = Monday)."""

    weekdays: tuple[int, ...]
    shift: moments.Shift


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonTold:
    """Somebody who works here; hours as typed for shop.toml, "" for the shop's."""

    name: str
    duties: tuple[str, ...]
    hours: tuple[DayTold, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FramesTold:
    """Frames of one size and mesh (threads an inch), and how many hang coated."""

    size: str
    mesh: int
    count: int
    coated: int


@dataclass(frozen=True, slots=True, kw_only=True)
class OnPressTold:
    """What stands on a press: a design's screens ("" if none is named) and inks; both empty for nothing."""

    design: str = ""
    inks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CarrierTold:
    """A carrier: days and time of the pick-up as typed, days in transit."""

    name: str
    days: str
    pick_up: str
    transit: int


@dataclass(frozen=True, slots=True, kw_only=True)
class MoneyTold:
    """The shop's money in three letters, and whether it measures in centimetres."""

    currency: str
    is_metric: bool


def money(text: str, *, is_metric: bool) -> MoneyTold:
    """Money and lengths: "EUR, cm", "usd inches", or the money alone; is_metric where no unit is named."""
    words = [word for word in re.split(r"[\s,;/]+", text) if word]
    letters = [word.upper() for word in words if re.fullmatch(r"[A-Za-z]{3}", word)]
    lengths = [word for word in words if re.fullmatch(r"in|ins|inch|inches|ft|cm|mm|m|metric", word, re.IGNORECASE)]
    letters = [word for word in letters if word not in {one.upper() for one in lengths}]
    if len(letters) != 1 or len(letters) + len(lengths) != len(words):
        raise CellError("not_money", f"{quoted(text)} is no money", "write three letters and a unit, as EUR, cm")
    is_inches = any(word.lower().startswith(("in", "ft")) for word in lengths)
    return MoneyTold(currency=letters[0], is_metric=not is_inches if lengths else is_metric)


def hours(text: str) -> tuple[DayTold, ...]:
    """Opening hours: "mon-fri 08:00-12:00, 12:30-16:30; sat 09:00-12:00". Days that are not named are closed."""
    found: list[DayTold] = []
    for part in (one.strip() for one in text.split(";") if one.strip()):
        split = re.match(r"(?P<days>[^0-9]*?)\s*(?P<line>[0-9].*|closed)$", part, re.IGNORECASE)
        if split is None:
            raise CellError("not_hours", f"{quoted(part)} is no opening hours", "write them as mon-fri 08:00-16:30")
        days = moments.weekdays(split["days"].rstrip(" :")) if split["days"].strip(" :") else (0, 1, 2, 3, 4)
        shift = moments.hours_line(split["line"])
        twice = {day for one in found for day in one.weekdays} & set(days)
        if twice:
            day = moments.WEEKDAYS[min(twice)].capitalize()
            raise CellError("day_twice", f"{day} stands there twice", "name every weekday once")
        if shift is not None:
            found.append(DayTold(weekdays=days, shift=shift))
    if not found:
        raise CellError("never_open", "the shop would never be open", "write its hours as mon-fri 08:00-16:30")
    return tuple(found)


def lunch(text: str) -> tuple[int, int] | None:
    """A lunch break, "12:00-12:30", in minutes of the day; None for none."""
    if key_of(text) in NOTHING:
        return None
    shift = moments.hours_line(text)
    if shift is None or shift.breaks or shift.to_min - shift.from_min > 240:
        raise CellError("not_lunch", f"{quoted(text)} is no lunch break", "write it as 12:00-12:30, or none")
    return shift.from_min, shift.to_min


def moment(text: str, zone: str) -> str:
    """A day and a clock time, as shop.toml has it: "2026-03-02 08:00"."""
    return f"{moments.moment(ZoneInfo(zone))(text):%Y-%m-%d %H:%M}"


def press(text: str) -> PressTold:
    """A press: "manual 4", "automatic, 8 heads"."""
    kind = re.search(r"\b(?:(auto(?:matic)?|a)|(manual|m|hand))\b", text, re.IGNORECASE)
    number = re.search(r"[0-9]+", text)
    heads = int(number[0]) if number and len(number[0]) < 4 else 0
    if kind is None or not 1 <= heads <= MOST_HEADS:
        raise CellError("not_a_press", f"{quoted(text)} is no press", "write it as manual 4, or automatic 8")
    return PressTold(kind=AUTOMATIC if kind[1] else MANUAL, heads=heads)


def flash(text: str, kind: str) -> FlashTold:
    """Flashes: "1", "2 in a head", "none". On a manual they stand over a pallet."""
    if key_of(text) in NOTHING:
        return FlashTold(count=0)
    split = re.fullmatch(r"(?P<count>[0-9]{1,2})?\s*,?\s*(?P<place>[a-z ]*)", key_of(text))
    place = OVER if split is None or not split["place"] else FLASH_PLACES.get(split["place"].removeprefix("flashes "))
    if split is None or place is None or (kind == MANUAL and place != OVER):
        hint = (
            "write how many, as 1 or none" if kind == MANUAL else f"write it as 1 {', 1 '.join(FLASH_PLACES)} or none"
        )
        raise CellError("not_a_flash", f"{quoted(text)} does not tell the flashes", hint)
    count = int(split["count"] or 1)
    if count > 20:
        raise CellError("too_many", f"{count} flashes are more than a press takes", "write how many stand on it")
    return FlashTold(count=count, place=place)


def dryer(text: str) -> DryerTold:
    """A dryer: "8 ft x 36 in", "long: 4 m x 120 cm", "250 x 90 cm": heated length by belt width."""
    name, _, size = text.rpartition(":")
    parts = [part.strip() for part in re.split(r"\s+(?:x|by)\s+|×|(?<=[0-9a-z])x(?=[0-9])", size, flags=re.IGNORECASE)]
    if len(parts) != 2:
        hint = "write the heated length and the belt width, as 8 ft x 36 in"
        raise CellError("not_a_dryer", f"{quoted(text)} is no dryer", hint)
    if re.fullmatch(r"[0-9.,]+", parts[0]) and (unit := re.search(r"[A-Za-z\"″]+\.?$", parts[1])):
        parts[0] = f"{parts[0]} {unit[0]}"
    read = units.length_in(example="8 ft x 36 in")
    for part in parts:
        read(part)
    return DryerTold(name=cells.name(name), heated=parts[0], belt=parts[1])


def person(text: str, open_days: tuple[DayTold, ...]) -> PersonTold:
    """Somebody: "Marta: print, stage", with own hours behind a semicolon: "Kit: pack; 09:00-14:00"."""
    name, _, rest = text.partition(":")
    duties, _, own = rest.partition(";")
    found: list[str] = []
    for word in (key_of(one) for one in re.split(r",|\+|/|\band\b", duties) if one.strip()):
        if word in EVERYTHING:
            found += DUTIES
        elif word in DUTY_WORDS:
            found.append(DUTY_WORDS[word])
        else:
            hint = "write print, catch, screens, stage, pack or everything"
            raise CellError("no_such_duty", f"{quoted(word)} is not known", hint)
    if not name.strip() or not found:
        raise CellError("not_a_person", f"{quoted(text)} is no name with duties", "write it as Marta: print, screens")
    own_hours: tuple[DayTold, ...] = ()
    if own.strip():
        has_days = re.match(r"[^0-9]*[a-z]", own.strip(), re.IGNORECASE) is not None
        own_hours = hours(own)
        if not has_days:
            days = tuple(sorted({day for one in open_days for day in one.weekdays}))
            own_hours = (DayTold(weekdays=days or own_hours[0].weekdays, shift=own_hours[0].shift),)
    return PersonTold(name=cells.name(name), duties=tuple(dict.fromkeys(found)), hours=own_hours)


def frames(text: str) -> FramesTold:
    """Frames: "20x24, 156 mesh: 15, 6 coated"; a mesh such as 62T is in threads a centimetre."""
    hint = "write size, mesh, how many and how many hang coated, as 20x24 156: 15, 6"
    sized = re.match(r"\s*([0-9.]+\s*[x×]\s*[0-9.]+(?:\s*(?:cm|in)\b)?)", text, re.IGNORECASE)
    numbers = re.findall(r"([0-9]+)\s*([Tt]\b)?", text[sized.end() :]) if sized else []
    if sized is None or len(numbers) not in (2, 3):
        raise CellError("not_frames", f"{quoted(text)} does not tell the frames", hint)
    mesh = cells.whole(least=10, most=600, example="156")(numbers[0][0])
    if numbers[0][1]:
        mesh = round(mesh * THREADS_PER_INCH)
    count = cells.whole(most=100_000, example="15")(numbers[1][0])
    coated = cells.whole(most=100_000, example="6")(numbers[2][0]) if len(numbers) == 3 else 0
    if coated > count:
        raise CellError("too_many_coated", f"{coated} coated are more than {count} frames", hint)
    size = re.sub(r"\s*[x×]\s*", "x", " ".join(sized[1].split()), flags=re.IGNORECASE)
    return FramesTold(size=size, mesh=mesh, count=count, coated=coated)


def on_press(text: str, heads: int) -> OnPressTold:
    """What stands on a press: "stout mug: white, gold", "black, red", or nothing."""
    if key_of(text) in NOTHING:
        return OnPressTold()
    design, _, inks = text.rpartition(":")
    named = cells.names(inks)
    if len(named) > heads:
        hint = "write what stands on it, in print order, or nothing"
        raise CellError("too_many_inks", f"{len(named)} inks stand on {heads} heads", hint)
    return OnPressTold(design=cells.name(design), inks=named)


def burned(text: str) -> tuple[str, ...]:
    """Designs with commas between: "mill loaf, vet paw"; or none."""
    return () if key_of(text) in NOTHING else cells.names(text)


def carrier(text: str) -> CarrierTold:
    """A carrier: "Parcel Van: mon-fri 16:00, 2 days"; days in transit where they are not 1."""
    split = re.fullmatch(
        r"(?P<name>[^:]+):\s*(?P<days>[^0-9]*?)\s*(?P<at>[0-9]{1,2}[:.h][0-9]{2}(?:\s*[ap]\.?m\.?)?)"
        r"(?:\s*[,;]?\s*(?P<transit>[0-9]{1,2})\s*(?:days?)?(?:\s+in\s+transit)?)?",
        text.strip(),
        re.IGNORECASE,
    )
    if split is None:
        hint = "write name, days, time and days in transit, as Parcel Van: mon-fri 16:00, 2 days"
        raise CellError("not_a_carrier", f"{quoted(text)} does not tell a carrier's pick-up", hint)
    name = cells.name(split["name"])
    if key_of(name) == COLLECTED:
        hint = "write none: clients may always collect"
        raise CellError("reserved", f"{quoted(name)} means that the client fetches the goods", hint)
    moments.clock(split["at"])
    days = split["days"].strip(" ,") or "mon-fri"
    moments.weekdays(days)
    return CarrierTold(name=name, days=days, pick_up=split["at"], transit=int(split["transit"] or 1))
