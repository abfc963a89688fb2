"""The orders sheet while it is being read: its typed rows, the shop they are for, and what was assumed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from scheduler.domain.orders import DesignRecord
from scheduler.inputs.arrivals import Arrival
from scheduler.inputs.assumed import Assumed
from scheduler.inputs.columns import shown
from scheduler.inputs.faults import key_of, quoted
from scheduler.inputs.moments import lacks_year
from scheduler.inputs.shop_reader import ShopRead
from scheduler.inputs.typed_rows import TypedRow, TypedTable

FAR_AHEAD = timedelta(days=366)


@dataclass(slots=True, kw_only=True)
class OrdersSheet:
    """What readers of orders, lots and prints share. designs: remembered ones by key; shop None: it cannot be read."""

    table: TypedTable
    shop: ShopRead | None
    designs: Mapping[str, DesignRecord]
    assumed: Assumed
    untold: dict[str, dict[str, None]] = field(default_factory=dict)
    """What the sheet marks with "?", in words, by order key; grows while the orders are read."""
    untold_lots: set[str] = field(default_factory=set)
    """Lots whose pieces or shade are not told yet."""
    _spellings: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Every design is spelled as remembered, else as the sheet spells it first."""
        for row in self.table.rows:
            if "design" in row.values:
                self._spellings.setdefault(key_of(row.values["design"]), row.values["design"])
        self._spellings |= {key: one.design_id for key, one in self.designs.items()}

    def spelled_design(self, typed: str) -> str:
        """The one spelling of a design."""
        return self._spellings.get(key_of(typed), typed)

    def note_untold(self, order_id: str, what: str) -> None:
        """The order waits for something nobody has told yet."""
        self.untold.setdefault(key_of(order_id), {})[what] = None

    @property
    def now(self) -> datetime | None:
        """The planning moment; None if it cannot be read."""
        return self.shop.now if self.shop else None

    def warn_of_due(self, rows: Sequence[TypedRow], column: str, due: date | datetime) -> None:
        """Warn of a date that is over, or more than a year ahead."""
        if self.now is None:
            return
        is_over = due < self.now if isinstance(due, datetime) else due < self.now.date()
        day = due.date() if isinstance(due, datetime) else due
        row = next(row for row in rows if column in row.values)
        text = row.texts[column]
        self._note_year(text, f"{row.values['order']} {shown(column)}")
        if is_over:
            self._warn_over(row, column, "look at the date: the order is late already")
        elif day > self.now.date() + FAR_AHEAD:
            place, message = self.table.place(row, column), f"{quoted(text)} is more than a year ahead"
            self.table.faults.warn(place, "date_is_far", message, "look at the year", text)

    def note_arrival(self, rows: Sequence[TypedRow], column: str, arrival: Arrival, what: str) -> None:
        """Tell what a bare day was taken for, and warn of a day that is over."""
        if arrival.at is None:
            return
        self._note_year(next(row for row in rows if column in row.values).texts[column], f"{what} {column}")
        if arrival.is_bare_day:
            text = "a day without a clock time: there as soon as the shop opens, assumed"
            self.assumed.add("bare_day", text, "dates of blanks, art and deposits", f"{what} {column}")
        if self.now is not None and arrival.at.date() < self.now.date():
            row = next(row for row in rows if column in row.values)
            there = "in" if column == "blanks" else "ok"
            self._warn_over(row, column, f"write {there} if it is so; it is planned as if it were")

    def _note_year(self, text: str, where: str) -> None:
        if lacks_year(text):
            self.assumed.add("no_year", "a day without its year: the nearest one, assumed", "dates", where)

    def _warn_over(self, row: TypedRow, column: str, hint: str) -> None:
        text = row.texts[column]
        message = f"{quoted(text)} is before the planning moment {self.now:%Y-%m-%d %H:%M}"
        self.table.faults.warn(self.table.place(row, column), "date_is_over", message, hint, text)
