"""What happened on the floor, one dataclass for each kind, and undo.

`at` is the shop's local wall time to the minute, without a zone; `who` is the name as given, "" where nobody said.
`number` is the event's place in the book: 0 until it is noted there, then 1, 2, 3 … and never used twice. Pieces are
optional wherever they are None: start and done are enough to plan from.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import ClassVar

COATED, BURNED, HELD, RECLAIMED, BROKEN = "coated", "burned", "held", "reclaimed", "broken"
SCREEN_STATES = (COATED, BURNED, HELD, RECLAIMED, BROKEN)
"""What is ticked off: burned (and ready), held for its next run, reclaimed, broken; coated is said of frames."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something that happened, when, and who says so."""

    kind: ClassVar[str] = ""
    at: datetime
    who: str = ""
    number: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUpStarted(Event):
    """The first screen of a run goes on a press."""

    kind: ClassVar[str] = "set-up started"
    run_id: str
    press_id: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StrikeOffRight(Event):
    """The test print of a run is right: printing begins."""

    kind: ClassVar[str] = "strike-off right"
    run_id: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stopped(Event):
    """A run stands. pieces: good ones printed so far, None where nobody counted."""

    kind: ClassVar[str] = "stopped"
    run_id: str
    reason: str
    pieces: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WentOn(Event):
    """A run that stood goes on."""

    kind: ClassVar[str] = "went on"
    run_id: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Done(Event):
    """The last piece of a run is printed. pieces: good ones in all, None where nobody counted."""

    kind: ClassVar[str] = "done"
    run_id: str
    pieces: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted(Event):
    """Pieces of a run counted: good ones printed so far, in all."""

    kind: ClassVar[str] = "counted"
    run_id: str
    pieces: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Spoiled(Event):
    """Pieces of a run that are spoiled: these many more."""

    kind: ClassVar[str] = "spoiled"
    run_id: str
    pieces: int
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DryerChecked(Event):
    """A dryer checked. is_right: as hot as it should be; measured_f: degrees Fahrenheit on the garment, if read."""

    kind: ClassVar[str] = "dryer check"
    dryer_id: str
    is_right: bool
    measured_f: int | None = None
    run_id: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenTicked(Event):
    """Screens of a set have come to a state, one of SCREEN_STATES but coated. screen_id None: the whole set."""

    kind: ClassVar[str] = "screen"
    set_id: str
    state: str
    screen_id: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FramesCoated(Event):
    """Clean frames of one size and mesh have been coated; broken ones are told the same way with `state`."""

    kind: ClassVar[str] = "frames"
    class_id: str
    frames: int
    state: str = COATED


@dataclass(frozen=True, slots=True, kw_only=True)
class Packed(Event):
    """An order is packed and counted: ready to leave."""

    kind: ClassVar[str] = "packed"
    order_id: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Undone(Event):
    """An earlier event is taken back: it was noted by mistake. An undo can be undone as well."""

    kind: ClassVar[str] = "undone"
    undone: int


KINDS: dict[str, type[Event]] = {
    one.kind: one
    for one in (
        *(SetUpStarted, StrikeOffRight, Stopped, WentOn, Done, Counted, Spoiled),
        *(DryerChecked, ScreenTicked, FramesCoated, Packed, Undone),
    )
}
"""Every kind of event by the name it is kept under."""

RunEvent = SetUpStarted | StrikeOffRight | Stopped | WentOn | Done | Counted | Spoiled
"""Events about one run."""


def that_count(events: Iterable[Event]) -> tuple[Event, ...]:
    """Events that nobody took back, in the order they happened; noted later counts later within one minute."""
    noted = sorted(events, key=lambda one: one.number)
    gone: set[int] = set()
    kept: list[Event] = []
    for one in reversed(noted):
        if one.number and one.number in gone:
            continue
        if isinstance(one, Undone):
            gone.add(one.undone)
        else:
            kept.append(one)
    kept.reverse()
    return tuple(sorted(kept, key=lambda one: (one.at, one.number)))
