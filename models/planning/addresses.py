"""Finding a place by its address: off until a contact is given, one request a second, answers kept."""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Callable
from dataclasses import asdict
from datetime import datetime

from models.exchange.addresses import Found, ask_nominatim
from models.problems import InputProblem
from models.store.caches import get_cache, put_cache
from models.store.engine import Store
from models.store.settings import get_setting

LONGEST = 200
PAUSE_S = 1.0
"""At least this long between two requests of the whole program, as the service asks."""

Ask = Callable[[str, str], tuple[Found, ...]]


class Pace:
    """Lets one caller through at a time, and the next no sooner than `pause_s` later."""

    def __init__(self, pause_s: float) -> None:
        self._pause_s = pause_s
        self._lock = threading.Lock()
        self._free_at = 0.0

    def wait(self) -> None:
        with self._lock:
            time.sleep(max(0.0, self._free_at - time.monotonic()))
            self._free_at = time.monotonic() + self._pause_s


_PACE = Pace(PAUSE_S)


def find_address(store: Store, text: str, *, now: datetime, ask: Ask = ask_nominatim) -> tuple[Found, ...]:
    """Places that an address may mean, kept from last time or asked for. Raises InputProblem('address', ...)."""
    address = " ".join(text.split())
    if not 3 <= len(address) <= LONGEST:
        raise InputProblem("address", f"Type an address of 3 to {LONGEST} letters.")
    key = f"address:{address.casefold()}"
    with store.reading() as s:
        contact, kept = get_setting(s, "geocoder_contact"), get_cache(s, key)
    if not contact:
        raise InputProblem("address", "Address search is off. Give a contact in the settings first.")
    if kept is not None:
        return tuple(Found(**place) for place in json.loads(kept))
    _PACE.wait()
    found = ask(address, contact)
    with store.writing() as s:
        put_cache(s, key, json.dumps([asdict(place) for place in found]).encode(), now=now)
    return found
