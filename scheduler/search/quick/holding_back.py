"""What holds a run back: its screens, a moment its genes want, fixed runs that wait for frames on its press."""

from __future__ import annotations

from scheduler.search.quick.compiled import compiled
from scheduler.search.quick.hours import Row
from scheduler.search.quick.orders import WAITS
from scheduler.search.quick.press import run_of
from scheduler.search.quick.slots import (
    C_PRESS,
    K_IS_BURNED,
    K_SCREENS,
    K_USES,
    NEVER,
    P_RECLAIMED,
    P_WAITING,
    R_ANNOUNCED_PRESS,
    R_ANNOUNCED_TAU,
    R_ART,
    R_CHOICE_COUNT,
    R_CHOICES,
    R_FIXED_PRESS,
    R_FIXED_START,
    R_IS_STARTED,
    R_SET,
    W_BLOCKS,
    W_MOVE_FREE_MIN,
    W_SETS,
)


@compiled
def is_listed(s: Row, at: int, number: int) -> bool:
    """True if a number is in a list."""
    for k in range(s[at]):
        if s[at + 1 + k] == number:
            return True
    return False


@compiled
def burn_from(w: Row, s: Row, run: int, use_at: int) -> int:
    """Shop minute from which the run's set may be burned for it; NEVER if it stands ready and needs no burn."""
    if w[run + R_SET] < 0 or w[run + R_IS_STARTED]:
        return NEVER
    screens = w[w[W_SETS] + w[run + R_SET]]
    if not w[screens + K_SCREENS]:
        return NEVER
    if use_at == 0:
        return NEVER if w[screens + K_IS_BURNED] else w[run + R_ART]
    block = s[w[P_RECLAIMED] + s[w[screens + K_USES] + use_at]]
    return NEVER if block < 0 else max(w[run + R_ART], w[w[W_BLOCKS] + 3 * block + 1])


@compiled
def waits_tau(w: Row, run: int, choice: int, later_tau: int, flag: int) -> int:
    """Shop minute before which the genes do not want the run set up on this press."""
    if flag & WAITS and w[choice + C_PRESS] == w[run + R_ANNOUNCED_PRESS]:
        return max(later_tau, w[run + R_ANNOUNCED_TAU] - w[W_MOVE_FREE_MIN])
    return later_tau


@compiled
def held_from(w: Row, s: Row, press_number: int) -> int:
    """Shop minute from which a press is held for fixed runs that still wait for frames."""
    waiting, tau = w[P_WAITING], NEVER
    for k in range(s[waiting]):
        run = run_of(w, s[waiting + 1 + k])
        if w[run + R_FIXED_PRESS] in (-1, press_number) and choice_on(w, run, press_number) >= 0:
            tau = min(tau, w[run + R_FIXED_START])
    return tau


@compiled
def choice_on(w: Row, run: int, press_number: int) -> int:
    """A run's choice of a press, at full rate; -1 if it cannot go there."""
    for k in range(w[run + R_CHOICE_COUNT]):
        choice = w[w[run + R_CHOICES] + k]
        if w[choice + C_PRESS] == press_number:
            return choice
    return -1
