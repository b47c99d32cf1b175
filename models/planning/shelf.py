"""Answers that took work, kept in the database for the next start. No answer ever waits or fails for them."""

from __future__ import annotations

import logging
from collections.abc import Mapping
from threading import Lock
from time import monotonic
from weakref import WeakKeyDictionary

from sqlalchemy import Engine
from sqlalchemy.exc import DBAPIError

from models.store.caches import put_caches
from models.store.engine import Store

PATIENCE_MS = 100
REST_S = 30.0
"""After a database was found busy, full or not to be written, it is left alone for so long."""

_TURN = Lock()
"""So that our own threads never find the database busy with one another."""

_RESTING_UNTIL: WeakKeyDictionary[Engine, float] = WeakKeyDictionary()


def shelve(store: Store, values: Mapping[str, bytes]) -> None:
    """Keep the values, each under a key that names all it rests on; not at all where the database does not let us."""
    with _TURN:
        if not values or monotonic() < _RESTING_UNTIL.get(store.engine, 0.0):
            return
        try:
            with store.writing(PATIENCE_MS) as s:
                put_caches(s, values)
        except DBAPIError as problem:
            _RESTING_UNTIL[store.engine] = monotonic() + REST_S
            logging.getLogger(__name__).info("worked out but not kept: %s", problem.orig)
