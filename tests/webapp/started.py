"""The program started as from the terminal, on plain http, while a test lasts."""

from __future__ import annotations

import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from flask import Flask

from tests.webapp.conftest import NOW
from webapp.commands import running, serving
from webapp.commands.reach import Asked, decided


@contextmanager
def started(app: Flask, asked: Asked, monkeypatch: pytest.MonkeyPatch) -> Iterator[int]:
    """The port it listens at. At the end it is stopped, and has to stop."""
    servers, ports, ready, make, listen = [], [], threading.Event(), running.create_server, running.listening
    before = app.wsgi_app

    def create_server(*what, **how):
        servers.append(make(*what, **how))
        ready.set()
        return servers[0]

    def listening(*where, **how) -> socket.socket:
        listener = listen(*where, **how)
        ports.append(listener.getsockname()[1])
        return listener

    monkeypatch.setattr(running, "create_server", create_server)
    monkeypatch.setattr(serving, "listening", listening)
    thread = threading.Thread(target=serving.run, args=(app, asked, decided(asked, NOW)), daemon=True)
    thread.start()
    assert ready.wait(20)
    yield ports[0]
    servers[0].trigger.pull_trigger(servers[0].close)  # in its own thread: closed from here, it may be listening still
    thread.join(timeout=30)
    app.wsgi_app = before
    assert not thread.is_alive()
