"""Writing files so that nobody ever finds half of one: a temporary file beside it, then one swap."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from scheduler.errors import InputError, Problem


def write_text(path: Path, text: str, *, encoding: str = "utf-8") -> None:
    """The file holds the whole new text or, if anything goes wrong, what it held before. Its folder is made.

    Raises InputError with one plain sentence where the folder or the file cannot be written.
    """
    write_bytes(path, text.encode(encoding))


def write_bytes(path: Path, content: bytes) -> None:
    """The file holds every byte of the content, or what it held before. InputError as `write_text`."""
    make_folder(path.parent)
    swap_name: str | None = None
    try:
        handle, swap_name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
        with os.fdopen(handle, "wb") as out:
            out.write(content)
        os.chmod(swap_name, _usual_mode())  # a temporary file is private; a plan is for the whole shop
        os.replace(swap_name, path)
    except OSError as fault:
        if swap_name is not None:
            with contextlib.suppress(OSError):
                os.unlink(swap_name)
        raise cannot_write(path, fault) from fault


def make_folder(folder: Path) -> None:
    """The folder stands there afterwards; InputError with one plain sentence where it cannot."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise cannot_write(folder, fault) from fault


def _usual_mode() -> int:
    """The rights an ordinary new file would get here."""
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def cannot_write(path: Path, fault: OSError) -> InputError:
    """What is told of a file that cannot be written."""
    why = fault.strerror or type(fault).__name__
    return InputError(
        (
            Problem(
                file=str(path),
                code="cannot_write",
                message=f"cannot be written ({why.lower()})",
                hint="close it if it is open elsewhere, or name another folder with --out",
            ),
        )
    )
