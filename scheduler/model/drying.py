"""Drying on the shop axis: wall minutes go by at night, shop minutes do not."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from scheduler.domain.clock import ShopClock


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """Work that ends in [first_tau, last_tau] is dry at `dry_tau`; if `is_moving`, at its end plus `dry_tau`."""

    first_tau: int
    last_tau: int
    dry_tau: int
    is_moving: bool


@lru_cache(maxsize=16)
def drying_pieces(clock: ShopClock, dry_min: int) -> tuple[Piece, ...]:
    """`clock.tau_after(end, dry_min)` for every end on the axis, as pieces that stand still or move with the end."""
    dry = [clock.tau_after(end, dry_min) for end in range(clock.horizon_tau + 1)]
    pieces: list[Piece] = []
    first = 0
    while first < len(dry):
        step = dry[first + 1] - dry[first] if first + 1 < len(dry) else 0
        last = first
        while step in (0, 1) and last + 1 < len(dry) and dry[last + 1] - dry[last] == step:
            last += 1
        is_moving = step == 1
        pieces.append(
            Piece(
                first_tau=first,
                last_tau=last,
                dry_tau=dry[first] - first if is_moving else dry[first],
                is_moving=is_moving,
            )
        )
        first = last + 1
    return tuple(pieces)
