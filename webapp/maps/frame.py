"""The map's frame as a script: the L.map, the opt-in tile layer, empty layers and their control; no user's text."""

from __future__ import annotations

import itertools
from functools import lru_cache
from pathlib import Path

import folium
import xstatic.pkg.leaflet
from branca.element import Element
from flask import Response, abort, make_response, request, send_from_directory, url_for

from webapp.maps import pages
from webapp.maps.tiles import origins, provider
from webapp.security import allow_images_from
from webapp.settings.reading import tiles_chosen

LEAFLET = Path(xstatic.pkg.leaflet.BASE_DIR)
LEAFLET_FILES = ("leaflet.js", "leaflet.css")
DAY_S = 86_400
LAYERS = (
    ("footways", "Footways"),
    ("shadows", "Shadows"),
    ("buildings", "Buildings"),
    ("areas", "Rule areas"),
    ("spots", "Spots"),
)
SWITCHED_OFF = ("areas",)
"""Hatching over a town at its light is too much at once; the pages of the rules switch it on."""
NAME = "main"


class Frame(folium.Map):
    """A map that loads nothing: the page brings Leaflet, the address brings the view."""

    default_js = ()
    default_css = ()


def map_script(tiles: str = "") -> str:
    """The script that makes window.map_main and window.feature_group_<layer>; the same bytes each time."""
    look = {"tiles": None, "prefer_canvas": True, "scroll_wheel_zoom": False, "max_zoom": 20, "zoom_snap": 0.5}
    frame = Frame(location=(0, 0), zoom_start=2, **look)
    frame._id = NAME
    _tile_layer(frame, tiles)
    for layer, words in LAYERS:
        group = folium.FeatureGroup(name=words, show=layer not in SWITCHED_OFF).add_to(frame)
        group._id = layer
    folium.LayerControl(collapsed=True).add_to(frame)
    return _script(frame)


@pages.get("/map/frame.js")
def frame_script() -> Response:
    response = make_response(_kept_script(tiles_chosen()))
    response.mimetype = "text/javascript"
    response.add_etag()
    return response.make_conditional(request)


@pages.get("/vendor/leaflet/<path:name>")
def leaflet(name: str) -> Response:
    if name not in LEAFLET_FILES and not name.startswith("images/"):
        abort(404)
    return send_from_directory(LEAFLET, name, max_age=DAY_S)


@pages.app_template_global()
def map_assets() -> dict[str, str]:
    """Addresses that a page with a map loads, in order; asking for them lets this one page show the chosen tiles."""
    allow_images_from(origins(tiles_chosen()))
    return {
        "style": url_for("maps.leaflet", name="leaflet.css"),
        "leaflet": url_for("maps.leaflet", name="leaflet.js"),
        "frame": url_for("maps.frame_script"),
        "module": url_for("static", filename="js/map.js"),
        "id": f"map_{NAME}",
    }


@lru_cache(maxsize=8)
def _kept_script(tiles: str) -> str:
    return map_script(tiles)


def _tile_layer(frame: Frame, tiles: str) -> None:
    chosen = provider(tiles)
    if chosen is not None:
        folium.TileLayer(chosen, name="Map tiles", show=True, overlay=True).add_to(frame)


def _script(frame: Frame) -> str:
    figure = frame.get_root()
    _number(figure, itertools.count(1))
    for child in list(figure._children.values()):
        child.render()
    return str(figure.script.render())


def _number(element: Element, numbers: itertools.count[int]) -> None:
    """Random ids (32 hex digits) become numbers, so that the bytes stay the same."""
    if len(element._id) == 32:
        element._id = str(next(numbers))
    for child in element._children.values():
        _number(child, numbers)
