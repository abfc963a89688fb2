"""Everything nobody typed: collected while the week is built, grouped, and listed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from scheduler.domain.orders import Assumption


@dataclass(slots=True)
class Notes:
    """A growing list of assumptions. Equal ones are told once, with how many things they touch and which."""

    _found: dict[tuple[str, str, str], tuple[int, dict[str, None]]] = field(default_factory=dict)

    def add(self, code: str, text: str, counted: str, *, count: int = 1, where: str = "") -> None:
        """Note one assumption: a stable code, the sentence, what is counted, how many, and where it was made.

        The same assumption made again at the same place is not counted again.
        """
        so_far, places = self._found.setdefault((code, text, counted), (0, {}))
        if where in places:
            return
        if where:
            places[where] = None
        self._found[code, text, counted] = (so_far + count, places)

    def has(self, code: str, text: str, counted: str) -> bool:
        """True if this very assumption was noted before."""
        return (code, text, counted) in self._found

    def merged_with(self, earlier: Iterable[Assumption]) -> tuple[Assumption, ...]:
        """Earlier assumptions first, then those noted here; equal ones as one."""
        joined = Notes()
        for one in earlier:
            joined.add(one.code, one.text, one.counted, count=one.count)
            joined._places(one).update(dict.fromkeys(one.where))
        for (code, text, counted), (count, places) in self._found.items():
            joined.add(code, text, counted, count=count)
            joined._found[code, text, counted][1].update(places)
        return tuple(
            Assumption(code=code, text=text, count=count, counted=counted, where=tuple(places))
            for (code, text, counted), (count, places) in joined._found.items()
        )

    def _places(self, one: Assumption) -> dict[str, None]:
        return self._found[one.code, one.text, one.counted][1]
