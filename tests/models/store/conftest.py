"""A fresh database for each test, copied from one that was made once."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from models.store.engine import Store, open_store, upgrade
from models.street.spot import SpotDraft


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("store") / "made-once.sqlite3"
    store = open_store(f"sqlite:///{path}")
    upgrade(store)
    store.close()
    return path


@pytest.fixture
def store(made_once: Path, tmp_path: Path) -> Iterator[Store]:
    path = tmp_path / "kerbstand.sqlite3"
    shutil.copy(made_once, path)
    opened = open_store(f"sqlite:///{path}")
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def shared_store(made_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """One database for the many examples of a property test."""
    path = tmp_path_factory.mktemp("shared") / "kerbstand.sqlite3"
    shutil.copy(made_once, path)
    opened = open_store(f"sqlite:///{path}")
    yield opened
    opened.close()


@pytest.fixture
def foundry_lane() -> SpotDraft:
    return SpotDraft(name="Foundry Lane", latitude_deg=52.53, longitude_deg=5.23, zone="Europe/Amsterdam")
