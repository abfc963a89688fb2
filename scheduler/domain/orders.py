"""What clients ordered, as typed: orders, their garments (lots), print locations (imprints), and remembered designs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from scheduler.domain.learnt import NOTHING_LEARNT, LearntFigures
from scheduler.domain.shop import Shop


@dataclass(frozen=True, slots=True, kw_only=True)
class Ink:
    """One ink of an imprint as typed. name: "white". family None = the shop's default. hits: 2 for "white x2".
    mesh: threads per inch, None = the shop's default.
    """

    name: str
    family: str | None = None
    hits: int = 1
    mesh: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """Garments of one kind, colour and shade with one arrival.

    kind: "tee", "fleece", … as the shop's defaults know them. shade: "light" or "dark". pieces: counted in if
    `is_counted`, else ordered. blanks_at: None = they are in; is_waiting: nobody knows when ("?").
    """

    lot_id: str
    order_id: str
    garment: str
    kind: str
    shade: str
    pieces: int
    is_counted: bool = False
    from_client: bool = False
    blanks_at: datetime | None = None
    is_waiting: bool = False
    sizes: str = ""
    share: str = ""
    """Which of the typed garments these are, where a print location is split: "S 200, M 400", or "1 of 2"."""
    source_row: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Imprint:
    """One print location of an order on one or more lots, in given inks, in print order.

    presses: allowed (empty = any); preferred first; never: refused. stated_pcs_h, stated_run_min, stated_set_up_min:
    the shop's own figure wins over arithmetic. print_after: locations of the same order that come first.
    split: lots of each of its runs, where the planner split it; split_sets: sets of screens made for them.
    """

    order_id: str
    location: str
    design_id: str
    inks: tuple[Ink, ...]
    lot_ids: tuple[str, ...]
    art_at: datetime | None = None
    is_waiting_for_art: bool = False
    with_base: bool | None = None
    """None = the shop's default by shade."""
    width_in: float | None = None
    height_in: float | None = None
    frame_size: str | None = None
    pallet: str | None = None
    presses: tuple[str, ...] = ()
    preferred: tuple[str, ...] = ()
    never: tuple[str, ...] = ()
    stated_pcs_h: int | None = None
    stated_run_min: int | None = None
    stated_set_up_min: int | None = None
    print_after: tuple[str, ...] = ()
    between_min: int | None = None
    approval_at_press: bool = False
    split: tuple[tuple[str, ...], ...] = ()
    split_sets: int = 1
    share_sets: tuple[int, ...] = ()
    """Which of its sets each share prints from, 0 the first; empty: the shares take turns."""
    lock_press: str | None = None
    lock_at: datetime | None = None
    not_before: datetime | None = None
    """Its cart is not staged sooner: an ink comes then."""
    note: str = ""
    mock_up: str = ""
    """Where its mock-up is found: a number, a file name, a drawer."""
    coverage_pct: float | None = None
    """Inked share of its box; None = the shop's default."""
    source_row: int | None = None

    @property
    def set_names(self) -> tuple[str, ...]:
        """The design, and a name of its own for every further set of its screens."""
        return (self.design_id, *(f"{self.design_id} (set {number})" for number in range(2, self.split_sets + 1)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """A station an order asks for, as typed. days: working days away, where the order says so."""

    station: str
    days: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """What a client ordered with one date.

    due: the date (or moment) as typed; due_kind "leaves" (must be packed for a pick-up then) or "in_hands" (the
    client holds it then; transit days come off). carrier None = the shop's default. firmness: firm, normal, easy.
    late_cents, finish_each_s: None = the shop's default. untold: what the sheet marks with "?", in words, as "inks not
    told yet: front": the order waits for it, and what it belongs to is left out of lots and imprints. before, after:
    stations it goes to before its prints and after them, one after the other. deposit_at: None = it is paid, or none is
    asked for; nothing is begun before it. is_waiting_for_deposit: nobody knows when ("?").
    """

    order_id: str
    client: str
    due_at: datetime | date
    due_kind: str = "leaves"
    firmness: str | None = None
    carrier: str | None = None
    late_cents: int | None = None
    finish_each_s: float | None = None
    before: tuple[Visit, ...] = ()
    after: tuple[Visit, ...] = ()
    note: str = ""
    untold: tuple[str, ...] = ()
    deposit_at: datetime | None = None
    is_waiting_for_deposit: bool = False
    source_row: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignRecord:
    """What the shop remembers of a design: its inks in print order, size, frame, actual rate and set-up minutes."""

    design_id: str
    inks: tuple[Ink, ...] = ()
    width_in: float | None = None
    height_in: float | None = None
    frame_size: str | None = None
    actual_pcs_h: int | None = None
    actual_set_up_min: int | None = None
    preferred: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """A run that has started: which order and location, on which press, when, what is left."""

    order_id: str
    location: str
    shade: str | None
    press_id: str
    started_at: datetime
    pieces_left: int
    set_up_left_min: int = 0
    run_id: str | None = None
    """The run by its name, where a location has several of one shade."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Announced:
    """Where an earlier plan put a run, in wall time."""

    run_id: str
    press_id: str
    set_up_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumption:
    """Something nobody typed: what was assumed and for how many of what, e.g. "156 mesh assumed for white on dark",
    14, "prints".
    """

    code: str
    text: str
    count: int
    counted: str
    where: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekInputs:
    """Everything read from a week's files."""

    shop: Shop
    orders: tuple[Order, ...]
    lots: tuple[Lot, ...]
    imprints: tuple[Imprint, ...]
    designs: tuple[DesignRecord, ...] = ()
    progress: tuple[Progress, ...] = ()
    announced: tuple[Announced, ...] = ()
    assumptions: tuple[Assumption, ...] = ()
    digest: str = ""
    learnt: LearntFigures = NOTHING_LEARNT
    """By how much set-ups and prints differ from the stated figures; nothing where they are planned as stated."""
