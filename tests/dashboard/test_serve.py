"""The server: on this computer alone unless one switch says otherwise, and then with a password."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest

from dashboard import access, serve
from tests.dashboard.weeks import copied

ROOT = Path(__file__).resolve().parents[2]


def option(line: list[str], name: str) -> str:
    """What a command line says of a setting."""
    return next(one for one in line if one.startswith(f"--{name}=")).partition("=")[2]


def test_only_this_computer_is_served_by_default() -> None:
    """Without the switch the address is this computer's own; with it every address of it."""
    assert option(serve.command(8610), "server.address") == "127.0.0.1"
    assert option(serve.command(8610, is_open=True), "server.address") == "0.0.0.0"
    assert option(serve.command(8610), "browser.gatherUsageStats") == "false"


def test_a_taken_port_is_not_taken_again() -> None:
    """Where the usual port is taken another one is found."""
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        port = taken.getsockname()[1]
        assert serve.free_port() != port


def test_passwords_are_long_and_can_be_read_aloud() -> None:
    """Three groups of four letters and digits none of which looks like another; two are never the same."""
    first, second = access.new_password(), access.new_password()
    assert re.fullmatch(r"[a-hj-kmnp-z2-9]{4}(-[a-hj-kmnp-z2-9]{4}){2}", first)
    assert first != second


@pytest.mark.parametrize(
    ("is_open", "ends"),
    [(False, signal.SIGINT), (True, signal.SIGINT), (False, signal.SIGTERM), (False, signal.SIGHUP)],
)
def test_the_command_serves_a_week_until_it_is_ended(tmp_path: Path, is_open: bool, ends: signal.Signals) -> None:
    """`pressweek dashboard` says where it is, and the password exactly when others may come in; Ctrl-C, which all its
    processes hear, ends it, and so does being told to end or a closed window, and its server with it.
    """
    week = copied("solo", tmp_path)
    told = tmp_path / "told.txt"
    with told.open("wb") as out:
        started = subprocess.Popen(
            [
                *(sys.executable, "-m", "scheduler", "dashboard", str(week), "--no-open", "--port", "0"),
                *(["--open-to-wifi"] if is_open else []),
            ],
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            cwd=tmp_path,
            stdout=out,
            stderr=subprocess.STDOUT,
            start_new_session=True,
        )
    try:
        ends_at = time.monotonic() + 60
        while not (found := re.search(r"http://127\.0\.0\.1:(\d+)/", told.read_text())):
            assert time.monotonic() < ends_at
            time.sleep(0.1)
        while True:
            try:
                with urllib.request.urlopen(f"http://127.0.0.1:{found[1]}/_stcore/health", timeout=2) as answer:
                    assert answer.status == 200
                break
            except OSError:
                assert time.monotonic() < ends_at, told.read_text()
                time.sleep(0.1)
    finally:
        if ends == signal.SIGINT:
            os.killpg(started.pid, ends)
        else:
            started.send_signal(ends)
        code = started.wait(timeout=60)
    assert code in ((0, 130, -signal.SIGINT) if ends == signal.SIGINT else (0,))
    with pytest.raises(OSError, match="refused"):
        urllib.request.urlopen(f"http://127.0.0.1:{found[1]}/_stcore/health", timeout=2)
    text = told.read_text()
    assert ("Password: " in text) == is_open
    assert "Traceback" not in text


def test_a_folder_that_is_no_week_is_refused(tmp_path: Path) -> None:
    """`pressweek dashboard` of an empty folder says what a week is and leaves with 2."""
    done = subprocess.run(
        [sys.executable, "-m", "scheduler", "dashboard", str(tmp_path)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 2
    assert "is no week; name a folder with shop.toml and orders.csv" in done.stderr
