from collections.abc import Callable
from typing import Any

import pytest

from scheduler.domain.orders import Ink
from scheduler.inputs import cells
from scheduler.inputs.cells import PressWish
from scheduler.inputs.faults import CellError, nearest, one_of, quoted


def refused(parse: Callable[[str], Any], text: str) -> str:
    """What is told of a cell that is refused: "message; hint"."""
    with pytest.raises(CellError) as told:
        parse(text)
    return f"{told.value.message}; {told.value.hint}"


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("144", 144),
        (" 144 ", 144),
        ("+12", 12),
        ("12.0", 12),
        ("1,200", 1200),
        ("1 200", 1200),
        ("1'200", 1200),
        ("1\u00a0200", 1200),
        ("1,234,567", 1_234_567),
        ("1.234.567", 1_234_567),
        ("007", 7),
    ],
)
def test_whole_numbers_are_read_however_they_are_grouped(text: str, number: int) -> None:
    """Blanks, a plus, .0 from a spreadsheet and thousands marks that can only be that do no harm."""
    assert cells.whole(most=2_000_000)(text) == number


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("1.200", "'1.200' can be read two ways; write 1200"),
        ("1,20", "'1,20' is not a whole number; write it as 120"),
        ("12.5", "'12.5' is not a whole number; write it as 120"),
        ("twelve", "'twelve' is not a whole number; write it as 120"),
        ("1e3", "'1e3' is not a whole number; write it as 120"),
        ("١٢", "'١٢' is not a whole number; write it as 120"),
        ("--5", "'--5' is not a whole number; write it as 120"),
        ("-5", "'-5' is less than 0; write 0 or more"),
        ("−5", "'−5' is less than 0; write 0 or more"),
        ("1,000,001", "'1,000,001' is more than 1,000,000; write 1000000 or less"),
    ],
)
def test_what_is_no_whole_number_is_refused(text: str, told: str) -> None:
    """Parts of pieces, words, other digits, and numbers that can be read two ways are refused, each in its words."""
    assert refused(cells.whole(), text) == told


@pytest.mark.parametrize(
    ("text", "cents"),
    [
        ("150", 15_000),
        ("12.50", 1_250),
        ("12,50", 1_250),
        ("12,5", 1_250),
        ("€ 12.50", 1_250),
        ("12.50 eur", 1_250),
        ("EUR 12", 1_200),
        ("$5", 500),
        ("1,200", 120_000),
        ("1,200.50", 120_050),
        ("1.200,50", 120_050),
        ("1 200,50", 120_050),
        ("0", 0),
    ],
)
def test_money_is_read_in_whole_cents(text: str, cents: int) -> None:
    """Amounts with point or comma, grouped or not, with the shop's money named before or behind."""
    assert cells.money("EUR")(text) == cents


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a lot", "'a lot' is not an amount of money; write it as 150 or 12.50"),
        ("-5", "'-5' is not an amount of money; write it as 150 or 12.50"),
        ("5 USD", "'5 USD' is not in the shop's money; write the amount alone"),
        ("EUR 5 EUR", "'EUR 5 EUR' is not an amount of money; write it as 150 or 12.50"),
        ("1.200", "'1.200' can be read two ways; write 1200"),
        ("1.2345", "'1.2345' has parts of a cent; write 1.23"),
        ("99999999", "'99999999' is more than 10,000,000; write it as 150 or 12.50"),
    ],
)
def test_what_is_no_money_is_refused(text: str, told: str) -> None:
    """Words, debts, other money and parts of a cent are refused."""
    assert refused(cells.money("EUR"), text) == told


@pytest.mark.parametrize(
    ("text", "number"), [("2", 2.0), ("2.5", 2.5), ("2,5", 2.5), ("2 %", 2.0), ("2.125", 2.125), ("0,125", 0.125)]
)
def test_numbers_may_have_decimals_and_a_percent_sign(text: str, number: float) -> None:
    """Point and comma both mark decimals where only that can be meant."""
    assert cells.number()(text) == number


def test_a_comma_before_three_digits_is_not_guessed() -> None:
    """Where thousandths make sense, "1,200" could be both, so it is refused with both ways to write it."""
    assert refused(cells.number(), "1,200") == "'1,200' can be read two ways; write 1200 or 1.200"


@pytest.mark.parametrize("text", ["yes", "Yes", " Y ", "TRUE", "x", "1"])
def test_yes_has_many_spellings(text: str) -> None:
    """Whatever a shop ticks a box with is a yes."""
    assert cells.yes_no(text) is True


@pytest.mark.parametrize("text", ["no", "N", "false", "0", "-"])
def test_no_has_many_spellings(text: str) -> None:
    """Whatever a shop leaves a box open with is a no."""
    assert cells.yes_no(text) is False


@pytest.mark.parametrize(
    ("text", "inks"),
    [
        ("white, red", (Ink(name="white"), Ink(name="red"))),
        ("white;red", (Ink(name="white"), Ink(name="red"))),
        ("white / red", (Ink(name="white"), Ink(name="red"))),
        ("white x2", (Ink(name="white", hits=2),)),
        ("White X 2, red", (Ink(name="White", hits=2), Ink(name="red"))),
        ("white ×2", (Ink(name="white", hits=2),)),
        ("white base, red", (Ink(name="white base"), Ink(name="red"))),
        ("PMS 186, Pantone  300 C", (Ink(name="PMS 186"), Ink(name="Pantone 300 C"))),
        ("x2", (Ink(name="x2"),)),
        ("red, , white", (Ink(name="red"), Ink(name="white"))),
        ("white, red, white", (Ink(name="white"), Ink(name="red"), Ink(name="white"))),
    ],
)
def test_inks_keep_their_print_order(text: str, inks: tuple[Ink, ...]) -> None:
    """The order of the inks is law; "x2" is two hits, numbers of colour books are part of the name."""
    assert cells.inks(text) == inks


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (",", "',' names no ink; write them in print order, as white, red"),
        ("red, white base", "'white base' does not come first; write the underbase first, as white base, red"),
        ("underbase", "'underbase' is an underbase alone; write what is printed on it as well"),
        ("white x0", "'white x0' asks for 0 hits; write 1 to 4 hits, as white x2"),
        (", ".join(f"ink {n}" for n in range(25)), "25 inks are more than any press has; write at most 24"),
    ],
)
def test_inks_that_cannot_be_are_refused(text: str, told: str) -> None:
    """No ink, an underbase on top or alone, hits that cannot be and far too many inks are refused."""
    assert refused(cells.inks, text) == told


@pytest.mark.parametrize(
    ("text", "wish"),
    [
        ("auto-1", PressWish(allowed=("auto-1",))),
        ("auto-1, manual", PressWish(allowed=("auto-1", "manual"))),
        ("auto-1!", PressWish(preferred=("auto-1",))),
        ("auto-1 !, manual", PressWish(allowed=("auto-1", "manual"), preferred=("auto-1",))),
        ("not manual", PressWish(never=("manual",))),
        ("auto-1!, Not manual", PressWish(preferred=("auto-1",), never=("manual",))),
        ("none", PressWish()),
    ],
)
def test_press_wishes_allow_like_and_refuse(text: str, wish: PressWish) -> None:
    """Named presses are the only ones allowed; "!" alone is a liking that rules nothing out; "not" rules one out."""
    assert cells.press_wish(text) == wish


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("auto-1, not AUTO-1", "press 'AUTO-1' is allowed and refused; write it once"),
        ("!", "'!' leaves a press without a name; write it as auto-1!, not manual"),
    ],
)
def test_press_wishes_that_cannot_be_are_refused(text: str, told: str) -> None:
    """A press both allowed and refused, and a mark without a press, are refused."""
    assert refused(cells.press_wish, text) == told


@pytest.mark.parametrize(
    ("text", "crew"),
    [
        ("print 1, catch 1", (("print", 1), ("catch", 1))),
        ("Print", (("print", 1),)),
        ("2 catch", (("catch", 2),)),
        ("shift lead 1", (("shift lead", 1),)),
        ("none", ()),
        ("print 0", ()),
    ],
)
def test_crews_are_roles_and_numbers(text: str, crew: tuple[tuple[str, int], ...]) -> None:
    """A role without a number is one person; "none" is nobody."""
    assert cells.crew(text) == crew


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("1", "'1' is no role with a number of people; write roles and how many, as print 1, catch 1"),
        ("1 print 2", "'1 print 2' is no role with a number of people; write roles and how many, as print 1, catch 1"),
        ("print 1, Print 2", "role 'print' stands here twice; write print once, with the number"),
    ],
)
def test_crews_that_cannot_be_are_refused(text: str, told: str) -> None:
    """A number alone, two numbers and a role named twice are refused."""
    assert refused(cells.crew, text) == told


def test_names_lose_doubled_blanks_and_repetitions() -> None:
    """A name typed twice in one list counts once, whatever its case, and blanks within it are tidied."""
    assert cells.names(" auto-1 ;  AUTO-1, big  eight,, ") == ("auto-1", "big eight")


def test_meshes_are_one_or_one_per_ink() -> None:
    """Threads per inch with commas between."""
    assert cells.meshes("156") == (156,)
    assert cells.meshes("156, 230;230") == (156, 230, 230)
    assert refused(cells.meshes, "5") == "'5' is less than 10; write 10 or more"


def test_known_names_are_found_whatever_their_case() -> None:
    """A name comes out as its own entry spells it; an unknown one is refused with what is nearest or all there are."""
    read = cells.known_name({"auto-1": "auto-1", "manual": "Manual"}, "press of the shop")
    assert read(" MANUAL ") == "Manual"
    assert refused(read, "manuel") == "'manuel' is no press of the shop; did you mean Manual?"
    assert refused(read, "99") == "'99' is no press of the shop; write auto-1 or Manual"


def test_long_values_are_shortened_in_messages() -> None:
    """A message quotes at most sixty letters of a value and never a line break."""
    assert quoted("a\nb") == "'a b'"
    assert len(quoted("x" * 500)) == 62


def test_nearest_needs_some_likeness() -> None:
    """A name that looks like nothing known gets no guess."""
    assert nearest("Pices", ["pieces", "location"]) == "pieces"
    assert nearest("qqq", ["pieces", "location"]) is None
    assert nearest("anything", []) is None


def test_hints_name_what_there_is() -> None:
    """One name, several, many and none each make a sentence."""
    assert one_of(["a"]) == "write a"
    assert one_of(["a", "b", "c"]) == "write a, b or c"
    assert one_of([str(n) for n in range(9)]) == "write one of 0, 1, 2, 3, 4, 5, 6, 7, …"
    assert one_of([]) == "there is none yet"
