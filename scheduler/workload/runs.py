"""Grouping: which garments of which print locations are printed in one go, and how many pieces."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property

from scheduler.domain.orders import DesignRecord, Imprint, Lot, Order, WeekInputs
from scheduler.domain.week import Part
from scheduler.errors import Problem
from scheduler.trade.spoilage import start_quantity
from scheduler.workload.assumptions import Notes
from scheduler.workload.inks import InkShelf
from scheduler.workload.layers import Layer, Layering
from scheduler.workload.spans import Days


@dataclass(frozen=True, kw_only=True)
class RunDraft:
    """A run before it is known where it fits.

    lots, parts: in the order they are printed. imprint_pieces: pieces of all runs of this imprint together.
    arrives: when the last of its garments is there, None if they are in.
    """

    run_id: str
    order: Order
    imprint: Imprint
    design: DesignRecord | None
    shade: str
    lots: tuple[Lot, ...]
    parts: tuple[Part, ...]
    layers: tuple[Layer, ...]
    imprint_pieces: int
    arrives: datetime | None

    @property
    def pieces(self) -> int:
        """Pieces in all parts."""
        return sum(part.pieces for part in self.parts)


def pieces_to_print(lot: Lot, spare_pct: float, notes: Notes) -> int:
    """What was counted in; else what was ordered plus the shop's spares. Goods from the client: never spares."""
    if lot.is_counted or lot.from_client or not spare_pct:
        return lot.pieces
    planned = start_quantity(lot.pieces, spare_pct)
    notes.add("spares", f"{spare_pct:g} % spares printed", "garment lots", where=lot.lot_id)
    return planned


def draft_runs(inputs: WeekInputs, shelf: InkShelf, days: Days, notes: Notes) -> tuple[RunDraft, ...]:
    """Runs of every order in file order: one per print location, shade and arrival.

    Several garments of one shade that are there at the same time are one run; light and dark are two. A location that
    the planner split has such runs for each of its shares, which take turns with its sets of screens.
    """
    drafting = _Drafting(
        inputs=inputs,
        shelf=shelf,
        days=days,
        notes=notes,
        lots={lot.lot_id: lot for lot in inputs.lots},
        pieces={lot.lot_id: pieces_to_print(lot, inputs.shop.defaults.spare_pct, notes) for lot in inputs.lots},
        designs={design.design_id: design for design in inputs.designs},
    )
    imprints = imprints_by_order(inputs)
    drafts = [
        draft
        for order in inputs.orders
        for imprint in imprints.get(order.order_id, ())
        for draft in drafting.of(order, imprint)
    ]
    return _numbered(drafts)


def _numbered(drafts: list[RunDraft]) -> tuple[RunDraft, ...]:
    """The drafts with a number behind the name from the second of one name on."""
    seen: Counter[str] = Counter()
    found = []
    for draft in drafts:
        seen[draft.run_id] += 1
        count = seen[draft.run_id]
        found.append(draft if count == 1 else replace(draft, run_id=f"{draft.run_id} {count}"))
    return tuple(found)


@dataclass(frozen=True, kw_only=True)
class _Drafting:
    """Drafts the runs of one print location after the other."""

    inputs: WeekInputs
    shelf: InkShelf
    days: Days
    notes: Notes
    lots: Mapping[str, Lot]
    pieces: Mapping[str, int]
    designs: Mapping[str, DesignRecord]

    @cached_property
    def _shades(self) -> Mapping[str, set[str]]:
        """Shades each design is printed on this week."""
        found: dict[str, set[str]] = {}
        for imprint in self.inputs.imprints:
            shades = found.setdefault(imprint.design_id, set())
            shades.update(self.lots[lot_id].shade for lot_id in imprint.lot_ids)
        return found

    def of(self, order: Order, typed: Imprint) -> list[RunDraft]:
        """The runs of one print location, named by order, location and shade."""
        design = self.designs.get(typed.design_id)
        imprint = _with_remembered_inks(typed, design)
        sets, shares = imprint.set_names, imprint.split or (imprint.lot_ids,)
        turns = imprint.share_sets or tuple(number % len(sets) for number in range(len(shares)))
        return [
            draft
            for turn, lot_ids in zip(turns, shares, strict=True)
            for draft in self._share(order, imprint, design, sets[turn], lot_ids)
        ]

    def _share(
        self, order: Order, whole: Imprint, design: DesignRecord | None, set_name: str, lot_ids: tuple[str, ...]
    ) -> list[RunDraft]:
        """The runs on some garments of a print location, printed from one set of screens."""
        # A further set of screens is a design of its own to the screen room and to the heads of a press.
        imprint = whole if set_name == whole.design_id else replace(whole, design_id=set_name)
        is_on_both_shades = len(self._shades[whole.design_id]) > 1
        return [
            RunDraft(
                run_id=f"{order.order_id} {imprint.location} {shade}",
                order=order,
                imprint=imprint,
                design=design,
                shade=shade,
                lots=tuple(group),
                parts=tuple(
                    Part(lot_id=lot.lot_id, garment=_shown(lot), pieces=self.pieces[lot.lot_id], kind=lot.kind)
                    for lot in group
                ),
                layers=self._layering(imprint, shade, is_on_both_shades=is_on_both_shades).layers(),
                imprint_pieces=sum(self.pieces[lot_id] for lot_id in imprint.lot_ids),
                arrives=arrives,
            )
            for (shade, arrives), group in _groups([self.lots[lot_id] for lot_id in lot_ids], self.days).items()
        ]

    def _layering(self, imprint: Imprint, shade: str, *, is_on_both_shades: bool) -> Layering:
        return Layering(
            shelf=self.shelf,
            notes=self.notes,
            imprint=imprint,
            shade=shade,
            is_on_both_shades=is_on_both_shades,
        )


def _shown(lot: Lot) -> str:
    """The garment in words, and which of them where they are dealt out to several runs."""
    return f"{lot.garment} ({lot.share})" if lot.share else lot.garment


def _with_remembered_inks(imprint: Imprint, design: DesignRecord | None) -> Imprint:
    """The imprint, in the inks remembered with its design where none were typed."""
    if imprint.inks or design is None:
        return imprint
    return replace(imprint, inks=design.inks)


def _groups(lots: list[Lot], days: Days) -> dict[tuple[str, datetime | None], list[Lot]]:
    """Lots by shade and arrival: dark before light, what is in before what comes, else as typed."""
    found: dict[tuple[str, datetime | None], list[Lot]] = {}
    ordered = sorted(lots, key=lambda lot: (lot.shade, _arrival_wall(lot, days)))
    for lot in ordered:
        arrives = lot.blanks_at if _arrival_wall(lot, days) else None
        found.setdefault((lot.shade, arrives), []).append(lot)
    return found


def _arrival_wall(lot: Lot, days: Days) -> int:
    """Wall minute at which the garments come; 0 if they are in, or should be by now."""
    return 0 if lot.blanks_at is None else max(0, days.wall(lot.blanks_at))


def imprints_by_order(inputs: WeekInputs) -> dict[str, list[Imprint]]:
    """Print locations of each order, in file order."""
    found: dict[str, list[Imprint]] = {}
    for imprint in inputs.imprints:
        found.setdefault(imprint.order_id, []).append(imprint)
    return found


def drafts_by_order(drafts: Iterable[RunDraft]) -> dict[str, list[RunDraft]]:
    """Runs of each order, in file order."""
    found: dict[str, list[RunDraft]] = {}
    for draft in drafts:
        found.setdefault(draft.order.order_id, []).append(draft)
    return found


def waiting_for(order: Order, imprints: Iterable[Imprint], lots: Mapping[str, Lot]) -> tuple[str, ...]:
    """What an order waits for that nobody knows the date of, or has not told yet, in words."""
    reasons = list(order.untold)
    if order.is_waiting_for_deposit:
        reasons.append("waiting for the deposit")
    for imprint in imprints:
        if imprint.is_waiting_for_art:
            reasons.append(f"waiting for art: {imprint.location}")
        for lot_id in imprint.lot_ids:
            if lots[lot_id].is_waiting:
                reasons.append(f"waiting for garments: {lots[lot_id].garment}")
    return tuple(dict.fromkeys(reasons))


def after_runs(draft: RunDraft, own: Iterable[RunDraft]) -> tuple[str, ...]:
    """Runs that must be printed first: those of the named locations that share garments with this one.

    own: all runs of the same order.
    """
    mine = {lot.lot_id for lot in draft.lots}
    wanted = {location.lower() for location in draft.imprint.print_after}
    return tuple(
        other.run_id
        for other in own
        if other.run_id != draft.run_id
        and other.imprint.location.lower() in wanted
        and mine & {lot.lot_id for lot in other.lots}
    )


def circle_problems(drafts: tuple[RunDraft, ...]) -> list[Problem]:
    """Print locations of an order that each want to come after the other."""
    problems: dict[str, Problem] = {}
    before = {draft.run_id: after_runs(draft, own) for own in drafts_by_order(drafts).values() for draft in own}
    for draft in drafts:
        seen: set[str] = set()
        todo = list(before[draft.run_id])
        while todo:
            run_id = todo.pop()
            if run_id not in seen:
                seen.add(run_id)
                todo.extend(before[run_id])
        if draft.run_id in seen:
            problems.setdefault(
                draft.order.order_id,
                Problem(
                    file="orders.csv",
                    row=draft.imprint.source_row,
                    column="print_after",
                    value=", ".join(draft.imprint.print_after),
                    code="circle",
                    message=f"order {draft.order.order_id}: {draft.imprint.location} comes after itself in the end",
                    hint="take one of the order's print_after entries out",
                ),
            )
    return list(problems.values())
