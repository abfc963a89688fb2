"""Stations as typed: the shop's list, and the cells that send an order to one."""

from __future__ import annotations

from pathlib import Path

import pytest

from scheduler.domain.orders import Visit
from scheduler.domain.shop import Station
from tests.inputs.test_week_details import LEAST_SHOP, read, told_of
from tests.inputs.weeks import Files

STATIONS = (
    LEAST_SHOP
    + """
[[stations]]
name = "Embroidery"
rate = "40/h"
crew = "stitch 1"
hours = { mon-thu = "09:00-15:00" }

[[stations]]
name = "heat press"
each = "1.5 min"
at_once = 2

[[stations]]
name = "foil house"
days = 4
"""
)
HEAD = "order,client,due,garment,shade,pieces,location,inks,blanks,art,before,after\n"


def _files(before: str = "", after: str = "", *, shop: str = STATIONS) -> Files:
    row = f"1,Ann,2026-03-06,navy tee,dark,50,front,white,in,ok,{before},{after}\n"
    return {"shop.toml": shop, "orders.csv": HEAD + row}


def test_the_shop_lists_its_stations(tmp_path: Path) -> None:
    """By rate, by the time for a piece, or by days; orders at once, crew and hours of their own."""
    stitch, heat, foil = read(tmp_path, _files()).shop.stations
    assert (stitch.name, stitch.pcs_h, stitch.crew, stitch.at_once) == ("Embroidery", 40, (("stitch", 1),), 1)
    assert stitch.hours is not None
    assert stitch.hours[0].weekdays == (0, 1, 2, 3)
    assert heat == Station(name="heat press", each_s=90.0, at_once=2)
    assert foil == Station(name="foil house", days=4)


@pytest.mark.parametrize(
    ("cell", "visits"),
    [
        ("embroidery", (Visit(station="Embroidery"),)),
        ("heat press; outwork 3 d", (Visit(station="heat press"), Visit(station="outwork", days=3))),
        ('"Heat Press, embroidery"', (Visit(station="heat press"), Visit(station="Embroidery"))),
        ("foil house", (Visit(station="foil house"),)),
        ("foil house 2 days", (Visit(station="foil house", days=2),)),
        ("none", ()),
        ("", ()),
    ],
)
def test_an_order_names_stations(tmp_path: Path, cell: str, visits: tuple[Visit, ...]) -> None:
    """One or several, in the order in which it goes there, with days where work is sent out."""
    found = read(tmp_path, _files(before=cell, after=cell)).orders[0]
    assert found.before == found.after == visits


@pytest.mark.parametrize(
    ("cell", "told"),
    [
        ("embroidry", "'embroidry' is no station of the shop; did you mean Embroidery?"),
        ("outwork", "how long is outwork away?; write the working days, as outwork 3 d"),
        ("embroidery 2 d", "Embroidery works in the shop, at its own rate; write Embroidery, without days"),
        ("outwork 0 d", "'outwork 0 d' is not 1 to 60 days; write it as outwork 3 d"),
        ("outwork 61 d", "'outwork 61 d' is not 1 to 60 days; write it as outwork 3 d"),
    ],
)
def test_cells_that_name_no_station(tmp_path: Path, cell: str, told: str) -> None:
    """One fault each, with what to write instead."""
    assert told_of(tmp_path, _files(before=cell)) == [f"orders.csv:2:before: {told}"]


def test_without_a_list_only_work_sent_out_can_be_named(tmp_path: Path) -> None:
    """Every shop may send work out for days."""
    assert read(tmp_path, _files(after="outwork 2 d", shop=LEAST_SHOP)).orders[0].after == (
        Visit(station="outwork", days=2),
    )
    (told,) = told_of(tmp_path / "other", _files(after="embroidery", shop=LEAST_SHOP))
    assert told.startswith("orders.csv:2:after: 'embroidery' is no station of the shop; write outwork")


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('rate = "40/h"\n', "", "shop.toml:stations.1.rate: 'Embroidery' has neither a rate nor days; write rate ="),
        ("days = 4", 'days = 4\nrate = "9/h"', "shop.toml:stations.3.rate: 'foil house' has both rate and days; write"),
        ("days = 4", "days = 0", "shop.toml:20:stations.3.days: '0' is less than 1; write 1 or more"),
        ('name = "heat press"', 'name = "embroidery"', "shop.toml:stations.2.name: 'embroidery' is the name of"),
        ("at_once = 2", "at_once = 0", "shop.toml:16:stations.2.at_once: '0' is less than 1; write 1 or more"),
    ],
)
def test_stations_that_cannot_be(tmp_path: Path, old: str, new: str, told: str) -> None:
    """A rate, a time for a piece, or days: one of the three; names stand once."""
    found = told_of(tmp_path, _files(shop=STATIONS.replace(old, new)))
    assert any(one.startswith(told) for one in found), found


def test_a_crew_somebody_can_fill(tmp_path: Path) -> None:
    """A role nobody has is a fault of the station."""
    shop = STATIONS + '\n[[person]]\nid = "ivo"\nroles = "print"\n'
    found = told_of(tmp_path, _files(shop=shop))
    assert "shop.toml:stations.1.crew: nobody has the role 'stitch'; give somebody the role, or write print" in found
