"""Frames: how many are coated and how many clean, and whether one more burn can be had.

A burn takes coated frames. A coated frame comes from the wall at the start, or from a coat window that found it clean;
a clean frame comes from the stock or from a reclaim. At each coat window the frames asked for first are coated first
(earliest burn first), then whatever else is clean, as long as places last. For frames that wait for given burns this
order finds a way whenever there is one.
"""

from __future__ import annotations

from bisect import bisect_right, insort
from collections.abc import Iterator
from dataclasses import dataclass

from scheduler.domain.plan import CoatBatch
from scheduler.domain.week import Week
from scheduler.search.timing import NEVER

Frames = tuple[tuple[int, int], ...]
"""(frame class number, frames)."""


@dataclass(frozen=True, slots=True)
class FrameShop:
    """The fixed side of the ledger: classes, stock and coat windows (start, ready, places) in order of start."""

    class_ids: tuple[str, ...]
    coated_now: tuple[int, ...]
    clean_now: tuple[int, ...]
    windows: tuple[tuple[int, int, int], ...]
    window_ids: tuple[str, ...]
    readies: tuple[int, ...]


def frame_shop(week: Week) -> FrameShop:
    """The frame side of a week as plain numbers."""
    windows = (
        sorted(week.screen_room.coat_windows, key=lambda w: (w.start_tau, w.window_id)) if week.screen_room else []
    )
    stock = {one.class_id: (one.coated_now, one.clean_now) for one in week.frames}
    for class_id in _classes_in_use(week):
        stock.setdefault(class_id, (0, 0))
    return FrameShop(
        class_ids=tuple(stock),
        coated_now=tuple(coated for coated, _ in stock.values()),
        clean_now=tuple(clean for _, clean in stock.values()),
        windows=tuple((w.start_tau, w.ready_tau, w.places) for w in windows),
        window_ids=tuple(w.window_id for w in windows),
        readies=tuple(sorted({w.ready_tau for w in windows})),
    )


def _classes_in_use(week: Week) -> Iterator[str]:
    """Frame classes of screen sets and of what hangs to be reclaimed; a shop may have none of them in stock."""
    for one in week.sets:
        yield from (class_id for class_id, _ in one.frames)
    yield from (class_id for _, class_id, _ in week.early_reclaims)


class FrameLedger:
    """Burns and reclaims so far, per frame class.

    burns[f]: (start, frames) sorted. clean[f][w]: frames that were clean by coat window w, coated since or not.
    asked[f][n]: frames of burns that start when n of the moments at which coated screens are ready have gone by.
    """

    __slots__ = ("asked", "burns", "clean", "shop", "taken")

    def __init__(self, shop: FrameShop) -> None:
        """Start with the stock only."""
        self.shop = shop
        self.burns: list[list[tuple[int, int]]] = [[] for _ in shop.class_ids]
        self.clean = [[clean] * len(shop.windows) for clean in shop.clean_now]
        self.taken = [0] * len(shop.class_ids)
        self.asked = [[0] * (len(shop.readies) + 1) for _ in shop.class_ids]

    def copy(self) -> FrameLedger:
        """A ledger of its own that starts out the same."""
        twin = FrameLedger.__new__(FrameLedger)
        twin.shop = self.shop
        twin.burns = [burns.copy() for burns in self.burns]
        twin.clean = [clean.copy() for clean in self.clean]
        twin.taken = self.taken.copy()
        twin.asked = [asked.copy() for asked in self.asked]
        return twin

    def burn(self, start_tau: int, frames: Frames) -> None:
        """Take coated frames at the start of a burn."""
        gone = bisect_right(self.shop.readies, start_tau)
        for one, count in frames:
            insort(self.burns[one], (start_tau, count))
            self.taken[one] += count
            self.asked[one][gone] += count

    def unburn(self, start_tau: int, frames: Frames) -> None:
        """Strike a burn out again."""
        gone = bisect_right(self.shop.readies, start_tau)
        for one, count in frames:
            self.burns[one].remove((start_tau, count))
            self.taken[one] -= count
            self.asked[one][gone] -= count

    def reclaim(self, end_tau: int, frames: Frames) -> None:
        """Frames come back clean at the end of a reclaim block."""
        for window, (start_tau, _, _) in enumerate(self.shop.windows):
            if start_tau >= end_tau:
                for one, count in frames:
                    self.clean[one][window] += count

    def earliest(self, start_tau: int, frames: Frames) -> int:
        """First minute from `start_tau` on at which a burn of these frames can be had; NEVER if none.

        From then on it can be had at any later minute too.
        """
        if self.can_burn(start_tau, frames):
            return start_tau
        readies = self.shop.readies
        low, high = bisect_right(readies, start_tau), len(readies) - 1
        if low > high or not self.can_burn(readies[high], frames):
            return NEVER
        while low < high:
            middle = (low + high) // 2
            if self.can_burn(readies[middle], frames):
                high = middle
            else:
                low = middle + 1
        return readies[low]

    def can_burn(self, start_tau: int, frames: Frames) -> bool:
        """True if this burn and all burns so far can have their frames coated in time."""
        coated_now, taken = self.shop.coated_now, self.taken
        if all(taken[one] + count <= coated_now[one] for one, count in frames):
            return True  # the wall alone serves this class; other classes do not lose places by it
        return self._serves(bisect_right(self.shop.readies, start_tau), dict(frames))

    def _serves(self, gone: int, extra: dict[int, int]) -> bool:
        """True if all burns, and these frames when so many moments have gone by, can be coated in time.

        Burns between two such moments may be served in any order: whatever is coated for one is there for all of them.
        """
        shop = self.shop
        waiting: list[tuple[int, int, int]] = []
        for one, asked in enumerate(self.asked):
            on_wall, more = shop.coated_now[one], extra.get(one, 0)
            if self.taken[one] + more <= on_wall:
                continue
            for at, frames in enumerate(asked):
                short = frames + (more if at == gone else 0) - on_wall
                if short > 0:
                    waiting.append((at, one, short))
                on_wall = max(0, -short)
        waiting.sort()
        coated = [0] * len(shop.class_ids)
        for number, (_, ready_tau, places) in enumerate(shop.windows):
            if not waiting:
                return True
            if waiting[0][0] < bisect_right(shop.readies, ready_tau):
                return False
            left = places
            still: list[tuple[int, int, int]] = []
            for at, one, count in waiting:
                given = max(0, min(count, left, self.clean[one][number] - coated[one]))
                coated[one] += given
                left -= given
                if count > given:
                    still.append((at, one, count - given))
            waiting = still
        return not waiting

    def coat_batches(self) -> tuple[CoatBatch, ...]:
        """What to coat in which window: frames asked for first, then all that is clean while places last.

        Raises RuntimeError if the burns cannot be served (a burn was booked that `can_burn` refused).
        """
        counts = self._coats(NEVER, ())
        if counts is None:
            raise RuntimeError("burns were booked that have no coated frames")
        shop = self.shop
        found = []
        coated = [0] * len(shop.class_ids)
        for number, (_, _, places) in enumerate(shop.windows):
            given = counts[number]
            left = places - sum(given)
            clean = [self.clean[one][number] - coated[one] - given[one] for one in range(len(given))]
            while left > 0 and any(count > 0 for count in clean):
                most = max(range(len(clean)), key=lambda one: (clean[one], -one))
                extra = 1
                given[most] += extra
                clean[most] -= extra
                left -= extra
            for one, count in enumerate(given):
                coated[one] += count
                if count:
                    found.append(
                        CoatBatch(window_id=shop.window_ids[number], class_id=shop.class_ids[one], count=count)
                    )
        return tuple(found)

    def _coats(self, start_tau: int, frames: Frames) -> list[list[int]] | None:
        """Frames to coat per window and class so that every burn is served, None if that cannot be."""
        shop = self.shop
        waiting = self._waiting(start_tau, frames)
        counts = [[0] * len(shop.class_ids) for _ in shop.windows]
        coated = [0] * len(shop.class_ids)
        for number, (_, ready_tau, places) in enumerate(shop.windows):
            if not waiting:
                break
            if waiting[0][0] < ready_tau:
                return None
            left = places
            clean_left = sum(max(0, clean[number] - coated[one]) for one, clean in enumerate(self.clean))
            still: list[tuple[int, int, int]] = []
            at = 0
            # Nothing changes for those behind the last one served, so they are not looked at.
            while at < len(waiting) and left > 0 and clean_left > 0:
                due_tau, one, count = waiting[at]
                at += 1
                given = min(count, left, self.clean[one][number] - coated[one])
                if given > 0:
                    coated[one] += given
                    counts[number][one] += given
                    left -= given
                    clean_left -= given
                    count -= given
                if count:
                    still.append((due_tau, one, count))
            waiting = still + waiting[at:]
        return None if waiting else counts

    def _waiting(self, start_tau: int, frames: Frames) -> list[tuple[int, int, int]]:
        """(burn start, class, frames) that the wall cannot serve, earliest first."""
        extra = dict(frames)
        waiting: list[tuple[int, int, int]] = []
        for one, burns in enumerate(self.burns):
            on_wall = self.shop.coated_now[one]
            if self.taken[one] + extra.get(one, 0) <= on_wall:
                continue
            asked = sorted([*burns, (start_tau, extra[one])]) if one in extra else burns
            for due_tau, count in asked:
                short = count - on_wall
                if short > 0:
                    waiting.append((due_tau, one, short))
                    on_wall = 0
                else:
                    on_wall -= count
        waiting.sort()
        return waiting
