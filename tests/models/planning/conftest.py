"""A database to plan in, empty."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from models.store.engine import Store
from tests.databases import copy_of


@pytest.fixture
def plans(made_once: Path, tmp_path: Path) -> Iterator[Store]:
    """A database of the test's own."""
    with copy_of(made_once, tmp_path) as kept:
        yield kept


@pytest.fixture(scope="module")
def shared_plans(made_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """One database for a whole file of tests that only read."""
    with copy_of(made_once, tmp_path_factory.mktemp("shared")) as kept:
        yield kept
