"""A PostgreSQL server of one's own while a test runs: Debian's package, a folder that is thrown away, no port open."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import create_engine, text

PROGRAMS = Path("/usr/lib/postgresql")
NAME = "postgres"
"""The account Debian makes for it: the server refuses to run as root."""


@contextmanager
def server() -> Iterator[str]:
    """The address of an empty database on a server that is stopped afterwards."""
    programs = max(PROGRAMS.glob("*/bin"), key=lambda path: int(path.parent.name))
    home = Path(tempfile.mkdtemp(prefix="book-pg-"))
    try:
        if os.geteuid() == 0:
            shutil.chown(home, NAME, NAME)
        _run(programs / "initdb", "-D", home / "data", "-U", NAME, "-A", "trust", "-E", "UTF8", "--no-sync")
        settings = f"-c listen_addresses='' -c unix_socket_directories='{home}' -c max_connections=100"
        _run(programs / "pg_ctl", "-D", home / "data", "-l", home / "log", "-w", "-o", settings, "start")
        try:
            yield f"postgresql+psycopg://{NAME}@/postgres?host={home}"
        finally:
            _run(programs / "pg_ctl", "-D", home / "data", "-m", "immediate", "-w", "stop")
    finally:
        shutil.rmtree(home, ignore_errors=True)


def _run(*arguments: object) -> None:
    as_other = ["runuser", "-u", NAME, "--"] if os.geteuid() == 0 else []
    done = subprocess.run([*as_other, *map(str, arguments)], capture_output=True, text=True, cwd="/", timeout=60)
    assert done.returncode == 0, done.stdout + done.stderr


def another(address: str, name: str) -> str:
    """The address of a further empty database on the same server."""
    engine = create_engine(address, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.execute(text(f"CREATE DATABASE {name}"))
    engine.dispose()
    return address.replace("/postgres?", f"/{name}?")
