"""Many people at one book at once: writers who change the week and note what happens, readers who look all the time."""

from __future__ import annotations

import multiprocessing
import random
import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from multiprocessing.queues import SimpleQueue

from scheduler.book.happened import events_within, note
from scheduler.book.opening import Book, open_book
from scheduler.book.weeks import load_week, store_week, versions_within, week_within
from scheduler.domain.orders import WeekInputs
from scheduler.errors import InputError
from scheduler.record.events import Counted
from tests.book.books import NOW

CHANGES_EVERY = 5
"""One writing in so many changes the week; the others note an event."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Did:
    """What one person did: waits in seconds of each reading or writing, what was kept, how often somebody was first."""

    waits: tuple[float, ...]
    events: int = 0
    changes: int = 0
    second: int = 0
    faults: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Crowd:
    """What everybody did together, and what is in the book afterwards."""

    writers: tuple[Did, ...]
    readers: tuple[Did, ...]
    events_kept: int
    changes_kept: int

    @property
    def faults(self) -> tuple[str, ...]:
        """Everything that went wrong for anybody, and everything that was lost."""
        told = [fault for one in (*self.writers, *self.readers) for fault in one.faults]
        events, changes = sum(one.events for one in self.writers), sum(one.changes for one in self.writers)
        if events != self.events_kept:
            told.append(f"{events} events were acknowledged, {self.events_kept} are there")
        if changes != self.changes_kept:
            told.append(f"{changes} changes were acknowledged, {self.changes_kept} are there")
        return tuple(told)


def crowd(
    address: str, inputs: WeekInputs, *, writers: int, readers: int, seconds: float, pause_s: float = 0.0
) -> Crowd:
    """So many people, each a process of its own, for so long. The book has no week yet.

    pause_s: how long they think between two looks or notes, on average.
    """
    book = open_book(address)
    store_week(book, _counting(inputs, 0), [], seen=0, at=NOW, who="Ana", why="brought")
    load_week(book)
    book.close()  # nobody takes an open connection along
    context = multiprocessing.get_context("fork")
    begun, until = context.SimpleQueue(), time.time() + seconds
    people = [
        *(context.Process(target=_write, args=(book, number, until, pause_s, begun)) for number in range(writers)),
        *(context.Process(target=_read, args=(book, number, until, pause_s, begun)) for number in range(readers)),
    ]
    for one in people:
        one.start()
    done: list[tuple[str, Did]] = [begun.get() for _ in people]
    for one in people:
        one.join()
    kept = load_week(book)
    with book.reading() as connection:
        events = events_within(connection)
    book.close()
    return Crowd(
        writers=tuple(did for kind, did in done if kind == "writer"),
        readers=tuple(did for kind, did in done if kind == "reader"),
        events_kept=len(events),
        changes_kept=_count_of(kept.inputs),
    )


def spread(waits: Sequence[float]) -> str:
    """The middle wait, the one that 95 in 100 stay below, and the longest, in milliseconds."""
    ordered = sorted(waits)
    places = (len(ordered) // 2, int(len(ordered) * 0.95), len(ordered) - 1)
    middle, most, longest = (1000 * ordered[place] for place in places)
    return f"{len(ordered)} times: middle {middle:.1f} ms, 95 in 100 below {most:.1f} ms, longest {longest:.1f} ms"


def _counting(inputs: WeekInputs, count: int) -> WeekInputs:
    """The week with a count that everybody puts one higher: a lost change is one too few."""
    return replace(inputs, orders=(replace(inputs.orders[0], note=str(count)), *inputs.orders[1:]))


def _count_of(inputs: WeekInputs) -> int:
    return int(inputs.orders[0].note)


def _write(book: Book, number: int, until: float, pause_s: float, done: SimpleQueue[tuple[str, Did]]) -> None:
    waits: list[float] = []
    faults: list[str] = []
    events = changes = second = turn = 0
    rng = random.Random(number)
    while time.time() < until:
        time.sleep(rng.random() * 2 * pause_s)
        turn += 1
        began = time.perf_counter()
        try:
            if (turn + number) % CHANGES_EVERY:
                told = Counted(at=NOW.replace(tzinfo=None), who=str(number), run_id=f"run {number}", pieces=turn)
                note(book, told, noted_at=NOW)
                events += 1
            else:
                kept = load_week(book)
                changed = _counting(kept.inputs, _count_of(kept.inputs) + 1)
                store_week(book, changed, [], seen=kept.version.number, at=NOW, who=str(number), why="counted")
                changes += 1
        except InputError as fault:
            if [one.code for one in fault.problems] == ["changed_meanwhile"]:
                second += 1
            else:
                faults.append(str(fault))
        except Exception as fault:  # told at the end, by whoever asked
            faults.append(repr(fault))
        waits.append(time.perf_counter() - began)
    book.close()
    did = Did(waits=tuple(waits), events=events, changes=changes, second=second, faults=tuple(faults))
    done.put(("writer", did))


def _read(book: Book, number: int, until: float, pause_s: float, done: SimpleQueue[tuple[str, Did]]) -> None:
    waits: list[float] = []
    faults: list[str] = []
    rng = random.Random(number)
    seen_events = seen_count = 0
    while time.time() < until:
        time.sleep(rng.random() * 2 * pause_s)
        began = time.perf_counter()
        try:
            with book.reading() as connection:
                kept = week_within(connection, book.name)
                events = events_within(connection)
                said = versions_within(connection, kept.version.number)
        except Exception as fault:  # told at the end, by whoever asked
            faults.append(repr(fault))
            continue
        waits.append(time.perf_counter() - began)
        count = _count_of(kept.inputs)
        if said or count != kept.version.number - 1:
            faults.append(f"version {kept.version.number} with count {count} and {len(said)} later ones")
        if [event.number for event in events] != list(range(1, len(events) + 1)):
            faults.append("events with a gap")
        if len(events) < seen_events or count < seen_count:
            faults.append("something that was there is gone")
        seen_events, seen_count = len(events), count
    book.close()
    done.put(("reader", Did(waits=tuple(waits), faults=tuple(faults))))
