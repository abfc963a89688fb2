"""What if: one edit tried on a standing plan. One dataclass for each kind, with what was typed and nothing worked out.

Moments are local wall time of the shop, money integer cents.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from scheduler.domain.orders import Imprint, Lot, Order


@dataclass(frozen=True, slots=True, kw_only=True)
class Rush:
    """An order comes in: as a row of the orders sheet would tell it."""

    order: Order
    lots: tuple[Lot, ...]
    imprints: tuple[Imprint, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cancelled:
    """An order is called off."""

    order_id: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PiecesChanged:
    """An order's garments become more or fewer. garment None: the order has one kind of them."""

    order_id: str
    pieces: int
    garment: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DateMoved:
    """An order's date moves. due_kind "leaves" or "in_hands"; None: as before."""

    order_id: str
    due_at: date | datetime
    due_kind: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BlanksMoved:
    """Garments come at another moment; at None: nobody knows when. garment None: all of the order's."""

    order_id: str
    at: datetime | None
    garment: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ArtMoved:
    """Art comes at another moment; at None: nobody knows when. location None: all of the order's."""

    order_id: str
    at: datetime | None
    location: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OutOfUse:
    """A press, a dryer (and so every press on it), the flash of a press, or a person is out.

    kind: "press", "dryer", "flash" or "person"; thing_id: its id, for a flash that of its press.
    """

    kind: str
    thing_id: str
    from_at: datetime
    to_at: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursOpened:
    """An evening or a Saturday is offered: overtime that may be bought. Empty presses, people: all of them.

    price_cents None: half as much again as an hour of each of its people costs.
    """

    day: date
    from_min: int
    to_min: int
    price_cents: int | None = None
    press_ids: tuple[str, ...] = ()
    person_ids: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenBroken:
    """A screen of a design tears. A burned set is burned anew for its next run; else only a frame is lost.

    mesh (threads per inch) tells which screen's frame; None: the shop's usual mesh for colours. is_burned None: as the
    week's files say.
    """

    design_id: str
    mesh: int | None = None
    is_burned: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class InkOut:
    """An ink is used up; runs with it are not set up before it comes. at None: nobody knows when."""

    ink: str
    at: datetime | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Reprint:
    """Pieces of an order are printed again, on garments that come at `blanks_at` (None: they are in).

    garment, location None: the order's only kind; every location.
    """

    order_id: str
    pieces: int
    garment: str | None = None
    location: str | None = None
    blanks_at: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintChanged:
    """A print location is not set up before a moment, waits for something, or is printed from other screens.

    What a torn screen or an ink that is used up comes to, print by print, once it is known what has begun.
    """

    order_id: str
    location: str
    not_before: datetime | None = None
    waits_for: str = ""
    design_id: str | None = None


WhatIf = (
    Rush
    | Cancelled
    | PiecesChanged
    | DateMoved
    | BlanksMoved
    | ArtMoved
    | OutOfUse
    | HoursOpened
    | ScreenBroken
    | InkOut
    | Reprint
    | PrintChanged
)
"""Any of them."""
