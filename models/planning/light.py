"""The light at kept spots: what stands there worked out once and kept, then any instant, day or year from it."""

from __future__ import annotations

import zlib
from collections.abc import Sequence
from dataclasses import dataclass, field, fields, replace
from datetime import datetime
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from models.clock import from_unix_s, to_local
from models.light.lamps import MIDDLE_EV100, UNKNOWN_STOPS, lamps_lx, upright_share
from models.light.subject import LightSeries, light_over
from models.light.transport import BEARINGS, Coefficients, coefficients
from models.light.transport import MODEL_VERSION as TRANSPORT_VERSION
from models.planning.memory import Memory
from models.planning.scenes import scene_key, scene_of
from models.planning.shelf import shelve
from models.planning.standing import Inside, Standing, standing_at
from models.sky.daylight import OpenSky, open_sky
from models.sky.sun import sun_positions
from models.store.caches import get_cache
from models.store.engine import Store
from models.store.settings import get_setting
from models.store.town import Reaches, reaches
from models.street.skies import sun_states_over
from models.street.skyline import MODEL_VERSION as SKYLINE_VERSION
from models.street.skyline import SunStates, sun_states
from models.street.spot import SpotGround
from models.units import illuminance_from_ev100

Floats = NDArray[np.float64]
MOST_BYTES = 80_000_000
"""Some sixty spots at 1 to 1.5 MB for each season."""


def _weight(fixed: Coefficients) -> int:
    """Bytes."""
    return sum(getattr(fixed, part.name).nbytes for part in fields(fixed))


_MEMORY: Memory[Coefficients] = Memory(MOST_BYTES, _weight)


@dataclass(frozen=True, eq=False)
class SpotLight:
    """A spot with all that is fixed about its light, each season of its trees worked out when first asked for.

    key: names all that its light rests on, but day, time and sky. passing: one of many, for which nothing that is kept
    in memory has to go.
    """

    key: str
    spot: SpotGround
    standing: Standing
    lighting_up_deg: float
    store: Store
    fixed_key: str
    passing: bool = False
    _seasons: dict[bool, Coefficients] = field(default_factory=dict)

    def fixed(self, *, in_leaf: bool) -> Coefficients:
        """From memory, from the database, or worked out and kept there."""
        season = in_leaf or not self.seasonal
        if season not in self._seasons:
            key = f"{self.fixed_key}:{'in leaf' if season else 'bare'}"
            self._seasons[season] = _MEMORY.once(key, lambda: _found(self, key, season), if_room=self.passing)
        return self._seasons[season]

    def fixed_at(self, instant: datetime) -> Coefficients:
        """In the season of an instant."""
        return self.fixed(in_leaf=to_local(instant, self.spot.zone).month in self.leaf_months)

    @cached_property
    def seasonal(self) -> bool:
        """Whether any of its canopies is another in winter."""
        return any(c.transmittance_leaf != c.transmittance_bare for c in self.standing.skyline.canopies)

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

    def lamps_decide(self, series: Series, face_ev100: Floats) -> NDArray[np.bool_]:
        """(n,) whether over half of a face's light is that of lamps that are not known."""
        return self.lamps_doubt(series, face_ev100) > UNKNOWN_STOPS / 2


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


def spot_light(store: Store, spot: SpotGround, *, now: datetime) -> SpotLight:
    """The light of a spot, ready for the season of `now`. Raises InsideBuilding."""
    light = _light(store, _shared(store), spot, standing_at(store, spot))
    light.fixed_at(now)
    return light


def lights_of(
    store: Store, spots: Sequence[SpotGround], standings: Sequence[Standing | Inside | None], *, passing: bool = False
) -> tuple[SpotLight | Inside | None, ...]:
    """The light of each spot of which it is known what stands there, nothing of it worked out yet."""
    shared = _shared(store)
    return tuple(
        _light(store, shared, spot, standing, passing) if isinstance(standing, Standing) else standing
        for spot, standing in zip(spots, standings, strict=True)
    )


@dataclass(frozen=True, slots=True, eq=False)
class SunPath:
    """The sun over one spot at n instants (unix seconds), and what stands before it, whatever the sky."""

    unix_s: Floats
    elevation_deg: Floats
    azimuth_deg: Floats
    months: NDArray[np.int64]
    day_of_year: Floats
    sun: SunStates


def sun_path(light: SpotLight, unix_s: Floats) -> SunPath:
    elevation, azimuth = sun_positions(unix_s, light.spot.latitude_deg, light.spot.longitude_deg)
    months, day_of_year = _calendar(unix_s, light.spot.zone)
    return SunPath(unix_s, elevation, azimuth, months, day_of_year, _sun(light, elevation, azimuth, months))


def light_series(light: SpotLight, unix_s: Floats, oktas: float, looking_deg: tuple[float, ...] = BEARINGS) -> Series:
    """Sun, sky and light on the subject at each instant (unix seconds); one instant is a series of one.

    looking_deg: the camera bearings whose backdrop is wanted.
    """
    return light_along(light, sun_path(light, unix_s), oktas, looking_deg)


def light_along(light: SpotLight, path: SunPath, oktas: float, looking_deg: tuple[float, ...] = BEARINGS) -> Series:
    """The same for a path that is known, so that several skies share it."""
    sky = open_sky(path.elevation_deg, oktas, light.spot.turbidity, path.day_of_year)
    lamps_on = path.elevation_deg < light.lighting_up_deg
    lamps = np.where(lamps_on, light.lamps_taken_lx, 0.0)
    arrives = (path.elevation_deg, path.azimuth_deg, sky, path.sun.transmittance, lamps)
    leafy = np.isin(path.months, list(light.leaf_months)) | (not light.seasonal)
    if leafy.all() or not leafy.any():
        found = _light_over(light, bool(leafy.all()), slice(None), arrives, oktas, looking_deg)
    else:
        in_leaf, bare = (_light_over(light, leaf, leafy == leaf, arrives, oktas, looking_deg) for leaf in (True, False))
        found = bare.among(leafy, in_leaf)
    return Series(path.unix_s, path.elevation_deg, path.azimuth_deg, path.sun, sky, lamps_on, found)


def _shared(store: Store) -> tuple[Reaches, float]:
    """What all spots share: how far imports reach, and the sun's height at lighting-up time."""
    with store.reading() as s:
        return reaches(s), float(get_setting(s, "lighting_up_deg"))


def _light(
    store: Store, shared: tuple[Reaches, float], spot: SpotGround, standing: Standing, passing: bool = False
) -> SpotLight:
    near, lighting_up_deg = shared
    fixed = f"light:{scene_key(near, spot, SKYLINE_VERSION, TRANSPORT_VERSION)}"
    key = repr((fixed, spot.zone, spot.turbidity, spot.lighting_class, spot.night_ev100, lighting_up_deg))
    return SpotLight(key, spot, standing, lighting_up_deg, store, fixed, passing)


def _calendar(unix_s: Floats, zone: str) -> tuple[NDArray[np.int64], Floats]:
    """Local month and day of the year of each instant, by the clock in force at the first of them."""
    ahead = to_local(from_unix_s(unix_s[0]), zone).utcoffset() if len(unix_s) else None
    local = unix_s + (ahead.total_seconds() if ahead else 0.0)
    days = local.astype("datetime64[s]").astype("datetime64[D]")
    months = days.astype("datetime64[M]").astype(np.int64) % 12 + 1
    return months, (days - days.astype("datetime64[Y]")).astype(np.float64) + 1


def _sun(light: SpotLight, elevation_deg: Floats, azimuth_deg: Floats, months: NDArray[np.int64]) -> SunStates:
    if len(elevation_deg) == 1:  # all its canopies at once
        return sun_states_over((light.standing.sight,), elevation_deg, azimuth_deg, months)
    return sun_states(light.standing.skyline, elevation_deg, azimuth_deg, months)


def _light_over(
    light: SpotLight,
    in_leaf: bool,
    when: slice | NDArray[np.bool_],
    arrives: tuple[Floats, Floats, OpenSky, Floats, Floats],
    oktas: float,
    looking_deg: tuple[float, ...],
) -> LightSeries:
    """The light in one season, at those instants."""
    elevation, azimuth, sky, transmittance, lamps = arrives
    there = OpenSky(*(getattr(sky, part.name)[when] for part in fields(OpenSky)))
    given = elevation[when], azimuth[when], there, oktas, transmittance[when], lamps[when]
    return light_over(light.fixed(in_leaf=in_leaf), *given, looking_deg)


def _found(light: SpotLight, key: str, in_leaf: bool) -> Coefficients:
    with light.store.reading() as s:
        kept = get_cache(s, key)
    if kept is not None:
        return Coefficients.from_bytes(zlib.decompress(kept))
    with light.store.reading() as s:
        scene = scene_of(s, light.spot).scene
    fixed = coefficients(replace(scene, canopies=light.standing.skyline.canopies), in_leaf=in_leaf)
    shelve(light.store, {key: zlib.compress(fixed.to_bytes(), level=1)})
    return fixed
