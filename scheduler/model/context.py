"""What every rule of the model is given."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from scheduler.domain.week import Week
from scheduler.model.scope import Scope
from scheduler.model.variables import Variables


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelContext:
    """The solver's model, the week it speaks about, what of it is open, and the decisions."""

    model: cp_model.CpModel
    week: Week
    scope: Scope
    vars: Variables

    def on(self, model: cp_model.CpModel) -> ModelContext:
        """The same week and decisions with a copy of the model."""
        return replace(self, model=model)

    def is_started(self, run_id: str) -> bool:
        """True for a run that was on its press when planning began."""
        fixing = self.week.fixing.get(run_id)
        return fixing is not None and fixing.kind == "started"
