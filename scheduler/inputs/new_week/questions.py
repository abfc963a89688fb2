"""The questions a new shop is asked, in order.

A one-press shop is never asked about press two, nor which of its dryers a press prints into. What is offered is common
practice for a shop of that size, no source; whoever takes it by mistake finds it in shop.toml with its explanation.
"""

from __future__ import annotations

from datetime import datetime, time, timedelta
from typing import Any

from scheduler.inputs import cells, units
from scheduler.inputs.faults import CellError, key_of, one_of, quoted
from scheduler.inputs.new_week import typed_answers as read
from scheduler.inputs.new_week.machine import INCHES, money_of
from scheduler.inputs.new_week.question import LINES, PER_PRESS, Answers, Question
from scheduler.inputs.shop_floor import AUTOMATIC, MANUAL
from scheduler.inputs.shop_reader import zone_of

LONG_HALF_DAY_MIN = 360
"""Open minutes in one piece after which lunch is asked for."""


def press_names(answers: Answers) -> list[str]:
    """What each press is called: "manual", or "auto-1" and "auto-2" where there are several of a kind."""
    kinds = [one.kind for one in answers.many("press")]
    stems = {AUTOMATIC: "auto", MANUAL: "manual"}
    return [
        stems[kind] if kinds.count(kind) == 1 else f"{stems[kind]}-{kinds[: number + 1].count(kind)}"
        for number, kind in enumerate(kinds)
    ]


def dryer_names(answers: Answers) -> list[str]:
    """What each dryer is called: the name it was given, or "dryer"."""
    found: list[str] = []
    for one in answers.many("dryer"):
        name = one.name or "dryer"
        taken = {key_of(other) for other in found}
        number = 2
        while key_of(name) in taken:
            name = f"{one.name or 'dryer'}-{number}"
            number += 1
        found.append(name)
    return found


def _is_many(answers: Answers) -> bool:
    return bool(answers.one("presses") > 1)


def _manuals_only(answers: Answers) -> bool:
    return all(one.kind == MANUAL for one in answers.many("press"))


def _is_metric(answers: Answers) -> bool:
    return bool(answers.one("money").is_metric)


def _money_offer(answers: Answers, _number: int) -> str:
    """The machine's money; that of the shop's own zone where the machine stands in another."""
    zone, machine = answers.one("zone"), answers.machine
    elsewhere = money_of(zone) if zone != machine.zone else None
    currency = elsewhere or machine.currency
    is_metric = currency not in INCHES if elsewhere else machine.is_metric
    return f"{currency}, {'cm' if is_metric else 'in'}"


def _needs_lunch(answers: Answers) -> bool:
    """True if the shop would be open for a long stretch without a break."""
    return any(
        one.shift.to_min - one.shift.from_min >= LONG_HALF_DAY_MIN and not one.shift.breaks
        for one in answers.one("hours")
    )


def _lunch_offer(_answers: Answers, _number: int) -> str:
    return "12:00-12:30"


def next_opening(answers: Answers) -> datetime:
    """Now, on the next quarter of an hour, if the shop is open; else when it opens next."""
    now = answers.machine.now
    quarter = now + timedelta(minutes=-now.minute % 15)
    for ahead in range(8):
        day = now.date() + timedelta(days=ahead)
        for one in answers.one("hours"):
            if day.weekday() not in one.weekdays:
                continue
            opens = datetime.combine(day, time()) + timedelta(minutes=one.shift.from_min)
            closes = datetime.combine(day, time()) + timedelta(minutes=one.shift.to_min)
            if quarter <= opens:
                return opens
            if quarter < closes - timedelta(minutes=60):
                return quarter
    return quarter


def _press_offer(answers: Answers, number: int) -> str:
    if not _is_many(answers):
        return "manual 4"
    return "manual 6" if number == answers.one("presses") - 1 else "automatic 8"


def _flash_offer(answers: Answers, number: int) -> str:
    return "1" if answers.many("press")[number].kind == MANUAL else "1 over a pallet"


def _read_flash(text: str, answers: Answers, number: int) -> Any:
    return read.flash(text, answers.many("press")[number].kind)


def _rate_offer(answers: Answers, number: int) -> str:
    return "60" if answers.many("press")[number].kind == MANUAL else "by its strokes"


def _read_rate(text: str, _answers: Answers, _number: int) -> int | None:
    return None if key_of(text) in ("by its strokes", "strokes", *read.NOTHING) else units.rate_pcs_h(text)


def _dryer_offer(answers: Answers, number: int) -> str:
    small = _manuals_only(answers) and not _is_many(answers)
    sizes = ("120 cm x 60 cm", "300 cm x 120 cm") if _is_metric(answers) else ("4 ft x 24 in", "10 ft x 48 in")
    return sizes[0 if small else 1] if number == 0 else ""


def _read_dryer_of(text: str, answers: Answers, _number: int) -> str:
    names = dryer_names(answers)
    found = {key_of(name): name for name in names}.get(key_of(text))
    if found is None:
        raise CellError("no_such_dryer", f"{quoted(text)} is none of the dryers", one_of(names))
    return found


def _people_offer(answers: Answers, number: int) -> str:
    if not _is_many(answers) and _manuals_only(answers):
        return "Me: everything" if number == 0 else ""
    offers: list[str] = []
    for name, told in zip(press_names(answers), answers.many("press"), strict=True):
        if told.kind == AUTOMATIC:
            offers += [f"{name} printer: print, stage", f"{name} catcher: catch, pack"]
        else:
            offers.append(f"{name} printer: print, pack")
    offers.append("Screen tech: screens, stage")
    return offers[number] if number < len(offers) else ""


def _read_person(text: str, answers: Answers, _number: int) -> Any:
    told = read.person(text, answers.one("hours"))
    if key_of(told.name) in {key_of(one.name) for one in answers.many("people")}:
        raise CellError("twice", f"{quoted(told.name)} stands there already", "give each their own name")
    return told


def _somebody_prints(answers: Answers) -> None:
    told = answers.many("people")
    if told and not any("print" in one.duties for one in told):
        raise CellError("nobody_prints", "nobody of them prints", "add a line for somebody who does")


def _frames_offer(answers: Answers, number: int) -> str:
    size = "58x79 cm" if _is_metric(answers) else "23x31"
    if not _is_many(answers):
        size = "50x60 cm" if _is_metric(answers) else "20x24"
        offers = [f"{size}, 156 mesh: 14, 6 coated", f"{size}, 230 mesh: 10, 4 coated"]
    else:
        each = 24 * answers.one("presses")
        offers = [f"{size}, {mesh} mesh: {each}, {each // 3} coated" for mesh in (156, 230)]
    return offers[number] if number < len(offers) else ""


def _read_frames(text: str, answers: Answers, _number: int) -> Any:
    told = read.frames(text)
    if any((key_of(one.size), one.mesh) == (key_of(told.size), told.mesh) for one in answers.many("frames")):
        raise CellError("twice", f"{told.size} with {told.mesh} mesh stand there already", "add them up in one line")
    return told


def _has_screens(answers: Answers) -> bool:
    return bool(answers.many("frames"))


def _read_on_press(text: str, answers: Answers, number: int) -> Any:
    return read.on_press(text, answers.many("press")[number].heads)


def _read_carrier(text: str, answers: Answers, _number: int) -> Any:
    told = read.carrier(text)
    if key_of(told.name) in {key_of(one.name) for one in answers.many("carriers")}:
        raise CellError("twice", f"{quoted(told.name)} stands there already", "give each its own name")
    return told


def _fixed(text: str) -> Any:
    return lambda _answers, _number: text


QUESTIONS: tuple[Question, ...] = (
    Question(
        name="name",
        text="What is the shop called?",
        more="The name stands on the press sheets.",
        offers=lambda answers, _number: answers.title or "My shop",
        read=lambda text, _answers, _number: cells.name(text),
    ),
    Question(
        name="zone",
        text="Which time zone is it in?",
        more="A zone by its region and town, as Europe/Lisbon or America/Chicago.",
        offers=lambda answers, _number: answers.machine.zone,
        read=lambda text, _answers, _number: zone_of(text).key,
    ),
    Question(
        name="money",
        text="Which money, and inches or centimetres?",
        more="Three letters and in or cm, as USD, in. Other lengths can be typed anyway, with their unit.",
        offers=_money_offer,
        read=lambda text, answers, _number: read.money(text, is_metric=answers.machine.is_metric),
    ),
    Question(
        name="hours",
        text="When is the shop open?",
        more="Days and hours, lunch left out: mon-fri 08:00-12:00, 12:30-16:30; sat 09:00-12:00.",
        offers=_fixed("mon-fri 08:00-12:00, 12:30-16:30"),
        read=lambda text, _answers, _number: read.hours(text),
    ),
    Question(
        name="lunch",
        text="When is lunch?",
        more="From when to when nobody works, as 12:00-12:30; none if the shop works through.",
        offers=_lunch_offer,
        read=lambda text, _answers, _number: read.lunch(text),
        is_asked=_needs_lunch,
    ),
    Question(
        name="plan_from",
        text="Plan from when on?",
        more="The moment the first plan starts from, as 2026-03-02 08:00. Change it in shop.toml every week.",
        offers=lambda answers, _number: f"{next_opening(answers):%Y-%m-%d %H:%M}",
        read=lambda text, answers, _number: read.moment(text, answers.one("zone")),
    ),
    Question(
        name="presses",
        text="How many presses are there?",
        more="Presses that print garments, automatic and manual ones together.",
        offers=_fixed("1"),
        read=lambda text, _answers, _number: cells.whole(least=1, most=read.MOST_PRESSES, example="1")(text),
    ),
    Question(
        name="press",
        text="{press}: automatic or manual, and how many heads?",
        more="The kind and its print heads, as automatic 8 or manual 4; of a manual how many screens it holds.",
        offers=_press_offer,
        read=lambda text, _answers, _number: read.press(text),
        repeats=PER_PRESS,
    ),
    Question(
        name="flash",
        text="{press}: how many flashes, and where do they stand?",
        more="A number and over a pallet, in a head or between heads; none if it has no flash.",
        offers=_flash_offer,
        read=_read_flash,
        repeats=PER_PRESS,
    ),
    Question(
        name="rate",
        text="{press}: about how many pieces an hour, once it runs?",
        more="Tees in one colour, as 60; by its strokes if it is to be worked out from stroke, index and flash times.",
        offers=_rate_offer,
        read=_read_rate,
        repeats=PER_PRESS,
    ),
    Question(
        name="dryer",
        text="How long is the dryer's heated tunnel, and how wide its belt?",
        more="Length x width with units, as 8 ft x 36 in; with a name before a colon if there are several; or none.",
        offers=_dryer_offer,
        read=lambda text, _answers, _number: read.dryer(text),
        repeats=LINES,
    ),
    Question(
        name="dryer_of",
        text="{press}: which dryer does it print into?",
        more="The name of the dryer.",
        offers=lambda answers, number: dryer_names(answers)[min(number, len(answers.many("dryer")) - 1)],
        read=_read_dryer_of,
        repeats=PER_PRESS,
        is_asked=lambda answers: len(answers.many("dryer")) > 1,
    ),
    Question(
        name="people",
        text="Who works here, and what do they do?",
        more="A line for each: Marta: print, screens; 08:00-14:00. Duties are print, catch, screens, stage, pack or "
        "everything; hours only if they are not the shop's. Or none: people are then taken never to be short.",
        offers=_people_offer,
        read=_read_person,
        repeats=LINES,
        ends=_somebody_prints,
    ),
    Question(
        name="frames",
        text="Which frames are there, and how many hang coated?",
        more="A line for each size and mesh: 20x24, 156 mesh: 15, 6 coated. Or none: screens come from outside.",
        offers=_frames_offer,
        read=_read_frames,
        repeats=LINES,
    ),
    Question(
        name="on_press",
        text="{press}: what is on it now?",
        more="A design and its inks, as stout mug: white, gold; inks alone, as black, red; or nothing.",
        offers=_fixed("nothing"),
        read=_read_on_press,
        repeats=PER_PRESS,
    ),
    Question(
        name="burned",
        text="Which designs hang burned, ready to print again?",
        more="Names with commas between, as mill loaf, vet paw; or none.",
        offers=_fixed("none"),
        read=lambda text, _answers, _number: read.burned(text),
        is_asked=_has_screens,
    ),
    Question(
        name="carriers",
        text="Which carriers come, and when?",
        more="A line for each: Parcel Van: mon-fri 16:00, 2 days. Clients may always collect.",
        offers=_fixed(""),
        read=_read_carrier,
        repeats=LINES,
    ),
)
"""Every question, in the order in which it is asked."""

QUESTION = {one.name: one for one in QUESTIONS}
"""Questions by name."""
