"""Whatever stands in the cells of a shop's sheet: it is brought, is planned or waits, and nothing is asked twice."""

import csv
import io
import random
from pathlib import Path

import pytest

from scheduler import api
from tests.inputs.own_sheets import bring_in, orders_of, text_sheet, week

CELLS = {
    "Order": ("1", "007", "x 1", "4102-B"),
    "Customer": ("Vet", "Café", ""),
    "Due date": ("2026-03-09", "13/03/2026", "ASAP", "", "Fri 13/3", "tbd", "9 March", "31/02/2026", "?"),
    "Item": ("black tee", "Navy Hoodie", "grey tee", "", "tote", "?", "x" * 130),
    "Qty": ("144", "", "12 pcs", "1,200", "0", "-5", "many", "?", "1.5", "99999999"),
    "Placement": ("front", "back", "", "left chest", "front/back", "?"),
    "Colours": ("white", "white, red", "2c", "", "red, white base", "white base", "?", "white x9", "a," * 30, "none"),
    "Blanks": ("in", "", "received", "ordered 13/3/2026", "?", "no", "hm", "2026-03-04"),
    "Proof": ("ok", "", "approved", "sent", "?", "hm", "2026-03-04"),
    "Shade": ("light", "dark", "", "mid", "D"),
    "Design": ("otter", "", "vet paw"),
    "Rush": ("y", "", "n", "maybe"),
    "Machine": ("manual", "", "big", "not manual"),
    "Ship via": ("parcel van", "", "by air", "will call"),
    "S": ("10", "", "x"),
    "M": ("20", "", ""),
    "Notes": ("", "hi", "=1+1", "x" * 2500),
    "Ink type": ("", "plastisol", "water based", "mystery"),
    "Mesh count": ("", "156", "a"),
    "Underbase": ("", "yes", "no", "maybe"),
    "In hands": ("", "2026-03-10", "soon"),
}  # fmt: skip
"""What may stand under a heading: what is right, what is half, and what is wrong."""

DATED = "Order,Customer,Due date\n"


def random_sheet(seed: int) -> tuple[str, int]:
    """A sheet with some of the headings, in any order, and its number of rows; each row is an order of its own."""
    dice = random.Random(seed)
    headings = [name for name in CELLS if name in ("Order", "Customer", "Due date") or dice.random() < 0.7]
    dice.shuffle(headings)
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(headings)
    count = dice.randint(3, 12)
    for number in range(count):
        row = {name: dice.choice(CELLS[name]) for name in headings}
        row["Order"] = f"{row['Order']} {number}"
        row["Customer"] = row["Customer"] or "Vet"  # a row with nothing but its number is a title
        writer.writerow([row[name] for name in headings])
    return out.getvalue(), count


@pytest.mark.parametrize("seed", range(60))
def test_any_sheet_comes_in(tmp_path: Path, seed: int) -> None:
    """Every order is there afterwards, none is a fault, and bringing it again changes nothing and asks nothing."""
    text, count = random_sheet(seed)
    path = text_sheet(tmp_path / "own.csv", text)
    folder = week(tmp_path, designs="design,inks\nvet paw,navy\n")
    bring_in(path, folder, *["1"] * 12)
    assert len(orders_of(folder)) == count
    inputs = api.read_week(folder)
    asked = api.build_workload(inputs).week
    told = {one.order_id for one in asked.not_planned} | {run.order_id for run in asked.runs}
    assert len(inputs.orders) == len(told) == count
    before = (folder / "orders.csv").read_bytes()
    again = bring_in(path, folder)
    assert again.prompts == []
    assert (folder / "orders.csv").read_bytes() == before
