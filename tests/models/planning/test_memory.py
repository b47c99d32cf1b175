"""What is kept in memory: how much, which goes first, and that no two threads work out the same."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor

import pytest

from models.planning.memory import Memory


def test_the_least_used_goes_first():
    memory = Memory[str](most=2)
    memory.put("a", "1")
    memory.put("b", "2")
    assert memory.get("a") == "1"
    memory.put("c", "3")
    assert [memory.get(key) for key in "abc"] == ["1", None, "3"]


def test_it_is_bounded_by_weight():
    memory = Memory[bytes](most=10, weigh=len)
    for key in "abc":
        memory.put(key, b"12345")
    assert [memory.get(key) is None for key in "abc"] == [True, False, False]
    memory.put("b", b"1")
    memory.put("d", b"1234")
    assert [memory.get(key) for key in "bcd"] == [b"1", b"12345", b"1234"]
    memory.put("e", b"12345678901")
    assert memory.get("e") is None


def test_with_if_room_nothing_has_to_go():
    memory = Memory[bytes](most=10, weigh=len)
    memory.put("a", b"12345678")
    memory.put("b", b"123", if_room=True)
    memory.put("c", b"12", if_room=True)
    assert [memory.get(key) for key in "abc"] == [b"12345678", None, b"12"]


def test_many_threads_work_it_out_once():
    memory, started, told = Memory[str](most=5), threading.Event(), []

    def work():
        told.append(threading.get_ident())
        assert started.wait(5)
        return "light"

    with ThreadPoolExecutor(6) as pool:
        asked = [pool.submit(memory.once, "spot", work) for _ in range(6)]
        started.set()
        assert {answer.result() for answer in asked} == {"light"}
    assert len(told) == 1


def test_other_keys_do_not_wait():
    memory, other_done = Memory[str](most=5), threading.Event()

    def slow():
        assert other_done.wait(5)
        return "slow"

    with ThreadPoolExecutor(2) as pool:
        first = pool.submit(memory.once, "a", slow)
        assert memory.once("b", lambda: "quick") == "quick"
        other_done.set()
        assert first.result() == "slow"


def test_after_a_failure_the_next_tries_again():
    memory = Memory[str](most=5)

    def fails():
        raise LookupError

    with pytest.raises(LookupError):
        memory.once("spot", fails)
    assert memory.once("spot", lambda: "light") == "light"
