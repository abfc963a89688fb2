"""Leads: people who watch presses, and may watch several at once."""

from __future__ import annotations

LEAD = "lead"
"""The one role with a meaning of its own: a lead at a press watches it, and may watch others beside it."""


def is_watched(role: str, place: str) -> bool:
    """True for a lead at a press: a post that leaves the lead free to watch further presses."""
    return role == LEAD and bool(place)


def post_parts(role: str, place: str, lead_covers: int) -> int:
    """Parts of a person that one post takes, where everybody has `lead_covers` parts: a watched press takes one.

    Counting parts is exact as long as whoever leads and does other work too leads on the same presses as every other
    such person, which the reader of the settings asks for: n presses need ceil(n / lead_covers) of them, and n <=
    lead_covers * people says the same in whole numbers.
    """
    return 1 if is_watched(role, place) else lead_covers
