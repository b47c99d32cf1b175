"""What every test shares."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import settings

import models  # noqa: F401  before numpy: it says how many threads that takes
from tests.databases import made

# a busy machine is not a failure; a check run tries the same examples each time, a developer's new ones
settings.register_profile("kerbstand", deadline=None, derandomize=bool(os.environ.get("CI")))
settings.load_profile("kerbstand")


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An empty database to copy."""
    return made(tmp_path_factory.mktemp("made") / "kerbstand.sqlite3")


@pytest.fixture(scope="session")
def demo_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo town's database to copy."""
    from models.planning.demo import open_demo

    path = tmp_path_factory.mktemp("demo") / "demo.sqlite3"
    open_demo(path).close()
    return path
