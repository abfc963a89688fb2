"""A small good week as files, with something in every heading and most settings; as a folder and as a workbook."""

from __future__ import annotations

import csv
import io
import tomllib
from collections.abc import Iterator, Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Any

import openpyxl

Files = dict[str, str | bytes]
"""A week's files by name."""

SHOP = """\
name = "Harbour Row Prints"
zone = "Europe/Lisbon"
plan_from = "2026-03-02 07:00"
days_ahead = 10
dates = "day first"
dont_touch_before = "2026-03-02 10:00"

[hours]
mon-fri = "07:00-12:00, 12:30-16:00"
sat = "closed"
sun = "closed"

[[closure]]
day = "2026-03-10"
why = "stock-taking"

[[closure]]
what = "manual"
from = "2026-03-04 13:00"
to = "2026-03-04 15:00"
why = "new bearings"

[[press]]
id = "auto-1"
name = "Big Eight"
kind = "automatic"
heads = 8
flash_place = "in a head"
flashes = 2
cool_down_head = "yes"
index = "3.5 s"
stroke = "4 s"
load = "4.5 s"
unload = "5 s"
swing = "2 s"
crew_speed = "90 %"
max_width = "16 in"
max_height = "50 cm"
frame_sizes = "23x31, 25x36"
pallets = "adult, sleeve"
families = "plastisol, water-based, discharge"
dryer = "long"
hours = { mon-fri = "07:00-16:00" }
set_up_crew = "print 1"
run_crew = "print 1, catch 1"
set_up = { mount = "4 min", load = "3 min", card = "1 min", swap = "1 min", clean_light = "2 min",\
 clean_dark = "6 min", pallet = "9 min", flash_move = "3 min", strike_off = "7 min" }
restart = { break = "3 min", night = "10 min" }
approval = "20 min"
now_on = { design = "stout mug", inks = "white, gold", pallet = "adult" }

[[press]]
id = "manual"
kind = "manual"
heads = 4
stated_rate = "65/h"

[[dryer]]
id = "long"
name = "long dryer"
heated = "10 ft"
belt = "36 in"
pitch = "17 in"
lane = "18 in"
hours = { mon-fri = "07:15-16:00" }

[screen_room]
crew = "screens 1"
exposure_units = 2
per_exposure = 3
expose = "2.5 min"
wash_out = "4 min"
dry = "40 min"
tape_each = "1 min"
rack = 20
idle_ok = "50 min"
coat_from = "15:00"
coat_length = "45 min"
coat_each = "2 min"
coat_places = 18
ready_after = "3 h"
reclaim_from = "13:30"
reclaim_length = "75 min"
reclaim_each = "5 min"
default_frame = "23x31"
burn_cost = 9.50
ready_ahead = "3 h"
not_ahead_cost = 0.02
hours = { mon-thu = "08:00-15:45" }

[[frames]]
size = "23x31"
mesh = 156
count = 40
coated = 12

[[frames]]
size = "23x31"
mesh = 230
count = 30
coated = 8

[[person]]
id = "marta"
name = "Marta"
roles = "print, stage"
presses = "auto-1"
hours = { mon-fri = "07:00-11:30, 12:00-16:00" }
days_off = "2026-03-05 to 2026-03-06"

[[person]]
id = "ivo"
roles = "print, catch, screens, pack"

[[carrier]]
name = "Parcel Run"
days = "mon-fri"
pick_up = "15:00"
transit = 2

[[overtime]]
day = "2026-03-04"
from = "16:00"
to = "19:00"
price = 180
presses = "auto-1"
people = "marta, ivo"

[ink.plastisol]
tunnel = "55 s"
flash = "6.5 s"
idle_ok = "overnight"

[ink.water-based]
tunnel = "140 s"
flash = "11 s"
idle_ok = "15 min"

[money]
currency = "EUR"
late_firm = 300
late_normal = "120.50"
late_easy = 40
cushion = 8
cushion_within = "3 h"
person_hour = 21
move = 6
move_free = "20 min"

[defaults]
family = "plastisol"
firm = "easy"
white_on_dark = "same screen twice"
mesh_base = 150
mesh_white = 160
mesh_colour = 225
spare = "2 %"
garments = { tee = 100, fleece = 70 }
carrier = "collected"
width = "11 in"
height = "13 in"
finish_each = "9 s"
finish_lag = "10 min"
last_box = "4 min"
between = "5 min"
dark_inks = "black, navy"

[staging]
minutes = "8 min"
crew = "stage 1"

[finishing]
crew = "pack 1"
hours = { mon-fri = "08:00-16:00" }

[room_kept_free]
minutes = "30 min"
"""

ORDERS = """\
order,client,due,in hands,garment,shade,pieces,location,inks,blanks,art,design,firm,press,sizes,mesh,note,\
carrier,family,kind,counted,from client,width,height,frame,pallet,print after,between,approval,base,rate,run,\
set up,lock press,lock at,late,finish
4102,Fennick Street Brewery,2026-03-05,,black tee,dark,144,front,"white, gold",in,ok,stout mug,firm,"auto-1!,\
 manual","S 20, M 60, L 64","156, 230",race day,collected,,,yes,,12 in,30 cm,23x31,adult,,15 min,yes,no,300/h,\
,30 min,auto-1,2026-03-03 09:00,150,20 s
4102,,,,natural tee,light,"1,200",front,"white, gold",4/3/2026,ok,stout mug,,"auto-1!, manual",,"156, 230",,,,\
,,yes,12 in,30 cm,23x31,adult,,15 min,yes,no,300/h,,30 min,auto-1,2026-03-03 09:00,,
4102,,,,black tee,,144,back,white x2,,2026-03-03 11:00,,,not manual,,,sponsors,,water-based,,,,,,,,front,,,,,\
55 min,,,,,
4103,Low Ford Elementary,,2026-03-09,Royal Hoodie,,40,left chest,"white base, red",?,?,,,,,,,Parcel Run,,,,,,,\
,,,,,,,,,,,,
"""

DESIGNS = """\
design,inks,width,height,frame,rate,set up,preferred
stout mug,"white, gold",12 in,12 in,23x31,380/h,35 min,auto-1
old anchor,navy,4 in,4 in,,,,
"""

SCREENS = """\
design,state,frame,mesh,screens
old anchor,burned,23x31,230,1
stout mug,to reclaim,23x31,156,2
stout mug,to reclaim,,230,1
mill loaf,burned,,,
"""

PROGRESS = """\
order,location,shade,press,started,left,set up left
4102,front,dark,auto-1,2026-02-27 14:25,90,10 min
"""


def good_files() -> Files:
    """The files of the small good week."""
    return {
        "shop.toml": SHOP,
        "orders.csv": ORDERS,
        "designs.csv": DESIGNS,
        "screens.csv": SCREENS,
        "progress.csv": PROGRESS,
    }


def write_folder(folder: Path, files: Mapping[str, str | bytes]) -> Path:
    """A week's folder with these files, byte for byte."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in files.items():
        (folder / name).write_bytes(content if isinstance(content, bytes) else content.encode())
    return folder


def write_workbook(path: Path, files: Mapping[str, str | bytes], *, by_section: bool = False) -> Path:
    """The same week as a workbook: numbers and dates as such, settings by dotted name or below their section."""
    book = openpyxl.Workbook()
    shop = book.active
    assert shop is not None
    shop.title = "Shop"
    shop.append(["setting", "value", "remark"])
    lines = sectioned if by_section else dotted
    for name, value in lines(tomllib.loads(text_of(files["shop.toml"]))):
        shop.append([name, cell_of(value) if isinstance(value, str) else value])
    for name in ("orders", "designs", "screens", "progress"):
        if f"{name}.csv" in files:
            sheet = book.create_sheet(name.capitalize())
            for row in csv.reader(io.StringIO(text_of(files[f"{name}.csv"]))):
                sheet.append([cell_of(text) for text in row])
    book.save(path)
    return path


def text_of(content: str | bytes) -> str:
    """A file's text."""
    return content if isinstance(content, str) else content.decode()


def cell_of(text: str) -> Any:
    """What a spreadsheet makes of a typed text: whole numbers, ISO days and moments become such."""
    if text.isdecimal() and not text.startswith("0"):
        return int(text)
    for kind in (date, datetime):
        try:
            return kind.fromisoformat(text)
        except ValueError:
            continue
    return text or None


def dotted(table: Mapping[str, Any], before: str = "") -> Iterator[tuple[str, Any]]:
    """Settings by dotted name: press.1.heads."""
    for name, value in table.items():
        if isinstance(value, dict):
            yield from dotted(value, f"{before}{name}.")
        elif isinstance(value, list):
            for number, one in enumerate(value, start=1):
                yield from dotted(one, f"{before}{name}.{number}.")
        else:
            yield f"{before}{name}", value


def sectioned(table: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    """Settings below rows with their section in brackets."""
    for name, value in table.items():
        if not isinstance(value, (dict, list)):
            yield name, value
    for name, value in table.items():
        for one in value if isinstance(value, list) else [value] if isinstance(value, dict) else []:
            yield f"[[{name}]]" if isinstance(value, list) else f"[{name}]", None
            yield from ((inner, leaf) for inner, leaf in one.items() if not isinstance(leaf, dict))
            for inner, leaf in one.items():
                if isinstance(leaf, dict):
                    yield f"[{name}.{inner}]", None
                    yield from leaf.items()
