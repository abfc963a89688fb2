"""How fast a run goes on a press: the shop's own figure first, then the design's, then the press's, then arithmetic."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from scheduler.domain.learnt import AS_STATED, NOTHING_LEARNT, LearntFigures
from scheduler.domain.shop import Dryer, Press
from scheduler.trade.belt import belt_permille, dryer_pcs_h, lanes
from scheduler.trade.press_rate import (
    automatic_cycle_s,
    manual_piece_s,
    paced_pcs_h,
    part_minutes,
    pcs_h_from_seconds,
    whole_pcs_h,
)
from scheduler.workload.assumptions import Notes
from scheduler.workload.inks import InkShelf
from scheduler.workload.layers import Layer
from scheduler.workload.runs import RunDraft

MANUAL = "manual"
FULL_RATE_PERMILLE = 1000
SLOWER_PERMILLE = (750, 500)
"""Rates at which a run may be printed to leave room on a shared belt. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintTime:
    """Minutes and rates of a run on a press. slowed_to_pcs_h: the belt's own rate where it is the slower one."""

    print_min: int
    part_min: tuple[int, ...]
    rate_pcs_h: int
    belt_permille: int
    slowed_to_pcs_h: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """Works out print times for one shop."""

    shelf: InkShelf
    dryers: Mapping[str, Dryer]
    notes: Notes
    learnt: LearntFigures = NOTHING_LEARNT

    def print_time(
        self, draft: RunDraft, press: Press, step_permille: int = FULL_RATE_PERMILLE, tunnel_s: int | None = None
    ) -> PrintTime:
        """Press minutes of a run, part by part, and its share of the belt, at full rate or a step of it.

        tunnel_s: how long its garments are in the tunnel; None: as long as its inks need.
        Parts are rounded together: only the end of the run is rounded up. The belt by itself can slow a run; sharing
        it with other presses is the plan's business.
        """
        belt = self.belt_pcs_h(press, self.tunnel_s(draft.layers) if tunnel_s is None else tunnel_s)
        stated_min = self._stated_min(draft)
        if stated_min is not None:
            stated_min = -(-stated_min * FULL_RATE_PERMILLE // step_permille)
            rate = whole_pcs_h(max(1.0, draft.pieces * 60 / stated_min))
            parts = _shared_out(stated_min, tuple(part.pieces for part in draft.parts))
            share = 0 if belt is None else belt_permille(rate, belt)
            return PrintTime(print_min=stated_min, part_min=parts, rate_pcs_h=rate, belt_permille=share)
        wanted = [self._lot_pcs_h(draft, press, lot.kind) for lot in draft.lots]
        rates = [whole_pcs_h(rate if belt is None else min(rate, belt)) for rate in wanted]
        rates = [max(1, rate * step_permille // FULL_RATE_PERMILLE) for rate in rates]
        parts = part_minutes([(part.pieces, rate) for part, rate in zip(draft.parts, rates, strict=True)])
        print_min = max(1, sum(parts))
        is_slowed = belt is not None and any(rate > belt for rate in wanted)
        return PrintTime(
            print_min=print_min,
            part_min=parts if sum(parts) else (1, *parts[1:]),
            rate_pcs_h=_blended(draft, rates),
            belt_permille=0 if belt is None else max(belt_permille(rate, belt) for rate in rates),
            slowed_to_pcs_h=whole_pcs_h(belt) if is_slowed and belt is not None else None,
        )

    def tunnel_s(self, layers: tuple[Layer, ...]) -> int:
        """Seconds a garment needs in the heated tunnel: the slowest of its ink families."""
        return max((self.shelf.family(one.ink.family).tunnel_s for one in layers), default=0)

    def belt_pcs_h(self, press: Press, tunnel_s: int) -> float | None:
        """Pieces an hour the press's dryer takes at this time in the tunnel; None without a dryer.

        A belt narrower than a garment's lane still carries one lane: sleeves are folded in.
        """
        dryer = self.dryers.get(press.dryer_id or "")
        if dryer is None or tunnel_s <= 0:
            return None
        abreast = max(1, lanes(dryer.belt_width_in, dryer.lane_in))
        return dryer_pcs_h(dryer.heated_length_in, tunnel_s, dryer.pitch_in, abreast)

    def press_pcs_h(self, press: Press, layers: tuple[Layer, ...]) -> float:
        """Pieces an hour of the press alone, a tee and its usual crew.

        Two hits of one ink are a second trip round an automatic, or the same screen again on a manual.
        """
        revolutions = max((one.hits for one in layers), default=1)
        if press.stated_pcs_h is not None:
            return press.stated_pcs_h / (1 if press.kind == MANUAL else revolutions)
        flashes = [one for one in layers if one.flash_after]
        flash_s = max((self.shelf.family(one.ink.family).flash_s for one in flashes), default=0.0)
        if press.kind == MANUAL:
            piece_s = manual_piece_s(
                load_s=press.load_s,
                unload_s=press.unload_s,
                strokes=sum(one.hits for one in layers),
                stroke_s=press.stroke_s,
                flashes=len(flashes),
                flash_s=flash_s,
                swing_s=press.swing_s,
            )
            return paced_pcs_h(pcs_h_from_seconds(piece_s), crew=press.run_crew_pct / 100)
        alone = sum(count for _, count in press.run_crew) <= 1
        cycle_s = automatic_cycle_s(
            strokes_s=[press.stroke_s] * len(layers),
            load_s=press.load_s + press.unload_s if alone else press.load_s,
            unload_s=0.0 if alone else press.unload_s,
            index_s=press.index_s,
            flash_s=flash_s,
        )
        return paced_pcs_h(pcs_h_from_seconds(cycle_s, revolutions), crew=press.run_crew_pct / 100)

    def _lot_pcs_h(self, draft: RunDraft, press: Press, kind: str) -> float:
        """One lot's rate before the belt. A rate typed on the order's row is taken as it stands."""
        if draft.imprint.stated_pcs_h is not None:
            return float(draft.imprint.stated_pcs_h)
        garment = self._garment(kind, draft.run_id)
        if draft.design is not None and draft.design.actual_pcs_h is not None:
            return paced_pcs_h(draft.design.actual_pcs_h, garment=garment)
        return paced_pcs_h(self.press_pcs_h(press, draft.layers), garment=garment) * self._learnt(draft, press)

    def _learnt(self, draft: RunDraft, press: Press) -> float:
        """How much quicker the shop's own record has this press, and this design on any."""
        of_press = self.learnt.of_press(press.press_id).rate_pct
        of_design = self.learnt.of_design(draft.imprint.design_id).rate_pct
        return of_press / AS_STATED * of_design / AS_STATED

    def _garment(self, kind: str, where: str) -> float:
        known = {name.lower(): pct for name, pct in self.shelf.shop.defaults.garment_pct}
        if kind.lower() not in known:
            text = f"{kind or 'garments of no known kind'}: a tee's speed assumed"
            self.notes.add("garment_speed", text, "runs", where=where)
        return known.get(kind.lower(), 100) / 100

    @staticmethod
    def _stated_min(draft: RunDraft) -> int | None:
        """The run minutes typed for the whole print location, shared out over its runs by pieces."""
        stated = draft.imprint.stated_run_min
        if stated is None:
            return None
        return max(1, -(-stated * draft.pieces // max(1, draft.imprint_pieces)))


def _shared_out(minutes: int, pieces: tuple[int, ...]) -> tuple[int, ...]:
    """Minutes shared out by pieces, whole ones, summing to the whole."""
    total = max(1, sum(pieces))
    ends = [0]
    done = 0
    for count in pieces:
        done += count
        ends.append(minutes * done // total)
    ends[-1] = minutes
    return tuple(end - start for start, end in pairwise(ends))


def _blended(draft: RunDraft, rates: list[int]) -> int:
    """Pieces an hour over all parts."""
    hours = sum(part.pieces / rate for part, rate in zip(draft.parts, rates, strict=True))
    return whole_pcs_h(draft.pieces / hours) if hours else rates[0]
