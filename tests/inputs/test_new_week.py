"""A new week's files: what stands in them, that they can be planned, that nothing is replaced or half written."""

import csv
import re
import tomllib
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest

from scheduler import api
from scheduler.domain.shop import Shop
from scheduler.errors import InputError
from scheduler.inputs.columns import ORDER_COLUMNS, shown
from scheduler.inputs.new_week import writing
from scheduler.inputs.new_week.front import new_week
from scheduler.inputs.new_week.interview import answers_from, interview
from scheduler.inputs.new_week.questions import QUESTIONS
from scheduler.inputs.new_week.settings import blocks
from scheduler.inputs.new_week.shop_text import shop_text
from scheduler.inputs.reader import read_week_with_warnings
from scheduler.inputs.shop_settings import SETTINGS
from tests.inputs.new_shops import HEADINGS, MACHINE, ORDERS, SOLO, THREE, Keyboard, accept

SHOPS = {"solo": SOLO, "three presses": THREE}


def make(tmp_path: Path, answers: str, place: str = "week", *, is_workbook: bool = False) -> Path:
    """A week made from a file of answers."""
    told = tmp_path / "answers.toml"
    told.write_text(answers, encoding="utf-8")
    board = Keyboard()
    new_week(
        tmp_path / place,
        is_workbook=is_workbook,
        answers=told,
        ask=board.ask,
        say=board.say,
        check=accept,
        machine=MACHINE,
    )
    assert not board.prompts
    return tmp_path / place


def shop_of(week: Path) -> Shop:
    """The shop of a week without orders."""
    return read_week_with_warnings(week, may_be_empty=True)[0].shop


@pytest.mark.parametrize("answers", SHOPS.values(), ids=SHOPS)
@pytest.mark.parametrize("place", ["week", "a week with blanks", "Woche für Zoë"])
def test_a_new_week_can_be_read(tmp_path: Path, answers: str, place: str) -> None:
    """Whatever its folder is called, a new week reads without a fault, and nothing but its empty sheet is odd."""
    week = make(tmp_path, answers, place)
    inputs, odd = read_week_with_warnings(week, may_be_empty=True)
    assert [one.code for one in odd] == ["no_rows"]
    assert inputs.shop.name == tomllib.loads(answers)["name"]
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted(["answers.toml", place])


def test_a_manual_shop_is_what_was_told(tmp_path: Path) -> None:
    """Every answer of a one-press shop stands in its settings."""
    shop = shop_of(make(tmp_path, SOLO))
    (press,) = shop.presses
    assert (press.press_id, press.kind, press.heads, press.flashes, press.stated_pcs_h) == (
        "manual",
        "manual",
        4,
        1,
        65,
    )
    assert press.run_crew == (("print", 1),)
    assert press.now_on is not None
    assert press.now_on.inks == ("black",)
    assert [(one.heated_length_in, one.belt_width_in) for one in shop.dryers] == [(48.0, 24.0)]
    assert [(one.name, one.roles) for one in shop.people] == [("Nuala", ("print", "screens", "pack"))]
    assert [(one.size, one.mesh, one.count, one.coated) for one in shop.frames] == [
        ("20x24", 156, 15, 6),
        ("20x24", 230, 9, 3),
    ]
    assert [(one.design_id, one.to_reclaim) for one in shop.burned] == [("mill loaf", False), ("vet paw", False)]
    assert [(one.name, one.pick_up_min, one.transit_days) for one in shop.carriers] == [("Parcel Van", 960, 2)]
    assert shop.screen_room is not None
    assert (shop.screen_room.coat_from_min, shop.screen_room.reclaim_from_min) == (17 * 60, 16 * 60 + 30)
    assert shop.finish_crew == (("pack", 1),)
    assert shop.money.currency == "EUR"


def test_three_presses_are_what_was_told(tmp_path: Path) -> None:
    """Every answer of a three-press shop stands in its settings, its lunch and its own hours among them."""
    shop = shop_of(make(tmp_path, THREE))
    assert [one.press_id for one in shop.presses] == ["auto-1", "auto-2", "manual"]
    assert [one.dryer_id for one in shop.presses] == ["long", "short", "short"]
    assert [one.stated_pcs_h for one in shop.presses] == [420, None, 60]
    assert [one.flash_place for one in shop.presses] == ["in a head", "over a pallet", "over a pallet"]
    assert [one.run_crew for one in shop.presses] == [(("print", 1), ("catch", 1))] * 2 + [(("print", 1),)]
    assert [(one.weekdays, one.from_min, one.to_min, one.breaks) for one in shop.hours] == [
        ((0, 1, 2, 3), 420, 960, ((720, 750),)),
        ((4,), 420, 780, ((720, 750),)),
    ]
    zoe = next(one for one in shop.people if one.name == "Zoë")
    assert zoe.person_id == "zoë"
    assert zoe.hours is not None
    assert [(one.weekdays, one.from_min, one.to_min) for one in zoe.hours] == [((0, 1, 2, 3), 420, 780)]
    assert [(one.size, one.mesh) for one in shop.frames] == [("58x84 cm", 157), ("58x84 cm", 229)]
    assert shop.screen_room is not None
    assert shop.screen_room.coat_from_min == 11 * 60  # the last hour before lunch: Fridays end half an hour after it
    assert (shop.stage_min, shop.stage_crew) == (8, (("stage", 1),))
    assert [one.name for one in shop.carriers] == ["Kurier", "Freight"]


@pytest.mark.parametrize("answers", SHOPS.values(), ids=SHOPS)
def test_every_setting_is_explained(tmp_path: Path, answers: str) -> None:
    """shop.toml names every setting of the catalogue once with its meaning, whether it is set or not."""
    text = (make(tmp_path, answers) / "shop.toml").read_text(encoding="utf-8")
    for setting in SETTINGS:
        name = setting.name.rpartition(".")[2]
        assert re.search(rf"^(# )?{re.escape(name)} = ", text, re.MULTILINE), setting.name
        assert setting.meaning in text, setting.name
        if setting.default:
            assert f"({setting.default} if left out" in text, setting.name
    assert max(len(line) for line in text.splitlines()) < 160


@pytest.mark.parametrize("answers", SHOPS.values(), ids=SHOPS)
def test_what_is_switched_off_says_what_is_taken(tmp_path: Path, answers: str) -> None:
    """Switching on every line that names what is taken without it changes nothing of the shop."""
    week = make(tmp_path, answers)
    path = week / "shop.toml"
    before, text = shop_of(week), path.read_text(encoding="utf-8")
    lines, head = [], ""
    for line in text.splitlines():
        if re.match(r"(# )?\[", line):
            head = line
        is_plain = re.match(r"# [a-z_]+ = .* if left out", line) and not head.startswith("#")
        lines.append(line.removeprefix("# ") if is_plain and not line.startswith("# hours") else line)
    path.write_text("\n".join(lines), encoding="utf-8")
    assert sum(one != other for one, other in zip(lines, text.splitlines(), strict=True)) > 40
    assert shop_of(week) == before


def test_files_are_utf_8_with_this_systems_line_ends(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Accents survive; line ends are the system's, and what stands in the files reads the same with either."""
    plain = make(tmp_path, THREE, "plain")
    monkeypatch.setattr("os.linesep", "\r\n")
    dos = make(tmp_path, THREE, "dos")
    for name in ("shop.toml", "orders.csv", "READ-ME.txt", "screens.csv"):
        one, other = (plain / name).read_bytes(), (dos / name).read_bytes()
        assert b"\r" not in one
        assert other.count(b"\r\n") == other.count(b"\n") > 0
        assert other.replace(b"\r\n", b"\n").replace(b"dos", b"plain") == one
    assert shop_of(plain) == shop_of(dos)
    assert "Drei Kähne" in (dos / "READ-ME.txt").read_text(encoding="utf-8")
    assert (plain / "orders.csv").read_bytes().startswith(b"\xef\xbb\xbf")


def test_cells_are_apart_as_spreadsheets_here_want_them(tmp_path: Path) -> None:
    """Where numbers have a decimal comma the sheet's cells have semicolons between them, and it reads as well."""
    answers = tmp_path / "answers.toml"
    answers.write_text(THREE, encoding="utf-8")
    told = answers_from(answers, replace(MACHINE, separator=";"), "week")
    writing.write_folder(tmp_path / "week", told, accept)
    assert (tmp_path / "week" / "orders.csv").read_text(encoding="utf-8-sig").startswith("order;client;due;")
    assert len(shop_of(tmp_path / "week").burned) == 1


@pytest.mark.parametrize("answers", SHOPS.values(), ids=SHOPS)
def test_the_example_orders_are_a_week(tmp_path: Path, answers: str) -> None:
    """Copied into the sheet, the example orders read without a fault; the one without art waits."""
    week = make(tmp_path, answers)
    (week / "orders.csv").write_bytes((week / "orders-example.csv").read_bytes())
    inputs, odd = read_week_with_warnings(week)
    assert odd == ()
    asked = api.build_workload(inputs).week
    assert [(one.order_id, one.kind) for one in asked.not_planned] == [("103", "waiting")]
    assert len(asked.runs) == 3


@pytest.mark.parametrize("answers", SHOPS.values(), ids=SHOPS)
def test_a_dozen_typed_orders_are_ready_to_plan(tmp_path: Path, answers: str) -> None:
    """A dozen typed orders under the new sheet's headings read without a fault and give their runs."""
    week = make(tmp_path, answers)
    head = (week / "orders.csv").read_text(encoding="utf-8-sig").strip()
    assert head == HEADINGS
    (week / "orders.csv").write_text(f"{head}\n{ORDERS}", encoding="utf-8-sig")
    asked = api.build_workload(api.read_week(week)).week
    assert [one.reasons for one in asked.not_planned] == [("waiting for garments: natural tote",)]
    assert len(asked.runs) == 12


def test_the_read_me_explains_every_column(tmp_path: Path) -> None:
    """READ-ME.txt explains each heading there is and names the next command with the folder."""
    text = (make(tmp_path, SOLO, "my first week") / "READ-ME.txt").read_text(encoding="utf-8")
    for column in ORDER_COLUMNS:
        assert re.search(rf"^{shown(column.name)}\s+\S", text, re.MULTILINE), column.name
    assert 'pressweek check "my first week"' in text
    assert max(len(line) for line in text.splitlines()) < 80


@pytest.mark.parametrize("there", ["shop.toml", "orders.csv", "designs.csv", "announced.json", "READ-ME.txt"])
def test_a_week_that_is_there_is_never_replaced(tmp_path: Path, there: str) -> None:
    """A folder with any file of a week is refused before anything is asked, and stays as it is."""
    week = tmp_path / "week"
    week.mkdir()
    (week / there).write_text("mine", encoding="utf-8")
    board = Keyboard()
    with pytest.raises(InputError, match=r"holds a week already .*; name another folder: nothing is replaced"):
        new_week(week, is_workbook=False, answers=None, ask=board.ask, say=board.say, check=accept, machine=MACHINE)
    assert board.prompts == []
    assert [path.name for path in week.iterdir()] == [there]
    assert (week / there).read_text(encoding="utf-8") == "mine"


def test_a_folder_with_other_files_takes_a_week(tmp_path: Path) -> None:
    """A folder that holds no week, only the shop's own sheet, gets the week's files beside it."""
    (tmp_path / "week").mkdir()
    (tmp_path / "week" / "our orders.xlsx").write_bytes(b"ours")
    week = make(tmp_path, SOLO)
    assert (week / "our orders.xlsx").read_bytes() == b"ours"
    assert shop_of(week).name == "Nuala's Back Room"


def test_a_file_in_the_way_is_told(tmp_path: Path) -> None:
    """Where the folder's name is that of a file, or its parent cannot be one, that is one sentence."""
    (tmp_path / "week").write_text("a file", encoding="utf-8")
    with pytest.raises(InputError, match="is a file; name a folder that is not there yet"):
        make(tmp_path, SOLO)
    with pytest.raises(InputError, match="cannot be written"):
        make(tmp_path, SOLO, "week/inside")


@pytest.mark.parametrize("is_workbook", [False, True])
@pytest.mark.parametrize("stop", [KeyboardInterrupt, InputError])
def test_nothing_is_left_half_written(tmp_path: Path, stop: type[BaseException], *, is_workbook: bool) -> None:
    """Ctrl-C while the files are written, or a week that cannot be read, leaves not a trace."""
    answers = interview(MACHINE, "week", Keyboard().ask, Keyboard().say)

    def fail(_path: Path) -> None:
        raise stop(()) if stop is InputError else stop

    write = writing.write_workbook if is_workbook else writing.write_folder
    with pytest.raises(stop):
        write(tmp_path / "week", answers, fail)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_there_gets_all_files_or_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """If one file cannot be moved into a folder that is there, those moved before are taken out again."""
    week = tmp_path / "week"
    week.mkdir()
    moved: list[str] = []
    rename = writing.os.rename

    def slip(source: Path, target: Path) -> None:
        if len(moved) == 2:
            raise PermissionError(13, "Permission denied")
        moved.append(Path(target).name)
        rename(source, target)

    monkeypatch.setattr(writing.os, "rename", slip)
    answers = interview(MACHINE, "week", Keyboard().ask, Keyboard().say)
    with pytest.raises(InputError, match="cannot be written"):
        writing.write_folder(week, answers, accept)
    assert len(moved) == 2
    assert list(week.iterdir()) == []


def test_a_workbook_says_the_same(tmp_path: Path) -> None:
    """The workbook holds the same shop as the folder, and an empty Orders sheet with a note on each heading."""
    for answers in SHOPS.values():
        folder = make(tmp_path, answers, answers[8:12])
        book = make(tmp_path, answers, f"{answers[8:12]}.xlsx", is_workbook=True)
        assert shop_of(book) == shop_of(folder)
        sheets = openpyxl.load_workbook(book)
        assert sheets.sheetnames[:2] == ["Shop", "Orders"]
        headings = sheets["Orders"][1]
        assert ",".join(str(cell.value) for cell in headings) == HEADINGS
        assert all(cell.comment is not None and cell.comment.text for cell in headings)
        names = {str(row[0].value) for row in sheets["Shop"].iter_rows(max_col=1)}
        assert {
            one.name.rpartition(".")[2]
            for one in SETTINGS
            if not one.name.startswith(("closure", "over", "outlook", "paper", "flash_pool", "stations"))
        } <= names


def test_a_workbook_takes_typed_orders(tmp_path: Path) -> None:
    """Orders typed into the workbook's sheet are read; numbers and dates may be typed as such."""
    book = make(tmp_path, SOLO, "week.xlsx")
    sheets = openpyxl.load_workbook(book)
    for row in csv.reader(ORDERS.splitlines()):
        sheets["Orders"].append([int(text) if text.isdecimal() else text or None for text in row])
    sheets.save(book)
    inputs, odd = read_week_with_warnings(book)
    assert odd == ()
    assert len(api.build_workload(inputs).week.runs) == 12


def test_a_workbook_is_never_replaced(tmp_path: Path) -> None:
    """A workbook that is there is refused; without an ending the name gets .xlsx."""
    make(tmp_path, SOLO, "week", is_workbook=True)
    assert (tmp_path / "week.xlsx").exists()
    before = (tmp_path / "week.xlsx").read_bytes()
    with pytest.raises(InputError, match="is there already"):
        make(tmp_path, SOLO, "week", is_workbook=True)
    assert (tmp_path / "week.xlsx").read_bytes() == before


@pytest.mark.parametrize(
    ("answers", "told"),
    [
        ('pres = "manual 4"', "answers.toml:pres: 'pres' is no question; did you mean press?"),
        ('press = "four"', "answers.toml:press: 'four' is no press; write it as manual 4, or automatic 8"),
        ('presses = 2\npress = ["manual 4"]', "has 1 answer where 2 are wanted; write one for each press"),
        ('people = ["Ana: sweeps"]', "answers.toml:people: 'sweeps' is not known"),
        ('people = ["Ana: pack"]', "answers.toml:people: nobody of them prints"),
        ("name = ", "answers.toml: cannot be read"),
    ],
)
def test_answers_that_cannot_be_used_are_told(tmp_path: Path, answers: str, told: str) -> None:
    """A wrong answer in a file is told with its name and what to write, and nothing is written."""
    with pytest.raises(InputError) as refused:
        make(tmp_path, answers)
    assert told in str(refused.value)
    assert [path.name for path in tmp_path.iterdir()] == ["answers.toml"]


def test_answers_may_be_few(tmp_path: Path) -> None:
    """What a file of answers leaves out is taken as offered; numbers and dates may be typed as such."""
    week = make(tmp_path, "presses = 1\nplan_from = 2026-03-02T08:00:00")
    assert shop_of(week).plan_from.isoformat() == "2026-03-02T08:00:00+00:00"
    assert shop_of(week).name == "week"


def test_every_answer_of_the_tests_is_a_question() -> None:
    """The answers these tests use name every question there is, so none goes untried."""
    assert set(tomllib.loads(THREE)) == {one.name for one in QUESTIONS}


def test_signs_that_could_break_the_file_are_harmless(tmp_path: Path) -> None:
    """Quotes, backslashes and signs that are no letters in a name leave the file whole."""
    odd = 'O\'Brien \\ "Bold" & Sons = [x] # 1'
    answers = interview(MACHINE, "week", Keyboard([odd]).ask, Keyboard().say)
    assert tomllib.loads(shop_text(blocks(answers)))["name"] == odd
    writing.write_folder(tmp_path / "week", answers, accept)
    assert shop_of(tmp_path / "week").name == odd
