"""The first form of the book: versions of the week, plans, announcements, events."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Every table of the first form."""
    op.create_table(
        "book",
        sa.Column("book_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("last_version", sa.Integer(), nullable=False),
        sa.Column("last_plan", sa.Integer(), nullable=False),
        sa.Column("last_event", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.Text(), nullable=False),
        sa.CheckConstraint("book_id = 1", name=op.f("ck_book_one_book")),
        sa.PrimaryKeyConstraint("book_id", name=op.f("pk_book")),
    )
    op.create_table(
        "order_names",
        sa.Column("order_id", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("order_id", name=op.f("pk_order_names")),
    )
    op.create_table(
        "versions",
        sa.Column("version", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("changes", sa.JSON(), nullable=False),
        sa.PrimaryKeyConstraint("version", name=op.f("pk_versions")),
    )
    op.create_table(
        "announced",
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("since", sa.Integer(), nullable=False),
        sa.Column("until", sa.Integer(), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("run_id", sa.Text(), nullable=False),
        sa.Column("press_id", sa.Text(), nullable=False),
        sa.Column("set_up_at", sa.Text(), nullable=False),
        sa.Column("more", sa.JSON(), nullable=False),
        sa.CheckConstraint("until > since", name=op.f("ck_announced_until_after_since")),
        sa.ForeignKeyConstraint(["since"], ["versions.version"], name=op.f("fk_announced_since")),
        sa.ForeignKeyConstraint(["until"], ["versions.version"], name=op.f("fk_announced_until")),
        sa.PrimaryKeyConstraint("row_id", name=op.f("pk_announced")),
    )
    op.create_index(
        "ix_announced_now",
        "announced",
        ["place"],
        unique=True,
        sqlite_where=sa.text("until IS NULL"),
        postgresql_where=sa.text("until IS NULL"),
    )
    op.create_index(op.f("ix_announced_since"), "announced", ["since"], unique=False)
    op.create_table(
        "assumptions",
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("since", sa.Integer(), nullable=False),
        sa.Column("until", sa.Integer(), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("count", sa.BigInteger(), nullable=False),
        sa.Column("more", sa.JSON(), nullable=False),
        sa.CheckConstraint("until > since", name=op.f("ck_assumptions_until_after_since")),
        sa.ForeignKeyConstraint(["since"], ["versions.version"], name=op.f("fk_assumptions_since")),
        sa.ForeignKeyConstraint(["until"], ["versions.version"], name=op.f("fk_assumptions_until")),
        sa.PrimaryKeyConstraint("row_id", name=op.f("pk_assumptions")),
    )
    op.create_index(
        "ix_assumptions_now",
        "assumptions",
        ["place"],
        unique=True,
        sqlite_where=sa.text("until IS NULL"),
        postgresql_where=sa.text("until IS NULL"),
    )
    op.create_index(op.f("ix_assumptions_since"), "assumptions", ["since"], unique=False)
    op.create_table(
        "designs",
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("since", sa.Integer(), nullable=False),
        sa.Column("until", sa.Integer(), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("design_id", sa.Text(), nullable=False),
        sa.Column("actual_pcs_h", sa.BigInteger(), nullable=True),
        sa.Column("actual_set_up_min", sa.BigInteger(), nullable=True),
        sa.Column("more", sa.JSON(), nullable=False),
        sa.CheckConstraint("until > since", name=op.f("ck_designs_until_after_since")),
        sa.ForeignKeyConstraint(["since"], ["versions.version"], name=op.f("fk_designs_since")),
        sa.ForeignKeyConstraint(["until"], ["versions.version"], name=op.f("fk_designs_until")),
        sa.PrimaryKeyConstraint("row_id", name=op.f("pk_designs")),
    )
    op.create_index(
        "ix_designs_now",
        "designs",
        ["place"],
        unique=True,
        sqlite_where=sa.text("until IS NULL"),
        postgresql_where=sa.text("until IS NULL"),
    )
    op.create_index(op.f("ix_designs_since"), "designs", ["since"], unique=False)
    op.create_table(
        "files",
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("since", sa.Integer(), nullable=False),
        sa.Column("until", sa.Integer(), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.Column("more", sa.JSON(), nullable=False),
        sa.CheckConstraint("until > since", name=op.f("ck_files_until_after_since")),
        sa.ForeignKeyConstraint(["since"], ["versions.version"], name=op.f("fk_files_since")),
        sa.ForeignKeyConstraint(["until"], ["versions.version"], name=op.f("fk_files_until")),
        sa.PrimaryKeyConstraint("row_id", name=op.f("pk_files")),
    )
    op.create_index(
        "ix_files_now",
        "files",
        ["place"],
        unique=True,
        sqlite_where=sa.text("until IS NULL"),
        postgresql_where=sa.text("until IS NULL"),
    )
    op.create_index(op.f("ix_files_since"), "files", ["since"], unique=False)
    op.create_table(
        "frames",
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("since", sa.Integer(), nullable=False),
        sa.Column("until", sa.Integer(), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("size", sa.Text(), nullable=False),
        sa.Column("mesh", sa.BigInteger(), nullable=False),
        sa.Column("count", sa.BigInteger(), nullable=False),
        sa.Column("coated", sa.BigInteger(), nullable=False),
        sa.Column("more", sa.JSON(), nullable=False),
        sa.CheckConstraint("until > since", name=op.f("ck_frames_until_after_since")),
        sa.ForeignKeyConstraint(["since"], ["versions.version"], name=op.f("fk_frames_since")),
        sa.ForeignKeyConstraint(["until"], ["versions.version"], name=op.f("fk_frames_until")),
        sa.PrimaryKeyConstraint("row_id", name=op.f("pk_frames")),
    )
    op.create_index(
        "ix_frames_now",
        "frames",
        ["place"],
        unique=True,
        sqlite_where=sa.text("until IS NULL"),
        postgresql_where=sa.text("until IS NULL"),
    )
    op.create_index(op.f("ix_frames_since"), "frames", ["since"], unique=False)
    op.create_table(
        "imprints",
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("since", sa.Integer(), nullable=False),
        sa.Column("until", sa.Integer(), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("order_id", sa.Text(), nullable=False),
        sa.Column("location", sa.Text(), nullable=False),
        sa.Column("design_id", sa.Text(), nullable=False),
        sa.Column("art_at", sa.Text(), nullable=True),
        sa.Column("more", sa.JSON(), nullable=False),
        sa.CheckConstraint("until > since", name=op.f("ck_imprints_until_after_since")),
        sa.ForeignKeyConstraint(["order_id"], ["order_names.order_id"], name=op.f("fk_imprints_order_id")),
        sa.ForeignKeyConstraint(["since"], ["versions.version"], name=op.f("fk_imprints_since")),
        sa.ForeignKeyConstraint(["until"], ["versions.version"], name=op.f("fk_imprints_until")),
        sa.PrimaryKeyConstraint("row_id", name=op.f("pk_imprints")),
    )
    op.create_index(
        "ix_imprints_now",
        "imprints",
        ["place"],
        unique=True,
        sqlite_where=sa.text("until IS NULL"),
        postgresql_where=sa.text("until IS NULL"),
    )
    op.create_index(op.f("ix_imprints_order_id"), "imprints", ["order_id"], unique=False)
    op.create_index(op.f("ix_imprints_since"), "imprints", ["since"], unique=False)
    op.create_table(
        "lots",
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("since", sa.Integer(), nullable=False),
        sa.Column("until", sa.Integer(), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Text(), nullable=False),
        sa.Column("order_id", sa.Text(), nullable=False),
        sa.Column("garment", sa.Text(), nullable=False),
        sa.Column("shade", sa.Text(), nullable=False),
        sa.Column("pieces", sa.BigInteger(), nullable=False),
        sa.Column("blanks_at", sa.Text(), nullable=True),
        sa.Column("more", sa.JSON(), nullable=False),
        sa.CheckConstraint("until > since", name=op.f("ck_lots_until_after_since")),
        sa.ForeignKeyConstraint(["order_id"], ["order_names.order_id"], name=op.f("fk_lots_order_id")),
        sa.ForeignKeyConstraint(["since"], ["versions.version"], name=op.f("fk_lots_since")),
        sa.ForeignKeyConstraint(["until"], ["versions.version"], name=op.f("fk_lots_until")),
        sa.PrimaryKeyConstraint("row_id", name=op.f("pk_lots")),
    )
    op.create_index(
        "ix_lots_now",
        "lots",
        ["place"],
        unique=True,
        sqlite_where=sa.text("until IS NULL"),
        postgresql_where=sa.text("until IS NULL"),
    )
    op.create_index(op.f("ix_lots_order_id"), "lots", ["order_id"], unique=False)
    op.create_index(op.f("ix_lots_since"), "lots", ["since"], unique=False)
    op.create_table(
        "orders",
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("since", sa.Integer(), nullable=False),
        sa.Column("until", sa.Integer(), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("order_id", sa.Text(), nullable=False),
        sa.Column("client", sa.Text(), nullable=False),
        sa.Column("due_at", sa.Text(), nullable=False),
        sa.Column("due_kind", sa.Text(), nullable=False),
        sa.Column("more", sa.JSON(), nullable=False),
        sa.CheckConstraint("until > since", name=op.f("ck_orders_until_after_since")),
        sa.ForeignKeyConstraint(["order_id"], ["order_names.order_id"], name=op.f("fk_orders_order_id")),
        sa.ForeignKeyConstraint(["since"], ["versions.version"], name=op.f("fk_orders_since")),
        sa.ForeignKeyConstraint(["until"], ["versions.version"], name=op.f("fk_orders_until")),
        sa.PrimaryKeyConstraint("row_id", name=op.f("pk_orders")),
    )
    op.create_index(
        "ix_orders_now",
        "orders",
        ["place"],
        unique=True,
        sqlite_where=sa.text("until IS NULL"),
        postgresql_where=sa.text("until IS NULL"),
    )
    op.create_index(op.f("ix_orders_order_id"), "orders", ["order_id"], unique=False)
    op.create_index(op.f("ix_orders_since"), "orders", ["since"], unique=False)
    op.create_table(
        "plans",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("last_event", sa.Integer(), nullable=False),
        sa.Column("made_at", sa.Text(), nullable=False),
        sa.Column("made_by", sa.Text(), nullable=False),
        sa.Column("cost_cents", sa.BigInteger(), nullable=False),
        sa.Column("plan", sa.LargeBinary(), nullable=False),
        sa.Column("inputs", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(["version"], ["versions.version"], name=op.f("fk_plans_version")),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_plans")),
    )
    op.create_table(
        "progress",
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("since", sa.Integer(), nullable=False),
        sa.Column("until", sa.Integer(), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("order_id", sa.Text(), nullable=False),
        sa.Column("location", sa.Text(), nullable=False),
        sa.Column("press_id", sa.Text(), nullable=False),
        sa.Column("started_at", sa.Text(), nullable=False),
        sa.Column("pieces_left", sa.BigInteger(), nullable=False),
        sa.Column("more", sa.JSON(), nullable=False),
        sa.CheckConstraint("until > since", name=op.f("ck_progress_until_after_since")),
        sa.ForeignKeyConstraint(["order_id"], ["order_names.order_id"], name=op.f("fk_progress_order_id")),
        sa.ForeignKeyConstraint(["since"], ["versions.version"], name=op.f("fk_progress_since")),
        sa.ForeignKeyConstraint(["until"], ["versions.version"], name=op.f("fk_progress_until")),
        sa.PrimaryKeyConstraint("row_id", name=op.f("pk_progress")),
    )
    op.create_index(
        "ix_progress_now",
        "progress",
        ["place"],
        unique=True,
        sqlite_where=sa.text("until IS NULL"),
        postgresql_where=sa.text("until IS NULL"),
    )
    op.create_index(op.f("ix_progress_order_id"), "progress", ["order_id"], unique=False)
    op.create_index(op.f("ix_progress_since"), "progress", ["since"], unique=False)
    op.create_table(
        "screen_sets",
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("since", sa.Integer(), nullable=False),
        sa.Column("until", sa.Integer(), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("design_id", sa.Text(), nullable=False),
        sa.Column("to_reclaim", sa.Boolean(), nullable=False),
        sa.Column("more", sa.JSON(), nullable=False),
        sa.CheckConstraint("until > since", name=op.f("ck_screen_sets_until_after_since")),
        sa.ForeignKeyConstraint(["since"], ["versions.version"], name=op.f("fk_screen_sets_since")),
        sa.ForeignKeyConstraint(["until"], ["versions.version"], name=op.f("fk_screen_sets_until")),
        sa.PrimaryKeyConstraint("row_id", name=op.f("pk_screen_sets")),
    )
    op.create_index(
        "ix_screen_sets_now",
        "screen_sets",
        ["place"],
        unique=True,
        sqlite_where=sa.text("until IS NULL"),
        postgresql_where=sa.text("until IS NULL"),
    )
    op.create_index(op.f("ix_screen_sets_since"), "screen_sets", ["since"], unique=False)
    op.create_table(
        "shops",
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("since", sa.Integer(), nullable=False),
        sa.Column("until", sa.Integer(), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("zone", sa.Text(), nullable=False),
        sa.Column("plan_from", sa.Text(), nullable=False),
        sa.Column("more", sa.JSON(), nullable=False),
        sa.CheckConstraint("until > since", name=op.f("ck_shops_until_after_since")),
        sa.ForeignKeyConstraint(["since"], ["versions.version"], name=op.f("fk_shops_since")),
        sa.ForeignKeyConstraint(["until"], ["versions.version"], name=op.f("fk_shops_until")),
        sa.PrimaryKeyConstraint("row_id", name=op.f("pk_shops")),
    )
    op.create_index(
        "ix_shops_now",
        "shops",
        ["place"],
        unique=True,
        sqlite_where=sa.text("until IS NULL"),
        postgresql_where=sa.text("until IS NULL"),
    )
    op.create_index(op.f("ix_shops_since"), "shops", ["since"], unique=False)
    op.create_table(
        "announcements",
        sa.Column("plan", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("after", sa.Integer(), nullable=True),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["after"], ["announcements.plan"], name=op.f("fk_announcements_after")),
        sa.ForeignKeyConstraint(["plan"], ["plans.number"], name=op.f("fk_announcements_plan")),
        sa.PrimaryKeyConstraint("plan", name=op.f("pk_announcements")),
        sa.UniqueConstraint("after", name=op.f("uq_announcements_after")),
    )
    op.create_table(
        "events",
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("noted_at", sa.Text(), nullable=False),
        sa.Column("plan", sa.Integer(), nullable=True),
        sa.Column("about", sa.Text(), nullable=False),
        sa.Column("undone", sa.Integer(), nullable=True),
        sa.Column("told", sa.JSON(), nullable=False),
        sa.ForeignKeyConstraint(["plan"], ["plans.number"], name=op.f("fk_events_plan")),
        sa.ForeignKeyConstraint(["undone"], ["events.number"], name=op.f("fk_events_undone")),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_events")),
    )
    op.create_index(op.f("ix_events_about"), "events", ["about"], unique=False)
