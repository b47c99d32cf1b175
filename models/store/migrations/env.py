"""Run by Alembic with the connection that `models.store.engine.upgrade` hands it."""

from typing import Any, Literal

from alembic import context
from sqlalchemy.types import TypeDecorator

from models.store.tables import metadata


def plain_type(kind: str, item: Any, _context: Any) -> str | Literal[False]:
    """A migration says what the database holds and must not change when our own types do."""
    return f"sa.{item.impl!r}" if kind == "type" and isinstance(item, TypeDecorator) else False


context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    render_as_batch=True,
    render_item=plain_type,
    compare_type=True,
)
with context.begin_transaction():
    context.run_migrations()
