from __future__ import annotations

import shutil
import threading
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.operations import Operations

from models.store.engine import MIGRATIONS, Store, migrating, open_store, upgrade
from models.store.migrations.draft import draft
from models.store.settings import get_setting, put_setting
from models.store.spots import add_spot, list_spots
from models.store.tables import metadata
from models.store.town import lamps_near, replace_import
from models.street.spot import SpotDraft
from models.street.town import LampDraft, TownDraft


def statements(engine: sa.Engine) -> dict[str, str]:
    """What SQLite has on record for each table and index, Alembic's own aside; it quotes the name of a rebuilt one."""
    query = sa.text("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL AND name NOT LIKE 'alembic%'")
    with engine.connect() as connection:
        return {name: " ".join(sql.replace('"', "").split()) for name, sql in connection.execute(query)}


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


def test_rebuilding_a_table_leaves_the_rows_that_point_to_it(store: Store) -> None:
    """SQLite empties them if its foreign keys are on while the old table goes."""
    lamp = LampDraft(52.53, 5.23)
    with store.writing() as s:
        replace_import(s, "town", TownDraft(lamps=(lamp,)))
    with migrating(store.engine.url) as config:
        context = MigrationContext.configure(config.attributes["connection"])
        with Operations(context).batch_alter_table("imports", recreate="always"):
            pass
    with store.reading() as s:
        assert len(lamps_near(s, lamp.latitude_deg, lamp.longitude_deg)) == 1


def test_drafting_a_migration_finds_nothing_to_change(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    copy = tmp_path / "migrations"
    shutil.copytree(MIGRATIONS, copy, ignore=shutil.ignore_patterns("__pycache__"))
    monkeypatch.setattr("models.store.engine.MIGRATIONS", copy)
    draft("what changes", 99)
    written = (copy / "versions" / "0099_what_changes.py").read_text()
    assert "0099_what_changes.py" in capsys.readouterr().out
    assert written.startswith('"""what changes"""')
    assert [line.strip() for line in written.split("def upgrade() -> None:")[1].splitlines() if "###" not in line] == [
        "",
        "pass",
    ]


def test_an_upgrade_that_leaves_rows_pointing_nowhere_is_undone(store: Store) -> None:
    with store.engine.connect() as connection:
        raw = connection.connection.dbapi_connection
        raw.execute("PRAGMA foreign_keys=OFF")
        raw.execute("INSERT INTO lamps (import_id, latitude_deg, longitude_deg) VALUES (99, 1, 2)")
        raw.execute("PRAGMA foreign_keys=ON")
    with pytest.raises(RuntimeError, match="point nowhere"):
        upgrade(store)
