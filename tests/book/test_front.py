import csv
import io
import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from typer.testing import CliRunner

from scheduler import api, cli, shop_book
from scheduler.errors import InputError
from tests.book.books import NOW, book_at
from tests.book.planned import announced_book, noted
from tests.inputs.weeks import good_files, write_folder, write_workbook


@pytest.fixture
def book(tmp_path: Path) -> str:
    """The path of an empty book."""
    book_at(tmp_path / "shop.book").close()
    return str(tmp_path / "shop.book")


@pytest.fixture
def week(tmp_path: Path) -> Path:
    """The small good week in a folder."""
    return write_folder(tmp_path / "week", good_files())


def brought(book: str, week: Path, who: str = "Ana", *, instead: bool = False) -> shop_book.Brought:
    """The week brought into the book."""
    return shop_book.bring(book, week, who=who, now=NOW, is_instead=instead)


def contents(folder: Path) -> dict[str, bytes]:
    """The files of a week byte for byte."""
    return {path.name: path.read_bytes() for path in api.week_files(folder)}


def without_digest(path: Path) -> object:
    """Everything a week says."""
    return replace(api.read_week(path), digest="")


def change(path: Path, old: str, new: str) -> None:
    """A file changed in an editor."""
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


def refused(*arguments: Sequence[str]) -> str:
    """The code of the one fault with which something is refused."""
    with pytest.raises(InputError) as fault:
        brought(*arguments)  # type: ignore[arg-type]
    (problem,) = fault.value.problems
    return problem.code


def test_a_folder_comes_out_letter_by_letter(book: str, week: Path, tmp_path: Path) -> None:
    """Files handed out as a folder are those that were brought, with their remarks and spellings."""
    change(week / "shop.toml", "[hours]", "# our usual hours\n[hours]")
    (week / "headings.toml").write_text('[headings]\n"Qty" = "pieces"\n')
    (week / "whatif").mkdir()
    (week / "whatif" / "rush.toml").write_text("# a rush\n")
    brought(book, week)
    shop_book.hand_out(book, tmp_path / "out")
    assert contents(tmp_path / "out") == contents(week)
    for name in ("headings.toml", "whatif/rush.toml"):
        assert (tmp_path / "out" / name).read_bytes() == (week / name).read_bytes()
    change(tmp_path / "out" / "orders.csv", "race day", "rainy day")
    assert brought(book, tmp_path / "out").version == 2


def test_a_workbook_comes_out_letter_by_letter(book: str, tmp_path: Path) -> None:
    """A workbook handed out as a workbook is the one that was brought, its colours and other sheets too."""
    write_workbook(tmp_path / "march.xlsx", good_files())
    brought(book, tmp_path / "march.xlsx")
    shop_book.hand_out(book, tmp_path / "april.xlsx")
    assert (tmp_path / "april.xlsx").read_bytes() == (tmp_path / "march.xlsx").read_bytes()


def test_a_folder_and_a_workbook_say_the_same(book: str, week: Path, tmp_path: Path) -> None:
    """Brought as a folder, handed out as a workbook, brought and handed out as a folder: the week is the same."""
    brought(book, week)
    shop_book.hand_out(book, tmp_path / "week.xlsx")
    assert without_digest(tmp_path / "week.xlsx") == without_digest(week)
    assert brought(book, tmp_path / "week.xlsx").version == 1  # it says nothing new
    second = str(tmp_path / "second.book")
    book_at(Path(second)).close()
    brought(second, tmp_path / "week.xlsx")
    shop_book.hand_out(second, tmp_path / "folder")
    assert without_digest(tmp_path / "folder") == without_digest(week)


@pytest.mark.parametrize("name", ["solo", "midsize", "contract"])
def test_the_three_weeks_go_through_both_forms(book: str, tmp_path: Path, name: str) -> None:
    """Each week of the scenarios says the same after it went through the book as a folder and as a workbook."""
    home = Path(__file__).resolve().parents[2] / "scenarios" / name
    week = write_folder(tmp_path / name, contents(home))
    brought(book, week)
    shop_book.hand_out(book, tmp_path / "out")
    shop_book.hand_out(book, tmp_path / "out.xlsx")
    assert contents(tmp_path / "out") == contents(week)
    assert without_digest(tmp_path / "out.xlsx") == without_digest(week)


def test_what_changed_is_told_and_by_whom(book: str, week: Path) -> None:
    """A client spelled anew is one sentence of the second version, under the name of who brought it."""
    brought(book, week)
    change(week / "orders.csv", "Low Ford Elementary", "Low Ford School")
    found = brought(book, week, "Bruno")
    assert found.version == 2
    assert found.changes == ("orders: 4103 left chest: client is now Low Ford School, was Low Ford Elementary",)
    versions = shop_book.status(book).versions
    assert [(one.who, one.changes) for one in versions] == [("Ana", ()), ("Bruno", found.changes)]


def test_bringing_the_same_again_changes_nothing(book: str, week: Path) -> None:
    """Files that say what the book says make no version."""
    brought(book, week)
    assert brought(book, week).version == 1
    assert len(shop_book.status(book).versions) == 1


def test_two_people_with_the_same_files(book: str, week: Path, tmp_path: Path) -> None:
    """Both take the week home; the second to bring it back is told what the first changed, and nothing is lost."""
    brought(book, week)
    for name in ("ana", "bruno"):
        shop_book.hand_out(book, tmp_path / name)
    change(tmp_path / "ana" / "orders.csv", "race day", "race day!")
    change(tmp_path / "bruno" / "orders.csv", "Low Ford Elementary", "Low Ford School")
    brought(book, tmp_path / "ana")
    with pytest.raises(InputError, match=r"by Ana .*race day!"):
        brought(book, tmp_path / "bruno", "Bruno")
    shop_book.hand_out(book, tmp_path / "anew")
    assert contents(tmp_path / "anew") == contents(tmp_path / "ana")


def test_a_week_from_elsewhere_needs_to_be_meant(book: str, week: Path, tmp_path: Path) -> None:
    """Files that this book did not hand out replace its week only when that is said."""
    brought(book, week)
    other = write_folder(tmp_path / "other", good_files())
    change(other / "orders.csv", "race day", "no race")
    assert refused(book, other) == "changed_meanwhile"
    assert brought(book, other, instead=True).version == 2


def test_files_somebody_changed_are_not_written_over(book: str, week: Path, tmp_path: Path) -> None:
    """Handing out over files that are as they were handed out is fine; over changed or strange ones it is refused."""
    brought(book, week)
    shop_book.hand_out(book, tmp_path / "out")
    shop_book.hand_out(book, tmp_path / "out")
    change(tmp_path / "out" / "orders.csv", "race day", "my own note")
    with pytest.raises(InputError, match="not what this book handed out"):
        shop_book.hand_out(book, tmp_path / "out")
    assert "my own note" in (tmp_path / "out" / "orders.csv").read_text()


def test_a_week_that_cannot_be_stamped_is_brought_all_the_same(book: str, week: Path) -> None:
    """Where the note beside the files cannot be written that is odd and told; the week is in the book."""
    (week / shop_book.bringing.STAMP).mkdir()
    found = brought(book, week)
    assert [one.code for one in found.warnings] == ["cannot_write"]
    assert len(shop_book.status(book).versions) == 1


def test_faulty_files_change_nothing(book: str, week: Path) -> None:
    """A week with faults is refused with all of them, and the book is as it was."""
    brought(book, week)
    change(week / "orders.csv", ",40,left chest", ",forty,left chest")
    change(week / "shop.toml", "heads = 8", 'heads = "many"')
    with pytest.raises(InputError) as fault:
        brought(book, week)
    assert len([one for one in fault.value.problems if not one.is_warning]) == 2
    assert len(shop_book.status(book).versions) == 1


def test_a_backup_brings_everything_back(book: str, week: Path, tmp_path: Path) -> None:
    """After a restore the book says what it said at the backup; what was seen since then is not taken for new."""
    brought(book, week)
    shop_book.back_up(book, tmp_path / "copy.book", NOW)
    before = shop_book.status(book)
    change(week / "orders.csv", "race day", "rainy day")
    brought(book, week, "Bruno")
    shop_book.restore(book, tmp_path / "copy.book")
    assert shop_book.status(book) == before
    assert shop_book.status(str(tmp_path / "copy.book")).versions == before.versions
    assert refused(book, write_folder(tmp_path / "week", contents(week))) == "changed_meanwhile"
    assert brought(book, week, instead=True).version == 3  # 2 was used once
    with pytest.raises(InputError, match="never written over"):
        shop_book.back_up(book, tmp_path / "copy.book", NOW)


def run(*arguments: str) -> tuple[int, str]:
    """Exit code and what is printed."""
    runner = CliRunner()
    done = runner.invoke(cli.app, ["book", *arguments], catch_exceptions=True)
    if isinstance(done.exception, InputError):
        return cli.BAD_INPUT, str(done.exception)
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    return done.exit_code, done.output


def test_the_commands_do_what_they_say(week: Path, tmp_path: Path) -> None:
    """Start, bring, hand out, look at, back up, bring back: each ends with 0 and says what it did."""
    book, copy = str(tmp_path / "shop.book"), str(tmp_path / "copy.book")
    assert run("new", book)[0] == cli.DONE
    assert "no week yet" in run("status", book)[1]
    assert run("bring", book, str(week), "--who", "Ana") == (cli.DONE, "The week is version 1.\n")
    assert run("hand-out", book, str(tmp_path / "out"))[0] == cli.DONE
    assert run("backup", book, copy)[0] == cli.DONE
    assert run("restore", book, copy)[0] == cli.DONE
    code, said = run("status", book)
    assert code == cli.DONE
    assert "Harbour Row Prints, 2 orders" in said
    assert "Ana: brought from week" in said
    assert "The book is sound." in said
    assert json.loads(run("status", book, "--json")[1])["version"] == 1


def test_what_cannot_be_done_is_told_with_code_2(week: Path, tmp_path: Path) -> None:
    """A book that is not there, a place that is taken, a backup that is none: one fault each."""
    book = str(tmp_path / "shop.book")
    for arguments in (("status", book), ("bring", book, str(week)), ("hand-out", book, "x"), ("backup", book, "y")):
        assert run(*arguments)[0] == cli.BAD_INPUT
    run("new", book)
    assert run("new", book)[0] == cli.BAD_INPUT
    assert "holds no week yet" in run("hand-out", book, str(tmp_path / "x"))[1]
    assert run("restore", book, str(week / "shop.toml"))[0] == cli.BAD_INPUT
    assert run("restore", book, str(tmp_path / "nowhere"))[0] == cli.BAD_INPUT


def test_a_damaged_book_is_told_with_code_1(book: str, week: Path) -> None:
    """A book whose links lead nowhere can be read, and its status says that it is damaged."""
    import sqlite3

    brought(book, week)
    with sqlite3.connect(book) as connection:
        connection.execute("DELETE FROM order_names")
    code, said = run("status", book)
    assert code == cli.NO_PLAN
    assert "The book is damaged" in said


def test_planned_announced_and_noted_from_the_command_line(tmp_path: Path) -> None:
    """A plan of the book is kept, announced, what happened is noted, and the next plan tells the dates told before."""
    book = str(tmp_path / "shop.book")
    week = write_folder(tmp_path / "week", good_files())
    for arguments in (("new", book), ("bring", book, str(week), "--who", "Ana")):
        assert run(*arguments)[0] == cli.DONE
    runner = CliRunner()
    first = runner.invoke(cli.app, ["plan", "--book", book, "--seconds", "0.3"])
    assert first.exit_code == cli.DONE, first.output
    assert "Kept as plan 1." in first.output
    assert run("announce", book, "--who", "Ana") == (cli.DONE, "Plan 1 is announced.\n")
    code, said = run("note", book, "done", "4102", "back", "dark", "--at", "2026-03-02 09:00", "--who", "Ben")
    assert (code, said.split(":")[0]) == (cli.DONE, "Number 1")
    again = runner.invoke(
        cli.app,
        ["plan", "--book", book, "--seconds", "0.3", "--now", "2026-03-02 09:05", "--out", str(tmp_path / "out")],
    )
    assert again.exit_code == cli.DONE, again.output
    assert "planned from Mon 2 Mar 2026 09:05" in again.output
    assert "Dates told before" in again.output
    assert (tmp_path / "out" / "plan.json").is_file()
    as_json = runner.invoke(
        cli.app, ["plan", "--book", book, "--seconds", "0.3", "--now", "2026-03-02 09:05", "--json"]
    )
    figures = json.loads(as_json.stdout)
    assert figures["plan_number"] == 3
    assert {one["order"] for one in figures["told_dates"]} <= {"4102", "4103"}
    assert "Plan 3 is announced." in run("announce", book)[1]
    assert "Plan 3 was announced" in run("status", book)[1]
    assert "Ben: number 1: done: 4102 back dark" in run("history", book)[1]


def test_a_week_or_a_book_is_planned(week: Path, book: str) -> None:
    """Neither, both, and a time without a book are refused."""
    for arguments in ([], [str(week), "--book", book], [str(week), "--now", "2026-03-02 09:00"]):
        assert CliRunner().invoke(cli.app, ["plan", *arguments]).exit_code == cli.BAD_INPUT


def test_what_was_noted_stands_beside_a_week_handed_out(tmp_path: Path) -> None:
    """Handed out, a week comes with everything that was noted, undos too, and is brought again without it; text that a
    spreadsheet would run is kept from that. Where nothing was noted there is no such file.
    """
    book = announced_book(tmp_path)
    shop_book.hand_out(book, tmp_path / "copy")
    assert not (tmp_path / "copy" / "happened.csv").exists()
    told = shop_book.announced_plan(book)
    assert told is not None
    run_id = told.plan.runs[0].run_id
    noted(book, "start", run_id, "08:35", who="=Ben")
    noted(book, "spoil", run_id, "09:00", pieces=3, reason="ink")
    noted(book, "undo", "2")
    for place in (tmp_path / "copy", tmp_path / "copy.xlsx"):
        beside = place / "happened.csv" if place.suffix == "" else tmp_path / "copy.happened.csv"
        assert beside in shop_book.hand_out(book, place)
        rows = list(csv.DictReader(io.StringIO(beside.read_text(encoding="utf-8-sig"), newline="")))
        assert [(row["number"], row["what"], row["takes back"]) for row in rows] == [
            ("1", "set-up started", ""),
            ("2", "spoiled", ""),
            ("3", "undone", "2"),
        ]
        assert (rows[0]["who"], rows[0]["about"], rows[1]["pieces"]) == ("'=Ben", run_id, "3")
        again = shop_book.bring(book, place, who="Ana", now=NOW)
        assert (again.version, again.changes) == (1, ())


@pytest.mark.parametrize(("command", "said"), [(["book", "status"], "done"), (["plan", "--book"], "planned")])
def test_a_fault_says_what_did_not_come_about(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path, command: list[str], said: str
) -> None:
    """Where a plan was asked for nothing was planned; elsewhere nothing was done."""
    monkeypatch.setattr("sys.argv", ["pressweek", *command, str(tmp_path / "no.book")])
    with pytest.raises(SystemExit) as left:
        cli.main()
    assert left.value.code == 2
    assert capsys.readouterr().err.splitlines()[-1] == f"1 fault in 1 file; nothing was {said}."
