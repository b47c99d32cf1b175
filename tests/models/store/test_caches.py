from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from models.store.caches import drop_caches, get_cache, get_caches, put_cache, put_caches
from models.store.engine import Store

NOON = datetime(2026, 10, 17, 12, tzinfo=UTC)


def test_a_value_comes_back_and_the_newest_wins(store: Store) -> None:
    with store.writing() as s:
        assert get_cache(s, "skyline of 3") is None
        put_cache(s, "skyline of 3", b"\x00\xff")
        put_cache(s, "skyline of 3", b"newer")
    with store.reading() as s:
        assert get_cache(s, "skyline of 3") == b"newer"


def test_the_oldest_go_when_all_do_not_fit(store: Store) -> None:
    with store.writing() as s:
        for k in range(5):
            put_cache(s, f"key {k}", b"x" * 10, now=NOON + timedelta(minutes=k), most_bytes=30)
        assert [get_cache(s, f"key {k}") is not None for k in range(5)] == [False, False, True, True, True]


def test_what_would_not_fit_alone_is_not_kept_and_drives_nothing_out(store: Store) -> None:
    with store.writing() as s:
        put_cache(s, "small", b"x", most_bytes=30)
        put_cache(s, "huge", b"x" * 31, most_bytes=30)
        assert get_cache(s, "huge") is None
        assert get_cache(s, "small") == b"x"


def test_many_at_once(store: Store) -> None:
    values = {f"key {k}": bytes([k % 256]) for k in range(1201)}
    with store.writing() as s:
        put_cache(s, "key 7", b"older")
        put_caches(s, values)
    with store.reading() as s:
        assert get_caches(s, [*values, "key never kept"]) == values
        assert get_caches(s, []) == {}


def test_many_at_once_keep_the_bound(store: Store) -> None:
    with store.writing() as s:
        put_caches(s, {f"key {k}": b"x" * (k * 10) for k in range(1, 5)}, most_bytes=30)
        assert set(get_caches(s, [f"key {k}" for k in range(1, 5)])) == {"key 3"}


def test_all_may_be_dropped_at_any_time(store: Store) -> None:
    with store.writing() as s:
        put_cache(s, "key", b"value")
        drop_caches(s)
        assert get_cache(s, "key") is None


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 4), st.binary(max_size=12)), max_size=12), st.integers(12, 30))
def test_never_more_bytes_than_allowed_and_the_last_one_put_is_there(
    shared_store: Store, puts: list[tuple[int, bytes]], most_bytes: int
) -> None:
    with shared_store.writing() as s:
        drop_caches(s)
        for k, value in puts:
            put_cache(s, str(k), value, now=NOON, most_bytes=most_bytes)
            assert get_cache(s, str(k)) == value
            assert sum(len(get_cache(s, str(key)) or b"") for key in range(5)) <= most_bytes
