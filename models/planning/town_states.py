"""Sun, shade or dark for every spot in view, however many, all in one go."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from models.clock import to_local, unix_s
from models.light.lamps import lamps_lx
from models.planning.answers import Moment, SpotState
from models.planning.standing import Inside, Standing, standings_at
from models.planning.states import ORDER, state_codes, state_words
from models.sky.sun import sun_positions
from models.store.engine import Store
from models.store.settings import get_setting
from models.store.spots import SpotInView
from models.street.skies import sun_states_over

PATIENCE_S = 1.0
"""Longest that one answer works at skylines not yet known; the rest follows when asked again."""

UNKNOWN_WORDS = "not known yet"
INSIDE_WORDS = "inside a building"

Standings = Sequence[Standing | Inside | None]


def states_of(store: Store, found: Sequence[SpotInView], moment: Moment) -> tuple[SpotState, ...]:
    """The state of every spot; None where its skyline is not known yet or cannot be."""
    standings = standings_at(store, found, PATIENCE_S)
    with store.reading() as s:
        lighting_up_deg = float(get_setting(s, "lighting_up_deg"))
    codes, close = _codes(found, standings, moment, lighting_up_deg)
    words = [state_words(state, moment.oktas) for state in ORDER]
    states = []
    for spot, standing, code, unsure in zip(found, standings, codes.tolist(), close.tolist(), strict=True):
        place = (spot.id, spot.name, spot.latitude_deg, spot.longitude_deg)
        if isinstance(standing, Standing):
            states.append(SpotState(*place, ORDER[code], words[code], None, unsure))
        else:
            states.append(SpotState(*place, None, INSIDE_WORDS if standing else UNKNOWN_WORDS, None))
    return tuple(states)


def _codes(
    found: Sequence[SpotInView], standings: Standings, moment: Moment, lighting_up_deg: float
) -> tuple[NDArray[np.int64], NDArray[np.bool_]]:
    """(n,) indexes of ORDER and whether too close to call; 0 and False where nothing is known."""
    codes, close = np.zeros(len(found), np.int64), np.zeros(len(found), np.bool_)
    known = [k for k, standing in enumerate(standings) if isinstance(standing, Standing)]
    spots = [found[k] for k in known]
    latitude, longitude = np.array([(spot.latitude_deg, spot.longitude_deg) for spot in spots]).reshape(-1, 2).T
    elevation, azimuth = sun_positions(np.full(len(known), unix_s(moment.instant)), latitude, longitude)
    month = {zone: to_local(moment.instant, zone).month for zone in {spot.zone for spot in spots}}
    months = np.array([month[spot.zone] for spot in spots], np.int64)
    sights = [standing.sight for standing in standings if isinstance(standing, Standing)]
    sun = sun_states_over(sights, elevation, azimuth, months)
    lamps = np.array([lamps_lx(spot.lighting_class, spot.night_ev100) is not None for spot in spots], np.bool_)
    codes[known] = state_codes(sun, elevation, moment.oktas, lighting_up_deg, lamps)
    close[known] = sun.too_close
    return codes, close
