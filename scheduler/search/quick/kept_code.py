"""Compiled code kept in the user's folder between starts: whether it is there, and having it made meanwhile.

Compiling takes half a minute, loading what is kept a third of a second. So a process of its own compiles, once, while
the search goes on without; what is kept goes by place and text of all files it is made from, so that a changed file
never meets code made from an older one. Where nothing can be kept, or numba is not there, everything works without.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
import time
from functools import cache
from importlib.util import find_spec
from pathlib import Path

from platformdirs import user_cache_path

MADE = "made"
"""Name of the file that says the code is complete."""
BEING_MADE = "being made"
"""Name of the file that says somebody is compiling; it counts for so many seconds."""
BEING_MADE_S = 600.0


@cache
def kept_in() -> Path | None:
    """The folder for compiled code of just these files; None if there can be none."""
    if find_spec("numba") is None or os.environ.get("NUMBA_DISABLE_JIT", "0") != "0":
        return None
    # The library keeps code by the place of its files too: what was made for one place is not there for another.
    text = hashlib.sha256(str(Path(__file__).parent).encode())
    for path in sorted(Path(__file__).parent.glob("*.py")):
        if path.name in ("compiled.py", "slots.py") or b"@compiled" in path.read_bytes():
            text.update(path.read_bytes())
    folder = Path(os.environ.get("PRESSWEEK_CACHE") or user_cache_path("pressweek")) / text.hexdigest()[:16]
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return None
    return folder if os.access(folder, os.W_OK) else None


def is_made() -> bool:
    """True if compiled code only has to be loaded."""
    folder = kept_in()
    return folder is not None and (folder / MADE).exists()


def have_made() -> None:
    """Have it compiled by a process of its own, unless it is there or somebody is at it."""
    folder = kept_in()
    if folder is None or is_made() or _is_being_made(folder):
        return
    (folder / BEING_MADE).touch()
    # Less polished machine code is compiled sooner and was measured to be as fast.
    subprocess.Popen(
        [sys.executable, "-m", "scheduler.search.quick.making"],
        env={**os.environ, "NUMBA_OPT": "1", "PYTHONPATH": str(Path(__file__).parents[3])},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


def note_made() -> None:
    """Say that the code is complete."""
    folder = kept_in()
    if folder is not None:
        (folder / MADE).touch()


def _is_being_made(folder: Path) -> bool:
    try:
        return time.time() - (folder / BEING_MADE).stat().st_mtime < BEING_MADE_S
    except OSError:
        return False
