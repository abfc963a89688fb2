"""What runs out in this very process is given back after the test."""

from __future__ import annotations

import resource
from collections.abc import Callable, Iterator

import pytest


@pytest.fixture
def at_limit() -> Iterator[Callable[[int], None]]:
    """Files of this process may grow to so many bytes until the test is over."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)

    def set_to(size_bytes: int) -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (size_bytes, before[1]))

    yield set_to
    resource.setrlimit(resource.RLIMIT_FSIZE, before)
