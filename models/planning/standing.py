"""What stands round a kept spot: its skyline, worked out once, then read back."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import datetime

import numpy as np
from sqlalchemy.orm import Session

from models.planning.memory import Memory
from models.planning.scenes import SpotScene, scene_key, scene_of
from models.store.caches import get_cache, put_cache
from models.store.engine import Store
from models.store.spots import Spot
from models.street.scene import Canopy
from models.street.skyline import MODEL_VERSION, Skyline, skyline_of


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """building_ids: the number in the store of each obstacle of the skyline. assumed_buildings: those obstacles whose
    height nobody recorded, assumed_share: of all bearings, those on which they are the skyline. assumed: in words."""

    skyline: Skyline
    building_ids: tuple[int, ...]
    assumed_buildings: tuple[int, ...]
    assumed: tuple[str, ...]
    assumed_share: float


_MEMORY: Memory[Standing] = Memory(most=6000)


def standing_at(store: Store, spot: Spot, *, now: datetime) -> Standing:
    """From memory, from the database, or worked out and kept there. Raises InsideBuilding."""
    with store.reading() as s:
        key = f"skyline:{scene_key(s, spot, MODEL_VERSION)}"
        known = _MEMORY.get(key) or _from_cache(s, key)
        scene = None if known else scene_of(s, spot)
    if scene is not None:
        known = _worked_out(scene, spot)
        with store.writing() as s:
            _keep(s, key, known, now)
    assert known is not None  # noqa: S101  read or made above
    _MEMORY.put(key, known)
    return known


def _worked_out(found: SpotScene, spot: Spot) -> Standing:
    skyline = skyline_of(found.scene.walls, found.scene.canopies, spot.measured)
    walls = found.scene.walls
    guessed = () if walls.assumed is None else tuple(np.unique(walls.building[walls.assumed]).tolist())
    share = float(np.isin(skyline.obstacle, guessed).mean())
    return Standing(skyline, found.building_ids, guessed, found.assumed, share)


def _from_cache(s: Session, key: str) -> Standing | None:
    packed, facts = get_cache(s, key), get_cache(s, key + ":facts")
    if packed is None or facts is None:
        return None
    read = json.loads(facts)
    skyline = Skyline.from_bytes(packed, _canopies(read["canopies"]))
    numbers, guessed, words = (tuple(read[name]) for name in ("building_ids", "assumed_buildings", "assumed"))
    return Standing(skyline, numbers, guessed, words, read["assumed_share"])


def _keep(s: Session, key: str, standing: Standing, now: datetime) -> None:
    facts = {
        "canopies": [asdict(canopy) for canopy in standing.skyline.canopies],
        "building_ids": standing.building_ids,
        "assumed_buildings": standing.assumed_buildings,
        "assumed": standing.assumed,
        "assumed_share": standing.assumed_share,
    }
    put_cache(s, key, standing.skyline.to_bytes(), now=now)
    put_cache(s, key + ":facts", json.dumps(facts).encode(), now=now)


def _canopies(rows: Sequence[dict[str, object]]) -> tuple[Canopy, ...]:
    return tuple(Canopy(**{**row, "leaf_months": tuple(row["leaf_months"])}) for row in rows)  # type: ignore[arg-type]
