"""A fresh database for each test."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from models.store.engine import Store
from models.street.spot import SpotDraft
from tests.databases import copy_of


@pytest.fixture
def store(made_once: Path, tmp_path: Path) -> Iterator[Store]:
    with copy_of(made_once, tmp_path) as kept:
        yield kept


@pytest.fixture(scope="module")
def shared_store(made_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """One database for the many examples of a property test."""
    with copy_of(made_once, tmp_path_factory.mktemp("shared")) as kept:
        yield kept


@pytest.fixture
def foundry_lane() -> SpotDraft:
    return SpotDraft(name="Foundry Lane", latitude_deg=52.53, longitude_deg=5.23, zone="Europe/Amsterdam")
