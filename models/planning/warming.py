"""Working ahead: what lists and maps will ask for first, before anybody waits for it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from math import inf

from models.planning.light import SpotLight, lights_of
from models.planning.map_layers import MOST_SPOTS
from models.planning.spots import MOST_BRIGHTNESS
from models.planning.standing import standings_at
from models.store import spots as kept
from models.store.engine import Store

AT_ONCE = 5


def warming(store: Store, now: datetime) -> Iterator[None]:
    """Works out the light of the first spots by name, in the season of `now`, then the skylines of the rest.

    Yields after each small piece of work; dropping the iterator stops it. What is known already takes no time.
    """
    with store.reading() as s:
        found = kept.spots_in_view(s, None, MOST_SPOTS)
    for spot in found[:MOST_BRIGHTNESS]:
        (light,) = lights_of(store, [spot], standings_at(store, [spot], inf), passing=True)
        if isinstance(light, SpotLight):
            light.fixed_at(now)
        yield
    for start in range(MOST_BRIGHTNESS, len(found), AT_ONCE):
        standings_at(store, found[start : start + AT_ONCE], inf)
        yield
