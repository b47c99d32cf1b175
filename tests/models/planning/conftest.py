"""A database to plan in: empty, copied from one that was made once."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from models.store.engine import Store, open_store, upgrade


@pytest.fixture(scope="session")
def made_empty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("planning") / "empty.sqlite3"
    store = open_store(f"sqlite:///{path}")
    upgrade(store)
    store.close()
    return path


@pytest.fixture
def plans(made_empty: Path, tmp_path: Path) -> Iterator[Store]:
    """A database of the test's own."""
    yield from _copied(made_empty, tmp_path)


@pytest.fixture(scope="module")
def shared_plans(made_empty: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """One database for a whole file of tests that only read."""
    yield from _copied(made_empty, tmp_path_factory.mktemp("shared"))


def _copied(original: Path, folder: Path) -> Iterator[Store]:
    path = folder / "plans.sqlite3"
    shutil.copy(original, path)
    store = open_store(f"sqlite:///{path}")
    yield store
    store.close()
