"""What happened at the press, noted in words, taken back, and told again in the order in which it was noted."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from scheduler import api
from scheduler.domain.week import Week
from scheduler.inputs.faults import CellError, Faults, Place, nearest, one_of, quoted
from scheduler.inputs.moments import clock, moment
from scheduler.record.events import (
    BROKEN,
    COATED,
    SCREEN_STATES,
    Counted,
    Done,
    DryerChecked,
    Event,
    FramesCoated,
    Packed,
    ScreenTicked,
    SetUpStarted,
    Spoiled,
    Stopped,
    StrikeOffRight,
    Undone,
    WentOn,
    that_count,
)
from scheduler.shop_book.keeping import opened, week_of_plan

if TYPE_CHECKING:
    from scheduler.book.opening import Book
    from scheduler.domain.plan import Plan

Kind = tuple[type[Event], str]
"""What is noted, and what it is about."""

RUN, SET, FRAMES, DRYER, ORDER, NUMBER = "run", "screen set", "frames", "dryer", "order", "number"

WORDS: Mapping[str, Kind] = {
    "start": (SetUpStarted, RUN),
    "right": (StrikeOffRight, RUN),
    "stop": (Stopped, RUN),
    "on": (WentOn, RUN),
    "done": (Done, RUN),
    "count": (Counted, RUN),
    "spoil": (Spoiled, RUN),
    "dryer": (DryerChecked, DRYER),
    "screen": (ScreenTicked, SET),
    "frames": (FramesCoated, FRAMES),
    "packed": (Packed, ORDER),
    "undo": (Undone, NUMBER),
}
"""Words for what can be noted: set-up started, strike-off right, the run stands, goes on, is done, ..."""

TICKED = tuple(state for state in SCREEN_STATES if state != COATED)
MOST_PIECES = 1_000_000
"""More than this in one run is a slip of the finger."""

NEEDS_PIECES = (Counted, Spoiled, FramesCoated)


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """What somebody says has happened, as typed. about: a run, set, order, ... by its name. at: a moment, a clock time
    of today, "" for now.
    """

    word: str
    about: str = ""
    press: str = ""
    pieces: int | None = None
    state: str = ""
    reason: str = ""
    at: str = ""
    who: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Known:
    """What can be meant: the names of the announced plan's week, or of the week as it is typed.

    runs: every run of the orders, done ones too. latest: number of the last event that nobody took back, 0 for none.
    """

    week: Week
    plan: Plan | None
    now: datetime
    runs: Collection[str]
    latest: int

    def names(self, of: str) -> Collection[str]:
        """Every run, set, order, ... there is."""
        week = self.week
        found: dict[str, Collection[str]] = {
            RUN: self.runs,
            SET: [one.set_id for one in week.sets],
            FRAMES: [one.class_id for one in week.frames],
            DRYER: list(dict.fromkeys(press.dryer_id for press in week.presses if press.dryer_id is not None)),
            ORDER: [order.order_id for order in week.orders],
        }
        return found[of]

    def planned_press(self, run_id: str) -> str:
        """The press a run was announced for; "" where nobody knows."""
        planned = self.plan.run.get(run_id) if self.plan else None
        return planned.press_id if planned else ""


def note(address: str, told: Note, *, now: datetime, seen: int | None = None) -> Event:
    """What happened is in the book, with its number. Raises InputError with every fault of what was said.

    now: by the clock of this computer. seen: the last event looked at before; None: whatever there is.
    """
    from scheduler.book.happened import note as write

    with opened(address) as book:
        event = _event(told, _known(book, now))
        return write(book, event, noted_at=now, seen=seen)


def note_event(address: str, event: Event, *, now: datetime, seen: int | None = None) -> Event:
    """An event made elsewhere is in the book, with its number. InputError as `note`."""
    from scheduler.book.happened import note as write

    with opened(address) as book:
        return write(book, event, noted_at=now, seen=seen)


def events_of(address: str) -> tuple[Event, ...]:
    """Everything that was noted, in the order in which it was; undos, and what they took back, among it."""
    from scheduler.book.happened import events_within

    with opened(address) as book, book.reading() as connection:
        return events_within(connection)


def event_text(event: Event) -> str:
    """An event in words: "done: 4102 front dark, 190 pieces"."""
    from scheduler.book.happened import about

    if isinstance(event, Undone):
        return f"took back number {event.undone}"
    more = {
        "on press": getattr(event, "press_id", None),
        "": getattr(event, "state", None),
        "because": getattr(event, "reason", None),
    }
    pieces = getattr(event, "pieces", None) or getattr(event, "frames", None)
    said = [f"{words} {value}".strip() for words, value in more.items() if value]
    said += [f"{pieces} {'frames' if isinstance(event, FramesCoated) else 'pieces'}"] if pieces else []
    if isinstance(event, DryerChecked):
        said += ["right" if event.is_right else "not right"]
    return ", ".join([f"{event.kind}: {about(event)}", *said])


def _known(book: Book, now: datetime) -> _Known:
    from scheduler.book.happened import events_within
    from scheduler.book.plans import announced_within
    from scheduler.book.weeks import week_within
    from scheduler.record.standing import floor_of

    with book.reading() as connection:
        kept = week_within(connection, book.name)
        told = announced_within(connection, book.name)
        counted = that_count(events_within(connection))
    week = week_of_plan(told) if told else api.build_workload(kept.inputs).week
    runs = dict.fromkeys(run.run_id for run in week.runs)
    if told:
        runs |= dict.fromkeys(floor_of(kept.inputs, week, told.plan).drafts)
    local = now.astimezone(ZoneInfo(kept.inputs.shop.zone)).replace(tzinfo=None, second=0, microsecond=0)
    return _Known(
        week=week,
        plan=told.plan if told else None,
        now=local,
        runs=list(runs),
        latest=max((one.number for one in counted), default=0),
    )


def _event(told: Note, known: _Known) -> Event:
    """The event that is meant. Raises InputError with every fault of what was said."""
    faults, place = Faults(), Place(file="note")
    if told.word not in WORDS:
        near = nearest(told.word, WORDS)
        hint = f"did you mean {near}?" if near else one_of(list(WORDS), most=len(WORDS))
        faults.add(place, "no_such_word", f"{quoted(told.word)} is nothing that can be noted", hint, told.word)
        faults.raise_if_any()
    kind, of = WORDS[told.word]
    at = _moment(told.at, known, faults)
    about = _undone(told, known.latest, faults) if of == NUMBER else _named(told, of, known, faults)
    beside = _beside(told, kind, about, known, faults)
    faults.raise_if_any()
    return _made(kind, of, about, {**beside, "at": at, "who": told.who})


def _made(kind: type[Event], of: str, about: str, beside: dict[str, object]) -> Event:
    fields = {RUN: "run_id", SET: "set_id", FRAMES: "class_id", DRYER: "dryer_id", ORDER: "order_id", NUMBER: "undone"}
    meant: object = int(about) if of == NUMBER else about
    make: Callable[..., Event] = kind
    return make(**{fields[of]: meant}, **beside)


def _named(told: Note, of: str, known: _Known, faults: Faults) -> str:
    """The run, set, ... that is meant, however its name is spelled."""
    names = {" ".join(name.split()).casefold(): name for name in known.names(of)}
    key = " ".join(told.about.split()).casefold()
    begun = [name for spelled, name in names.items() if spelled.startswith(f"{key} ")] if key else []
    if key in names:
        return names[key]
    if len(begun) == 1:
        return begun[0]
    near = nearest(told.about, names.values())
    hint = one_of(begun) if begun else f"did you mean {near}?" if near else one_of(list(names.values()))
    what = f"{quoted(told.about)} is no {of} of this week" if told.about else f"nothing says which {of} is meant"
    if begun:
        what = f"{quoted(told.about)} may be any of {len(begun)} {of}s"
    faults.add(Place(file="note", column=of), "no_such_name", what, hint, told.about)
    return ""


def _undone(told: Note, latest: int, faults: Faults) -> str:
    """The number to take back; without one, the last event that nobody took back."""
    text = told.about.strip() or str(latest)
    if text == "0":
        faults.add(Place(file="note"), "nothing_noted", "nothing is there to be taken back", "look again")
        return "0"
    if not text.isdecimal():
        hint = "write the number that `pressweek book history` tells"
        faults.add(Place(file="note", column=NUMBER), "no_number", f"{quoted(text)} is no event's number", hint, text)
        return "0"
    return text


def _moment(text: str, known: _Known, faults: Faults) -> datetime:
    """When it happened, by the shop's clock."""
    if not text.strip():
        return known.now
    place = Place(file="note", column="at")

    def read(said: str) -> datetime:
        try:
            minute = clock(said)
        except CellError:
            return moment(ZoneInfo(known.week.clock.zone))(said).replace(tzinfo=None)
        return known.now.replace(hour=minute // 60 % 24, minute=minute % 60)

    at = faults.read(place, text, read)
    if at is not None and at > known.now:
        faults.add(place, "not_yet", f"{quoted(text)} is still to come", f"it is {known.now:%Y-%m-%d %H:%M} now", text)
    return at or known.now


def _beside(told: Note, kind: type[Event], about: str, known: _Known, faults: Faults) -> dict[str, object]:
    """Everything else an event of this kind says."""
    found: dict[str, object] = {}
    if told.pieces is not None and told.pieces < 0:
        faults.add(
            Place(file="note", column="pieces"), "negative", f"{told.pieces} is below nothing", "write 0 or more"
        )
    if told.pieces is not None and told.pieces > MOST_PIECES:
        hint = f"write {MOST_PIECES:,} or fewer"
        faults.add(Place(file="note", column="pieces"), "too_many", f"{told.pieces} is more than any run has", hint)
    if issubclass(kind, NEEDS_PIECES) and told.pieces is None:
        faults.add(Place(file="note", column="pieces"), "needed", "nothing says how many", "add --pieces 144")
    if issubclass(kind, Stopped | Done | Counted | Spoiled):
        found["pieces"] = told.pieces
    if issubclass(kind, SetUpStarted):
        found["press_id"] = _press(told, about, known, faults)
    if issubclass(kind, Stopped | Spoiled):
        found["reason"] = told.reason
    if issubclass(kind, FramesCoated):
        found |= {"frames": told.pieces, "state": _state(told, (COATED, BROKEN), faults, COATED)}
    if issubclass(kind, ScreenTicked):
        found["state"] = _state(told, TICKED, faults, "")
    if issubclass(kind, DryerChecked):
        found["is_right"] = _state(told, ("right", "not right"), faults, "right") == "right"
    return found


def _press(told: Note, run_id: str, known: _Known, faults: Faults) -> str:
    """The press that is named, else the one the run was announced for."""
    presses = [press.press_id for press in known.week.presses]
    press_id = told.press or known.planned_press(run_id) or (presses[0] if len(presses) == 1 else "")
    if press_id not in presses and (run_id or told.press):
        what = f"{quoted(press_id)} is no press" if press_id else "nothing says on which press"
        faults.add(Place(file="note", column="press"), "no_such_press", what, one_of(presses), press_id)
    return press_id


def _state(told: Note, states: tuple[str, ...], faults: Faults, default: str) -> str:
    state = told.state or default
    if state not in states:
        what = f"{quoted(state)} is no state" if state else "nothing says how they are now"
        faults.add(Place(file="note", column="state"), "no_such_state", what, one_of(states), state)
    return state
