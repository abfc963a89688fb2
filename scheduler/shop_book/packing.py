"""What is printed and still has to be packed: in view until somebody notes it, with the day it has to leave."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from datetime import datetime

    from scheduler import api
    from scheduler.record.to_pack import ToPack

DUE_WORDS = {"leaves": "leaves", "in_hands": "in hands"}


def to_pack_section(found: Iterable[ToPack], now: datetime) -> api.Section | None:
    """Orders printed and not noted as packed, a line each; None where there is none."""
    from scheduler.papers.text import Line, Section
    from scheduler.papers.words import LATE_MARK, counted, day_and_time

    lines = tuple(
        Line(
            cells=(
                one.order.order_id,
                one.order.client,
                day_and_time(one.printed_at),
                counted(one.pieces, "piece"),
                f"{DUE_WORDS[one.order.due_kind]} {one.due.strftime('%a')} {one.due.day} {one.due.strftime('%b')}",
                f"{LATE_MARK} late" if one.due < now.date() else "",
            )
        )
        for one in found
    )
    if not lines:
        return None
    return Section(
        title="Printed, to pack",
        sentences=("Note each that is packed: pressweek book note BOOK packed ORDER",),
        headings=("order", "client", "printed", "garments", "due", "late"),
        lines=lines,
    )


def to_pack_figures(found: Iterable[ToPack]) -> list[dict[str, Any]]:
    """The same for other programs."""
    return [
        {
            "order": one.order.order_id,
            "printed": one.printed_at.isoformat(),
            "pieces": one.pieces,
            "due": one.due.isoformat(),
            "due_kind": one.order.due_kind,
        }
        for one in found
    ]
