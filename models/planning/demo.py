"""The demo town's database, built from the plain files it is shipped with."""

from __future__ import annotations

import hashlib
from pathlib import Path

import sqlalchemy as sa
from alembic.util import CommandError
from sqlalchemy.exc import DatabaseError
from sqlalchemy.orm import Session

import sample_locations
from models.exchange.geojson import read_buildings, read_footways, read_hints, read_lamps, read_trees
from models.exchange.kit import read_kit
from models.exchange.spots import read_spots
from models.exchange.zones import zone_at
from models.planning.kit import add_kit
from models.planning.rules.rules_demo import AREAS_FILE, BYLAWS_FILE, fill_rules
from models.planning.setups.demo import SETUPS_FILE, fill_setups
from models.planning.street.counts_import import fill_counts
from models.planning.workshops.demo import RUNNING_FILE, fill_running
from models.problems import InputProblem
from models.store.engine import Store, open_store, upgrade
from models.store.spots import add_spot
from models.store.town import replace_import
from models.street.town import TownDraft

HAVENMARK = Path(sample_locations.__file__).parent / "havenmark"
FILES = (
    "buildings.geojson", "footways.geojson", "trees.geojson", "lamps.geojson", "hints.geojson", "spots.geojson",
    "kit.toml", AREAS_FILE, BYLAWS_FILE, "counts.csv", SETUPS_FILE,
    RUNNING_FILE,
)  # fmt: skip
ATTRIBUTION = "Havenmark, an invented town"
APPLICATION_ID = int.from_bytes(b"Kbst", "big")
"""Marks a SQLite file as a demo database (PRAGMA application_id), so that no other file is ever overwritten."""
PRAGMAS = ("application_id", "user_version")


def open_demo(path: str | Path, folder: Path = HAVENMARK) -> Store:
    """The demo database at `path`, built anew if it is missing, unfinished, or older than the files in `folder`.

    As long as the files stay the same, what was typed into it stays too. Raises InputProblem for a file that is no
    demo database, and leaves it alone.
    """
    place, stamp = Path(path), files_stamp(folder)
    if place.exists() and place.stat().st_size:
        store = _open(place)
        if _is_current(store, stamp):
            return store
        store.close()
        for leftover in (place, *(place.with_name(place.name + ending) for ending in ("-wal", "-shm"))):
            leftover.unlink(missing_ok=True)
    store = _open(place)
    with store.writing() as s:
        s.execute(sa.text(f"PRAGMA application_id = {APPLICATION_ID:d}"))
    upgrade(store)
    with store.writing() as s:
        _fill(s, folder)
        s.execute(sa.text(f"PRAGMA user_version = {stamp:d}"))
    return store


def files_stamp(folder: Path = HAVENMARK) -> int:
    """A number that changes when a file of the town does; it fits SQLite's user_version and is never 0."""
    digest = hashlib.sha256()
    for name in FILES:
        digest.update(hashlib.sha256((folder / name).read_bytes()).digest())
    return int.from_bytes(digest.digest()[:4], "big") % (2**31 - 1) + 1


def _open(place: Path) -> Store:
    return open_store(f"sqlite:///{place}")


def _is_current(store: Store, stamp: int) -> bool:
    """Whether this demo database holds the files as they are now; its tables are brought up to date if so."""
    try:
        with store.reading() as s:
            owner, kept = (int(s.execute(sa.text(f"PRAGMA {name}")).scalar_one()) for name in PRAGMAS)
    except DatabaseError:
        owner, kept = 0, 0
    if owner != APPLICATION_ID:
        store.close()
        raise InputProblem("demo", f"{store.engine.url.database} is not a demo database; move it away first")
    if kept != stamp:
        return False
    try:
        upgrade(store)
    except CommandError:
        return False
    return True


def _fill(s: Session, folder: Path) -> None:
    town = TownDraft(
        read_buildings(folder / "buildings.geojson").buildings,
        read_trees(folder / "trees.geojson"),
        read_footways(folder / "footways.geojson").footways,
        read_lamps(folder / "lamps.geojson"),
        ATTRIBUTION,
        read_hints(folder / "hints.geojson"),
    )
    replace_import(s, "Havenmark", town)
    for draft in read_spots(folder / "spots.geojson", zone_at).spots:
        add_spot(s, draft)
    kit = read_kit(folder / "kit.toml")
    add_kit(s, kit)
    fill_setups(s, folder, kit)
    fill_rules(s, folder)
    fill_counts(s, (folder / "counts.csv").read_bytes())
    fill_running(s, folder)
