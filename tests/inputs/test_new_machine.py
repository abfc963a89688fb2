"""What the machine offers: its zone, its money, its way to write dates and numbers."""

import locale
import time
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from scheduler.inputs.new_week import machine
from scheduler.inputs.new_week.machine import FAMILIAR_ZONES, date_order, this_machine
from scheduler.inputs.shop_reader import zone_of


@pytest.fixture
def zone(monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> Iterator[str]:
    """The machine's zone, by the environment."""
    monkeypatch.setenv("TZ", request.param)
    time.tzset()
    yield str(request.param)
    monkeypatch.undo()
    time.tzset()


@pytest.mark.parametrize(
    ("zone", "currency", "is_metric"),
    [
        ("Europe/London", "GBP", False),
        ("Europe/Lisbon", "EUR", True),
        ("America/Chicago", "USD", False),
        ("America/Toronto", "CAD", False),
        ("Australia/Sydney", "AUD", True),
        ("Asia/Tokyo", "JPY", True),
    ],
    indirect=["zone"],
)
def test_money_follows_the_zone(zone: str, currency: str, is_metric: bool) -> None:
    """A machine that names a zone and no money is offered that region's money and lengths."""
    found = this_machine()
    assert (found.zone, found.currency, found.is_metric) == (zone, currency, is_metric)
    assert found.now.second == 0


@pytest.mark.parametrize(
    ("zone", "offered"),
    [
        ("CET-1CEST,M3.5.0,M10.5.0/3", "Europe/Berlin"),
        ("EST5EDT,M3.2.0,M11.1.0", "America/New_York"),
        ("<+0530>-5:30", "Asia/Kolkata"),
    ],
    indirect=["zone"],
)  # fmt: skip
def test_a_zone_without_a_name_is_found_by_its_clocks(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, zone: str, offered: str
) -> None:
    """Where a machine tells only how its clocks go, a familiar zone with the same clocks is offered."""
    monkeypatch.setattr(machine, "LOCALTIME", tmp_path / "is not there")
    assert this_machine().zone == offered


def test_familiar_zones_are_zones() -> None:
    """Every zone that may be offered is one the settings take, and no two go the same way all year."""
    clocks = set()
    for name in FAMILIAR_ZONES:
        zone = zone_of(name)
        clocks.add(tuple(datetime(2026, month, 15, 12, tzinfo=zone).utcoffset() for month in (1, 7)))
    assert len(clocks) == len(FAMILIAR_ZONES)


@pytest.mark.parametrize(
    ("sample", "told"),
    [
        ("25/11/26", "day first"),
        ("25.11.2026", "day first"),
        ("11/25/26", "month first"),
        ("11/25/2026", "month first"),
        ("2026-11-25", ""),
        ("Wed Nov 2026", ""),
    ],
)
def test_the_order_of_dates_is_read_off_a_sample(sample: str, told: str) -> None:
    """Which number of a written 25 November comes first tells the order; a date that starts with its year does not."""
    assert date_order(sample) == told


def test_the_machines_own_settings_are_put_back() -> None:
    """Asking the machine changes nothing for whoever asked."""
    before = locale.setlocale(locale.LC_ALL)
    this_machine()
    assert locale.setlocale(locale.LC_ALL) == before


def test_settings_the_machine_does_not_have_do_no_harm(monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine that names settings nobody installed still gets offers."""
    monkeypatch.setenv("LC_ALL", "xx_XX.nothing")
    found = this_machine()
    assert found.separator == ","
    assert len(found.currency) == 3


def test_a_decimal_comma_wants_semicolons(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where numbers have a decimal comma, and money a name, both are taken from the machine."""
    monkeypatch.setattr(locale, "localeconv", lambda: {"decimal_point": ",", "int_curr_symbol": "EUR "})
    assert (this_machine().separator, this_machine().currency) == (";", "EUR")
