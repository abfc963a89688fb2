from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from scheduler import shop_book
from scheduler.errors import InputError
from scheduler.record.events import Done, SetUpStarted, Undone, that_count
from tests.book.planned import CLOCK, announced_book, noted

RUN = "312 front light"


@pytest.fixture(scope="module")
def announced(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A book with an announced plan, to be copied."""
    return Path(announced_book(tmp_path_factory.mktemp("announced"))).read_bytes()


@pytest.fixture
def book(announced: bytes, tmp_path: Path) -> str:
    """A book of one's own with an announced plan."""
    (tmp_path / "shop.book").write_bytes(announced)
    return str(tmp_path / "shop.book")


def codes(book: str, word: str, *arguments: str, **more: Any) -> list[str]:
    """The faults with which something said is refused."""
    with pytest.raises(InputError) as refused:
        noted(book, word, *arguments, **more)
    return [one.code for one in refused.value.problems]


def test_what_is_noted_comes_back(book: str) -> None:
    """Events are read back as they were noted, numbered from 1 in that order, each with when and who."""
    started = noted(book, "start", "312 Front  Light", "08:35", who="Ben")
    done = noted(book, "done", RUN, "2026-03-02 12:40", who="Cy", pieces=70)
    assert started == SetUpStarted(at=datetime(2026, 3, 2, 8, 35), who="Ben", number=1, run_id=RUN, press_id="press")
    assert done == Done(at=datetime(2026, 3, 2, 12, 40), who="Cy", number=2, run_id=RUN, pieces=70)
    assert shop_book.events_of(book) == (started, done)


def test_every_word_can_be_noted(book: str) -> None:
    """Each word makes its kind of event, and each comes back as it was noted."""
    kept = shop_book.announced_plan(book)
    assert kept is not None
    week = shop_book.week_of_plan(kept)
    made = [
        noted(book, "start", RUN, "08:35"),
        noted(book, "right", RUN, "08:50"),
        noted(book, "stop", RUN, "09:00", reason="squeegee torn"),
        noted(book, "on", RUN, "09:10"),
        noted(book, "count", RUN, "09:20", pieces=30),
        noted(book, "spoil", RUN, "09:21", pieces=1, reason="lint"),
        noted(book, "done", RUN, "09:40"),
        noted(book, "screen", week.sets[0].set_id, state="burned"),
        noted(book, "frames", week.frames[0].class_id, pieces=4),
        noted(book, "dryer", next(press.dryer_id for press in week.presses) or "", state="not right"),
        noted(book, "packed", "312"),
        noted(book, "undo"),
    ]
    assert {type(one) for one in made} == {kind for kind, _ in shop_book.WORDS.values()}
    assert shop_book.events_of(book) == tuple(made)
    assert [one.number for one in made] == list(range(1, 13))
    assert all(shop_book.event_text(one) for one in made)


def test_an_undo_is_an_event_too(book: str) -> None:
    """Taking back leaves both in the book; what was taken back does not count, and can be noted anew."""
    noted(book, "start", RUN, "08:35")
    undo = noted(book, "undo")
    assert isinstance(undo, Undone)
    assert undo.undone == 1
    assert len(shop_book.events_of(book)) == 2
    assert that_count(shop_book.events_of(book)) == ()
    noted(book, "start", RUN, "08:36")
    assert [one.number for one in that_count(shop_book.events_of(book))] == [3]


def test_an_undo_can_be_undone(book: str) -> None:
    """An undo taken back makes the event count again; neither can be taken back twice."""
    noted(book, "start", RUN, "08:35")
    noted(book, "undo", "1")
    assert codes(book, "undo", "1") == ["taken_back"]
    noted(book, "undo", "2")
    assert [one.number for one in that_count(shop_book.events_of(book))] == [1]
    assert codes(book, "undo", "2") == ["taken_back"]
    noted(book, "undo", "1")
    assert that_count(shop_book.events_of(book)) == ()


def test_the_second_to_note_hears_of_the_first(book: str) -> None:
    """A start noted by somebody already is refused with his name; the same of another run is not."""
    noted(book, "start", RUN, "08:35", who="Ben")
    with pytest.raises(InputError, match="Ben noted 'set-up started' of 312 front light"):
        noted(book, "start", RUN, "08:40", who="Cy")
    noted(book, "start", "315 front light", "08:40", who="Cy")
    noted(book, "count", RUN, pieces=3)
    noted(book, "count", RUN, pieces=5)
    assert len(shop_book.events_of(book)) == 4


def test_what_was_not_looked_at_is_told_first(book: str) -> None:
    """A note made on a page that does not show the last event of its run is refused; one of another run is not."""
    noted(book, "start", RUN, "08:35")
    done = Done(at=datetime(2026, 3, 2, 9, 0), who="Cy", run_id=RUN)
    with pytest.raises(InputError, match="set-up started"):
        shop_book.note_event(book, done, now=CLOCK, seen=0)
    other = Done(at=datetime(2026, 3, 2, 9, 0), who="Cy", run_id="315 front light")
    shop_book.note_event(book, other, now=CLOCK, seen=0)
    shop_book.note_event(book, done, now=CLOCK, seen=1)
    assert len(shop_book.events_of(book)) == 3


def test_faults_of_what_is_said_are_told_all_at_once(book: str) -> None:
    """An unknown word, run, press, state, moment or number of pieces is each told with what to write instead."""
    assert codes(book, "begin") == ["no_such_word"]
    assert codes(book, "start", "999 front", press="foo") == ["no_such_press", "no_such_name"]
    assert codes(book, "start", "311") == ["no_such_name"]  # two runs begin like this
    assert codes(book, "start") == ["no_such_name"]
    assert codes(book, "count", RUN) == ["needed"]
    assert codes(book, "done", RUN, pieces=-1) == ["negative"]
    assert codes(book, "done", RUN, pieces=1_000_001) == ["too_many"]
    assert codes(book, "done", RUN, "13:00") == ["not_yet"]
    assert codes(book, "done", RUN, "noonish") == ["not_a_date"]
    assert codes(book, "undo") == ["nothing_noted"]
    assert codes(book, "undo", "one") == ["no_number"]
    assert codes(book, "undo", "7") == ["no_event"]
    assert shop_book.events_of(book) == ()


def test_a_run_begun_by_its_name_is_found(book: str) -> None:
    """The order's number is enough where the order has one run."""
    assert noted(book, "done", "312").run_id == RUN  # type: ignore[attr-defined]


def test_history_tells_who_did_what(book: str) -> None:
    """Bringing, planning, announcing, noting and taking back stand there in order, with names."""
    noted(book, "start", RUN, "08:35", who="Ben")
    noted(book, "undo", who="Cy")
    lines = [(one.who, one.what.split(",")[0].split(":")[0]) for one in shop_book.history(book)]
    assert lines[0] == ("Ana", "week 1")
    assert set(lines[1:3]) == {("Ana", "plan 1 made"), ("Ana", "plan 1 announced")}
    assert lines[3:] == [("Ben", "number 1"), ("Cy", "number 2")]


def test_what_is_printed_stays_in_view_until_it_is_packed(book: str) -> None:
    """An order whose last print is done leaves the plan and is told as one to pack, with its day; a minute before it is
    not, packed it is no more, and taken back it is again.
    """
    told = shop_book.announced_plan(book)
    assert told is not None
    first = min(told.plan.runs, key=lambda one: one.set_up_start_tau)
    order_id = shop_book.week_of_plan(told).run[first.run_id].order_id
    noted(book, "start", first.run_id, "08:40")
    noted(book, "done", first.run_id, "10:25")

    def to_pack(now: str) -> list[str]:
        asked = shop_book.question(book, f"2026-03-02 {now}")
        assert asked.stands is not None
        return [one.order.order_id for one in asked.stands.to_pack]

    asked = shop_book.question(book, "2026-03-02 10:25")
    assert asked.stands is not None
    (one,) = asked.stands.to_pack
    lots = [lot for lot in asked.inputs.lots if lot.order_id == order_id]
    assert (one.order.order_id, one.pieces) == (order_id, sum(lot.pieces for lot in lots))
    assert order_id not in asked.workload.week.order
    assert to_pack("10:24") == []
    section = shop_book.to_pack_section(asked.stands.to_pack, asked.stands.now)
    assert section is not None
    assert section.lines[0].cells[0] == order_id
    assert section.lines[0].cells[-1] == ""
    late = shop_book.to_pack_section(asked.stands.to_pack, asked.stands.now + timedelta(days=60))
    assert late is not None
    assert late.lines[0].cells[-1].endswith("late")
    event = noted(book, "packed", order_id, "10:30")
    assert to_pack("10:40") == []
    noted(book, "undo", str(event.number))
    assert to_pack("10:40") == [order_id]


def test_a_press_that_is_gone_is_told_where_it_is_typed(tmp_path: Path) -> None:
    """A run on a press whose id was typed anew: the fault points at the settings; once it is done, nothing hinders."""
    book = announced_book(tmp_path)
    told = shop_book.announced_plan(book)
    assert told is not None
    first = min(told.plan.runs, key=lambda one: one.set_up_start_tau)
    noted(book, "start", first.run_id, "08:40")
    settings = tmp_path / "solo" / "shop.toml"
    text = settings.read_text(encoding="utf-8").replace('id = "press"', 'id = "big one"')
    settings.write_text(text, encoding="utf-8")
    shop_book.bring(book, tmp_path / "solo", who="Ana", now=CLOCK)
    with pytest.raises(InputError) as fault:
        shop_book.question(book, CLOCK)
    (problem,) = fault.value.problems
    assert (problem.file, problem.column) == ("shop.toml", "press.id")
    assert "'press' is no press of the shop" in problem.message
    noted(book, "done", first.run_id, "10:25")
    assert shop_book.question(book, CLOCK).workload.week.runs
