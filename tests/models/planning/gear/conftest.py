"""A database of its own, empty or with the demo's kit."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from models.exchange.kit import read_kit
from models.planning.demo import HAVENMARK
from models.planning.kit import add_kit
from models.store.engine import Store
from tests.databases import copy_of


@pytest.fixture
def store(made_once: Path, tmp_path: Path) -> Iterator[Store]:
    with copy_of(made_once, tmp_path) as kept:
        yield kept


@pytest.fixture
def kit(store: Store) -> Store:
    with store.writing() as s:
        add_kit(s, read_kit(HAVENMARK / "kit.toml"))
    return store
