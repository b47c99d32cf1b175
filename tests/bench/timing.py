"""How long something takes."""

from __future__ import annotations

import time
from collections.abc import Callable


def best_of(work: Callable[[], object], times: int = 7) -> float:
    """Processor seconds of the quickest of several runs: neighbours on a busy machine change that least."""
    seconds = []
    for _ in range(times):
        started = time.process_time()
        work()
        seconds.append(time.process_time() - started)
    return min(seconds)
