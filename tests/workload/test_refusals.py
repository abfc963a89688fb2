"""Why a run does not fit a press somebody named."""

from pathlib import Path

from scheduler import api
from scheduler.workload.refusals import Refusals

MIDSIZE = Path(__file__).resolve().parents[2] / "scenarios" / "midsize"


def test_the_words_are_those_of_the_fit() -> None:
    """A run is refused where the week has no choice for it, and nowhere else; unknown names say nothing."""
    inputs = api.read_week(MIDSIZE)
    refusals = Refusals(inputs)
    week = api.build_workload(inputs).week
    started = {one.run_id for one in week.fixings if one.kind == "started"}
    for run in week.runs:
        for press in week.presses:
            if run.run_id not in started:
                assert bool(refusals.why_not(run.run_id, press.press_id)) == (press.press_id not in run.on_press)
    assert refusals.why_not("4101 front light", "manual") == "the order allows only auto-1"
    assert refusals.why_not("nothing", "manual") == refusals.why_not("4101 front light", "nowhere") == ""
