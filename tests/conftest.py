"""What holds for every test: no failing for a slow moment of the machine, no test without end, Ctrl-C that arrives."""

from __future__ import annotations

import shutil
import signal
from collections.abc import Iterator

import pytest
from hypothesis import settings
from playwright.sync_api import Browser, sync_playwright

settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")

# Whoever starts the tests in the background may have Ctrl-C ignored, and every command under test would inherit that.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A browser; without one these tests fail."""
    found = next((path for name in BROWSERS if (path := shutil.which(name))), None)
    assert found, f"none of {', '.join(BROWSERS)} is installed"
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=found, args=FLAGS)
        yield started
        started.close()
