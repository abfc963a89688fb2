"""Splits a planner typed: the garments of a print location dealt out to runs of their own.

Where one location of an order is split, its garments are cut at the same places for every location, so that garments of
one lot are still in one place at a time, and those of another share may be elsewhere.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import accumulate, pairwise

from scheduler.domain.orders import Imprint, Lot
from scheduler.inputs.faults import quoted
from scheduler.inputs.orders_sheet import OrdersSheet
from scheduler.inputs.sizes import cut_sizes
from scheduler.inputs.typed_rows import TypedRow

Split = tuple[tuple[int, ...], int]
"""Pieces of each run, and sets of screens; no pieces where nothing is split."""
NOT_SPLIT: Split = ((), 1)


def checked_split(sheet: OrdersSheet, rows: Sequence[TypedRow], lots: Sequence[Lot]) -> Split:
    """What the rows of one print location say of its split; what cannot be is noted as a fault."""
    table = sheet.table
    row = next((row for row in rows if "split" in row.values), None)
    of_sets = next((row for row in rows if "split_sets" in row.values), None)
    if row is None:
        if of_sets is not None and of_sets.values["split_sets"] > 1 and not table.is_faulty(rows, "split"):
            hint = "write the pieces of each run under split, as 600+400, or leave split sets empty"
            table.fault(of_sets, "split_sets", "sets_without_split", "several sets for one run", hint)
        return NOT_SPLIT
    pieces: tuple[int, ...] = row.values["split"]
    sets: int = of_sets.values["split_sets"] if of_sets else 1
    if of_sets and sets > len(pieces):
        message = f"{sets} sets of screens are more than its {len(pieces)} runs"
        table.fault(of_sets, "split_sets", "too_many_sets", message, f"write {len(pieces)} or less")
        return NOT_SPLIT
    is_told = not table.is_faulty(rows, "pieces") and not {lot.lot_id for lot in lots} & sheet.untold_lots
    ordered = sum(lot.pieces for lot in lots)
    if is_told and sum(pieces) != ordered:
        message = f"{quoted(row.texts['split'])} makes {sum(pieces)} pieces, not {ordered}"
        table.fault(row, "split", "split_does_not_sum", message, "correct the split or the pieces")
    return (pieces, sets) if is_told and sum(pieces) == ordered else NOT_SPLIT


def cut_lots(
    lots: Sequence[Lot], imprints: Sequence[Imprint], splits: Sequence[Split]
) -> tuple[tuple[Lot, ...], list[Imprint]]:
    """An order's lots cut wherever one of its locations is split, and its imprints on the shares.

    splits: one per imprint. Without a split everything stays as it is.
    """
    known = {lot.lot_id: lot for lot in lots}
    cuts: dict[str, set[int]] = {lot.lot_id: set() for lot in lots}
    for imprint, (pieces, _) in zip(imprints, splits, strict=True):
        start = 0
        ends = set(accumulate(pieces))
        for lot_id in imprint.lot_ids if pieces else ():
            cuts[lot_id] |= {end - start for end in ends if start < end < start + known[lot_id].pieces}
            start += known[lot_id].pieces
    shares = {lot_id: _shares(known[lot_id], sorted(at)) for lot_id, at in cuts.items()}
    found = [
        _on_shares(imprint, split, shares) if set(imprint.lot_ids) <= set(shares) else imprint
        for imprint, split in zip(imprints, splits, strict=True)
    ]
    return tuple(share for own in shares.values() for share in own), found


def _shares(lot: Lot, cuts: Sequence[int]) -> tuple[Lot, ...]:
    """A lot cut after so many pieces; sizes go to the shares in the order they are typed in."""
    if not cuts:
        return (lot,)
    pieces = [end - start for start, end in pairwise((0, *cuts, lot.pieces))]
    return tuple(
        replace(
            lot,
            lot_id=f"{lot.lot_id} ({number} of {len(pieces)})",
            pieces=count,
            sizes=sizes or lot.sizes,
            share=sizes or f"{number} of {len(pieces)}",
        )
        for number, (count, sizes) in enumerate(zip(pieces, cut_sizes(lot.sizes, pieces), strict=True), start=1)
    )


def _on_shares(imprint: Imprint, split: Split, shares: Mapping[str, Sequence[Lot]]) -> Imprint:
    pieces, sets = split
    own = [share for lot_id in imprint.lot_ids for share in shares[lot_id]]
    runs: list[tuple[str, ...]] = []
    ends = list(accumulate(pieces))
    done = 0
    current: list[str] = []
    for share in own if pieces else ():
        done += share.pieces
        current.append(share.lot_id)
        if done == ends[len(runs)]:
            runs.append(tuple(current))
            current = []
    return replace(imprint, lot_ids=tuple(share.lot_id for share in own), split=tuple(runs), split_sets=sets)
