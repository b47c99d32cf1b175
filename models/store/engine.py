"""The database: opened once, read in one kind of session, written in another.

    store = open_store("sqlite:////home/ana/kerbstand.sqlite3")
    upgrade(store)
    with store.writing() as s:
        add_spot(s, draft)

SQLite is told to keep foreign keys, to let readers and one writer work side by side (WAL), and to take the writer's
lock before a writer reads anything (BEGIN IMMEDIATE), so that no edit is lost between a read and a write.
"""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from alembic import command
from alembic.config import Config
from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url
from sqlalchemy.orm import Session
from sqlalchemy.pool import NullPool

MIGRATIONS = Path(__file__).parent / "migrations"
BUSY_TIMEOUT_MS = 10_000


@dataclass(frozen=True)
class Store:
    """An open database. Safe to share between threads; sessions are not."""

    engine: Engine

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """One consistent view; writing in it is an error."""
        postgres = self.engine.dialect.name == "postgresql"
        options = {"isolation_level": "REPEATABLE READ", "postgresql_readonly": True} if postgres else {}
        with Session(self.engine.execution_options(**options)) as session:
            yield session

    @contextmanager
    def writing(self, patience_ms: int = BUSY_TIMEOUT_MS) -> Iterator[Session]:
        """Saved when the block ends, nothing saved when it raises. One writer at a time on SQLite.

        patience_ms: how long to wait for another writer there, before OperationalError.
        """
        options = {"writes": True, "patience_ms": patience_ms}
        with Session(self.engine.execution_options(**options)) as session, session.begin():
            yield session

    def close(self) -> None:
        self.engine.dispose()


def open_store(url: str) -> Store:
    """A `sqlite:///path` or `postgresql+psycopg://` database; the folder of a file is made. See `upgrade`."""
    place = make_url(url)
    if place.get_backend_name() == "sqlite" and place.database and not place.database.startswith("file:"):
        Path(place.database).parent.mkdir(parents=True, exist_ok=True)
    return Store(_engine(place))


def upgrade(store: Store) -> None:
    """Bring the tables to this version of the program. Doing it again changes nothing."""
    with migrating(store.engine.url) as config:
        command.upgrade(config, "head")


@contextmanager
def migrating(url: URL) -> Iterator[Config]:
    """Alembic's configuration with a connection whose work is kept or undone as a whole."""
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    engine = _engine(url, migrating=True)
    with engine.execution_options(writes=True).begin() as connection:
        config.attributes["connection"] = connection
        yield config
        _check_foreign_keys(connection)


def _engine(url: URL, *, migrating: bool = False) -> Engine:
    """migrating: foreign keys off, since rebuilding a table on SQLite would else empty those that point to it."""
    quiet = {"hide_parameters": True}  # names and telephone numbers never stand in a log
    engine = create_engine(url, poolclass=NullPool, **quiet) if migrating else create_engine(url, **quiet)
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", _prepare_unchecked if migrating else _prepare)
        event.listen(engine, "begin", _begin)
    return engine


def _prepare(connection: sqlite3.Connection, _record: Any) -> None:
    _prepare_unchecked(connection, _record)
    connection.execute("PRAGMA foreign_keys=ON")


def _prepare_unchecked(connection: sqlite3.Connection, _record: Any) -> None:
    connection.isolation_level = None  # the driver begins nothing by itself; `_begin` does
    connection.execute(f"PRAGMA busy_timeout={BUSY_TIMEOUT_MS}")
    _write_ahead(connection)
    connection.execute("PRAGMA synchronous=NORMAL")
    connection.execute("PRAGMA secure_delete=ON")  # what is deleted is written over


def _write_ahead(connection: sqlite3.Connection) -> None:
    """Switch a new file to WAL. The switch itself does not wait for another writer whatever busy_timeout says, so it is
    tried again until that time is over."""
    last_s = time.monotonic() + BUSY_TIMEOUT_MS / 1000
    while True:
        try:
            connection.execute("PRAGMA journal_mode=WAL")
            return
        except sqlite3.OperationalError:
            if time.monotonic() > last_s:
                raise
            time.sleep(0.02)


def _begin(connection: Connection) -> None:
    options = connection.get_execution_options()
    writes = bool(options.get("writes"))
    connection.exec_driver_sql(f"PRAGMA query_only={'OFF' if writes else 'ON'}")
    connection.exec_driver_sql(f"PRAGMA busy_timeout={options.get('patience_ms', BUSY_TIMEOUT_MS):d}")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _check_foreign_keys(connection: Connection) -> None:
    if connection.dialect.name == "sqlite":
        broken = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
        if broken:
            raise RuntimeError(f"the upgrade would leave rows that point nowhere: {broken[:5]}")
