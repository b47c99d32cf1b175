"""Once a day while the program runs: what is personal and past its last day is erased."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime

from flask import Flask

from models.planning.workshops.erasing import erase_due

LOOK_S = 600.0
"""The clock is looked at so often: a machine that slept through midnight has it done soon after it wakes."""
STOPPING_S = 5.0

Task = Callable[[datetime], object]


class Daily:
    """A task done at the first look of each day, in UTC; one that failed is tried again at the next look."""

    def __init__(self, task: Task) -> None:
        self._task = task
        self._done: date | None = None

    def look(self, now: datetime) -> bool:
        """Whether the task was done now. A failure is noted by its kind alone: its words may hold a name."""
        day = now.astimezone(UTC).date()
        if day == self._done:
            return False
        try:
            self._task(now)
        except Exception as problem:
            logging.getLogger(__name__).warning("the daily erasing failed: %s", type(problem).__name__)
            return False
        self._done = day
        return True


@contextmanager
def erasing_daily(app: Flask) -> Iterator[None]:
    """While the block lasts, by the app's clock, in a thread of its own."""
    store, clock = app.extensions["kerbstand"], app.config["CLOCK"]
    daily, stopped = Daily(lambda now: erase_due(store, now)), threading.Event()

    def work() -> None:
        while True:
            daily.look(clock())
            if stopped.wait(LOOK_S):
                return

    worker = threading.Thread(target=work, name="erasing daily", daemon=True)
    worker.start()
    try:
        yield
    finally:
        stopped.set()
        worker.join(STOPPING_S)
