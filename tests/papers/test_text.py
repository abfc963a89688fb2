import unicodedata
from datetime import datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from scheduler.papers import words
from scheduler.papers.text import Line, Section, printable, section_text, table_text


def test_a_table_has_a_rule_and_flush_numbers() -> None:
    """Headings stand over a rule, words flush left and numbers flush right, and no line ends in blanks."""
    lines = [Line(cells=("late days", "400.00")), Line(cells=("overtime", "0.00"), under="none was needed")]
    assert table_text(("what", "EUR"), lines, right={1}) == [
        "what          EUR",
        "---------  ------",
        "late days  400.00",
        "overtime     0.00",
        "    none was needed",
    ]


def test_what_is_too_wide_runs_on_below() -> None:
    """A table too wide for the page wraps its widest column and loses no word."""
    words_in = "a client whose name goes on and on until no page could ever hold it in one line at all"
    told = table_text(("order", "client"), [Line(cells=("1042", words_in))], width=40)
    assert max(len(line) for line in told) <= 40
    assert " ".join(" ".join(line.split()) for line in told[2:]).replace("1042 ", "") == words_in


cell = st.text(alphabet=st.characters(codec="utf-8"), max_size=60)


@given(st.lists(st.tuples(cell, cell, cell), min_size=1, max_size=5), cell)
def test_no_line_is_wider_than_the_page(rows: list[tuple[str, str, str]], under: str) -> None:
    """Whatever stands in the cells, no line is longer than the page is wide and none can steer the terminal."""
    told = table_text(("order", "client", "why"), [Line(cells=row, under=under) for row in rows], width=60)
    assert all(len(line) <= 60 for line in told)
    assert not any(unicodedata.category(letter) == "Cc" for line in told for letter in line)


def test_a_client_cannot_steer_the_terminal() -> None:
    """Escape codes, line breaks and marks that turn the writing round are taken out of what people typed."""
    assert printable("Bar\x1b[31m\n\tBaz\u202e\x9b2J") == "Bar?[31m Baz??2J"


def test_accents_and_the_late_mark_stay() -> None:
    """What people need to read stays as it is."""
    assert printable("▲ late 1 day Café São 北") == "▲ late 1 day Café São 北"


def test_sentences_come_before_the_table() -> None:
    """A section's sentences are wrapped and stand before its table."""
    section = Section(title="t", sentences=("one two three four",), headings=("a",), lines=(Line(cells=("x",)),))
    assert section_text(section, width=9) == ["one two", "three", "four", "a", "-", "x"]


def test_money_is_told_in_full() -> None:
    """Cents become money with two places, thousands apart, the currency only where the shop named one."""
    assert [words.money(cents, "EUR") for cents in (0, 5, 123_456, -31_240)] == [
        "0.00 EUR",
        "0.05 EUR",
        "1,234.56 EUR",
        "-312.40 EUR",
    ]
    assert words.money(100) == "1.00"


def test_lengths_of_time_read_as_spoken() -> None:
    """Minutes stay minutes below two hours."""
    assert [words.minutes(count) for count in (0, 45, 119, 120, 125)] == [
        "0 min",
        "45 min",
        "119 min",
        "2 h",
        "2 h 05 min",
    ]


def test_an_end_is_told_as_short_as_is_plain() -> None:
    """The same day needs no day, the next days a weekday, anything further the date."""
    start = datetime(2026, 3, 2, 16, 0)
    ends = [start + timedelta(hours=hours) for hours in (1, 16, 5 * 24, 6 * 24)]
    assert [words.until(start, end) for end in ends] == ["17:00", "Tue 08:00", "Sat 16:00", "Sun 8 Mar 16:00"]


def test_late_is_mark_word_and_how_much() -> None:
    """Lateness is the filled triangle, the word and the days; nothing where nothing is late."""
    assert [words.late(days) for days in (0, 1, 3)] == ["", "▲ late 1 day", "▲ late 3 days"]


def test_names_are_listed_as_spoken() -> None:
    """Names in a row get commas and one "and"."""
    assert [words.listed(names) for names in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == [
        "",
        "a",
        "a and b",
        "a, b and c",
    ]
