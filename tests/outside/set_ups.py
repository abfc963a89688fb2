"""Set-up minutes by trying every matching of heads."""

from __future__ import annotations

from functools import cache

from scheduler.domain.week import Stack, Week


def set_up_by_trying_all(week: Week, press_id: str, old: Stack, new: Stack, kept: set[str], keeps: set[str]) -> int:
    """Set-up minutes by trying every order-preserving matching of old heads to new ones."""
    minutes = week.press[press_id].set_up
    before = [(h.screen_id, None if week.ink[h.ink_id].dries else h.ink_id) for h in old.heads]
    after = [(h.screen_id, h.ink_id) for h in new.heads]
    leave = {ink_id: minutes.leave_min(ink) for ink_id, ink in week.ink.items()}

    @cache
    def best(i: int, j: int) -> tuple[int, int, int, tuple[str, ...], tuple[str, ...]]:
        """(minutes, -same screens, touched, inks leaving, inks loaded) for the heads from i and j on."""
        options = []
        if i < len(before):
            ink = before[i][1]
            rest = best(i + 1, j)
            gone = (ink,) if ink else ()
            options.append((rest[0] + (leave[ink] if ink else 0), rest[1], rest[2], gone + rest[3], rest[4]))
        if j < len(after):
            rest = best(i, j + 1)
            cost = minutes.mount_min + minutes.load_min
            options.append((rest[0] + cost, rest[1], 1, rest[3], (after[j][1], *rest[4])))
        if i < len(before) and j < len(after):
            rest = best(i + 1, j + 1)
            same_screen, ink = before[i][0] == after[j][0], before[i][1]
            if same_screen and ink == after[j][1]:
                options.append((rest[0], rest[1] - 1, rest[2], rest[3], rest[4]))
            elif same_screen:
                cost = minutes.load_min + (leave[ink] if ink else 0)
                gone = (ink,) if ink else ()
                options.append((rest[0] + cost, rest[1] - 1, 1, gone + rest[3], (after[j][1], *rest[4])))
            elif ink == after[j][1]:
                options.append((rest[0] + minutes.mount_min + minutes.card_min, rest[1], 1, rest[3], rest[4]))
        return min(options) if options else (0, 0, 0, (), ())

    total, _, touched, _, loaded = best(0, 0)
    # Inks that stay live beside the stack are not cleaned; inks that stood beside the last stack need no loading.
    total -= sum(leave[ink] for ink in keeps - kept)
    new_inks = {ink for _, ink in after}
    total += sum(leave[ink] for ink in kept - keeps - new_inks)
    total += sum(minutes.card_min - minutes.load_min for ink in kept & new_inks & set(loaded))
    if old.pallet and new.pallet and old.pallet != new.pallet:
        total += minutes.pallet_min
    total += minutes.flash_move_min * len(set(new.flash_after) - set(old.flash_after))
    return total + (minutes.strike_off_min if touched else 0)
