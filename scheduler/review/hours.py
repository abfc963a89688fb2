"""Counting open minutes on the shop axis, minute by minute in meaning, window by window in fact."""

from __future__ import annotations

from scheduler.domain.calendars import Calendar, Restart, Window
from scheduler.domain.plan import Plan

Windows = tuple[Window, ...]


def open_windows(calendar: Calendar, plan: Plan) -> Windows:
    """The normal hours of a calendar and the overtime this plan buys."""
    return calendar.with_bought(plan.overtime).windows


def open_min(windows: Windows, start_tau: int, end_tau: int) -> int:
    """Open minutes in [start, end); 0 where the end is not after the start."""
    return sum(max(0, min(end_tau, w.end_tau) - max(start_tau, w.start_tau)) for w in windows)


def pieces(windows: Windows, start_tau: int, end_tau: int) -> tuple[tuple[int, int], ...]:
    """The open stretches of [start, end), one for each window it reaches into."""
    clipped = ((max(start_tau, w.start_tau), min(end_tau, w.end_tau)) for w in windows)
    return tuple((start, end) for start, end in clipped if start < end)


def can_start_at(windows: Windows, tau: int) -> bool:
    """Work can start at a minute that is open itself."""
    return any(w.start_tau <= tau < w.end_tau for w in windows)


def can_end_at(windows: Windows, tau: int) -> bool:
    """Work can end at a minute whose minute before is open."""
    return any(w.start_tau < tau <= w.end_tau for w in windows)


def first_open(windows: Windows, tau: int) -> int | None:
    """The first open minute from `tau` on; None if the calendar never opens again."""
    return next((max(tau, w.start_tau) for w in windows if tau < w.end_tau), None)


def stops_inside(windows: Windows, start_tau: int, end_tau: int) -> Windows:
    """The windows in which work of [start, end) goes on after a stop."""
    return tuple(w for w in windows if start_tau < w.start_tau < end_tau and w.stop_before_min > 0)


def restart_min(windows: Windows, restart: Restart, start_tau: int, end_tau: int) -> int:
    """Minutes lost to restarting after the stops inside a print."""
    return sum(restart.after(w.stop_before_min) for w in stops_inside(windows, start_tau, end_tau))


def long_stops(windows: Windows, idle_ok_min: int | None, start_tau: int, end_tau: int) -> Windows:
    """Of the stops inside a print, those that inks which may stand `idle_ok_min` are rinsed out for."""
    inside = stops_inside(windows, start_tau, end_tau)
    return () if idle_ok_min is None else tuple(w for w in inside if w.stop_before_min > idle_ok_min)
