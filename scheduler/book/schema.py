"""The tables of the book, as the newest migration leaves them.

What a week says is kept in rows with the version since which they count and the one until which they did: every earlier
version can be read again, and an unchanged row is written once. Plans and events are only ever added.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import (
    JSON,
    BigInteger,
    Boolean,
    CheckConstraint,
    Column,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
)

METADATA = MetaData(
    naming_convention={
        "pk": "pk_%(table_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "ix": "ix_%(table_name)s_%(column_0_name)s",
        "uq": "uq_%(table_name)s_%(column_0_name)s",
    }
)

BOOK = Table(
    "book",
    METADATA,
    Column("book_id", Integer, primary_key=True, autoincrement=False),
    Column("last_version", Integer, nullable=False),
    Column("last_plan", Integer, nullable=False),
    Column("last_event", Integer, nullable=False),
    Column("made_at", Text, nullable=False),
    CheckConstraint("book_id = 1", name="one_book"),
)
"""One row. It counts versions, plans and events; whoever writes takes hold of it first. Counts never go back."""


def _seal() -> Column[Any]:
    """What `seals.py` puts on a row."""
    return Column("seal", Text, nullable=False)


VERSIONS = Table(
    "versions",
    METADATA,
    Column("version", Integer, primary_key=True, autoincrement=False),
    Column("at", Text, nullable=False),
    Column("who", Text, nullable=False),
    Column("why", Text, nullable=False),
    Column("digest", Text, nullable=False),
    Column("changes", JSON, nullable=False),
    _seal(),
    Column("rows_seal", Text, nullable=False),
)
"""Every state the week has been in, who made it, and what it says differently from the one before. rows_seal: of all
rows that count at it.
"""

ORDER_NAMES = Table("order_names", METADATA, Column("order_id", Text, primary_key=True))
"""Every order there ever was: nothing can belong to one that never came in."""


def _dated(name: str, *columns: Column[Any]) -> Table:
    """A table of rows that count from one version to another. place: where the row stands among its like.

    Its columns are what one asks for; `more` holds the rest of the record.
    """
    current = Index(f"ix_{name}_now", "place", unique=True)
    table = Table(
        name,
        METADATA,
        Column("row_id", Integer, primary_key=True),
        Column("since", Integer, ForeignKey("versions.version"), nullable=False, index=True),
        Column("until", Integer, ForeignKey("versions.version"), nullable=True),
        Column("place", Integer, nullable=False),
        *columns,
        Column("more", JSON, nullable=False),
        _seal(),
        current,
        CheckConstraint("until > since", name="until_after_since"),
    )
    for dialect in ("sqlite", "postgresql"):
        current.dialect_options[dialect]["where"] = table.c.until.is_(None)
    return table


def _text(name: str, *, may_lack: bool = False) -> Column[Any]:
    return Column(name, Text, nullable=may_lack)


def _count(name: str, *, may_lack: bool = False) -> Column[Any]:
    return Column(name, BigInteger, nullable=may_lack)


def _of_order() -> Column[Any]:
    """Leads to an order that came in."""
    return Column("order_id", Text, ForeignKey("order_names.order_id"), nullable=False, index=True)


SHOPS = _dated("shops", _text("name"), _text("zone"), _text("plan_from"))
"""The shop as its owner tells it, all but its screens and frames."""

ORDERS = _dated("orders", _of_order(), _text("client"), _text("due_at"), _text("due_kind"))
LOTS = _dated(
    *("lots", _text("lot_id"), _of_order(), _text("garment"), _text("shade"), _count("pieces")),
    _text("blanks_at", may_lack=True),
)
IMPRINTS = _dated("imprints", _of_order(), _text("location"), _text("design_id"), _text("art_at", may_lack=True))
DESIGNS = _dated(
    *("designs", _text("design_id"), _count("actual_pcs_h", may_lack=True)),
    _count("actual_set_up_min", may_lack=True),
)
SCREEN_SETS = _dated("screen_sets", _text("design_id"), Column("to_reclaim", Boolean, nullable=False))
FRAMES = _dated("frames", _text("size"), _count("mesh"), _count("count"), _count("coated"))
PROGRESS = _dated(
    "progress", _of_order(), _text("location"), _text("press_id"), _text("started_at"), _count("pieces_left")
)
ANNOUNCED = _dated("announced", _text("run_id"), _text("press_id"), _text("set_up_at"))
ASSUMPTIONS = _dated("assumptions", _text("code"), _text("text"), _count("count"))
FILES = _dated("files", _text("name"), Column("content", LargeBinary, nullable=False))
"""The week's files letter by letter, as they were brought."""

DATED = (SHOPS, ORDERS, LOTS, IMPRINTS, DESIGNS, SCREEN_SETS, FRAMES, PROGRESS, ANNOUNCED, ASSUMPTIONS, FILES)
"""Everything a version of the week consists of."""

PLANS = Table(
    "plans",
    METADATA,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("version", Integer, ForeignKey("versions.version"), nullable=False),
    Column("last_event", Integer, nullable=False),
    Column("made_at", Text, nullable=False),
    Column("made_by", Text, nullable=False),
    Column("cost_cents", BigInteger, nullable=False),
    Column("after", Integer, ForeignKey("plans.number"), nullable=True),
    Column("plan", LargeBinary, nullable=False),
    Column("inputs", LargeBinary, nullable=False),
    _seal(),
)
"""Plans, each with the week it was made from, so that it is the same plan for ever: packed documents. last_event: the
last one it knows of. after: the announced plan that stood when it was made.
"""

ANNOUNCEMENTS = Table(
    "announcements",
    METADATA,
    Column("plan", Integer, ForeignKey("plans.number"), primary_key=True, autoincrement=False),
    Column("after", Integer, ForeignKey("announcements.plan"), nullable=True, unique=True),
    Column("at", Text, nullable=False),
    Column("who", Text, nullable=False),
    _seal(),
)
"""Which plans were told to the shop, when and by whom. after: the one that stood until then; only one can follow it."""

EVENTS = Table(
    "events",
    METADATA,
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("kind", Text, nullable=False),
    Column("at", Text, nullable=False, index=True),
    Column("who", Text, nullable=False),
    Column("noted_at", Text, nullable=False),
    Column("plan", Integer, ForeignKey("plans.number"), nullable=True),
    Column("about", Text, nullable=False, index=True),
    Column("undone", Integer, ForeignKey("events.number"), nullable=True),
    Column("told", JSON, nullable=False),
    _seal(),
)
"""What happened, in the order in which it was noted. about: its run, set, frames, dryer or order. Never changed."""
