"""`python -m models.store.migrations.draft "what changes"` writes the next migration from what the tables say by now.

Read and tidy it by hand; tests/models/store/test_migrations.py says whether it makes what the tables say.
"""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from alembic import command

from models.store.engine import MIGRATIONS, migrating, open_store, upgrade


def draft(message: str, number: int) -> None:
    with TemporaryDirectory() as folder:
        store = open_store(f"sqlite:///{Path(folder) / 'drafting.sqlite3'}")
        upgrade(store)
        with migrating(store.engine.url) as config:
            command.revision(config, message, rev_id=f"{number:04}", autogenerate=True)
        store.close()


if __name__ == "__main__":
    draft(" ".join(sys.argv[1:]), 1 + len(list((MIGRATIONS / "versions").glob("[0-9]*.py"))))
