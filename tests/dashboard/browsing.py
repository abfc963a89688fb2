"""A server on a week and a visitor's steps through its pages: what the tests in a real browser share."""

from __future__ import annotations

import json
import socket
import subprocess
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

from playwright.sync_api import Page

from dashboard import serve
from dashboard.app import PAGES

READY = '[data-testid="stApp"][data-test-script-state="notRunning"]'
DESK, PHONE = {"width": 1440, "height": 900}, {"width": 390, "height": 844}
ADDRESSES = [address for _, _, address in PAGES]
TITLES = {address: title for _, title, address in PAGES}
HARMLESS = ("/_stcore/health", "/_stcore/host-config")
"""What the pages' own library asks for beside a deep address and does not find there."""

AXE = files("axe_playwright_python").joinpath("axe.min.js").read_text(encoding="utf-8")
RULES = {"runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}}

PATIENCE_MS = 60_000
"""How long a busy machine may take over one step."""


@dataclass(frozen=True, kw_only=True)
class Site:
    """A server on a week."""

    week: Path
    port: int

    def address(self, page: str) -> str:
        return f"http://127.0.0.1:{self.port}/{page}"


@contextmanager
def served(week: Path, password: str = "", book: str = "") -> Iterator[Site]:
    """A server on a week until the test is through."""
    port = _port()
    with (week.parent / "server.txt").open("wb") as log:
        server = subprocess.Popen(
            serve.command(port), env=serve.environment(week, password, book), stdout=log, stderr=subprocess.STDOUT
        )
    try:
        ends_at = time.monotonic() + 60
        while True:
            assert server.poll() is None, (week.parent / "server.txt").read_text()
            try:
                urllib.request.urlopen(f"http://127.0.0.1:{port}/_stcore/health", timeout=2)
                break
            except OSError:
                assert time.monotonic() < ends_at, (week.parent / "server.txt").read_text()
                time.sleep(0.1)
        yield Site(week=week, port=port)
    finally:
        server.terminate()
        server.wait()


def _port() -> int:
    """A free port of this test's own, so that several may run beside each other."""
    with socket.socket() as tried:
        tried.bind(("127.0.0.1", 0))
        return int(tried.getsockname()[1])


def go(page: Page, site: Site, address: str) -> None:
    """Open a page and wait until it stands."""
    page.goto(site.address(address))
    page.wait_for_selector(READY, timeout=PATIENCE_MS)
    page.get_by_role("heading", name=TITLES[address.partition("?")[0]], exact=True).wait_for(timeout=PATIENCE_MS)


def settled(page: Page) -> None:
    """Wait until a click has had its effect."""
    page.wait_for_timeout(150)
    page.wait_for_selector(READY, timeout=PATIENCE_MS)


def choose(page: Page, label: str, text: str) -> None:
    """Pick from a list."""
    page.get_by_label(label, exact=True).click()
    page.get_by_role("option", name=text).first.click()
    settled(page)


def violations(page: Page) -> list[str]:
    """What the accessibility rules find wrong."""
    page.evaluate(AXE)
    found = page.evaluate(f"axe.run(document, {json.dumps(RULES)})")
    return [f"{one['id']}: {node['target']}" for one in found["violations"] for node in one["nodes"]]
