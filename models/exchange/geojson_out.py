"""Buildings, footways and spots as GeoJSON (RFC 7946) that `geojson` and `spots` read back the same."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from typing import Any

from models.exchange.spots import spot_feature
from models.street.spot import SpotDraft
from models.street.town import BuildingDraft, FootwayDraft, LonLat


def write_buildings(buildings: Iterable[BuildingDraft]) -> str:
    return _collection(map(building_feature, buildings))


def write_footways(footways: Iterable[FootwayDraft]) -> str:
    return _collection(map(footway_feature, footways))


def write_spots(spots: Iterable[SpotDraft]) -> str:
    return _collection(map(spot_feature, spots))


def building_feature(building: BuildingDraft) -> dict[str, Any]:
    noted = {
        "name": building.name,
        "height": building.top_m,
        "min_height": building.bottom_m,
        "height_source": building.height_source,
        "height_doubt": building.doubt_m,
    }
    rings = [closed_ring(ring, hole=number > 0) for number, ring in enumerate(building.rings)]
    return {"type": "Feature", "properties": noted, "geometry": {"type": "Polygon", "coordinates": rings}}


def footway_feature(footway: FootwayDraft) -> dict[str, Any]:
    noted = {"highway": footway.kind, "width": footway.width_m, "surface": footway.surface, "lit": footway.lit}
    line = [list(point) for point in footway.line]
    return {"type": "Feature", "properties": noted, "geometry": {"type": "LineString", "coordinates": line}}


def closed_ring(ring: Sequence[LonLat], *, hole: bool) -> list[list[float]]:
    """The ring with its first position repeated; outlines run counter-clockwise, courtyards clockwise (RFC 7946)."""
    pairs = zip(ring, [*ring[1:], ring[0]], strict=True)
    clockwise = sum((x1 - x0) * (y1 + y0 - 2 * ring[0][1]) for (x0, y0), (x1, y1) in pairs) > 0
    turned = list(ring) if clockwise == hole else list(ring)[::-1]
    return [list(point) for point in (*turned, turned[0])]


def _collection(features: Iterable[dict[str, Any]]) -> str:
    lines = ",\n".join(json.dumps(feature, ensure_ascii=False, allow_nan=False) for feature in features)
    return f'{{"type": "FeatureCollection", "features": [\n{lines}\n]}}\n'
