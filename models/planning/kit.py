"""The kit as kept."""

from __future__ import annotations

from models.planning.sentence import Kit
from models.store import kit as kept
from models.store.engine import Store


def kit_of(store: Store) -> Kit:
    """What the organiser owns, retired pieces left out."""
    with store.reading() as s:
        return Kit(
            kept.list_flashes(s),
            kept.list_modifiers(s),
            kept.list_cameras(s),
            kept.list_triggers(s),
            kept.list_batteries(s),
        )
