from __future__ import annotations

import threading
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext

from models.store.engine import Store, open_store, upgrade
from models.store.settings import get_setting, put_setting
from models.store.spots import add_spot, list_spots
from models.store.tables import metadata
from models.street.spot import SpotDraft


def statements(engine: sa.Engine) -> dict[str, str]:
    """What SQLite has on record for each table and index, Alembic's own aside."""
    query = sa.text("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL AND name NOT LIKE 'alembic%'")
    with engine.connect() as connection:
        return {name: " ".join(sql.split()) for name, sql in connection.execute(query)}


def test_migrations_make_what_the_tables_say(store: Store) -> None:
    with store.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True, "target_metadata": metadata})
        assert compare_metadata(context, metadata) == []


def test_migrations_make_the_same_checks_names_and_defaults_too(store: Store, tmp_path: Path) -> None:
    plain = open_store(f"sqlite:///{tmp_path / 'plain.sqlite3'}")
    with plain.engine.execution_options(writes=True).begin() as connection:
        metadata.create_all(connection)
    assert statements(store.engine) == statements(plain.engine)
    plain.close()


def test_every_constraint_has_a_name() -> None:
    unnamed = [
        (table.name, constraint)
        for table in metadata.tables.values()
        for constraint in table.constraints
        if constraint.name is None
    ]
    assert unnamed == []


def test_upgrading_again_changes_nothing(store: Store, foundry_lane: SpotDraft) -> None:
    with store.writing() as s:
        spot = add_spot(s, foundry_lane)
        put_setting(s, "turbidity", 4.0)
    before = statements(store.engine)
    upgrade(store)
    assert statements(store.engine) == before
    with store.reading() as s:
        assert list_spots(s) == (spot,)
        assert get_setting(s, "turbidity") == 4.0


def test_two_programs_may_upgrade_at_once(tmp_path: Path) -> None:
    url, failures = f"sqlite:///{tmp_path / 'both.sqlite3'}", []

    def start() -> None:
        store = open_store(url)
        try:
            upgrade(store)
        except Exception as problem:
            failures.append(problem)
        finally:
            store.close()

    threads = [threading.Thread(target=start) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []


def test_an_upgrade_that_leaves_rows_pointing_nowhere_is_undone(store: Store) -> None:
    with store.engine.connect() as connection:
        raw = connection.connection.dbapi_connection
        raw.execute("PRAGMA foreign_keys=OFF")
        raw.execute("INSERT INTO lamps (import_id, latitude_deg, longitude_deg) VALUES (99, 1, 2)")
        raw.execute("PRAGMA foreign_keys=ON")
    with pytest.raises(RuntimeError, match="point nowhere"):
        upgrade(store)
