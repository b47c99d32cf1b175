"""The map: folium's frame as a script of its own, Leaflet served by us, our layers as GeoJSON limited to the view."""

from flask import Blueprint

pages = Blueprint("maps", __name__)

from webapp.maps import frame, layers  # noqa: E402, F401  they put their addresses on `pages`
