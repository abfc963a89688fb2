"""The command as people run it, for tests: a small week, a real process, its exit codes."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from scheduler import cli

ROOT = Path(__file__).resolve().parent.parent
SCENARIOS = ROOT / "scenarios"
DONE, NO_PLAN, BAD_INPUT, OUR_FAULT = 0, 1, 2, 3

SHOP = """\
name = "Test Shop"
zone = "Europe/Lisbon"
plan_from = "2026-03-02 07:00"
days_ahead = 7

[hours]
mon-fri = "07:00-12:00, 12:30-16:00"

[[press]]
id = "auto-1"
name = "Big Eight"
kind = "automatic"
heads = 8
flashes = 2
stated_rate = "400/h"
set_up_crew = "print 1"
run_crew = "print 1"
set_up = { mount = "4 min", load = "2 min", card = "1 min", clean_dark = "6 min", strike_off = "6 min" }

[[person]]
id = "ana"
name = "Ana"
roles = "print, pack"

[finishing]
crew = "pack 1"

[money]
currency = "EUR"
"""
ORDERS = """\
order,client,due,garment,shade,pieces,location,inks,blanks,art,firm
1,Café São,2026-03-03,black tee,dark,200,front,"white, red",in,ok,firm
2,Harbour Run Club,2026-03-04,white tee,light,300,front,black,in,ok,normal
3,Tide & Co,2026-03-05,white tee,light,50,back,red,?,ok,easy
"""


def pressweek(*arguments: object, environment: dict[str, str] | None = None) -> subprocess.CompletedProcess[str]:
    """Run the command in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "scheduler", *map(str, arguments)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONIOENCODING": "utf-8", **(environment or {})},
        timeout=110,
    )


def write_week(folder: Path, *, shop: str = SHOP, orders: str = ORDERS) -> Path:
    """A week's folder."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "shop.toml").write_text(shop, encoding="utf-8")
    (folder / "orders.csv").write_text(orders, encoding="utf-8")
    return folder


def run_here(monkeypatch: pytest.MonkeyPatch, *arguments: str) -> int:
    """The command in this process, for faults that cannot be planted in another; its exit code."""
    monkeypatch.setattr(sys, "argv", ["pressweek", *arguments])
    with pytest.raises(SystemExit) as left:
        cli.main()
    return int(left.value.code or 0)
