"""A plan knows the announced plan it was made after; events are found by their day."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Plans made before this step were made after none."""
    with op.batch_alter_table("plans") as plans:
        plans.add_column(sa.Column("after", sa.Integer(), nullable=True))
        plans.create_foreign_key(op.f("fk_plans_after"), "plans", ["after"], ["number"])
    op.create_index(op.f("ix_events_at"), "events", ["at"], unique=False)
