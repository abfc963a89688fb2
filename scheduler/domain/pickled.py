"""What travels between processes: a thing's own fields, never what it has looked up about itself meanwhile."""

from __future__ import annotations

from dataclasses import fields
from typing import Any


class OwnFieldsOnly:
    """Base of dataclasses with cached look-ups. They are worked out again where it arrives: a look-up that another
    thread makes while this one is being packed cannot get in between.
    """

    def __getstate__(self) -> dict[str, Any]:
        """The fields alone."""
        return {field.name: getattr(self, field.name) for field in fields(self)}  # type: ignore[arg-type]
