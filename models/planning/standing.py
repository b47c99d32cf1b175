"""What stands round a kept spot: its skyline, worked out once, then read back."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass, replace
from functools import partial
from sys import intern
from time import perf_counter
from typing import Any

import numpy as np

from models.planning.memory import Memory
from models.planning.scenes import SpotScene, scene_key, scene_of
from models.planning.shelf import shelve
from models.store.caches import get_cache, get_caches
from models.store.engine import Store
from models.store.town import Reaches, reaches
from models.street.scene import Canopy
from models.street.skies import Sight, sight_of
from models.street.skyline import MODEL_VERSION, InsideBuilding, Skyline, skyline_of
from models.street.spot import SpotGround

AT_ONCE = 250
BIN = np.dtype([("elevation_deg", "<f4"), ("doubt_deg", "<f4"), ("obstacle", "<i4")])
"""A skyline's bin as kept: a millionth of a degree is more than anybody measures."""

MOST_BYTES = 96_000_000
"""Some six thousand spots: a skyline, ten canopies and thirty buildings in sight weigh about 15 kB."""


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """building_ids: the number in the store of each obstacle of the skyline. assumed_buildings: those obstacles whose
    height nobody recorded, assumed_share: of all bearings, those on which they are the skyline. assumed: in words."""

    sight: Sight
    building_ids: tuple[int, ...]
    assumed_buildings: tuple[int, ...]
    assumed: tuple[str, ...]
    assumed_share: float

    @property
    def skyline(self) -> Skyline:
        return self.sight.skyline


@dataclass(frozen=True, slots=True)
class Inside:
    """Nothing can be said: the spot lies inside a building, the number of it among those near."""

    building: int


def _weight(known: Standing | Inside) -> int:
    """Bytes, about."""
    if isinstance(known, Inside):
        return 200
    skyline = known.skyline
    return 2000 + len(skyline.elevation_deg) * BIN.itemsize + 500 * len(skyline.canopies) + 40 * len(known.building_ids)


_MEMORY: Memory[Standing | Inside] = Memory(MOST_BYTES, _weight)


def standing_at(store: Store, spot: SpotGround) -> Standing:
    """From memory, from the database, or worked out and kept there. Raises InsideBuilding."""
    with store.reading() as s:
        key = _key(reaches(s), spot)
    known = _MEMORY.once(key, partial(_found, store, spot, key))
    if isinstance(known, Inside):
        raise InsideBuilding(known.building)
    return known


def standings_at(store: Store, spots: Sequence[SpotGround], patience_s: float) -> tuple[Standing | Inside | None, ...]:
    """The same for many spots; None where patience ran out before it was worked out: ask again."""
    started = perf_counter()
    with store.reading() as s:
        near = reaches(s)
        keys = [_key(near, spot) for spot in spots]
        known = {key: _MEMORY.get(key) for key in keys}
        missing = [key for key, value in known.items() if value is None]
        for start in range(0, len(missing), AT_ONCE):
            if perf_counter() - started > patience_s:
                break
            for key, kept in get_caches(s, missing[start : start + AT_ONCE]).items():
                known[key] = read = _unpacked(kept)
                _MEMORY.put(key, read)
    fresh = {}
    for spot, key in zip(spots, keys, strict=True):
        if known[key] is None and perf_counter() - started < patience_s:
            known[key] = fresh[key] = _MEMORY.once(key, partial(_worked_out, store, spot))
    shelve(store, {key: _packed(value) for key, value in fresh.items()})
    return tuple(known[key] for key in keys)


def _key(near: Reaches, spot: SpotGround) -> str:
    return f"standing:{scene_key(near, spot, MODEL_VERSION)}"


def _found(store: Store, spot: SpotGround, key: str) -> Standing | Inside:
    with store.reading() as s:
        kept = get_cache(s, key)
    if kept is not None:
        return _unpacked(kept)
    known = _worked_out(store, spot)
    shelve(store, {key: _packed(known)})
    return known


def _worked_out(store: Store, spot: SpotGround) -> Standing | Inside:
    with store.reading() as s:
        found = scene_of(s, spot)
    try:
        skyline = skyline_of(found.scene.walls, found.scene.canopies, spot.measured)
    except InsideBuilding as problem:
        return Inside(problem.building)
    return _standing(found, skyline)


def _standing(found: SpotScene, skyline: Skyline) -> Standing:
    """Only the buildings that make the skyline are kept, and numbered anew."""
    walls = found.scene.walls
    seen = np.unique(skyline.obstacle[skyline.obstacle >= 0])
    obstacle = np.where(skyline.obstacle >= 0, np.searchsorted(seen, skyline.obstacle), skyline.obstacle)
    guessed = np.zeros(0) if walls.assumed is None else np.unique(walls.building[walls.assumed])
    rows = _rows(replace(skyline, obstacle=obstacle.astype(np.int32)))
    return Standing(
        sight=sight_of(_skyline(rows, skyline.source, skyline.canopies)),
        building_ids=tuple(found.building_ids[k] for k in seen),
        assumed_buildings=tuple(np.flatnonzero(np.isin(seen, guessed)).tolist()),
        assumed=found.assumed,
        assumed_share=float(np.isin(skyline.obstacle, guessed).mean()),
    )


def _packed(known: Standing | Inside) -> bytes:
    """A line of facts, then the bins."""
    if isinstance(known, Inside):
        return json.dumps({"inside": known.building}).encode() + b"\n"
    facts = {
        "source": known.skyline.source,
        "canopies": [asdict(canopy) for canopy in known.skyline.canopies],
        "building_ids": known.building_ids,
        "assumed_buildings": known.assumed_buildings,
        "assumed": known.assumed,
        "assumed_share": known.assumed_share,
    }
    return json.dumps(facts).encode() + b"\n" + _rows(known.skyline).tobytes()


def _unpacked(kept: bytes) -> Standing | Inside:
    line, _, bins = kept.partition(b"\n")
    read = json.loads(line)
    if "inside" in read:
        return Inside(read["inside"])
    skyline = _skyline(np.frombuffer(bins, BIN), read["source"], tuple(map(_canopy, read["canopies"])))
    numbers, guessed, words = (tuple(read[name]) for name in ("building_ids", "assumed_buildings", "assumed"))
    return Standing(sight_of(skyline), numbers, guessed, tuple(map(intern, words)), read["assumed_share"])


def _rows(skyline: Skyline) -> np.ndarray[Any, np.dtype[np.void]]:
    rows = np.empty(len(skyline.elevation_deg), BIN)
    for name in BIN.names or ():
        rows[name] = getattr(skyline, name)
    return rows


def _skyline(rows: np.ndarray[Any, np.dtype[np.void]], source: str, canopies: tuple[Canopy, ...]) -> Skyline:
    """As it comes back from the database, also where it was worked out just now: every answer rests on the same."""
    elevation, doubt, obstacle = (np.ascontiguousarray(rows[name]) for name in BIN.names or ())
    return Skyline(elevation, doubt, obstacle, intern(source), canopies)


def _canopy(row: dict[str, Any]) -> Canopy:
    return Canopy(**{**row, "leaf_months": tuple(row["leaf_months"]), "name": intern(row["name"])})
