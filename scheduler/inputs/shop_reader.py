"""The shop's settings, from shop.toml or the Shop sheet, to a Shop; what only reading needs comes along.

Presses, dryers and the screen room are read in `shop_floor`, people, carriers, overtime and closures in `shop_people`.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache, partial
from typing import TypeVar
from zoneinfo import ZoneInfo, available_timezones

from scheduler.domain.chances import Chances
from scheduler.domain.shop import (
    A4,
    LETTER,
    METRIC,
    US,
    Closure,
    Defaults,
    Frames,
    Hours,
    InkFamily,
    MoneySettings,
    PaperSettings,
    Shop,
)
from scheduler.inputs import cells, moments, units
from scheduler.inputs.assumed import Assumed
from scheduler.inputs.faults import CellError, Faults, key_of, nearest, quoted
from scheduler.inputs.hours import read_hours
from scheduler.inputs.ink_families import START_VALUES, family_name
from scheduler.inputs.shop_floor import dryers, flash_pools, presses, screen_room
from scheduler.inputs.shop_people import carriers, closures, holiday_closures, leads_and_stays, overtime, people
from scheduler.inputs.shop_section import Reading, Section
from scheduler.inputs.shop_tree import Tree
from scheduler.inputs.stations import stations

T = TypeVar("T")

FIRMNESS = {"firm": "firm", "normal": "normal", "easy": "easy"}
WAYS_OF_WHITE = {"two screens": "two screens", "same screen twice": "same screen twice"}
UNITS = {"us": US, "metric": METRIC}
SHEET_SIZES = {"a4": A4, "letter": LETTER}
UTC_ZONE = ZoneInfo("UTC")
HOLIDAYS_BEYOND_DAYS = 60

_NAMES = (
    r"(?P<section>press|dryer|flash_pool|person|carrier|ink|frames|screen_room|stations)"
    r"(?:\.[0-9]+\.(?:id|name|size|mesh|(?P<roles>roles)))?$"
)
"""Settings that name something others refer to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopRead:
    """A shop as read.

    zone, dates: how moments are meant. now: the planning moment, None if it is faulty. file: what messages call the
    settings. in_doubt: sections with a faulty name in them; a name that seems to be missing there may be that one.
    """

    shop: Shop
    zone: ZoneInfo
    dates: str
    now: datetime | None
    file: str
    in_doubt: frozenset[str] = frozenset()


def read_shop(file: str, tree: Tree, faults: Faults, assumed: Assumed) -> ShopRead:
    """The shop told by a tree of settings. Faults are noted; the Shop is whole even then, with stand-ins in it."""
    top = Section(reading=Reading(file=file, faults=faults, assumed=assumed), tree=tree)
    zone = top.needed("zone", zone_of, UTC_ZONE)
    dates = top.maybe("dates", cells.choice(moments.DATE_ORDERS, "order of day and month"))
    if dates is None:
        dates = moments.EITHER if top.has("dates") else ""
    read_moment = moments.moment(zone, dates)
    now = top.needed("plan_from", read_moment, None)
    plan_from = (now or datetime(2026, 1, 5, 7, tzinfo=zone)).replace(second=0, microsecond=0)
    days_ahead = top.take("days_ahead", cells.whole(least=1, most=60, example="14"))
    money = _money(top)
    hours = _shop_hours(top)
    staging, finishing = _off_the_press(top, "staging"), _off_the_press(top, "finishing")
    found_presses = presses(top)
    workers = people(top, moments.days(dates))
    covers, least_stay_min = leads_and_stays(top, found_presses, bool(workers))
    shop = Shop(
        name=top.needed("name", cells.name, "shop"),
        zone=zone.key,
        plan_from=plan_from,
        days_ahead=days_ahead,
        hours=hours,
        presses=found_presses,
        dryers=dryers(top),
        flash_pools=flash_pools(top),
        people=workers,
        lead_covers=covers,
        least_stay_min=least_stay_min,
        screen_room=screen_room(top, cells.money(money.currency), len(found_presses)),
        frames=_frames(top),
        stations=stations(top),
        carriers=carriers(top),
        closures=closures(top, zone, dates) + _holidays(top, plan_from, days_ahead, zone),
        overtime=overtime(top, moments.day(dates), cells.money(money.currency)),
        families=_families(top),
        dark_inks=_default(top, "dark_inks", cells.words),
        money=money,
        chances=_chances(top),
        defaults=_defaults(top),
        stage_min=0 if staging is None else staging.take("minutes", units.whole_minutes(most=480)),
        stage_crew=() if staging is None else staging.take("crew", cells.crew),
        finish_crew=() if finishing is None else finishing.take("crew", cells.crew),
        packing_hours=None if finishing is None else read_hours(finishing),
        dont_touch_before=top.maybe("dont_touch_before", read_moment),
        room_kept_free_min=_kept_free(top).take("minutes", units.whole_minutes(most=480)),
        paper=_paper(top),
    )
    typed = [top.inner(name) for name in ("money", "defaults", "outlook", "paper")]
    told = (top, staging, finishing, *typed, _kept_free(top))
    for section in told:
        if section is not None:
            section.warn_unknown()
    return ShopRead(shop=shop, zone=zone, dates=dates, now=now, file=file, in_doubt=_in_doubt(faults, file))


def _in_doubt(faults: Faults, file: str) -> frozenset[str]:
    """Sections whose names cannot be trusted: one is faulty, or the section is no table."""
    told = (re.match(_NAMES, one.column or "") for one in faults.problems if one.file == file and not one.is_warning)
    return frozenset((match["roles"] or match["section"]) for match in told if match)


def _off_the_press(top: Section, name: str) -> Section | None:
    """The [staging] or [finishing] section; what is taken where it is missing is told."""
    section = top.inner(name)
    if section is None:
        what = {"staging": "carts take no time to put together", "finishing": "nobody is booked for packing"}[name]
        top.reading.assumed.add(f"no_{name}", f"{what}, assumed", "shop settings", "shop")
    return section


@lru_cache(maxsize=1)
def _zone_names() -> tuple[str, ...]:
    return tuple(sorted(available_timezones()))


def zone_of(text: str) -> ZoneInfo:
    """A time zone by its IANA name."""
    plain = text.strip()
    by_key = {key_of(one): one for one in _zone_names()}
    name = by_key.get(key_of(plain.replace(" ", "_")))
    if name is None:
        raise CellError("no_such_zone", f"{quoted(text)} is no time zone", f"did you mean {_near_zone(plain)}?")
    return ZoneInfo(name)


def _near_zone(text: str) -> str:
    """The zone of a city the text names, else the one spelled most alike."""
    cities = {name: key_of(name.rpartition("/")[2].replace("_", " ")) for name in _zone_names() if "/" in name}
    named = (name for name, city in cities.items() if re.search(rf"\b{re.escape(city)}\b", key_of(text)))
    return next(named, None) or nearest(text, cities) or "Europe/Lisbon"


def _shop_hours(top: Section) -> Hours:
    if not top.has("hours"):
        hint = 'write [hours] and below it mon-fri = "07:00-12:00, 12:30-16:00"'
        top.reading.faults.add(top.place("hours"), "missing", "is missing", hint)
        return ()
    return read_hours(top, tell=True) or ()


def _money(top: Section) -> MoneySettings:
    """What things cost; amounts in the shop's currency. Nothing typed: start values, told as assumptions."""
    section = top.inner("money") or Section(reading=top.reading, tree={}, kind="money", path="money")
    currency = section.maybe("currency", _currency) or ""
    amount = cells.money(currency)
    return MoneySettings(
        currency=currency,
        late_firm_cents=section.take("late_firm", amount),
        late_normal_cents=section.take("late_normal", amount),
        late_easy_cents=section.take("late_easy", amount),
        cushion_cents=section.take("cushion", amount),
        cushion_min=section.take("cushion_within", units.whole_minutes(most=2_880)),
        person_hour_cents=section.take("person_hour", amount),
        move_cents=section.take("move", amount),
        move_free_min=section.take("move_free", units.whole_minutes(most=2_880)),
    )


def _chances(top: Section) -> Chances:
    """How far days stray from the plan. Its start values are told with the outlook, not here."""
    section = top.inner("outlook")
    if section is None:
        return Chances()
    take = partial(section.take, tell=False)
    share, spread = cells.number(most=100, example="5 %"), cells.number(most=200, example="20 %")
    return Chances(
        set_up_spread=take("set_up_spread", spread) / 100,
        print_spread=take("print_spread", spread) / 100,
        spoil_chance=take("reprints", share) / 100,
        screen_chance=take("broken_screens", share) / 100,
        screen_min=take("screen_time", units.whole_minutes(most=1_440)),
        stop_per_hour=take("stops", share) / 100,
        stop_min=take("stop_time", units.whole_minutes(most=1_440)),
        blanks_chance=take("late_garments", share) / 100,
        art_chance=take("late_art", share) / 100,
        is_typed=True,
    )


def _paper(top: Section) -> PaperSettings:
    """How papers are written. Its start values stand on the papers, not among what a plan rests on."""
    section = top.inner("paper")
    if section is None:
        return PaperSettings()
    take = partial(section.take, tell=False)
    return PaperSettings(
        units=take("units", cells.choice(UNITS, "kind of units")),
        size=take("size", cells.choice(SHEET_SIZES, "size of a sheet")),
        coverage_pct=take("coverage", cells.number(least=1, most=100, example="60 %")),
        screen_sheet_min=take("screen_sheet", moments.clock),
    )


def _currency(text: str) -> str:
    plain = text.strip().upper()
    if len(plain) != 3 or not plain.isascii() or not plain.isalpha():
        raise CellError("not_a_currency", f"{quoted(text)} is no currency", "write three letters, as EUR")
    return plain


def _defaults_section(top: Section) -> Section:
    return top.inner("defaults") or Section(reading=top.reading, tree={}, kind="defaults", path="defaults")


def _kept_free(top: Section) -> Section:
    name = "room_kept_free"
    return top.inner(name) or Section(reading=top.reading, tree={}, kind=name, path=name)


def _default(top: Section, name: str, parse: Callable[[str], T]) -> T:
    return _defaults_section(top).take(name, parse)


def _defaults(top: Section) -> Defaults:
    """What is assumed where the sheet is silent. Its own start values are told where they are used, not here."""
    section = _defaults_section(top)
    take = partial(section.take, tell=False)
    mesh = cells.whole(least=10, most=600, example="156")
    return Defaults(
        family=take("family", family_name),
        firmness=take("firm", cells.choice(FIRMNESS, "firmness")),
        white_on_dark=take("white_on_dark", cells.choice(WAYS_OF_WHITE, "way to print white")),
        mesh_base=take("mesh_base", mesh),
        mesh_white=take("mesh_white", mesh),
        mesh_colour=take("mesh_colour", mesh),
        spare_pct=section.take("spare", cells.number(most=50, example="2 %")),
        garment_pct=_garments(section),
        carrier=take("carrier", cells.name),
        print_width_in=section.take("width", units.length_in(most=100)),
        print_height_in=section.take("height", units.length_in(most=100, example="14 in")),
        finish_each_s=take("finish_each", units.seconds(example="15 s")),
        finish_lag_min=section.take("finish_lag", units.whole_minutes(most=2_880)),
        last_box_min=section.take("last_box", units.whole_minutes(most=2_880, example="5 min")),
        between_min=section.take("between", units.whole_minutes(most=2_880)),
    )


def _garments(section: Section) -> tuple[tuple[str, int], ...]:
    """Garment kinds and their speed; kinds the shop does not name keep their start values."""
    known = dict(Defaults().garment_pct)
    table = section.inner("garments")
    for name, leaf in () if table is None else table.items():
        speed = table.parsed(name, leaf, cells.number(least=5, most=300, example="75 %")) if table else None
        known[key_of(name)] = round(speed) if speed is not None else 100
    if table is None:
        shown = ", ".join(f"{kind} {speed} %" for kind, speed in known.items())
        section.reading.assumed.add(
            "default defaults.garments", f"press speed: {shown} assumed", "shop settings", "shop"
        )
    return tuple(known.items())


PLAIN_INK = START_VALUES["plastisol"]
"""Whose degrees a family of the shop's own is taken to need."""


def _families(top: Section) -> tuple[InkFamily, ...]:
    """Ink families the shop describes; a known family may be described in part, the rest are start values."""
    table = top.inner("ink")
    found: dict[str, InkFamily] = {}
    for typed, section in () if table is None else table.tables():
        name = family_name(typed)
        section.label, section.counted = name, "ink families"
        start = START_VALUES.get(name)
        for setting, shown in (
            ("tunnel", start and f"{start.tunnel_s} s"),
            ("flash", start and f"{start.flash_s:g} s"),
        ):
            if start is not None and not section.has(setting):
                text = f"{setting} {shown} assumed for {name}"
                top.reading.assumed.add("ink_family", text, "ink families", name)
        tunnel, flash = units.whole_seconds(least=1), units.seconds()
        life_min = _pot_life(section, start)
        found[name] = InkFamily(
            name=name,
            tunnel_s=(section.maybe("tunnel", tunnel) or start.tunnel_s)
            if start
            else section.needed("tunnel", tunnel, 60),
            flash_s=_or(section.maybe("flash", flash), start.flash_s) if start else section.needed("flash", flash, 7.0),
            idle_ok_min=_idle(section, start),
            cure_f=section.maybe("cure", units.temperature_f) or (start or PLAIN_INK).cure_f,
            most_tunnel_s=section.maybe("longest_tunnel", tunnel) or (start.most_tunnel_s if start else None),
            pot_life_min=life_min,
            remix_min=section.take("remix", units.whole_minutes(most=480, example="10 min"), tell=life_min is not None),
        )
        section.warn_unknown()
    return tuple(found.values())


def _or(value: float | None, otherwise: float) -> float:
    return otherwise if value is None else value


def _idle(section: Section, start: InkFamily | None) -> int | None:
    if section.has("idle_ok"):
        return section.maybe("idle_ok", units.idle_min)
    minutes = start.idle_ok_min if start else None
    stands = "may stand overnight" if minutes is None else f"may stand {minutes} min"
    section.reading.assumed.add(
        "ink_family", f"{section.label} {stands} in the mesh, assumed", "ink families", section.label
    )
    return minutes


def _pot_life(section: Section, start: InkFamily | None) -> int | None:
    if section.has("pot_life"):
        return section.maybe("pot_life", units.pot_life_min)
    minutes = start.pot_life_min if start else None
    if minutes is not None:
        section.reading.assumed.add(
            "ink_family",
            f"{section.label} is mixed anew after {minutes} min of printing, assumed",
            "ink families",
            section.label,
        )
    return minutes


def _frames(top: Section) -> tuple[Frames, ...]:
    """Frames by size and mesh; one kind listed twice, or more coated than there are, is a fault."""
    found: dict[tuple[str, int], Frames] = {}
    for section in top.several("frames", "frame kinds"):
        one = Frames(
            size=section.needed("size", cells.name, section.path),
            mesh=section.needed("mesh", cells.whole(least=10, most=600, example="156"), -len(found)),
            count=section.needed("count", cells.whole(most=100_000, example="80"), 100_000),
            coated=section.take("coated", cells.whole(most=100_000, example="26")),
            ink_cm3_m2=section.maybe("ink_volume", cells.number(least=1, most=1_000, example="25")),
        )
        section.warn_unknown()
        faults, key = section.reading.faults, (key_of(one.size), one.mesh)
        if key in found:
            message = f"frames {one.size} with {one.mesh} mesh stand here twice"
            faults.add(section.place("size"), "twice", message, "add them up in one [[frames]]")
        if one.coated > one.count:
            message = f"{one.coated} coated are more than the {one.count} frames there are"
            faults.add(section.place("coated"), "too_many_coated", message, f"write {one.count} or less")
        found[key] = one
    return tuple(found.values())


def _holidays(top: Section, plan_from: datetime, days_ahead: int, zone: ZoneInfo) -> tuple[Closure, ...]:
    """Public holidays of the days planned over, and a while after them: transit days do not count them."""
    first = plan_from.date()
    last = first + timedelta(days=days_ahead + HOLIDAYS_BEYOND_DAYS)
    return top.maybe("holidays", partial(holiday_closures, first=first, last=last, zone=zone)) or ()
