"""Sun, shade or dark for every spot in view, however many."""

from __future__ import annotations

from datetime import datetime
from time import perf_counter

import numpy as np

from models.clock import to_local, unix_s
from models.light.lamps import lamps_lx
from models.planning.answers import Moment, SpotState
from models.planning.standing import Standing, standing_at
from models.planning.states import ORDER, state_codes, state_words
from models.sky.sun import sun_positions
from models.store import spots as kept
from models.store.engine import Store
from models.store.settings import get_setting
from models.store.spots import Spot
from models.street.skyline import InsideBuilding, sun_states
from models.street.town import Box

MOST_SPOTS = 5000
PATIENCE_S = 1.0
"""Longest that one answer works at skylines not yet known; the rest follows when asked again."""

UNKNOWN_WORDS = "not known yet"
INSIDE_WORDS = "inside a building"


def states_at(store: Store, moment: Moment, box: Box) -> tuple[SpotState, ...]:
    """The state of every spot in view; None where its skyline is not known yet or cannot be."""
    start = perf_counter()
    with store.reading() as s:
        found = kept.list_spots(s, box=box, limit=MOST_SPOTS)
        lighting_up_deg = float(get_setting(s, "lighting_up_deg"))
    return tuple(
        _state(spot, moment, lighting_up_deg, _standing(store, spot, moment.instant, perf_counter() - start))
        for spot in found
    )


def _standing(store: Store, spot: Spot, now: datetime, spent_s: float) -> Standing | str:
    """What stands round the spot, or words for why that is not known."""
    try:
        return standing_at(store, spot) if spent_s < PATIENCE_S else UNKNOWN_WORDS
    except InsideBuilding:
        return INSIDE_WORDS


def _state(spot: Spot, moment: Moment, lighting_up_deg: float, standing: Standing | str) -> SpotState:
    place = (spot.id, spot.name, spot.latitude_deg, spot.longitude_deg)
    if isinstance(standing, str):
        return SpotState(*place, None, standing, None)
    elevation, azimuth = sun_positions(np.array([unix_s(moment.instant)]), spot.latitude_deg, spot.longitude_deg)
    sun = sun_states(standing.skyline, elevation, azimuth, to_local(moment.instant, spot.zone).month)
    lamps_known = lamps_lx(spot.lighting_class, spot.night_ev100) is not None
    state = ORDER[state_codes(sun, elevation, moment.oktas, lighting_up_deg, lamps_known)[0]]
    return SpotState(*place, state, state_words(state, moment.oktas), None, bool(sun.too_close[0]))
