"""Starts the server of the dashboard: on this computer alone, or, by one explicit switch, for the shop's Wi-Fi.

python -m dashboard WEEK [--port N] [--no-open] [--open-to-wifi]
"""

from __future__ import annotations

import argparse
import os
import socket
import sys
from pathlib import Path

from dashboard import kept
from dashboard.access import PASSWORD_VARIABLE, new_password
from dashboard.floor_book import BOOK_VARIABLE
from dashboard.state import WEEK_VARIABLE
from scheduler.api.serving import serve_until_over

APP = Path(__file__).resolve().parent / "app.py"
LOCAL, EVERYWHERE = "127.0.0.1", "0.0.0.0"
PORT = 8610
MOST_UPLOAD_MB = 20
"""What may be brought in at once: as much as a sheet is read of."""

THEME = {
    "base": "light",
    "primaryColor": "#3D5A98",
    "backgroundColor": "#FFFFFF",
    "secondaryBackgroundColor": "#F3F1EA",
    "textColor": "#20262B",
    "borderColor": "#C9CDC8",
    "redColor": "#B23A1E",
    "redTextColor": "#B23A1E",
    **dict.fromkeys(("redBackgroundColor", "yellowBackgroundColor"), "#F3F1EA"),
    **dict.fromkeys(("greenBackgroundColor", "blueBackgroundColor"), "#F3F1EA"),
    **dict.fromkeys(("yellowTextColor", "greenTextColor", "blueTextColor"), "#20262B"),
    "headingFontSizes": '["1.7rem","1.25rem","1.1rem"]',
    "baseFontSize": "15",
    "paddingTop": "2.5rem",
}
"""Ink on paper; one blue for what can be clicked."""


def main() -> None:
    """Serve until Ctrl-C."""
    asked = _arguments()
    if asked.plan is not None:
        kept.adopt(asked.week, asked.plan)
    port = asked.port or free_port()
    is_open = asked.open_to_wifi
    password = new_password() if is_open else ""
    told = [f"The dashboard of {asked.week.name} is at http://{LOCAL}:{port}/ - Ctrl-C ends it."]
    if is_open:
        told += [
            f"Open to the shop's Wi-Fi at http://{_own_address()}:{port}/",
            f"Password: {password}",
            "Anyone on this Wi-Fi who knows it can see the week and change it. Nothing is encrypted on the way.",
        ]
    print("\n".join(told), flush=True)
    served = command(port, is_open=is_open, opens_browser=asked.open)
    sys.exit(serve_until_over(served, environment(asked.week, password, asked.book)))


def command(port: int, *, is_open: bool = False, opens_browser: bool = False) -> list[str]:
    """The command line of the server."""
    options = {
        "server.port": str(port),
        "server.address": EVERYWHERE if is_open else LOCAL,
        "server.headless": "false" if opens_browser else "true",
        "server.fileWatcherType": "none",
        "server.maxUploadSize": str(MOST_UPLOAD_MB),
        "browser.gatherUsageStats": "false",
        "browser.serverAddress": LOCAL,
        "runner.magicEnabled": "false",
        "client.toolbarMode": "minimal",
        **{f"theme.{name}": value for name, value in THEME.items()},
    }
    return [sys.executable, "-m", "streamlit", "run", str(APP), *(f"--{name}={text}" for name, text in options.items())]


def environment(week: Path, password: str = "", book: str = "") -> dict[str, str]:
    """What the server's process is told: its week, its book, and the password where it is open to others."""
    paths = [str(APP.parent.parent), *os.environ.get("PYTHONPATH", "").split(os.pathsep)]
    return {
        **os.environ,
        WEEK_VARIABLE: str(week.absolute()),
        PASSWORD_VARIABLE: password,
        BOOK_VARIABLE: book,
        "PYTHONPATH": os.pathsep.join(path for path in paths if path),
    }


def free_port() -> int:
    """The usual port, or any free one where that is taken."""
    for port in (PORT, 0):
        with socket.socket() as tried:
            try:
                tried.bind((LOCAL, port))
            except OSError:
                continue
            return int(tried.getsockname()[1])
    return PORT


def _own_address() -> str:
    """This computer's address in the shop's network; nothing is sent to find it."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asked:
        try:
            asked.connect(("192.0.2.1", 9))  # an address for documents (RFC 5737); only the route is looked up
            return str(asked.getsockname()[0])
        except OSError:
            return socket.gethostname()


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="pressweek dashboard", description="Show a week in the browser.")
    parser.add_argument("week", type=Path, nargs="?", default=Path())
    parser.add_argument("--plan", type=Path)
    parser.add_argument("--book", default="")
    parser.add_argument("--port", type=int, default=0)
    parser.add_argument("--no-open", dest="open", action="store_false")
    parser.add_argument("--open-to-wifi", action="store_true")
    return parser.parse_args()
