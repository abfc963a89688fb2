"""The planner's own sequence: a file of its own, a column of numbers in the orders sheet, or the sheet's own rows.

Names are matched as the orders sheet spells them; case and blanks do not count. Every fault comes at once.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from scheduler.domain.orders import WeekInputs
from scheduler.domain.own_order import OwnLine, OwnOrder
from scheduler.inputs.cells import number
from scheduler.inputs.columns import COLUMNS, ORDERS, heading_key, shown
from scheduler.inputs.faults import CellError, Faults, Place, key_of, nearest, one_of, quoted
from scheduler.inputs.tables import NumberedCells, csv_records, read_bytes
from scheduler.inputs.workbook import SUFFIXES, read_sheets

LIST_HEADINGS = ("order", "location", "shade", "garment", "press")
SHADES = ("light", "dark")
FILE_HINT = "give it the headings order, location, press, or write one order number a line"
MOST_PLACE = 1_000_000


def read_own_order(asked: str, week: Path, inputs: WeekInputs) -> OwnOrder:
    """The wanted order of runs.

    asked: a CSV file, looked for here and in the week's folder; else a column of the orders sheet; "" for the sheet's
    rows as they stand. In a column a smaller number comes first, and of equal ones (a number per press) the row that
    stands first; rows without a number are not named. Raises InputError with every fault of the list.
    """
    faults = Faults()
    names = _Names(inputs)
    file = _file(asked, week)
    if file is not None:
        found: OwnOrder | None = _of_file(file, names, faults)
    else:
        found = _of_sheet(asked, week, names, faults)
    faults.raise_if_any()
    if found is None:
        raise AssertionError("a list without faults can be read")
    return found


def _file(asked: str, week: Path) -> Path | None:
    places = (Path(asked), week / asked) if asked else ()
    return next((place for place in places if place.is_file()), None)


@dataclass(frozen=True, slots=True)
class _Names:
    """Everything a line may name, as the week spells it."""

    inputs: WeekInputs

    def orders(self) -> dict[str, str]:
        return {key_of(one.order_id): one.order_id for one in self.inputs.orders}

    def locations(self, order_id: str) -> dict[str, str]:
        return {key_of(one.location): one.location for one in self.inputs.imprints if one.order_id == order_id}

    def garments(self, order_id: str) -> dict[str, str]:
        return {key_of(one.garment): one.garment for one in self.inputs.lots if one.order_id == order_id}

    def presses(self) -> dict[str, str]:
        """Press ids, by id and by name."""
        by_name = {key_of(one.name): one.press_id for one in self.inputs.shop.presses}
        return by_name | {key_of(one.press_id): one.press_id for one in self.inputs.shop.presses}


def _of_file(path: Path, names: _Names, faults: Faults) -> OwnOrder | None:
    raw = read_bytes(path, faults)
    rows = None if raw is None else csv_records(ORDERS, path.name, raw, faults)
    if rows is None:
        return None
    place = Place(file=path.name)
    if not rows:
        faults.add(place, "empty", "is empty", FILE_HINT)
        return None
    headings = [heading_key(cell) for cell in rows[0][1]]
    if "order" in headings:
        by_name = {name: headings.index(name) for name in LIST_HEADINGS if name in headings}
        told = [(row, _cells(by_name, cells)) for row, cells in rows[1:]]
    else:
        alone = [(row, [cell for cell in cells if cell.strip()]) for row, cells in rows]
        if any(len(cells) > 1 for _, cells in alone):
            faults.add(place.at("order"), "no_heading", "the heading 'order' is missing", FILE_HINT)
            return None
        told = [(row, _cells({"order": 0}, cells)) for row, cells in alone]
    lines = [_line(Place(file=path.name, row=row), cells, names, faults) for row, cells in told]
    return OwnOrder(source=path.name, lines=tuple(line for line in lines if line is not None))


def _cells(by_name: Mapping[str, int], cells: Sequence[str]) -> dict[str, str]:
    """Filled cells by heading."""
    found = {name: " ".join(cells[at].split()) for name, at in by_name.items() if at < len(cells)}
    return {name: text for name, text in found.items() if text}


def _line(place: Place, cells: Mapping[str, str], names: _Names, faults: Faults) -> OwnLine | None:
    """One line of a list; None, and faults noted, where it names something that is not in the week."""
    if "order" not in cells:
        faults.add(place.at("order"), "missing", "is empty", "write the order's number")
        return None
    orders = names.orders()
    hint = "take the line out, or correct the number"
    order_id = faults.read(place.at("order"), cells["order"], _known(orders, "order of this week", hint))
    if order_id is None:
        return None
    known = {
        "location": _known(names.locations(order_id), f"print location of order {order_id}"),
        "garment": _known(names.garments(order_id), f"garment of order {order_id}"),
        "shade": _known({one: one for one in SHADES}, "shade"),
        "press": _known(names.presses(), "press of the shop"),
    }
    read = {name: faults.read(place.at(name), cells[name], known[name]) for name in known if name in cells}
    if None in read.values():
        return None
    return OwnLine(
        order_id=order_id,
        location=read.get("location") or "",
        shade=read.get("shade") or "",
        garment=read.get("garment") or "",
        press_id=read.get("press") or "",
        row=place.row,
    )


def _known(known: Mapping[str, str], what: str, hint: str = "") -> Callable[[str], str]:
    def read(text: str) -> str:
        found = known.get(key_of(text))
        if found is None:
            near = nearest(text, known.values())
            told = f"did you mean {near}?" if near else hint or one_of(tuple(dict.fromkeys(known.values())))
            raise CellError(f"no_such_{what.split()[0]}", f"{quoted(text)} is no {what}", told)
        return found

    return read


def _of_sheet(asked: str, week: Path, names: _Names, faults: Faults) -> OwnOrder | None:
    """The rows of the orders sheet, by the numbers in a column or as they stand."""
    file, rows = _sheet_rows(week, faults)
    if not rows:
        return None
    headings = [heading_key(cell) for cell in rows[0][1]]
    line = Place(file=file, row=rows[0][0])
    if not asked:
        lines = [_row_line(headings, row, names) for row in rows[1:]]
        return OwnOrder(source=f"the rows of {file}", lines=tuple(one for one in lines if one is not None))
    if heading_key(asked) not in headings:
        _tell_no_column(asked, line, rows[0][1], faults)
        return None
    at = headings.index(heading_key(asked))
    numbered: list[tuple[float, int, OwnLine]] = []
    read = number(least=0, most=MOST_PLACE, example="3")
    for row, cells in rows[1:]:
        text = cells[at].strip() if at < len(cells) else ""
        value = faults.read(Place(file=file, row=row, column=asked), text, read) if text else None
        meant = _row_line(headings, (row, cells), names)
        if value is not None and meant is not None:
            numbered.append((value, row, meant))
    if not numbered and not faults.problems:
        faults.add(
            line.at(asked), "no_numbers", f"the column {quoted(asked)} holds no number", "number the rows from 1"
        )
        return None
    numbered.sort(key=lambda one: one[:2])
    return OwnOrder(source=f"the column {quoted(asked)} of {file}", lines=tuple(one for _, _, one in numbered))


def _sheet_rows(week: Path, faults: Faults) -> tuple[str, Sequence[NumberedCells]]:
    """What the orders sheet is called, and its rows as they stand, headings first."""
    if week.is_dir():
        file = f"{ORDERS}.csv"
        raw = read_bytes(week / file, faults)
        return file, (None if raw is None else csv_records(ORDERS, file, raw, faults)) or ()
    raw = read_bytes(week, faults) if week.suffix.lower() in SUFFIXES else None
    sheet = None if raw is None else read_sheets(week.name, raw, faults).get(ORDERS)
    return (week.name, ()) if sheet is None else (sheet.file, sheet.rows)


def _row_line(headings: Sequence[str], row: NumberedCells, names: _Names) -> OwnLine | None:
    """What a row of the orders sheet is about; None for a row that names no order (the week's reader told of it)."""
    cells = _cells(
        {name: headings.index(name) for name in ("order", "location", "garment") if name in headings}, row[1]
    )
    order_id = names.orders().get(key_of(cells.get("order", "")))
    if order_id is None:
        return None
    return OwnLine(
        order_id=order_id,
        location=names.locations(order_id).get(key_of(cells.get("location", "")), ""),
        garment=names.garments(order_id).get(key_of(cells.get("garment", "")), ""),
        row=row[0],
    )


def _tell_no_column(asked: str, place: Place, headings: Sequence[str], faults: Faults) -> None:
    own = [heading.strip() for heading in headings if heading.strip() and heading_key(heading) not in COLUMNS[ORDERS]]
    near = nearest(asked, [*own, *map(shown, COLUMNS[ORDERS])])
    hint = f"name a file, or a column that holds numbers{f': {one_of(own)}' if own else ''}"
    message = f"{quoted(asked)} is neither a file nor a column here"
    faults.add(place.at(asked), "no_such_column", message, f"did you mean {near}?" if near in own else hint)
