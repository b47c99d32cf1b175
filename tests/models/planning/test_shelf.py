"""What is kept in the database for the next start, and what happens where it cannot be."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from time import monotonic

from models.planning import shelf
from models.planning.shelf import PATIENCE_MS, shelve
from models.store.caches import get_caches
from models.store.engine import open_store
from models.store.settings import put_setting


def kept(store, *keys):
    with store.reading() as s:
        return set(get_caches(s, keys))


def test_many_threads_keep_all_they_have(plans):
    keys = [f"key {k}" for k in range(60)]
    with ThreadPoolExecutor(8) as pool:
        list(pool.map(lambda key: shelve(plans, {key: b"x" * 100_000}), keys))
    assert kept(plans, *keys) == set(keys)


def test_a_busy_database_is_left_alone_for_a_while_and_then_tried_again(plans, monkeypatch):
    with plans.writing() as s:
        put_setting(s, "turbidity", 3.0)
        started = monotonic()
        for k in range(50):
            shelve(plans, {f"key {k}": b"x"})
        assert monotonic() - started < 10 * PATIENCE_MS / 1000
    shelve(plans, {"still resting": b"x"})
    monkeypatch.setattr(shelf, "monotonic", lambda: monotonic() + shelf.REST_S)
    shelve(plans, {"rested": b"x"})
    assert kept(plans, "key 0", "key 49", "still resting", "rested") == {"rested"}


def test_a_database_that_may_only_be_read_is_no_trouble(plans):
    readable = open_store(f"sqlite:///file:{plans.engine.url.database}?mode=ro&uri=true")
    shelve(readable, {"key": b"x"})
    assert kept(readable, "key") == set()
    readable.close()
