"""The small app with the demo's kit."""

from __future__ import annotations

import pytest

from models.exchange.kit import read_kit
from models.planning.demo import HAVENMARK
from models.planning.kit import add_kit


@pytest.fixture(autouse=True)
def kit(store) -> None:
    with store.writing() as s:
        add_kit(s, read_kit(HAVENMARK / "kit.toml"))
