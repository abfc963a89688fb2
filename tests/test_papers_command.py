"""The command `papers`: everything for the floor in one folder, from a plan file or one made now."""

from __future__ import annotations

from pathlib import Path

import icalendar
import openpyxl
import pytest
from typer.testing import CliRunner

from scheduler import api
from scheduler.cli import app
from scheduler.domain.settings import SearchSettings
from scheduler.errors import InputError
from scheduler.search.engine import plan_week

SOLO = Path(__file__).resolve().parents[1] / "scenarios" / "solo"
runner = CliRunner()


@pytest.fixture(scope="module")
def plan_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A plan file of the one-press week."""
    folder = tmp_path_factory.mktemp("plan")
    inputs = api.read_week(SOLO)
    week = api.build_workload(inputs).week
    result = plan_week(week, SearchSettings(iterations=0))
    assert result.plan is not None
    api.write_plan_folder(folder, week, result.plan, api.plan_facts(week, result))
    return folder / "plan.json"


def test_a_folder_with_everything_for_the_floor(plan_file: Path, tmp_path: Path) -> None:
    """Sheets, lists, workbook and calendars are written, told by name, and open."""
    done = runner.invoke(app, ["papers", str(SOLO), "--plan", str(plan_file), "--out", str(tmp_path / "floor")])
    assert done.exit_code == 0, done.output
    written = sorted(path.name for path in (tmp_path / "floor").iterdir())
    assert written == [
        "frames.html", "garments.html", "ink.html", "leaving.html", "lists.xlsx", "press-press-days.html",
        "press-press-runs.html", "press-press.ics", "ringing.html", "screen-room-days.html", "screen-room.ics",
        "who-is-where.html",
    ]  # fmt: skip
    told = " ".join(done.output.split())
    assert all(name in told for name in written)
    for path in (tmp_path / "floor").glob("*.ics"):
        assert icalendar.Calendar.from_ical(path.read_bytes()).walk("VEVENT")
    book = openpyxl.load_workbook(tmp_path / "floor" / "lists.xlsx")
    assert {"presses by day", "garments", "ink per colour", "leaving"} <= set(book.sheetnames)
    assert "Quillbeck" in (tmp_path / "floor" / "garments.html").read_text(encoding="utf-8")


def test_units_are_taken_from_the_command(plan_file: Path, tmp_path: Path) -> None:
    """`--units metric` puts degrees Celsius first, whatever the shop's settings say."""
    line = ["papers", str(SOLO), "--plan", str(plan_file), "--out", str(tmp_path)]
    assert runner.invoke(app, [*line, "--units", "metric"]).exit_code == 0
    assert "160 °C (320 °F)" in (tmp_path / "press-press-runs.html").read_text(encoding="utf-8")
    assert runner.invoke(app, [*line, "--units", "US"]).exit_code == 0
    assert "320 °F (160 °C)" in (tmp_path / "press-press-runs.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("asked", [["--units", "parsecs"], ["--size", "A5"], []])
def test_what_cannot_be_meant_is_bad_usage(plan_file: Path, tmp_path: Path, asked: list[str]) -> None:
    """Unknown units or sizes, and no folder to write into, end with exit code 2 and nothing written."""
    out = ["--out", str(tmp_path / "floor")] if asked else []
    done = runner.invoke(app, ["papers", str(SOLO), "--plan", str(plan_file), *out, *asked])
    assert done.exit_code == 2
    assert not (tmp_path / "floor").exists()


def test_a_plan_that_is_none_is_told(tmp_path: Path) -> None:
    """A plan file that cannot be read is one sentence of InputError, raised before any paper is written."""
    (tmp_path / "plan.json").write_text("{}", encoding="utf-8")
    done = runner.invoke(
        app, ["papers", str(SOLO), "--plan", str(tmp_path / "plan.json"), "--out", str(tmp_path / "f")]
    )
    assert isinstance(done.exception, InputError)
    assert list((tmp_path / "f").iterdir()) == []


def test_without_a_plan_one_is_made(tmp_path: Path) -> None:
    """No plan file: the week is planned in the seconds given, waiting orders pencilled in, and papers are written."""
    done = runner.invoke(app, ["papers", str(SOLO), "--out", str(tmp_path), "--seconds", "1"])
    assert done.exit_code == 0, done.output
    assert (tmp_path / "press-press-runs.html").is_file()
