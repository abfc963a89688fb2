from dataclasses import fields, replace
from typing import Any

import pytest

from scheduler.domain.calendars import Restart
from scheduler.domain.shop import Carrier, Defaults, Dryer, Frames, MoneySettings, Press, ScreenRoom, Shop
from scheduler.domain.week import SetUpMinutes
from scheduler.inputs.assumed import Assumed
from scheduler.inputs.cell_kinds import parsers_for
from scheduler.inputs.columns import COLUMNS, SHEETS, Column, heading_key
from scheduler.inputs.faults import Faults
from scheduler.inputs.shop_reader import read_shop
from scheduler.inputs.shop_settings import MANY, SETTING, SETTINGS, names_in
from scheduler.inputs.shop_tree import tree_of_document

LEAST: dict[str, Any] = {
    "name": "Least",
    "zone": "Europe/Lisbon",
    "plan_from": "2026-03-02 07:00",
    "hours": {"mon-fri": "08:00-16:00"},
    "press": [{"id": "auto-1", "kind": "automatic", "heads": 6}],
}
"""The least a shop must say: name, zone, planning moment, hours and one press."""


def shop_of(document: dict[str, Any]) -> tuple[Shop, Faults, Assumed]:
    """A shop from settings as TOML would hand them over, with everything told of it."""
    faults, assumed = Faults(), Assumed()
    found = read_shop("shop.toml", tree_of_document("shop.toml", document, faults), faults, assumed)
    return found.shop, faults, assumed


def with_setting(name: str, value: str) -> dict[str, Any]:
    """The least shop, a little of every section, and one setting of it changed."""
    document: dict[str, Any] = {
        **LEAST,
        "press": [{**LEAST["press"][0], "set_up": {}, "restart": {}, "now_on": {}}],
        "dryer": [{"id": "long", "heated": "8 ft", "belt": "36 in"}],
        "flash_pool": [{"id": "wheels", "units": 2}],
        "screen_room": {},
        "frames": [{"size": "23x31", "mesh": 156, "count": 40}],
        "person": [{"id": "ivo", "roles": "print"}],
        "people": {},
        "carrier": [{"name": "Parcel Run", "pick_up": "15:00"}],
        "stations": [{"name": "embroidery", "rate": "40/h"}],
        "overtime": [{"day": "2026-03-04", "from": "16:00", "to": "19:00", "price": 90}],
        "closure": [{"from": "2026-03-04 12:00", "to": "2026-03-06 15:00"}],
        "ink": {"plastisol": {}},
        "money": {"currency": "EUR"},
        "defaults": {},
        "outlook": {},
        "paper": {},
        "staging": {},
        "finishing": {},
        "room_kept_free": {},
    }
    if name == "closure.day":
        document["closure"] = [{}]
    if name in ("stations.each", "stations.days"):
        document["stations"] = [{"name": "embroidery"}]
    node: Any = document
    *sections, last = name.split(".")
    for section in sections:
        node = node[section][0] if section in MANY else node[section]
    if name.startswith("ink."):
        node = node["plastisol"]
    node[last] = value
    return document


@pytest.mark.parametrize("setting", SETTINGS, ids=lambda one: one.name)
def test_every_setting_listed_is_read(setting: Column) -> None:
    """A setting takes its own example, and a text that is none of it is a fault or shows in the shop."""
    _, faults, _ = shop_of(with_setting(setting.name, setting.example))
    assert [str(one) for one in faults.problems] == []
    shop, faults, _ = shop_of(with_setting(setting.name, "§ nonsense"))
    told = [one for one in faults.problems if (one.column or "").endswith(setting.name.split(".")[-1])]
    assert told or "nonsense" in repr(shop)


@pytest.mark.parametrize("setting", [one for one in SETTINGS if one.is_needed], ids=lambda one: one.name)
def test_a_needed_setting_that_is_empty_is_missed(setting: Column) -> None:
    """What nobody can guess is asked for by its dotted name with an example to copy."""
    _, faults, _ = shop_of(with_setting(setting.name, ""))
    (problem,) = faults.problems
    assert problem.code == "missing"
    assert setting.example in problem.hint


@pytest.mark.parametrize("setting", [one for one in SETTINGS if one.default], ids=lambda one: one.name)
def test_typing_a_default_changes_nothing(setting: Column) -> None:
    """A default typed out gives the same shop as a default left out: the list of defaults is the truth."""
    document = with_setting(setting.name, setting.default)
    left_out = with_setting(setting.name, "")
    assert shop_of(document)[0] == shop_of(left_out)[0]


def test_the_least_shop_is_enough() -> None:
    """Name, zone, planning moment, hours and one press make a shop without fault or warning."""
    _, faults, _ = shop_of(LEAST)
    assert faults.problems == []


def test_the_least_shop_is_as_the_types_have_it() -> None:
    """Where a type has a default the reader's is the same, but for set-up and restart minutes: they are not nothing."""
    shop, _, _ = shop_of(LEAST)
    (press,) = shop.presses
    plain = Press(press_id="auto-1", name="auto-1", kind="automatic", heads=6)
    assert replace(press, set_up=SetUpMinutes(), restart=Restart()) == plain
    assert all(getattr(press.set_up, field.name) for field in fields(SetUpMinutes) if field.name != "swap_min")
    assert press.restart == Restart(break_min=2, night_min=8)
    assert shop.money == MoneySettings()
    assert shop.defaults == Defaults()
    assert shop.days_ahead == 14
    assert (shop.screen_room, shop.people, shop.dryers, shop.carriers, shop.frames) == (None, (), (), (), ())
    rich, _, _ = shop_of(with_setting("defaults.family", "plastisol"))
    assert rich.screen_room == ScreenRoom()
    assert rich.dryers == (Dryer(dryer_id="long", name="long", heated_length_in=96.0, belt_width_in=36.0),)
    assert rich.frames == (Frames(size="23x31", mesh=156, count=40),)
    assert rich.carriers == (Carrier(name="Parcel Run", weekdays=(0, 1, 2, 3, 4), pick_up_min=900, transit_days=1),)
    assert Shop.__dataclass_fields__["dark_inks"].default == rich.dark_inks


def test_every_default_of_the_least_shop_is_told() -> None:
    """Nothing is taken silently: every default a shop relies on is an assumption with its value in it."""
    _, _, assumed = shop_of(LEAST)
    told = {one.code.removeprefix("default ") for one in assumed.listed}
    silent_here = {  # told by whoever uses them, print by print
        "defaults.family", "defaults.firm", "defaults.white_on_dark", "defaults.mesh_base", "defaults.mesh_white",
        "defaults.mesh_colour", "defaults.carrier", "defaults.finish_each",
    }  # fmt: skip
    # An automatic swings no flash; no pallet kinds, no lead and no people are named.
    no_use_here = {"press.swing", "press.set_up.pallet", "people.lead_covers", "people.least_stay"}
    of_absent = {
        name for name in SETTING if name.split(".")[0] in (*MANY, "screen_room", "staging", "finishing", "ink")
    }
    silent_here |= {name for name in SETTING if name.startswith("outlook.")}  # told with the odds they lead to
    silent_here |= {name for name in SETTING if name.startswith("paper.")}  # told on the papers
    needed = {one.name for one in SETTINGS if one.default} - silent_here - no_use_here
    assert needed - {name for name in of_absent if not name.startswith("press")} <= told
    assert {"no_screen_room", "nobody", "no_dryer", "no_staging", "no_finishing", "now_on", "closed_days"} <= told


def test_what_makes_no_difference_is_not_told() -> None:
    """A press with a stated rate needs no seconds, and one with a spare squeegee no clean-up: neither is assumed."""
    press = {**LEAST["press"][0], "stated_rate": "300/h", "set_up": {"swap": "1 min"}, "flashes": 0}
    _, _, assumed = shop_of({**LEAST, "press": [press]})
    told = {one.code for one in assumed.listed}
    for name in (
        "index",
        "stroke",
        "load",
        "unload",
        "crew_speed",
        "flash_place",
        "set_up.clean_dark",
        "set_up.flash_move",
    ):
        assert f"default press.{name}" not in told
    assert "default press.set_up.mount" in told


@pytest.mark.parametrize("sheet", SHEETS)
def test_every_heading_has_something_that_reads_it(sheet: str) -> None:
    """The headings listed for a sheet are those its cells can be read under, each with an example that is read."""
    parsers = parsers_for(sheet, None)
    assert set(COLUMNS[sheet]) <= set(parsers)
    for name, column in COLUMNS[sheet].items():
        assert heading_key(name) == name
        assert column.meaning
        assert column.kind
        parsers[name](column.example)
        if column.default:
            parsers[name](column.default)


def test_needed_headings_are_the_ten_of_one_sheet() -> None:
    """The one sheet asks for ten headings; the smaller ones for what they cannot do without."""
    needed = {sheet: [one.name for one in COLUMNS[sheet].values() if one.is_needed] for sheet in SHEETS}
    assert needed == {
        "orders": ["order", "client", "due", "garment", "shade", "pieces", "location", "inks", "blanks", "art"],
        "designs": ["design"],
        "screens": ["design", "state"],
        "progress": ["order", "location", "press", "started", "left"],
    }


def test_sections_know_their_settings() -> None:
    """Names in a section include its tables: a press has hours, set-up, restart and what is on it now."""
    assert {"hours", "set_up", "restart", "now_on", "heads"} <= set(names_in("press"))
    assert {"press", "hours", "ink", "defaults", "name"} <= set(names_in(""))
    assert "garments" in names_in("defaults")


@pytest.mark.parametrize(
    ("presses", "typed", "minutes", "told"),
    [
        (1, "", 0, "screens may come ready just before their set-up, assumed"),
        (2, "", 240, "burned screens should stand ready 4 h before their set-up, assumed"),
        (1, "4 h", 240, ""),
        (2, "0 h", 0, ""),
    ],
)
def test_screens_stand_ready_ahead_in_a_shop_with_two_presses(
    presses: int, typed: str, minutes: int, told: str
) -> None:
    """Four hours where nobody typed it, none with one press, and told; what is typed counts."""
    document = {
        **LEAST,
        "press": [{**LEAST["press"][0], "id": f"auto-{number}"} for number in range(presses)],
        "screen_room": {"ready_ahead": typed} if typed else {},
    }
    shop, faults, assumed = shop_of(document)
    assert not [one for one in faults.problems if not one.is_warning]
    assert shop.screen_room is not None
    assert (shop.screen_room.ready_ahead_min, shop.screen_room.not_ahead_cents) == (minutes, 1)
    listed = [one.text for one in assumed.listed if one.code == "default screen_room.ready_ahead"]
    assert listed == ([told] if told else [])
    costs = [one for one in assumed.listed if one.code == "default screen_room.not_ahead_cost"]
    assert bool(costs) == (minutes > 0)
