"""What many spots read at one moment, as far as patience goes."""

from __future__ import annotations

from collections.abc import Sequence
from time import perf_counter

from models.planning.answers import Moment
from models.planning.light import SpotLight, lights_of
from models.planning.now import Reading, reading_now
from models.planning.standing import Inside, standings_at
from models.store.engine import Store
from models.street.spot import SpotGround

FEW = 50
"""As many as a page of the list. Light of more spots than these drives nothing out of memory."""


def readings_of(
    store: Store, spots: Sequence[SpotGround], moment: Moment, patience_s: float, looking_deg: float | None = None
) -> tuple[Reading | Inside | None, ...]:
    """A reading for each spot, Inside for one that lies in a building, None where patience ran out: ask again.

    looking_deg: the camera's bearing, None for the usual one of each spot.
    """
    started = perf_counter()
    standings = standings_at(store, spots, patience_s)
    found: list[Reading | Inside | None] = []
    for light in lights_of(store, spots, standings, passing=len(spots) > FEW):
        if not isinstance(light, SpotLight):
            found.append(light)
        elif perf_counter() - started > patience_s:
            found.append(None)
        else:
            looking = light.spot.looking_deg if looking_deg is None else looking_deg
            found.append(reading_now(light, moment, looking))
    return tuple(found)
