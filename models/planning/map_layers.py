"""What the map draws, as GeoJSON (RFC 7946: longitude first), limited to the view."""

from __future__ import annotations

from typing import Any

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from models.planning.answers import Moment, SpotRow, SpotState
from models.planning.spots import MOST_BRIGHTNESS, WAITING, rows_of
from models.planning.town_states import UNKNOWN_WORDS, states_at
from models.sky.sun import sun_at
from models.store import spots as kept
from models.store.engine import Store
from models.store.town import buildings_in, footways_in, local_building
from models.street.plane import LocalPlane
from models.street.shadows import shadows
from models.street.town import Box

SIMPLER_M = 0.3
"""Shadow outlines are thinned by this much; a wall's height is known no better."""

MOST_SHADOWS = 3000
WIDEST_DEG = 0.12
"""Wider views than this show spots only: houses would be specks, and their shadows slow."""

Feature = dict[str, Any]


def spots_geojson(store: Store, moment: Moment, box: Box) -> Feature:
    """Every spot in view with its state; brightness where the view holds at most MOST_BRIGHTNESS of them.

    pending: how many are still being worked out, a member of its own (RFC 7946 section 6.1); ask again.
    """
    states = states_in_view(store, moment, box)
    pending = sum(state.state_words in (WAITING, UNKNOWN_WORDS) for state in states)
    return _collection([_point(state) for state in states]) | {"pending": pending}


def states_in_view(store: Store, moment: Moment, box: Box) -> tuple[SpotState, ...]:
    """State of all spots in view; brightness of none of them where there are too many."""
    with store.reading() as s:
        few = kept.count_spots(s, box=box) <= MOST_BRIGHTNESS
        found = kept.list_spots(s, box=box, limit=MOST_BRIGHTNESS) if few else ()
    if not few:
        return states_at(store, moment, box)
    rows = rows_of(store, found, moment, None)
    return tuple(map(_state_of, rows))


def buildings_geojson(store: Store, box: Box) -> Feature:
    """Footprints with height and where it comes from."""
    if _too_wide(box):
        return _collection([])
    with store.reading() as s:
        found = buildings_in(s, box)
    return _collection(
        [
            _feature(
                {"type": "Polygon", "coordinates": [[*map(list, ring), list(ring[0])] for ring in row.rings]},
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
    """The ground in shadow in view, one joined feature; nothing with the sun down or a view too wide."""
    middle = ((box.south + box.north) / 2, (box.west + box.east) / 2)
    sun = sun_at(moment.instant, *middle)
    if sun.refracted_deg <= 0 or _too_wide(box) or abs(middle[0]) >= 90:
        return _collection([])
    plane = LocalPlane(*middle)
    with store.reading() as s:
        found = buildings_in(s, _reaching(box), limit=MOST_SHADOWS)
    dark = shadows([local_building(row, plane) for row in found], sun.refracted_deg, sun.azimuth_deg)
    return _collection([] if dark.is_empty else [_feature(_in_degrees(dark, plane), {"kind": "shadow"})])


def _in_degrees(shape: BaseGeometry, plane: LocalPlane) -> Feature:
    def turned(points: np.ndarray[Any, np.dtype[np.float64]]) -> np.ndarray[Any, np.dtype[np.float64]]:
        latitude, longitude = plane.to_degrees(points[:, 0], points[:, 1])
        return np.column_stack([longitude, latitude]).round(6)

    degrees = shapely.transform(shapely.simplify(shape, SIMPLER_M), turned)
    mapped: Feature = shapely.geometry.mapping(degrees)
    return mapped


def _reaching(box: Box) -> Box:
    """The view and half its size around it, whose buildings may throw shadows into it."""
    up, across = (box.north - box.south) / 2, (box.east - box.west) / 2
    return Box(max(-90.0, box.south - up), box.west - across, min(90.0, box.north + up), box.east + across)


def _too_wide(box: Box) -> bool:
    return box.north - box.south > WIDEST_DEG or not 0 <= box.east - box.west <= 2 * WIDEST_DEG


def _state_of(row: SpotRow) -> SpotState:
    ev100 = row.ev.ev100 if row.ev else None
    place = (row.id, row.name, row.latitude_deg, row.longitude_deg)
    return SpotState(*place, row.state, row.state_words, ev100, row.too_close)


def _point(state: SpotState) -> Feature:
    properties = {
        "id": state.id,
        "name": state.name,
        "state": state.state,
        "state_words": state.state_words,
        "too_close": state.too_close,
        "ev100": None if state.ev100 is None else round(state.ev100, 1),
    }
    return _feature({"type": "Point", "coordinates": [state.longitude_deg, state.latitude_deg]}, properties)


def _feature(geometry: Feature, properties: Feature) -> Feature:
    return {"type": "Feature", "geometry": geometry, "properties": properties}


def _collection(features: list[Feature]) -> Feature:
    return {"type": "FeatureCollection", "features": features}
