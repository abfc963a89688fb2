"""Migrations run on the connection they are given, in its transaction."""

from alembic import context

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=context.config.attributes["metadata"],
    transactional_ddl=False,  # one transaction is open already, around everything
    render_as_batch=True,
)
context.run_migrations()
