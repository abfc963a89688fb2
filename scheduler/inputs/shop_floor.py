"""Presses, dryers and the screen room, from the shop's settings."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from scheduler.domain.calendars import Restart
from scheduler.domain.shop import Dryer, NowOn, Press, ScreenRoom
from scheduler.domain.week import FlashPool, SetUpMinutes
from scheduler.inputs import cells, units
from scheduler.inputs.faults import key_of, quoted
from scheduler.inputs.hours import read_hours
from scheduler.inputs.ink_families import family_name
from scheduler.inputs.moments import clock
from scheduler.inputs.shop_section import Section

AUTOMATIC, MANUAL = "automatic", "manual"
KINDS = {"automatic": AUTOMATIC, "auto": AUTOMATIC, "manual": MANUAL}
OVER, IN_A_HEAD, BETWEEN = "over a pallet", "in a head", "between heads"
FLASH_PLACES = {OVER: OVER, IN_A_HEAD: IN_A_HEAD, BETWEEN: BETWEEN}


def own_id(section: Section) -> str:
    """The id of a press, dryer or person; without one their name will do."""
    if not section.has("id") and section.has("name"):
        found = section.needed("name", cells.name, section.path)
    else:
        found = section.needed("id", cells.name, section.path)
    section.label = found
    return found


def told_twice(section: Section, name: str, own: str, seen: dict[str, str]) -> None:
    """Note a fault where two things of one section bear the same name."""
    other = seen.setdefault(key_of(own), section.path)
    if other != section.path:
        message = f"{quoted(own)} is the name of {other} already"
        section.reading.faults.add(section.place(name), "twice", message, "give each its own")


def presses(top: Section) -> tuple[Press, ...]:
    """Every [[press]]; a shop without one is a fault."""
    seen: dict[str, str] = {}
    found = []
    for section in top.several("press", "presses"):
        one = _press(section)
        told_twice(section, "id", one.press_id, seen)
        section.warn_unknown()
        found.append(one)
    if not found and not top.has("press"):
        hint = 'write [[press]] and below it id = "auto-1", kind = "automatic", heads = 8'
        top.reading.faults.add(top.place("press"), "missing", "is missing", hint)
    return tuple(found)


def _press(section: Section) -> Press:
    own = own_id(section)
    kind = section.needed("kind", cells.choice(KINDS, "kind of press"), AUTOMATIC)
    stated = section.maybe("stated_rate", units.rate_pcs_h)
    pallets = section.take("pallets", cells.names, tell=False)
    is_timed = stated is None
    is_automatic = kind == AUTOMATIC
    # Only what the arithmetic of this press will use is told: a manual has no index, a stated rate needs no seconds.
    timed = partial(section.take, parse=units.seconds(least=0.1, most=120, example="3 s"))
    flashes = section.take("flashes", cells.whole(most=20, example="1"))
    tell_flash = is_automatic and flashes > 0
    return Press(
        press_id=own,
        name=section.maybe("name", cells.name) or own,
        kind=kind,
        heads=section.needed("heads", cells.whole(least=1, most=40, example="8"), 40),
        flash_place=section.take("flash_place", cells.choice(FLASH_PLACES, "place of a flash"), tell=tell_flash),
        flashes=flashes,
        cool_down_head=section.take("cool_down_head", cells.yes_no, tell=tell_flash),
        flash_warm_up_min=section.take(
            "flash_warm_up", units.whole_minutes(most=240, example="10 min"), tell=flashes > 0
        ),
        index_s=timed("index", tell=is_timed and is_automatic),
        stroke_s=timed("stroke", tell=is_timed),
        load_s=timed("load", tell=is_timed),
        unload_s=timed("unload", tell=is_timed),
        swing_s=timed("swing", tell=is_timed and not is_automatic and flashes > 0),
        run_crew_pct=round(section.take("crew_speed", cells.number(least=10, most=300, example="80 %"), tell=is_timed)),
        stated_pcs_h=stated,
        max_width_in=section.maybe("max_width", units.length_in(most=200, example="16 in")),
        max_height_in=section.maybe("max_height", units.length_in(most=200, example="20 in")),
        frame_sizes=section.take("frame_sizes", cells.names, tell=False),
        pallets=pallets,
        families=tuple(family_name(one) for one in section.take("families", cells.names, tell=False)),
        dryer_id=_dryer_of(section),
        hours=read_hours(section),
        set_up=_set_up(section, has_pallets=bool(pallets), has_flash=flashes > 0),
        approval_min=section.take("approval", units.whole_minutes(most=480)),
        restart=_restart(section),
        set_up_crew=section.take("set_up_crew", cells.crew),
        run_crew=section.take("run_crew", cells.crew),
        now_on=_now_on(section),
        flash_pool=section.maybe("flash_pool", cells.name),
    )


def _dryer_of(section: Section) -> str | None:
    found = section.maybe("dryer", cells.name)
    if not section.has("dryer"):
        text = "no dryer named: the belt is taken never to be short"
        section.reading.assumed.add("no_dryer", text, "presses", section.label)
    return found


def _inner(section: Section, name: str) -> Section:
    """A table of a press, or an empty one whose settings are then all assumed."""
    found = section.inner(name)
    if found is None:
        found = Section(
            reading=section.reading,
            tree={},
            kind=f"{section.kind}.{name}",
            path=f"{section.path}.{name}",
            label=section.label,
            counted=section.counted,
        )
    return found


def _set_up(press: Section, *, has_pallets: bool, has_flash: bool) -> SetUpMinutes:
    section = _inner(press, "set_up")
    take = partial(section.take, parse=units.whole_minutes(most=240, example="5 min"))
    swap = section.maybe("swap", units.whole_minutes(most=240, example="1 min"))
    section.warn_unknown()
    return SetUpMinutes(
        mount_min=take("mount"),
        load_min=take("load"),
        card_min=take("card"),
        swap_min=swap,
        clean_light_min=take("clean_light", tell=swap is None),
        clean_dark_min=take("clean_dark", tell=swap is None),
        pallet_min=take("pallet", tell=has_pallets),
        flash_move_min=take("flash_move", tell=has_flash),
        strike_off_min=take("strike_off"),
    )


def _restart(press: Section) -> Restart:
    section = _inner(press, "restart")
    take = partial(section.take, parse=units.whole_minutes(most=240, example="2 min"))
    section.warn_unknown()
    return Restart(break_min=take("break"), night_min=take("night"))


def _now_on(press: Section) -> NowOn | None:
    """What stands on the press; nothing typed: it is taken to be empty."""
    section = press.inner("now_on")
    if section is None:
        text = "nothing stands on it at the planning moment, assumed"
        press.reading.assumed.add("now_on", text, "presses", press.label)
        return None
    section.warn_unknown()
    design = section.maybe("design", cells.name)
    inks = section.take("inks", cells.names, tell=False)
    pallet = section.maybe("pallet", cells.name)
    return NowOn(design_id=design, inks=inks, pallet=pallet) if design or inks or pallet else None


def dryers(top: Section) -> tuple[Dryer, ...]:
    """Every [[dryer]]."""
    seen: dict[str, str] = {}
    found = []
    for section in top.several("dryer", "dryers"):
        own = own_id(section)
        settles = section.maybe("heat_up", units.whole_minutes(most=120, example="2 min"))
        cools = section.maybe("cool_down", units.whole_minutes(most=120, example="3 min"))
        if settles is None and cools is None:
            text = "one setting of the dryer is taken to suit all inks: no minutes to settle are told"
            section.reading.assumed.add("one_setting", text, "dryers", section.label)
        found.append(
            Dryer(
                dryer_id=own,
                name=section.maybe("name", cells.name) or own,
                heated_length_in=section.needed("heated", units.length_in(example="8 ft"), 96.0),
                belt_width_in=section.needed("belt", units.length_in(example="36 in"), 36.0),
                pitch_in=section.take("pitch", units.length_in(example="18 in")),
                lane_in=section.take("lane", units.length_in(example="20 in")),
                warm_up_min=section.take("warm_up", units.whole_minutes(most=480, example="20 min")),
                off_after_min=section.take(
                    "off_after", units.whole_minutes(least=1, most=10_080, example="4 h"), tell=section.has("warm_up")
                ),
                heat_min=cools if settles is None else settles,
                cool_min=settles if cools is None else cools,
                hours=read_hours(section),
            )
        )
        told_twice(section, "id", own, seen)
        section.warn_unknown()
    return tuple(found)


def flash_pools(top: Section) -> tuple[FlashPool, ...]:
    """Every [[flash_pool]]: flashes on wheels that presses share."""
    seen: dict[str, str] = {}
    found = []
    for section in top.several("flash_pool", "flash pools"):
        own = own_id(section)
        units_there = section.needed("units", cells.whole(least=1, most=100, example="2"), 100)
        found.append(FlashPool(pool_id=own, units=units_there))
        told_twice(section, "id", own, seen)
        section.warn_unknown()
    return tuple(found)


def screen_room(top: Section, amount: Callable[[str], int], press_count: int) -> ScreenRoom | None:
    """The [screen_room]; None where the shop has none, which is told."""
    section = top.inner("screen_room")
    if section is None:
        text = "no screen room described: screens are taken to come ready from outside"
        top.reading.assumed.add("no_screen_room", text, "shop settings", "shop")
        return None
    count = cells.whole(least=1, most=10_000, example="24")
    part_min, whole_min = units.minutes(most=480, example="4 min"), units.whole_minutes(least=1, most=1_440)
    ahead_min = _ready_ahead(section, press_count)
    room = ScreenRoom(
        hours=read_hours(section),
        crew=section.take("crew", cells.crew),
        exposure_units=section.take("exposure_units", count),
        per_exposure=section.take("per_exposure", count),
        expose_min=section.take("expose", part_min),
        wash_out_min=section.take("wash_out", part_min),
        dry_min=section.take("dry", units.whole_minutes(most=2_880, example="45 min")),
        tape_each_min=section.take("tape_each", part_min),
        rack_places=section.take("rack", count),
        idle_ok_min=section.take("idle_ok", units.whole_minutes(most=2_880, example="60 min")),
        coat_from_min=section.take("coat_from", clock),
        coat_length_min=section.take("coat_length", whole_min),
        coat_each_min=section.take("coat_each", part_min),
        coat_places=section.take("coat_places", cells.whole(most=10_000, example="24")),
        ready_after_min=section.maybe("ready_after", units.whole_minutes(most=4_320, example="3 h")),
        reclaim_from_min=section.take("reclaim_from", clock),
        reclaim_length_min=section.take("reclaim_length", whole_min),
        reclaim_each_min=section.take("reclaim_each", part_min),
        default_frame=section.take("default_frame", cells.name),
        burn_cents=section.take("burn_cost", amount),
        ready_ahead_min=ahead_min,
        not_ahead_cents=section.take("not_ahead_cost", amount, tell=ahead_min > 0),
    )
    section.warn_unknown()
    return room


def _ready_ahead(section: Section, press_count: int) -> int:
    """Open minutes burned screens should stand ready before their set-up: 4 hours, with one press none (common
    practice, no source). Told where nobody typed it.
    """
    typed = section.maybe("ready_ahead", units.whole_minutes(most=2_880, example="4 h"))
    if typed is not None:
        return typed
    hours = 4 if press_count > 1 else 0
    text = f"burned screens should stand ready {hours} h before their set-up, assumed"
    if not hours:
        text = "screens may come ready just before their set-up, assumed"
    section.reading.assumed.add("default screen_room.ready_ahead", text, "shop settings", "shop")
    return 60 * hours
