"""The light at one spot at one moment: its state, what face and backdrop read, and how far that can be trusted."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.clock import unix_s
from models.light.calibration import posterior
from models.light.exposure import EvFigure
from models.light.lamps import UNKNOWN_EV100
from models.light.transport import BEARINGS
from models.planning.answers import Figure, Moment, RestsOn, State
from models.planning.facings import behind_ev, face_ev
from models.planning.light import Series, SpotLight, light_series
from models.planning.memory import Memory
from models.planning.moments import sky_words
from models.planning.states import ORDER, state_codes, state_words
from models.sky.daylight import cloud_leaves
from models.sky.sun import refracted_deg

Floats = NDArray[np.float64]
HEIGHTS_STOPS = 0.5
"""Added doubt where every height round a spot is guessed: our planning rule, no source."""

CLOUD_STOPS = (0.1, 0.3, 0.3, 0.4, 0.5, 0.5, 0.5, 0.4, 0.4)
"""Added doubt by oktas: broken cloud comes and goes before the sun. Our planning rule, no source."""

Sky = tuple[int, float]
"""Oktas, and how far they may lie off either way."""

MOST_READINGS = 5000


@dataclass(frozen=True, slots=True)
class Reading:
    """What a list says of a spot at one instant. behind: where a camera bearing is chosen."""

    state: State
    state_words: str
    too_close: bool
    subject: Figure
    behind: Figure | None

    @property
    def face(self) -> EvFigure:
        return EvFigure(self.subject.ev100, self.subject.doubt_stops)

    @property
    def backdrop(self) -> EvFigure | None:
        return EvFigure(self.behind.ev100, self.behind.doubt_stops) if self.behind else None


_MEMORY: Memory[Reading] = Memory(MOST_READINGS)


@dataclass(frozen=True, slots=True, eq=False)
class Now(Reading):
    """One instant at one spot. planes, behinds: by the eight bearings of light.facing.BEARINGS."""

    sun_elevation_deg: float
    sun_azimuth_deg: float
    sun_reaches: bool
    obstacle: int
    planes: tuple[EvFigure, ...]
    behinds: tuple[EvFigure, ...]
    rests_on: RestsOn
    series: Series
    looking_deg: float | None


def reading_now(light: SpotLight, moment: Moment, looking_deg: float | None) -> Reading:
    """The short of `light_now`: the same figures, worked out once for a list, its map and its other orders."""
    key = repr((light.key, moment.instant, sky_of(moment), looking_deg))
    return _MEMORY.once(key, lambda: _read(light, moment, looking_deg))


def _read(light: SpotLight, moment: Moment, looking_deg: float | None) -> Reading:
    bearings = () if looking_deg is None else (looking_deg,)
    series = light_series(light, np.array([unix_s(moment.instant)]), moment.oktas, bearings)
    return _reading(light, series, moment, looking_deg)


def _reading(light: SpotLight, series: Series, moment: Moment, looking_deg: float | None) -> Reading:
    given = light, series, sky_of(moment)
    state = _state(light, series, moment)
    facings = [float(face_ev(series.light, bearing)[0]) for bearing in BEARINGS]
    behind = None if looking_deg is None else Figure(*_first(behind_of(*given, looking_deg)))
    face, doubt = face_of(*given, looking_deg)
    unknown = UNKNOWN_EV100 if light.lamps_decide(series, face)[0] else None
    return Reading(
        state=state,
        state_words=state_words(state, moment.oktas),
        too_close=bool(series.sun.too_close[0]),
        subject=Figure(*_first((face, doubt)), (min(facings), max(facings)), unknown),
        behind=behind,
    )


def light_now(light: SpotLight, moment: Moment, looking_deg: float | None) -> Now:
    """The light of a spot at a moment, for a camera bearing or (None) the brightest way to face."""
    bearings = BEARINGS if looking_deg is None else tuple({*BEARINGS, looking_deg})
    series = light_series(light, np.array([unix_s(moment.instant)]), moment.oktas, bearings)
    given = light, series, sky_of(moment)
    planes = tuple(EvFigure(*_first(face_of(*given, bearing + 180))) for bearing in BEARINGS)
    behinds = tuple(EvFigure(*_first(behind_of(*given, bearing))) for bearing in BEARINGS)
    short = _reading(light, series, moment, looking_deg)
    return Now(
        *(short.state, short.state_words, short.too_close, short.subject, short.behind),
        sun_elevation_deg=float(refracted_deg(series.elevation_deg)[0]),
        sun_azimuth_deg=float(series.azimuth_deg[0]),
        sun_reaches=short.state in ("sun", "leaves"),
        obstacle=int(series.sun.obstacle[0]),
        planes=planes,
        behinds=behinds,
        rests_on=rests_on(light, moment, short.subject.doubt_stops),
        series=series,
        looking_deg=looking_deg,
    )


def face_of(light: SpotLight, series: Series, sky: Sky, looking_deg: float | None) -> tuple[Floats, Floats]:
    """(n,) EV100 of the face that looks back at the camera, and its doubt in stops."""
    face = face_ev(series.light, looking_deg)
    return face, _doubt(light, series, sky, face)


def behind_of(light: SpotLight, series: Series, sky: Sky, looking_deg: float) -> tuple[Floats, Floats]:
    """(n,) EV100 of what is behind the subject, and its doubt in stops, that of lamps as on the face."""
    return behind_ev(series.light, looking_deg), _doubt(light, series, sky, face_ev(series.light, looking_deg))


def _doubt(light: SpotLight, series: Series, sky: Sky, face_ev100: Floats) -> Floats:
    return np.hypot(doubt_of(light, *sky), light.lamps_doubt(series, face_ev100))


def doubt_of(light: SpotLight, oktas: int, spread_oktas: float = 0.0) -> float:
    """Stops by which a figure of a spot that nobody metered may be out, by day."""
    heights = HEIGHTS_STOPS * light.standing.assumed_share
    cloud = float(np.hypot(CLOUD_STOPS[oktas], spread_stops(oktas, spread_oktas)))
    return posterior((), heights_stops=heights, cloud_stops=cloud).doubt_stops


def spread_stops(oktas: float, spread_oktas: float) -> float:
    """Half the stops of global light between the least and the most cloud: our planning rule, no source."""
    least, most = max(0.0, oktas - spread_oktas), min(8.0, oktas + spread_oktas)
    return float(np.log2(cloud_leaves(least) / cloud_leaves(most))) / 2


def sky_of(moment: Moment) -> Sky:
    """As `face_of` and `behind_of` take it."""
    return moment.oktas, moment.oktas_spread


def _first(figures: tuple[Floats, Floats]) -> tuple[float, float]:
    return float(figures[0][0]), float(figures[1][0])


def rests_on(light: SpotLight, moment: Moment, doubt: float) -> RestsOn:
    """What every figure of a spot at a moment rests on."""
    assumed = list(light.standing.assumed)
    if moment.oktas_by.startswith("assumed"):
        assumed.append(f"a sky of {moment.oktas} oktas ({sky_words(moment.oktas)})")
    if moment.oktas_spread:
        assumed.append(
            f"the cloud of the forecast to lie off by up to {moment.oktas_spread:.1f} eighths, for its age and the "
            f"hours beside it: {spread_stops(*sky_of(moment)):.2f} stop either way, by our own rule"
        )
    if light.lamps_lx is None:
        low, high = UNKNOWN_EV100
        assumed.append(f"after dark the lamps: not known here, so somewhere from EV {low:g} to {high:g}")
    return RestsOn(moment.oktas, moment.oktas_by, light.standing.skyline.source, 0, doubt, tuple(assumed))


def _state(light: SpotLight, series: Series, moment: Moment) -> State:
    codes = state_codes(
        series.sun, series.elevation_deg, moment.oktas, light.lighting_up_deg, light.lamps_lx is not None
    )
    return ORDER[int(codes[0])]
