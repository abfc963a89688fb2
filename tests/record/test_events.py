"""Events from the floor: what counts after somebody took something back."""

from datetime import datetime

from scheduler.record.events import KINDS, Done, SetUpStarted, Undone, that_count


def at(hour: int, minute: int = 0) -> datetime:
    """A moment of one Monday."""
    return datetime(2026, 3, 2, hour, minute)


START = SetUpStarted(at=at(8), number=1, run_id="A front", press_id="auto")
DONE = Done(at=at(9), number=2, run_id="A front")


def test_what_was_taken_back_does_not_count() -> None:
    """An event that was undone is gone, the others stay in the order they happened."""
    assert that_count((START, DONE, Undone(at=at(9, 1), number=3, undone=2))) == (START,)


def test_an_undo_can_be_undone() -> None:
    """Taking back a taking back brings the event back."""
    undo = Undone(at=at(9, 1), number=3, undone=2)
    assert that_count((START, DONE, undo, Undone(at=at(9, 2), number=4, undone=3))) == (START, DONE)


def test_events_come_as_they_happened_not_as_they_were_noted() -> None:
    """A start noted late, after the end of the run, still comes before it; in one minute the later note comes later."""
    late = SetUpStarted(at=at(8), number=3, run_id="A front", press_id="auto")
    assert that_count((DONE, late)) == (late, DONE)
    same_minute = Done(at=at(8), number=4, run_id="A front")
    assert that_count((same_minute, late)) == (late, same_minute)


def test_only_a_named_event_is_taken_back() -> None:
    """Events not noted yet have no number, and no undo takes them for its own."""
    plain = SetUpStarted(at=at(8), run_id="A front", press_id="auto")
    assert that_count((plain, Undone(at=at(9), number=1, undone=0))) == (plain,)


def test_every_kind_has_its_own_name() -> None:
    """Kinds are kept under different names, none of them empty."""
    assert all(KINDS)
    assert len(set(KINDS.values())) == len(KINDS)
