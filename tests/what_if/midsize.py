"""The mid-size week with a plan that stands, and forty what-ifs and more to try on it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path
from zoneinfo import ZoneInfo

from scheduler import api
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded

WEEK = Path(__file__).resolve().parents[2] / "scenarios" / "midsize"
ZONE = ZoneInfo("America/Chicago")
MONDAY, TUESDAY = datetime(2026, 4, 13, 7, tzinfo=ZONE), datetime(2026, 4, 14, 9, 40, tzinfo=ZONE)

RUSH = "rush client=Rush shade=dark blanks=in art=ok"

WHAT_IFS = (
    f"{RUSH} order=R1 due=2026-04-15 garment='black tee' pieces=72 location=front inks='white, red'",
    f"{RUSH} order=R2 due=2026-04-14 garment='navy tee' pieces=36 location='left chest' inks=white",
    f"{RUSH} order=R3 due=2026-04-17 garment='red tee' pieces=400 location=back inks='white, black' firm=firm",
    f"{RUSH} order=R4 due=2026-04-20 garment='black hoodie' pieces=90 location=front inks='white, gold'",
    f"{RUSH} order=R5 in_hands=2026-04-20 carrier='Quarrelstone Freight' garment='navy tee' pieces=150 location=front"
    " inks=gold",
    f"{RUSH} order=R6 due=2026-04-16 garment='black tee' pieces=200 location=front design='fennick stout'",
    f"{RUSH} order=R7 due=2026-04-24 garment='black tee' pieces=500 location=front inks='white, red, blue' firm=easy",
    f"{RUSH} order=R8 due=2026-04-13 garment='black tee' pieces=1200 location=front inks='white, red, blue'",
    "cancel order=4117",
    "cancel order=4113",
    "cancel order=4129",
    "pieces order=4118 pieces=400",
    "pieces order=4118 pieces=900",
    "pieces order=4102 garment='natural tee' pieces=200",
    "pieces order=4112 pieces=700",
    "date order=4117 due=2026-04-21",
    "date order=4121 due=2026-04-16",
    "date order=4113 in_hands=2026-04-23",
    "date order=4124 due=2026-04-20",
    "blanks order=4109 garment='black hoodie' blanks='2026-04-15 12:00'",
    "blanks order=4113 blanks='2026-04-14 07:00'",
    "blanks order=4112 blanks=?",
    "blanks order=4120 blanks=in",
    "art order=4116 art='2026-04-15 10:00'",
    "art order=4126 location=front art='2026-04-14 08:00'",
    "art order=4125 art=ok",
    "press-out press=auto-1 from='2026-04-14 10:00' to='2026-04-14 12:00'",
    "press-out press=auto-2 from=2026-04-16 to=2026-04-16",
    "press-out press=manual to='2026-04-14 12:00'",
    "dryer-out dryer=short from='2026-04-15 08:00' to='2026-04-15 11:00'",
    "flash-out press=auto-2 from='2026-04-15 08:00' to='2026-04-15 10:00'",
    "flash-out press=manual from=2026-04-14 to=2026-05-30",
    "person-out person=wren from=2026-04-14 to=2026-04-14",
    "person-out person=sunny from='2026-04-15 07:00' to='2026-04-16 12:00'",
    "person-out person=bea from=2026-04-16 to=2026-04-17",
    "open-hours day=2026-04-14 from=15:30 to=18:30 presses='auto-1, auto-2' people='marta, ivo, teo, kit, wren'",
    "open-hours day=2026-04-25 from=07:00 to=12:00 price=500",
    "screen-broken design='alder parks front'",
    "screen-broken design='marathon 26' mesh=230",
    "ink-out ink=gold until='2026-04-15 10:00'",
    "ink-out ink=plum until=?",
    "reprint order=4102 garment='black tee' pieces=12",
    "reprint order=4118 pieces=24 location=back",
)
"""One of every kind at the least, harmless and hopeless ones."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The week's inputs and a plan of them."""

    inputs: WeekInputs
    plan: Plan


@cache
def standing() -> Standing:
    """The week with the first plan that is found, always the same."""
    inputs = api.read_week(WEEK)
    found = first_plan(api.build_workload(inputs).week)
    assert isinstance(found, Decoded)
    return Standing(inputs=inputs, plan=found.plan)
