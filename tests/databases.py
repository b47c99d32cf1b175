"""Databases of the tests' own, each copied from one that was made once."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from models.store.engine import Store, open_store, upgrade


def made(path: Path) -> Path:
    """An empty database with all tables; the place it was made at."""
    store = open_store(f"sqlite:///{path}")
    upgrade(store)
    store.close()
    return path


@contextmanager
def copy_of(original: Path, folder: Path) -> Iterator[Store]:
    """A copy in this folder, open while the block lasts."""
    store = open_store(f"sqlite:///{shutil.copy(original, folder)}")
    yield store
    store.close()


def filled(original: Path, folder: Path, fill: Callable[[Store], object]) -> Path:
    """A copy in this folder, filled and closed, to be copied in its turn; the place it was made at."""
    with copy_of(original, folder) as kept:
        fill(kept)
    return folder / original.name
