"""The light at kept spots: what stands there worked out once and kept, then any instant, day or year from it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from sqlalchemy.orm import Session

from models.clock import from_unix_s, to_local
from models.light.facing import BEARINGS
from models.light.lamps import MIDDLE_EV100, UNKNOWN_STOPS, lamps_lx, upright_share
from models.light.subject import LightSeries, light_over
from models.light.transport import MODEL_VERSION as TRANSPORT_VERSION
from models.light.transport import Coefficients, coefficients
from models.planning.memory import Memory
from models.planning.scenes import scene_key, scene_of
from models.planning.standing import Standing, standing_at
from models.sky.daylight import OpenSky, open_sky
from models.sky.sun import sun_positions
from models.store.caches import get_cache, put_cache
from models.store.engine import Store
from models.store.settings import get_setting
from models.store.spots import Spot
from models.street.skyline import MODEL_VERSION as SKYLINE_VERSION
from models.street.skyline import SunStates, sun_states
from models.units import illuminance_from_ev100

Floats = NDArray[np.float64]
_MEMORY: Memory[tuple[Coefficients, Coefficients]] = Memory(most=64)


@dataclass(frozen=True, eq=False)
class SpotLight:
    """A spot with all that is fixed about its light. bare: the same spot with its trees bare.

    key: names all that its light rests on, but day, time and sky.
    """

    key: str
    spot: Spot
    standing: Standing
    in_leaf: Coefficients
    bare: Coefficients
    lighting_up_deg: float

    @cached_property
    def leaf_months(self) -> frozenset[int]:
        """Months in which any of the canopies is in leaf."""
        return frozenset(month for canopy in self.standing.skyline.canopies for month in canopy.leaf_months)

    @cached_property
    def lamps_lx(self) -> float | None:
        """What the lamps add on level ground, lx; None: not known."""
        spot = self.spot
        return lamps_lx(spot.lighting_class, spot.night_ev100, spot.ground_reflectance)

    @cached_property
    def lamps_taken_lx(self) -> float:
        """The same; where it is not known, the middle of what a street may have."""
        known = self.lamps_lx
        return (lamps_lx(None, MIDDLE_EV100, self.spot.ground_reflectance) or 0.0) if known is None else known

    def lamps_doubt(self, series: Series, face_ev100: Floats) -> Floats:
        """(n,) stops by which lamps that are not known may put a face out: their doubt by their share of its light."""
        if self.lamps_lx is not None:
            return np.zeros(len(face_ev100))
        given = series.lamps_on * self.lamps_taken_lx * upright_share(self.spot.ground_reflectance)
        return UNKNOWN_STOPS * np.minimum(given / illuminance_from_ev100(face_ev100), 1.0)


@dataclass(frozen=True, slots=True, eq=False)
class Series:
    """Light at one spot over n instants; lamps_on: (n,) bool, past lighting-up time."""

    unix_s: Floats
    elevation_deg: Floats
    azimuth_deg: Floats
    sun: SunStates
    sky: OpenSky
    lamps_on: NDArray[np.bool_]
    light: LightSeries


def spot_light(store: Store, spot: Spot, *, now: datetime) -> SpotLight:
    """The light of a spot, from memory, from the database, or worked out and kept there. Raises InsideBuilding."""
    standing = standing_at(store, spot, now=now)
    with store.reading() as s:
        key = f"light:{scene_key(s, spot, SKYLINE_VERSION, TRANSPORT_VERSION)}"
        lighting_up_deg = float(get_setting(s, "lighting_up_deg"))
        kept = _MEMORY.get(key) or _from_cache(s, key)
        scene = None if kept else scene_of(s, spot).scene
    if scene is not None:
        scene = replace(scene, canopies=standing.skyline.canopies)
        seasonal = any(c.transmittance_leaf != c.transmittance_bare for c in scene.canopies)
        in_leaf = coefficients(scene, in_leaf=True)
        kept = in_leaf, coefficients(scene, in_leaf=False) if seasonal else in_leaf
        _keep(store, key, kept, now)
    assert kept is not None  # noqa: S101  read or made above
    _MEMORY.put(key, kept)
    return SpotLight(_light_key(key, spot, lighting_up_deg), spot, standing, *kept, lighting_up_deg)


def light_series(light: SpotLight, unix_s: Floats, oktas: float, looking_deg: tuple[float, ...] = BEARINGS) -> Series:
    """Sun, sky and light on the subject at each instant (unix seconds); one instant is a series of one.

    looking_deg: the camera bearings whose backdrop is wanted.
    """
    elevation, azimuth = sun_positions(unix_s, light.spot.latitude_deg, light.spot.longitude_deg)
    months, day_of_year = _calendar(unix_s, light.spot.zone)
    sun = sun_states(light.standing.skyline, elevation, azimuth, months)
    sky = open_sky(elevation, oktas, light.spot.turbidity, day_of_year)
    lamps_on = elevation < light.lighting_up_deg
    lamps = np.where(lamps_on, light.lamps_taken_lx, 0.0)
    arrives = (elevation, azimuth, sky, oktas, sun.transmittance, lamps, looking_deg)
    leafy = np.isin(months, list(light.leaf_months)) if light.bare is not light.in_leaf else np.ones(len(unix_s), bool)
    found = light_over(light.in_leaf if leafy.all() else light.bare, *arrives)
    if leafy.any() and not leafy.all():
        found = found.where(leafy, light_over(light.in_leaf, *arrives))
    return Series(unix_s, elevation, azimuth, sun, sky, lamps_on, found)


def _light_key(fixed: str, spot: Spot, lighting_up_deg: float) -> str:
    return repr((fixed, spot.zone, spot.turbidity, spot.lighting_class, spot.night_ev100, lighting_up_deg))


def _calendar(unix_s: Floats, zone: str) -> tuple[NDArray[np.int64], Floats]:
    """Local month and day of the year of each instant, by the clock in force at the first of them."""
    ahead = to_local(from_unix_s(unix_s[0]), zone).utcoffset() if len(unix_s) else None
    local = unix_s + (ahead.total_seconds() if ahead else 0.0)
    days = local.astype("datetime64[s]").astype("datetime64[D]")
    months = days.astype("datetime64[M]").astype(np.int64) % 12 + 1
    return months, (days - days.astype("datetime64[Y]")).astype(np.float64) + 1


def _from_cache(s: Session, key: str) -> tuple[Coefficients, Coefficients] | None:
    in_leaf, bare = get_cache(s, key), get_cache(s, key + ":bare")
    if in_leaf is None:
        return None
    first = Coefficients.from_bytes(in_leaf)
    return first, Coefficients.from_bytes(bare) if bare else first


def _keep(store: Store, key: str, kept: tuple[Coefficients, Coefficients], now: datetime) -> None:
    in_leaf, bare = kept
    with store.writing() as s:
        put_cache(s, key, in_leaf.to_bytes(), now=now)
        if bare is not in_leaf:
            put_cache(s, key + ":bare", bare.to_bytes(), now=now)
