"""Why a run does not fit a press, for whoever named one it does not fit."""

from __future__ import annotations

from scheduler.domain.orders import WeekInputs
from scheduler.workload.assumptions import Notes
from scheduler.workload.axis import build_axis
from scheduler.workload.fits import Fitting
from scheduler.workload.inks import InkShelf
from scheduler.workload.rates import Pace
from scheduler.workload.runs import draft_runs
from scheduler.workload.screens import frame_sizes


class Refusals:
    """Reads a week's inputs once and answers for every run and press."""

    def __init__(self, inputs: WeekInputs) -> None:
        """Draft the runs of the week; nothing is planned."""
        notes = Notes()
        shelf = InkShelf(shop=inputs.shop, notes=notes)
        drafts = draft_runs(inputs, shelf, build_axis(inputs.shop).days, notes)
        self._drafts = {draft.run_id: draft for draft in drafts}
        self._presses = {press.press_id: press for press in inputs.shop.presses}
        self._fitting = Fitting(
            pace=Pace(shelf=shelf, dryers={one.dryer_id: one for one in inputs.shop.dryers}, notes=notes),
            presses=inputs.shop.presses,
            frame_sizes=frame_sizes(drafts, inputs.shop)[0],
        )

    def why_not(self, run_id: str, press_id: str) -> str:
        """Everything that keeps the run off the press, as "needs 6 heads: 6 inks; Manual has 4"; "" if nothing does."""
        draft, press = self._drafts.get(run_id), self._presses.get(press_id)
        if draft is None or press is None:
            return ""
        return " and ".join(one.text for one in self._fitting.refusals(draft, press))
