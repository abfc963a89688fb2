"""A process that writes into a book without end, is killed at a random moment, and what the book then says."""

from __future__ import annotations

import os
import random
import signal
import time
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import BinaryIO

from scheduler.book.copies import unsound
from scheduler.book.happened import events_within, note
from scheduler.book.opening import Book, open_book
from scheduler.book.plans import announce, announced_within, keep_plan, plan_within
from scheduler.book.weeks import load_week, store_week, versions
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.record.events import Counted
from tests.book.books import NOW

MOST_ACTS, MOST_SECONDS = 8, 0.1
"""It is killed after so many acknowledged writings at most, and so much later at most: in the midst of another."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Killed:
    """How often each kind of writing had been acknowledged before the end, and what was wrong then."""

    acknowledged: dict[str, int]
    faults: tuple[str, ...]


def kill_while_writing(address: str, inputs: WeekInputs, plan: Plan, seed: int) -> Killed:
    """Write in a process of its own, kill it at a moment drawn from the seed, and hold the book to what was said."""
    book = open_book(address)  # opened here, so that the other one begins at once
    with book.reading() as connection:
        stands = announced_within(connection, book.name)
    book.close()  # nobody takes an open connection along
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        try:
            with os.fdopen(writing, "wb", buffering=0) as said:
                _write_on(book, inputs, plan, stands.entry.number if stands else None, seed, said)
        finally:
            os._exit(1)  # whatever went wrong, the tests do not go on twice
    os.close(writing)
    rng = random.Random(f"kill-{seed}")
    with os.fdopen(reading, "rb") as heard:
        lines = [heard.readline() for _ in range(rng.randint(1, MOST_ACTS))]
        time.sleep(rng.random() * MOST_SECONDS)
        os.kill(child, signal.SIGKILL)
        lines += heard.readlines()
    os.waitpid(child, 0)
    told = [line.decode().split() for line in lines if line.endswith(b"\n")]
    return Killed(acknowledged=_counted(told), faults=tuple(_faults(address, inputs, plan, told)))


def _write_on(book: Book, inputs: WeekInputs, plan: Plan, after: int | None, seed: int, said: BinaryIO) -> None:
    """Bring, plan, announce, note, again and again; each is said once it is kept."""
    rng = random.Random(seed)
    seen = max((one.number for one in versions(book)), default=0)
    said.write(b"begun 0\n")
    while True:
        act = rng.choice(["week", "plan", "event", "event"])
        if act == "week":
            brought = _brought(inputs, seen + 1)
            seen = store_week(book, brought, _files(seen + 1), seen=seen, at=NOW, who="Ana", why="brought")
            said.write(f"week {seen}\n".encode())
        elif act == "event":
            event = note(book, Counted(at=NOW.replace(tzinfo=None), run_id="r", pieces=seen), noted_at=NOW)
            said.write(f"event {event.number}\n".encode())
        elif seen:
            made = {"version": seen, "last_event": 0, "after": after, "cost_cents": 1, "at": NOW, "who": "Ana"}
            number = keep_plan(book, _brought(inputs, seen), plan, **made)  # type: ignore[arg-type]
            said.write(f"plan {number}\n".encode())
            after = announce(book, number, at=NOW, who="Ana").number
            said.write(f"announced {number}\n".encode())


def _brought(inputs: WeekInputs, version: int) -> WeekInputs:
    """The week as it is brought as this version: every order and lot differs from version to version."""
    later = timedelta(minutes=version)
    return replace(
        inputs,
        shop=replace(inputs.shop, plan_from=inputs.shop.plan_from + later),
        orders=tuple(replace(order, note=f"version {version}") for order in inputs.orders),
        lots=tuple(replace(lot, pieces=lot.pieces + version) for lot in inputs.lots),
    )


def _files(version: int) -> list[tuple[str, bytes]]:
    return [("orders.csv", f"version {version}\n".encode() * 2000)]


def _counted(told: list[list[str]]) -> dict[str, int]:
    return {kind: len([1 for one in told if one[0] == kind]) for kind in ("week", "plan", "announced", "event")}


def _faults(address: str, inputs: WeekInputs, plan: Plan, told: list[list[str]]) -> list[str]:
    """Everything the book says otherwise than it was acknowledged, or says by halves."""
    book = open_book(address)
    found: list[str] = [said] if (said := unsound(book)) else []
    highest = {kind: max((int(one[1]) for one in told if one[0] == kind), default=0) for kind in _counted(told)}
    found += _week_faults(book, inputs, highest["week"])
    with book.reading() as connection:
        numbers = [event.number for event in events_within(connection)]
        if numbers != list(range(1, len(numbers) + 1)) or len(numbers) < highest["event"]:
            found.append(f"events {numbers[-3:]}, acknowledged {highest['event']}")
        stands = announced_within(connection, book.name)
        if (stands.entry.number if stands else 0) < highest["announced"]:
            found.append(f"announced {stands and stands.entry.number}, acknowledged {highest['announced']}")
        if highest["plan"]:
            kept = plan_within(connection, book.name, highest["plan"])
            if kept.plan != plan or kept.inputs != _brought(inputs, kept.entry.version):
                found.append(f"plan {highest['plan']} is not the one that was kept")
    return found


def _week_faults(book: Book, inputs: WeekInputs, acknowledged: int) -> list[str]:
    numbers = [one.number for one in versions(book)]
    if numbers != list(range(1, len(numbers) + 1)) or len(numbers) < acknowledged:
        return [f"versions {numbers[-3:]}, acknowledged {acknowledged}"]
    if not numbers:
        return []
    kept = load_week(book)
    is_whole = kept.inputs == _brought(inputs, numbers[-1]) and list(kept.files) == _files(numbers[-1])
    return [] if is_whole else [f"version {numbers[-1]} is half written"]
