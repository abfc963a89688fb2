"""Set-up minutes on a press after what stood there, looked up once per pair, and which inks to keep standing."""

from __future__ import annotations

from collections.abc import Callable

from scheduler.domain.week import SetUpMinutes, Stack, Week
from scheduler.search.tables import ChoiceSpec, Tables
from scheduler.trade.set_up import kept_extra_min, may_keep, pair_minutes, pair_set_up

Kept = tuple[str, ...]
"""Ids of inks kept beside a run, sorted."""


class SetUps:
    """Remembers the minutes and the keepable inks of every pair of stacks it is asked about.

    Stacks are numbered by choice key; the stack that stands on press p now is number -1 - p.
    """

    def __init__(self, tables: Tables) -> None:
        """Start with nothing remembered."""
        self._week: Week = tables.week
        self._pairs: dict[tuple[int, int], int] = {}
        self._alike: dict[tuple[SetUpMinutes, Stack, Stack], int] = {}
        self._stays: dict[tuple[int, int, Kept], frozenset[str]] = {}
        self._extras: dict[tuple[int, int, Kept, Kept], int] = {}

    def minutes(self, old_key: int, old: Stack, new: ChoiceSpec, before: Kept, after: Kept) -> int:
        """Set-up minutes of a run on its press, kept inks and approval included."""
        if new.stated_min is not None:
            return new.stated_min + new.extra_min
        key = (old_key, new.key)
        pair = self._pairs.get(key)
        press = self._week.presses[new.press]
        if pair is None:
            pair = self._pairs[key] = self._pair_min(press.set_up, old, new.stack) + new.extra_min
        if not before and not after:
            return pair
        extra_key = (old_key, new.key, before, after)
        extra = self._extras.get(extra_key)
        if extra is None:
            extra = kept_extra_min(new.stack, press.set_up, self._week.ink, before, after)
            self._extras[extra_key] = extra
        return pair + extra

    def _pair_min(self, minutes: SetUpMinutes, old: Stack, new: Stack) -> int:
        """Minutes between two stacks; presses that take the same minutes share what is remembered."""
        key = (minutes, old, new)
        found = self._alike.get(key)
        if found is None:
            pair = pair_set_up(old, new, minutes, self._week.ink)
            found = self._alike[key] = pair_minutes(pair, minutes, self._week.ink)
        return found

    def keepable(self, old_key: int, old: Stack, new: ChoiceSpec, before: Kept) -> frozenset[str]:
        """Inks that may stay on the press beside the new run."""
        key = (old_key, new.key, before)
        stays = self._stays.get(key)
        if stays is None:
            stays = may_keep(old, new.stack, before, self._week.ink)
            self._stays[key] = stays
        return stays

    def kept(
        self, old_key: int, old: Stack, new: ChoiceSpec, before: Kept, wanted_later: Callable[[int, str], int]
    ) -> Kept:
        """Inks to keep: all that fit the heads; where room is short those more later runs want, then the dear ones.

        wanted_later(press, ink id): how many runs still to come could print with the ink there.
        """
        room = new.keep_room
        if room <= 0:
            return ()
        stays = self.keepable(old_key, old, new, before)
        if len(stays) <= room:
            return tuple(sorted(stays))
        minutes, ink = self._week.presses[new.press].set_up, self._week.ink
        best = sorted(stays, key=lambda k: (-wanted_later(new.press, k), -minutes.leave_min(ink[k]), k))
        return tuple(sorted(best[:room]))
