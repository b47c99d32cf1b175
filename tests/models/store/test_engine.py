from __future__ import annotations

import sqlite3
import threading
import time
from pathlib import Path

import pytest
import sqlalchemy as sa
from sqlalchemy.exc import IntegrityError, OperationalError

from models.store.engine import BUSY_TIMEOUT_MS, Store, open_store, upgrade
from models.store.settings import get_setting, put_setting
from models.store.town.tables import lamps

STOREY = "storey_height_m"


def file_of(store: Store) -> str:
    assert store.engine.url.database
    return store.engine.url.database


def pragma(store: Store, name: str) -> object:
    with store.reading() as s:
        return s.execute(sa.text(f"PRAGMA {name}")).scalar_one()


def test_foreign_keys_are_kept(store: Store) -> None:
    assert pragma(store, "foreign_keys") == 1
    with pytest.raises(IntegrityError, match="FOREIGN KEY"), store.writing() as s:
        s.execute(sa.insert(lamps).values(import_id=99, latitude_deg=1.0, longitude_deg=2.0))


def test_a_reader_works_beside_a_writer_and_sees_what_was_there(store: Store) -> None:
    assert pragma(store, "journal_mode") == "wal"
    with store.writing() as writer:
        put_setting(writer, STOREY, 4.0)
        with store.reading() as reader:
            assert get_setting(reader, STOREY) == 3.2
    with store.reading() as reader:
        assert get_setting(reader, STOREY) == 4.0


def test_a_reading_session_keeps_one_view_to_its_end(store: Store) -> None:
    with store.reading() as reader:
        before = get_setting(reader, STOREY)
        with store.writing() as writer:
            put_setting(writer, STOREY, 4.0)
        assert get_setting(reader, STOREY) == before


def test_a_writer_holds_the_lock_before_it_has_read_or_written_anything(store: Store) -> None:
    other = sqlite3.connect(file_of(store), timeout=0, isolation_level=None)
    with store.writing() as s:
        s.connection()
        with pytest.raises(sqlite3.OperationalError, match="locked"):
            other.execute("BEGIN IMMEDIATE")
    other.execute("BEGIN IMMEDIATE")
    other.execute("ROLLBACK")
    other.close()


def test_a_second_writer_waits_for_the_first(store: Store) -> None:
    assert pragma(store, "busy_timeout") == BUSY_TIMEOUT_MS
    started, order = threading.Event(), []

    def first() -> None:
        with store.writing() as s:
            put_setting(s, STOREY, 4.0)
            started.set()
            time.sleep(0.2)
            order.append("first")

    thread = threading.Thread(target=first)
    thread.start()
    assert started.wait(5)
    with store.writing() as s:
        assert get_setting(s, STOREY) == 4.0
        order.append("second")
    thread.join()
    assert order == ["first", "second"]


def test_a_writer_in_a_hurry_gives_up_soon(store: Store) -> None:
    with store.writing() as first:
        put_setting(first, STOREY, 3.0)
        started = time.monotonic()
        with pytest.raises(OperationalError, match="locked"), store.writing(patience_ms=50) as second:
            put_setting(second, STOREY, 4.0)
    assert time.monotonic() - started < 5
    assert pragma(store, "busy_timeout") == BUSY_TIMEOUT_MS


def test_two_threads_that_read_then_write_lose_no_update(store: Store) -> None:
    rounds, failures = 15, []
    with store.writing() as s:
        put_setting(s, "assumed_height_m", 10.0)

    def add_one_each_round() -> None:
        try:
            for _ in range(rounds):
                with store.writing() as s:
                    height = get_setting(s, "assumed_height_m")
                    time.sleep(0.001)
                    put_setting(s, "assumed_height_m", height + 1)
        except Exception as problem:
            failures.append(problem)

    threads = [threading.Thread(target=add_one_each_round) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    with store.reading() as s:
        assert get_setting(s, "assumed_height_m") == 10.0 + 2 * rounds


def test_writing_in_a_reading_session_is_an_error_and_harms_no_later_writer(store: Store) -> None:
    with store.reading() as s, pytest.raises(OperationalError, match="readonly"):
        put_setting(s, STOREY, 4.0)
    with store.writing() as s:
        put_setting(s, STOREY, 5.0)
    with store.reading() as s:
        assert get_setting(s, STOREY) == 5.0


def test_nothing_is_saved_when_the_block_raises(store: Store) -> None:
    def fails() -> None:
        with store.writing() as s:
            put_setting(s, STOREY, 4.0)
            raise RuntimeError("rained off")

    with pytest.raises(RuntimeError, match="rained off"):
        fails()
    with store.reading() as s:
        assert get_setting(s, STOREY) == 3.2


def test_the_folder_of_a_new_database_is_made_whatever_its_name(tmp_path: Path) -> None:
    path = tmp_path / "50 % of it" / "deeper" / "kerbstand.sqlite3"
    store = open_store(f"sqlite:///{path}")
    upgrade(store)
    with store.reading() as s:
        assert get_setting(s, STOREY) == 3.2
    store.close()
    assert path.exists()
