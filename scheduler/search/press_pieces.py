"""Set-up minutes that no order of the runs can spare a press, taken apart into what each run owes and what runs share.

Whatever stands on a press was put there. So of all runs that go to one press, the first that prints with a screen
mounts it; whoever prints most heads of an ink finds no more of it than were ever loaded; the first run of a stack
makes its test print unless a run with all its heads and more stood there. What a run owes whoever goes before it is
its own; the rest are pieces, each paid once as soon as one of its runs goes to the press.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from scheduler.domain.week import SetUpMinutes, StackHead
from scheduler.search.least_times import open_choices
from scheduler.search.tables import ChoiceSpec, RunSpec, Tables

Thing = TypeVar("Thing")


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """Work of `minutes` a time, done at least as often as any of its runs asks for.

    asks: times by run number, if the run goes to the press. less: times that what stands there now spares. spared:
    times by number of a run that may spare it if it goes to the press (its set-up is not reckoned from what was there).
    """

    minutes: int
    asks: Mapping[int, int]
    less: int = 0
    spared: Mapping[int, int] | None = None

    @property
    def is_plain(self) -> bool:
        """True if each run asks for it once and nothing may spare it."""
        return not self.less and not self.spared and set(self.asks.values()) == {1}


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """Work of `minutes` a time, as often as the pieces of some numbers are done beyond `free` times in all."""

    minutes: int
    pieces: tuple[int, ...]
    free: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PressPieces:
    """What one press owes. own_min: set-up minutes by run number, approval included, rinsing out not.

    loads: which of the pieces, by place, are first loadings of an ink beyond carding it.
    """

    press: int
    cents_per_min: int
    own_min: dict[int, int]
    pieces: tuple[Piece, ...]
    changes: tuple[Changes, ...]
    loads: range


def press_pieces(tables: Tables, press: int) -> PressPieces:
    """The set-up minutes of a press that nothing spares it."""
    return _Press(tables, press).taken_apart()


class _Press:
    def __init__(self, tables: Tables, press: int) -> None:
        self.line = tables.week.presses[press]
        self.press = press
        self.inks = tables.week.ink
        self.minutes: SetUpMinutes = self.line.set_up
        self.here = {
            run.number: (run, choice) for run in tables.runs for choice in open_choices(run) if choice.press == press
        }
        counted = {n: one for n, one in self.here.items() if not one[0].is_started and one[1].stated_min is None}
        self.counted = {number: choice for number, (_, choice) in counted.items()}
        self.stated = {number: choice for number, (_, choice) in self.here.items() if number not in counted}

    def taken_apart(self) -> PressPieces:
        own_min = {number: self._own_min(run, choice) for number, (run, choice) in self.here.items()}
        loads = self._loads()
        pallets, changes = self._pallets()
        rest = [*self._mounts(), *self._test_prints(), *self._flashes()]
        for piece in rest:
            if len(piece.asks) == 1 and piece.is_plain:
                own_min[next(iter(piece.asks))] += piece.minutes
        shared = _merged(piece for piece in rest if len(piece.asks) > 1 or not piece.is_plain)
        pieces = [*loads, *pallets, *shared]
        first_pallet = len(loads)
        if changes is not None:
            numbers = tuple(range(first_pallet, first_pallet + len(pallets)))
            changes = replace(changes, pieces=numbers)
        leaving = self._leaving(len(loads))
        return PressPieces(
            press=self.press,
            cents_per_min=self.line.set_up_cents_per_min,
            own_min=own_min,
            pieces=tuple(pieces),
            changes=tuple(one for one in (changes, leaving) if one is not None),
            loads=range(len(loads)),
        )

    def _dries(self, head: StackHead) -> bool:
        return self.inks[head.ink_id].dries

    def _own_min(self, run: RunSpec, choice: ChoiceSpec) -> int:
        if run.is_started:
            return run.set_up_left_min
        if choice.stated_min is not None:
            return choice.stated_min + choice.extra_min
        drying = sum(self._dries(head) for head in choice.stack.heads)
        return choice.extra_min + drying * self.minutes.load_min + (self.minutes.strike_off_min if drying else 0)

    def _mounts(self) -> list[Piece]:
        """Each screen is mounted once; with an ink that does not dry, it is also carded or loaded then."""
        standing = {head.screen_id for head in self.line.now_on.heads}
        carded_min = min(self.minutes.card_min, self.minutes.load_min)
        dry = {head.screen_id for choice in self.counted.values() for head in choice.stack.heads if self._dries(head)}
        screens = {n: Counter({h.screen_id for h in c.stack.heads}) for n, c in self.counted.items()}
        brought = _asked_by({n: Counter({h.screen_id for h in c.stack.heads}) for n, c in self.stated.items()})
        return [
            Piece(
                minutes=self.minutes.mount_min + (0 if screen_id in dry else carded_min),
                asks=asks,
                spared=brought.get(screen_id),
            )
            for screen_id, asks in _asked_by(screens).items()
            if screen_id not in standing
        ]

    def _loads(self) -> list[Piece]:
        """Heads of an ink that does not dry were loaded once; what that takes beyond the card counted above."""
        over_min = max(0, self.minutes.load_min - self.minutes.card_min)
        live = Counter(head.ink_id for head in self.line.now_on.heads if not self._dries(head))
        asked = _asked_by({n: self._live_heads(choice) for n, choice in self.counted.items()})
        brought = _asked_by({n: self._live_heads(choice) for n, choice in self.stated.items()})
        return [
            Piece(minutes=over_min, asks=asks, less=live[ink_id], spared=brought.get(ink_id))
            for ink_id, asks in sorted(asked.items())
        ]

    def _live_heads(self, choice: ChoiceSpec) -> Counter[str]:
        return Counter(head.ink_id for head in choice.stack.heads if not self._dries(head))

    def _test_prints(self) -> list[Piece]:
        """A stack's first run makes a test print unless all its heads stood there in a fuller stack."""
        if not self.minutes.strike_off_min:
            return []
        stacks: dict[tuple[tuple[str, str], ...], list[int]] = {}
        for number, choice in self.counted.items():
            heads = choice.stack.heads
            if heads and not any(self._dries(head) for head in heads):
                stacks.setdefault(tuple((h.screen_id, h.ink_id) for h in heads), []).append(number)
        now = {(head.screen_id, head.ink_id) for head in self.line.now_on.heads}
        found = []
        for stack, numbers in stacks.items():
            if set(stack) <= now:
                continue
            fuller = {
                number: 1
                for number, (_, choice) in self.here.items()
                if number not in numbers and set(stack) <= {(h.screen_id, h.ink_id) for h in choice.stack.heads}
            }
            asks = dict.fromkeys(numbers, 1)
            found.append(Piece(minutes=self.minutes.strike_off_min, asks=asks, spared=fuller))
        return found

    def _flashes(self) -> list[Piece]:
        """A flash is moved once to each place where none stands now."""
        if not self.minutes.flash_move_min:
            return []
        places = _asked_by({n: Counter(set(c.stack.flash_after)) for n, c in self.counted.items()})
        brought = _asked_by({n: Counter(set(c.stack.flash_after)) for n, c in self.stated.items()})
        return [
            Piece(minutes=self.minutes.flash_move_min, asks=asks, spared=brought.get(place))
            for place, asks in places.items()
            if place not in self.line.now_on.flash_after
        ]

    def _pallets(self) -> tuple[list[Piece], Changes | None]:
        """Each pallet kind but the first is changed to once; nothing is known where a run takes any pallet."""
        kinds = {choice.stack.pallet for _, choice in self.here.values()}
        now = self.line.now_on.pallet
        if not self.minutes.pallet_min or None in kinds or self.stated or not kinds - {now}:
            return [], None
        asks = _asked_by({n: Counter({c.stack.pallet}) for n, c in self.counted.items()})
        if now is not None:
            return [Piece(minutes=self.minutes.pallet_min, asks=who) for kind, who in asks.items() if kind != now], None
        # Whatever stands there now changes for nothing, so one kind is free.
        pieces = [Piece(minutes=0, asks=who) for who in asks.values()]
        return pieces, Changes(minutes=self.minutes.pallet_min, pieces=(), free=1)

    def _leaving(self, loads: int) -> Changes | None:
        """More heads loaded than the press has: the others left, each for at least the cheapest minutes."""
        live = [head for head in self.line.now_on.heads if not self._dries(head)]
        used = {h.ink_id for _, c in self.here.values() for h in c.stack.heads if not self._dries(h)}
        leave_min = min((self.minutes.leave_min(self.inks[i]) for i in used | {h.ink_id for h in live}), default=0)
        if self.stated or not leave_min or not loads:
            return None
        heads = max((len(c.stack.heads) + c.keep_room for _, c in self.here.values()), default=0)
        free = max(0, max(heads, self.line.head_count) - len(live))
        return Changes(minutes=leave_min, pieces=tuple(range(loads)), free=free)


def _asked_by(things: Mapping[int, Counter[Thing]]) -> dict[Thing, dict[int, int]]:
    """Who asks how often for what, from what each run asks for."""
    found: dict[Thing, dict[int, int]] = {}
    for number, counts in things.items():
        for thing, count in counts.items():
            found.setdefault(thing, {})[number] = count
    return found


def _merged(pieces: Iterable[Piece]) -> list[Piece]:
    """Pieces that the same runs ask for and may be spared are one piece."""
    found: dict[object, Piece] = {}
    for piece in pieces:
        if not piece.minutes:
            continue
        spared = piece.spared or {}
        key = (frozenset(piece.asks.items()), piece.less, frozenset(spared.items()))
        known = found.get(key)
        found[key] = replace(piece, minutes=piece.minutes + (known.minutes if known else 0))
    return list(found.values())
