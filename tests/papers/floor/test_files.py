"""File names of the floor's papers: safe on every system, one for each press."""

from __future__ import annotations

import pytest

from scheduler.papers.floor.files import file_stems


@pytest.mark.parametrize(
    ("press_id", "stem"),
    [
        ("auto-1", "press-auto-1"),
        ("../etc/passwd", "press-etc-passwd"),
        ("Größe 8", "press-gr-e-8"),
        ("???", "press-x"),
    ],
)
def test_page_names_are_safe(press_id: str, stem: str) -> None:
    """A press's id never leads out of the folder or into names a system refuses."""
    assert file_stems([press_id]) == {press_id: stem}


def test_two_presses_never_share_a_page() -> None:
    """Ids that come to the same file name are told apart."""
    assert list(file_stems(["a/b", "a b", "A-B"]).values()) == ["press-a-b", "press-a-b-2", "press-a-b-3"]
