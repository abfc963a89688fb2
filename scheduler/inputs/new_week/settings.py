"""What the answers come to: the sections of shop.toml with the settings that are told, and those left as they are.

What nobody was asked follows from what was: who burns where nobody said so, when screens are coated and reclaimed.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from scheduler.inputs.faults import key_of
from scheduler.inputs.ink_families import START_VALUES
from scheduler.inputs.moments import DAY_MIN, WEEKDAYS, Shift
from scheduler.inputs.new_week.question import Answers
from scheduler.inputs.new_week.questions import dryer_names, press_names
from scheduler.inputs.new_week.typed_answers import DayTold, PersonTold
from scheduler.inputs.shop_floor import AUTOMATIC

STEP_MIN = 15
SMALL_SHOP = 2
"""People up to which half an hour of coating and of reclaiming a day is booked; above it an hour of each."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One section of the settings.

    kind: its name in the catalogue, as "press.set_up"; "hours" for a table of weekdays. head: as it stands in
    shop.toml, as "[[press]]"; "" at the top. values: settings that are told, as typed. is_used: False for an example
    only. title: what it is about, where a new part of the file begins. tables: hours within it.
    """

    kind: str
    head: str
    values: dict[str, str] = field(default_factory=dict)
    tables: dict[str, dict[str, str]] = field(default_factory=dict)
    is_used: bool = True
    title: str = ""


def blocks(answers: Answers) -> tuple[Block, ...]:
    """Every section of the shop's settings, in the order in which they are written."""
    top = {name: answers.one(name) for name in ("name", "zone", "plan_from")}
    return (
        Block(kind="", head="", values={**top, "days_ahead": "14"}),
        Block(kind="hours", head="[hours]", values=hours_table(open_days(answers), tell_closed=True), title="hours"),
        Block(kind="closure", head="[[closure]]", is_used=False, title="days and hours closed"),
        *_presses(answers),
        *_dryers(answers),
        *_screen_room(answers),
        *_people(answers),
        Block(kind="people", head="[people]", is_used=False),
        *_off_the_press(answers),
        Block(kind="room_kept_free", head="[room_kept_free]", is_used=False),
        Block(kind="stations", head="[[stations]]", is_used=False, title="stations beside the presses"),
        Block(kind="overtime", head="[[overtime]]", is_used=False, title="overtime on offer"),
        *_inks(),
        Block(kind="money", head="[money]", values={"currency": answers.one("money").currency}, title="money"),
        Block(kind="defaults", head="[defaults]", title="what is taken where an order does not say"),
        Block(kind="paper", head="[paper]", is_used=False, title="sheets and lists for the floor"),
        Block(kind="outlook", head="[outlook]", is_used=False, title="how far days stray from the plan"),
    )


def open_days(answers: Answers) -> tuple[DayTold, ...]:
    """Opening hours with lunch taken out where it falls into an unbroken day."""
    lunch: tuple[int, int] | None = answers.values.get("lunch")
    found = []
    for one in answers.one("hours"):
        shift = one.shift
        if lunch and not shift.breaks and shift.from_min < lunch[0] and lunch[1] < shift.to_min:
            shift = Shift(from_min=shift.from_min, to_min=shift.to_min, breaks=(lunch,))
        found.append(DayTold(weekdays=one.weekdays, shift=shift))
    return tuple(found)


def hours_table(days: Iterable[DayTold], *, tell_closed: bool = False) -> dict[str, str]:
    """Weekdays and hours as shop.toml has them."""
    found: dict[str, str] = {}
    named: set[int] = set()
    for one in days:
        found[days_in_words(one.weekdays)] = hours_in_words(one.shift)
        named |= set(one.weekdays)
    silent = tuple(day for day in range(7) if day not in named)
    if tell_closed and silent:
        found |= {days_in_words((day,)): "closed" for day in silent}
    return found


def days_in_words(weekdays: Sequence[int]) -> str:
    """Weekdays as typed: "mon-fri" for days in a row, else "mon, wed"."""
    short = [WEEKDAYS[day][:3] for day in weekdays]
    is_row = len(weekdays) > 1 and list(weekdays) == list(range(weekdays[0], weekdays[0] + len(weekdays)))
    return f"{short[0]}-{short[-1]}" if is_row else ", ".join(short)


def hours_in_words(shift: Shift) -> str:
    """Hours as typed: "07:00-12:00, 12:30-16:00"."""
    return ", ".join(f"{clock_in_words(start)}-{clock_in_words(end)}" for start, end in pieces_of(shift))


def pieces_of(shift: Shift) -> list[tuple[int, int]]:
    """Open pieces in minutes of the day."""
    edges = [shift.from_min, *(edge for gap in shift.breaks for edge in gap), shift.to_min]
    return list(zip(edges[::2], edges[1::2], strict=True))


def clock_in_words(minute: int) -> str:
    """A minute of the day as a clock time."""
    return f"{minute % DAY_MIN // 60:02d}:{minute % 60:02d}"


def id_of(name: str, taken: Iterable[str]) -> str:
    """A short name for sheets: small letters, blanks as hyphens, different from those taken."""
    plain = unicodedata.normalize("NFC", key_of(name)).replace(" ", "-").replace(",", "")
    others, found, number = {key_of(one) for one in taken}, plain, 2
    while found in others:
        found, number = f"{plain}-{number}", number + 1
    return found


def _crews(answers: Answers) -> tuple[str, str]:
    """Crews that run an automatic, and that burn."""
    people: list[PersonTold] = answers.many("people")
    printers = [one.name for one in people if "print" in one.duties]
    catchers = [one.name for one in people if "catch" in one.duties]
    has_catcher = any(one != other for one in printers for other in catchers)
    burns = not people or any("screens" in one.duties for one in people)
    return "print 1, catch 1" if has_catcher else "print 1", "screens 1" if burns else "print 1"


def _presses(answers: Answers) -> list[Block]:
    found: list[Block] = []
    dryers = dryer_names(answers)
    own = answers.many("dryer_of") or (dryers * answers.one("presses"))[: answers.one("presses")]
    run_crew, _ = _crews(answers)
    for number, name in enumerate(press_names(answers)):
        told, flash = answers.many("press")[number], answers.many("flash")[number]
        rate, now_on = answers.many("rate")[number], answers.many("on_press")[number]
        values = {"id": name, "kind": told.kind, "heads": str(told.heads)}
        if told.kind == AUTOMATIC and flash.count:
            values["flash_place"] = flash.place
        values["flashes"] = str(flash.count)
        values |= {"stated_rate": f"{rate}/h"} if rate else {}
        values |= {"dryer": own[number]} if own else {}
        values |= {"set_up_crew": "print 1", "run_crew": run_crew if told.kind == AUTOMATIC else "print 1"}
        stands = {"design": now_on.design, "inks": ", ".join(now_on.inks)}
        found += [
            Block(kind="press", head="[[press]]", values=values, title="" if number else "presses"),
            Block(kind="press.set_up", head="[press.set_up]"),
            Block(kind="press.restart", head="[press.restart]"),
            Block(kind="press.now_on", head="[press.now_on]", values={key: one for key, one in stands.items() if one}),
        ]
    return found


def _dryers(answers: Answers) -> list[Block]:
    names = dryer_names(answers)
    found = [
        Block(
            kind="dryer",
            head="[[dryer]]",
            values={"id": names[number], "heated": one.heated, "belt": one.belt},
            title="" if number else "dryers",
        )
        for number, one in enumerate(answers.many("dryer"))
    ]
    found = found or [Block(kind="dryer", head="[[dryer]]", is_used=False, title="dryers")]
    return [*found, Block(kind="flash_pool", head="[[flash_pool]]", is_used=False)]


def _screen_room(answers: Answers) -> list[Block]:
    frames: list[Any] = answers.many("frames")
    if not frames:
        return [
            Block(kind="screen_room", head="[screen_room]", is_used=False, title="screen room"),
            Block(kind="frames", head="[[frames]]", is_used=False),
        ]
    is_small = len(answers.many("people")) <= SMALL_SHOP
    length = 30 if is_small else 60
    coat = latest_start(open_days(answers), length, DAY_MIN)
    reclaim = latest_start(open_days(answers), length, coat)
    values = {"crew": _crews(answers)[1]}
    values |= {"coat_from": clock_in_words(coat), "coat_length": f"{length} min"}
    values |= {"reclaim_from": clock_in_words(reclaim), "reclaim_length": f"{length} min"}
    values |= {"default_frame": frames[0].size}
    found = [Block(kind="screen_room", head="[screen_room]", values=values, title="screen room")]
    for one in frames:
        numbers = {"mesh": str(one.mesh), "count": str(one.count), "coated": str(one.coated)}
        found.append(Block(kind="frames", head="[[frames]]", values={"size": one.size, **numbers}))
    return found


def latest_start(days: Sequence[DayTold], length_min: int, before_min: int) -> int:
    """The latest quarter of an hour from which every open day stays open for so long, up to a minute of the day.

    Where the days have no such time in common, that of the first days named.
    """
    for asked in (days, days[:1]):
        for start in range(before_min - length_min, -1, -STEP_MIN):
            if all(_is_open(one.shift, start, start + length_min) for one in asked):
                return start
    return days[0].shift.from_min


def _is_open(shift: Shift, start: int, end: int) -> bool:
    return any(piece[0] <= start and end <= piece[1] for piece in pieces_of(shift))


def _people(answers: Answers) -> list[Block]:
    found: list[Block] = []
    ids: list[str] = []
    for one in answers.many("people"):
        ids.append(id_of(one.name, ids))
        values = {"id": ids[-1], "name": one.name, "roles": ", ".join(one.duties)}
        own = {"hours": hours_table(one.hours)} if one.hours else {}
        title = "" if found else "people"
        found.append(Block(kind="person", head="[[person]]", values=values, tables=own, title=title))
    return found or [Block(kind="person", head="[[person]]", is_used=False, title="people")]


def _inks() -> list[Block]:
    """Ink families with the values that are taken anyway, to be put right from the maker's sheets."""
    found: list[Block] = []
    for name in ("plastisol", "water-based"):
        start = START_VALUES[name]
        values = {"tunnel": f"{start.tunnel_s} s", "flash": f"{start.flash_s:g} s"}
        values |= {"idle_ok": "overnight" if start.idle_ok_min is None else f"{start.idle_ok_min} min"}
        title = "" if found else "inks: start values only, the maker's data sheets win"
        found.append(Block(kind="ink", head=f"[ink.{name}]", values=values, is_used=False, title=title))
    return found


def _off_the_press(answers: Answers) -> list[Block]:
    duties = {duty for one in answers.many("people") for duty in one.duties}
    stages = "stage" in duties and answers.one("presses") > 1
    found = [
        Block(
            kind="staging",
            head="[staging]",
            values={"minutes": "8 min", "crew": "stage 1"} if stages else {},
            is_used=stages,
            title="off the press",
        ),
        Block(
            kind="finishing",
            head="[finishing]",
            values={"crew": "pack 1"} if "pack" in duties else {},
            is_used="pack" in duties,
        ),
    ]
    for one in answers.many("carriers"):
        values = {"name": one.name, "days": one.days, "pick_up": one.pick_up, "transit": str(one.transit)}
        found.append(Block(kind="carrier", head="[[carrier]]", values=values))
    if not answers.many("carriers"):
        found.append(Block(kind="carrier", head="[[carrier]]", is_used=False))
    return found
