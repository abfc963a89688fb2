"""What holds for every test: drawn examples are not failed for a slow moment of the machine."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
