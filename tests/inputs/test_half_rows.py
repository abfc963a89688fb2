"""Rows in which somebody wrote "?": the order waits with its reason, and nothing else of the week is held up."""

from pathlib import Path

import pytest

from scheduler import api
from scheduler.errors import InputError
from scheduler.inputs.reader import read_week_with_warnings
from scheduler.workload.build import Workload
from tests.inputs.weeks import SHOP, write_folder

HEADINGS = "order,client,due,garment,shade,pieces,location,inks,blanks,art,design\n"
WHOLE = "1,Harbour Choir,2026-03-05,navy tee,dark,60,front,white,in,ok,\n"
HALF = "2,Quay Bakery,{due},{garment},{shade},{pieces},{location},{inks},in,ok,\n"
TOLD = {
    "due": "2026-03-05",
    "garment": "grey tee",
    "shade": "light",
    "pieces": "40",
    "location": "back",
    "inks": "navy",
}


def workload(folder: Path, orders: str, designs: str = "") -> Workload:
    """The week of these orders, ready to be planned."""
    files = {"shop.toml": SHOP, "orders.csv": HEADINGS + orders} | ({"designs.csv": designs} if designs else {})
    return api.build_workload(api.read_week(write_folder(folder, files)))


@pytest.mark.parametrize(
    ("heading", "reason"),
    [
        ("due", "date not told yet"),
        ("garment", "garments not told yet"),
        ("shade", "light or dark not told yet: grey tee"),
        ("pieces", "pieces not told yet: grey tee"),
        ("location", "print location not told yet: grey tee"),
        ("inks", "inks not told yet: back"),
    ],
)
@pytest.mark.parametrize("sign", ["?", "tba"])
def test_a_question_mark_makes_the_order_wait(tmp_path: Path, heading: str, reason: str, sign: str) -> None:
    """An order with "?" under a heading is told as waiting for just that; the other order is planned."""
    week = workload(tmp_path, WHOLE + HALF.format(**TOLD | {heading: sign})).week
    assert [(one.order_id, one.kind, one.reasons) for one in week.not_planned] == [("2", "waiting", (reason,))]
    assert [run.run_id for run in week.runs] == ["1 front dark"]


def test_everything_unknown_is_told_at_once(tmp_path: Path) -> None:
    """A row that knows nothing but its order and client names every gap it can, and is no fault."""
    week = workload(tmp_path, WHOLE + HALF.format(**dict.fromkeys(TOLD, "?"))).week
    (told,) = week.not_planned
    assert told.reasons == ("date not told yet", "garments not told yet", "print location not told yet")


def test_another_row_of_the_order_may_tell(tmp_path: Path) -> None:
    """A "?" counts as empty where another row of the same order or garments says it."""
    rows = HALF.format(**TOLD) + HALF.format(**TOLD | {"due": "?", "pieces": "?", "location": "front"})
    week = workload(tmp_path, rows).week
    assert not week.not_planned
    assert {run.run_id: sum(part.pieces for part in run.parts) for run in week.runs} == {
        "2 back light": 41,  # one spare: 2 % of 40
        "2 front light": 41,
    }


def test_a_remembered_design_tells_its_inks(tmp_path: Path) -> None:
    """Inks marked "?" come from the design's record where there is one."""
    orders = "2,Quay Bakery,2026-03-05,white tee,light,40,back,?,in,ok,old anchor\n"
    designs = "design,inks\nold anchor,navy\n"
    week = workload(tmp_path, orders, designs).week
    assert not week.not_planned
    assert [run.run_id for run in week.runs] == ["2 back light"]


def test_a_question_mark_elsewhere_is_a_fault(tmp_path: Path) -> None:
    """What the order cannot wait for, as the firmness, takes no question mark."""
    week = write_folder(
        tmp_path, {"shop.toml": SHOP, "orders.csv": HEADINGS.replace("design", "firm") + WHOLE.replace("ok,", "ok,?")}
    )
    with pytest.raises(InputError, match=r"orders\.csv:2:firm: '\?' is no firmness"):
        api.read_week(week)


def test_a_sheet_without_orders_can_be_looked_at(tmp_path: Path) -> None:
    """Without orders a week cannot be planned, but its shop can be read and shown."""
    week = write_folder(tmp_path, {"shop.toml": SHOP, "orders.csv": HEADINGS})
    with pytest.raises(InputError, match="holds headings and no orders"):
        api.read_week(week)
    inputs, odd = read_week_with_warnings(week, may_be_empty=True)
    assert [one.code for one in odd] == ["no_rows"]
    assert inputs.orders == ()
    assert [load.press_id for load in api.build_workload(inputs).press_loads] == ["auto-1", "manual"]
