"""Alembic's way in: it runs over the connection and within the transaction that `store.migrate` holds."""

from __future__ import annotations

from alembic import context

from tastebook.store.rows import Row

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Row.metadata,
    render_as_batch=True,
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()
