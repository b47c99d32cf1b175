"""What the map draws, as GeoJSON (RFC 7946: longitude first), limited to the view."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from time import perf_counter
from typing import Any

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from models.exchange.geojson_out import closed_ring
from models.planning.answers import Moment, SpotState
from models.planning.now import Reading
from models.planning.readings import readings_of
from models.planning.spots import MOST_BRIGHTNESS
from models.planning.town_states import UNKNOWN_WORDS, states_of
from models.sky.sun import sun_at
from models.store import spots as kept
from models.store.engine import Store
from models.store.spots import SpotInView
from models.store.town import buildings_in, footways_in, in_metres
from models.street.plane import LocalPlane
from models.street.scene import REACH_M
from models.street.shadows import shadows
from models.street.town import Box, box_round
from models.words.said import ev_words

SIMPLER_M = 0.3
"""Shadow outlines are thinned by this much; a wall's height is known no better."""

MOST_SPOTS = 5000
BRIGHTNESS_PATIENCE_S = 0.2
"""How soon the map is answered once skylines are known. Brightness gets what the states left of it, at least a fifth:
it shows only where a spot is pressed, and asking again brings the rest."""

AGAIN_PATIENCE_S = 1.0
"""The same where a map that is drawn already asks again: nobody waits for that answer."""

MOST_SHADOWS = 3000
WIDEST_DEG = 0.12
"""Wider views than this show spots only: houses would be specks, and their shadows slow."""

Feature = dict[str, Any]


def spots_geojson(store: Store, moment: Moment, box: Box, *, again: bool = False) -> Feature:
    """Every spot in view with its state, and brightness for MOST_BRIGHTNESS of them, those nearest to its middle.

    pending: how many are still being worked out, a member of its own (RFC 7946 section 6.1); ask again.
    """
    states, pending = _states_in_view(store, moment, box, AGAIN_PATIENCE_S if again else BRIGHTNESS_PATIENCE_S)
    return _collection([_point(state) for state in states]) | {"pending": pending}


def _states_in_view(store: Store, moment: Moment, box: Box, patience_s: float) -> tuple[tuple[SpotState, ...], int]:
    """The state of all spots in view with the brightness of some, and how many are still being worked out."""
    started = perf_counter()
    with store.reading() as s:
        found = kept.spots_in_view(s, box, MOST_SPOTS)
    states = states_of(store, found, moment)
    left_s = max(patience_s / 5, patience_s - (perf_counter() - started))
    chosen = _nearest([k for k, state in enumerate(states) if state.state], found, box)
    readings = readings_of(store, [found[k] for k in chosen], moment, left_s)
    lit = list(states)
    pending = sum(state.state_words == UNKNOWN_WORDS for state in states)
    for k, reading in zip(chosen, readings, strict=True):
        if isinstance(reading, Reading):
            lit[k] = replace(states[k], ev100=reading.subject.ev100)
        else:
            pending += 1
    return tuple(lit), pending


def _nearest(places: Sequence[int], found: Sequence[SpotInView], box: Box) -> list[int]:
    """As many of these places in `found` as get their brightness, those nearest to the middle of the view."""
    if len(places) <= MOST_BRIGHTNESS:
        return list(places)
    plane = LocalPlane(*_middle(box))
    east, north = plane.to_metres(*np.array([(found[k].latitude_deg, found[k].longitude_deg) for k in places]).T)
    nearest = np.argsort(np.hypot(east, north), kind="stable")[:MOST_BRIGHTNESS]
    return [places[k] for k in nearest.tolist()]


def _middle(box: Box) -> tuple[float, float]:
    """Latitude and longitude of the middle, never a pole, also where the box crosses 180 degrees."""
    east = box.east if box.west <= box.east else box.east + 360.0
    latitude, longitude = (box.south + box.north) / 2, (box.west + east) / 2
    return min(max(latitude, -89.0), 89.0), (longitude + 180.0) % 360.0 - 180.0


def buildings_geojson(store: Store, box: Box) -> Feature:
    """Footprints with height and where it comes from."""
    if _too_wide(box):
        return _collection([])
    with store.reading() as s:
        found = buildings_in(s, box)
    return _collection(
        [
            _feature(
                {"type": "Polygon", "coordinates": [closed_ring(ring, hole=k > 0) for k, ring in enumerate(row.rings)]},
                {"name": row.name, "height_m": round(row.top_m, 1), "height_source": row.height_source},
            )
            for row in found
        ]
    )


def footways_geojson(store: Store, box: Box) -> Feature:
    """Ways to walk, with width and surface where recorded."""
    if _too_wide(box):
        return _collection([])
    with store.reading() as s:
        found = footways_in(s, box)
    return _collection(
        [
            _feature(
                {"type": "LineString", "coordinates": [list(point) for point in row.line]},
                {"kind": row.kind, "width_m": row.width_m, "surface": row.surface},
            )
            for row in found
        ]
    )


def shadows_geojson(store: Store, moment: Moment, box: Box) -> Feature:
    """The ground in shadow in view, one joined feature; nothing with the sun down, or more than can be shown."""
    middle = _middle(box)
    sun = sun_at(moment.instant, *middle)
    if sun.refracted_deg <= 0 or _too_wide(box):
        return _collection([])
    plane = LocalPlane(*middle)
    with store.reading() as s:
        found = buildings_in(s, _reaching(box), limit=MOST_SHADOWS + 1)
    if len(found) > MOST_SHADOWS:
        return _collection([])
    dark = shadows([in_metres(row, plane) for row in found], sun.refracted_deg, sun.azimuth_deg)
    seen = _polygons(shapely.intersection(dark, _beside(box, plane)))
    return _collection([] if seen.is_empty else [_feature(_in_degrees(seen, plane), {"kind": "shadow"})])


def _in_degrees(shape: BaseGeometry, plane: LocalPlane) -> Feature:
    def turned(points: np.ndarray[Any, np.dtype[np.float64]]) -> np.ndarray[Any, np.dtype[np.float64]]:
        latitude, longitude = plane.to_degrees(points[:, 0], points[:, 1])
        turn = (longitude - plane.longitude_deg + 180.0) % 360.0 - 180.0
        return np.column_stack([plane.longitude_deg + turn, latitude]).round(6)

    degrees = shapely.transform(shapely.simplify(shape, SIMPLER_M), turned)
    mapped: Feature = shapely.geometry.mapping(shapely.orient_polygons(degrees))
    return mapped


def _polygons(shape: BaseGeometry) -> BaseGeometry:
    """Without the lines and points where shapes only touch."""
    parts = shapely.get_parts(shape)
    return shapely.multipolygons(parts[shapely.get_type_id(parts) == shapely.GeometryType.POLYGON])


def _beside(box: Box, plane: LocalPlane) -> BaseGeometry:
    """The view and half its size around it, so that no cut edge comes in sight; never past 180 degrees."""
    up, across = (box.north - box.south) / 2, (box.east - box.west) / 2
    west, east = max(-180.0, box.west - across), min(180.0, box.east + across)
    corners = plane.to_metres([box.south - up, box.north + up], [west, east])
    return shapely.box(*np.transpose(corners).ravel().tolist())


def _reaching(box: Box) -> Box:
    """The view and as far round it as the light looks, whose buildings may throw shadows into it."""
    corners = [box_round(*corner, REACH_M) for corner in ((box.south, box.west), (box.north, box.east))]
    return Box(corners[0].south, corners[0].west, corners[1].north, corners[1].east)


def _too_wide(box: Box) -> bool:
    return box.north - box.south > WIDEST_DEG or not 0 <= box.east - box.west <= 2 * WIDEST_DEG


def _point(state: SpotState) -> Feature:
    """words: what its popup says of the light."""
    words = state.state_words + (", too close to call" if state.state and state.too_close else "")
    properties = {
        "id": state.id,
        "name": state.name,
        "state": state.state,
        "too_close": state.too_close,
        "words": words if state.ev100 is None else f"{words}, {ev_words(state.ev100)}",
    }
    return _feature({"type": "Point", "coordinates": [state.longitude_deg, state.latitude_deg]}, properties)


def _feature(geometry: Feature, properties: Feature) -> Feature:
    return {"type": "Feature", "geometry": geometry, "properties": properties}


def _collection(features: list[Feature]) -> Feature:
    return {"type": "FeatureCollection", "features": features}
