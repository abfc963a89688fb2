"""One bad week: its files, made by editing the small good week, and every message that must be told of it."""

from __future__ import annotations

from dataclasses import dataclass

from tests.inputs.weeks import Files, good_files

SHOP_FILE, ORDERS_FILE = "shop.toml", "orders.csv"


@dataclass(frozen=True, kw_only=True)
class BadInput:
    """A week with a fault. expected: the messages, sorted by file, row and column, and no others."""

    name: str
    files: Files
    expected: tuple[str, ...]


def edited(name: str, *changes: tuple[str, str]) -> Files:
    """The good week with the first place of each old text replaced by the new one, in one file."""
    files = good_files()
    text = files[name]
    assert isinstance(text, str)
    for old, new in changes:
        assert old in text, f"{old!r} is not in {name}"
        text = text.replace(old, new, 1)
    return {**files, name: text}


def without(name: str) -> Files:
    """The good week without one of its files."""
    return {other: content for other, content in good_files().items() if other != name}


def with_file(name: str, content: str | bytes) -> Files:
    """The good week with one file's content replaced, or added."""
    return {**good_files(), name: content}
