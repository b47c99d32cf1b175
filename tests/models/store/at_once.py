"""Two who write at the same moment."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Any

from models.store.engine import Store
from models.store.versions import Clash


def outcomes_at_once(store: Store, *changes: Callable[[Any], object]) -> list[str]:
    """Each change in a session and a thread of its own, begun together: "kept" or "clash", sorted."""
    outcomes, gate = [], threading.Barrier(len(changes))

    def make(change: Callable[[Any], object]) -> None:
        gate.wait()
        try:
            with store.writing() as s:
                change(s)
            outcomes.append("kept")
        except Clash:
            outcomes.append("clash")

    threads = [threading.Thread(target=make, args=(change,)) for change in changes]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return sorted(outcomes)
