"""What holds for every test: no failing for a slow moment of the machine, no test without end, Ctrl-C that arrives."""

from __future__ import annotations

import signal

from hypothesis import settings

settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")

# Whoever starts the tests in the background may have Ctrl-C ignored, and every command under test would inherit that.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)
