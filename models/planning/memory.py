"""A few answers kept in memory, the least used dropped first; safe between threads."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock
from typing import Generic, TypeVar

Kept = TypeVar("Kept")


class Memory(Generic[Kept]):
    """At most `most` values by key."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._kept: OrderedDict[str, Kept] = OrderedDict()
        self._lock = Lock()

    def get(self, key: str) -> Kept | None:
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
            return self._kept.get(key)

    def put(self, key: str, value: Kept) -> None:
        with self._lock:
            self._kept[key] = value
            self._kept.move_to_end(key)
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
