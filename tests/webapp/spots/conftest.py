"""The small app with a kit to choose from."""

from __future__ import annotations

import pytest

from models.exchange.kit import read_kit
from models.planning.demo import HAVENMARK
from models.store import kit as kept


@pytest.fixture
def kit(store) -> None:
    """The demo town's kit, so that a sentence can be said."""
    read = read_kit(HAVENMARK / "kit.toml")
    with store.writing() as s:
        for add, pieces in (
            (kept.add_flash, read.flashes),
            (kept.add_modifier, read.modifiers),
            (kept.add_camera, read.cameras),
            (kept.add_trigger, read.triggers),
            (kept.add_battery, read.batteries),
        ):
            for piece in pieces:
                add(s, piece)
