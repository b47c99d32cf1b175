"""Answers kept in memory, the least used dropped first, and each worked out once however many threads ask for it."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Lock
from typing import Generic, TypeVar

Kept = TypeVar("Kept")


class Memory(Generic[Kept]):
    """Values by key that weigh at most `most` together: one each, unless `weigh` says how much (bytes, as a rule)."""

    def __init__(self, most: int, weigh: Callable[[Kept], int] = lambda value: 1) -> None:
        self._most = most
        self._weigh = weigh
        self._total = 0
        self._kept: OrderedDict[str, Kept] = OrderedDict()
        self._lock = Lock()
        self._turns = Turns()

    def get(self, key: str) -> Kept | None:
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
            return self._kept.get(key)

    def put(self, key: str, value: Kept, *, if_room: bool = False) -> None:
        """Keep the value; with if_room only where nothing has to go for it."""
        with self._lock:
            if if_room and self._total + self._weigh(value) > self._most:
                return
            self._forget(key)
            self._kept[key] = value
            self._total += self._weigh(value)
            while self._total > self._most:
                self._forget(next(iter(self._kept)))

    def once(self, key: str, work: Callable[[], Kept], *, if_room: bool = False) -> Kept:
        """The value kept, else what `work` gives, kept from then on. Who asks meanwhile waits for it.

        Where `work` raises, nothing is kept and the next who waits tries for itself.
        """
        known = self.get(key)
        if known is not None:
            return known
        with self._turns.of(key):
            known = self.get(key)
            if known is None:
                known = work()
                self.put(key, known, if_room=if_room)
        return known

    def _forget(self, key: str) -> None:
        gone = self._kept.pop(key, None)
        if gone is not None:
            self._total -= self._weigh(gone)


class Turns:
    """One thread at a time for each key."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._taken: dict[str, tuple[Lock, int]] = {}

    @contextmanager
    def of(self, key: str) -> Iterator[None]:
        with self._lock:
            turn, waiting = self._taken.get(key, (Lock(), 0))
            self._taken[key] = turn, waiting + 1
        try:
            with turn:
                yield
        finally:
            with self._lock:
                turn, waiting = self._taken.pop(key)
                if waiting > 1:
                    self._taken[key] = turn, waiting - 1
