"""Files to take away: the plan, its lists and pages one by one, all lists as a workbook, everything as one archive."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable
from pathlib import Path

import pandas as pd

from scheduler import api

NAMES = {
    "plan.json": "The plan, for other programs",
    "press-queue.csv": "Queue of every press",
    "screens.csv": "Screens to burn, tape, coat and reclaim",
    "orders.csv": "Orders and when each is ready to leave",
    "carts.csv": "Carts to stage",
    "roster.csv": "Who is where",
    "chase.csv": "Whom to ring, and by when",
    "stations.csv": "Visits to other stations",
}
KINDS = {
    ".json": "application/json",
    ".csv": "text/csv",
    ".html": "text/html",
    ".ics": "text/calendar",
    ".pdf": "application/pdf",
    ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}


def label(path: Path) -> str:
    """What a file is, in words."""
    return NAMES.get(path.name, path.name)


def files(folder: Path) -> list[Path]:
    """Files of a kept plan in the order they are offered: its lists, the plan."""
    order = [".csv", ".json"]
    found = [path for path in folder.iterdir() if path.name in NAMES]
    return sorted(found, key=lambda path: (order.index(path.suffix), path.name))


def workbook(folder: Path) -> bytes:
    """Every list as a sheet. All cells are text, as in the lists, so nothing a client typed ever runs."""
    out = io.BytesIO()
    with pd.ExcelWriter(out, engine="openpyxl") as book:
        for path in files(folder):
            if path.suffix == ".csv":
                frame = pd.read_csv(path, dtype=str, keep_default_na=False, encoding="utf-8-sig")
                frame.to_excel(book, sheet_name=path.stem[:31], index=False)
                for cell in (cell for row in book.sheets[path.stem[:31]].iter_rows() for cell in row):
                    cell.data_type = "n" if cell.value is None else "s"
    return out.getvalue()


def archive(folder: Path) -> bytes:
    """Everything of a kept plan in one file."""
    return packed((path.name, path.read_bytes()) for path in files(folder))


def floor_archive(papers: Iterable[api.Paper]) -> bytes:
    """Papers for the floor in one file."""
    return packed((one.name, one.content) for one in papers)


def packed(contents: Iterable[tuple[str, bytes]]) -> bytes:
    """Files by name and content as one archive."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archived:
        for name, content in contents:
            archived.writestr(name, content)
    return out.getvalue()


def kind_of(name: str) -> str:
    """What a file is to a browser, by its ending."""
    return KINDS[Path(name).suffix]
