"""The shop as its owner tells it: presses, dryers, screen room, people, hours, prices and defaults.

Clock times are minutes of the day (0 to 1440), weekdays 0 = Monday. Lengths are inches, temperatures degrees
Fahrenheit, money integer cents; the reader turns other units into these. Nothing here is on the shop axis yet.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime

from scheduler.domain.calendars import Restart
from scheduler.domain.chances import Chances
from scheduler.domain.week import Crew, FlashPool, SetUpMinutes


@dataclass(frozen=True, slots=True, kw_only=True)
class DayHours:
    """Open from `from_min` to `to_min` on these weekdays, less the breaks ((from, to) minutes of the day)."""

    weekdays: tuple[int, ...]
    from_min: int
    to_min: int
    breaks: tuple[tuple[int, int], ...] = ()


Hours = tuple[DayHours, ...]
"""Several entries may name one weekday: two shifts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Closure:
    """Closed from one moment to another: what = "" for the whole shop, else a press, dryer or person id, "screens",
    "packing".
    """

    what: str
    from_at: datetime
    to_at: datetime
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NowOn:
    """What stands on a press at the planning moment: the design's screens and inks, or inks alone.

    kept: inks kept live beside them, a head each.
    """

    design_id: str | None
    inks: tuple[str, ...]
    pallet: str | None = None
    kept: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Press:
    """A press.

    kind: "automatic" or "manual". flash_place: "over a pallet", "in a head" or "between heads". flashes: how many
    can stand on it. index_s, stroke_s, load_s, unload_s, swing_s (flash in and out, manual): seconds.
    run_crew_pct: speed with its usual run crew against full speed (two people slower, three faster). stated_pcs_h:
    a rate that wins over all arithmetic. max_width_in, max_height_in: largest print. frame_sizes, pallets, families:
    what it takes; empty means anything. flash_pool: the pool of flashes on wheels it shares; None: they are its own.
    """

    press_id: str
    name: str
    kind: str
    heads: int
    flash_place: str = "over a pallet"
    flashes: int = 1
    cool_down_head: bool = False
    index_s: float = 3.0
    stroke_s: float = 3.0
    load_s: float = 4.0
    unload_s: float = 4.0
    swing_s: float = 3.0
    run_crew_pct: int = 100
    stated_pcs_h: int | None = None
    max_width_in: float | None = None
    max_height_in: float | None = None
    frame_sizes: tuple[str, ...] = ()
    pallets: tuple[str, ...] = ()
    families: tuple[str, ...] = ()
    dryer_id: str | None = None
    hours: Hours | None = None
    set_up: SetUpMinutes = field(default_factory=SetUpMinutes)
    approval_min: int = 15
    restart: Restart = field(default_factory=Restart)
    set_up_crew: Crew = (("print", 1),)
    run_crew: Crew = (("print", 1),)
    now_on: NowOn | None = None
    flash_pool: str | None = None
    flash_warm_up_min: int = 0


OFF_AFTER_MIN = 240
"""Stops from which dryers and flashes are switched off, wall minutes: nights, not lunch. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dryer:
    """A conveyor dryer: heated length and usable belt width; pitch is belt length one garment takes.

    warm_up_min: wall minutes from switching it on until it may be printed into; off_after_min: how long a stop it
    stays on over. heat_min, cool_min: minutes to settle 10 degrees Fahrenheit hotter, cooler; None: one setting is
    taken to suit all inks.
    """

    dryer_id: str
    name: str
    heated_length_in: float
    belt_width_in: float
    pitch_in: float = 18.0
    lane_in: float = 20.0
    hours: Hours | None = None
    warm_up_min: int = 0
    off_after_min: int = OFF_AFTER_MIN
    heat_min: int | None = None
    cool_min: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Frames:
    """Frames of one size and mesh: all of them, and how many hang coated and ready now.

    ink_cm3_m2: what the mesh lays down by its maker's sheet; None: worked out from its threads.
    """

    size: str
    mesh: int
    count: int
    coated: int = 0
    ink_cm3_m2: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BurnedSet:
    """A design whose screens hang burned now, or hang to be reclaimed."""

    design_id: str
    frames: tuple[tuple[str, int, int], ...]
    """(frame size, mesh, screens)."""
    to_reclaim: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenRoom:
    """The screen room. Coating and reclaiming happen at set times of the day; minutes are shop settings.

    coat_from_min, reclaim_from_min: minutes of the day; coat_length_min, reclaim_length_min: how long the person is
    booked. coat_each_min, reclaim_each_min: minutes per screen. ready_after_min: None = ready at the next opening,
    else wall minutes in the cabinet. per_exposure: screens in one exposure. ready_ahead_min: open minutes burned
    screens should stand ready before their set-up; each minute missing costs not_ahead_cents.
    """

    hours: Hours | None = None
    crew: Crew = (("screens", 1),)
    exposure_units: int = 1
    per_exposure: int = 1
    expose_min: float = 4.0
    wash_out_min: float = 5.0
    dry_min: int = 45
    tape_each_min: float = 2.0
    rack_places: int = 24
    idle_ok_min: int = 60
    coat_from_min: int = 960
    coat_length_min: int = 60
    coat_each_min: float = 3.0
    coat_places: int = 24
    ready_after_min: int | None = None
    reclaim_from_min: int = 840
    reclaim_length_min: int = 60
    reclaim_each_min: float = 8.0
    default_frame: str = "23x31"
    burn_cents: int = 900
    ready_ahead_min: int = 0
    not_ahead_cents: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Worker:
    """Somebody who works here; hours None = the shop's; press_ids empty = all presses."""

    person_id: str
    name: str
    roles: tuple[str, ...]
    press_ids: tuple[str, ...] = ()
    hours: Hours | None = None
    days_off: tuple[date, ...] = ()


OUTWORK = "outwork"
"""The station every shop has: work sent out, for as many working days as the order says."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """A place beside the presses where orders are worked on (embroidery, heat press), or to which they are sent out.

    Its minutes come from pcs_h or from each_s; days: working days away, for work sent out. at_once: orders it can work
    on at the same time. crew: people for one of them. hours None = the shop's.
    """

    name: str
    hours: Hours | None = None
    crew: Crew = ()
    at_once: int = 1
    pcs_h: int | None = None
    each_s: float | None = None
    days: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Carrier:
    """Who takes parcels away: weekdays, the minute of the day by which they must be packed, days in transit.
    A carrier named "collected" is the client at the door: any open day, by closing.
    """

    name: str
    weekdays: tuple[int, ...]
    pick_up_min: int
    transit_days: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class OvertimeOffer:
    """Overtime that can be bought: a day, from, to, at a price; presses and people it opens (empty = all)."""

    day: date
    from_min: int
    to_min: int
    price_cents: int
    press_ids: tuple[str, ...] = ()
    person_ids: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class InkFamily:
    """What the shop does with one ink family. idle_ok_min: None = may stand in the mesh (overnight too).

    tunnel_s: seconds in the heated tunnel, most_tunnel_s the most it stands there. cure_f: degrees Fahrenheit it needs.
    flash_s: flash seconds, start value. pot_life_min: minutes a batch lasts once mixed, None = it does not go off;
    remix_min: minutes the press stands for a further batch. Start values only: the ink maker's data sheets win.
    """

    name: str
    tunnel_s: int
    flash_s: float
    idle_ok_min: int | None = None
    cure_f: int = 320
    most_tunnel_s: int | None = None
    pot_life_min: int | None = None
    remix_min: int = 10

    @property
    def mixing_text(self) -> str:
        """What is told of it behind other start values: ", mixed anew after 360 min ..."; "" if it does not go off."""
        if self.pot_life_min is None:
            return ""
        return f", mixed anew after {self.pot_life_min} min of printing ({self.remix_min} min each time)"


INK_START_VALUES = (
    InkFamily(name="plastisol", tunnel_s=60, flash_s=7.0),
    InkFamily(name="low-cure plastisol", tunnel_s=60, flash_s=7.0, cure_f=275),
    InkFamily(name="water-based", tunnel_s=150, flash_s=10.0, idle_ok_min=20),
    InkFamily(name="discharge", tunnel_s=150, flash_s=10.0, idle_ok_min=20, pot_life_min=360),
)
"""Start values for families a shop prints with but says nothing of; the ink maker's data sheets win.

Plastisol: a minute in the tunnel (K. Stevens, International Coatings, 2012), 3 to 15 s under the flash (Ryonet, flash
dryer FAQ). Water-based: 90 s to 3 min in the tunnel ("Evaluating ink", Printwear, May 2014). Discharge as water-based,
water-based flash seconds, and how long an ink may stand in the mesh: common practice, no source. Degrees: `trade.cure`;
pot life: `trade.pot_life`.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class MoneySettings:
    """What things cost the shop; integer cents. late_* per pick-up day missed, by firmness. currency: as the shop
    writes it behind an amount, "" for none.
    """

    currency: str = ""
    late_firm_cents: int = 40_000
    late_normal_cents: int = 15_000
    late_easy_cents: int = 5_000
    cushion_cents: int = 1_000
    cushion_min: int = 240
    person_hour_cents: int = 2_200
    move_cents: int = 500
    move_free_min: int = 30

    def crew_cents_per_min(self, crew: Crew) -> float:
        """What a minute of a crew costs."""
        return self.person_hour_cents * sum(count for _, count in crew) / 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Defaults:
    """What is assumed where the sheet is silent; every use is listed as an assumption.

    white_on_dark: "two screens" (white base and white, a flash between) or "same screen twice". mesh_*: threads per
    inch. spare_pct: pieces printed beyond those ordered where nothing was counted in. garment_pct: speed by garment
    kind against a tee. finish_each_s: packing seconds per piece.
    """

    family: str = "plastisol"
    firmness: str = "normal"
    white_on_dark: str = "two screens"
    mesh_base: int = 156
    mesh_white: int = 156
    mesh_colour: int = 230
    spare_pct: float = 0.0
    garment_pct: tuple[tuple[str, int], ...] = (
        ("tee", 100),
        ("long sleeve", 90),
        ("fleece", 75),
        ("youth", 95),
        ("bag", 85),
    )
    carrier: str = "collected"
    print_width_in: float = 12.0
    print_height_in: float = 14.0
    finish_each_s: float = 15.0
    finish_lag_min: int = 15
    last_box_min: int = 5
    between_min: int = 0


US, METRIC = "US", "metric"
A4, LETTER = "A4", "Letter"


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperSettings:
    """How papers for the floor are written.

    units: US or metric, which of the two stands first. size: of the sheets, where they are made as PDF. coverage_pct:
    inked share of a print's box where the order says nothing. screen_sheet_min: minute of the day by which the screen
    room has its sheet for the night and the morning after.
    """

    units: str = US
    size: str = LETTER
    coverage_pct: float = 100.0
    screen_sheet_min: int = 900


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """Everything that stays the same from week to week, and the planning moment."""

    name: str
    zone: str
    plan_from: datetime
    days_ahead: int
    hours: Hours
    presses: tuple[Press, ...]
    dryers: tuple[Dryer, ...] = ()
    flash_pools: tuple[FlashPool, ...] = ()
    people: tuple[Worker, ...] = ()
    lead_covers: int = 1
    least_stay_min: int = 30
    screen_room: ScreenRoom | None = None
    frames: tuple[Frames, ...] = ()
    burned: tuple[BurnedSet, ...] = ()
    stations: tuple[Station, ...] = ()
    carriers: tuple[Carrier, ...] = ()
    closures: tuple[Closure, ...] = ()
    overtime: tuple[OvertimeOffer, ...] = ()
    families: tuple[InkFamily, ...] = ()
    dark_inks: tuple[str, ...] = ("black", "navy", "red", "royal", "green", "purple", "brown")
    money: MoneySettings = field(default_factory=MoneySettings)
    chances: Chances = field(default_factory=Chances)
    defaults: Defaults = field(default_factory=Defaults)
    stage_min: int = 0
    stage_crew: Crew = ()
    finish_crew: Crew = ()
    packing_hours: Hours | None = None
    dont_touch_before: datetime | None = None
    room_kept_free_min: int = 0
    paper: PaperSettings = field(default_factory=PaperSettings)
