"""The small app with a kit to choose from."""

from __future__ import annotations

import pytest

from models.exchange.kit import read_kit
from models.planning.demo import HAVENMARK
from models.planning.kit import add_kit


@pytest.fixture
def kit(store) -> None:
    """The demo town's kit, so that a sentence can be said."""
    with store.writing() as s:
        add_kit(s, read_kit(HAVENMARK / "kit.toml"))
