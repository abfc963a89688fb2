"""A server started as a program of its own, ended together with the one that started it."""

from __future__ import annotations

import signal
import subprocess
from collections.abc import Mapping, Sequence
from types import FrameType

END_SIGNALS = tuple(getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name))
"""Being told to end, and the window it was started in being closed; neither can be heard of on Windows."""


def serve_until_over(command: Sequence[str], environment: Mapping[str, str]) -> int:
    """Run a server until it ends, which it also does on Ctrl-C or when this program is told to; its exit code.

    0 where it was told to end. To be called from the main thread.
    """
    servers: list[subprocess.Popen[bytes]] = []
    told: list[int] = []

    def pass_on(number: int, _frame: FrameType | None) -> None:
        told.append(number)
        for server in servers:
            server.terminate()

    before = [(number, signal.signal(number, pass_on)) for number in END_SIGNALS]
    try:
        with subprocess.Popen(command, env=dict(environment)) as server:
            servers.append(server)
            if told:  # before there was anything to pass it on to
                server.terminate()
            while True:
                try:
                    code = server.wait()
                    return 0 if told else code
                except KeyboardInterrupt:
                    continue  # the server hears Ctrl-C too, and ends by itself
    finally:
        for number, handler in before:
            signal.signal(number, handler)
