"""The street at a spot: footfall with its counts, the clear width, hazards, weather."""

from flask import Blueprint

pages = Blueprint("street", __name__, template_folder="templates")

from webapp.street import (  # noqa: E402, F401  they put addresses on `pages`
    counting,
    counts,
    hazards,
    importing,
    walk,
    weather,
    weathering,
    width,
)
