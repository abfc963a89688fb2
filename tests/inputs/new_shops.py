"""Shops that start a week of their own: what their machine offers, their answers, and a dozen orders as typed."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime
from pathlib import Path

from scheduler import api
from scheduler.inputs.new_week.machine import Machine

MACHINE = Machine(
    zone="Europe/Lisbon",
    currency="EUR",
    is_metric=True,
    separator=",",
    dates="day first",
    now=datetime(2026, 3, 2, 7, 20),
)
"""A machine on a Monday morning, before the shop opens."""

SOLO = """\
name = "Nuala's Back Room"
zone = "Europe/Dublin"
money = "EUR, in"
hours = "mon-fri 08:30-12:30, 13:15-17:30"
plan_from = "2026-03-02 08:30"
presses = 1
press = "manual 4"
flash = "1"
rate = "65"
dryer = "4 ft x 24 in"
people = ["Nuala: print, screens, pack"]
frames = ["20x24, 156 mesh: 15, 6 coated", "20x24, 230 mesh: 9, 3 coated"]
on_press = "black"
burned = "mill loaf, vet paw"
carriers = ["Parcel Van: mon-fri 16:00, 2 days"]
"""

THREE = """\
name = "Drei Kähne Textildruck"
zone = "Europe/Berlin"
money = "EUR, cm"
hours = "mon-thu 07:00-16:00; fri 07:00-13:00"
lunch = "12:00-12:30"
plan_from = "2026-03-02 07:00"
presses = 3
press = ["automatic 8", "automatic 6", "manual 6"]
flash = ["2 in a head", "1 over a pallet", "1"]
rate = ["420/h", "by its strokes", "60"]
dryer = ["long: 420 x 140 cm", "short: 3 m x 90 cm"]
dryer_of = ["long", "short", "short"]
people = [
    "Marta: print, stage",
    "Ivo: print, catch",
    "Zoë: print, pack; mon-thu 07:00-13:00",
    "Teo: catch, pack",
    "Wren: screens",
    "Bea: pack, stage, catch",
]
frames = ["58x84 cm, 62T: 60, 20 coated", "58x84 cm, 90T: 60, 20 coated"]
on_press = ["heron front: white, gold", "black, red", "nothing"]
burned = "heron front"
carriers = ["Kurier: mon-fri 15:00", "Freight: tue, thu 13:30, 2 days"]
"""

HEADINGS = "order,client,due,garment,shade,pieces,location,inks,blanks,art,design,firm,press,carrier,sizes,note"
ORDERS = """\
311,Rowing Club,2026-03-04,navy tee,dark,72,left chest,white,in,ok,rowing crest,,,,,
311,Rowing Club,2026-03-04,navy tee,dark,72,back,white,in,ok,rowing oars,,,,,
312,Mill Bakery,2026-03-03,natural bag,light,80,front,brown,in,ok,mill loaf,,,,,same as January
313,Brass Otters,2026-03-06 12:00,black tee,dark,110,front,"white, red",in,ok,otter tour,firm,,,"S 20, M 40, L 50",
314,School Choir,2026-03-05,royal hoodie,dark,60,left chest,white,2026-03-03,ok,,,,,,
315,Thimble and Rye,2026-03-05,white tee,light,48,front,black,in,ok,,easy,,,,
316,Allotments,2026-03-06,sage tee,light,72,front,bottle green,in,2026-03-03,,,,,,
317,Wheelers,2026-03-09,red tee,dark,84,front,"white, black",in,ok,,firm,,,,
318,Vet,2026-03-04,grey tee,light,40,left chest,navy,in,ok,vet paw,easy,,,,
319,Roofing,2026-03-10,black hoodie,dark,50,back,orange,2026-03-04,ok,,,,,,
320,Runners,2026-03-09,white tee,light,100,front,"sky, navy",in,ok,,,,,,
321,Mill Bakery,2026-03-11,black apron,dark,30,front,cream,2026-03-05,ok,,easy,,,,
322,Café Olá,2026-03-12,natural tote,light,60,front,brown,?,ok,,,,,,
"""
"""A dozen orders as somebody types them, thirteen prints; the last one waits for its garments."""


class Keyboard:
    """Somebody at the keyboard: types the given lines one after the other, Enter after the last."""

    def __init__(self, lines: Iterable[str] = ()) -> None:
        self.lines = iter(lines)
        self.prompts: list[str] = []
        self.shown: list[str] = []

    def ask(self, prompt: str) -> str:
        """The next line."""
        self.prompts.append(prompt)
        return next(self.lines, "")

    def say(self, line: str) -> None:
        """What was shown."""
        self.shown.append(line)


def accept(path: Path) -> None:
    """The check a new week is put to before it appears: the one of the command."""
    api.build_workload(api.read_week_with_warnings(path, may_be_empty=True)[0])


Check = Callable[[Path], None]
