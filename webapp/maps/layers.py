"""What the map draws, as GeoJSON (RFC 7946: longitude first), limited to the view and following the moment."""

from __future__ import annotations

from flask import Response, request

from models.planning.answers import Moment
from models.planning.map_layers import buildings_geojson, footways_geojson, shadows_geojson, spots_geojson
from models.planning.places import read_view
from models.planning.rules.map_areas import areas_in_view
from models.planning.spots import home_zone
from models.street.town import Box
from webapp.address import asked_moment
from webapp.answering import geojson, store
from webapp.maps import pages


@pages.get("/map/spots.geojson")
def spots() -> Response:
    return geojson(spots_geojson(store(), _moment(), _box(), again="again" in request.args))


@pages.get("/map/shadows.geojson")
def shadows() -> Response:
    return geojson(shadows_geojson(store(), _moment(), _box()))


@pages.get("/map/buildings.geojson")
def buildings() -> Response:
    return geojson(buildings_geojson(store(), _box()))


@pages.get("/map/footways.geojson")
def footways() -> Response:
    return geojson(footways_geojson(store(), _box()))


@pages.get("/map/areas.geojson")
def areas() -> Response:
    return geojson(areas_in_view(store(), _box()))


def _moment() -> Moment:
    return asked_moment(home_zone(store()))


def _box() -> Box:
    return read_view(request.args.get("bbox"))
