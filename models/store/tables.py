"""All tables in one place, for migrations."""

from models.store import spots  # noqa: F401  (importing a feature adds its tables)
from models.store.types import metadata

__all__ = ["metadata"]
