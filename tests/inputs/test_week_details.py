"""What a week makes of shorter, odder and looser sheets than the good one."""

import time
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from scheduler.domain.orders import WeekInputs
from scheduler.errors import InputError
from scheduler.inputs.garment_words import kind_of, shade_of
from scheduler.inputs.reader import digest_of, read_week, read_week_with_warnings
from scheduler.inputs.sizes import pieces_in
from tests.inputs.bad_input import ORDERS_FILE, SHOP_FILE, edited, with_file
from tests.inputs.weeks import ORDERS, PROGRESS, SCREENS, SHOP, Files, good_files, write_folder

LEAST_SHOP = """\
name = "Least"
zone = "Europe/Lisbon"
plan_from = 2026-03-02 07:00:00
hours = { mon-fri = "08:00-16:00" }
press = [{ id = "auto-1", kind = "automatic", heads = 6 }]
"""
STARTED = "4103,left chest,dark,manual,2026-02-27 15:00,30,\n"
HEAD = "order,client,due,garment,shade,pieces,location,inks,blanks,art,design,print after,family,note,press,firm\n"


def read(folder: Path, files: Files) -> WeekInputs:
    """A week as read."""
    return read_week(write_folder(folder / "week", files))


def least(folder: Path, *rows: str, shop: str = LEAST_SHOP, **more: str) -> WeekInputs:
    """The least shop with these rows of orders."""
    files: Files = {"shop.toml": shop, "orders.csv": HEAD + "".join(f"{row}\n" for row in rows)}
    return read(folder, {**files, **{f"{name}.csv": text for name, text in more.items()}})


def told_of(folder: Path, files: Files) -> list[str]:
    """Everything told of a week that is refused."""
    with pytest.raises(InputError) as refused:
        read(folder, files)
    return [str(one) for one in refused.value.problems]


def test_a_shop_file_and_one_sheet_are_a_week(tmp_path: Path) -> None:
    """Nothing else is needed, and TOML's own dates do as well as texts."""
    found = least(tmp_path, "1,Ann,2026-03-06,navy tee,dark,50,front,white,in,ok")
    assert found.shop.plan_from == datetime(2026, 3, 2, 7, tzinfo=ZoneInfo("Europe/Lisbon"))
    assert found.orders[0].due_at == date(2026, 3, 6)
    assert found.imprints[0].design_id == "1 front"
    assert (found.designs, found.progress, found.announced, found.shop.burned) == ((), (), (), ())


@pytest.mark.parametrize(
    ("typed", "shade"), [("dk", "dark"), ("Dark ", "dark"), ("D", "dark"), ("LT", "light"), ("light", "light")]
)
def test_shades_have_short_forms(tmp_path: Path, typed: str, shade: str) -> None:
    """Dark, dk and d are one, whatever their case."""
    assert least(tmp_path, f"1,Ann,2026-03-06,ash tee,{typed},50,front,red,in,ok").lots[0].shade == shade


@pytest.mark.parametrize(
    ("garment", "kind", "shade"),
    [
        ("navy tee", "tee", "dark"),
        ("Royal Hoodie", "fleece", "dark"),
        ("white youth tee", "youth", "light"),
        ("youth hoodie, black", "fleece", "dark"),
        ("black long-sleeve", "long sleeve", "dark"),
        ("natural tote", "bag", "light"),
        ("safety yellow T-Shirt", "tee", "light"),
        ("light blue crew neck", "fleece", "light"),
        ("dark heather tee", "tee", "dark"),
        ("white/navy raglan", None, None),
        ("grey mug", None, None),
        ("orange shirt", "tee", None),
    ],
)
def test_garments_tell_their_kind_and_shade_in_words(garment: str, kind: str | None, shade: str | None) -> None:
    """Words a printer writes are understood; colours in between, and two at once, are not guessed."""
    assert (kind_of(garment), shade_of(garment)) == (kind, shade)


def test_a_garment_of_no_known_kind_is_taken_for_a_tee_and_told(tmp_path: Path) -> None:
    """Where the words name no kind, a tee's speed is taken and listed as such."""
    found = least(tmp_path, "1,Ann,2026-03-06,raglan,light,50,front,red,in,ok")
    assert found.lots[0].kind == "tee"
    assert "taken as tee: the garment's words name no kind" in {one.text for one in found.assumptions}


@pytest.mark.parametrize(
    ("sizes", "pieces"),
    [
        ("S 20, M 60, L 64", 144),
        ("S20 M30 L10", 60),
        ("S:5;M:5", 10),
        ("2XL 10 3XL 5", 15),
        ("XXL10", 10),
        ("YS 4 / YM 6", 10),
        ("104: 12, 116: 20", 32),
        ("OSFA 40", 40),
        ("mostly L", None),
        ("12", None),
        ("S-20", None),
        ("", None),
    ],
)
def test_sizes_are_added_up_where_they_can_be(sizes: str, pieces: int | None) -> None:
    """Size and number in any of the usual spellings; anything else is kept as text."""
    assert pieces_in(sizes) == pieces


def test_rows_of_one_order_need_not_stand_together(tmp_path: Path) -> None:
    """An order is its rows, wherever they stand and however its number is typed."""
    found = least(
        tmp_path,
        "A1,Ann,2026-03-06,navy tee,dark,50,front,white,in,ok",
        "B2,Ben,2026-03-06,navy tee,dark,20,front,white,in,ok",
        " a1 ,,,navy tee,,,back,red,,ok",
    )
    assert [(one.order_id, one.location) for one in found.imprints] == [
        ("A1", "front"),
        ("A1", "back"),
        ("B2", "front"),
    ]
    assert [(one.order_id, one.garment, one.pieces) for one in found.lots] == [
        ("A1", "navy tee", 50),
        ("B2", "navy tee", 20),
    ]


def test_names_are_one_whatever_their_case(tmp_path: Path) -> None:
    """Garments, locations, designs, presses and carriers spelled differently in places are the same thing."""
    shop = LEAST_SHOP.replace('id = "auto-1"', 'id = "auto-1", now_on = { design = "FOX" }') + (
        'person = [{ id = "Ann", roles = "print", presses = "AUTO-1" }]\n'
        'closure = [{ what = "ann", day = "2026-03-04" }]\n'
        'overtime = [{ day = "2026-03-04", from = "17:00", to = "18:00", price = 9, '
        'presses = "Auto-1", people = "ANN" }]\n'
    )
    found = least(
        tmp_path,
        "1,Ann,2026-03-06,Navy Tee,dark,50,Front,white,in,ok,fox,,,,AUTO-1",
        "1,,,navy tee,,,back,white,in,ok,Fox,FRONT",
        shop=shop,
        designs="design,inks,preferred\nFoX,white,Auto-1\n",
        screens="design,state\nfOX,burned\n",
        progress="order,location,press,started,left\n1,FRONT,AUTO-1,2026-02-27 10:00,20\n",
    )
    assert [one.design_id for one in (*found.imprints, *found.designs, *found.shop.burned)] == ["FoX"] * 4
    assert found.shop.presses[0].now_on is not None
    assert found.shop.presses[0].now_on.design_id == "FoX"
    assert [one.lot_id for one in found.lots] == ["1 Navy Tee"]
    assert found.imprints[1].print_after == ("Front",)
    assert found.imprints[0].presses == found.designs[0].preferred == found.shop.people[0].press_ids == ("auto-1",)
    assert (found.shop.overtime[0].press_ids, found.shop.overtime[0].person_ids) == (("auto-1",), ("Ann",))
    assert found.shop.closures[0].what == "Ann"
    assert (found.progress[0].location, found.progress[0].press_id) == ("Front", "auto-1")


def test_inks_may_come_from_the_design(tmp_path: Path) -> None:
    """A reorder is a name, a number and a date: the design remembers its inks, and that is told."""
    found = least(
        tmp_path,
        "1,Ann,2026-03-06,navy tee,dark,50,front,,in,ok,fox,,wb",
        designs='design,inks\nfox,"white, gold"\n',
    )
    assert [(ink.name, ink.family) for ink in found.imprints[0].inks] == [
        ("white", "water-based"),
        ("gold", "water-based"),
    ]
    assert "inks taken from the design" in {one.text for one in found.assumptions}


def test_a_row_without_a_design_means_the_one_at_its_location(tmp_path: Path) -> None:
    """Light and dark garments of one print are one imprint even if the design is typed once; two designs stay two."""
    found = least(
        tmp_path,
        "1,Ann,2026-03-06,navy tee,dark,50,front,white,in,ok,fox",
        "1,,,white tee,light,20,front,,in,",
        "2,Ben,2026-03-06,navy tee,dark,50,front,white,in,ok,stag",
        "2,,,white tee,light,20,front,black,in,ok,stag black",
    )
    assert [(one.design_id, len(one.lot_ids)) for one in found.imprints] == [("fox", 2), ("stag", 1), ("stag black", 1)]


def test_families_nobody_described_come_with_start_values_and_are_told(tmp_path: Path) -> None:
    """What the week prints with and the shop says nothing of gets start values; other families are left out."""
    found = least(tmp_path, "1,Ann,2026-03-06,navy tee,dark,50,front,white,in,ok,,,discharge")
    assert [(one.name, one.tunnel_s, one.flash_s, one.idle_ok_min) for one in found.shop.families] == [
        ("plastisol", 60, 7.0, None),
        ("discharge", 150, 10.0, 20),
    ]
    assert [one.where for one in found.assumptions if one.code == "ink_family"] == [("plastisol",), ("discharge",)]


def test_a_family_described_in_part_keeps_start_values_for_the_rest(tmp_path: Path) -> None:
    """Who states the tunnel alone gets flash seconds and standing time assumed, and reads so."""
    shop = LEAST_SHOP + '[ink.Waterbased]\ntunnel = "2 min"\n'
    found = least(tmp_path, "1,Ann,2026-03-06,navy tee,dark,50,front,white,in,ok,,,water based", shop=shop)
    family = next(one for one in found.shop.families if one.name == "water-based")
    assert (family.tunnel_s, family.flash_s, family.idle_ok_min) == (120, 10.0, 20)
    told = {one.text for one in found.assumptions if one.code == "ink_family"}
    assert {"flash 10 s assumed for water-based", "water-based may stand 20 min in the mesh, assumed"} <= told


@pytest.mark.parametrize(
    ("zone", "holidays", "closed"),
    [
        ("Europe/Berlin", "DE", {date(2026, 4, 3), date(2026, 4, 6)}),
        ("Europe/Berlin", "DE-BY", {date(2026, 4, 3), date(2026, 4, 6)}),
        ("Europe/Lisbon", "pt", {date(2026, 4, 3), date(2026, 4, 5)}),
    ],
)
def test_public_holidays_close_whole_days(tmp_path: Path, zone: str, holidays: str, closed: set[date]) -> None:
    """A country's holidays, or those of a part of it, are closed from midnight to midnight of the shop's zone."""
    shop = LEAST_SHOP.replace("Europe/Lisbon", zone) + f'holidays = "{holidays}"\n'
    found = least(tmp_path, "1,Ann,2026-03-06,navy tee,dark,50,front,white,in,ok", shop=shop)
    april = [one for one in found.shop.closures if one.from_at.month == 4 and one.from_at.day < 10]
    assert {one.from_at.date() for one in april} == closed
    assert all((one.to_at.replace(tzinfo=None) - one.from_at.replace(tzinfo=None)).days == 1 for one in april)
    assert all(one.from_at.hour == one.to_at.hour == 0 and one.why and not one.what for one in april)


def test_overtime_on_a_closed_day_is_no_overlap(tmp_path: Path) -> None:
    """A shop may buy overtime on a holiday, in the hours that are normal on other days."""
    files = edited(SHOP_FILE, ('day = "2026-03-04"\nfrom = "16:00"', 'day = "2026-03-10"\nfrom = "08:00"'))
    assert read(tmp_path, files).shop.overtime[0].from_min == 480


def test_overtime_of_other_presses_may_overlap(tmp_path: Path) -> None:
    """Two offers at one time for different presses are two offers."""
    more = '[[overtime]]\nday = "2026-03-04"\nfrom = "17:00"\nto = "20:00"\nprice = 90\npresses = "manual"\n'
    files = with_file(SHOP_FILE, SHOP.replace("[ink.plastisol]", f"{more}\n[ink.plastisol]"))
    assert len(read(tmp_path, files).shop.overtime) == 2


def test_an_evening_may_run_past_midnight(tmp_path: Path) -> None:
    """Overtime that ends after midnight ends the next day."""
    found = read(tmp_path, edited(SHOP_FILE, ('to = "19:00"', 'to = "00:30"')))
    assert (found.shop.overtime[0].from_min, found.shop.overtime[0].to_min) == (960, 1470)


@pytest.mark.parametrize(
    ("files", "expected"),
    [
        (
            {**edited(SHOP_FILE, ('id = "auto-1"', 'id = ""'), ('name = "Big Eight"\n', ""))},
            ['shop.toml:press.1.id: is missing; write it as id = "auto-1"'],
        ),
        (
            {
                **edited(SHOP_FILE, ('"day first"', '"day last"')),
                "orders.csv": ORDERS.replace("2026-03-05", "5/3/2026"),
            },
            ["shop.toml:5:dates: 'day last' is no order of day and month; write day first or month first"],
        ),
        (
            edited(SHOP_FILE, ('"Europe/Lisbon"', '"Lisbon time"')),
            ["shop.toml:2:zone: 'Lisbon time' is no time zone; did you mean Europe/Lisbon?"],
        ),
        (
            {**edited(ORDERS_FILE, ("144,front,", "144,,"))},
            ["orders.csv:2:location: is empty; write it as left chest"],
        ),
        (
            {**edited(ORDERS_FILE, ("4102,Fennick Street Brewery,2026-03-05", "4102,Fennick Street Brewery,soon"))},
            ["orders.csv:2:due: 'soon' is not a date; write it as 2026-02-28"],
        ),
        (
            edited(SHOP_FILE, ('roles = "print, catch, screens, pack"\n', "")),
            ['shop.toml:person.2.roles: is missing; write it as roles = "print, stage"'],
        ),
        (
            edited(SHOP_FILE, ("mesh = 230", 'mesh = "fine"')),
            ["shop.toml:98:frames.2.mesh: 'fine' is not a whole number; write it as 156"],
        ),
        (
            edited(SHOP_FILE, ('name = "Parcel Run"\n', "")),
            ['shop.toml:carrier.1.name: is missing; write it as name = "Parcel Run"'],
        ),
    ],
)
def test_one_slip_is_one_message(tmp_path: Path, files: Files, expected: list[str]) -> None:
    """What fails only because something else is faulty is not told beside it."""
    assert told_of(tmp_path, files) == expected


def test_progress_of_an_order_not_told_in_full_is_odd_and_left_out(tmp_path: Path) -> None:
    """A started run of an order that waits for an answer is neither dropped in silence nor a fault: it is warned of."""
    files = {**edited(ORDERS_FILE, ('"white base, red",?,?', "?,?,?")), "progress.csv": PROGRESS + STARTED}
    found, warnings = read_week_with_warnings(write_folder(tmp_path / "week", files))
    assert [one.order_id for one in found.progress] == ["4102"]
    assert [str(one) for one in warnings] == [
        "progress.csv:3:order: order 4103 is not told in full yet, so this row is not read; "
        "fill in what the order waits for, then it counts"
    ]


def test_faults_of_all_files_come_at_once_and_sorted(tmp_path: Path) -> None:
    """Five files with a fault each give five messages, by file and line."""
    files: Files = {
        "shop.toml": SHOP.replace("heads = 4", "heads = 0"),
        "orders.csv": ORDERS.replace("2026-03-05", "31/02/2026"),
        "designs.csv": "design,rate\nfox,fast\n",
        "screens.csv": SCREENS.replace("old anchor,burned", "old anchor,burnt out"),
        "progress.csv": PROGRESS.replace("14:25,90", "14:25,some"),
    }
    assert [one.split(":")[0] for one in told_of(tmp_path, files)] == [
        "designs.csv",
        "orders.csv",
        "progress.csv",
        "screens.csv",
        "shop.toml",
    ]


def test_what_is_no_week_is_told(tmp_path: Path) -> None:
    """A name that is neither folder nor workbook is told with what a week is."""
    hint = "name a folder with shop.toml and orders.csv, or an .xlsx workbook"
    (tmp_path / "week.txt").write_text("hello")
    for name, told in (("week.txt", "week.txt: is a file"), ("other", "other: is not there")):
        with pytest.raises(InputError) as refused:
            read_week(tmp_path / name)
        assert str(refused.value) == f"{told}; {hint}"


def test_a_folder_in_place_of_a_file_is_told(tmp_path: Path) -> None:
    """A folder called orders.csv cannot be read and says so."""
    files = good_files()
    del files["orders.csv"]
    (write_folder(tmp_path / "week", files) / "orders.csv").mkdir()
    with pytest.raises(InputError) as refused:
        read_week(tmp_path / "week")
    assert str(refused.value) == (
        "orders.csv: cannot be read (is a directory); close it elsewhere, or look at its rights"
    )


def test_the_digest_is_the_same_on_every_system() -> None:
    """Line ends and the mark before a text do not count, nor does the order of files; every other sign does."""
    plain = digest_of({"a.csv": b"x,y\n1,2\n", "b.csv": b"z\n"})
    assert digest_of({"b.csv": b"z\r\n", "a.csv": b"\xef\xbb\xbfx,y\r\n1,2\r\n"}) == plain
    assert digest_of({"a.csv": b"x,y\n1,3\n", "b.csv": b"z\n"}) != plain
    assert digest_of({"a.csv": b"x,y\n1,2\nz\n", "b.csv": b""}) != plain
    assert len(plain) == 64


def test_a_week_has_the_digest_of_its_files(tmp_path: Path) -> None:
    """Files nobody reads do not count; a changed planning moment does."""
    one = read(tmp_path / "one", good_files())
    two = read(tmp_path / "two", {**good_files(), "notes.txt": "hello"})
    three = read(tmp_path / "three", edited(SHOP_FILE, ("2026-03-02 07:00", "2026-03-02 07:30")))
    assert one.digest == two.digest != three.digest


def test_a_large_week_is_read_quickly(tmp_path: Path) -> None:
    """Two thousand rows are read in seconds, so that nobody waits for a check."""
    rows = [f"{n},Ann,2026-03-06,navy tee,dark,50,front,white,in,ok,fox {n % 50}" for n in range(2_000)]
    start = time.perf_counter()
    found = least(tmp_path, *rows)
    assert len(found.imprints) == 2_000
    assert time.perf_counter() - start < 20


def test_far_too_many_faults_are_cut(tmp_path: Path) -> None:
    """A sheet that is wrong in every row is told by its first five hundred faults."""
    rows = "".join(f"{n},Ann,soon,navy tee,dark,many,front,white,in,ok\n" for n in range(400))
    assert len(told_of(tmp_path, {"shop.toml": LEAST_SHOP, "orders.csv": HEAD + rows})) == 500


def test_warnings_come_back_with_the_week(tmp_path: Path) -> None:
    """Warnings do not stand in the way and come sorted."""
    files = edited(ORDERS_FILE, ("late,finish", "late,qqqq"), ("S 20, M 60, L 64", "mostly L"))
    _, warnings = read_week_with_warnings(write_folder(tmp_path / "week", files))
    assert [one.code for one in warnings] == ["unknown_heading", "sizes_unread"]
