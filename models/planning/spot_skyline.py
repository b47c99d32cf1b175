"""The skyline strip of a spot: what stands there, the sun's way through it, the moment in words."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from models.clock import from_unix_s, time_words, to_local, unix_s
from models.drawing.skyline_strip import Crown, Edge, HandPoint, HourMark, SkylineStrip, SunMark, SunMoment
from models.planning.answers import Moment
from models.planning.day import Day
from models.planning.light import SpotLight
from models.planning.now import Now
from models.planning.sentence import bearing_words
from models.planning.standing import Standing
from models.sky.sun import refracted_deg
from models.store.engine import Store
from models.store.town import get_building
from models.street.scene import Canopy
from models.street.skyline import MEASURED, ROOF, STATES
from models.units import compass_words

MARKS: dict[str, SunMark] = {"down": "behind", "open": "open", "leaves": "leaves", "behind": "behind"}
HOUR_S = 3600


def obstacle_words(store: Store, standing: Standing, obstacle: int, azimuth_deg: float) -> str:
    """What the sun is behind: the building's name, or where it stands."""
    if obstacle == MEASURED:
        return "the skyline measured by hand"
    if obstacle == ROOF:
        return "the roof overhead"
    if not 0 <= obstacle < len(standing.building_ids):
        return ""
    with store.reading() as s:
        row = get_building(s, standing.building_ids[obstacle])
    return row.name if row and row.name else f"a building to the {compass_words(azimuth_deg)}"


def strip_of(
    light: SpotLight, day: Day, now: Now, moment: Moment, looking_deg: float | None, behind: str
) -> SkylineStrip:
    """What the skyline strip shows."""
    skyline, series = light.standing.skyline, day.series
    month = moment.local.month
    return SkylineStrip(
        title=f"Skyline at {light.spot.name}, turning round once",
        desc=(
            f"The sun's way on {moment.local.day} {moment.local:%B} drawn through it. Bearing across, height above "
            "level up, in degrees."
        ),
        elevation_deg=skyline.elevation_deg,
        doubt_deg=skyline.doubt_deg,
        edge=_edges(light, now),
        path_azimuth_deg=series.azimuth_deg,
        path_elevation_deg=np.asarray(refracted_deg(series.elevation_deg)),
        hours=tuple(_hours(day)),
        moment=SunMoment(
            now.sun_azimuth_deg,
            now.sun_elevation_deg,
            "unsure" if now.too_close else MARKS[STATES[int(now.series.sun.code[0])]],
            sun_words(now, moment, behind),
        ),
        crowns=tuple(_crown(canopy, month) for canopy in skyline.canopies),
        points=tuple(_point(p.bearing_deg, p.elevation_deg) for p in light.spot.measured),
        looking_deg=looking_deg,
    )


def sun_words(now: Now, moment: Moment, behind: str) -> tuple[str, ...]:
    """'16:40 CEST', '15° up in the south-west', 'behind the west row'."""
    clock = time_words(moment.instant, moment.zone)
    if STATES[int(now.series.sun.code[0])] == "down":
        return clock, f"sun {abs(now.sun_elevation_deg):.0f}° below the horizon"
    up = f"sun {max(now.sun_elevation_deg, 0):.0f}° up, {bearing_words(round(now.sun_azimuth_deg))}"
    code = STATES[int(now.series.sun.code[0])]
    what = {"open": "shining here", "leaves": "behind leaves"}.get(code, f"behind {behind}" if behind else "hidden")
    return clock, up, f"{what}, too close to call" if now.too_close else what


def _edges(light: SpotLight, now: Now) -> NDArray[np.int8]:
    skyline = light.standing.skyline
    assumed = np.isin(skyline.obstacle, light.standing.assumed_buildings)
    edges = np.where(skyline.obstacle >= 0, np.where(assumed, Edge.ASSUMED, Edge.SURVEYED), Edge.NONE)
    return np.where(skyline.obstacle == MEASURED, Edge.MEASURED, edges).astype(np.int8)


def _hours(day: Day) -> Iterator[HourMark]:
    series = day.series
    seen = np.asarray(refracted_deg(series.elevation_deg))
    for k, at in enumerate(series.unix_s):
        if at % HOUR_S or seen[k] <= 0 or at >= unix_s(day.events.end):
            continue
        local = to_local(from_unix_s(at), day.events.zone)
        if local.minute == 0:
            mark = "unsure" if series.sun.too_close[k] else MARKS[STATES[int(series.sun.code[k])]]
            yield HourMark(str(local.hour), float(series.azimuth_deg[k]), float(seen[k]), mark)


def _crown(canopy: Canopy, month: int) -> Crown:
    kind = "roof" if canopy.is_roof else "leaves" if month in canopy.leaf_months else "bare"
    edges = (canopy.bearing_from_deg, canopy.bearing_to_deg, canopy.elevation_from_deg, canopy.elevation_to_deg)
    return Crown(*edges, kind)  # type: ignore[arg-type]


def _point(bearing_deg: float, elevation_deg: float) -> HandPoint:
    return HandPoint(bearing_deg, elevation_deg, f"measured: {elevation_deg:g}° high at {bearing_deg:g}°")
