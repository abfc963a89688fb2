"""The earliest place of a run on its press, as in `search/placing.py`."""

from __future__ import annotations

from scheduler.search.quick.compiled import compiled
from scheduler.search.quick.floor import clash_end, clash_in_work
from scheduler.search.quick.hours import (
    Row,
    after_long_stop,
    below,
    end_minute,
    first_print,
    index_from,
    minute,
    print_end,
    rinsed_end,
    set_up_by,
    total_min,
    up_to,
)
from scheduler.search.quick.slots import (
    A_CHOICE,
    A_END,
    A_PRINT_START,
    C_FLASH_NEED,
    C_HAS_FLASH_NEED,
    C_HAS_PRINT_NEED,
    C_HAS_SET_UP_NEED,
    C_OTHER_WAY_COUNT,
    C_OTHER_WAYS,
    C_PRESS,
    C_PRINT_NEED,
    C_RE_INK_MIN,
    C_SET_UP_NEED,
    C_SETTING,
    C_WASH_UP_MIN,
    C_WORK_MIN,
    D_ON,
    D_ON_COUNT,
    D_PRESS_COUNT,
    D_PRESSES,
    D_SETTING_COUNT,
    D_SETTLE,
    L_DRYER,
    L_HOURS,
    L_PRINTS,
    NEVER,
    P_FLOOR,
    P_PLACED,
    P_QUEUES,
    R_AFTER,
    R_AFTER_COUNT,
    R_BEFORE,
    R_BEFORE_COUNT,
    R_CURE,
    R_FIXED_START,
    R_GAP,
    R_IDLE_OK,
    R_MATE_COUNT,
    R_MATES,
    W_GUARDS,
    W_PLACED_SIZE,
    W_PRESSES,
    W_RUN_COUNT,
    W_RUNS,
    W_WORDS,
    X_APART,
    X_APART_COUNT,
)


@compiled
def placed_of(w: Row, number: int) -> int:
    """Where the place of a run is written."""
    return w[P_PLACED] + number * w[W_PLACED_SIZE]


@compiled
def run_of(w: Row, number: int) -> int:
    """Where a run is written."""
    return w[w[W_RUNS] + number]


@compiled
def fences(w: Row, s: Row, x: Row, run: int) -> tuple[int, int]:
    """(minute by which a run must have printed, minute from which it may); runs on its lots go into the scratch row."""
    end_by_tau, print_from_tau = NEVER, 0
    for k in range(w[run + R_AFTER_COUNT]):
        number = w[w[run + R_AFTER] + k]
        one = placed_of(w, number)
        if s[one + A_CHOICE] >= 0:
            print_from_tau = max(print_from_tau, s[one + A_END] + w[run_of(w, number) + R_GAP])
    for k in range(w[run + R_BEFORE_COUNT]):
        one = placed_of(w, w[w[run + R_BEFORE] + k])
        if s[one + A_CHOICE] >= 0:
            end_by_tau = min(end_by_tau, s[one + A_PRINT_START] - w[run + R_GAP])
    count = 0
    for k in range(w[run + R_MATE_COUNT]):
        number = w[w[run + R_MATES] + k]
        one = placed_of(w, number)
        if s[one + A_CHOICE] >= 0:
            x[X_APART + 2 * count] = s[one + A_PRINT_START] - w[run + R_GAP]
            x[X_APART + 2 * count + 1] = s[one + A_END] + w[run_of(w, number) + R_GAP]
            count += 1
    x[X_APART_COUNT] = count
    return end_by_tau, print_from_tau


@compiled
def _set_otherwise(w: Row, s: Row, x: Row, run: int, choice: int, plain: int) -> None:
    """Add, after the first `plain` fences, the runs that want this run's dryer set otherwise."""
    x[X_APART_COUNT] = plain
    dryer = w[w[w[W_PRESSES] + w[choice + C_PRESS]] + L_DRYER]
    setting, cure_min, count = w[choice + C_SETTING], w[run + R_CURE], plain
    if dryer < 0 or setting < 0:
        return
    settle, settings = w[dryer + D_SETTLE], w[dryer + D_SETTING_COUNT]
    on, on_count = w[dryer + D_ON], w[dryer + D_ON_COUNT]
    for k in range(w[dryer + D_PRESS_COUNT]):
        queue = w[P_QUEUES] + w[w[dryer + D_PRESSES] + k] * (w[W_RUN_COUNT] + 1)
        for i in range(s[queue]):
            number = s[queue + 1 + i]
            one = placed_of(w, number)
            its = w[s[one + A_CHOICE] + C_SETTING]
            if its < 0 or its == setting:
                continue
            its_start_tau, its_end_tau = s[one + A_PRINT_START], s[one + A_END]
            end_by_tau = its_start_tau - cure_min - w[settle + setting * settings + its]
            from_tau = its_end_tau + w[run_of(w, number) + R_CURE] + w[settle + its * settings + setting]
            last = up_to(w, on, on_count, its_start_tau)
            if last:
                end_by_tau = max(end_by_tau, w[on + last - 1])
            first = below(w, on, on_count, its_end_tau)
            if first < on_count:
                from_tau = min(from_tau, w[on + first])
            x[X_APART + 2 * count], x[X_APART + 2 * count + 1] = end_by_tau, from_tau
            count += 1
    x[X_APART_COUNT] = count


@compiled
def _clear_of(x: Row, start_tau: int, end_tau: int) -> int:
    for k in range(x[X_APART_COUNT]):
        if end_tau > x[X_APART + 2 * k] and start_tau < x[X_APART + 2 * k + 1]:
            return x[X_APART + 2 * k + 1]
    return 0


@compiled
def _rinsed(
    w: Row, hours: int, prints: int, run: int, choice: int, index: int, set_up_min: int, print_index: int
) -> tuple[int, int]:
    """(end of a print whose inks dry, -1); or (NEVER, later minute from which to set it up)."""
    if print_index >= total_min(w, prints):
        return NEVER, -1
    idle_ok_min, rinse_min, ink_min = w[run + R_IDLE_OK], w[choice + C_WASH_UP_MIN], w[choice + C_RE_INK_MIN]
    work_min, hours_min = w[choice + C_WORK_MIN], total_min(w, hours)
    print_from = index_from(w, hours, minute(w, prints, print_index))
    stop_index = after_long_stop(w, hours, index, print_from + 1, idle_ok_min)
    if stop_index >= 0:
        return NEVER, stop_index
    end_index, stops, start_from = rinsed_end(w, prints, print_index, work_min, idle_ok_min, rinse_min, ink_min)
    if start_from >= 0:
        later = set_up_by(w, hours, prints, minute(w, prints, start_from)) - set_up_min
        return NEVER, max(index + 1, later)
    if stops and w[run + R_FIXED_START] < 0:
        stop_index = after_long_stop(w, hours, print_from, hours_min, idle_ok_min)
        print_later = first_print(w, hours, prints, stop_index + set_up_min) if stop_index >= 0 else NEVER
        its_end, _, _ = rinsed_end(w, prints, print_later, work_min, idle_ok_min, rinse_min, ink_min)
        if its_end <= end_index:
            return NEVER, stop_index
    return end_index, -1


@compiled
def _earliest_on_press(
    w: Row, s: Row, x: Row, run: int, choice: int, set_up_min: int, from_tau: int, end_by_tau: int, print_from_tau: int
) -> tuple[int, int, int, int]:
    """(first minute, first of print, end, shop minute of the end) of a run on its press; first -1 if it cannot be."""
    press = w[w[W_PRESSES] + w[choice + C_PRESS]]
    hours, prints = w[press + L_HOURS], w[press + L_PRINTS]
    is_hot, track, words, guards = hours == prints, w[P_FLOOR], w[W_WORDS], w[W_GUARDS]
    total, work_min, idle_ok_min = total_min(w, prints), w[choice + C_WORK_MIN], w[run + R_IDLE_OK]
    index = index_from(w, hours, from_tau)
    if print_from_tau:
        index = max(index, set_up_by(w, hours, prints, print_from_tau) - set_up_min)
    while True:
        print_index = index + set_up_min if is_hot else first_print(w, hours, prints, index + set_up_min)
        if idle_ok_min < 0:
            end_index = print_end(w, prints, print_index, work_min)
        else:
            end_index, later = _rinsed(w, hours, prints, run, choice, index, set_up_min, print_index)
            if later >= 0:
                index = later
                continue
        if end_index > total:
            return -1, 0, 0, 0
        end_tau = end_minute(w, prints, end_index) if work_min else minute(w, prints, print_index)
        if end_tau > end_by_tau:
            return -1, 0, 0, 0
        if x[X_APART_COUNT]:
            clear_tau = _clear_of(x, minute(w, prints, print_index), end_tau)
            if clear_tau:
                index = max(index + 1, set_up_by(w, hours, prints, clear_tau) - set_up_min)
                continue
        if w[choice + C_HAS_PRINT_NEED]:
            over_tau = clash_in_work(
                w, s, track, words, guards, w[choice + C_PRINT_NEED], prints, print_index, end_index
            )
            if over_tau:
                index = max(index + 1, set_up_by(w, hours, prints, over_tau) - set_up_min)
                continue
        if set_up_min and w[choice + C_HAS_SET_UP_NEED]:
            over_tau = clash_in_work(
                w, s, track, words, guards, w[choice + C_SET_UP_NEED], hours, index, index + set_up_min
            )
            if over_tau:
                index = max(index + 1, index_from(w, hours, over_tau))
                continue
        if w[choice + C_HAS_FLASH_NEED]:
            start_tau = minute(w, hours, index)
            if end_tau > start_tau:
                over_tau = clash_end(w, s, track, words, guards, w[choice + C_FLASH_NEED], start_tau, end_tau)
                if over_tau:
                    index = max(index + 1, index_from(w, hours, over_tau))
                    continue
        return index, print_index, end_index, end_tau


@compiled
def least_work_min(w: Row, choice: int) -> int:
    """Minutes of the fastest way to print."""
    least = w[choice + C_WORK_MIN]
    for k in range(w[choice + C_OTHER_WAY_COUNT]):
        least = min(least, w[w[w[choice + C_OTHER_WAYS] + k] + C_WORK_MIN])
    return least


@compiled
def earliest_way(
    w: Row,
    s: Row,
    x: Row,
    run: int,
    choice: int,
    set_up_min: int,
    from_tau: int,
    end_by_tau: int,
    print_from_tau: int,
    exact_tau: int,
) -> tuple[int, int, int, int, int]:
    """(way, first minute, first of print, end, shop minute of the end) of the way that ends earliest, -1 if none can.

    exact_tau: the set-up must start then, -1 if it need not.
    """
    plain = x[X_APART_COUNT]
    if w[choice + C_SETTING] >= 0:
        _set_otherwise(w, s, x, run, choice, plain)
    index, print_index, end_index, end_tau = _earliest_on_press(
        w, s, x, run, choice, set_up_min, from_tau, end_by_tau, print_from_tau
    )
    x[X_APART_COUNT] = plain
    best = choice if index >= 0 else -1
    if not w[choice + C_OTHER_WAY_COUNT]:
        return best, index, print_index, end_index, end_tau
    hours = w[w[w[W_PRESSES] + w[choice + C_PRESS]] + L_HOURS]
    if index >= 0:
        if index == index_from(w, hours, from_tau) and w[choice + C_WORK_MIN] <= least_work_min(w, choice):
            return choice, index, print_index, end_index, end_tau
        if exact_tau < 0 or exact_tau == minute(w, hours, index):
            end_by_tau = end_tau - 1
        else:
            best = -1
    for k in range(w[choice + C_OTHER_WAY_COUNT]):
        way = w[w[choice + C_OTHER_WAYS] + k]
        if w[way + C_SETTING] >= 0:
            _set_otherwise(w, s, x, run, way, plain)
        at, its_print, its_end, its_end_tau = _earliest_on_press(
            w, s, x, run, way, set_up_min, from_tau, end_by_tau, print_from_tau
        )
        if at >= 0 and (exact_tau < 0 or exact_tau == minute(w, hours, at)):
            best, index, print_index, end_index, end_tau = way, at, its_print, its_end, its_end_tau
            end_by_tau = end_tau - 1
    x[X_APART_COUNT] = plain
    return best, index, print_index, end_index, end_tau
