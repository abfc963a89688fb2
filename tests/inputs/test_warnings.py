from pathlib import Path

import pytest

from scheduler.errors import InputError
from scheduler.inputs.reader import read_week, read_week_with_warnings
from tests.inputs.bad_input import ORDERS_FILE, SHOP_FILE, edited, with_file
from tests.inputs.weeks import ORDERS, SHOP, Files, write_folder

LATER_OVERTIME = edited(SHOP_FILE, ('day = "2026-03-04"\nfrom', 'day = "2026-03-24"\nfrom'))


@pytest.mark.parametrize(
    ("files", "told"),
    [
        (
            edited(ORDERS_FILE, ("late,finish", "late,finnish")),
            "orders.csv:1:finnish: the column 'finnish' is not read; did you mean finish?",
        ),
        (
            edited(ORDERS_FILE, ("late,finish", "late,qqqq")),
            "orders.csv:1:qqqq: the column 'qqqq' is not read; nothing to do if it is for your own use",
        ),
        (
            edited(ORDERS_FILE, ("late,finish", "late,")),
            "orders.csv:1: column 37 has no heading and is not read; give it one, or empty it",
        ),
        (
            edited(SHOP_FILE, ("days_ahead = 10", "days_ahed = 10")),
            "shop.toml:4:days_ahed: the setting 'days_ahed' is not read; did you mean days_ahead?",
        ),
        (
            edited(SHOP_FILE, ('restart = { break = "3 min"', 'restart = { brake = "3 min"')),
            "shop.toml:47:press.1.restart.brake: the setting 'press.1.restart.brake' is not read; did you mean break?",
        ),
        (
            edited(SHOP_FILE, ("[ink.plastisol]\n", '[ink.plastisol]\ntunel = "60 s"\n')),
            "shop.toml:129:ink.plastisol.tunel: the setting 'ink.plastisol.tunel' is not read; did you mean tunnel?",
        ),
        (
            with_file(SHOP_FILE, SHOP + '\n[weather]\nrain = "yes"\n'),
            "shop.toml:weather: the setting 'weather' is not read; take it out",
        ),
        (
            edited(ORDERS_FILE, ("Brewery,2026-03-05", "Brewery,2026-02-27")),
            "orders.csv:2:due: '2026-02-27' is before the planning moment 2026-03-02 07:00; "
            "look at the date: the order is late already",
        ),
        (
            edited(ORDERS_FILE, ("Brewery,2026-03-05", "Brewery,2026-03-02 06:00")),
            "orders.csv:2:due: '2026-03-02 06:00' is before the planning moment 2026-03-02 07:00; "
            "look at the date: the order is late already",
        ),
        (
            edited(ORDERS_FILE, ("Elementary,,2026-03-09", "Elementary,,2062-03-09")),
            "orders.csv:5:in_hands: '2062-03-09' is more than a year ahead; look at the year",
        ),
        (
            edited(ORDERS_FILE, ("4/3/2026", "28/2/2026")),
            "orders.csv:3:blanks: '28/2/2026' is before the planning moment 2026-03-02 07:00; "
            "write in if it is so; it is planned as if it were",
        ),
        (
            edited(ORDERS_FILE, ("2026-03-03 11:00", "2026-02-24 11:00")),
            "orders.csv:4:art: '2026-02-24 11:00' is before the planning moment 2026-03-02 07:00; "
            "write ok if it is so; it is planned as if it were",
        ),
        (
            edited(ORDERS_FILE, ("S 20, M 60, L 64", "mostly L")),
            "orders.csv:2:sizes: 'mostly L' cannot be added up; write it as S 20, M 60, L 64",
        ),
        (
            LATER_OVERTIME,
            "shop.toml:overtime.1.day: 2026-03-24 is not among the days planned, 2026-03-02 to 2026-03-11; "
            "correct the day, or take the offer out",
        ),
    ],
)
def test_what_is_odd_is_told_and_read_all_the_same(files: Files, told: str, tmp_path: Path) -> None:
    """A warning says where, what and what to do, stands alone, and keeps nothing from being planned."""
    _, warnings = read_week_with_warnings(write_folder(tmp_path / "week", files))
    assert [str(one) for one in warnings] == [told]
    assert all(one.is_warning for one in warnings)


def test_a_file_with_nearly_the_right_name_is_told(tmp_path: Path) -> None:
    """A side file whose name is misspelt is not read, and somebody is told."""
    files = dict(edited(ORDERS_FILE))
    files["screen.csv"] = files.pop("screens.csv")
    _, warnings = read_week_with_warnings(write_folder(tmp_path / "week", files))
    assert [str(one) for one in warnings] == ["screen.csv: 'screen.csv' is not read; did you mean screens.csv?"]


def test_a_refusal_tells_the_warnings_too(tmp_path: Path) -> None:
    """Who has to mend a fault sees at once what is merely odd, marked as such."""
    files = edited(ORDERS_FILE, ("late,finish", "late,finnish"), ("Royal Hoodie,,40", "Royal Hoodie,,forty"))
    with pytest.raises(InputError) as refused:
        read_week(write_folder(tmp_path / "week", files))
    assert [(one.column, one.is_warning) for one in refused.value.problems] == [("finnish", True), ("pieces", False)]


def test_today_is_not_over(tmp_path: Path) -> None:
    """An order due on the planning day, and blanks that come on it, are nothing odd."""
    text = ORDERS.replace("Brewery,2026-03-05", "Brewery,2026-03-02").replace("4/3/2026", "2/3/2026")
    _, warnings = read_week_with_warnings(write_folder(tmp_path / "week", with_file(ORDERS_FILE, text)))
    assert warnings == ()
