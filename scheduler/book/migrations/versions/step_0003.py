"""Every row carries a seal; a version of the week has one for all its rows. They are put on after this step."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

SEALED = (
    *("versions", "plans", "announcements", "events"),
    *("shops", "orders", "lots", "imprints", "designs", "screen_sets", "frames", "progress", "announced"),
    *("assumptions", "files"),
)


def upgrade() -> None:
    """A column for it wherever there are rows to seal."""
    for table in SEALED:
        op.add_column(table, sa.Column("seal", sa.Text(), nullable=False, server_default=""))
    op.add_column("versions", sa.Column("rows_seal", sa.Text(), nullable=False, server_default=""))
