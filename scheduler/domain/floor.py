"""What stands in the shop: presses, flash units, dryers, screens and frames, the screen room, floor space.

All `_tau` are shop minutes (see `domain.clock`), all `_min` whole minutes of work.
"""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.domain.calendars import Calendar, KeptFree, Restart
from scheduler.domain.runs import Crew, SetUpMinutes, Stack


@dataclass(frozen=True, slots=True, kw_only=True)
class PressLine:
    """A press as the plan sees it. Its calendar already holds breaks, closures, its dryer's hours and the hours in
    which people who can set it up and run it are there; room kept free is no longer in it. print_calendar: None if it
    prints whenever it is open, else the part of the calendar in which its dryer and flashes are hot. flash_pool: id of
    the pool its flashes come from, None where they are its own. flash_takes: what takes a head of its own after each
    flash: "flash", "cool-down".
    """

    press_id: str
    name: str
    head_count: int
    calendar: Calendar
    restart: Restart
    set_up: SetUpMinutes
    set_up_crew: Crew
    run_crew: Crew
    dryer_id: str | None
    set_up_cents_per_min: int
    now_on: Stack
    print_calendar: Calendar | None = None
    flash_pool: str | None = None
    flash_takes: tuple[str, ...] = ()
    kept_free: tuple[KeptFree, ...] = ()

    @property
    def prints_in(self) -> Calendar:
        """When it can print; set-up may go on in all of `calendar`."""
        return self.calendar if self.print_calendar is None else self.print_calendar


@dataclass(frozen=True, slots=True, kw_only=True)
class FlashPool:
    """Flash units on wheels that several presses share."""

    pool_id: str
    units: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DryerSetting:
    """How a dryer is set: degrees Fahrenheit, seconds in the tunnel, and the words for both."""

    setting_id: str
    temperature_f: int
    tunnel_s: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DryerLine:
    """A dryer the week needs at more than one setting.

    heat_min, cool_min: shop minutes it takes to settle 10 degrees hotter, or cooler. switched_on_tau: shop minutes at
    which it opens after having been off, whatever overtime is bought: the setting of the next run is its first.
    """

    dryer_id: str
    name: str
    settings: tuple[DryerSetting, ...]
    heat_min: int
    cool_min: int
    switched_on_tau: tuple[int, ...]

    def settle_min(self, before_id: str, after_id: str) -> int:
        """Shop minutes from the last piece at one setting to the first at another, whole ones, rounded up."""
        degrees = {one.setting_id: one.temperature_f for one in self.settings}
        change = degrees[after_id] - degrees[before_id]
        return -(-change * self.heat_min // 10) if change > 0 else -(change * self.cool_min // 10)


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenNote:
    """One screen for the screen tech: what it prints ("white base", "red"), mesh (threads per inch), frame size."""

    screen_id: str
    prints: str
    mesh: int
    frame_size: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenSet:
    """The screens of one design. frames: how many of each frame class. burn_min: expose and wash out, hands-on."""

    set_id: str
    design_id: str
    screen_ids: tuple[str, ...]
    frames: tuple[tuple[str, int], ...]
    burn_min: int
    tape_min: int
    is_burned_now: bool
    notes: tuple[ScreenNote, ...] = ()

    @property
    def screen_count(self) -> int:
        """Screens in the set."""
        return len(self.screen_ids)


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameStock:
    """Frames of one size and mesh: coated and ready, and clean, at the planning moment. Burned ones are not in it."""

    class_id: str
    name: str
    coated_now: int
    clean_now: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatWindow:
    """A booked time for coating at most `places` clean frames; they can be burned from `ready_tau` on."""

    window_id: str
    start_tau: int
    end_tau: int
    ready_tau: int
    places: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ReclaimBlock:
    """A booked time for reclaiming at most `places` screens; their frames are clean from `end_tau` on."""

    block_id: str
    start_tau: int
    end_tau: int
    places: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenRoomLine:
    """Burning and taping: hours, crew of one task, and what is finite beside frames.

    dry_min: wall minutes from wash-out to dry. idle_ok_min: a burn may not span a longer stop (wall minutes).
    ahead_min: how long burned screens should stand ready before their set-up, in shop minutes; every minute missing
    costs not_ahead_cents_per_min.
    """

    calendar: Calendar
    crew: Crew
    exposure_units: int
    rack_places: int
    dry_min: int
    idle_ok_min: int
    burn_cents_per_screen: int
    coat_windows: tuple[CoatWindow, ...]
    reclaim_blocks: tuple[ReclaimBlock, ...]
    ahead_min: int = 0
    not_ahead_cents_per_min: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorLine:
    """Work off the press: staging a cart before each set-up; finishing an order."""

    calendar: Calendar
    crew: Crew
    minutes: int = 0
