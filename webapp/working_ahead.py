"""Works ahead in the background while nobody waits for an answer."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from time import monotonic
from typing import Any

QUIET_S = 0.4
"""Work goes on once nothing has been asked for so long: a page asks for its map right after itself."""

STOPPING_S = 5.0

Answering = Callable[[dict[str, Any], Any], Iterable[bytes]]


class Traffic:
    """A WSGI application that knows when it was last asked for anything."""

    def __init__(self, app: Answering) -> None:
        self._app = app
        self._lock = threading.Lock()
        self._answering = 0
        self._last = -QUIET_S

    def __call__(self, environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
        self._count(1)
        try:
            return self._app(environ, start_response)
        finally:
            self._count(-1)

    @property
    def quiet(self) -> bool:
        with self._lock:
            return not self._answering and monotonic() - self._last >= QUIET_S

    def _count(self, change: int) -> None:
        with self._lock:
            self._answering += change
            self._last = monotonic()


@contextmanager
def working_ahead(traffic: Traffic, pieces: Callable[[], Iterator[None]]) -> Iterator[None]:
    """While the block lasts, one piece after the other in a thread of its own, each begun only while all is quiet."""
    stopped = threading.Event()
    worker = threading.Thread(target=_work, args=(traffic, pieces, stopped), name="working ahead", daemon=True)
    worker.start()
    try:
        yield
    finally:
        stopped.set()
        worker.join(STOPPING_S)


def _work(traffic: Traffic, pieces: Callable[[], Iterator[None]], stopped: threading.Event) -> None:
    """Nothing asks for this work yet, so a failure is noted and left to whoever asks for it."""
    try:
        for _ in pieces():
            while not traffic.quiet:
                if stopped.wait(QUIET_S / 4):
                    return
            if stopped.is_set():
                return
    except Exception:
        logging.getLogger(__name__).info("working ahead ended early", exc_info=True)
