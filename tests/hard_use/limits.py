"""A program run where something runs out: room on the disk, memory, the right to write."""

from __future__ import annotations

import ctypes
import os
import resource
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
DROP_FROM_BOUNDING_SET, ABOVE_RIGHTS = 24, (1, 2)
"""PR_CAPBSET_DROP, CAP_DAC_OVERRIDE and CAP_DAC_READ_SEARCH of Linux's prctl and capability headers (memory)."""


def disk_of(size_bytes: int) -> Callable[[], None]:
    """Files may grow to this size: writing more fails as on a full disk."""
    return lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (size_bytes, size_bytes))


def memory_of(size_bytes: int) -> Callable[[], None]:
    """The program gets so much memory and no more."""
    return lambda: resource.setrlimit(resource.RLIMIT_AS, (size_bytes, size_bytes))


def rights_count() -> None:
    """Rights of files count for this program even where root runs it."""
    for one in ABOVE_RIGHTS:
        ctypes.CDLL(None).prctl(DROP_FROM_BOUNDING_SET, one, 0, 0, 0)


def pressweek(*arguments: str | Path, under: Callable[[], None] | None = None) -> subprocess.CompletedProcess[str]:
    """The command in a process of its own, under these limits."""
    with started(*arguments, under=under) as process:
        out, err = process.communicate(timeout=100)
    return subprocess.CompletedProcess(process.args, process.returncode, out, err)


def started(*arguments: str | Path, under: Callable[[], None] | None = None) -> subprocess.Popen[str]:
    """The command at work, in a process group of its own."""
    return subprocess.Popen(
        [sys.executable, "-m", "scheduler", *map(str, arguments)],
        env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "utf-8", "OMP_NUM_THREADS": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
        preexec_fn=under,
        start_new_session=True,
    )
