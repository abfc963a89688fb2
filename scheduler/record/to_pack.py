"""Orders that are printed but not packed: no plan has them any more, and their day still has to be kept."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from scheduler.domain.orders import Order
from scheduler.record.events import Event, Packed
from scheduler.record.runs_now import RunNow
from scheduler.workload.runs import RunDraft, drafts_by_order


@dataclass(frozen=True, slots=True, kw_only=True)
class ToPack:
    """An order all of whose prints are done. pieces: garments, each counted once however many prints it carries."""

    order: Order
    printed_at: datetime
    pieces: int

    @property
    def due(self) -> date:
        """The day it has to leave, or to be there."""
        return self.order.due_at.date() if isinstance(self.order.due_at, datetime) else self.order.due_at


def to_pack(
    drafts: Iterable[RunDraft], runs: Mapping[str, RunNow], events: Iterable[Event], now: datetime
) -> tuple[ToPack, ...]:
    """Orders printed by now and not noted as packed, those due first first."""
    packed = {one.order_id for one in events if isinstance(one, Packed)}
    found = []
    for own in drafts_by_order(tuple(drafts)).values():
        order = own[0].order
        ends = [runs[draft.run_id].done_at for draft in own if draft.run_id in runs]
        printed = [at for at in ends if at is not None and at <= now]
        if order.order_id in packed or not printed or len(printed) < len(own):
            continue
        lots = {part.lot_id: part.pieces for draft in own for part in draft.parts}
        found.append(ToPack(order=order, printed_at=max(printed), pieces=sum(lots.values())))
    return tuple(sorted(found, key=lambda one: (one.due, one.order.order_id)))
