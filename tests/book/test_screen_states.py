from pathlib import Path

from typer.testing import CliRunner

from scheduler import api, cli, shop_book
from tests.book.planned import announced_book, noted

NOW = "2026-03-02 12:50"


def states(book: str, now: str = NOW) -> dict[str, str]:
    """How each set stands."""
    return {one.set_id: f"{one.state} {one.press}".strip() for one in shop_book.screens_now(book, now).sets}


def test_screens_stand_as_was_noted(tmp_path: Path) -> None:
    """A set is on its press once its run has started, held as was ticked, and gone once it is reclaimed."""
    book = announced_book(tmp_path)
    kept = shop_book.announced_plan(book)
    assert kept is not None
    week = shop_book.week_of_plan(kept)
    first, second, *_ = sorted(
        (run for run in week.runs if run.set_id and run.set_id not in states(book, "2026-03-02 08:30")),
        key=lambda run: kept.plan.run[run.run_id].set_up_start_tau,
    )
    assert first.set_id is not None
    assert second.set_id is not None
    noted(book, "start", first.run_id, "08:40", press="press")
    noted(book, "screen", second.set_id, "09:00", state="burned")
    assert states(book)[first.set_id] == "on press press"
    assert states(book)[second.set_id] == "burned"
    noted(book, "screen", second.set_id, "09:10", state="held")
    assert states(book)[second.set_id] == "held"
    noted(book, "screen", second.set_id, "09:20", state="reclaimed")
    assert second.set_id not in states(book)
    noted(book, "undo")
    assert states(book)[second.set_id] == "held"


def test_frames_add_up(tmp_path: Path) -> None:
    """Coated, with an image and clean frames are all there are; a broken one is one less, and told."""
    book = announced_book(tmp_path)
    before = shop_book.screens_now(book, NOW).frames
    typed = api.read_week(tmp_path / "solo").shop.frames
    assert [(one.size, one.mesh, one.count) for one in before] == [(one.size, one.mesh, one.count) for one in typed]
    assert all(one.coated + one.with_image + one.clean == one.count and one.broken == 0 for one in before)
    noted(book, "frames", f"{before[0].size} {before[0].mesh}", "09:00", state="broken", pieces=1)
    after = shop_book.screens_now(book, NOW).frames[0]
    assert (after.count, after.broken) == (before[0].count - 1, 1)


def test_the_command_tells_it(tmp_path: Path) -> None:
    """`book screens` prints both tables."""
    book = announced_book(tmp_path)
    done = CliRunner().invoke(cli.app, ["book", "screens", book, "--now", NOW])
    assert done.exit_code == cli.DONE
    assert "Screen sets with their image" in done.output
    assert "with an image" in done.output
