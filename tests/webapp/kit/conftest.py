"""The small app with the demo's kit."""

from __future__ import annotations

import pytest

from models.exchange.kit import read_kit
from models.planning.demo import HAVENMARK
from models.planning.kit import add_kit
from tests.databases import filled


@pytest.fixture(scope="session")
def kit_once(spots_once, tmp_path_factory):
    def fill(store):
        with store.writing() as s:
            add_kit(s, read_kit(HAVENMARK / "kit.toml"))

    return filled(spots_once, tmp_path_factory.mktemp("kit"), fill)


@pytest.fixture
def begun(kit_once):
    return kit_once
