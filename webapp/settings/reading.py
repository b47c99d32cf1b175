"""Settings that other pages ask for."""

from __future__ import annotations

from models.planning.settings import read_setting
from webapp.answering import store


def tiles_chosen() -> str:
    """The name of the tile provider switched on; empty when none is."""
    return read_setting(store(), "tiles") or ""
