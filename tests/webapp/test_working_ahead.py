"""In the background only while nobody waits, one piece at a time, gone when the program ends, never heard."""

from __future__ import annotations

import logging
import threading
from urllib.request import urlopen

import pytest

from models.planning.memory import Memory
from tests.webapp.started import started
from webapp import working_ahead as ahead
from webapp.commands import serving
from webapp.commands.reach import Asked
from webapp.working_ahead import Traffic, working_ahead


@pytest.fixture(autouse=True)
def brisk(monkeypatch):
    monkeypatch.setattr(ahead, "QUIET_S", 0.02)


def silent(environ, start_response):
    return [b""]


def test_every_piece_is_done_in_order_in_a_thread_of_its_own():
    done, finished = [], threading.Event()

    def pieces():
        for k in range(3):
            done.append((k, threading.current_thread().name))
            yield
        finished.set()

    with working_ahead(Traffic(silent), pieces):
        assert finished.wait(5)
    assert done == [(k, "working ahead") for k in range(3)]


def test_no_piece_begins_while_an_answer_is_given():
    asked, let_go, begun = threading.Event(), threading.Event(), []

    def slow(environ, start_response):
        asked.set()
        assert let_go.wait(5)
        return [b""]

    traffic, more = Traffic(slow), threading.Event()

    def pieces():
        assert asked.wait(5)
        yield
        begun.append(traffic.quiet)
        more.set()
        yield

    answer = threading.Thread(target=traffic, args=({}, None))
    with working_ahead(traffic, pieces):
        answer.start()
        assert not more.wait(0.2)
        let_go.set()
        assert more.wait(5)
    answer.join(5)
    assert begun == [True]


def test_it_ends_with_the_program_however_much_is_left():
    def endless():
        while True:
            yield

    with working_ahead(Traffic(silent), endless):
        pass
    assert "working ahead" not in {thread.name for thread in threading.enumerate()}


def test_a_failure_is_noted_and_heard_by_nobody(caplog, capfd):
    failed = threading.Event()

    def pieces():
        yield
        failed.set()
        raise LookupError("no such tile")

    with caplog.at_level(logging.INFO), working_ahead(Traffic(silent), pieces):
        assert failed.wait(5)
    assert "working ahead ended early" in caplog.text
    assert capfd.readouterr() == ("", "")


def test_serving_works_ahead_and_says_nothing_of_it(app, monkeypatch, capfd):
    monkeypatch.setattr("models.planning.light._MEMORY", Memory(most=50))
    worked, real = threading.Event(), serving.warming

    def pieces(*given):
        yield from real(*given)
        worked.set()

    monkeypatch.setattr(serving, "warming", pieces)
    with started(app, Asked(), monkeypatch) as port:
        assert worked.wait(60)
        with urlopen(f"http://127.0.0.1:{port}/spots.json", timeout=20) as answer:
            assert b'"pending":0' in answer.read().replace(b" ", b"")
    out, err = capfd.readouterr()
    assert out == f"Open http://127.0.0.1:{port}/ in a browser. Ctrl+C stops.\n"
    assert err == ""
