"""The headings of a week's sheets: what each one holds, whether it is needed, and what to write.

The reader, its messages and the documents all take them from here.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

ORDERS, DESIGNS, SCREENS, PROGRESS = "orders", "designs", "screens", "progress"
SHEETS = (ORDERS, DESIGNS, SCREENS, PROGRESS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One heading, or one setting of the shop.

    sheet: "orders", …, or "shop". kind: what a cell holds, in words. default: what is taken where the cell is empty,
    as one would type it; "" where nothing is taken or the meaning says what happens. hint: what to write into an empty
    cell that is needed, where the example alone would not tell.
    """

    sheet: str
    name: str
    kind: str
    meaning: str
    example: str
    is_needed: bool = False
    default: str = ""
    hint: str = ""


def _orders(
    name: str, kind: str, example: str, meaning: str, *, needed: bool = False, default: str = "", hint: str = ""
) -> Column:
    return Column(
        sheet=ORDERS,
        name=name,
        kind=kind,
        example=example,
        meaning=meaning,
        is_needed=needed,
        default=default,
        hint=hint,
    )


ORDER_COLUMNS = (
    _orders("order", "name", "4102", "the order's number; several rows may share it", needed=True),
    _orders("client", "name", "Fennick Street Brewery", "who ordered it", needed=True),
    _orders("due", "day or moment", "2026-03-06 15:00", "when it must leave, packed", needed=True),
    _orders("garment", "name", "navy tee", "the garment in words", needed=True),
    _orders("shade", "light or dark", "dark", "light or dark; empty: read from colour words", needed=True),
    _orders("pieces", "whole number", "144", "garments, all sizes together", needed=True),
    _orders("location", "name", "left chest", "where on the garment it is printed", needed=True),
    _orders(
        "inks",
        "inks",
        "white, red",
        "inks in print order; empty: the design's",
        needed=True,
        hint="write them in print order, as white, red",
    ),
    _orders(
        "blanks",
        "in, a day or ?",
        "in",
        "whether the garments are there, or when they come",
        needed=True,
        hint="write in, a day as 2026-03-06, or ? if nobody knows",
    ),
    _orders(
        "art",
        "ok, a day or ?",
        "ok",
        "whether the art is approved, or when it will be",
        needed=True,
        hint="write ok, a day as 2026-03-06, or ? if nobody knows",
    ),
    _orders("in_hands", "day or moment", "2026-03-09", "when the client must hold it; instead of due"),
    _orders("design", "name", "stout mug", "the artwork's name; empty: order and location"),
    _orders("firm", "firm, normal or easy", "firm", "how much a late day hurts", default="normal"),
    _orders("press", "presses", "auto-1!, not manual", "presses allowed, preferred (!), never (not)"),
    _orders("sizes", "sizes", "S 20, M 60, L 64", "pieces by size; the sum is checked"),
    _orders("mesh", "threads per inch", "156, 230", "mesh of all screens, or one per ink"),
    _orders("deposit", "ok, a day or ?", "?", "whether the deposit is paid; nothing is begun before it", default="ok"),
    _orders("note", "words", "race day Saturday", "anything to be remembered"),
    _orders("carrier", "name", "collected", "who takes it away", default="collected"),
    _orders("family", "ink family", "water-based", "ink family of this print", default="plastisol"),
    _orders("kind", "garment kind", "fleece", "garment kind for the press rate; empty: read from the garment"),
    _orders("counted", "yes or no", "yes", "pieces were counted in", default="no"),
    _orders("from_client", "yes or no", "yes", "the client's own garments: no spares", default="no"),
    _orders("width", "length", "12 in", "width of the print"),
    _orders("height", "length", "14 in", "height of the print"),
    _orders("coverage", "percent", "60 %", "inked share of the print's box, for the ink list; empty: the shop's"),
    _orders("mock_up", "words", "4102-3", "where its mock-up is found, for the press sheet"),
    _orders("frame", "name", "23x31", "frame size of its screens"),
    _orders("pallet", "name", "sleeve", "pallet kind it needs"),
    _orders("print_after", "names", "front", "locations of the same order that are printed first"),
    _orders("between", "time", "15 min", "wait before the next print on the same garments"),
    _orders(
        "split", "pieces of each run", "600+400", "runs of their own; the sum is the pieces of this print location"
    ),
    _orders("split_sets", "whole number", "2", "sets of screens: as many of its runs can go at once", default="1"),
    _orders("approval", "yes or no", "yes", "the client approves at the press", default="no"),
    _orders("base", "yes or no", "no", "underbase wanted or not; empty: by shade"),
    _orders("rate", "pieces an hour", "300/h", "the shop's own rate for it"),
    _orders("run", "time", "55 min", "the shop's own time for the whole run"),
    _orders("set_up", "time", "30 min", "the shop's own set-up time"),
    _orders("lock_press", "name", "auto-1", "it runs on this press and no other"),
    _orders("lock_at", "moment", "2026-03-04 09:00", "its set-up starts then"),
    _orders("late", "money", "150", "what a late day of this order costs"),
    _orders("finish", "time", "20 s", "packing time per piece"),
    _orders("before", "stations", "embroidery", "stations it goes to before it is printed, one after the other"),
    _orders("after", "stations", "outwork 3 d", "stations it goes to after its prints, before it is packed"),
)

DESIGN_COLUMNS = tuple(
    Column(sheet=DESIGNS, name=name, kind=kind, example=example, meaning=meaning, is_needed=name == "design")
    for name, kind, example, meaning in (
        ("design", "name", "stout mug", "the artwork's name"),
        ("inks", "inks", "white, gold", "its inks in print order"),
        ("width", "length", "12 in", "width of the print"),
        ("height", "length", "14 in", "height of the print"),
        ("frame", "name", "23x31", "frame size of its screens"),
        ("rate", "pieces an hour", "380/h", "the rate it really ran at"),
        ("set_up", "time", "35 min", "the set-up time it really took"),
        ("preferred", "names", "auto-1", "presses it ran well on"),
    )
)

SCREEN_COLUMNS = tuple(
    Column(sheet=SCREENS, name=name, kind=kind, example=example, meaning=meaning, is_needed=name in ("design", "state"))
    for name, kind, example, meaning in (
        ("design", "name", "stout mug", "whose screens hang"),
        ("state", "burned or to reclaim", "burned", "kept burned, or to be reclaimed"),
        ("frame", "name", "23x31", "frame size; empty: the shop's default"),
        ("mesh", "threads per inch", "156", "mesh of these screens"),
        ("screens", "whole number", "2", "how many screens of this size and mesh"),
    )
)

PROGRESS_COLUMNS = tuple(
    Column(
        sheet=PROGRESS,
        name=name,
        kind=kind,
        example=example,
        meaning=meaning,
        is_needed=name in ("order", "location", "press", "started", "left"),
    )
    for name, kind, example, meaning in (
        ("order", "name", "4102", "the order that has started"),
        ("location", "name", "front", "the print location that has started"),
        ("shade", "light or dark", "dark", "which garments, where both are ordered"),
        ("press", "name", "auto-1", "the press it stands on"),
        ("started", "moment", "2026-03-02 07:10", "when its set-up started"),
        ("left", "whole number", "190", "pieces still to print; 0 once it is done"),
        ("set_up_left", "time", "10 min", "set-up still to do"),
    )
)

UNTOLD = ("due", "in_hands", "garment", "shade", "pieces", "location", "inks")
"""Headings of orders under which "?" makes the order wait until somebody tells; blanks and art have their own "?"."""

COLUMNS = {
    ORDERS: {one.name: one for one in ORDER_COLUMNS},
    DESIGNS: {one.name: one for one in DESIGN_COLUMNS},
    SCREENS: {one.name: one for one in SCREEN_COLUMNS},
    PROGRESS: {one.name: one for one in PROGRESS_COLUMNS},
}
"""Headings by sheet and name."""


def heading_key(text: str) -> str:
    """What two spellings of one heading have in common: "In hands", "in-hands" and "in_hands" are one."""
    return re.sub(r"[\W_]+", "_", text.casefold()).strip("_")


def shown(name: str) -> str:
    """A heading or setting as people say it: "in hands"."""
    return name.replace("_", " ")
