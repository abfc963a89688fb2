"""What the reader took where nobody typed anything: grouped and counted."""

from __future__ import annotations

from dataclasses import dataclass, field

from scheduler.domain.orders import Assumption


@dataclass(slots=True)
class Assumed:
    """A growing list of assumptions; the same one about another thing is counted, not told again."""

    _where: dict[tuple[str, str, str], dict[str, None]] = field(default_factory=dict)

    def add(self, code: str, text: str, counted: str, where: str) -> None:
        """Note one assumption: a stable code, the sentence, what is counted, and the thing it was made about."""
        self._where.setdefault((code, text, counted), {})[where] = None

    @property
    def listed(self) -> tuple[Assumption, ...]:
        """All of them, in the order in which they came up."""
        return tuple(
            Assumption(code=code, text=text, count=len(where), counted=counted, where=tuple(where))
            for (code, text, counted), where in self._where.items()
        )
